//! Individuals with their moving range: Shewhart's chart for readings that come one by one.

use crate::domain::trend::count;

/// Mean range of two normal readings over their standard deviation, 2/√π to the digits every table
/// prints. NIST/SEMATECH e-Handbook, 6.3.2.2.
const D2: f64 = 1.128;

/// The upper limit of a range of two over its mean: 1 + 3·d₃/d₂, with d₃ = √(2 − 4/π) the standard
/// deviation of such a range. Every table prints 3.267 (from memory).
const D4: f64 = 3.267;

/// Values in order of time, with limits from the ranges of neighbours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Individuals {
    /// Their mean.
    pub centre: f64,
    /// Mean of the differences of neighbours, without sign.
    pub mean_range: f64,
    /// Mean of their squares.
    pub mean_square: f64,
}

impl Individuals {
    /// `None` for fewer than two values.
    pub fn of(values: &[f64]) -> Option<Self> {
        if values.len() < 2 {
            return None;
        }
        let ranges = values.windows(2).map(|pair| match pair {
            [a, b] => (b - a).abs(),
            _ => 0.0,
        });
        let pairs = count(values.len() - 1);
        Some(Self {
            centre: values.iter().sum::<f64>() / count(values.len()),
            mean_range: ranges.clone().sum::<f64>() / pairs,
            mean_square: ranges.map(|range| range * range).sum::<f64>() / pairs,
        })
    }

    /// Standard deviation from one value to the next, for normal values.
    pub fn deviation(&self) -> f64 {
        self.mean_range / D2
    }

    /// The same for values that only come in steps: never less than half their mean square tells,
    /// which is the variance whatever the distribution (von Neumann and others, Ann. Math. Stat. 12
    /// (1941) 153). Of a gap that mostly gives one reading and sometimes the next, the mean range
    /// alone would see half the scatter.
    pub fn deviation_in_steps(&self) -> f64 {
        self.deviation().max((0.5 * self.mean_square).sqrt())
    }

    /// The largest difference of neighbours that chance makes of normal values of this deviation.
    pub fn range_limit(deviation: f64) -> f64 {
        D4 * D2 * deviation
    }

    /// Three standard deviations either way of the centre.
    pub fn limits(&self) -> (f64, f64) {
        let reach = 3.0 * self.deviation();
        (self.centre - reach, self.centre + reach)
    }
}
