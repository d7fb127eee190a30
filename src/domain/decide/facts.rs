//! What speaks against leaving a line alone: facts, each with its numbers.
//!
//! Knows limits, findings, hours on edges, pads and joint. Readings that work has made stale speak
//! for nothing. Does not know what a fact calls for.

use crate::domain::{
    decide::{Reason, StationState, machine::Context, marks},
    gauge::{Answer, Bracket},
    log::{FindingKind, Seen},
    machine::{Blade, Line, LineId, StationId, Toward},
    quantity::Length,
    verdict::{VerdictKind, Way},
};

/// The stations of every line of a machine.
pub(crate) type AllStates = [(LineId, Vec<StationState>)];

/// What speaks against leaving a line alone, each list weightiest first.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Facts {
    /// Reasons not to cut.
    pub(crate) stops: Vec<Reason>,
    /// Edges that are dull: chipped, or past their hours.
    pub(crate) worn: Vec<Reason>,
    /// Gaps outside the working limits, hot or cold, or soon to be.
    pub(crate) gaps: Vec<Reason>,
}

impl Facts {
    /// Gathers the facts about one line.
    pub(crate) fn of(context: &Context<'_>, line: &Line, all: &AllStates) -> Self {
        let mut facts = Self::default();
        let history = context.history;
        let here = history.open_findings(line.id);
        let somewhere = history.open_somewhere();
        // Cracks that nobody gave a place may be in any line.
        facts.stops.extend(here.iter().chain(&somewhere).filter_map(|seen| cracks(seen)));
        for state in known(all, line.id) {
            facts.beyond_limits(state, line);
        }
        facts.hot(line, all);
        facts.stops.extend(side_play(context, line, all));
        if let Some(spread) = &context.spread
            && (spread.cutting == line.id || spread.guide == line.id)
        {
            facts.stops.push(Reason::JawSpread(spread.clone()));
        }
        facts.worn.extend(here.iter().filter_map(|seen| chip(seen)));
        facts.worn.extend(
            blades_of(context, line).into_iter().filter_map(|blade| past_its_hours(context, blade)),
        );
        facts.worn.extend(marks::beyond(context, line));
        facts.gaps.extend(joint_step(context, line, all));
        facts
    }

    /// A gap against its stop and its working limits; the milder one is not told where the harder
    /// one is sure.
    fn beyond_limits(&mut self, state: &StationState, line: &Line) {
        let Some(cold) = state.cold.as_ref().map(|cold| cold.bracket) else { return };
        let (station, stop, working) = (state.station, line.limits.stop(), line.limits.working());
        let before = self.gaps.len();
        for (way, stop, working) in
            [(Way::Tight, stop.min, working.min), (Way::Wide, stop.max, working.max)]
        {
            let beyond = |limit| match way {
                Way::Tight => cold.is_at_least(limit),
                Way::Wide => cold.is_at_most(limit),
            };
            let stopped = match beyond(stop) {
                Answer::Yes => None,
                Answer::No => Some(true),
                // Without a ceiling the gap only may be so wide; that asks for a thicker stack.
                Answer::Undecided => (way == Way::Tight || cold.is_closed()).then_some(false),
            };
            if let Some(sure) = stopped {
                self.stops.push(Reason::BeyondStop { station, cold, limit: stop, way, sure });
            }
            let sure = beyond(working) == Answer::No;
            if beyond(working) != Answer::Yes
                && (stopped.is_none() || (sure && stopped == Some(false)))
            {
                let limit = working;
                self.gaps.push(Reason::BeyondWorking { station, cold, limit, way, sure });
            }
        }
        if self.gaps.len() == before {
            self.gaps.extend(soon(state, cold));
        }
    }

    /// The hottest place of the line: where the least is left at working temperature.
    fn hot(&mut self, line: &Line, all: &AllStates) {
        let hot = |state: &StationState| Some((state.station, state.hot_mm?));
        let tightest = known(all, line.id).filter_map(hot).min_by(|(_, a), (_, b)| a.total_cmp(b));
        let Some((station, hot_mm)) = tightest else { return };
        let limit = line.limits.hot_min();
        if hot_mm <= 0.0 {
            self.stops.push(Reason::HotContact { station, hot_mm });
        } else if hot_mm < limit.mm() {
            self.gaps.push(Reason::HotTight { station, hot_mm, limit });
        }
    }
}

