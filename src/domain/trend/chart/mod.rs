//! Control charts of the readings about their lines: is the process still the one that was fitted?
//!
//! Knows standardised residuals, individuals with their moving range, and weighted averages of
//! them. Signals carry a kind; the words for it are `brief`'s. Does not know what caused a signal.

mod individuals;
mod weighted;

pub use individuals::Individuals;
pub use weighted::{Weighted, settled_deviation};

use crate::domain::{
    statistics::{normal_cdf, normal_quantile},
    trend::{Fit, Observation, count},
};

/// Weight of the newest reading in the average.
///
/// With limits three standard deviations wide the average sees a shift of one within about ten
/// readings and raises a false alarm once in about 560. Lucas and Saccucci, Technometrics 32
/// (1990) 1.
pub const WEIGHT: f64 = 0.2;
/// Half-width of all limits, in standard deviations.
pub const WIDTH: f64 = 3.0;
/// So many readings in a row on one side of the line are a run: Nelson, J. Quality Technology 16
/// (1984) 237, his second test.
pub const RUN: usize = 9;

/// One reading on the charts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChartPoint {
    /// Its place among the station's observations.
    pub place: usize,
    /// Service hours.
    pub at_h: f64,
    /// How far it lies from its line, in standard deviations as neighbours show them.
    pub z: f64,
    /// The step from the reading before; `None` for the first one since the last work.
    pub range: Option<f64>,
    /// The weighted average up to here since the last work.
    pub average: f64,
    /// Limit of the average, either way.
    pub average_limit: f64,
}

/// The charts of one station.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// The readings that lines were fitted to, oldest first.
    pub points: Vec<ChartPoint>,
    /// Limit of a single reading, either way.
    pub limit: f64,
    /// Limit of a step from one reading to the next.
    pub range_limit: f64,
    /// What the charts say.
    pub signals: Vec<Signal>,
}

/// What a chart can say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SignalKind {
    /// A single reading beyond its limit.
    BeyondLimit,
    /// A step from one reading to the next beyond its limit.
    RangeHigh,
    /// A run above the line.
    RunAbove,
    /// A run below.
    RunBelow,
    /// The weighted average is high.
    AverageHigh,
    /// It is low.
    AverageLow,
}

/// Something a chart says, where it begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Signal {
    /// What.
    pub kind: SignalKind,
    /// The reading that gave it, by its place among the station's observations.
    pub place: usize,
    /// Its service hours.
    pub at_h: f64,
}

impl Chart {
    /// The charts of readings about a fit; `None` while nothing scatters.
    ///
    /// A bracket's residual is the normal quantile of the middle of the probability it covers,
    /// which for an exact reading is (y − µ)/σ (Dunn and Smyth, J. Comput. Graph. Stat. 5 (1996)
    /// 236, without their draw). The standard deviation comes from the moving range, so that a
    /// shift does not widen its own limits, but is never less than leaves can tell: w/√12. Work
    /// begins the charts anew.
    ///
    /// While nothing happens, normal readings about a known line would be called once in 370 for a
    /// limit, once in 109 for a step, once in 512 for a run and once in about 560 for an average.
    /// Simulated (`trend/alarms.rs`), brackets about a fitted line give limits and steps about as
    /// often where a hand scatters by a third of a leaf step or more, and runs and averages more
    /// seldom, since a line goes through the middle of its readings; finer hands, whose scatter
    /// leaves hide, are hardly called at all.
    pub fn of(observations: &[Observation], fit: &Fit) -> Option<Self> {
        let sigma = fit.spread_mm;
        if sigma <= 0.0 {
            return None;
        }
        let mut residuals = Vec::with_capacity(observations.len());
        let mut widths = Vec::new();
        for (place, seen) in observations.iter().enumerate() {
            let Some(mean) = fit.about_of(seen) else { continue };
            widths.extend(seen.width());
            residuals.push((place, *seen, score(seen, mean, sigma)));
        }
        let step = widths.iter().sum::<f64>() / count(widths.len().max(1)) / sigma;
        let scores: Vec<f64> = residuals.iter().map(|(_, _, z)| *z).collect();
        let moving = Individuals::of(&scores)?.deviation_in_steps();
        let deviation = moving.max(step / 12.0_f64.sqrt());
        if deviation <= 0.0 {
            return None;
        }
        for (_, _, z) in &mut residuals {
            *z /= deviation;
        }
        let mut points = Vec::with_capacity(residuals.len());
        for stretch in residuals.chunk_by(|(_, a, _), (_, b, _)| a.segment == b.segment) {
            let averages = Weighted::of(WEIGHT, 0.0, stretch.iter().map(|(_, _, z)| *z));
            let mut before: Option<f64> = None;
            for ((place, seen, z), (average, reach)) in stretch.iter().zip(averages) {
                let range = before.replace(*z).map(|before| (z - before).abs());
                points.push(ChartPoint {
                    range,
                    place: *place,
                    at_h: seen.x,
                    z: *z,
                    average,
                    average_limit: WIDTH * reach,
                });
            }
        }
        let limits = [WIDTH, Individuals::range_limit(1.0)];
        let signals = signals(&points, limits, observations, fit);
        let [limit, range_limit] = limits;
        Some(Self { points, limit, range_limit, signals })
    }
}

