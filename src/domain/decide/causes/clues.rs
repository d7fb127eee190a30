//! Clues: what was found at a line, and what somebody looked for there and did not find.
//!
//! A finding that nobody wrote down is no clue: nobody knows whether it was looked for. A gap that
//! was measured is one either way. Knows reasons, readings and the log; does not know causes.

use crate::domain::{
    decide::{LineDecision, MachineDecision, MarkState, MarkVerdict, Reason, StationState},
    log::{EffectOnLine, FindingKind, History, Seen},
    machine::{Line, Toward},
    quantity::Hours,
    trend::CONFIDENCE,
    verdict::Way,
    yard::Machine,
};

/// Something that points to a cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Clue {
    /// Stock jammed here.
    Jam,
    /// The blades chattered here.
    Chatter,
    /// A coloured streak on a face here.
    Streak,
    /// A coloured streak at the tip or the guide blade, on another line than this.
    TipStreak,
    /// Cracks in a face here.
    Cracks,
    /// A chip out of an edge here.
    Chip,
    /// A loose bolt here.
    LooseBolt,
    /// Stock caught in the slot beside the guide blade.
    StockCaught,
    /// A gap of the line surely shrinks with the hours.
    Shrinks,
    /// The line's gaps differ by more than its taper limit.
    Taper,
    /// A gap is over its working limit.
    TooWide,
    /// A gap is under its working limit.
    TooTight,
    /// At working temperature less than the smallest hot gap is left.
    HotClosed,
    /// The tip's two gaps together jumped open with no work recorded.
    TipSpread,
    /// A step where two rows of blades meet.
    JointStep,
    /// More play at the guide pads than the working limit allows.
    PadPlay,
    /// An edge has done its hours.
    PastHours,
    /// Shims were moved or an edge was changed here within [`RECENT`].
    RecentWork,
    /// A wear mark of one of its blades is beyond its limit.
    WearMark,
}

impl Clue {
    /// Every clue.
    pub const ALL: [Self; 19] = [
        Self::Jam,
        Self::Chatter,
        Self::Streak,
        Self::TipStreak,
        Self::Cracks,
        Self::Chip,
        Self::LooseBolt,
        Self::StockCaught,
        Self::Shrinks,
        Self::Taper,
        Self::TooWide,
        Self::TooTight,
        Self::HotClosed,
        Self::TipSpread,
        Self::JointStep,
        Self::PadPlay,
        Self::PastHours,
        Self::RecentWork,
        Self::WearMark,
    ];
}

/// How a clue was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// Which.
    pub clue: Clue,
    /// Whether it was there.
    pub found: Found,
    /// The reason that tells it with its numbers, if one does.
    pub reason: Option<Reason>,
    /// Service hours since, for work that was done.
    pub since: Option<Hours>,
}

/// Whether a clue was there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// It was.
    Yes,
    /// Somebody looked, and it was not.
    No,
    /// It was, and nobody noted at which of so many lines.
    Somewhere(u8),
}

impl Found {
    /// How likely this outcome is where the clue has this likelihood, and `usual` everywhere else.
    ///
    /// What nobody gave a place is as likely to have been at one line as at any other, and at
    /// another line the cause here had no say in it.
    pub(crate) fn chance(self, likelihood: f64, usual: f64) -> f64 {
        match self {
            Self::Yes => likelihood,
            Self::No => 1.0 - likelihood,
            Self::Somewhere(lines) => usual + (likelihood - usual) / f64::from(lines.max(1)),
        }
    }
}

/// Work within so many service hours may still show: bolts settle, dirt beds in. A judgement of
/// ours; no published source.
pub const RECENT: Hours = Hours::from_whole(100);

/// The clues of one line; `None` if nothing there asks for a cause.
pub(crate) fn clues_of(
    decision: &MachineDecision,
    machine: &Machine,
    line: &Line,
    look: Hours,
) -> Option<Vec<Evidence>> {
    let own = decision.line(line.id)?;
    let history = &machine.history;
    let asks = own.reasons.iter().any(asks_for_a_cause);
    if !asks {
        return None;
    }
    let mut found: Vec<Evidence> = Vec::new();
    for reason in &own.reasons {
        let Some(clue) = clue_of(reason) else { continue };
        if found.iter().all(|it| it.clue != clue) {
            found.push(seen(clue, Some(reason.clone()), None));
        }
    }
    for evidence in nobody_knows_where(machine) {
        if found.iter().all(|it| it.clue != evidence.clue) {
            found.push(evidence);
        }
    }
    let others = decision.lines.iter().filter(|it| it.line != line.id);
    found.extend(from_elsewhere(machine, others, &found));
    if let Some(since) = recent_work(history, line) {
        found.push(seen(Clue::RecentWork, None, Some(since)));
    }
    let looked_for = not_found(decision, machine, line, look)
        .into_iter()
        .filter(|clue| found.iter().all(|it| it.clue != *clue))
        .map(|clue| Evidence { clue, found: Found::No, reason: None, since: None });
    let looked_for: Vec<Evidence> = looked_for.collect();
    found.extend(looked_for);
    Some(found)
}

