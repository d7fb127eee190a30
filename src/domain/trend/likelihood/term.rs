//! What one reading says about a line: the logarithm of its probability and how that bends.
//!
//! Knows one bracket, one mean and one scatter. The logarithm keeps its digits far out in the
//! tails, where the probability itself has long been rounded to zero.

use puruspe::erfcx;
use std::f64::consts::FRAC_1_SQRT_2;

/// ln √(2π).
const LN_SQRT_2PI: f64 = 0.918_938_533_204_672_8;
/// 1/√(2π).
const INV_SQRT_2PI: f64 = 0.398_942_280_401_432_7;
/// Below this, width times distance in units of the scatter, a difference of two normal
/// distribution functions loses digits and its series about the middle does not.
const NARROW: f64 = 0.1;

/// One reading's share of the log-likelihood, with its slopes in Olsen's parameters.
///
/// θ = 1/σ and η = θ·mean, in which the log-likelihood is concave for brackets, open ends and
/// exact readings alike: Olsen, Econometrica 46 (1978) 1211; Burridge, J. R. Stat. Soc. B 43
/// (1981) 41.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Term {
    /// ln of the probability of the bracket; of an exact reading its density.
    pub(crate) value: f64,
    pub(crate) eta: f64,
    pub(crate) theta: f64,
    pub(crate) eta_eta: f64,
    pub(crate) eta_theta: f64,
    pub(crate) theta_theta: f64,
}

impl Term {
    /// The share of a reading between `lo` and `hi`, either of which may be infinite; equal ends
    /// are an exact reading.
    pub(crate) fn of(lo: f64, hi: f64, eta: f64, theta: f64) -> Self {
        let (width, middle) = (hi - lo, f64::midpoint(lo, hi));
        if width <= 0.0 {
            return Self::exact(middle, eta, theta);
        }
        let (u, v) = (theta * lo - eta, theta * hi - eta);
        if !width.is_finite() {
            return if lo.is_finite() {
                let (value, b) = lower_tail(-u);
                Self::of_ends(value, [(lo, u, b), (0.0, 0.0, 0.0)])
            } else {
                let (value, b) = lower_tail(v);
                Self::of_ends(value, [(0.0, 0.0, 0.0), (hi, v, b)])
            };
        }
        if (v - u) * u.abs().max(v.abs()).max(1.0) < NARROW {
            return Self::narrow(middle, width, eta, theta);
        }
        let (value, a, b) = between(u, v);
        Self::of_ends(value, [(lo, u, a), (hi, v, b)])
    }

    /// From both ends, each with its place, its z and the density there over the probability.
    fn of_ends(value: f64, [(lo, u, a), (hi, v, b)]: [(f64, f64, f64); 2]) -> Self {
        let (uu, uv, vv) = (u * a - a * a, a * b, -v * b - b * b);
        Self {
            value,
            eta: a - b,
            theta: hi * b - lo * a,
            eta_eta: uu + 2.0 * uv + vv,
            eta_theta: -(lo * uu + (lo + hi) * uv + hi * vv),
            theta_theta: lo * lo * uu + 2.0 * lo * hi * uv + hi * hi * vv,
        }
    }

    fn exact(y: f64, eta: f64, theta: f64) -> Self {
        let m = theta * y - eta;
        Self {
            value: theta.ln() - 0.5 * m * m - LN_SQRT_2PI,
            eta: m,
            theta: 1.0 / theta - m * y,
            eta_eta: -1.0,
            eta_theta: y,
            theta_theta: -1.0 / (theta * theta) - y * y,
        }
    }

