//! One line: facts first, then the action they call for.
//!
//! Stop comes from cracks, a stop limit, faces that touch when hot, pads so loose that blades can
//! clash, or a jaw that has spread. Below that, a dull edge calls for a turn or a new blade, and a
//! gap outside its limits, or soon to be, for shims; where shims cannot do it, for a fresh edge.

use crate::domain::{
    decide::{Action, Job, LineDecision, Reason, StationState, When, machine::Context, recipe},
    gauge::Bracket,
    log::FindingKind,
    machine::{Blade, Line, LineId, StationId, Toward},
    quantity::Length,
    shims::Shortfall,
    trend::Which,
    verdict::{VerdictKind, Way, Zone},
};

type AllStates = [(LineId, Vec<StationState>)];

/// Decides one line.
pub(crate) fn decide_line(context: &Context<'_>, line: &Line, all: &AllStates) -> LineDecision {
    let mut states = states_of(all, line.id).to_vec();
    let stops = stop_reasons(context, line, &states, all);
    let worn = worn_edges(context, line);
    let gaps = gap_reasons(context, line, &states, all);
    let stale = states.iter().any(|state| state.stale);
    let missing: Vec<StationId> =
        states.iter().filter(|state| state.felt.is_none()).map(|state| state.station).collect();
    let (mut action, job, blocked) = if stale {
        (Action::Leave, Job::Measure, Vec::new())
    } else {
        resolve(context, line, &states, &stops, &worn, &gaps)
    };
    if !stops.is_empty() && !stale {
        action = Action::Stop;
    }
    if let Job::ChangePack { plan, .. } = &job {
        let measured = states.iter_mut().filter(|state| state.cold.is_some());
        for (state, after) in measured.zip(&plan.after) {
            state.after = Some(*after);
        }
    }
    let job = if job == Job::Nothing && missing.len() == states.len() { Job::Measure } else { job };
    let when = match action {
        Action::Stop => When::First,
        // Nobody knows this gap any more: it is measured before anything is cut with it.
        Action::Leave if job == Job::Measure => When::BeforeCuttingOn,
        Action::Leave => When::NextLook(context.look),
        Action::Shim | Action::Rotate | Action::Replace => When::BeforeCuttingOn,
    };
    let mut reasons = Vec::new();
    if stale {
        reasons.push(Reason::Stale);
    } else {
        reasons.extend(stops);
        reasons.extend(worn);
        reasons.extend(gaps);
        reasons.extend(blocked);
    }
    reasons.extend(remarks(context, line, &states));
    if !missing.is_empty() {
        reasons.push(Reason::NotMeasured(missing));
    }
    if reasons.is_empty() {
        reasons.extend(within(&states));
    }
    LineDecision { line: line.id, action, job, when, reasons, stations: states, provisional: false }
}

fn states_of(all: &AllStates, line: LineId) -> &[StationState] {
    all.iter().find(|(id, _)| *id == line).map_or(&[], |(_, states)| states)
}

/// Reasons not to cut.
fn stop_reasons(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
    all: &AllStates,
) -> Vec<Reason> {
    let mut reasons = Vec::new();
    for seen in context.history.open_findings(line.id) {
        if seen.finding.kind == FindingKind::SurfaceCracks {
            reasons.push(Reason::Cracks { station: seen.finding.station, taken: seen.taken });
        }
    }
    for state in states {
        let (Some(cold), Some(verdict)) = (&state.cold, state.verdict) else { continue };
        let sure = matches!(verdict.kind(), VerdictKind::Stop(_));
        let stop = line.limits.stop();
        let (limit, way) = match verdict.worst() {
            Zone::StopTight => (stop.min, Way::Tight),
            // Without a ceiling the gap only may be so wide; that asks for a thicker stack.
            Zone::StopWide if cold.bracket.is_closed() || sure => (stop.max, Way::Wide),
            _ => continue,
        };
        let (station, cold) = (state.station, cold.bracket);
        reasons.push(Reason::BeyondStop { station, cold, limit, way, sure });
    }
    if let Some((station, hot_mm)) = tightest_hot(states)
        && hot_mm <= 0.0
    {
        reasons.push(Reason::HotContact { station, hot_mm });
    }
    reasons.extend(side_play(context, line, all));
    if let Some(spread) = &context.spread
        && (spread.cutting == line.id || spread.guide == line.id)
    {
        reasons.push(Reason::JawSpread(spread.clone()));
    }
    reasons
}