const fn seen(clue: Clue, reason: Option<Reason>, since: Option<Hours>) -> Evidence {
    Evidence { clue, found: Found::Yes, reason, since }
}

/// What was seen and nobody gave a place. It makes no line ask for a cause, since nobody knows which
/// one it would be, but counts where one asks.
fn nobody_knows_where(machine: &Machine) -> Vec<Evidence> {
    let lines = u8::try_from(machine.shear.lines.len()).unwrap_or(u8::MAX);
    let evidence = |seen: &Seen| {
        let kind = seen.finding.kind.clone();
        let clue = clue_in(&kind)?;
        let reason = Some(Reason::Trouble { kind, station: None, somewhere: true });
        Some(Evidence { clue, found: Found::Somewhere(lines), reason, since: None })
    };
    machine.history.open_somewhere().into_iter().filter_map(evidence).collect()
}

const fn clue_in(kind: &FindingKind) -> Option<Clue> {
    match kind {
        FindingKind::Jam => Some(Clue::Jam),
        FindingKind::Chatter => Some(Clue::Chatter),
        FindingKind::LooseBolt => Some(Clue::LooseBolt),
        FindingKind::StockCaught => Some(Clue::StockCaught),
        FindingKind::SurfaceCracks => Some(Clue::Cracks),
        FindingKind::ChippedEdge => Some(Clue::Chip),
        FindingKind::StrawStreak
        | FindingKind::BrownStreak
        | FindingKind::PurpleStreak
        | FindingKind::BlueStreak => Some(Clue::Streak),
        FindingKind::Own(_) => None,
    }
}

/// A gap that is only wide, an edge past its hours and a worn blade explain themselves.
fn asks_for_a_cause(reason: &Reason) -> bool {
    let plain = |clue| matches!(clue, Clue::TooWide | Clue::PastHours | Clue::WearMark);
    clue_of(reason).is_some_and(|clue| !plain(clue))
}

/// The clue in a reason of the line itself; what only may be is none.
fn clue_of(reason: &Reason) -> Option<Clue> {
    match reason {
        Reason::Trouble { kind, somewhere: false, .. } => clue_in(kind),
        Reason::Streak { .. } => Some(Clue::Streak),
        Reason::Cracks { somewhere: false, .. } => Some(Clue::Cracks),
        Reason::Chipped { .. } => Some(Clue::Chip),
        Reason::Shrinks { .. } => Some(Clue::Shrinks),
        Reason::Taper { .. } => Some(Clue::Taper),
        Reason::BeyondStop { way, sure: true, .. }
        | Reason::BeyondWorking { way, sure: true, .. } => Some(match way {
            Way::Wide => Clue::TooWide,
            Way::Tight => Clue::TooTight,
        }),
        Reason::HotContact { .. } | Reason::HotTight { .. } => Some(Clue::HotClosed),
        Reason::JawSpread(_) => Some(Clue::TipSpread),
        Reason::JointStep { .. } => Some(Clue::JointStep),
        Reason::SidePlay { .. } => Some(Clue::PadPlay),
        Reason::EdgeWorn { .. } => Some(Clue::PastHours),
        Reason::WearMark { .. } => Some(Clue::WearMark),
        _ => None,
    }
}

/// What other lines tell about this one: a hot tip, a spread jaw, loose pads.
fn from_elsewhere<'a>(
    machine: &Machine,
    others: impl Iterator<Item = &'a LineDecision>,
    known: &[Evidence],
) -> Vec<Evidence> {
    let shear = &machine.shear;
    let guide = shear.lines.iter().find(|it| it.toward == Toward::Guide);
    let mut found: Vec<Evidence> = Vec::new();
    for other in others {
        let Some(line) = shear.line(other.line) else { continue };
        let at_tip = guide.is_some_and(|guide| guide.moving == line.moving);
        let pads = line.toward == Toward::Pads;
        for reason in &other.reasons {
            let clue = match clue_of(reason) {
                Some(Clue::Streak) if at_tip => Clue::TipStreak,
                Some(Clue::TipSpread) => Clue::TipSpread,
                Some(Clue::PadPlay) => Clue::PadPlay,
                Some(Clue::TooWide) if pads => Clue::PadPlay,
                _ => continue,
            };
            if found.iter().chain(known).all(|it| it.clue != clue) {
                found.push(seen(clue, Some(reason.clone()), None));
            }
        }
    }
    found
}