/// All stations of a line.
pub(crate) fn states_of(all: &AllStates, line: LineId) -> &[StationState] {
    all.iter().find(|(id, _)| *id == line).map_or(&[], |(_, states)| states)
}

/// The stations of a line that work has not moved since they were measured.
fn known(all: &AllStates, line: LineId) -> impl Iterator<Item = &StationState> {
    states_of(all, line).iter().filter(|state| !state.stale)
}

/// The fixed blade first: it carries the pack and is the easier one to reach.
pub(crate) fn blades_of<'a>(context: &Context<'a>, line: &Line) -> Vec<&'a Blade> {
    [&line.fixed, &line.moving].into_iter().filter_map(|id| context.shear.blade(id)).collect()
}

fn cracks(seen: &Seen) -> Option<Reason> {
    let (station, taken) = (seen.finding.station, seen.taken);
    let somewhere = seen.finding.line.is_none();
    let cracked = seen.finding.kind == FindingKind::SurfaceCracks;
    cracked.then_some(Reason::Cracks { station, taken, somewhere })
}

fn chip(seen: &Seen) -> Option<Reason> {
    let (station, size) = (seen.finding.station, seen.finding.size);
    (seen.finding.kind == FindingKind::ChippedEdge).then_some(Reason::Chipped { station, size })
}

fn past_its_hours(context: &Context<'_>, blade: &Blade) -> Option<Reason> {
    let (hours, at_least) = context.history.hours_on_edge(&blade.id)?;
    let (id, table) = (blade.id.clone(), blade.hours_per_edge);
    (table <= hours).then_some(Reason::EdgeWorn { blade: id, hours, table, at_least })
}

/// Side play at the pads that may reach the smallest cold gap of a line it can close.
///
/// The safe side counts: the play may be as large as the stack that stuck, the gap as small as the
/// one that went. Without a ceiling the play is taken at its floor.
fn side_play(context: &Context<'_>, line: &Line, all: &AllStates) -> Option<Reason> {
    if line.toward != Toward::Pads {
        return None;
    }
    let cold = |state: &StationState| Some((state.station, state.cold.as_ref()?.bracket));
    let most = |bracket: Bracket| bracket.no_go().unwrap_or_else(|| bracket.go());
    let (station, play) =
        known(all, line.id).filter_map(cold).max_by_key(|(_, play)| most(*play))?;
    let moving_of = |id: LineId| context.shear.line(id).map(|line| &line.moving);
    let guide = context.shear.lines.iter().find(|line| line.toward == Toward::Guide);
    let (against, gap) = context
        .shear
        .lines
        .iter()
        .filter(|it| it.toward == Toward::Cutting)
        // The tip is held by the guide blade as well; the blades behind it are not.
        .filter(|it| guide.is_none_or(|guide| moving_of(it.id) != Some(&guide.moving)))
        .flat_map(|it| known(all, it.id))
        .filter_map(cold)
        .min_by_key(|(_, gap)| gap.go())?;
    // A stack that stuck is thicker than the play; an exact reading or one that went is the play.
    let reaches = match play.no_go() {
        Some(ceiling) if play.go() < ceiling => gap.go() < ceiling,
        _ => gap.go() <= play.go(),
    };
    reaches.then_some(Reason::SidePlay { station, play, against, gap })
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
    if last.stale || first.stale {
        return None;
    }
    let (near, far) = (last.expected()?, first.expected()?);
    let by = (far - near).abs();
    let limit = context.shear.joint_step_max;
    let off = |line: &Line, gap: Length| (gap - line.limits.set().middle()).abs();
    let owner = if off(outer, far) < off(inner, near) { inner.id } else { outer.id };
    let (inner, outer): (StationId, StationId) = (last.station, first.station);
    (owner == line.id && limit < by).then_some(Reason::JointStep { inner, outer, by, limit })
}
