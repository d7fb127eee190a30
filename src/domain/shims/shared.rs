//! The best packs for several seats that draw on one shelf.
//!
//! First each seat is planned as if the shelf were its own. If the shelf can serve them all so,
//! nothing can be better. Only where it cannot are other ways tried, by branch and bound: a
//! partial choice is given up as soon as even the best that each other seat could still get alone
//! from what is left is no better than what is known. Seats under one blade may be held to packs of
//! nearly the same thickness; a choice that breaks this is tried again like one the shelf cannot
//! serve.

use crate::domain::{
    quantity::Length,
    shims::{
        PackPlan, Seat, Shortfall,
        seat::Worth,
        single::{as_plan, best},
        sums::{Sums, subsets, thickest_first},
    },
    yard::ShelfItem,
};
use std::cmp::Reverse;

/// The most steps of the search before it says that it did not look at everything. A shelf that
/// can serve its blades takes as many steps as there are blades.
const STEPS_MOST: usize = 200_000;

/// One plan for every seat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SharedPlan {
    /// In the order of the seats.
    pub plans: Vec<PackPlan>,
    /// Whether every other choice was shown to be no better.
    pub proven: bool,
}

/// Why one shelf cannot serve all seats.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unshared {
    /// One seat cannot be served even alone.
    Alone {
        /// Its place among the seats.
        seat: usize,
        /// Why not.
        why: Shortfall,
    },
    /// Each can be served alone, all together cannot.
    Together {
        /// Whether every choice was tried.
        proven: bool,
    },
}

/// Finds a pack for every seat such that one shelf holds all shims.
///
/// The worst station of the worst seat closest to its target first, then that of the next worst,
/// and so on; then fewest shims moved; then closest over the length.
///
/// # Errors
///
/// [`Unshared`] if there is none.
pub fn plan_shared(seats: &[Seat], shelf: &[ShelfItem]) -> Result<SharedPlan, Unshared> {
    let most = seats.iter().map(|seat| usize::from(seat.rules.most_shims)).max().unwrap_or(0);
    let thickest = seats.iter().map(|seat| seat.rules.thickest).max().unwrap_or(Length::ZERO);
    let sums = Sums::of(shelf, most, thickest);
    let mut alone = Vec::with_capacity(seats.len());
    for (place, seat) in seats.iter().enumerate() {
        let best = best(seat, &sums).map_err(|why| Unshared::Alone { seat: place, why })?;
        alone.push(best.1);
    }
    let items = thickest_first(shelf);
    let mut left: Vec<u16> = items.iter().map(|item| item.count).collect();
    let ends: Vec<Length> = seats.iter().zip(&alone).map(|(seat, plan)| seat.ends(plan)).collect();
    let even = seats.windows(2).zip(ends.windows(2)).all(|(seats, ends)| match (seats, ends) {
        ([_, seat], [before, here]) => within_step(seat, *before, *here),
        _ => true,
    });
    if even && alone.iter().all(|plan| take(&mut left, &items, &plan.put_in)) {
        return Ok(SharedPlan { plans: alone, proven: true });
    }
    let options: Vec<Vec<Way>> = seats.iter().map(|seat| ways(seat, &items)).collect();
    let left: Vec<u16> = items.iter().map(|item| item.count).collect();
    let mut search = Search { seats, options: &options, best: None, steps: 0 };
    let mut chosen = vec![None; seats.len()];
    search.go(&mut chosen, &left);
    let proven = search.steps <= STEPS_MOST;
    let Some((_, chosen)) = search.best else { return Err(Unshared::Together { proven }) };
    let plans = seats.iter().zip(&options).zip(chosen).filter_map(|((seat, ways), place)| {
        let way = ways.get(place)?;
        let put_in: Vec<Length> = items
            .iter()
            .zip(&way.uses)
            .flat_map(|(item, count)| std::iter::repeat_n(item.thickness, usize::from(*count)))
            .collect();
        Some(as_plan(seat, way.worth, way.change, &put_in, &way.out))
    });
    Ok(SharedPlan { plans: plans.collect(), proven })
}

