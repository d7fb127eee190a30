//! The best packs for several blades that draw on one shelf.
//!
//! Checks that each seat could be served alone, and says why not; the search does the rest.

use crate::domain::{
    quantity::Length,
    shims::{
        Bed, BedPlan, PackPlan, Seat, Shortfall,
        bed::Footing,
        search::{Found, Search},
        single::best,
        sums::Sums,
    },
    yard::ShelfItem,
};

/// One plan for every seat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SharedPlan {
    /// In the order of the seats.
    pub plans: Vec<PackPlan>,
    /// Whether every other choice was shown to be no better.
    pub proven: bool,
}

/// One plan for every blade.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BedsPlan {
    /// In the order of the blades.
    pub beds: Vec<BedPlan>,
    /// Whether every other choice was shown to be no better.
    pub proven: bool,
}

/// Why one shelf cannot serve all seats.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unshared {
    /// One seat cannot be served even alone.
    Alone {
        /// Its place among all seats.
        seat: usize,
        /// Why not.
        why: Shortfall,
    },
    /// Each seat of a blade can be served alone, but neighbours would then differ by more than
    /// their step.
    Steps {
        /// The place of the blade's first seat among all seats.
        first: usize,
        /// The place of its last one.
        last: usize,
    },
    /// Each can be served alone, all together cannot.
    Together {
        /// Whether every choice was tried.
        proven: bool,
    },
}

/// Finds a pack for every seat such that one shelf holds all shims. Seats with a step lie behind
/// the same blade as the one before.
///
/// # Errors
///
/// [`Unshared`] if there is none.
pub fn plan_shared(seats: &[Seat], shelf: &[ShelfItem]) -> Result<SharedPlan, Unshared> {
    let mut beds: Vec<Bed> = Vec::new();
    for seat in seats {
        match beds.last_mut().filter(|_| seat.step.is_some()) {
            Some(bed) => bed.seats.push(seat.clone()),
            None => beds.push(Bed::from(seat.clone())),
        }
    }
    let BedsPlan { beds, proven } = plan_beds(&beds, shelf)?;
    Ok(SharedPlan { plans: beds.into_iter().flat_map(|it| it.plans).collect(), proven })
}

/// Finds packs for every blade such that one shelf holds all shims.
///
/// The worst station of the worst seat closest to its target first, then that of the next worst,
/// and so on; then fewest shims moved; then closest over the length.
///
/// # Errors
///
/// [`Unshared`] if there is none.
pub fn plan_beds(beds: &[Bed], shelf: &[ShelfItem]) -> Result<BedsPlan, Unshared> {
    let seats = || beds.iter().flat_map(|bed| &bed.seats);
    let most = seats().map(|seat| usize::from(seat.rules.most_shims)).max().unwrap_or(0);
    let thickest = seats().map(|seat| seat.rules.thickest).max().unwrap_or(Length::ZERO);
    let sums = Sums::of(shelf, most, thickest);
    let footings: Vec<Vec<Footing>> = beds.iter().map(Footing::all).collect();
    let search = Search { beds: &footings, sums: &sums };
    let Found { laid, proven } = search.best().map_err(|blade| alone(beds, &sums, blade))?;
    let laid = laid.ok_or(Unshared::Together { proven })?;
    let plans = laid.iter().zip(&footings).filter_map(|(laid, bed)| laid.plan(bed, &sums));
    Ok(BedsPlan { beds: plans.collect(), proven })
}

/// Why a blade has no way even with the shelf to itself.
fn alone(beds: &[Bed], sums: &Sums, blade: usize) -> Unshared {
    let first = beds.iter().take(blade).map(|bed| bed.seats.len()).sum();
    let seats = || beds.get(blade).into_iter().flat_map(|bed| &bed.seats);
    for (place, seat) in seats().enumerate() {
        if let Err(why) = best(seat, sums) {
            return Unshared::Alone { seat: first + place, why };
        }
    }
    Unshared::Steps { first, last: first + seats().count().saturating_sub(1) }
}
