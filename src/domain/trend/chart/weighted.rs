//! The exponentially weighted moving average: slow to excite, quick to see a small shift.

/// Walks values and gives the average after each, with its standard deviation in units of theirs.
///
/// zᵢ = λ·xᵢ + (1 − λ)·zᵢ₋₁; its variance is λ/(2 − λ)·(1 − (1 − λ)²ⁱ) of theirs.
/// *Reference:* NIST/SEMATECH e-Handbook, 6.3.2.4; Roberts, Technometrics 1 (1959) 239.
#[derive(Clone, Debug)]
pub struct Weighted<I> {
    weight: f64,
    average: f64,
    /// (1 − λ)²ⁱ.
    left: f64,
    values: I,
}

impl<I: Iterator<Item = f64>> Weighted<I> {
    /// With weight 0 < λ ≤ 1 of the newest, beginning at `start`.
    pub fn of(weight: f64, start: f64, values: impl IntoIterator<IntoIter = I>) -> Self {
        Self { weight, average: start, left: 1.0, values: values.into_iter() }
    }
}

impl<I: Iterator<Item = f64>> Iterator for Weighted<I> {
    type Item = (f64, f64);

    fn next(&mut self) -> Option<Self::Item> {
        let value = self.values.next()?;
        self.average += self.weight * (value - self.average);
        self.left *= (1.0 - self.weight) * (1.0 - self.weight);
        Some((self.average, settled_deviation(self.weight) * (1.0 - self.left).sqrt()))
    }
}

/// The average's standard deviation after many values, in units of theirs: √(λ/(2 − λ)).
pub fn settled_deviation(weight: f64) -> f64 {
    (weight / (2.0 - weight)).sqrt()
}
