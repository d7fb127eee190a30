//! What all lines inside the brackets of one stretch have in common, in hours and millimetres.

use crate::domain::{
    quantity::float,
    trend::{
        Reach,
        likelihood::inside::{Slopes, Strip},
    },
};

/// Every line inside some brackets: for each slope the levels from floor to ceiling.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    centre: f64,
    /// Slopes, rising, with the lowest level each allows at the centre; levels between are lower
    /// than the straight way, so only these corners can be extreme.
    floor: Vec<(f64, f64)>,
    /// The highest levels.
    ceiling: Vec<(f64, f64)>,
}

const MM_PER_NM: f64 = 1e-6;
const H_PER_STEP: f64 = 1e-3;

impl Region {
    /// `None` if the slopes have no two ends.
    pub(crate) fn of(strips: &[Strip], slopes: Slopes, centre: f64) -> Option<Self> {
        let unit = MM_PER_NM / H_PER_STEP;
        let ends = (slopes.least?.value() * unit, slopes.largest?.value() * unit);
        let place = |y: fn(&Strip) -> Option<i64>| {
            strips
                .iter()
                .filter_map(|it| {
                    Some((float(it.x) * H_PER_STEP - centre, float(y(it)?) * MM_PER_NM))
                })
                .collect::<Vec<_>>()
        };
        let floor = corners(&place(|it| it.lo), ends);
        let mirrored: Vec<(f64, f64)> =
            place(|it| it.hi).into_iter().map(|(x, y)| (-x, -y)).collect();
        let ceiling = corners(&mirrored, ends).into_iter().map(|(b, level)| (b, -level)).collect();
        Some(Self { centre, floor, ceiling })
    }

    /// The least and the largest slope.
    pub fn rates(&self) -> (f64, f64) {
        let ends = |corners: &[(f64, f64)]| Some((corners.first()?.0, corners.last()?.0));
        ends(&self.floor).unwrap_or_default()
    }

    /// The lowest and the highest mean at an hour.
    pub fn levels(&self, x: f64) -> (f64, f64) {
        let at = |&(rate, level): &(f64, f64)| level + rate * (x - self.centre);
        let low = self.floor.iter().map(at).fold(f64::INFINITY, f64::min);
        let high = self.ceiling.iter().map(at).fold(f64::NEG_INFINITY, f64::max);
        // Rounding may cross them where one line is all there is.
        (low.min(high), high.max(low))
    }

    /// The line among these that is nearest to another: its slope brought into the range, then its
    /// level at the centre.
    pub(crate) fn nearest(&self, rate: f64, level: f64) -> (f64, f64) {
        let (least, largest) = self.rates();
        let rate = rate.max(least).min(largest);
        let (low, high) = (between(&self.floor, rate), between(&self.ceiling, rate));
        (rate, if low < high { level.max(low).min(high) } else { f64::midpoint(low, high) })
    }

    /// The first and the last x at which one of the lines meets a limit in its way; the last is
    /// `None` if one of them never does. `None` if none of them does.
    pub fn meets(&self, limit: f64, reach: Reach) -> Option<(f64, Option<f64>)> {
        let (sign, early, late) = match reach {
            Reach::Up => (1.0, &self.ceiling, &self.floor),
            Reach::Down => (-1.0, &self.floor, &self.ceiling),
        };
        let towards = |rate: f64| 0.0 < sign * rate;
        let meets = |&(rate, level): &(f64, f64)| {
            towards(rate).then(|| self.centre + (limit - level) / rate)
        };
        let first = early.iter().filter_map(meets).reduce(f64::min)?;
        let last = late.iter().filter_map(meets).reduce(f64::max);
        let (least, largest) = self.rates();
        Some((first, last.filter(|_| towards(least) && towards(largest))))
    }
}

/// The level at a slope between two corners.
fn between(corners: &[(f64, f64)], rate: f64) -> f64 {
    let place = corners.partition_point(|&(corner, _)| corner < rate);
    let at = |place: usize| corners.get(place).copied();
    match (place.checked_sub(1).and_then(at), at(place)) {
        (Some((b1, y1)), Some((b2, y2))) => y1 + (y2 - y1) * ((rate - b1) / (b2 - b1)),
        (Some((_, level)), None) | (None, Some((_, level))) => level,
        (None, None) => 0.0,
    }
}

/// The corners of b ↦ max(y − b·x) between two slopes.
fn corners(points: &[(f64, f64)], (least, largest): (f64, f64)) -> Vec<(f64, f64)> {
    let mut hull: Vec<(f64, f64)> = Vec::new();
    let cross = |a: (f64, f64), b: (f64, f64), c: (f64, f64)| {
        (b.0 - a.0) * (c.1 - a.1) - (c.0 - a.0) * (b.1 - a.1)
    };
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.total_cmp(&a.1)));
    sorted.dedup_by(|next, kept| next.0 <= kept.0);
    for &new in &sorted {
        while let [.., before, last] = hull.as_slice() {
            if cross(*before, *last, new) < 0.0 {
                break;
            }
            hull.pop();
        }
        hull.push(new);
    }
    let turns = hull.windows(2).filter_map(|pair| match pair {
        [a, b] => Some((b.1 - a.1) / (b.0 - a.0)),
        _ => None,
    });
    let mut rates: Vec<f64> = turns.filter(|&b| least < b && b < largest).collect();
    rates.extend([least, largest]);
    rates.sort_by(f64::total_cmp);
    let top = |b: f64| hull.iter().map(|(x, y)| y - b * x).fold(f64::NEG_INFINITY, f64::max);
    rates.into_iter().map(|b| (b, top(b))).collect()
}
