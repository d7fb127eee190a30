//! What is worth saying about a line and calls for no action by itself.
//!
//! Streaks, trouble, gaps that shrink, taper, and the plain word that all is well.

use crate::domain::{
    decide::{Job, Reason, StationState, facts::AllStates, machine::Context, streak},
    gauge::Bracket,
    log::{FindingKind, Seen},
    machine::{BladeId, Line},
    quantity::Hours,
    trend::CONFIDENCE,
    verdict::VerdictKind,
};

/// The remarks on one line, weightiest first.
pub(crate) fn of(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
    all: &AllStates,
) -> Vec<Reason> {
    let mut reasons = Vec::new();
    let findings = context.history.open_findings(line.id);
    let streaks = findings.iter().filter(|it| streak::colour(&it.finding.kind).is_some());
    // Only the hottest colour counts: a face that turned blue was straw and purple before.
    if let Some(seen) = streaks.max_by_key(|seen| streak::colour(&seen.finding.kind)) {
        let (kind, station) = (seen.finding.kind.clone(), seen.finding.station);
        let heat = streak::read(context.shear, line, &kind, station, all);
        reasons.push(Reason::Streak { kind, station, heat });
    }
    reasons.extend(findings.into_iter().filter(|seen| trouble(&seen.finding.kind)).map(|seen| {
        let (kind, station) = (seen.finding.kind.clone(), seen.finding.station);
        Reason::Trouble { kind, station, somewhere: false }
    }));
    // A jam or chatter makes the whole machine due at once and cracks stop it; the rest would be
    // lost if no line told it.
    let told = |seen: &&Seen| {
        !matches!(
            seen.finding.kind,
            FindingKind::Jam | FindingKind::Chatter | FindingKind::SurfaceCracks
        )
    };
    reasons.extend(context.history.open_somewhere().into_iter().filter(told).map(|seen| {
        Reason::Trouble { kind: seen.finding.kind.clone(), station: None, somewhere: true }
    }));
    reasons.dedup();
    reasons.extend(
        retorque_due(context, line).into_iter().map(|(blade, hours)| Reason::RetorqueDue {
            blade,
            hours,
            interval: context.retorque,
        }),
    );
    for state in states {
        if let Some(rate_mm_per_h) = shrinking(state) {
            reasons.push(Reason::Shrinks { station: state.station, rate_mm_per_h });
        }
    }
    // A reading between stacks far apart says nothing about half the taper allowed.
    let close = |state: &&StationState| {
        let felt = state.cold.as_ref().map(|cold| cold.bracket);
        let width = felt.and_then(|felt| Some(felt.no_go()? - felt.go()));
        width.is_none_or(|width| width <= line.limits.taper_max().half())
    };
    let gaps = || states.iter().filter(close).filter_map(StationState::expected);
    if let (Some(least), Some(most)) = (gaps().min(), gaps().max()) {
        let (by, limit) = (most - least, line.limits.taper_max());
        if limit < by {
            reasons.push(Reason::Taper { by, limit });
        }
    }
    reasons
}

/// Blades of a line whose bolts have settled since work and were not tightened again, with the hours
/// cut since.
///
/// A log that never names a torque for a blade says nothing about its bolts, so nothing is due.
pub(crate) fn retorque_due(context: &Context<'_>, line: &Line) -> Vec<(BladeId, Hours)> {
    let history = context.history;
    let due = |blade: &&BladeId| {
        let state = history.blades.get(blade)?;
        let (loosened, (_, tightened)) = (state.loosened?, state.tightened?);
        let cut = history.service_now() - loosened;
        (tightened <= loosened && context.retorque <= cut).then(|| ((*blade).clone(), cut))
    };
    [&line.fixed, &line.moving].iter().filter_map(due).collect()
}

/// A pack thicker than its rules allow, or of more shims, behind a blade of a line, unless the job
/// changes it anyway. A blade that faces several lines is told at the first of them.
pub(crate) fn packs_over(context: &Context<'_>, line: &Line, job: &Job) -> Vec<Reason> {
    let first = |id: &BladeId| {
        let named = |it: &&Line| it.moving == *id || it.fixed == *id;
        context.shear.lines.iter().find(named).is_some_and(|it| it.id == line.id)
    };
    let blades = [&line.fixed, &line.moving].into_iter();
    let mine = blades.filter(|id| first(id) && job.repacks() != Some(*id));
    mine.filter_map(|id| {
        let (blade, state) = (context.shear.blade(id)?, context.history.blades.get(id)?);
        let rules = blade.pack?;
        let bolts = blade.bolts.as_ref().map_or(1, |it| it.from_pivot.len().max(1));
        let places = 1..=u8::try_from(bolts).unwrap_or(u8::MAX);
        let count = places.map(|bolt| state.pack_at(bolt).len()).max().unwrap_or(0);
        let thick = (state.pack_total(), rules.thickest);
        let shims = (count, usize::from(rules.most_shims));
        let over = thick.1 < thick.0 || shims.1 < shims.0;
        over.then(|| Reason::PackOver { blade: id.clone(), thick, shims })
    })
    .collect()
}

/// Whether something was seen, here or nobody noted where, that a hand must put right before the
/// machine cuts on.
pub(crate) fn calls_for_a_hand(context: &Context<'_>, line: &Line) -> bool {
    let somewhere = context.history.open_somewhere();
    context
        .history
        .open_findings(line.id)
        .iter()
        .chain(&somewhere)
        .any(|seen| matches!(seen.finding.kind, FindingKind::LooseBolt | FindingKind::StockCaught))
}

/// Whether the line jammed or chattered after it was last measured.
pub(crate) fn jammed_since(context: &Context<'_>, line: &Line, states: &[StationState]) -> bool {
    let measured_then = |seen: &Seen| {
        states.iter().filter_map(|it| it.felt.as_ref()).any(|felt| felt.session == seen.session)
    };
    context.history.open_findings(line.id).into_iter().any(|seen| {
        matches!(seen.finding.kind, FindingKind::Jam | FindingKind::Chatter) && !measured_then(seen)
    })
}

/// All gaps of a line in two numbers; `None` if none was measured.
pub(crate) fn within(states: &[StationState]) -> Option<Reason> {
    let colds = || states.iter().filter_map(|state| state.cold.as_ref().map(|it| it.bracket));
    let least = colds().map(Bracket::go).min()?;
    let most = colds().map(|bracket| bracket.no_go().unwrap_or_else(|| bracket.go())).max()?;
    let in_set_range = states
        .iter()
        .filter_map(|state| state.verdict)
        .all(|verdict| verdict.kind() == VerdictKind::Set);
    Some(Reason::Within { least, most, in_set_range })
}

const fn trouble(kind: &FindingKind) -> bool {
    match kind {
        FindingKind::StrawStreak
        | FindingKind::BrownStreak
        | FindingKind::PurpleStreak
        | FindingKind::BlueStreak
        | FindingKind::SurfaceCracks
        | FindingKind::ChippedEdge => false,
        FindingKind::Jam
        | FindingKind::Chatter
        | FindingKind::LooseBolt
        | FindingKind::StockCaught
        | FindingKind::Own(_) => true,
    }
}

/// The growth of a gap that surely shrinks: its whole interval lies below zero.
fn shrinking(state: &StationState) -> Option<f64> {
    let rate = state.rate_mm_per_h()?;
    let fit = state.trend.fit.as_ref().ok()?;
    let (_, largest) = fit.rate_interval(CONFIDENCE)?;
    (largest < 0.0).then_some(rate)
}
