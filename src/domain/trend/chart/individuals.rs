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
        Some(Self {
            centre: values.iter().sum::<f64>() / count(values.len()),
            mean_range: ranges.sum::<f64>() / count(values.len() - 1),
        })
    }

    /// Standard deviation from one value to the next.
    pub fn deviation(&self) -> f64 {
        self.mean_range / D2
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