/// Hours since shims or an edge were last changed here, if that is recent.
fn recent_work(history: &History, line: &Line) -> Option<Hours> {
    let changed = |effect: &EffectOnLine| {
        matches!(
            effect,
            EffectOnLine::Shimmed { .. }
                | EffectOnLine::Turned { .. }
                | EffectOnLine::Replaced { .. }
                | EffectOnLine::Swapped { .. }
        )
    };
    let last = history.cuts_on(line.id).iter().rev().find(|cut| changed(&cut.effect))?;
    let since = history.service_now() - last.at;
    (since <= RECENT).then_some(since)
}

/// The clues that would have shown if they were there.
fn not_found(decision: &MachineDecision, machine: &Machine, line: &Line, look: Hours) -> Vec<Clue> {
    let (shear, history) = (&machine.shear, &machine.history);
    let states = |line: &Line| decision.line(line.id).map_or(&[][..], |it| &it.stations);
    let own = states(line);
    let mut not = Vec::new();
    if measured(own) {
        not.extend([Clue::TooWide, Clue::TooTight, Clue::HotClosed]);
        // One reading alone has no taper, and one between stacks far apart tells none.
        if 1 < own.len() {
            not.push(Clue::Taper);
        }
    }
    if own.iter().all(surely_grows) && !own.is_empty() {
        not.push(Clue::Shrinks);
    }
    if let Some(pads) = shear.lines.iter().find(|it| it.toward == Toward::Pads)
        && measured(states(pads))
    {
        not.push(Clue::PadPlay);
    }
    let guide = shear.lines.iter().find(|it| it.toward == Toward::Guide);
    let tip = guide.and_then(|guide| {
        let faces = |it: &&Line| it.toward == Toward::Cutting && it.moving == guide.moving;
        Some((guide, shear.lines.iter().find(faces)?))
    });
    if let Some((guide, tip)) = tip
        && [guide, tip].iter().all(|line| states(line).iter().all(looked_at_twice))
    {
        not.push(Clue::TipSpread);
    }
    let on_edge = [&line.fixed, &line.moving].map(|blade| history.hours_on_edge(blade));
    if on_edge.iter().all(|it| it.is_some_and(|(_, at_least)| !at_least)) {
        not.push(Clue::PastHours);
    }
    let marks = decision.line(line.id).map_or(&[][..], |it| &it.marks);
    let inside =
        |it: &MarkState| matches!(it.verdict, Some(MarkVerdict::Inside | MarkVerdict::Soon));
    if !marks.is_empty() && marks.iter().all(inside) {
        not.push(Clue::WearMark);
    }
    let first = history.service.first().copied();
    if first.is_some_and(|first| RECENT <= history.service_now() - first) {
        not.push(Clue::RecentWork);
    }
    let wrench =
        history.blades.get(&line.fixed).and_then(|it| Some((it.tightened?.1, it.loosened)));
    if let Some((tightened, loosened)) = wrench
        && loosened.is_none_or(|loosened| loosened <= tightened)
        && history.service_now() - tightened <= look
    {
        not.push(Clue::LooseBolt);
    }
    // What may be over a limit is neither found nor ruled out.
    let maybe: Vec<Way> = decision
        .line(line.id)
        .map_or_else(Vec::new, |it| it.reasons.iter().filter_map(may_be_beyond).collect());
    not.retain(|clue| match clue {
        Clue::TooWide => !maybe.contains(&Way::Wide),
        Clue::TooTight => !maybe.contains(&Way::Tight),
        _ => true,
    });
    not
}

const fn may_be_beyond(reason: &Reason) -> Option<Way> {
    match reason {
        Reason::BeyondStop { way, sure: false, .. }
        | Reason::BeyondWorking { way, sure: false, .. } => Some(*way),
        _ => None,
    }
}

/// Whether every gap of a line is known on both sides and not moved since.
fn measured(states: &[StationState]) -> bool {
    let known = |state: &StationState| {
        !state.stale && state.cold.as_ref().is_some_and(|cold| cold.bracket.is_closed())
    };
    !states.is_empty() && states.iter().all(known)
}

fn looked_at_twice(state: &StationState) -> bool {
    2 <= state.trend.observations.len()
}

/// Whether a gap's whole interval of growth lies above zero.
fn surely_grows(state: &StationState) -> bool {
    let reach = || {
        let fit = state.trend.fit.as_ref().ok()?;
        Some(fit.factor(CONFIDENCE)? * fit.mean.rate_var.sqrt())
    };
    state.rate_mm_per_h().zip(reach()).is_some_and(|(rate, reach)| 0.0 < rate - reach)
}
