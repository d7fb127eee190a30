//! Straight lines that pass inside every bracket, found with whole numbers.
//!
//! Where there is one, no scatter is needed to explain the readings: its likelihood grows without
//! end as σ shrinks to nothing, and there is no fit. What can be said then is exact: the range of
//! slopes and levels of all such lines. Knows whole nanometres and thousandths of an hour.

use crate::domain::quantity::float;
use std::cmp::Ordering;

/// A bracket at an hour, in whole numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Strip {
    /// Thousandths of an hour.
    pub(crate) x: i64,
    /// Nanometres; `None` if nothing is known below.
    pub(crate) lo: Option<i64>,
    /// Nanometres; `None` if nothing is known above.
    pub(crate) hi: Option<i64>,
}

/// A slope in nanometres per thousandth of an hour as a fraction with positive denominator.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Slope {
    rise: i128,
    run: i128,
}

/// The slopes of all lines inside some brackets; an end that does not exist is free.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Slopes {
    /// The least.
    pub(crate) least: Option<Slope>,
    /// The largest.
    pub(crate) largest: Option<Slope>,
}

impl Slope {
    /// As a float, in nanometres per thousandth of an hour.
    pub(crate) fn value(self) -> f64 {
        wide(self.rise) / wide(self.run)
    }

    fn between((x1, y1): Place, (x2, y2): Place) -> Self {
        Self { rise: i128::from(y2) - i128::from(y1), run: i128::from(x2) - i128::from(x1) }
    }

    fn negated(self) -> Self {
        Self { rise: -self.rise, run: self.run }
    }

    fn order(self, other: Self) -> Ordering {
        (self.rise * other.run).cmp(&(other.rise * self.run))
    }

    fn is_zero(self) -> bool {
        self.rise == 0
    }
}

/// Differences of numbers below 2⁵³ fit in an `i64`.
fn wide(number: i128) -> f64 {
    float(i64::try_from(number).unwrap_or(i64::MAX))
}

type Place = (i64, i64);

impl Slopes {
    /// Of all lines inside these brackets, which must come in the order of their hours; `None` if
    /// there is no such line.
    ///
    /// A slope b fits exactly if loᵢ − b·xᵢ ≤ hiⱼ − b·xⱼ for every pair, so the largest one is the
    /// flattest way from a floor to a later ceiling. Floors that can matter lie on the hull over
    /// them, which makes that n·log n instead of a look at each pair.
    pub(crate) fn inside(strips: &[Strip]) -> Option<Self> {
        let merged = merged(strips)?;
        let largest = flattest(&merged);
        let mirrored: Vec<Strip> = merged
            .iter()
            .map(|it| Strip { x: it.x, lo: it.hi.map(|y| -y), hi: it.lo.map(|y| -y) })
            .collect();
        let least = flattest(&mirrored).map(Slope::negated);
        Self { least, largest }.sound()
    }

    /// The slopes that both allow; `None` if there are none.
    pub(crate) fn and(self, other: Self) -> Option<Self> {
        let pick = |a: Option<Slope>, b: Option<Slope>, wanted| match (a, b) {
            (Some(a), Some(b)) => Some(if a.order(b) == wanted { a } else { b }),
            (one, None) | (None, one) => one,
        };
        Self {
            least: pick(self.least, other.least, Ordering::Greater),
            largest: pick(self.largest, other.largest, Ordering::Less),
        }
        .sound()
    }

    fn sound(self) -> Option<Self> {
        let crossed = self.least.zip(self.largest).is_some_and(|(a, b)| a.order(b).is_gt());
        (!crossed).then_some(self)
    }

    /// With a free end closed at the other, or both at zero: some slope that is allowed.
    pub(crate) fn bounded(self) -> Self {
        let any = self.least.or(self.largest).unwrap_or(Slope { rise: 0, run: 1 });
        Self { least: self.least.or(Some(any)), largest: self.largest.or(Some(any)) }
    }

    /// Whether no slope but zero is allowed.
    pub(crate) fn only_zero(self) -> bool {
        self.least.is_some_and(Slope::is_zero) && self.largest.is_some_and(Slope::is_zero)
    }
}

/// One strip an hour; `None` if two of one hour exclude each other.
fn merged(strips: &[Strip]) -> Option<Vec<Strip>> {
    strips
        .chunk_by(|a, b| a.x == b.x)
        .map(|same| {
            let lo = same.iter().filter_map(|it| it.lo).max();
            let hi = same.iter().filter_map(|it| it.hi).min();
            let x = same.first()?.x;
            let crossed = lo.zip(hi).is_some_and(|(lo, hi)| hi < lo);
            (!crossed).then_some(Strip { x, lo, hi })
        })
        .collect()
}

