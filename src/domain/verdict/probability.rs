//! How likely a gap lies where.
//!
//! A reading says that the gap lies anywhere between two stacks, evenly, and that everything else
//! blurs this by a normal distribution, or by t where the blur is known from few trials. Both
//! together have a closed form. A reading with an open
//! end has no distribution of its own: there whole numbers decide, or the trend's prediction cut
//! off at the stack that went, or nobody.

use crate::domain::{
    gauge::Answer,
    machine::Band,
    statistics::{
        normal_cdf, normal_density, normal_quantile, shares_below, t_cdf, t_quantile,
        t_shares_below, t_slope,
    },
    verdict::Cold,
};

/// Uniform between two stacks, blurred by a normal distribution or by t; all in mm at 20 °C.
///
/// *Estimates* F(x) = [G((x−a)/σ) − G((x−b)/σ)]·σ/(b−a) with G(z) = z·Φ(z) + φ(z), the integral of
/// Φ, or with that of Student's t. *Assumes* that nothing is known within the bracket and that the
/// rest is normal, its size known from as many trials as the degrees of freedom say. *Reference:* the integral of
/// Φ over the bracket; JCGM 101, 6.4 for the parts. The upper half is the lower one reflected, so
/// that both tails keep their digits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Law {
    low: f64,
    high: f64,
    sigma: f64,
    bell: Bell,
}

/// What blurs the box.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Bell {
    Normal,
    Student(f64),
}

impl Bell {
    fn share_below(self, z: f64) -> f64 {
        match self {
            Self::Normal => normal_cdf(z),
            Self::Student(dof) => t_cdf(z, dof).unwrap_or_else(|| normal_cdf(z)),
        }
    }

    /// The integral of the share below, but for a constant.
    fn shares_below(self, z: f64) -> f64 {
        match self {
            Self::Normal => shares_below(z),
            Self::Student(dof) => t_shares_below(z, dof).unwrap_or_else(|| shares_below(z)),
        }
    }

    /// How the density changes at `z`.
    fn slope(self, z: f64) -> f64 {
        match self {
            Self::Normal => -z * normal_density(z),
            Self::Student(dof) => t_slope(z, dof),
        }
    }

    fn quantile(self, p: f64) -> Option<f64> {
        match self {
            Self::Normal => normal_quantile(p),
            Self::Student(dof) => t_quantile(p, dof),
        }
    }
}

/// A thousandth of a millionth of a nanometre: less blur than this is none.
const SIGMA_LEAST_MM: f64 = 1e-15;
/// Of brackets narrower than this share of σ the difference above loses digits; there the normal
/// distribution with the first term of its series is exact to 15 digits.
const NARROW: f64 = 1e-3;
/// With so many degrees of freedom t is the normal distribution to six digits.
const DOF_MANY: f64 = 1e6;

impl Law {
    /// Between `low` and `high`, blurred by `sigma`; `None` unless all are finite and in order.
    pub fn new(low: f64, high: f64, sigma: f64) -> Option<Self> {
        let sound = [low, high, sigma].iter().all(|it| it.is_finite());
        let blur = if SIGMA_LEAST_MM < sigma { sigma } else { 0.0 };
        let law = Self { low, high, sigma: blur, bell: Bell::Normal };
        (sound && low <= high && 0.0 <= sigma).then_some(law)
    }

    /// The same law where the size of the blur is known with so many degrees of freedom; from a
    /// million on, and for `None`, that is as good as certain.
    pub fn known_with(self, dof: Option<f64>) -> Self {
        let few = dof.filter(|dof| (1.0..DOF_MANY).contains(dof));
        Self { bell: few.map_or(Bell::Normal, Bell::Student), ..self }
    }

    /// The law of a reading at 20 °C; `None` while it is open.
    pub fn of(cold: &Cold) -> Option<Self> {
        let high = cold.bracket.no_go()?.mm();
        let law = Self::new(cold.bracket.go().mm(), high, cold.budget.blur_mm())?;
        Some(law.known_with(cold.budget.blur_dof()))
    }

    /// The probability of a gap below `x`, which itself does not count.
    pub fn below(&self, x: f64) -> f64 {
        if x <= self.middle() { self.tail(x) } else { 1.0 - self.tail(self.mirrored(x)) }
    }

    /// The probability of a gap above `x`, which itself does not count.
    pub fn above(&self, x: f64) -> f64 {
        if x < self.middle() { 1.0 - self.tail(x) } else { self.tail(self.mirrored(x)) }
    }

