//! Variances and their ratios: the χ² and F distributions.

use puruspe::{betai, gammq, invgammp};

/// P(F > f) with `over` and `under` degrees of freedom.
///
/// `None` unless f is a number not below zero and both are positive and finite. By the incomplete
/// beta function. *Reference:* NIST DLMF 8.17.
pub fn f_beyond(f: f64, over: f64, under: f64) -> Option<f64> {
    let usable = |dof: f64| 0.0 < dof && dof.is_finite();
    if !(0.0 <= f && f.is_finite() && usable(over) && usable(under)) {
        return None;
    }
    // The smaller share keeps its digits, so ask the function about that one.
    let tail = if over * f < under {
        1.0 - betai(over / 2.0, under / 2.0, over * f / (under + over * f))
    } else {
        betai(under / 2.0, over / 2.0, under / (under + over * f))
    };
    Some(tail.clamp(0.0, 1.0))
}

/// P(χ² > x) with `dof` degrees of freedom; `None` unless x is a number not below zero and `dof`
/// is positive and finite. By the incomplete gamma function. *Reference:* NIST DLMF 8.2.
pub fn chi2_beyond(x: f64, dof: f64) -> Option<f64> {
    let usable = 0.0 <= x && x.is_finite() && 0.0 < dof && dof.is_finite();
    usable.then(|| gammq(dof / 2.0, x / 2.0).clamp(0.0, 1.0))
}

/// The value below which a share `p` of χ² with `dof` degrees of freedom lies; `None` unless
/// 0 < p < 1 and `dof` is positive and finite.
pub fn chi2_quantile(p: f64, dof: f64) -> Option<f64> {
    let usable = 0.0 < p && p < 1.0 && 0.0 < dof && dof.is_finite();
    usable.then(|| 2.0 * invgammp(p, dof / 2.0)).filter(|it| it.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn close(value: Option<f64>, expected: f64, relative: f64) {
        let value = value.unwrap();
        assert!((value / expected - 1.0).abs() <= relative, "{value} is not {expected}");
    }

    /// 95 % points of F and χ², recomputed with scipy and mpmath; rounded they are in every table.
    #[test]
    fn tails_are_those_of_the_tables() {
        close(f_beyond(3.150_411_310_582_728, 2.0, 60.0), 0.05, 1e-9);
        close(f_beyond(2.456_281_149_159_266, 9.0, 18.0), 0.05, 1e-9);
        close(f_beyond(1.778_446_085_327_736, 18.0, 60.0), 0.05, 1e-9);
        close(f_beyond(4.130_017_745_652_016, 1.0, 34.0), 0.05, 1e-9);
        close(f_beyond(0.0, 3.0, 7.0), 1.0, 0.0);
        close(chi2_beyond(3.841_458_820_694_126, 1.0), 0.05, 1e-9);
        close(chi2_beyond(11.070_497_693_516_354, 5.0), 0.05, 1e-9);
        close(chi2_quantile(0.95, 5.0), 11.070_497_693_516_354, 1e-9);
        close(chi2_quantile(0.975, 30.0), 46.979_242_243_671_16, 1e-9);
        close(chi2_quantile(0.025, 1.0), 9.820_691e-4, 1e-6);
        close(chi2_quantile(0.025, 100.0), 74.221_927_475, 1e-9);
    }

    #[test]
    fn nonsense_is_refused_and_never_panics() {
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            assert_eq!((f_beyond(bad, 2.0, 3.0), f_beyond(1.0, bad, 3.0)), (None, None));
            assert_eq!((chi2_quantile(bad, 3.0), chi2_quantile(0.5, bad)), (None, None));
        }
        assert_eq!((f_beyond(1.0, 2.0, 0.0), chi2_quantile(0.0, 3.0)), (None, None));
    }
}
