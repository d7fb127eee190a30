//! Recipes: which shims, which edge, which pack.

use crate::domain::{
    decide::{Job, NewPack, StationState},
    log::{BladeState, BoltSpan, EffectOnLine, History},
    machine::{Blade, Line, Shear},
    quantity::Length,
    shims::{Goal, PackPlan, Problem, Shortfall, plan},
    trend::Point,
    yard::ShelfItem,
};

/// The pack that brings every measured station of a line into its set range.
///
/// The smallest gap aimed at is the set minimum, or more where the hot gap would otherwise fall
/// below its own minimum.
pub(crate) fn plan_pack(
    shear: &Shear,
    line: &Line,
    states: &[StationState],
    history: &History,
    shelf: &[ShelfItem],
) -> Result<(PackPlan, Option<BoltSpan>), Shortfall> {
    let blade = shear.blade(&line.fixed).ok_or(Shortfall::NothingToGoBy)?;
    let rules = blade.pack.ok_or(Shortfall::NothingToGoBy)?;
    let state = history.blades.get(&line.fixed).ok_or(Shortfall::NothingToGoBy)?;
    let set = line.limits.set();
    let opening = Length::from_mm(line.hot_gap_mm(0.0)).unwrap_or(Length::ZERO);
    let min = set.min.max(line.limits.hot_min() - opening).min(set.max);
    let goals = states
        .iter()
        .filter_map(StationState::expected)
        .map(|gap| Goal { gap, min, max: set.max })
        .collect();
    let closes = blade.face_angle_deg.to_radians().cos();
    let problem = Problem { goals, closes, pack: &state.pack, rules, shelf };
    Ok((plan(&problem)?, all_bolts(blade)))
}

/// Turning a blade to its next fresh edge, or fitting a new one if none is left.
///
/// No such recipe may leave an expected gap under the working minimum: the gap found when a fresh
/// edge was last set on the base pack is the one to expect again; where it was too tight, or
/// nobody measured it, every shim comes out.
pub(crate) fn fresh_edge(
    line: &Line,
    blade: &Blade,
    history: &History,
    states: &[StationState],
) -> Option<Job> {
    let state = history.blades.get(&blade.id)?;
    let pack = base_pack(line, blade, state, history, states);
    Some(match state.fresh_edges(blade).first() {
        Some(edge) => Job::Turn { blade: blade.id.clone(), edge: *edge, pack },
        None => Job::Fit { blade: blade.id.clone(), pack },
    })
}

/// Fitting a new blade.
pub(crate) fn new_blade(
    line: &Line,
    blade: &Blade,
    history: &History,
    states: &[StationState],
) -> Option<Job> {
    let state = history.blades.get(&blade.id)?;
    let pack = base_pack(line, blade, state, history, states);
    Some(Job::Fit { blade: blade.id.clone(), pack })
}

fn base_pack(
    line: &Line,
    blade: &Blade,
    state: &BladeState,
    history: &History,
    states: &[StationState],
) -> NewPack {
    let known = state.base_pack.clone().filter(|_| {
        // A pack that was once too tight on a fresh edge is not gone back to.
        found_on_base(line, blade, history, states)
            .is_none_or(|gap| line.limits.working().min <= gap)
    });
    let base_known = known.is_some();
    let pack = known.unwrap_or_default();
    NewPack {
        bolts: all_bolts(blade),
        take_out: less(&state.pack, &pack),
        put_in: less(&pack, &state.pack),
        pack,
        base_known,
    }
}

/// The tightest gap found at the first reading after a fresh edge was last set on this blade.
fn found_on_base(
    line: &Line,
    blade: &Blade,
    history: &History,
    states: &[StationState],
) -> Option<Length> {
    let set = history.cuts_on(line.id).iter().rev().find(|cut| match &cut.effect {
        EffectOnLine::Turned { blade: it, .. } | EffectOnLine::Replaced { blade: it } => {
            *it == blade.id
        }
        EffectOnLine::Shimmed { .. } | EffectOnLine::PadsMoved => false,
    })?;
    let after = |point: &&Point| (set.taken, &set.session) < (point.taken, &point.session);
    states
        .iter()
        .filter_map(|state| state.trend.observations.iter().find(after))
        .filter_map(|point| Length::from_mm(point.go_mm))
        .min()
}

/// What `from` has more than `other`, thickest first.
fn less(from: &[Length], other: &[Length]) -> Vec<Length> {
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

fn all_bolts(blade: &Blade) -> Option<BoltSpan> {
    let last = u8::try_from(blade.bolts.as_ref()?.from_pivot.len()).ok()?;
    (1 <= last).then_some(BoltSpan { first: 1, last })
}