    /// The probability of a gap from `min` to `max`, ends included.
    ///
    /// Far out in one tail the sides are subtracted there, where they are small.
    pub fn within(&self, min: f64, max: f64) -> f64 {
        let within = if max < self.middle() {
            self.below(max) - self.below(min)
        } else if self.middle() < min {
            self.above(min) - self.above(max)
        } else {
            1.0 - self.below(min) - self.above(max)
        };
        within.max(0.0)
    }

    /// Half the width of the interval around the middle that holds the gap with probability `p`.
    ///
    /// `None` unless 0 < p < 1.
    pub fn half_width(&self, p: f64) -> Option<f64> {
        let outside = (1.0 - p) / 2.0;
        let reach = -self.bell.quantile(outside).filter(|_| 0.0 < p && p < 1.0)?;
        let middle = self.middle();
        let (mut inside, mut beyond) = (0.0, (self.high - self.low) / 2.0 + reach * self.sigma);
        // Sixty halvings leave less than a float can hold.
        for _ in 0..60 {
            let half = f64::midpoint(inside, beyond);
            if outside < self.above(middle + half) { inside = half } else { beyond = half }
        }
        Some(beyond)
    }

    const fn middle(&self) -> f64 {
        f64::midpoint(self.low, self.high)
    }

    const fn mirrored(&self, x: f64) -> f64 {
        self.low + (self.high - x)
    }

    /// The probability below `x` in the lower half.
    fn tail(&self, x: f64) -> f64 {
        let width = self.high - self.low;
        if self.sigma <= 0.0 {
            return if x <= self.low { 0.0 } else { (x - self.low) / width };
        }
        let ratio = width / self.sigma;
        let tail = if ratio < NARROW {
            let z = (x - self.middle()) / self.sigma;
            self.bell.share_below(z) + ratio * ratio / 24.0 * self.bell.slope(z)
        } else {
            let (from_low, from_high) = ((x - self.low) / self.sigma, (x - self.high) / self.sigma);
            (self.bell.shares_below(from_low) - self.bell.shares_below(from_high)) / ratio
        };
        tail.clamp(0.0, 1.0)
    }
}

/// Half the width of the interval that holds the gap with probability `p`, in mm; `None` while the
/// reading is open, and unless 0 < p < 1.
///
/// Where the blur is known from few observations it is that of t (GUM G.4).
pub fn expanded_mm(cold: &Cold, p: f64) -> Option<f64> {
    Law::of(cold)?.half_width(p)
}

/// What is expected of a gap before it is measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    mean_mm: f64,
    sd_mm: f64,
}

impl Prior {
    /// A normal distribution; `None` unless both are finite and the deviation is above zero.
    pub fn new(mean_mm: f64, sd_mm: f64) -> Option<Self> {
        let sound = mean_mm.is_finite() && sd_mm.is_finite() && 0.0 < sd_mm;
        sound.then_some(Self { mean_mm, sd_mm })
    }

    /// The probability of a gap above `x`.
    pub(crate) fn above(&self, x: f64) -> f64 {
        normal_cdf((self.mean_mm - x) / self.sd_mm)
    }
}

/// What a probability rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// The reading and its uncertainty.
    Reading,
    /// The stack that went is already beyond the limit; the other end is open.
    Leaves,
    /// The trend's prediction, as far as the stack that went leaves it open.
    Trend,
}

/// How likely a gap lies below, within and above a pair of limits. The three add up to one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// Below the smaller.
    pub below: f64,
    /// Between them, ends included.
    pub within: f64,
    /// Above the larger.
    pub above: f64,
    /// What it rests on.
    pub basis: Basis,
}

impl Chance {
    /// The chances of a reading against a pair of limits; `None` where an open end says nothing.
    pub fn of(cold: &Cold, band: Band, prior: Option<Prior>) -> Option<Self> {
        let (min, max) = (band.min.mm(), band.max.mm());
        if let Some(law) = Law::of(cold) {
            let (below, above) = (law.below(min), law.above(max));
            return Some(Self {
                below,
                within: law.within(min, max),
                above,
                basis: Basis::Reading,
            });
        }
        if cold.bracket.is_at_most(band.max) == Answer::No {
            return Some(Self { below: 0.0, within: 0.0, above: 1.0, basis: Basis::Leaves });
        }
        let prior = prior?;
        let floor = cold.bracket.go().mm();
        let left = prior.above(floor);
        // Where nothing is left of the prediction, the reading has refuted it.
        if left < f64::MIN_POSITIVE {
            return None;
        }
        let above = (prior.above(max) / left).min(1.0);
        let below = if min <= floor { 0.0 } else { 1.0 - (prior.above(min) / left).min(1.0) };
        let within = (1.0 - below - above).max(0.0);
        Some(Self { below, within, above, basis: Basis::Trend })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        gauge::{Bracket, Hand},
        quantity::Length,
    };
    use proptest::prelude::*;

