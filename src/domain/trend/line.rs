//! A straight line through points by least squares.

use crate::domain::trend::{Mean, count};

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
    /// Σ(y − ȳ)².
    pub(crate) syy: f64,
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
        let (mut sxx, mut sxy, mut syy) = (0.0, 0.0, 0.0);
        for (x, y) in moved {
            let (dx, dy) = (x - mean_x, y - mean_y);
            sxx += dx * dx;
            sxy += dx * dy;
            syy += dy * dy;
        }
        Some(Self { n, mean_x: x0 + mean_x, mean_y: y0 + mean_y, sxx, sxy, syy })
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

/// A straight line y = intercept + slope·x fitted by ordinary least squares.
///
/// *Estimates* the mean of y at x. *Assumes* independent errors of equal size in y and none in x.
/// *Stops being valid* beyond the range of x by more than its own length. *Reference:* Draper and
/// Smith, Applied Regression Analysis, 3rd ed. 1998, chapter 1; checked against NIST `StRD` Norris.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeastSquares {
    /// Where the line meets x = 0.
    pub intercept: f64,
    /// Its slope.
    pub slope: f64,
    /// Standard error of the intercept.
    pub intercept_se: f64,
    /// Standard error of the slope.
    pub slope_se: f64,
    /// Covariance of intercept and slope.
    pub covariance: f64,
    /// Standard deviation of the residuals.
    pub residual_sd: f64,
    /// Share of the variation that the line explains.
    pub r_squared: f64,
    /// Points less the two parameters.
    pub dof: usize,
    /// The fitted mean with its uncertainty, about the centre of the points.
    pub mean: Mean,
}

impl LeastSquares {
    /// Fits a line through at least three points at two or more different x.
    ///
    /// `None` if there are fewer, or if a number is not finite or too large to square.
    pub fn fit(points: &[(f64, f64)]) -> Option<Self> {
        let each = points.iter().copied();
        let dof = points.len().checked_sub(2).filter(|dof| 0 < *dof)?;
        let moments = Moments::of(each.clone())?;
        if moments.sxx <= 0.0 {
            return None;
        }
        let slope = moments.sxy / moments.sxx;
        let rss = moments.residual_squares(slope, each);
        let variance = rss / count(dof);
        let mean = Mean::about_centre(&moments, slope, variance, moments.sxx);
        let r_squared = if moments.syy > 0.0 { 1.0 - rss / moments.syy } else { 1.0 };
        let fit = Self {
            intercept: mean.at(0.0),
            slope,
            intercept_se: mean.se_at(0.0),
            slope_se: mean.rate_var.sqrt(),
            covariance: -moments.mean_x * mean.rate_var,
            residual_sd: variance.sqrt(),
            r_squared,
            dof,
            mean,
        };
        [fit.intercept, fit.slope, fit.intercept_se, fit.covariance, fit.residual_sd, r_squared]
            .iter()
            .all(|number| number.is_finite())
            .then_some(fit)
    }
}

#[test]
fn a_line_by_hand() {
    // Through (0,1) (1,3) (2,2): x̄ 1, ȳ 2, Sxx 2, Sxy 1, so slope ½ and intercept 1.5;
    // residuals −½, 1, −½, so RSS 1.5 with one degree of freedom.
    let fit = LeastSquares::fit(&[(0.0, 1.0), (1.0, 3.0), (2.0, 2.0)]).unwrap();
    assert_eq!((fit.slope, fit.intercept, fit.dof), (0.5, 1.5, 1));
    assert!((fit.residual_sd - 1.5_f64.sqrt()).abs() < 1e-15);
    assert!((fit.slope_se - 0.75_f64.sqrt()).abs() < 1e-15);
    assert!((fit.r_squared - 0.25).abs() < 1e-15);
    assert_eq!(LeastSquares::fit(&[(0.0, 1.0), (1.0, 3.0)]), None, "no scatter can be estimated");
    assert_eq!(LeastSquares::fit(&[(0.1, 1.0), (0.1, 3.0), (0.1, 2.0)]), None, "one hour only");
    assert_eq!(LeastSquares::fit(&[(0.0, f64::NAN), (1.0, 3.0), (2.0, 2.0)]), None);
    assert_eq!(LeastSquares::fit(&[(0.0, 1e200), (1.0, 3.0), (2.0, 2.0)]), None);
}
