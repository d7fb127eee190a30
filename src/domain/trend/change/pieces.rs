//! Cutting a row of points into pieces so that the squares about them are least.
//!
//! Knows points and sums of squares. Exact by dynamic programming: the best way to cut the first j
//! points k times is the best way to cut some first i of them k − 1 times and one more piece.
//! *Reference:* Bai and Perron, J. Appl. Econometrics 18 (2003) 1.

use crate::domain::trend::{count, line::Moments};
use std::f64::consts::PI;

/// What a piece is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece {
    /// A level.
    Level,
    /// A straight line.
    Line,
}

/// Where points are cut, and how well that fits.
#[derive(Clone, Debug, PartialEq)]
pub struct Partition {
    /// The first point of each piece but the first, rising.
    pub breaks: Vec<usize>,
    /// Σ of the squares about the pieces.
    pub squares: f64,
    /// The Bayesian information criterion: the smaller the better.
    pub bic: f64,
}

/// A piece's straight line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PieceLine {
    x: f64,
    y: f64,
    /// Its slope.
    pub(crate) rate: f64,
}

impl PieceLine {
    pub(crate) fn at(&self, x: f64) -> f64 {
        self.y + self.rate * (x - self.x)
    }
}

/// A stretch with more points than this is first cut only at every so many, and each cut then
/// moved to its best place between its neighbours: time in proportion to the points, and exact
/// unless two cuts lie closer together than that.
const DENSE: usize = 400;

/// The best partition with no break, one, and so on, as far as there are points for them; pieces
/// hold at least `least` points.
///
/// The mean square counts as `floor` at least. `bic` counts a level (and a rate) and the place of
/// each piece, σ in place of the first one's: n·(ln(2π·RSS/n) + 1) + ln n·(2 or 3)·pieces.
pub fn partitions(
    points: &[(f64, f64)],
    piece: Piece,
    least: usize,
    most: usize,
    floor: f64,
) -> Vec<Partition> {
    let n = points.len();
    let least = least.max(1);
    if n < least {
        return Vec::new();
    }
    let sums = Sums::of(points, piece);
    let stride = n.div_ceil(DENSE).max(1);
    // Places where a piece may begin or end.
    let mut places: Vec<usize> = (0..n).step_by(stride).collect();
    places.push(n);
    let most = most.min(n / least - 1);
    let (bests, came_from) = sums.dynamic(&places, least, most);
    let mut found = Vec::with_capacity(most + 1);
    for (breaks, squares) in bests.iter().enumerate() {
        if !squares.is_finite() {
            break;
        }
        let mut cuts = trace(&came_from, breaks, places.len() - 1);
        for cut in &mut cuts {
            *cut = places.get(*cut).copied().unwrap_or(0);
        }
        if 1 < stride {
            sums.refine(&mut cuts, n, least, stride);
        }
        let squares = sums.whole(&cuts, n);
        found.push(Partition { bic: bic(squares, floor, n, piece, breaks), breaks: cuts, squares });
    }
    found
}

fn bic(squares: f64, floor: f64, n: usize, piece: Piece, breaks: usize) -> f64 {
    let numbers = match piece {
        Piece::Level => 2,
        Piece::Line => 3,
    };
    let variance = (squares / count(n)).max(floor).max(f64::MIN_POSITIVE);
    count(n) * ((2.0 * PI * variance).ln() + 1.0) + count(n).ln() * count(numbers * (breaks + 1))
}

/// The cuts of the best partition with so many breaks, as indices of places.
fn trace(came_from: &[Vec<usize>], breaks: usize, end: usize) -> Vec<usize> {
    let mut cuts = Vec::with_capacity(breaks);
    let mut at = end;
    for row in came_from.iter().take(breaks).rev() {
        at = row.get(at).copied().unwrap_or(0);
        cuts.push(at);
    }
    cuts.reverse();
    cuts
}

impl Partition {
    /// The straight line of each piece; `None` for one whose points all have one x.
    pub(crate) fn pieces<'a>(
        &'a self,
        points: &'a [(f64, f64)],
    ) -> impl Iterator<Item = Option<PieceLine>> + 'a {
        let starts = std::iter::once(0).chain(self.breaks.iter().copied());
        let ends = self.breaks.iter().copied().chain(std::iter::once(points.len()));
        starts.zip(ends).map(|(from, to)| {
            let moments = Moments::of(points.get(from..to)?.iter().copied())?;
            (0.0 < moments.sxx).then(|| PieceLine {
                x: moments.mean_x,
                y: moments.mean_y,
                rate: moments.sxy / moments.sxx,
            })
        })
    }
}

/// Running sums about the centre of all points, so that a piece's squares cost no walk.
struct Sums {
    piece: Piece,
    /// n, Σx, Σy, Σxx, Σxy, Σyy of the first so many points.
    upto: Vec<[f64; 6]>,
}

impl Sums {
    fn of(points: &[(f64, f64)], piece: Piece) -> Self {
        let all = count(points.len());
        let (sum_x, sum_y) = points.iter().fold((0.0, 0.0), |(a, b), (x, y)| (a + x, b + y));
        let (mean_x, mean_y) = (sum_x / all, sum_y / all);
        let mut upto = Vec::with_capacity(points.len() + 1);
        let mut sums = [0.0; 6];
        upto.push(sums);
        for (x, y) in points {
            let (x, y) = (x - mean_x, y - mean_y);
            let terms = [1.0, x, y, x * x, x * y, y * y];
            for (sum, term) in sums.iter_mut().zip(terms) {
                *sum += term;
            }
            upto.push(sums);
        }
        Self { piece, upto }
    }