fn tightest_hot(states: &[StationState]) -> Option<(StationId, f64)> {
    states
        .iter()
        .filter_map(|state| Some((state.station, state.hot_mm?)))
        .min_by(|(_, a), (_, b)| a.total_cmp(b))
}

/// Side play at the pads at or above the smallest cold gap of a line it can close.
fn side_play(context: &Context<'_>, line: &Line, all: &AllStates) -> Option<Reason> {
    if line.toward != Toward::Pads {
        return None;
    }
    let floor = |state: &StationState| Some((state.station, state.cold.as_ref()?.bracket.go()));
    let (station, play) =
        states_of(all, line.id).iter().filter_map(floor).max_by_key(|(_, play)| *play)?;
    let moving_of = |id: LineId| context.shear.line(id).map(|line| &line.moving);
    let guide = context.shear.lines.iter().find(|line| line.toward == Toward::Guide);
    let (against, gap) = context
        .shear
        .lines
        .iter()
        .filter(|it| it.toward == Toward::Cutting)
        // The tip is held by the guide blade as well; the blades behind it are not.
        .filter(|it| guide.is_none_or(|guide| moving_of(it.id) != Some(&guide.moving)))
        .flat_map(|it| states_of(all, it.id))
        .filter_map(floor)
        .min_by_key(|(_, gap)| *gap)?;
    (gap <= play).then_some(Reason::SidePlay { station, play, against, gap })
}

/// Edges that are dull: chipped, or past their hours.
fn worn_edges(context: &Context<'_>, line: &Line) -> Vec<Reason> {
    let mut reasons = Vec::new();
    for seen in context.history.open_findings(line.id) {
        if seen.finding.kind == FindingKind::ChippedEdge {
            let (station, size) = (seen.finding.station, seen.finding.size);
            reasons.push(Reason::Chipped { station, size });
        }
    }
    for blade in blades_of(context, line) {
        let Some((hours, at_least)) = context.history.hours_on_edge(&blade.id) else { continue };
        if blade.hours_per_edge <= hours {
            let (blade, table) = (blade.id.clone(), blade.hours_per_edge);
            reasons.push(Reason::EdgeWorn { blade, hours, table, at_least });
        }
    }
    reasons
}

/// The fixed blade first: it carries the pack and is the easier one to reach.
fn blades_of<'a>(context: &Context<'a>, line: &Line) -> Vec<&'a Blade> {
    [&line.fixed, &line.moving].into_iter().filter_map(|id| context.shear.blade(id)).collect()
}

/// Gaps outside the working limits, hot or cold, or soon to be.
fn gap_reasons(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
    all: &AllStates,
) -> Vec<Reason> {
    let mut reasons = Vec::new();
    let working = line.limits.working();
    for state in states {
        let (Some(cold), Some(verdict)) = (&state.cold, state.verdict) else { continue };
        let (station, cold) = (state.station, cold.bracket);
        let sure = matches!(verdict.kind(), VerdictKind::Too(_));
        match verdict.worst() {
            Zone::TooTight => {
                let (limit, way) = (working.min, Way::Tight);
                reasons.push(Reason::BeyondWorking { station, cold, limit, way, sure });
            }
            Zone::TooWide | Zone::StopWide => {
                let (limit, way) = (working.max, Way::Wide);
                if !matches!(verdict.kind(), VerdictKind::Stop(_)) {
                    reasons.push(Reason::BeyondWorking { station, cold, limit, way, sure });
                }
            }
            _ => reasons.extend(soon(state, cold)),
        }
    }
    if let Some((station, hot_mm)) = tightest_hot(states)
        && 0.0 < hot_mm
        && hot_mm < line.limits.hot_min().mm()
    {
        let limit = line.limits.hot_min();
        reasons.push(Reason::HotTight { station, hot_mm, limit });
    }
    reasons.extend(joint_step(context, line, all));
    reasons
}

