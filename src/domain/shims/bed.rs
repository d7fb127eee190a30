//! One blade and the seats it is bedded on.
//!
//! Full-length shims stand behind the whole blade and only come out; what goes in stands at its
//! seats. A blade with one seat takes a pack over its full length; one with several takes packs
//! that differ from bolt to bolt, for a taper that no full-length pack cures. Knows the step that
//! neighbouring packs may make; does not know what other blades take from the shelf.

use crate::domain::{
    quantity::Length,
    shims::{
        PackPlan, Seat,
        seat::Worth,
        sums::{Bounds, Sums, Uses, count, subsets},
    },
};
use std::{cmp::Reverse, rc::Rc};

/// A blade that needs packs.
#[derive(Clone, Debug, PartialEq)]
pub struct Bed {
    /// What stands behind the whole blade, under every seat.
    pub full: Vec<Length>,
    /// Its seats, pivot end first: what stands at each besides, under the rules of the whole pack.
    pub seats: Vec<Seat>,
}

impl From<Seat> for Bed {
    fn from(seat: Seat) -> Self {
        Self { full: Vec::new(), seats: vec![seat] }
    }
}

/// The packs behind one blade.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BedPlan {
    /// Full-length shims that come out, thickest first.
    pub take_out: Vec<Length>,
    /// The shims at its seats, in their order.
    pub plans: Vec<PackPlan>,
}

/// How good a choice for several seats is: their worst stations, worst first, then shims moved,
/// then distance over the length. Adding the same to both never turns the order of two.
pub(crate) type JointWorth = (Vec<i64>, usize, i128);

pub(crate) fn joint<'a>(worths: impl Iterator<Item = &'a JointWorth>) -> JointWorth {
    let mut all: JointWorth = (Vec::new(), 0, 0);
    for worth in worths {
        all.0.extend(&worth.0);
        all.1 += worth.1;
        all.2 += worth.2;
    }
    all.0.sort_by_key(|it| Reverse(*it));
    all
}

/// One pack for one seat.
#[derive(Clone, Debug)]
pub(crate) struct Way {
    worth: Worth,
    /// Off the shelf.
    pub(crate) uses: Uses,
    out: Vec<Length>,
    change: Length,
    /// How thick the pack then is.
    ends: Length,
}

/// For each thickness that brings the seat into its range, the fewest shims within bounds; best
/// first.
pub(crate) fn ways(seat: &Seat, sums: &Sums, bounds: &Bounds) -> Vec<Way> {
    let Ok((low, high)) = seat.wanted_range() else { return Vec::new() };
    let most = usize::from(seat.rules.most_shims);
    let now = seat.total_now();
    let mut found: Vec<Way> = Vec::new();
    for (kept, out) in subsets(&seat.pack, most) {
        let kept_total: Length = kept.iter().copied().sum();
        let grown = kept_total - now;
        let top = (high - grown).min(seat.rules.thickest - kept_total);
        for (sum, fewest) in sums.between(low - grown, top) {
            let ends = kept_total + sum;
            let known = found.iter().position(|way| way.ends == ends);
            let moved = known.and_then(|place| found.get(place)).map(|way| way.worth.1);
            // Only fewer than are known would be of use.
            if moved.is_some_and(|moved| moved <= out.len() + count(fewest)) {
                continue;
            }
            let fewer = moved.map_or(most, |moved| moved - 1 - out.len());
            let room = fewer.min(most - kept.len());
            let Some(uses) = sums.within(sum, fewest, bounds, room) else { continue };
            let change = grown + sum;
            let worth = seat.worth(change, count(&uses) + out.len());
            let way = Way { worth, uses, out: out.clone(), change, ends };
            match known.and_then(|place| found.get_mut(place)) {
                Some(known) => *known = way,
                None => found.push(way),
            }
        }
    }
    found.sort_by_key(|way| way.worth);
    found
}

/// Whether the pack of a seat is near enough to that of the seat before it.
fn within_step(seat: &Seat, before: Length, here: Length) -> bool {
    seat.step.is_none_or(|step| (here - before).abs() <= step)
}

/// A choice of full-length shims to keep, and every seat on top of them.
#[derive(Debug)]
pub(crate) struct Footing {
    out: Vec<Length>,
    pub(crate) seats: Vec<Seat>,
}

impl Footing {
    /// Every one that leaves room for the seats.
    pub(crate) fn all(bed: &Bed) -> Vec<Self> {
        let kept = subsets(&bed.full, bed.full.len());
        let footing = |(kept, out): (Vec<Length>, Vec<Length>)| {
            let total = kept.iter().copied().sum();
            let opened = out.iter().copied().sum();
            let seats = bed.seats.iter().map(|seat| on_top(seat, kept.len(), total, opened));
            Some(Self { seats: seats.collect::<Option<_>>()?, out })
        };
        kept.into_iter().filter_map(footing).collect()
    }
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

/// The best packs for one blade, one way for each seat.
#[derive(Clone, Debug)]
pub(crate) struct Laid {
    pub(crate) worth: JointWorth,
    footing: usize,
    pub(crate) picked: Vec<Way>,
}

impl Laid {
    /// The best over every footing; `None` if there is no way.
    pub(crate) fn best(footings: &[Footing], ways: &[Vec<Rc<Vec<Way>>>]) -> Option<Self> {
        let mut best: Option<Self> = None;
        for (footing, (on, ways)) in footings.iter().zip(ways).enumerate() {
            let Some((mut worth, picked)) = chain(&on.seats, ways) else { continue };
            worth.1 += on.out.len();
            if best.as_ref().is_none_or(|known| worth < known.worth) {
                best = Some(Self { worth, footing, picked });
            }
        }
        best
    }

    /// What is done, in the words of a plan.
    pub(crate) fn plan(&self, footings: &[Footing], sums: &Sums) -> Option<BedPlan> {
        let on = footings.get(self.footing)?;
        let plan = |(seat, way): (&Seat, &Way)| PackPlan {
            put_in: sums.shims(&way.uses),
            take_out: way.out.clone(),
            after: seat.after(way.change),
            worst: Length::from_nm(way.worth.0),
        };
        let plans = on.seats.iter().zip(&self.picked).map(plan).collect();
        Some(BedPlan { take_out: on.out.clone(), plans })
    }
}

/// One way for each seat, each within its step of the one before, that is best together.
fn chain(seats: &[Seat], ways: &[Rc<Vec<Way>>]) -> Option<(JointWorth, Vec<Way>)> {
    // For each way of the last seat looked at, the best that ends in it; best first. Since adding
    // the same keeps the order, the first one within the step is the best before a way.
    let mut ending: Vec<(JointWorth, Vec<&Way>)> = vec![((Vec::new(), 0, 0), Vec::new())];
    for (seat, ways) in seats.iter().zip(ways) {
        let mut next: Vec<(JointWorth, Vec<&Way>)> = Vec::with_capacity(ways.len());
        for way in ways.iter() {
            let fits = |(_, before): &&(JointWorth, Vec<&Way>)| {
                before.last().is_none_or(|it| within_step(seat, it.ends, way.ends))
            };
            let Some((worth, before)) = ending.iter().find(fits) else { continue };
            let own = (vec![way.worth.0], way.worth.1, way.worth.2);
            let mut picked = before.clone();
            picked.push(way);
            next.push((joint([worth, &own].into_iter()), picked));
        }
        next.sort_by(|a, b| a.0.cmp(&b.0));
        ending = next;
    }
    let (worth, picked) = ending.into_iter().next()?;
    Some((worth, picked.into_iter().cloned().collect()))
}
