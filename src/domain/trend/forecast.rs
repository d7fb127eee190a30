//! When a growing mean meets a limit, and how sure that is.

/// A straight mean level + rate·(x − centre) with the variances of its two numbers.
///
/// Whatever likelihood gave them, forecasts need nothing else.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mean {
    /// The x at which `level` is taken.
    pub centre: f64,
    /// The mean there.
    pub level: f64,
    /// Its growth per unit of x.
    pub rate: f64,
    /// Variance of `level`.
    pub level_var: f64,
    /// Covariance of `level` and `rate`; zero for least squares about the centre of its points.
    pub covariance: f64,
    /// Variance of `rate`.
    pub rate_var: f64,
}

/// Which way a limit is met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// From below: a maximum.
    Up,
    /// From above: a minimum.
    Down,
}

/// Which ends of an interval exist.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bounded {
    /// Both.
    Both,
    /// Only the lower: so long at least, and nothing says when.
    Low,
    /// Neither: the readings do not tell.
    None,
}

/// Where a mean meets a limit, on the x axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Where the mean itself meets it; `None` if it does not move towards it.
    pub estimate: Option<f64>,
    /// The lower end of the interval, if there is one.
    pub low: Option<f64>,
    /// The upper end, if there is one.
    pub high: Option<f64>,
}

impl Mean {
    /// The mean at `x`.
    pub fn at(&self, x: f64) -> f64 {
        self.level + self.rate * (x - self.centre)
    }

    /// Standard error of the mean at `x`.
    pub fn se_at(&self, x: f64) -> f64 {
        let d = x - self.centre;
        (self.level_var + 2.0 * d * self.covariance + d * d * self.rate_var).max(0.0).sqrt()
    }

    /// The same with the scatter of a single reading about it.
    pub fn with_scatter(&self, spread: f64) -> Self {
        Self { level_var: self.level_var + spread * spread, ..*self }
    }

    /// The x at which the mean is farthest from `limit` in standard errors.
    pub(crate) fn least_believable(&self, limit: f64) -> f64 {
        // About the x where level and rate are uncorrelated.
        let shift = -self.covariance / self.rate_var;
        let level_var = self.level_var - self.covariance * self.covariance / self.rate_var;
        let rise = limit - self.at(self.centre + shift);
        self.centre + shift - self.rate * level_var / (rise * self.rate_var)
    }

    /// Where the mean meets `limit`, seen from `now`, with the interval of all x whose mean is
    /// compatible with the limit when `factor` standard errors are allowed.
    ///
    /// *Estimates* the x at which the true line meets the limit ("regulation": the line, not a
    /// single reading). The interval is Fieller's: (y₀ − level − rate·d)² = factor²·var(d) solved
    /// for d = x − centre. *Assumes* level and rate normal with these variances and the growth
    /// going on as it did. *Stops being finite* when the rate differs from zero by no more than
    /// `factor` of its standard errors: then only a lower end, or nothing, can be given.
    /// *Reference:* Fieller, J. R. Stat. Soc. B 16 (1954) 175; Graybill and Iyer, Regression
    /// Analysis, 1994, p. 434.
    pub fn meets(&self, limit: f64, reach: Reach, now: f64, factor: f64) -> Crossing {
        let towards = match reach {
            Reach::Up => self.rate,
            Reach::Down => -self.rate,
        };
        let rise = limit - self.level;
        let estimate = (towards > 0.0).then(|| self.centre + rise / self.rate);
        let square = factor * factor;
        let a = self.rate * self.rate - square * self.rate_var;
        let b = self.rate * rise + square * self.covariance;
        let c = rise * rise - square * self.level_var;
        let ends = roots(a, b, c).map(|(low, high)| (self.centre + low, self.centre + high));
        let (low, high) = match (ends, estimate) {
            (Some((low, high)), Some(_)) if a > 0.0 => (Some(low), Some(high)),
            // Between the two ends the limit is out of reach: what lies ahead starts at the upper.
            (Some((_, ahead)), Some(estimate)) if a < 0.0 && ahead <= estimate => {
                (Some(ahead), None)
            }
            // Not growing towards it, but perhaps growing: not before `ahead`, if that is ahead.
            (Some((behind, ahead)), None) if a < 0.0 && behind <= now && now <= ahead => {
                (Some(ahead), None)
            }
            _ => (None, None),
        };
        let finite = |end: &f64| end.is_finite();
        Crossing {
            estimate: estimate.filter(finite),
            low: low.filter(finite),
            high: high.filter(finite),
        }
    }
}