fn soon(state: &StationState, cold: Bracket) -> Option<Reason> {
    let verdict = state.verdict?;
    let hours = state.hours?;
    let VerdictKind::Soon(_) = verdict.kind() else { return None };
    let limit = Length::from_mm(hours.limit_mm)?;
    let rate_mm_per_h = state.rate_mm_per_h()?;
    Some(Reason::Soon { station: state.station, cold, limit, rate_mm_per_h, hours })
}

/// The step from the last station of the inner blades to the first of the outer ones; it stands on
/// the line that is farther from its set range.
fn joint_step(context: &Context<'_>, line: &Line, all: &AllStates) -> Option<Reason> {
    let (inner, outer) = (context.shear.line(LineId::P)?, context.shear.line(LineId::S)?);
    if line.id != inner.id && line.id != outer.id {
        return None;
    }
    let (last, first) = (states_of(all, inner.id).last()?, states_of(all, outer.id).first()?);
    let (near, far) = (last.expected()?, first.expected()?);
    let by = (far - near).abs();
    let limit = context.shear.joint_step_max;
    let off = |line: &Line, gap: Length| (gap - line.limits.set().middle()).abs();
    let owner = if off(outer, far) < off(inner, near) { inner.id } else { outer.id };
    let (inner, outer) = (last.station, first.station);
    (owner == line.id && limit < by).then_some(Reason::JointStep { inner, outer, by, limit })
}

/// The action that the facts call for, its job, and what stood in the way of a milder one.
fn resolve(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
    stops: &[Reason],
    worn: &[Reason],
    gaps: &[Reason],
) -> (Action, Job, Vec<Reason>) {
    let history = context.history;
    if stops.iter().any(|reason| matches!(reason, Reason::JawSpread(_))) {
        return (Action::Stop, Job::CallWelder, Vec::new());
    }
    if stops.iter().any(|reason| matches!(reason, Reason::Cracks { .. })) {
        let job = blades_of(context, line)
            .first()
            .and_then(|blade| recipe::new_blade(line, blade, history, states));
        return (Action::Stop, job.unwrap_or(Job::FindCause), Vec::new());
    }
    if let Some(first) = worn.first() {
        return fresh(context, line, states, worn_blade(context, line, first), Vec::new());
    }
    let gap_stop = |reason: &Reason| {
        matches!(
            reason,
            Reason::BeyondStop { .. } | Reason::HotContact { .. } | Reason::SidePlay { .. }
        )
    };
    if gaps.is_empty() && !stops.iter().any(gap_stop) {
        return (Action::Leave, Job::Nothing, Vec::new());
    }
    shim_or_more(context, line, states)
}

/// The blade to turn: the one whose hours are up, or for a chip the first with a fresh edge.
fn worn_blade<'a>(context: &Context<'a>, line: &Line, reason: &Reason) -> Option<&'a Blade> {
    if let Reason::EdgeWorn { blade, .. } = reason {
        return context.shear.blade(blade);
    }
    let blades = blades_of(context, line);
    let fresh = |blade: &&&Blade| {
        context.history.blades.get(&blade.id).is_some_and(|it| !it.fresh_edges(blade).is_empty())
    };
    blades.iter().find(fresh).or(blades.first()).copied()
}

/// A fresh edge, or a new blade where none is left.
fn fresh(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
    blade: Option<&Blade>,
    mut why: Vec<Reason>,
) -> (Action, Job, Vec<Reason>) {
    let job = blade.and_then(|blade| recipe::fresh_edge(line, blade, context.history, states));
    match job {
        Some(Job::Fit { blade, pack }) => {
            why.push(Reason::NoFreshEdge { blade: blade.clone() });
            (Action::Replace, Job::Fit { blade, pack }, why)
        }
        Some(job) => (Action::Rotate, job, why),
        None => (Action::Replace, Job::FindCause, why),
    }
}