/// The normal quantile of the middle of the probability a reading covers.
fn score(seen: &Observation, mean: f64, sigma: f64) -> f64 {
    let below = |end: Option<f64>| end.map(|y| (y - mean) / sigma);
    let (u, v) = (below(seen.low), below(seen.high));
    if let (Some(u), Some(v)) = (u, v)
        && v <= u
    {
        return u;
    }
    // The tail that is smaller keeps its digits.
    let under = f64::midpoint(u.map_or(0.0, normal_cdf), v.map_or(1.0, normal_cdf));
    let over = f64::midpoint(v.map_or(0.0, |v| normal_cdf(-v)), u.map_or(1.0, |u| normal_cdf(-u)));
    let far = WIDTH * WIDTH * WIDTH;
    if under < over {
        normal_quantile(under).unwrap_or(-far)
    } else {
        normal_quantile(over).map_or(far, |z| -z)
    }
}

/// How likely the gap was above the line at a reading, given what the leaves said and the scatter:
/// certain where both leaves lie on one side, about a half where they enclose it evenly.
fn above(seen: &Observation, mean: f64, sigma: f64) -> f64 {
    let below = |end: Option<f64>| end.map(|y| (y - mean) / sigma);
    let (u, v) = (below(seen.low), below(seen.high));
    if u.is_some_and(|u| 0.0 <= u) {
        return 1.0;
    }
    if v.is_some_and(|v| v <= 0.0) {
        return 0.0;
    }
    let upper = v.map_or(1.0, normal_cdf) - 0.5;
    let lower = 0.5 - u.map_or(0.0, normal_cdf);
    upper / (upper + lower)
}

/// A run on one side, as far as leaves can tell: readings that lean to one side, each with the
/// chance that the gap was there. It is said once, when the last [`RUN`] of them were all there
/// more likely than not.
#[derive(Default)]
struct Run {
    chances: Vec<f64>,
    said: bool,
}

impl Run {
    /// Whether this reading completes it.
    fn completes(&mut self, chance: f64) -> bool {
        if chance <= 0.5 {
            *self = Self::default();
            return false;
        }
        self.chances.push(chance);
        let last = self.chances.len().checked_sub(RUN).and_then(|from| self.chances.get(from..));
        let whole = last.is_some_and(|last| 0.5 < last.iter().product());
        let now = whole && !self.said;
        self.said |= whole;
        now
    }
}

fn signals(
    points: &[ChartPoint],
    [limit, range_limit]: [f64; 2],
    observations: &[Observation],
    fit: &Fit,
) -> Vec<Signal> {
    let mut found = Vec::new();
    let seen = |it: &ChartPoint| observations.get(it.place);
    let segment = |it: &ChartPoint| seen(it).map(|seen| seen.segment);
    for stretch in points.chunk_by(|a, b| segment(a) == segment(b)) {
        let mut was: [bool; 2] = [false; 2];
        let [mut high, mut low] = [Run::default(), Run::default()];
        for it in stretch {
            let mut say = |kind| found.push(Signal { kind, place: it.place, at_h: it.at_h });
            if limit < it.z.abs() {
                say(SignalKind::BeyondLimit);
            }
            if it.range.is_some_and(|range| range_limit < range) {
                say(SignalKind::RangeHigh);
            }
            let above = seen(it).and_then(|it| Some(above(it, fit.about_of(it)?, fit.spread_mm)));
            let above = above.unwrap_or(0.5);
            if high.completes(above) {
                say(SignalKind::RunAbove);
            }
            if low.completes(1.0 - above) {
                say(SignalKind::RunBelow);
            }
            let now = [it.average_limit < it.average, it.average < -it.average_limit];
            let kinds = [SignalKind::AverageHigh, SignalKind::AverageLow];
            for ((now, was), kind) in now.into_iter().zip(was).zip(kinds) {
                if now && !was {
                    say(kind);
                }
            }
            was = now;
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::trend::Segmented;

    /// Forty looks, eight hours apart, with leaves 50 µm apart.
    fn said(gap: impl Fn(f64) -> f64) -> Vec<SignalKind> {
        let seen: Vec<Observation> = (0..40_u8)
            .map(|look| 8.0 * f64::from(look))
            .map(|x| {
                // The blades are not equally warm every time.
                let low = (gap(x) / 0.05).floor() * 0.05 + 0.001 * (x * 0.7).sin();
                let (low, high) = (Some(low), Some(low + 0.05));
                Observation { x, low, high, segment: 0, edge_age: None }
            })
            .collect();
        let fit = Fit::new(&Segmented::fit(&seen).unwrap(), &[], 312.0).unwrap();
        Chart::of(&seen, &fit).unwrap().signals.iter().map(|it| it.kind).collect()
    }

    /// A gap that hardly grows gives the same reading for weeks.
    #[test]
    fn the_same_reading_again_is_no_run() {
        assert_eq!(said(|_| 0.52), []);
        assert_eq!(said(|x| 0.41 + 0.000_1 * x), []);
        assert_eq!(said(|x| 0.41 + 0.000_3 * x + 0.004 * (x * 1.9).sin()), []);
        assert_eq!(said(|x| 0.41 + 0.003 * x + 0.004 * (x * 1.9).sin()), [], "each twice");
    }

    #[test]
    fn readings_that_stay_above_their_line_are_a_run() {
        let bump = |x: f64| if (100.0..200.0).contains(&x) { 0.06 } else { 0.0 };
        let said = said(|x| 0.4 + 0.005 * x + bump(x) + 0.02 * (x * 1.9).sin());
        assert!(said.contains(&SignalKind::RunAbove), "{said:?}");
    }
}