/// The flattest way from a floor to a later ceiling.
fn flattest(strips: &[Strip]) -> Option<Slope> {
    let mut hull: Vec<Place> = Vec::new();
    let mut flattest: Option<Slope> = None;
    for strip in strips {
        let way = strip.hi.and_then(|hi| tangent(&hull, (strip.x, hi)));
        if let Some(way) = way
            && flattest.is_none_or(|it| way.order(it).is_lt())
        {
            flattest = Some(way);
        }
        if let Some(lo) = strip.lo {
            push(&mut hull, (strip.x, lo));
        }
    }
    flattest
}

/// The flattest way from a hull to a place right of it: along the hull the ways get flatter up to
/// the tangent and steeper behind it.
fn tangent(hull: &[Place], to: Place) -> Option<Slope> {
    let way = |place: usize| hull.get(place).map(|&from| Slope::between(from, to));
    let (mut low, mut high) = (0, hull.len().checked_sub(1)?);
    while low < high {
        let middle = usize::midpoint(low, high);
        let flatter = way(middle + 1).zip(way(middle)).is_some_and(|(a, b)| a.order(b).is_lt());
        (low, high) = if flatter { (middle + 1, high) } else { (low, middle) };
    }
    way(low)
}

/// Adds a place right of all others to the hull over them.
fn push(hull: &mut Vec<Place>, new: Place) {
    while let [.., before, last] = hull.as_slice() {
        if Slope::between(*before, *last).order(Slope::between(*before, new)).is_gt() {
            break;
        }
        hull.pop();
    }
    hull.push(new);
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn strips(rows: &[(i64, i64, i64)]) -> Vec<Strip> {
        rows.iter().map(|&(x, lo, hi)| Strip { x, lo: Some(lo), hi: Some(hi) }).collect()
    }

    #[test]
    fn a_line_may_touch_an_end_but_not_cross_it() {
        // 10 to 20 at 0, 30 to 40 at 10: from the ceiling to the floor, and from floor to ceiling.
        let slopes = Slopes::inside(&strips(&[(0, 10, 20), (10, 30, 40)])).unwrap();
        let ends = (slopes.least.unwrap().value(), slopes.largest.unwrap().value());
        assert_eq!(ends, (1.0, 3.0));
        let touching = strips(&[(0, 0, 10), (10, 20, 30), (20, 20, 30)]);
        let slopes = Slopes::inside(&touching).unwrap();
        assert_eq!((slopes.least.unwrap().value(), slopes.largest.unwrap().value()), (1.0, 1.0));
        assert!(Slopes::inside(&strips(&[(0, 0, 10), (10, 21, 30), (20, 10, 11)])).is_none());
        assert!(
            Slopes::inside(&strips(&[(5, 0, 10), (5, 11, 20)])).is_none(),
            "one hour, two gaps"
        );
        let free = Slopes::inside(&strips(&[(5, 0, 10), (5, 5, 20)])).unwrap();
        assert!(free.least.is_none() && free.largest.is_none(), "one hour tells no slope");
    }

    #[test]
    fn an_open_end_leaves_a_slope_free() {
        let open =
            [Strip { x: 0, lo: Some(10), hi: Some(20) }, Strip { x: 10, lo: Some(30), hi: None }];
        let slopes = Slopes::inside(&open).unwrap();
        let ends = (slopes.least.map(Slope::value), slopes.largest.map(Slope::value));
        assert_eq!(ends, (Some(1.0), None));
    }

    proptest! {
        /// The hull finds what looking at each pair finds.
        #[test]
        fn the_slopes_are_those_of_all_pairs(
            rows in prop::collection::vec((0_i64..40, -20_i64..20, 0_i64..60, 0..4), 1..30),
            tilt in -5_i64..5,
        ) {
            let mut all: Vec<Strip> = rows.into_iter().map(|(x, jitter, width, kind)| {
                let lo = tilt * x + jitter - 30;
                Strip {
                    x,
                    lo: (kind != 1).then_some(lo),
                    hi: (kind != 2).then_some(lo + width + 20),
                }
            }).collect();
            all.sort_by_key(|it| it.x);
            let (mut least, mut largest): (Option<f64>, Option<f64>) = (None, None);
            let mut crossed = false;
            for a in &all {
                for b in &all {
                    let run = float(b.x - a.x);
                    let (Some(lo), Some(hi)) = (a.lo, b.hi) else { continue };
                    let rise = float(hi - lo);
                    let way = rise / run;
                    match a.x.cmp(&b.x) {
                        Ordering::Less => largest = Some(largest.map_or(way, |it| it.min(way))),
                        Ordering::Greater => least = Some(least.map_or(way, |it| it.max(way))),
                        Ordering::Equal => crossed |= rise < 0.0,
                    }
                }
            }
            crossed |= least.zip(largest).is_some_and(|(a, b)| b < a);
            let found = Slopes::inside(&all);
            prop_assert_eq!(found.is_none(), crossed);
            if let Some(found) = found {
                prop_assert_eq!(found.least.map(Slope::value), least);
                prop_assert_eq!(found.largest.map(Slope::value), largest);
            }
        }
    }
}
