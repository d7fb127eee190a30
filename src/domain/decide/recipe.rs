//! The recipe for a gap: which shims go in and out behind a blade.

use crate::domain::{
    decide::{StationState, machine::Context},
    log::BoltSpan,
    machine::{Blade, Line},
    quantity::Length,
    shims::{Goal, PackPlan, Problem, Shortfall, plan},
};

/// The pack that brings every measured station of a line into its set range.
///
/// The smallest gap aimed at is the set minimum, or more where the hot gap would otherwise fall
/// below its own minimum.
pub(crate) fn plan_pack(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
) -> Result<(PackPlan, Option<BoltSpan>), Shortfall> {
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
) -> Result<(PackPlan, Option<BoltSpan>), Shortfall> {
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
) -> Result<(PackPlan, Option<BoltSpan>), Shortfall> {
    let blade = context.shear.blade(&line.fixed).ok_or(Shortfall::NothingToGoBy)?;
    let rules = blade.pack.ok_or(Shortfall::NothingToGoBy)?;
    let state = context.history.blades.get(&line.fixed).ok_or(Shortfall::NothingToGoBy)?;
    let min = least(line);
    let goals = states
        .iter()
        .filter_map(StationState::expected)
        .map(|gap| Goal { gap, min, max })
        .collect();
    let closes = blade.face_angle_deg.to_radians().cos();
    let problem = Problem { goals, closes, pack: &state.pack, rules, shelf: context.shelf };
    Ok((plan(&problem)?, all_bolts(blade)))
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
