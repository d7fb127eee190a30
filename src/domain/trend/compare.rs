//! Do several sets of readings grow alike? A test of equal rates.
//!
//! Knows sets and their likelihoods; what the sets are (stations of a line, lines of a shear, one
//! line over several shears, before and after an intervention) is the caller's business.

use crate::domain::{
    statistics::{chi2_beyond, normal_quantile, t_cdf},
    trend::{Model, Observation, Segmented, WhyNot, count, with_profile},
};

/// One set's share in a comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct SetRate {
    /// Its own rate, shared by its segments.
    pub rate: f64,
    /// The rate's standard error, for intervals.
    pub rate_se: f64,
    /// Degrees of freedom behind it.
    pub dof: usize,
    /// Readings behind it.
    pub n: usize,
}

/// A test of equal rates.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Each set's rate, or why it has none; in the order of the sets.
    pub sets: Vec<Result<SetRate, WhyNot>>,
    /// The rate that suits all of them best.
    pub common_rate: f64,
    /// How strongly the sets object to it: a sum of squares, χ² if the rates are equal.
    pub statistic: f64,
    /// Its degrees of freedom: sets with a rate, less one.
    pub dof: usize,
    /// The chance of so strong an objection if the rates were equal.
    pub p: f64,
}

/// Narrowing of a search by the golden section, and how often it is done.
const GOLDEN: f64 = 0.618_033_988_749_894_9;
const NARROWINGS: usize = 60;

impl Comparison {
    /// Tests whether sets share one rate, each with its own levels and scatter.
    ///
    /// *Estimates* the common rate as the one to which all sets together object least. A set's
    /// objection is the drop of its log-likelihood, turned into Student's t by the relation that
    /// holds for exact readings, 2·Δ = n·ln(1 + t²/ν), and that into a normal deviate of the same
    /// probability; where lines pass inside every bracket it is (b − b̂)/se instead. *Assumes*
    /// normal errors, independent between sets. The sum of squares is χ² with one degree less than
    /// there are sets. *Reference:* Wilks, Ann. Math. Stat. 9 (1938) 60.
    ///
    /// `None` if fewer than two sets have a rate.
    pub fn of(sets: &[Vec<Observation>]) -> Option<Self> {
        let rates: Vec<Result<SetRate, WhyNot>> = sets.iter().map(|set| own_rate(set)).collect();
        let usable: Vec<(&[Observation], &SetRate)> = sets
            .iter()
            .zip(&rates)
            .filter_map(|(set, rate)| Some((set.as_slice(), rate.as_ref().ok()?)))
            .filter(|(_, rate)| 0.0 < rate.rate_se)
            .collect();
        let dof = usable.len().checked_sub(1).filter(|dof| 0 < *dof)?;
        let all =
            |rate: f64| -> f64 { usable.iter().map(|(set, own)| objection(set, own, rate)).sum() };
        let low = usable.iter().map(|(_, own)| own.rate).fold(f64::INFINITY, f64::min);
        let high = usable.iter().map(|(_, own)| own.rate).fold(f64::NEG_INFINITY, f64::max);
        let (common_rate, statistic) = least(all, low, high);
        let p = chi2_beyond(statistic, count(dof))?;
        Some(Self { sets: rates, common_rate, statistic, dof, p })
    }
}

/// One rate for all segments of a set.
fn own_rate(set: &[Observation]) -> Result<SetRate, WhyNot> {
    let fit = Segmented::fit_with(set, Model::SharedRate)?;
    let mean = fit.segments.last().ok_or(WhyNot::NoReadings)?.mean;
    Ok(SetRate { rate: mean.rate, rate_se: mean.rate_var.sqrt(), dof: fit.dof, n: fit.n })
}

/// The square of the normal deviate with which a set objects to a rate.
fn objection(set: &[Observation], own: &SetRate, rate: f64) -> f64 {
    let dof = count(own.dof);
    let t = with_profile(set, Model::SharedRate, |it| it.objection_to_rate(rate)).flatten().map_or(
        (rate - own.rate) / own.rate_se,
        |root| {
            let n = count(own.n);
            (dof * (root * root / n).exp_m1()).sqrt()
        },
    );
    // The upper tail keeps its digits; far out, where it has none, t is as good as z.
    let tail = t_cdf(-t.abs(), dof).and_then(normal_quantile);
    tail.map_or(t * t, |z| z * z)
}

/// The place and the value of the least of a function with one valley.
fn least(f: impl Fn(f64) -> f64, low: f64, high: f64) -> (f64, f64) {
    let (mut low, mut high) = (low, high);
    let mut inner = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    let mut values = (f(inner.0), f(inner.1));
    for _ in 0..NARROWINGS {
        if high - low <= 1e-9 * high.abs().max(low.abs()) {
            break;
        }
        if values.0 < values.1 {
            high = inner.1;
            inner = (high - GOLDEN * (high - low), inner.0);
            values = (f(inner.0), values.0);
        } else {
            low = inner.0;
            inner = (inner.1, low + GOLDEN * (high - low));
            values = (values.1, f(inner.1));
        }
    }
    if values.0 < values.1 { (inner.0, values.0) } else { (inner.1, values.1) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(rate: f64, seed: u32, leaf: f64) -> Vec<Observation> {
        let mut state = seed;
        (0..24_u8)
            .map(|look| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let jitter = 0.06 * (f64::from(state >> 8) / 16_777_216.0 - 0.5);
                let x = 8.0 * f64::from(look);
                let y = 0.4 + rate * x + jitter;
                let low = if leaf > 0.0 { (y / leaf).floor() * leaf } else { y };
                Observation {
                    x,
                    low: Some(low),
                    high: Some(low + leaf),
                    segment: usize::from(96.0 < x),
                    edge_age: None,
                }
            })
            .collect()
    }

    #[test]
    fn equal_rates_are_not_told_apart_and_unequal_ones_are() {
        for leaf in [0.0, 0.05] {
            let alike: Vec<_> = (1..=4).map(|seed| set(0.005, seed, leaf)).collect();
            let same = Comparison::of(&alike).unwrap();
            assert_eq!((same.dof, same.sets.len()), (3, 4));
            assert!(0.01 < same.p, "{same:?}");
            assert!((same.common_rate - 0.005).abs() < 3e-4);

            let mut unlike = alike;
            unlike[2] = set(0.0065, 9, leaf);
            let other = Comparison::of(&unlike).unwrap();
            assert!(other.p < 1e-3, "{other:?}");
        }
    }

    #[test]
    fn a_set_without_a_rate_is_named_and_left_out() {
        let sets = [set(0.005, 1, 0.05), vec![], set(0.005, 2, 0.05)];
        let comparison = Comparison::of(&sets).unwrap();
        assert_eq!((comparison.sets[1].clone(), comparison.dof), (Err(WhyNot::NoReadings), 1));
        assert_eq!(Comparison::of(&sets[..2]), None, "one alone compares with nothing");
    }
}