    fn law(low: f64, high: f64, sigma: f64) -> Law {
        Law::new(low, high, sigma).unwrap()
    }

    #[track_caller]
    fn close(value: f64, expected: f64, relative: f64) {
        assert!((value / expected - 1.0).abs() <= relative, "{value} is not {expected}");
    }

    /// A reading whose leaves have this standard uncertainty together, in mm.
    fn felt(go: i64, no_go: Option<i64>, sigma_mm: f64) -> Cold {
        let bracket = Bracket::new(Length::from_um(go), no_go.map(Length::from_um)).unwrap();
        Cold::taken_cold(bracket, [0.0; 2], Hand { sigma_mm, dof: None })
    }

    /// Recomputed to 40 digits with mpmath.
    #[test]
    fn the_closed_form_keeps_its_digits_in_the_tails() {
        let law = law(0.55, 0.60, 0.008);
        for (x, below) in [
            (0.55, 0.063_830_764_859_215_3),
            (0.54, 0.008_093_898_928_871_79),
            (0.50, 5.013_948_383_047_53e-12),
            (0.40, 8.213_548_965_708_43e-81),
            (0.56, 0.208_093_890_375_008),
        ] {
            close(law.below(x), below, 1e-10);
            close(law.above(1.15 - x), below, 1e-10);
        }
        close(law.below(0.575), 0.5, 1e-14);
    }

    /// Recomputed with `scipy.stats.t`, integrated numerically over the bracket.
    #[test]
    fn a_blur_from_few_trials_has_the_tails_of_t() {
        for (dof, at_low, far_out, inside) in [
            (1.0, 0.144_477_840_066_957, 0.014_640_978_527_091_1, 0.266_315_826_999_943),
            (2.0, 0.100_496_860_270_796, 1.063_171_630_075_18e-3, 0.235_304_494_888_885),
            (4.0, 0.079_405_868_232_035_4, 1.382_448_438_852_86e-5, 0.219_737_827_858_293),
            (20.0, 0.066_355_812_247_104, 3.046_188_969_518_5e-15, 0.209_897_743_035_133),
        ] {
            let law = law(0.55, 0.60, 0.008).known_with(Some(dof));
            close(law.below(0.55), at_low, 1e-10);
            close(law.above(0.75), far_out, 1e-6);
            close(law.below(0.56), inside, 1e-10);
        }
        let few = law(0.55, 0.60, 0.008).known_with(Some(4.0));
        close(few.half_width(0.95).unwrap(), 0.033_542_573_616, 1e-9);
        let point = law(1.0, 1.0, 0.03).known_with(Some(1.0));
        close(1.0 - point.above(1.06), 0.852_416_382_349_567, 1e-12);
        // Nobody knows a blur that well; it must not matter how the digits fall.
        for dof in [1e7, 1e9, 1e12, 1e15, 1e300] {
            let many = law(0.55, 0.60, 0.008).known_with(Some(dof));
            close(
                many.half_width(0.95).unwrap(),
                law(0.55, 0.60, 0.008).half_width(0.95).unwrap(),
                1e-9,
            );
        }
    }

    #[test]
    fn without_blur_the_bracket_is_a_ruler_and_a_point_is_a_point() {
        let ruler = law(0.4, 0.6, 0.0);
        assert_eq!(ruler.below(0.4).to_bits(), 0.0_f64.to_bits());
        close(ruler.below(0.45), 0.25, 1e-12);
        close(ruler.above(0.45), 0.75, 1e-12);
        close(ruler.within(0.45, 0.5), 0.25, 1e-12);
        close(ruler.half_width(0.95).unwrap(), 0.095, 1e-12);
        close(law(0.4, 0.6, 1e-9).within(0.45, 0.5), 0.25, 1e-12);
        let point = law(0.5, 0.5, 0.0);
        let at = |min, max| (point.below(min), point.within(min, max), point.above(max));
        assert_eq!(at(0.5, 0.6), (0.0, 1.0, 0.0), "a gap exactly on a limit meets it");
        assert_eq!(at(0.4, 0.5), (0.0, 1.0, 0.0));
        assert_eq!(at(0.500_001, 0.6), (1.0, 0.0, 0.0));
        assert_eq!(at(0.4, 0.499_999), (0.0, 0.0, 1.0));
    }

