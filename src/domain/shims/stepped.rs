//! One blade with packs that differ from bolt to bolt, for a taper that no full-length pack cures.
//!
//! Full-length shims stand behind the whole blade and only come out; what goes in stands at some
//! of its bolts. Every choice of full-length shims to keep is tried, and for each the packs at the
//! bolts are planned together. Knows the step that neighbouring packs may make; does not know
//! whether a blade may be bedded on steps at all: without a step in its rules it is not asked.

use crate::domain::{
    quantity::Length,
    shims::{
        PackPlan, Seat, plan_shared,
        shared::{JointWorth, joint},
        sums::subsets,
    },
    yard::ShelfItem,
};

/// What stands behind the whole blade, and what at its bolts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SteppedPlan {
    /// Full-length shims that come out, thickest first.
    pub take_out: Vec<Length>,
    /// The shims at the bolts, in the order of the seats.
    pub plans: Vec<PackPlan>,
    /// Whether every other choice was shown to be no better.
    pub proven: bool,
}

/// Finds packs for the bolts of one blade, pivot end first.
///
/// `full` stands behind the whole blade. The seats hold what stands at their bolts besides, under
/// the rules of the whole pack. Judged like packs that share a shelf: worst station first, then
/// fewest shims moved, then closest over the length. `None` if there is no way.
pub fn plan_stepped(full: &[Length], seats: &[Seat], shelf: &[ShelfItem]) -> Option<SteppedPlan> {
    let mut best: Option<(JointWorth, SteppedPlan)> = None;
    for (kept, out) in subsets(full, full.len()) {
        let total: Length = kept.iter().copied().sum();
        let opened: Length = out.iter().copied().sum();
        let seats: Option<Vec<Seat>> =
            seats.iter().map(|seat| on_top(seat, kept.len(), total, opened)).collect();
        let Some(seats) = seats else { continue };
        let Ok(shared) = plan_shared(&seats, shelf) else { continue };
        let worths = seats
            .iter()
            .zip(&shared.plans)
            .map(|(seat, plan)| seat.worth(seat.ends(plan) - seat.total_now(), plan.moved()));
        let (worst, moved, over_length) = joint(worths);
        let worth = (worst, moved + out.len(), over_length);
        if best.as_ref().is_none_or(|(known, _)| worth < *known) {
            let (plans, proven) = (shared.plans, shared.proven);
            best = Some((worth, SteppedPlan { take_out: out, plans, proven }));
        }
    }
    best.map(|(_, plan)| plan)
}

/// The seat with so many full-length shims below it; `None` where they leave no room.
fn on_top(seat: &Seat, shims: usize, thick: Length, opened: Length) -> Option<Seat> {
    let mut seat = seat.clone();
    let most = usize::from(seat.rules.most_shims).checked_sub(shims)?;
    seat.rules.most_shims = u8::try_from(most).ok()?;
    seat.rules.thickest = seat.rules.thickest - thick;
    let opens = seat.moves(opened);
    for goal in &mut seat.goals {
        goal.gap = goal.gap + opens;
    }
    Some(seat)
}
