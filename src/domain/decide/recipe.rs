//! The recipe for a gap: which shims go in and out behind a blade.

use crate::domain::{
    decide::{StationState, machine::Context},
    log::BoltSpan,
    machine::{Blade, Line, Station, StationId},
    quantity::Length,
    shims::{Goal, PackPlan, Seat, Shortfall, plan},
};

/// A pack that was found, with the seat it was found for.
pub(crate) struct Planned {
    pub(crate) plan: PackPlan,
    pub(crate) bolts: Option<BoltSpan>,
    pub(crate) seat: Seat,
}

/// The pack that brings every measured station of a line into its set range.
///
/// The smallest gap aimed at is the set minimum, or more where the hot gap would otherwise fall
/// below its own minimum.
pub(crate) fn plan_pack(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
) -> Result<Planned, Shortfall> {
    let (needed, allowed) = (least(line), line.limits.set().max);
    if allowed < needed {
        return Err(Shortfall::HotAboveSet { needed, allowed });
    }
    plan_up_to(context, line, states, allowed)
}

/// The pack that opens a line far enough everywhere, no wider than its working limits allow.
///
/// For a line that is too tight where the set range cannot hold all its stations: as little above
/// the set range as their difference asks for, or farther if the shelf has no other way.
pub(crate) fn plan_opening(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
) -> Result<Planned, Shortfall> {
    let gaps = || states.iter().filter_map(StationState::expected);
    let spread = gaps().max().zip(gaps().min()).map_or(Length::ZERO, |(most, least)| most - least);
    let (set, working) = (line.limits.set().max, line.limits.working().max);
    let near = (set.max(least(line)) + spread).min(working);
    plan_up_to(context, line, states, near)
        .or_else(|_no_way| plan_up_to(context, line, states, working))
}

/// The smallest gap to leave at 20 °C.
fn least(line: &Line) -> Length {
    let opening = Length::from_mm(line.hot_gap_mm(0.0)).unwrap_or(Length::ZERO);
    line.limits.set().min.max(line.limits.hot_min() - opening)
}

fn plan_up_to(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
    max: Length,
) -> Result<Planned, Shortfall> {
    let seat = seat(context, line, states, max).ok_or(Shortfall::NothingToGoBy)?;
    let bolts = context.shear.blade(&line.fixed).and_then(all_bolts);
    Ok(Planned { plan: plan(&seat, context.shelf)?, bolts, seat })
}

/// The seat behind the fixed blade of a line, with every measured station in front of it.
fn seat(context: &Context<'_>, line: &Line, states: &[StationState], max: Length) -> Option<Seat> {
    let blade = context.shear.blade(&line.fixed)?;
    let state = context.history.blades.get(&line.fixed)?;
    let min = least(line);
    let goals = states
        .iter()
        .filter_map(|state| {
            let gap = state.expected()?;
            Some(Goal { span: span(line, state.station), ..Goal::within(gap, min, max) })
        })
        .collect();
    let closes = blade.face_angle_deg.to_radians().cos();
    Some(Seat { goals, closes, pack: state.pack.clone(), rules: blade.pack? })
}

/// The length of blade a station speaks for: halfway to its neighbours on both sides.
fn span(line: &Line, station: StationId) -> Length {
    let along = |it: &Station| it.across.unwrap_or(it.from_pivot);
    let Some(place) = line.stations.iter().position(|it| it.id == station) else {
        return Length::ZERO;
    };
    let here = line.stations.get(place).map(along).unwrap_or_default();
    let to = |place: Option<usize>| {
        let there = place.and_then(|place| line.stations.get(place)).map(along);
        there.map(|there| (there - here).abs())
    };
    let (before, after) = (to(place.checked_sub(1)), to(Some(place + 1)));
    // An end station speaks as far outward as inward.
    match (before, after) {
        (Some(before), Some(after)) => (before + after).half(),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => Length::from_um(1_000),
    }
}

/// The two stations that no one pack brings into range, by their places among the measured ones.
pub(crate) fn apart(states: &[StationState], why: Shortfall) -> Option<(StationId, StationId)> {
    let Shortfall::Tapered { wide, tight, .. } = why else { return None };
    let measured: Vec<StationId> = states
        .iter()
        .filter(|state| state.expected().is_some())
        .map(|state| state.station)
        .collect();
    Some((*measured.get(wide)?, *measured.get(tight)?))
}

/// What `from` has more than `other`, thickest first.
pub(crate) fn less(from: &[Length], other: &[Length]) -> Vec<Length> {
    let mut rest = other.to_vec();
    let mut more: Vec<Length> = from
        .iter()
        .copied()
        .filter(|shim| match rest.iter().position(|it| it == shim) {
            Some(place) => {
                rest.remove(place);
                false
            }
            None => true,
        })
        .collect();
    more.sort_by_key(|shim| std::cmp::Reverse(*shim));
    more
}

/// All bolts of a blade; `None` for one without bolts.
pub(crate) fn all_bolts(blade: &Blade) -> Option<BoltSpan> {
    let last = u8::try_from(blade.bolts.as_ref()?.from_pivot.len()).ok()?;
    (1 <= last).then_some(BoltSpan { first: 1, last })
}
