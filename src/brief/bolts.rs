//! Bolts, told: in which order, to what torque, and where that torque comes from.
//!
//! The machine's own file comes first. Only where it names no torque is one calculated, and the
//! words say so either way.

use crate::{
    brief::numbers,
    domain::{
        bolts::{Aim, Bolt, BoltFault, Tightened, Turning, tighten},
        machine::{Bolts, tightening_order},
        quantity::Torque,
    },
    language::{self, sentence, tell},
};

/// Bolts of a job, told.
#[derive(Clone, Debug, PartialEq)]
pub struct BoltBrief {
    /// How many.
    pub count: usize,
    /// Places in the order of tightening, counted from 1 at the pivot.
    pub order: Vec<usize>,
    /// First pass, if one is known.
    pub first: Option<Torque>,
    /// Final torque, if one is known.
    pub last: Option<Torque>,
    /// `First 320 N·m, then 640 N·m in the same order.`
    pub torque: String,
    /// `M24 10.9 · torque from the machine's file`.
    pub source: String,
    /// What else belongs to it, such as clean seats.
    pub notes: Vec<String>,
}

/// Before a blade goes on.
const SEATS: &str = sentence!(
    "Seat, shims and blade clean and free of burrs; threads clean, lightly oiled (common practice)."
);
/// With a new blade.
const NEW_BOLTS: &str = sentence!("New bolts and nuts with a new blade (common practice).");

/// Whether a new blade is fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fitting {
    /// The blade that was there.
    Same,
    /// A new one.
    New,
}

/// Tells the bolts of a blade that is loosened.
pub fn tell(bolts: &Bolts, fitting: Fitting) -> BoltBrief {
    let count = bolts.from_pivot.len();
    let order = tightening_order(count).into_iter().map(|place| place + 1).collect();
    let name = format!("{} {}", bolts.size, bolts.grade);
    let known = Bolt::parse(&bolts.size, &bolts.grade);
    let (first, last, source) = match (bolts.torque, &known) {
        (Some(torque), known) => {
            let share = known.as_ref().ok().and_then(|bolt| stretched(bolt, torque));
            let share = share.map_or_else(String::new, |it| format!("; {it}"));
            let source = tell!("{name} · torque from the machine's file{share}", name, share);
            (bolts.first_torque, Some(torque), source)
        }
        (None, Ok(bolt)) => match usual(bolt) {
            Ok((first, last, how)) => (Some(first), Some(last), format!("{name} · {how}")),
            Err(fault) => {
                (None, None, format!("{name} · {}", language::understood(&fault.to_string())))
            }
        },
        (None, Err(fault)) => {
            (None, None, format!("{name} · {}", language::understood(&fault.to_string())))
        }
    };
    let torque = match (first, last) {
        (Some(first), Some(last)) => tell!(
            "First **{torque}**, then **{last}** in the same order.",
            torque = newton_metres(first),
            last = newton_metres(last)
        ),
        (None, Some(last)) => {
            tell!("Tighten to **{torque}**.", torque = newton_metres(last))
        }
        (_, None) => tell!("Torque: see the machine's manual.").to_owned(),
    };
    let mut notes = vec![language::told(SEATS).to_owned()];
    if let (Some(_), Err(fault)) = (bolts.torque, &known) {
        notes.push(tell!("Nothing is known of its proof load: {fault}.", fault));
    }
    notes.extend((fitting == Fitting::New).then(|| language::told(NEW_BOLTS).to_owned()));
    BoltBrief { count, order, first, last, torque, source, notes }
}

/// Half the torque, then all of it, for a bolt whose machine names none.
fn usual(bolt: &Bolt) -> Result<(Torque, Torque, String), BoltFault> {
    let (aim, turning) = bolt.usual();
    let found = tighten(bolt, aim, turning)?;
    let last = to_five(found.torque.newton_metres()).unwrap_or(found.torque);
    let first = to_five(found.torque.newton_metres() / 2.0).unwrap_or(last);
    Ok((
        first,
        last,
        tell!("calculated, the machine's file names none: {turning}", turning = how(aim, turning)),
    ))
}

/// A torque wrench is set in steps.
fn to_five(newton_metres: f64) -> Option<Torque> {
    Torque::from_newton_metres((newton_metres / 5.0).round() * 5.0)
}

