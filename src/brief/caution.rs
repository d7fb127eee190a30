//! Cautions: shown where the work is, deferring to the manual, local rules and qualified people.

use crate::{
    domain::decide::{Job, LineDecision, Reason},
    language::{self, sentence},
};

/// A caution in two short lines and one sentence for a screen reader or paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    /// Which sign goes with it.
    pub sign: Sign,
    /// What to do.
    pub title: &'static str,
    /// A few words more.
    pub detail: &'static str,
    /// The whole of it.
    pub sentence: &'static str,
}

/// The sign of a caution.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// A padlock.
    LockOut,
    /// A prop between the jaws.
    BlockJaw,
    /// Hydraulic pressure.
    Pressure,
    /// Hot faces.
    HotFaces,
    /// Flying chips.
    Chips,
    /// People at a distance.
    KeepClear,
}

/// Before anybody reaches into the mouth.
pub const BEFORE_REACHING_IN: [Caution; 6] = [
    Caution {
        sign: Sign::LockOut,
        title: sentence!("Lock out"),
        detail: sentence!("key with you"),
        sentence: sentence!("Shut the carrier down, lock it out and keep the key with you."),
    },
    Caution {
        sign: Sign::BlockJaw,
        title: sentence!("Block the jaw"),
        detail: sentence!("prop and strap"),
        sentence: sentence!("Prop and strap the upper jaw so that it cannot close or fall."),
    },
    Caution {
        sign: Sign::Pressure,
        title: sentence!("Pressure off"),
        detail: sentence!("check it is gone"),
        sentence: sentence!(
            "Release stored hydraulic pressure as the manual says and check that it is gone. \
                   Look for leaks with card or wood, never with a hand."
        ),
    },
    Caution {
        sign: Sign::HotFaces,
        title: sentence!("Hot faces"),
        detail: sentence!("do not touch"),
        sentence: sentence!(
            "Faces may be hot after cutting; from about 60 °C they burn. Never touch a blade to judge its heat."
        ),
    },
    Caution {
        sign: Sign::Chips,
        title: sentence!("Eye protection"),
        detail: sentence!("hard steel chips"),
        sentence: sentence!(
            "Hardened steel throws chips: wear eye protection, use a soft drift, and never strike hard steel on hard steel."
        ),
    },
    Caution {
        sign: Sign::KeepClear,
        title: sentence!("Keep clear"),
        detail: sentence!("nobody in reach"),
        sentence: sentence!("Keep people out of reach of the jaw before it moves."),
    },
];

/// The three cautions that matter most for the work on a line, and the others in one sentence.
///
/// Locking out and blocking come first always; the third is what this line or this job adds.
pub fn for_work(decision: &LineDecision) -> ([Caution; 3], String) {
    let hot = decision.reasons.iter().any(|reason| {
        matches!(
            reason,
            Reason::Streak { .. } | Reason::HotContact { .. } | Reason::HotTight { .. }
        )
    });
    let third = match decision.job {
        _ if hot => Sign::HotFaces,
        Job::Turn { .. } | Job::Fit { .. } => Sign::Chips,
        _ => Sign::Pressure,
    };
    let [lock, block, pressure, faces, chips, _] = BEFORE_REACHING_IN;
    let chosen = match third {
        Sign::HotFaces => faces,
        Sign::Chips => chips,
        _ => pressure,
    };
    let tiles = [lock, block, chosen];
    let rest: Vec<String> = BEFORE_REACHING_IN
        .iter()
        .filter(|it| tiles.iter().all(|tile| tile.sign != it.sign))
        .map(|it| format!("{}: {}", language::told(it.title), language::told(it.detail)))
        .collect();
    (tiles, format!("{}.", rest.join(" · ")))
}

/// What to do before the jaw goes to another position.
pub const MOVE_THE_JAW: &str =
    sentence!("People clear, move the jaw, lock out and block it again. Then measure.");

/// Stands under every advice.
pub const ADVICE_ONLY: &str = sentence!(
    "Gapwright advises; it does not authorise. The machine's manual, \
     local rules and qualified people come first."
);

/// The check after a fresh edge or a new blade.
pub const AFTER_FRESH_EDGE: &str = sentence!(
    "People clear, inch the jaw closed and stop if it touches. \
     Measure every station, then shim. Start on thin stock."
);

/// Before and after a build-up or hard-facing weld.
pub const WELDING: [&str; 3] = [
    sentence!(
        "Welding is for a qualified welder, by the machine's manual. The earth clamp goes beside the \
     weld, so that no current runs through the pivot or a cylinder. Never weld on hardened blades."
    ),
    sentence!(
        "Weld at the end of the shift and cover the part, so that it cools slowly. Lay the template on \
     when it is cold."
    ),
    sentence!(
        "Log the place, the consumable, how it cooled and whether the template fits. Only work at the \
     lower jaw or a cheek clears a spread."
    ),
];

/// Common practice without a published source, shown as advice where it applies.
pub mod practice {
    use crate::language::sentence;

    /// The 8-hour rule.
    pub const LOOK: &str = sentence!("Look at the gaps every 8 operating hours (common practice).");
    /// The opening stroke is weak.
    pub const OPENING_FORCE: &str = sentence!(
        "The jaw opens with about half its closing force where the rod \
         takes half the bore area: do not try to pull it free (common practice)."
    );
    /// After new edges and in frost.
    pub const THIN_FIRST: &str = sentence!(
        "After new or freshly turned blades, after work on the jaw, and in frost, start on \
         thin stock and go heavier as the edges settle (common practice)."
    );
}