impl Crossing {
    /// The same with its ends moved apart until they hold a range that is known exactly, whose last
    /// end may be missing.
    pub(crate) fn holding(self, exact: Option<(f64, Option<f64>)>) -> Self {
        let Some((first, last)) = exact else { return self };
        Self {
            low: self.low.map(|low| low.min(first)),
            high: self.high.zip(last).map(|(high, last)| high.max(last)),
            ..self
        }
    }

    /// Which ends exist.
    pub const fn bounded(&self) -> Bounded {
        match (self.low, self.high) {
            (Some(_), Some(_)) => Bounded::Both,
            (Some(_), None) => Bounded::Low,
            (None, _) => Bounded::None,
        }
    }
}

/// The roots of a·d² − 2b·d + c, lower first; `None` if there are none or no quadratic.
fn roots(a: f64, b: f64, c: f64) -> Option<(f64, f64)> {
    // With a > 0 the estimate lies between the roots, so a negative discriminant is rounding.
    let inside = b * b - a * c;
    let inside = if a > 0.0 { inside.max(0.0) } else { inside };
    if inside.is_nan() || inside < 0.0 || a.abs() < f64::MIN_POSITIVE {
        return None;
    }
    // One root by the sum of equal signs, the other from their product: nothing cancels.
    let sum = b + inside.sqrt().copysign(b);
    let first = sum / a;
    let second = if sum.abs() < f64::MIN_POSITIVE { first } else { c / sum };
    Some((first.min(second), first.max(second)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        statistics::t_quantile,
        trend::{Observation, Segmented, count},
    };

    /// Exact readings; with those the fit is ordinary least squares.
    fn line(points: &[(f64, f64)]) -> (Mean, usize) {
        let exact = |&(x, y): &(f64, f64)| Observation {
            x,
            low: Some(y),
            high: Some(y),
            segment: 0,
            edge_age: None,
        };
        let points: Vec<Observation> = points.iter().map(exact).collect();
        let fit = Segmented::fit(&points).unwrap();
        (fit.segments[0].mean, fit.dof)
    }

    fn factor(confidence: f64, dof: usize) -> f64 {
        t_quantile(f64::midpoint(1.0, confidence), count(dof)).unwrap()
    }

    /// Five points on a nearly level line: the slope is far from significant (g = 496), so
    /// Fieller's set is the whole line or two rays. Recomputed by closed form and root finding.
    #[test]
    fn an_uncertain_rate_gives_no_finite_interval() {
        let (flat, dof) = line(&[(0.0, 1.0), (1.0, 1.3), (2.0, 0.8), (3.0, 1.2), (4.0, 1.1)]);
        let t = factor(0.95, dof);
        let near = flat.meets(1.2, Reach::Up, 4.0, t);
        assert_eq!(near.bounded(), Bounded::None, "1.2 is compatible with every hour");
        let far = flat.meets(3.0, Reach::Up, 4.0, t);
        assert_eq!((far.bounded(), far.high), (Bounded::Low, None));
        assert!((far.low.unwrap() / 10.131_624_888_391 - 1.0).abs() < 1e-12);
        let down = flat.meets(-1.0, Reach::Down, 4.0, t);
        assert_eq!(down.estimate, None, "it grows, so it never shrinks to the minimum");
        assert!(4.0 < down.low.unwrap(), "but it might, later than this");
    }

    #[test]
    fn a_limit_on_the_other_side_is_never_met() {
        let (up, dof) = line(&[(0.0, 0.40), (10.0, 0.45), (20.0, 0.50), (30.0, 0.551)]);
        let t = factor(0.80, dof);
        let max = up.meets(1.25, Reach::Up, 30.0, t);
        assert!(30.0 < max.low.unwrap() && max.low < max.estimate && max.estimate < max.high);
        let min = up.meets(0.20, Reach::Down, 30.0, t);
        assert_eq!(min, Crossing { estimate: None, low: None, high: None });
    }
}