/// `90 % of yield at friction 0.12 (VDI 2230)`.
pub fn how(aim: Aim, turning: Turning) -> String {
    let aim = match aim {
        Aim::YieldShare(share) => tell!("{share} of yield", share = numbers::percent(share)),
        Aim::ProofShare(share) => {
            tell!("{share} of the proof load", share = numbers::percent(share))
        }
    };
    match turning {
        Turning::Friction(friction) if friction.thread.total_cmp(&friction.head).is_eq() => {
            tell!(
                "{aim} at friction {thread} (VDI 2230)",
                aim,
                thread = numbers::fixed(friction.thread, 2)
            )
        }
        Turning::Friction(friction) => tell!(
            "{aim} at friction {thread} in the thread and {head} under the head (VDI 2230)",
            aim,
            thread = numbers::fixed(friction.thread, 2),
            head = numbers::fixed(friction.head, 2)
        ),
        Turning::NutFactor(k) => tell!("{aim} at nut factor {k}", aim, k = numbers::fixed(k, 2)),
    }
}

/// What a torque does to the bolt; said with its assumption.
fn stretched(bolt: &Bolt, torque: Torque) -> Option<String> {
    let (_, turning) = bolt.usual();
    let share = bolt.utilisation_at(torque, turning).ok()?;
    let assumed = match turning {
        Turning::Friction(friction) => {
            tell!("friction {thread}", thread = numbers::fixed(friction.thread, 2))
        }
        Turning::NutFactor(k) => tell!("nut factor {k}", k = numbers::fixed(k, 2)),
    };
    let share_text = numbers::percent(share);
    Some(if 1.0 < share {
        tell!(
            "at {assumed} that is {share_text} of the proof load: check it in the manual",
            assumed,
            share_text
        )
    } else {
        tell!("at {assumed} that is {share_text} of the proof load", assumed, share_text)
    })
}

/// A torque: `640 N·m`.
pub fn newton_metres(torque: Torque) -> String {
    format!("{:.0}\u{a0}N·m", torque.newton_metres())
}

/// A tightened bolt in sentences, one a line.
pub fn tell_tightened(bolt: &Bolt, aim: Aim, turning: Turning, found: &Tightened) -> Vec<String> {
    let share = numbers::percent(found.utilisation);
    let mut told = vec![
        format!("{} {}: {}.", bolt.thread(), bolt.grade(), how(aim, turning)),
        tell!(
            "Torque **{torque}** (**{lbf_ft}\u{a0}lbf·ft**) for a clamp force of **{preload_kn}\u{a0}kN**.",
            torque = newton_metres(found.torque),
            lbf_ft = numbers::fixed(found.torque.lbf_ft(), 0),
            preload_kn = numbers::fixed(found.preload_kn, 0)
        ),
        tell!(
            "That is {share} of the proof load, {proof_load_kn}\u{a0}kN.",
            share,
            proof_load_kn = numbers::fixed(found.proof_load_kn, 0)
        ),
    ];
    if found.beyond_table {
        told.push(
            tell!("The standard's own table ends at M39; this proof load is by its rule.").into(),
        );
    }
    if 1.0 < found.utilisation {
        told.push(tell!("The bolt is stretched beyond its proof load: aim lower.").to_owned());
    }
    told.push(
        tell!("A wrench scatters the clamp force by a quarter either way (from memory). The torque in \
         the machine's manual comes first.")
            .to_owned(),
    );
    told
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::quantity::Length;

    fn bolts(size: &str, torque: Option<f64>) -> Bolts {
        Bolts {
            from_pivot: [170, 290, 410, 530].map(|mm| Length::from_um(mm * 1_000)).to_vec(),
            size: size.to_owned(),
            grade: "10.9".to_owned(),
            torque: torque.and_then(Torque::from_newton_metres),
            first_torque: None,
        }
    }

    #[test]
    fn the_words_say_whose_torque_it_is() {
        #[track_caller]
        fn check(size: &str, torque: Option<f64>, words: &str, source: &str) {
            let told = tell(&bolts(size, torque), Fitting::Same);
            assert_eq!(told.order, [2, 3, 1, 4]);
            let plain = crate::brief::plain(&told.torque).replace('\u{a0}', " ");
            assert_eq!(plain, words);
            let found = told.source.replace('\u{a0}', " ");
            assert!(found.contains(source), "{found}");
        }
        check("M24", Some(640.0), "Tighten to 640 N·m.", "machine's file; at friction 0.12");
        check("M23", Some(640.0), "Tighten to 640 N·m.", "M23 10.9 · torque from the machine's");
        check(
            "M24x2",
            None,
            "First 545 N·m, then 1095 N·m in the same order.",
            "calculated, the machine's file names none: 90 % of yield at friction 0.12 (VDI 2230)",
        );
        check("M23", None, "Torque: see the machine's manual.", "“M23” is no thread");
    }

    #[test]
    fn a_new_blade_gets_new_bolts() {
        let told = tell(&bolts("M24", None), Fitting::New);
        assert!(told.notes.iter().any(|it| it == NEW_BOLTS), "{:?}", told.notes);
    }
}