/// Takes shims off what is left of the shelf; false if one of them is not there.
fn take(left: &mut [u16], items: &[ShelfItem], shims: &[Length]) -> bool {
    shims.iter().all(|shim| {
        let place = items.iter().position(|item| item.thickness == *shim);
        let count = place.and_then(|place| left.get_mut(place)).filter(|count| 0 < **count);
        count.map(|count| *count -= 1).is_some()
    })
}

/// Whether the pack of a seat is near enough to that of the seat before it.
fn within_step(seat: &Seat, before: Length, here: Length) -> bool {
    seat.step.is_none_or(|step| (here - before).abs() <= step)
}

/// One pack for one seat.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Way {
    worth: Worth,
    /// Shims of each thickness, in the order of the shelf.
    uses: Vec<u16>,
    out: Vec<Length>,
    change: Length,
    /// How thick the pack then is.
    ends: Length,
}

/// Every pack that brings a seat into its range, best first.
fn ways(seat: &Seat, items: &[ShelfItem]) -> Vec<Way> {
    let Ok((low, high)) = seat.wanted_range() else { return Vec::new() };
    let most = usize::from(seat.rules.most_shims);
    let now = seat.total_now();
    let mut found = Vec::new();
    for (kept, out) in subsets(&seat.pack, most) {
        let kept_total: Length = kept.iter().copied().sum();
        let grown = kept_total - now;
        let top = (high - grown).min(seat.rules.thickest - kept_total);
        let wanted = Wanted { items, low: low - grown, high: top };
        let mut uses = vec![0; items.len()];
        wanted.list(0, Length::ZERO, most - kept.len(), &mut uses, &mut |uses, sum, count| {
            let change = grown + sum;
            let worth = seat.worth(change, count + out.len());
            let (uses, out, ends) = (uses.to_vec(), out.clone(), now + change);
            found.push(Way { worth, uses, out, change, ends });
        });
    }
    found.sort();
    found
}

/// Sums of shims between two ends.
struct Wanted<'a> {
    items: &'a [ShelfItem],
    low: Length,
    high: Length,
}

impl Wanted<'_> {
    /// Says every multiset of at most `room` shims from place `at` on.
    fn list(
        &self,
        at: usize,
        sum: Length,
        room: usize,
        uses: &mut [u16],
        say: &mut dyn FnMut(&[u16], Length, usize),
    ) {
        let Some(item) = self.items.get(at) else {
            if self.low <= sum && sum <= self.high {
                let count = uses.iter().map(|count| usize::from(*count)).sum();
                say(uses, sum, count);
            }
            return;
        };
        // Thinner ones follow: if as many of these as there is room for do not reach, none will.
        let reach = sum + item.thickness.times(i64::try_from(room).unwrap_or(i64::MAX / 2));
        if reach < self.low {
            return;
        }
        let mut total = sum;
        for count in 0..=item.count.min(u16::try_from(room).unwrap_or(u16::MAX)) {
            if self.high < total {
                break;
            }
            if let Some(used) = uses.get_mut(at) {
                *used = count;
            }
            self.list(at + 1, total, room - usize::from(count), uses, say);
            total = total + item.thickness;
        }
        if let Some(used) = uses.get_mut(at) {
            *used = 0;
        }
    }
}

/// How good a choice for all seats is: their worst stations, worst first, then shims, then length.
pub(crate) type JointWorth = (Vec<i64>, usize, i128);

pub(crate) fn joint(worths: impl Iterator<Item = Worth>) -> JointWorth {
    let (mut worst, mut moved, mut over_length) = (Vec::new(), 0, 0);
    for worth in worths {
        worst.push(worth.0);
        moved += worth.1;
        over_length += worth.2;
    }
    worst.sort_by_key(|it| Reverse(*it));
    (worst, moved, over_length)
}

struct Search<'a> {
    seats: &'a [Seat],
    options: &'a [Vec<Way>],
    best: Option<(JointWorth, Vec<usize>)>,
    steps: usize,
}

