//! Do several sets of readings grow alike? A test of equal rates.
//!
//! Knows sets and their likelihoods; what the sets are (stations of a line, lines of a shear, one
//! line over several shears, before and after an intervention) is the caller's business.

use crate::domain::{
    statistics::{chi2_beyond, normal_quantile, t_cdf, t_quantile},
    trend::{Model, Observation, Region, SegmentMean, Segmented, WhyNot, count, with_profile},
};

/// Readings whose growth is compared.
#[derive(Clone, Debug, PartialEq)]
pub enum Set {
    /// Those of one station: its growth is that of its newest segment, as the growth table has it.
    Station(Vec<Observation>),
    /// Those of several stations: one growth for all of them, each with its own levels.
    Stations(Vec<Observation>),
}

/// One set's share in a comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct SetRate {
    /// Its rate.
    pub rate: f64,
    /// The rate's standard error, for intervals.
    pub rate_se: f64,
    /// The slopes of all lines inside every bracket, if there are such lines: then no scatter says
    /// how sure the rate is, and the set is left out of the test.
    pub exact: Option<(f64, f64)>,
    /// Degrees of freedom behind it.
    pub dof: usize,
    /// Readings behind it.
    pub n: usize,
    told: SegmentMean,
    model: Model,
    /// Readings behind its scatter.
    all: usize,
}

/// Who grows like whom.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Each set's rate, or why it has none; in the order of the sets.
    pub sets: Vec<Result<SetRate, WhyNot>>,
    /// What they say together.
    pub answer: Answer,
}

/// What sets say together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Answer {
    /// Two or more of them scatter, and a test says how well one rate suits those.
    Tested(Test),
    /// Too few scatter for a test, but this rate lies in the 95 % interval of every set.
    Overlap(f64),
    /// Too few scatter for a test, and no rate lies in the 95 % interval of every set.
    Apart,
}

/// A test of equal rates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Test {
    /// The rate that suits all tested sets best.
    pub common_rate: f64,
    /// How strongly the sets object to it: a sum of squares, χ² if the rates are equal.
    pub statistic: f64,
    /// Its degrees of freedom: tested sets, less one.
    pub dof: usize,
    /// The chance of so strong an objection if the rates were equal.
    pub p: f64,
}

/// Narrowing of a search by the golden section, and how often it is done.
const GOLDEN: f64 = 0.618_033_988_749_894_9;
const NARROWINGS: usize = 60;
/// How sure the intervals are that stand in for a test.
const RANGE: f64 = 0.95;

impl Set {
    /// Its readings.
    pub fn seen(&self) -> &[Observation] {
        let (Self::Station(seen) | Self::Stations(seen)) = self;
        seen
    }

    fn rate(&self) -> Result<SetRate, WhyNot> {
        let fit = match self {
            Self::Station(seen) => Segmented::fit(seen)?,
            Self::Stations(seen) => Segmented::fit_with(seen, Model::SharedRate)?,
        };
        let newest = fit.segments.last().ok_or(WhyNot::NoReadings)?;
        let (rate, rate_se) = (newest.mean.rate, newest.mean.rate_var.sqrt());
        let exact = newest.inside.as_ref().map(Region::rates);
        Ok(SetRate {
            rate,
            rate_se,
            exact: exact.or_else(|| (rate_se <= 0.0).then_some((rate, rate))),
            dof: fit.dof,
            n: if fit.model.own_rates() { newest.n } else { fit.n },
            told: newest.clone(),
            model: fit.model,
            all: fit.n,
        })
    }
}

impl Comparison {
    /// Tests whether sets share one rate, each with its own levels and scatter.
    ///
    /// *Estimates* the common rate as the one to which all sets together object least. A set's
    /// objection is the drop of its log-likelihood, turned into Student's t by the relation that
    /// holds for exact readings, 2·Δ = n·ln(1 + t²/ν), and that into a normal deviate of the same
    /// probability. *Assumes* normal errors, independent between sets. The sum of squares is χ²
    /// with one degree less than there are sets. A set whose lines pass inside every bracket has no
    /// likelihood of that kind and no part in the test. *Reference:* Wilks, Ann. Math. Stat. 9
    /// (1938) 60.
    ///
    /// `None` if fewer than two sets have a rate.
    pub fn of(sets: &[Set]) -> Option<Self> {
        let rates: Vec<Result<SetRate, WhyNot>> = sets.iter().map(Set::rate).collect();
        let known = || rates.iter().flatten();
        if known().count() < 2 {
            return None;
        }
        let tested: Vec<(&[Observation], &SetRate)> = sets
            .iter()
            .zip(&rates)
            .filter_map(|(set, rate)| Some((set.seen(), rate.as_ref().ok()?)))
            .filter(|(_, rate)| rate.exact.is_none())
            .collect();
        let answer = match tested.len().checked_sub(1).filter(|dof| 0 < *dof) {
            Some(dof) => Answer::Tested(test(&tested, dof)?),
            None => overlap(known()),
        };
        Some(Self { sets: rates, answer })
    }

    /// How many sets are left out of the test because their readings show no scatter.
    pub fn left_out(&self) -> usize {
        self.sets.iter().flatten().filter(|it| it.exact.is_some()).count()
    }
}