    #[test]
    fn a_narrow_bracket_goes_over_to_the_normal_distribution_without_a_step() {
        for z in [-30.0, -3.0, -0.7, 0.0, 0.4] {
            let at = |ratio: f64| law(-ratio / 2.0, ratio / 2.0, 1.0).below(z);
            close(at(NARROW * 0.999_999), at(NARROW * 1.000_001), 1e-9);
            close(at(0.0), normal_cdf(z), 1e-14);
        }
        close(law(0.5, 0.5, 0.01).half_width(0.95).unwrap(), 0.019_599_639_845_4, 1e-10);
    }

    #[test]
    fn an_open_end_says_nothing_unless_a_limit_is_passed_or_a_trend_speaks() {
        let band = Band::from_um(200, 1_250);
        let open = |go, prior| Chance::of(&felt(go, None, 0.004), band, prior);
        assert_eq!(open(1_000, None), None);
        assert_eq!(open(1_250, None), None, "the gap may be exactly on the limit");
        assert_eq!(open(1_251, None).map(|it| (it.above, it.basis)), Some((1.0, Basis::Leaves)));
        let prior = Prior::new(1.05, 0.1);
        let chance = open(1_000, prior).unwrap();
        assert_eq!((chance.basis, chance.below), (Basis::Trend, 0.0));
        // Φ(−2)/Φ(0.5), the tail that the stack left.
        close(chance.above, 0.022_750_131_948_2 / 0.691_462_461_274_0, 1e-11);
        assert_eq!(open(1_000, Prior::new(0.3, 0.01)), None, "the stack refuted the trend");
        assert_eq!(Prior::new(0.3, 0.0), None);
        assert_eq!(Prior::new(f64::NAN, 0.1), None);
    }

    #[test]
    fn an_expanded_uncertainty_never_leaves_more_than_it_says() {
        let wide = felt(550, Some(600), 0.004);
        let half = expanded_mm(&wide, 0.95).unwrap();
        assert!(half < 1.96 * wide.u_mm().unwrap(), "a box has no tails: {half}");
        close(Law::of(&wide).unwrap().within(0.575 - half, 0.575 + half), 0.95, 1e-12);
        assert_eq!(expanded_mm(&felt(1_000, None, 0.004), 0.95), None);
        assert_eq!(expanded_mm(&wide, 1.0), None);
    }

    proptest! {
        #[test]
        fn chances_are_shares_that_add_up_to_one(
            low in -0.5..2.0_f64, width in 0.0..0.5_f64, sigma in 0.0..0.1_f64,
            min in -1.0..2.5_f64, span in 0.0..1.5_f64,
        ) {
            let law = law(low, low + width, sigma);
            let (below, within, above) =
                (law.below(min), law.within(min, min + span), law.above(min + span));
            for share in [below, within, above] {
                prop_assert!((0.0..=1.0).contains(&share), "{share}");
            }
            prop_assert!((below + within + above - 1.0).abs() < 1e-11);
            prop_assert!(below <= law.below(min + span) + 1e-14, "further up is more below");
        }

        #[test]
        fn less_knowledge_makes_the_tail_heavier(
            low in 0.1..1.0_f64, width in 0.0..0.2_f64, sigma in 0.0..0.05_f64,
            out in 0.0..0.2_f64, more in 0.0..0.1_f64,
        ) {
            let x = low + width + out;
            let tight = law(low, low + width, sigma).above(x);
            let blurred = law(low, low + width, sigma + more).above(x);
            let wider = law(low - more, low + width + more, sigma).above(x);
            prop_assert!(tight <= blurred + 1e-12, "{tight} {blurred}");
            prop_assert!(tight <= wider + 1e-12, "{tight} {wider}");
        }

        #[test]
        fn the_interval_holds_what_it_says(
            width in 0.0..0.2_f64, sigma in 0.0..0.05_f64, p in 0.01..0.999_f64,
        ) {
            prop_assume!(0.001 < width + sigma);
            let law = law(0.5, 0.5 + width, sigma);
            let (middle, half) = (0.5 + width / 2.0, law.half_width(p).unwrap());
            prop_assert!((law.within(middle - half, middle + half) - p).abs() < 1e-9);
        }

        /// Any floats at all: a share or nothing, never NaN.
        #[test]
        fn nonsense_is_refused(
            low in any::<f64>(), high in any::<f64>(), sigma in any::<f64>(), x in any::<f64>(),
        ) {
            if let Some(law) = Law::new(low, high, sigma) {
                prop_assume!(low.abs() < 1e9 && high.abs() < 1e9 && x.abs() < 1e9);
                for share in [law.below(x), law.above(x)] {
                    prop_assert!((0.0..=1.0).contains(&share), "{law:?} at {x}: {share}");
                }
            }
        }
    }
}
