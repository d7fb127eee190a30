//! The search over packs.
//!
//! A pack is a multiset of shims, so the search runs over subsets of the present pack to keep and
//! sums of shelf shims to add. Each sum keeps only its fewest shims: with one blade nothing else
//! tells two ways to the same thickness apart.

use crate::domain::{machine::PackRules, quantity::Length, yard::ShelfItem};
use std::collections::BTreeMap;

/// One station of the blade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Goal {
    /// The gap now.
    pub gap: Length,
    /// The smallest it may be afterwards; already includes the hot minimum.
    pub min: Length,
    /// The largest it may be afterwards.
    pub max: Length,
}

/// A blade that needs another pack.
#[derive(Clone, Debug)]
pub struct Problem<'a> {
    /// Its stations.
    pub goals: Vec<Goal>,
    /// Cosine of the face angle: a shim s closes the gap by s times this; above 0, at most 1.
    pub closes: f64,
    /// What stands behind it now.
    pub pack: &'a [Length],
    /// What may stand there.
    pub rules: PackRules,
    /// What lies on the shelf.
    pub shelf: &'a [ShelfItem],
}

/// A pack that brings every station into its range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackPlan {
    /// From the shelf, thickest first: thick shims stand next to the seat.
    pub put_in: Vec<Length>,
    /// Out of the present pack, thickest first.
    pub take_out: Vec<Length>,
    /// Every gap afterwards, in the order of the goals.
    pub after: Vec<Length>,
}

impl PackPlan {
    /// Whether the pack ends thicker, so that the gaps close.
    pub fn closes(&self) -> bool {
        let total = |shims: &[Length]| -> Length { shims.iter().copied().sum() };
        total(&self.take_out) < total(&self.put_in)
    }
}

/// Why no pack will do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shortfall {
    /// The stations differ by more than their ranges overlap: the blade is tapered.
    Tapered {
        /// Difference between the widest and the tightest station.
        by: Length,
    },
    /// It would take a thicker pack than the rules allow.
    PackFull {
        /// The pack it would take at least.
        needed: Length,
        /// The thickest allowed.
        allowed: Length,
    },
    /// Every shim is out and the gap is still too tight.
    PackEmpty,
    /// The shelf has no shims that add up to the right thickness.
    ShelfCannot {
        /// The change of the pack that is wanted.
        wanted: Length,
    },
    /// Hot, the gap needs to be wider than the set range goes.
    HotAboveSet {
        /// The smallest gap at 20 °C that leaves the smallest hot gap.
        needed: Length,
        /// The upper end of the set range.
        allowed: Length,
    },
    /// No station was measured, or the face angle leaves nothing to close.
    NothingToGoBy,
}

/// Finds the pack that brings every station into its range.
///
/// Worst station closest to the middle of its range first, then fewest shims moved.
///
/// # Errors
///
/// [`Shortfall`] if there is none; every pack was tried.
pub fn plan(problem: &Problem<'_>) -> Result<PackPlan, Shortfall> {
    let (low, high) = wanted_range(problem)?;
    let most = usize::from(problem.rules.most_shims);
    let keeps = subsets(problem.pack, most);
    let additions = sums(problem.shelf, most, problem.rules.thickest);
    let now: Length = problem.pack.iter().copied().sum();
    let mut best: Option<(i64, usize, PackPlan)> = None;
    for (kept, out) in &keeps {
        let kept_total: Length = kept.iter().copied().sum();
        let grown = kept_total - now;
        let room = additions.range(low - grown..=high - grown);
        for (sum, shims) in room {
            let total = kept_total + *sum;
            if problem.rules.thickest < total || most < kept.len() + shims.len() {
                continue;
            }
            let after: Vec<Length> =
                problem.goals.iter().map(|goal| goal.gap - problem.moves(grown + *sum)).collect();
            let worst = worst_offset(&problem.goals, &after);
            let moved = shims.len() + out.len();
            if best.as_ref().is_none_or(|(offset, count, _)| (worst, moved) < (*offset, *count)) {
                let plan = PackPlan { put_in: shims.clone(), take_out: out.clone(), after };
                best = Some((worst, moved, plan));
            }
        }
    }
    best.map(|(_, _, plan)| plan).ok_or_else(|| shortfall(problem, now, low, high))
}

impl Problem<'_> {
    /// How far a change of the pack closes the gap.
    fn moves(&self, change: Length) -> Length {
        Length::from_mm(change.mm() * self.closes).unwrap_or(Length::ZERO)
    }
}