    /// Σ of the squares about the piece from one place up to, not including, another.
    fn squares(&self, from: usize, to: usize) -> f64 {
        let (Some(start), Some(end)) = (self.upto.get(from), self.upto.get(to)) else {
            return f64::INFINITY;
        };
        let mut sums = *end;
        for (sum, before) in sums.iter_mut().zip(start) {
            *sum -= before;
        }
        let [n, x, y, xx, xy, yy] = sums;
        let (sxx, sxy, syy) = (xx - x * x / n, xy - x * y / n, yy - y * y / n);
        let explained = match self.piece {
            Piece::Line if 1e-12 * xx.abs() < sxx => sxy * sxy / sxx,
            Piece::Level | Piece::Line => 0.0,
        };
        (syy - explained).max(0.0)
    }

    /// The least squares for all points with each number of breaks, and for each number and place
    /// where the last piece began.
    fn dynamic(&self, places: &[usize], least: usize, most: usize) -> (Vec<f64>, Vec<Vec<usize>>) {
        let mut best: Vec<f64> = places
            .iter()
            .map(|&to| if to < least { f64::INFINITY } else { self.squares(0, to) })
            .collect();
        let mut bests = vec![best.last().copied().unwrap_or(f64::INFINITY)];
        let mut came_from = Vec::with_capacity(most);
        for _ in 0..most {
            let mut next = vec![f64::INFINITY; places.len()];
            let mut from = vec![0; places.len()];
            for ((&to, sum), from) in places.iter().zip(&mut next).zip(&mut from) {
                for (index, (&cut, &so_far)) in places.iter().zip(&best).enumerate() {
                    if to < cut + least {
                        break;
                    }
                    // Squares are never negative, so what is worse already stays worse.
                    if so_far < *sum {
                        let with = so_far + self.squares(cut, to);
                        if with < *sum {
                            (*sum, *from) = (with, index);
                        }
                    }
                }
            }
            bests.push(next.last().copied().unwrap_or(f64::INFINITY));
            came_from.push(from);
            best = next;
        }
        (bests, came_from)
    }

    /// Moves each cut to its best place within a stride, its neighbours held.
    fn refine(&self, cuts: &mut [usize], n: usize, least: usize, stride: usize) {
        for place in 0..cuts.len() {
            let (before, rest) = cuts.split_at_mut(place);
            let Some((cut, behind)) = rest.split_first_mut() else { return };
            let from = before.last().copied().unwrap_or(0);
            let to = behind.first().copied().unwrap_or(n);
            let low = (from + least).max(cut.saturating_sub(stride));
            let high = (to.saturating_sub(least)).min(*cut + stride);
            let both = |at: usize| self.squares(from, at) + self.squares(at, to);
            let best = (low..=high).min_by(|&a, &b| both(a).total_cmp(&both(b)));
            *cut = best.unwrap_or(*cut);
        }
    }

    fn whole(&self, cuts: &[usize], n: usize) -> f64 {
        let starts = std::iter::once(0).chain(cuts.iter().copied());
        let ends = cuts.iter().copied().chain(std::iter::once(n));
        starts.zip(ends).map(|(from, to)| self.squares(from, to)).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_long_row_is_cut_where_it_breaks() {
        let points: Vec<(f64, f64)> = (0..3_000_u16)
            .map(f64::from)
            .map(|x| (x, 0.001 * x + 0.01 * (x * 0.7).sin() - if 1_234.0 <= x { 0.4 } else { 0.0 }))
            .collect();
        let all = partitions(&points, Piece::Line, 4, 3, 0.0);
        let best = all.iter().min_by(|a, b| a.bic.total_cmp(&b.bic)).unwrap();
        assert_eq!(best.breaks, [1_234]);
        let lines: Vec<PieceLine> = best.pieces(&points).map(Option::unwrap).collect();
        assert!((lines[1].at(1_234.0) - lines[0].at(1_234.0) + 0.4).abs() < 0.01);
    }

    proptest! {
        /// Looking at every partition finds nothing better.
        #[test]
        fn no_other_cuts_have_smaller_squares(
            gaps in prop::collection::vec(0.0..1.0_f64, 6..14), least in 1_usize..4,
        ) {
            let points: Vec<(f64, f64)> =
                gaps.iter().enumerate().map(|(x, &y)| (count(x), y)).collect();
            let n = points.len();
            for piece in [Piece::Level, Piece::Line] {
                let sums = Sums::of(&points, piece);
                let found = partitions(&points, piece, least, 2, 0.0);
                let two = (least..n).flat_map(|a| (a + least..n).map(move |b| [a, b]))
                    .filter(|[_, b]| b + least <= n)
                    .map(|cuts| sums.whole(&cuts, n))
                    .fold(f64::INFINITY, f64::min);
                match found.get(2) {
                    Some(it) => prop_assert!((it.squares - two).abs() < 1e-9),
                    None => prop_assert!(two.is_infinite()),
                }
            }
        }
    }
}