impl Search<'_> {
    /// Completes a choice in every way that could be better than the best one known.
    fn go(&mut self, chosen: &mut Vec<Option<usize>>, left: &[u16]) {
        self.steps += 1;
        if STEPS_MOST < self.steps {
            return;
        }
        // What each seat could still get if the rest of the shelf were its own.
        let mut firsts = Vec::with_capacity(chosen.len());
        for (place, (picked, ways)) in chosen.iter().zip(self.options).enumerate() {
            let may = |way: &Way| fits(left, way) && self.agrees(chosen, place, way);
            let first = picked.or_else(|| ways.iter().position(may));
            let Some(first) = first else { return };
            firsts.push(first);
        }
        let picked = || firsts.iter().zip(self.options).filter_map(|(at, ways)| ways.get(*at));
        let bound = joint(picked().map(|way| way.worth));
        if self.best.as_ref().is_some_and(|(known, _)| *known <= bound) {
            return;
        }
        // The open seats in conflict: those that want a thickness of which too little is left, or
        // a pack too unlike that of a seat beside them.
        let open = |place: &usize| chosen.get(*place).is_some_and(Option::is_none);
        let mut wanted = vec![0_u32; left.len()];
        for (place, way) in picked().enumerate() {
            if open(&place) {
                for (total, count) in wanted.iter_mut().zip(&way.uses) {
                    *total += u32::from(*count);
                }
            }
        }
        let scarce: Vec<bool> =
            wanted.iter().zip(left).map(|(wanted, left)| u32::from(*left) < *wanted).collect();
        let in_conflict =
            |way: &Way| way.uses.iter().zip(&scarce).any(|(count, scarce)| *scarce && 0 < *count);
        let ends: Vec<Length> = picked().map(|way| way.ends).collect();
        let uneven = |place: usize| {
            let before = place.checked_sub(1).and_then(|before| ends.get(before));
            let pair = before.zip(ends.get(place)).zip(self.seats.get(place));
            pair.is_some_and(|((before, here), seat)| !within_step(seat, *before, *here))
        };
        let branch = picked()
            .enumerate()
            .filter(|(place, way)| {
                open(place) && (in_conflict(way) || uneven(*place) || uneven(place + 1))
            })
            .max_by_key(|(_, way)| way.worth)
            .map(|(place, _)| place);
        let Some(branch) = branch else {
            self.best = Some((bound, firsts));
            return;
        };
        let Some(ways) = self.options.get(branch) else { return };
        for (at, way) in ways.iter().enumerate() {
            if !fits(left, way) || !self.agrees(chosen, branch, way) {
                continue;
            }
            // Ways come best first: once one alone makes the whole no better, none after it will.
            if self.best.as_ref().is_some_and(|(known, _)| {
                let others = firsts.iter().zip(self.options).enumerate();
                let worths = others.filter_map(|(place, (first, ways))| {
                    if place == branch { Some(way.worth) } else { Some(ways.get(*first)?.worth) }
                });
                *known <= joint(worths)
            }) {
                return;
            }
            if let Some(slot) = chosen.get_mut(branch) {
                *slot = Some(at);
            }
            let rest: Vec<u16> =
                left.iter().zip(&way.uses).map(|(left, used)| left - used).collect();
            self.go(chosen, &rest);
            if let Some(slot) = chosen.get_mut(branch) {
                *slot = None;
            }
        }
    }
}

impl Search<'_> {
    /// Whether a way goes with what is chosen for the seats beside it.
    fn agrees(&self, chosen: &[Option<usize>], place: usize, way: &Way) -> bool {
        let picked = |place: usize| {
            let at = chosen.get(place).copied().flatten()?;
            self.options.get(place)?.get(at)
        };
        let seat = |place: usize| self.seats.get(place);
        let before = place.checked_sub(1).and_then(picked);
        let after = seat(place + 1).zip(picked(place + 1));
        before
            .zip(seat(place))
            .is_none_or(|(before, seat)| within_step(seat, before.ends, way.ends))
            && after.is_none_or(|(seat, after)| within_step(seat, way.ends, after.ends))
    }
}

fn fits(left: &[u16], way: &Way) -> bool {
    way.uses.iter().zip(left).all(|(used, left)| used <= left)
}