/// The changes of the pack that bring every station into range, from least to most.
fn wanted_range(problem: &Problem<'_>) -> Result<(Length, Length), Shortfall> {
    if problem.goals.is_empty() || !(problem.closes > 0.0 && problem.closes <= 1.0) {
        return Err(Shortfall::NothingToGoBy);
    }
    let change = |closing: Length| closing.mm() / problem.closes;
    let bounds = problem.goals.iter().map(|goal| {
        // Rounded inward, so that a pack at the end of the range still meets it.
        let low = (change(goal.gap - goal.max) * 1e6).ceil() / 1e6;
        let high = (change(goal.gap - goal.min) * 1e6).floor() / 1e6;
        (low, high)
    });
    let (low, high) = bounds
        .fold((f64::NEG_INFINITY, f64::INFINITY), |(low, high), (l, h)| (low.max(l), high.min(h)));
    let (Some(low), Some(high)) = (Length::from_mm(low), Length::from_mm(high)) else {
        return Err(Shortfall::NothingToGoBy);
    };
    if high < low {
        let gaps = || problem.goals.iter().map(|goal| goal.gap);
        let (Some(most), Some(least)) = (gaps().max(), gaps().min()) else {
            return Err(Shortfall::NothingToGoBy);
        };
        return Err(Shortfall::Tapered { by: most - least });
    }
    Ok((low, high))
}

fn shortfall(problem: &Problem<'_>, now: Length, low: Length, high: Length) -> Shortfall {
    if problem.rules.thickest < now + low {
        Shortfall::PackFull { needed: now + low, allowed: problem.rules.thickest }
    } else if now + high < Length::ZERO {
        Shortfall::PackEmpty
    } else {
        Shortfall::ShelfCannot { wanted: (low + high).half() }
    }
}

/// The farthest any station ends from the middle of its range, in nanometres.
fn worst_offset(goals: &[Goal], after: &[Length]) -> i64 {
    goals
        .iter()
        .zip(after)
        .map(|(goal, after)| (*after - (goal.min + goal.max).half()).abs().nm())
        .max()
        .unwrap_or(0)
}

/// Every way to keep at most so many shims of a pack: kept and taken out, thickest first.
fn subsets(pack: &[Length], most: usize) -> Vec<(Vec<Length>, Vec<Length>)> {
    let mut ways = vec![(Vec::new(), Vec::new())];
    let mut sorted = pack.to_vec();
    sorted.sort_by(|a, b| b.cmp(a));
    for shim in sorted {
        ways = ways
            .into_iter()
            .flat_map(|(kept, out): (Vec<Length>, Vec<Length>)| {
                let mut keep = (kept.clone(), out.clone());
                keep.0.push(shim);
                let mut take = (kept, out);
                take.1.push(shim);
                [keep, take]
            })
            .collect();
        // A log can hold a pack that no rule allows; its ways must not fill the memory.
        ways.retain(|(kept, _)| kept.len() <= most);
        // Equal shims make equal ways; a pack of ten like shims has eleven, not 1 024.
        ways.sort();
        ways.dedup();
    }
    ways
}

/// Every thickness that shelf shims add up to, with the fewest shims for it, thickest first.
fn sums(shelf: &[ShelfItem], most: usize, thickest: Length) -> BTreeMap<Length, Vec<Length>> {
    let mut sums = BTreeMap::from([(Length::ZERO, Vec::new())]);
    let mut items: Vec<&ShelfItem> =
        shelf.iter().filter(|item| Length::ZERO < item.thickness).collect();
    items.sort_by_key(|item| std::cmp::Reverse(item.thickness));
    for item in items {
        let before: Vec<(Length, Vec<Length>)> =
            sums.iter().map(|(sum, shims)| (*sum, shims.clone())).collect();
        for (sum, shims) in before {
            let mut grown = shims;
            let mut total = sum;
            for _ in 0..item.count {
                grown.push(item.thickness);
                total = total + item.thickness;
                if most < grown.len() || thickest < total {
                    break;
                }
                let known = sums.get(&total).map_or(usize::MAX, Vec::len);
                if grown.len() < known {
                    sums.insert(total, grown.clone());
                }
            }
        }
    }
    sums
}

#[cfg(test)]
mod tests {
    use super::*;

    fn um(um: i64) -> Length {
        Length::from_um(um)
    }