    /// P = w·φ(m)·(1 + w²(m²−1)/24 + w⁴(m⁴−6m²+3)/1920 + …): the density at the middle, with
    /// Hermite polynomials for its bending over the width.
    fn narrow(middle: f64, width: f64, eta: f64, theta: f64) -> Self {
        let (m, w) = (theta * middle - eta, theta * width);
        let (m2, w2) = (m * m, w * w);
        let (h2, h3) = (m2 - 1.0, m * (m2 - 3.0));
        let h4 = m2 * m2 - 6.0 * m2 + 3.0;
        let h5 = m * (m2 * m2 - 10.0 * m2 + 15.0);
        let h6 = m2 * m2 * m2 - 15.0 * m2 * m2 + 45.0 * m2 - 15.0;
        let (c2, c4, c6) = (1.0 / 24.0, 1.0 / 1_920.0, 1.0 / 322_560.0);
        let bend = w2 * (h2 * c2 + w2 * (h4 * c4 + w2 * h6 * c6));
        let s = 1.0 + bend;
        let s_m = w2 * (2.0 * m * c2 + w2 * (4.0 * h3 * c4 + w2 * 6.0 * h5 * c6)) / s;
        let s_w = w * (2.0 * h2 * c2 + w2 * (4.0 * h4 * c4 + w2 * 6.0 * h6 * c6)) / s;
        let s_mm = w2 * (2.0 * c2 + w2 * (12.0 * h2 * c4 + w2 * 30.0 * h4 * c6)) / s;
        let s_mw = w * (4.0 * m * c2 + w2 * (16.0 * h3 * c4 + w2 * 36.0 * h5 * c6)) / s;
        let s_ww = (2.0 * h2 * c2 + w2 * (12.0 * h4 * c4 + w2 * 30.0 * h6 * c6)) / s;
        let (l_m, l_w) = (s_m - m, 1.0 / w + s_w);
        let (l_mm, l_mw) = (s_mm - s_m * s_m - 1.0, s_mw - s_m * s_w);
        let l_ww = s_ww - s_w * s_w - 1.0 / w2;
        Self {
            value: w.ln() - 0.5 * m2 - LN_SQRT_2PI + bend.ln_1p(),
            eta: -l_m,
            theta: middle * l_m + width * l_w,
            eta_eta: l_mm,
            eta_theta: -(middle * l_mm + width * l_mw),
            theta_theta: middle * middle * l_mm
                + 2.0 * middle * width * l_mw
                + width * width * l_ww,
        }
    }
}

/// ½·erfcx(x/√2), so that the share above x is e^(−x²/2) times it.
fn scaled_tail(x: f64) -> f64 {
    0.5 * erfcx(x * FRAC_1_SQRT_2)
}

/// ln Φ(z) with φ(z)/Φ(z).
pub(crate) fn lower_tail(z: f64) -> (f64, f64) {
    let square = -0.5 * z * z;
    if z < 0.0 {
        let tail = scaled_tail(-z);
        (square + tail.ln(), INV_SQRT_2PI / tail)
    } else {
        let density = square.exp();
        let above = density * scaled_tail(z);
        ((-above).ln_1p(), INV_SQRT_2PI * density / (1.0 - above))
    }
}

