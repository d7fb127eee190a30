//! Student's t: probabilities and quantiles.
//!
//! The special functions come from `puruspe`, which panics on arguments outside its domain; every
//! door here checks first and answers `None` instead.

use crate::domain::statistics::{normal_cdf, normal_quantile};
use puruspe::{betai, invbetai, ln_gamma};
use std::f64::consts::PI;

/// From so many degrees of freedom on, t is the normal distribution to more digits than the
/// incomplete beta function keeps there.
const NORMAL_FROM: f64 = 1e8;

/// P(T ≤ t) for Student's t with `dof` degrees of freedom, which need not be whole.
///
/// `None` if `t` is NaN or `dof` is not a positive finite number.
///
/// By the incomplete beta function: P(|T| > t) = I(ν/(ν+t²); ν/2, ½). *Reference:* NIST DLMF 8.17.
pub fn t_cdf(t: f64, dof: f64) -> Option<f64> {
    if t.is_nan() || !(dof > 0.0 && dof.is_finite()) {
        return None;
    }
    if NORMAL_FROM <= dof {
        return Some(normal_cdf(t));
    }
    let tail = upper_tail(t.abs(), dof);
    Some(if t < 0.0 { tail } else { 1.0 - tail })
}

/// The t below which a share `p` lies, for Student's t with `dof` degrees of freedom.
///
/// `None` unless 0 < p < 1 and `dof` is a positive finite number.
pub fn t_quantile(p: f64, dof: f64) -> Option<f64> {
    if !(0.0 < p && p < 1.0 && dof > 0.0 && dof.is_finite()) {
        return None;
    }
    if NORMAL_FROM <= dof {
        return normal_quantile(p);
    }
    let tail = p.min(1.0 - p);
    // A start good to about eight digits, then Newton on the tail itself.
    let share = invbetai(2.0 * tail, dof / 2.0, 0.5);
    let mut t = (dof * (1.0 - share) / share).max(0.0).sqrt();
    for _ in 0..6 {
        let step = (upper_tail(t, dof) - tail) / t_density(t, dof);
        if !step.is_finite() {
            break;
        }
        t = (t + step).max(0.0);
        if step.abs() <= 1e-15 * t {
            break;
        }
    }
    t.is_finite().then_some(if p < 0.5 { -t } else { t })
}

/// ∫ P(T ≤ s) ds up to `t`, but for a constant: differences of it are shares of a box that is blurred
/// by t as a normal distribution would blur it.
///
/// t·F(t) + (ν + t²)/(ν − 1)·f(t), and t·F(t) − ln(1 + t²)/2π for one degree of freedom. `None`
/// unless `dof` is finite and at least 1. *Reference:* integration by parts, with
/// ∫ s·f(s) ds = −(ν + s²)/(ν − 1)·f(s).
pub fn t_shares_below(t: f64, dof: f64) -> Option<f64> {
    let share = t_cdf(t, dof).filter(|_| 1.0 <= dof)?;
    let rest = if dof <= 1.0 {
        -(t * t).ln_1p() / (2.0 * PI)
    } else {
        (dof + t * t) / (dof - 1.0) * t_density(t, dof)
    };
    Some(t.mul_add(share, rest))
}

/// How fast the density falls at `t`: f′(t) = −f(t)·t·(ν + 1)/(ν + t²).
pub fn t_slope(t: f64, dof: f64) -> f64 {
    -t_density(t, dof) * t * (dof + 1.0) / (dof + t * t)
}

/// P(T > t) for t ≥ 0.
fn upper_tail(t: f64, dof: f64) -> f64 {
    let square = t * t;
    if square.is_infinite() {
        return 0.0;
    }
    // The smaller of the two shares keeps its digits, so ask the function about that one.
    if square < dof {
        0.5 - 0.5 * betai(0.5, dof / 2.0, square / (dof + square))
    } else {
        0.5 * betai(dof / 2.0, 0.5, dof / (dof + square))
    }
}

fn t_density(t: f64, dof: f64) -> f64 {
    let scale = ln_gamma(f64::midpoint(dof, 1.0)) - ln_gamma(dof / 2.0) - 0.5 * (dof * PI).ln();
    (scale - f64::midpoint(dof, 1.0) * (t * t / dof).ln_1p()).exp()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn close(value: Option<f64>, expected: f64, relative: f64) {
        let value = value.unwrap();
        assert!((value / expected - 1.0).abs() <= relative, "{value} is not {expected}");
    }

    /// Two-sided 95 % and 99 % factors, recomputed to 40 digits with mpmath; rounded they are the
    /// cells of NIST TN 1297, Table B.1 (= GUM, Table G.2). The logarithm of the gamma function
    /// limits us to eleven digits.
    #[test]
    fn student_quantiles_are_those_of_the_tables() {
        for (dof, t) in [
            (1.0, 12.706_204_736_174_705),
            (2.0, 4.302_652_729_749_464),
            (3.0, 3.182_446_305_283_71),
            (4.0, 2.776_445_105_197_794),
            (5.0, 2.570_581_835_636_316),
            (9.0, 2.262_157_162_798_206),
            (16.0, 2.119_905_299_221_255),
            (20.0, 2.085_963_447_265_865),
            (34.0, 2.032_244_509_317_719),
            (100.0, 1.983_971_518_523_552),
            (1000.0, 1.962_339_080_826_408),
            (25.447_250_777_4, 2.057_704_681_782_677),
            (16.75, 2.112_216_902_315_132),
        ] {
            close(t_quantile(0.975, dof), t, 1e-11);
            close(t_quantile(0.025, dof), -t, 1e-11);
            close(t_cdf(t, dof), 0.975, 1e-11);
        }
        close(t_quantile(0.995, 16.0), 2.920_781_622_425_1, 1e-11);
        close(t_quantile(0.995, 34.0), 2.728_394_367_070_72, 1e-11);
        assert_eq!(t_quantile(0.5, 7.0).map(f64::abs), Some(0.0));
    }

    #[test]
    fn nonsense_is_refused_and_never_panics() {
        for p in [-1.0, 0.0, 1.0, 2.0, f64::NAN] {
            assert_eq!(t_quantile(p, 5.0), None, "{p}");
        }
        for dof in [0.0, -3.0, f64::NAN, f64::INFINITY] {
            assert_eq!((t_quantile(0.9, dof), t_cdf(1.0, dof)), (None, None), "{dof}");
        }
        assert_eq!(t_cdf(f64::INFINITY, 5.0), Some(1.0));
    }
}