fn test(tested: &[(&[Observation], &SetRate)], dof: usize) -> Option<Test> {
    let all =
        |rate: f64| -> f64 { tested.iter().map(|(set, own)| objection(set, own, rate)).sum() };
    let low = tested.iter().map(|(_, own)| own.rate).fold(f64::INFINITY, f64::min);
    let high = tested.iter().map(|(_, own)| own.rate).fold(f64::NEG_INFINITY, f64::max);
    let (common_rate, statistic) = least(all, low, high);
    Some(Test { common_rate, statistic, dof, p: chi2_beyond(statistic, count(dof))? })
}

/// Whether one rate lies in the interval of every set.
fn overlap<'a>(rates: impl Iterator<Item = &'a SetRate>) -> Answer {
    let ranges = rates.map(|it| it.exact.unwrap_or_else(|| it.interval(RANGE)));
    let (low, high) = ranges
        .fold((f64::NEG_INFINITY, f64::INFINITY), |sum, it| (sum.0.max(it.0), sum.1.min(it.1)));
    if low <= high { Answer::Overlap(f64::midpoint(low, high)) } else { Answer::Apart }
}

impl SetRate {
    /// The interval of its rate, as [`SegmentMean::rates`]; the rate alone unless 0 < confidence < 1.
    pub fn interval(&self, confidence: f64) -> (f64, f64) {
        let factor = t_quantile(f64::midpoint(1.0, confidence), count(self.dof)).unwrap_or(0.0);
        self.told.rates(factor)
    }
}

/// The square of the normal deviate with which a set objects to a rate.
fn objection(set: &[Observation], own: &SetRate, rate: f64) -> f64 {
    let dof = count(own.dof);
    let t = with_profile(set, own.model, |it| it.objection_to_rate(rate)).flatten().map_or(
        (rate - own.rate) / own.rate_se,
        |root| {
            let n = count(own.all);
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
                let jitter = 0.1 * (f64::from(state >> 8) / 16_777_216.0 - 0.5);
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
            let alike: Vec<_> = (1..=4).map(|seed| Set::Stations(set(0.005, seed, leaf))).collect();
            let same = tested(&alike);
            assert_eq!(same.dof, 3);
            assert!(0.01 < same.p, "{same:?}");
            assert!((same.common_rate - 0.005).abs() < 3e-4);

            let mut unlike = alike;
            unlike[2] = Set::Stations(set(0.0065, 9, leaf));
            let other = tested(&unlike);
            assert!(other.p < 1e-3, "{other:?}");
        }
    }

    fn tested(sets: &[Set]) -> Test {
        match Comparison::of(sets).unwrap().answer {
            Answer::Tested(it) => it,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_set_without_a_rate_is_named_and_left_out() {
        let sets = [set(0.005, 1, 0.05), vec![], set(0.005, 2, 0.05)].map(Set::Station);
        let comparison = Comparison::of(&sets).unwrap();
        assert_eq!(comparison.sets[1], Err(WhyNot::NoReadings));
        assert_eq!(tested(&sets).dof, 1);
        assert_eq!(Comparison::of(&sets[..2]), None, "one alone compares with nothing");
    }

    /// Two stations whose growth changed at work: what counts is how they grow now.
    #[test]
    fn a_station_counts_with_the_growth_of_its_newest_segment() {
        let turned = |before: f64, seed| {
            let mut points = set(before, seed, 0.05);
            points.extend(set(0.005, seed + 7, 0.05).into_iter().map(|it| Observation {
                x: it.x + 192.0,
                segment: it.segment + 2,
                ..it
            }));
            points
        };
        let sets = [Set::Station(turned(0.001, 1)), Set::Station(turned(0.009, 2))];
        let told = Comparison::of(&sets).unwrap();
        for (rate, set) in told.sets.iter().zip(&sets) {
            let grown = Segmented::fit(set.seen()).unwrap();
            assert!(grown.model.own_rates());
            let newest = grown.segments.last().unwrap();
            assert_eq!(rate.as_ref().unwrap().rate.to_bits(), newest.mean.rate.to_bits());
        }
        assert!(0.01 < tested(&sets).p, "{told:?}");
    }

    /// Two stations of a guide pad: nothing scatters, and their ranges of growth overlap.
    #[test]
    fn readings_without_scatter_are_not_said_to_grow_apart() {
        let still = |go: f64, from: usize| -> Vec<Observation> {
            (0..30_u8)
                .map(|look| {
                    let low = if usize::from(look) < from { go } else { go + 0.05 };
                    let x = 8.0 * f64::from(look);
                    let (low, high) = (Some(low), Some(low + 0.05));
                    Observation { x, low, high, segment: 0, edge_age: None }
                })
                .collect()
        };
        let sets = [Set::Station(still(0.30, 30)), Set::Station(still(0.30, 14))];
        let told = Comparison::of(&sets).unwrap();
        assert!(matches!(told.answer, Answer::Overlap(rate) if 0.0 < rate), "{told:?}");
        assert_eq!(told.left_out(), 2);
        let steep = Set::Station(
            (0..30_u8)
                .map(|look| {
                    let (x, low) = (8.0 * f64::from(look), 0.3 + 0.05 * f64::from(look));
                    let (low, high) = (Some(low), Some(low + 0.05));
                    Observation { x, low, high, segment: 0, edge_age: None }
                })
                .collect(),
        );
        let [still, _] = sets;
        assert_eq!(Comparison::of(&[still, steep]).unwrap().answer, Answer::Apart);
    }
}