/// Shims, or what is left when they cannot do it.
fn shim_or_more(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
) -> (Action, Job, Vec<Reason>) {
    let Some(blade) = context.shear.blade(&line.fixed) else {
        return (Action::Shim, Job::FindCause, Vec::new());
    };
    if blade.pack.is_none() {
        let why = vec![Reason::NoPack { blade: blade.id.clone() }];
        return fresh(context, line, states, Some(blade), why);
    }
    let planned = recipe::plan_pack(context.shear, line, states, context.history, context.shelf);
    let why = match planned {
        Ok((plan, _)) if plan.put_in.is_empty() && plan.take_out.is_empty() => {
            return (Action::Shim, Job::FindCause, Vec::new());
        }
        Ok((plan, bolts)) => {
            let job = Job::ChangePack { blade: blade.id.clone(), bolts, plan };
            return (Action::Shim, job, Vec::new());
        }
        Err(why) => why,
    };
    let reason = vec![Reason::CannotShim { blade: blade.id.clone(), why }];
    match why {
        Shortfall::ShelfCannot { wanted } => {
            (Action::Shim, Job::OrderShims { blade: blade.id.clone(), wanted }, reason)
        }
        Shortfall::PackEmpty | Shortfall::NothingToGoBy => (Action::Shim, Job::FindCause, reason),
        Shortfall::PackFull { .. } | Shortfall::Tapered { .. } => {
            let worn = blades_of(context, line).into_iter().find(|blade| {
                context
                    .history
                    .blades
                    .get(&blade.id)
                    .is_some_and(|state| !state.fresh_edges(blade).is_empty())
            });
            fresh(context, line, states, worn.or(Some(blade)), reason)
        }
    }
}

/// Things worth saying that call for no action by themselves.
fn remarks(context: &Context<'_>, line: &Line, states: &[StationState]) -> Vec<Reason> {
    let mut reasons = Vec::new();
    let findings = context.history.open_findings(line.id);
    let streaks = findings.iter().filter(|it| heat(&it.finding.kind).is_some());
    // Only the hottest colour counts: a face that turned blue was straw and purple before.
    if let Some(seen) = streaks.max_by_key(|seen| heat(&seen.finding.kind)) {
        let (kind, station) = (seen.finding.kind.clone(), seen.finding.station);
        reasons.push(Reason::Streak { kind, station });
    }
    for seen in findings {
        let (kind, station) = (seen.finding.kind.clone(), seen.finding.station);
        match kind {
            FindingKind::StrawStreak
            | FindingKind::BrownStreak
            | FindingKind::PurpleStreak
            | FindingKind::BlueStreak
            | FindingKind::SurfaceCracks
            | FindingKind::ChippedEdge => {}
            FindingKind::Jam
            | FindingKind::Chatter
            | FindingKind::LooseBolt
            | FindingKind::StockCaught
            | FindingKind::Own(_) => reasons.push(Reason::Trouble { kind, station }),
        }
    }
    reasons.dedup();
    for state in states {
        if let Some(rate_mm_per_h) = shrinking(state) {
            reasons.push(Reason::Shrinks { station: state.station, rate_mm_per_h });
        }
    }
    let gaps = || states.iter().filter_map(StationState::expected);
    if let (Some(least), Some(most)) = (gaps().min(), gaps().max()) {
        let (by, limit) = (most - least, line.limits.taper_max());
        if limit < by {
            reasons.push(Reason::Taper { by, limit });
        }
    }
    reasons
}

/// How hot a streak's colour is, coolest first; `None` for other findings.
const fn heat(kind: &FindingKind) -> Option<u8> {
    match kind {
        FindingKind::StrawStreak => Some(0),
        FindingKind::BrownStreak => Some(1),
        FindingKind::PurpleStreak => Some(2),
        FindingKind::BlueStreak => Some(3),
        _ => None,
    }
}

/// A rate surely below zero, if this gap shrinks: the interval to the lower limit is closed on
/// both sides, so no steady or growing line fits.
fn shrinking(state: &StationState) -> Option<f64> {
    let rate = state.rate_mm_per_h().filter(|rate| *rate < 0.0)?;
    let hours = state.hours.as_ref()?;
    let lower = matches!(hours.which, Which::WorkingMin | Which::StopMin);
    (lower && (hours.passed || hours.high_h.is_some())).then_some(rate)
}

fn within(states: &[StationState]) -> Option<Reason> {
    let colds = || states.iter().filter_map(|state| state.cold.as_ref().map(|it| it.bracket));
    let least = colds().map(Bracket::go).min()?;
    let most = colds().map(|bracket| bracket.no_go().unwrap_or_else(|| bracket.go())).max()?;
    let in_set_range = states
        .iter()
        .filter_map(|state| state.verdict)
        .all(|verdict| verdict.kind() == VerdictKind::Set);
    Some(Reason::Within { least, most, in_set_range })
}