    fn shelf(items: &[(i64, u16)]) -> Vec<ShelfItem> {
        items
            .iter()
            .map(|&(thickness, count)| ShelfItem { thickness: um(thickness), count })
            .collect()
    }

    fn problem<'a>(gaps: &[i64], pack: &'a [Length], shelf: &'a [ShelfItem]) -> Problem<'a> {
        Problem {
            goals: gaps
                .iter()
                .map(|gap| Goal { gap: um(*gap), min: um(300), max: um(500) })
                .collect(),
            closes: 1.0,
            pack,
            rules: PackRules { most_shims: 6, thickest: um(3_000) },
            shelf,
        }
    }

    #[test]
    fn a_wide_gap_is_shimmed_to_the_middle_of_its_range_with_fewest_shims() {
        let pack = [um(500), um(250)];
        let shelf = shelf(&[(100, 9), (250, 4), (500, 2), (750, 1)]);
        let plan = plan(&problem(&[1_095, 1_095, 1_145, 1_195], &pack, &shelf)).unwrap();
        assert_eq!((plan.put_in, plan.take_out), (vec![um(750)], vec![]));
        assert_eq!(plan.after, [um(345), um(345), um(395), um(445)]);
    }

    #[test]
    fn a_tight_gap_takes_shims_out() {
        let pack = [um(500), um(250)];
        let plan = plan(&problem(&[145, 150], &pack, &[])).unwrap();
        assert_eq!((plan.put_in, plan.take_out), (vec![], vec![um(250)]));
    }

    #[test]
    fn a_face_angle_makes_a_shim_close_less() {
        let shelf = shelf(&[(500, 4), (600, 4)]);
        let mut leaning = problem(&[800], &[], &shelf);
        leaning.closes = 0.8;
        let plan = plan(&leaning).unwrap();
        assert_eq!(plan.put_in, [um(500)]);
        assert_eq!(plan.after, [um(400)]);
    }

    #[test]
    fn every_refusal_says_why() {
        #[track_caller]
        fn check(gaps: &[i64], pack: &[Length], shelf: &[ShelfItem], expected: Shortfall) {
            assert_eq!(plan(&problem(gaps, pack, shelf)), Err(expected));
        }
        let stock = shelf(&[(500, 9)]);
        check(&[400, 900], &[], &stock, Shortfall::Tapered { by: um(500) });
        check(
            &[900],
            &[um(2_900)],
            &stock,
            Shortfall::PackFull { needed: um(3_300), allowed: um(3_000) },
        );
        check(&[100], &[], &stock, Shortfall::PackEmpty);
        check(&[600], &[], &stock, Shortfall::ShelfCannot { wanted: um(200) });
        check(&[], &[], &stock, Shortfall::NothingToGoBy);
    }

    mod laws {
        use super::*;
        use proptest::prelude::*;

        proptest! {
            /// A plan never uses more of a shim than the shelf or the pack holds, keeps the rules,
            /// and brings every station into its range.
            #[test]
            fn a_plan_keeps_every_rule(
                gaps in proptest::collection::vec(50_i64..2_500, 1..4),
                pack in proptest::collection::vec(1_i64..8, 0..5),
                counts in proptest::collection::vec(0_u16..4, 4),
            ) {
                let pack: Vec<Length> = pack.into_iter().map(|n| um(n * 100)).collect();
                let stock: Vec<(i64, u16)> =
                    [50, 100, 250, 500].into_iter().zip(counts).collect();
                let shelf = shelf(&stock);
                let problem = problem(&gaps, &pack, &shelf);
                if let Ok(plan) = plan(&problem) {
                    for item in &shelf {
                        let used = plan.put_in.iter().filter(|it| **it == item.thickness).count();
                        prop_assert!(used <= usize::from(item.count));
                    }
                    let mut left = pack.clone();
                    for shim in &plan.take_out {
                        let place = left.iter().position(|it| it == shim);
                        prop_assert!(place.is_some(), "took out a shim that was not there");
                        left.remove(place.unwrap());
                    }
                    left.extend(&plan.put_in);
                    prop_assert!(left.len() <= 6);
                    prop_assert!(left.iter().copied().sum::<Length>() <= um(3_000));
                    for (goal, after) in problem.goals.iter().zip(&plan.after) {
                        prop_assert!(goal.min <= *after && *after <= goal.max);
                    }
                }
            }
        }
    }
}
