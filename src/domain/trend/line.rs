//! Sums over points, for a first guess at a line through them.

use crate::domain::trend::count;

/// Sums of a set of points about their own centre.
///
/// The points are first moved so that the first one is the origin: equal hours then give a spread
/// of exactly zero, and large hour-meter values cost no digits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Moments {
    /// How many points.
    pub(crate) n: usize,
    /// Mean of x.
    pub(crate) mean_x: f64,
    /// Mean of y.
    pub(crate) mean_y: f64,
    /// Σ(x − x̄)².
    pub(crate) sxx: f64,
    /// Σ(x − x̄)(y − ȳ).
    pub(crate) sxy: f64,
}

impl Moments {
    /// `None` if there is no point.
    pub(crate) fn of(points: impl Iterator<Item = (f64, f64)> + Clone) -> Option<Self> {
        let (x0, y0) = points.clone().next()?;
        let moved = points.map(|(x, y)| (x - x0, y - y0));
        let (mut n, mut sum_x, mut sum_y) = (0, 0.0, 0.0);
        for (x, y) in moved.clone() {
            n += 1;
            sum_x += x;
            sum_y += y;
        }
        let (mean_x, mean_y) = (sum_x / count(n), sum_y / count(n));
        let (mut sxx, mut sxy) = (0.0, 0.0);
        for (x, y) in moved {
            let (dx, dy) = (x - mean_x, y - mean_y);
            sxx += dx * dx;
            sxy += dx * dy;
        }
        Some(Self { n, mean_x: x0 + mean_x, mean_y: y0 + mean_y, sxx, sxy })
    }

    /// Σ of the squared residuals about the line with this slope through the centre.
    ///
    /// Summed from the residuals themselves: Syy − b·Sxy would cancel when the line fits well.
    pub(crate) fn residual_squares(
        &self,
        slope: f64,
        points: impl Iterator<Item = (f64, f64)>,
    ) -> f64 {
        points
            .map(|(x, y)| {
                let residual = (y - self.mean_y) - slope * (x - self.mean_x);
                residual * residual
            })
            .sum()
    }
}