/// ln(Φ(v) − Φ(u)) with φ(u) and φ(v) over the difference, for u < v.
fn between(u: f64, v: f64) -> (f64, f64, f64) {
    // The normal density is even: look at the side where both tails are small.
    if u + v < 0.0 {
        let (value, a, b) = between(-v, -u);
        return (value, b, a);
    }
    if u > 0.0 {
        let fall = (-0.5 * (v - u) * (v + u)).exp();
        let share = scaled_tail(u) - fall * scaled_tail(v);
        let a = INV_SQRT_2PI / share;
        return (share.ln() - 0.5 * u * u, a, a * fall);
    }
    let (at_u, at_v) = ((-0.5 * u * u).exp(), (-0.5 * v * v).exp());
    let outside = at_u * scaled_tail(-u) + at_v * scaled_tail(v);
    let share = INV_SQRT_2PI / (1.0 - outside);
    ((-outside).ln_1p(), share * at_u, share * at_v)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn close(what: &str, value: f64, expected: f64, tolerance: f64) {
        let scale = expected.abs().max(1.0);
        assert!((value - expected).abs() <= tolerance * scale, "{what}: {value} is not {expected}");
    }

    /// From the definition with 500 digits (mpmath), at η = 0 and θ = 1: around the mean, far out
    /// on either side, narrow and wide.
    #[test]
    #[rustfmt::skip]
    fn a_bracket_keeps_its_digits_wherever_it_lies() {
        for (lo, hi, value, eta, theta, eta_eta, eta_theta, theta_theta) in [
            (-0.3, 0.9, -0.835_053_437_598_337_5, 0.265_765_174_383_491_2, 0.815_701_306_237_560_5, -0.886_332_434_152_648, 0.200_879_186_761_926_9, -1.136_206_485_677_2),
            (-8.0, -7.5, -31.095_579_450_839_754, -7.619_175_649_736_937, -57.063_076_169_941, -0.988_761_411_603_278_9, -7.446_458_803_229_287, -56.408_536_599_974_76),
            (39.9, 40.0, -800.629_474_160_121_5, 39.923_161_943_563_5, -1_592.859_295_101_679, -0.999_564_470_317_367_8, 39.888_374_957_904_67, -1_592.080_760_021_669),
            (-40.0, -30.0, -454.321_243_956_343_2, -30.033_259_667_433_68, -900.997_790_023_010_3, -0.998_896_228_488_109_9, -29.966_886_854_643_3, -899.006_605_639_298_9),
            (1.0, 1.01, -6.029_121_177_432_557, 1.004_991_625_042_015, -0.010_016_499_668_061_31, -0.999_991_666_736_528_2, 1.004_974_875_238_269, -2.009_982_832_619_202),
            (10.0, 10.005, -56.242_155_849_921_5, 10.002_479_162_344_35, -99.049_591_476_204_04, -0.999_997_916_928_923_1, 10.002_437_490_542_19, -101.048_757_832_493),
            (-0.001, 0.001, -7.133_546_798_293_52, 0.0, 0.999_999_666_666_711_1, -0.999_999_666_666_711_1, 0.0, -1.000_000_333_333_2),
            (-1.0e-5, 2.0e-5, -11.333_251_709_556_79, 4.999_999_999_625e-6, 0.999_999_999_9, -0.999_999_999_925, 4.999_999_998_875e-6, -1.000_000_000_1),
            (0.5, 60.0, -1.175_911_761_593_618_5, 1.141_077_770_368_064, -0.570_538_885_184_032_2, -0.731_519_592_844_121, 0.365_759_796_422_060_5, -0.182_879_898_211_030_3),
            (37.0, 38.5, -689.030_585_576_890_6, 37.026_987_686_126_99, -1_369.998_544_386_699, -0.999_272_721_901_122_5, 36.973_090_710_341_53, -1_368.004_356_282_637),
        ] {
            let term = Term::of(lo, hi, 0.0, 1.0);
            let what = format!("{lo} to {hi}");
            close(&what, term.value, value, 1e-14);
            close(&what, term.eta, eta, 1e-12);
            close(&what, term.theta, theta, 1e-12);
            close(&what, term.eta_eta, eta_eta, 1e-9);
            close(&what, term.eta_theta, eta_theta, 1e-9);
            close(&what, term.theta_theta, theta_theta, 1e-9);
        }
    }

    /// ln Φ(−40), ln Φ(−5), ln Φ(0), ln Φ(3) with 500 digits.
    #[test]
    fn an_open_end_keeps_its_digits() {
        for (z, value, share) in [
            (-40.0, -804.608_442_013_753_8, 40.024_968_847_207_26),
            (-5.0, -15.064_998_393_988_725, 5.186_503_967_125_842),
            (0.0, -std::f64::consts::LN_2, 0.797_884_560_802_865_4),
            (3.0, -0.001_350_809_964_748_193_8, 0.004_437_839_042_125_664),
        ] {
            let below = Term::of(f64::NEG_INFINITY, z, 0.0, 1.0);
            let above = Term::of(-z, f64::INFINITY, 0.0, 1.0);
            for term in [below, above] {
                close("ln Φ", term.value, value, 1e-15);
                close("φ/Φ", term.eta.abs(), share, 1e-14);
            }
        }
    }

    proptest! {
        /// The slopes are those of the value: central differences of the slopes below them.
        #[test]
        fn each_slope_is_the_change_of_the_one_before(
            lo in -3.0..3.0_f64, width in 1e-4..4.0_f64, eta in -3.0..3.0_f64,
            theta in 0.2..3.0_f64, kind in 0..4,
        ) {
            let (lo, hi) = match kind {
                0 => (lo, lo + width),
                1 => (lo, f64::INFINITY),
                2 => (f64::NEG_INFINITY, lo),
                _ => (lo, lo),
            };
            let at = |eta, theta| Term::of(lo, hi, eta, theta);
            let term = at(eta, theta);
            let h = 1e-5;
            let (left, right) = (at(eta - h, theta), at(eta + h, theta));
            let (down, up) = (at(eta, theta - h), at(eta, theta + h));
            let near = |a: f64, b: f64| (a - b).abs() < 1e-5 * (1.0 + a.abs());
            prop_assert!(near(term.eta, (right.value - left.value) / (2.0 * h)));
            prop_assert!(near(term.theta, (up.value - down.value) / (2.0 * h)));
            prop_assert!(near(term.eta_eta, (right.eta - left.eta) / (2.0 * h)));
            prop_assert!(near(term.eta_theta, (up.eta - down.eta) / (2.0 * h)));
            prop_assert!(near(term.theta_theta, (up.theta - down.theta) / (2.0 * h)));
            let determinant = term.eta_eta * term.theta_theta - term.eta_theta * term.eta_theta;
            prop_assert!(term.eta_eta <= 1e-12 && -1e-9 < determinant, "concave");
        }
    }
}
