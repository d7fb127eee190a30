//! Straight lines between interventions: one each, or one rate for all.

use crate::domain::trend::{Mean, count, line::Moments};
use std::f64::consts::PI;

/// One point of a trend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observation {
    /// Service hours.
    pub x: f64,
    /// Gap in mm.
    pub y: f64,
    /// Between which interventions; never falls from one observation to the next.
    pub segment: usize,
}

/// What the segments have in common.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Model {
    /// Nothing but the scatter: each segment has its own level and its own rate.
    OwnLines,
    /// The rate: each segment has its own level only.
    SharedRate,
}

/// Why there is no trend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WhyNot {
    /// Nobody measured here yet.
    #[error("nobody has measured this place yet")]
    NoReadings,
    /// Every reading has an open end.
    #[error("all {0} readings have an open end, so none says where the gap is")]
    AllOpen(usize),
    /// No reading could be referred to 20 °C.
    #[error("none of the {0} readings could be referred to 20 °C")]
    NoneReferred(usize),
    /// Not enough for the numbers of a line and its scatter.
    #[error("{have} readings are too few for a growth rate, {need} are needed")]
    TooFewReadings {
        /// Readings there are.
        have: usize,
        /// Readings there would have to be.
        need: usize,
    },
    /// All readings between two interventions were taken at one hour.
    #[error("all readings were taken at the same service hour, so nothing could grow")]
    SameHour,
    /// Numbers so large that their squares are lost, or no numbers at all.
    #[error("a reading is too large to calculate with")]
    TooLarge,
}

/// One segment's mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SegmentMean {
    /// Which one, as named by its observations.
    pub segment: usize,
    /// How many observations it has.
    pub n: usize,
    /// The mean with its variances. With [`Model::OwnLines`], a segment seen at one hour only has
    /// no rate of its own and borrows the one that all the others share.
    pub mean: Mean,
}

/// A fit over all segments with one scatter.
#[derive(Clone, Debug, PartialEq)]
pub struct Segmented {
    /// What the segments share.
    pub model: Model,
    /// Every segment with observations, oldest first; at least one.
    pub segments: Vec<SegmentMean>,
    /// Standard deviation of the residuals, √(RSS / degrees of freedom).
    pub sigma: f64,
    /// Observations less levels and rates.
    pub dof: usize,
    /// Gaussian log-likelihood at its maximum, density per mm.
    pub log_likelihood: f64,
}

/// Gaps are kept in whole nanometres; less scatter than one is rounding. In mm.
const SIGMA_LEAST: f64 = 1e-6;

/// Fewer readings than this in the newest segment tell no rate of its own.
const OWN_RATE_LEAST: usize = 3;

impl Segmented {
    /// Fits both models where they can be estimated and keeps the one with the smaller `AICc`.
    ///
    /// *Estimates* levels, rates and one scatter by maximum Gaussian likelihood, that is least
    /// squares. *Assumes* errors of one size throughout. `AICc` = −2·ln L + 2p + 2p(p+1)/(n−p−1)
    /// with p counting σ; a model is out where n ≤ p + 1, and own lines are out while the newest
    /// of several segments has fewer than three readings or only one hour. *Reference:* Hurvich
    /// and Tsai, Biometrika 76 (1989) 297.
    ///
    /// # Errors
    ///
    /// [`WhyNot`] if not even one shared rate can be estimated with its scatter.
    pub fn fit(observations: &[Observation]) -> Result<Self, WhyNot> {
        let groups: Vec<Group<'_>> = observations
            .chunk_by(|a, b| a.segment == b.segment)
            .filter_map(|points| Some(Group { points, moments: Moments::of(pairs(points))? }))
            .collect();
        let Some(newest) = groups.last() else { return Err(WhyNot::NoReadings) };
        let need = groups.len() + 2;
        if observations.len() < need {
            return Err(WhyNot::TooFewReadings { have: observations.len(), need });
        }
        let total = Moments { sxx: 0.0, sxy: 0.0, ..newest.moments };
        let pooled = groups.iter().fold(total, |sum, group| Moments {
            sxx: sum.sxx + group.moments.sxx,
            sxy: sum.sxy + group.moments.sxy,
            ..sum
        });
        if !(pooled.sxx.is_finite() && pooled.sxy.is_finite()) {
            return Err(WhyNot::TooLarge);
        }
        if pooled.sxx <= 0.0 {
            return Err(WhyNot::SameHour);
        }
        let n = observations.len();
        let shared = Candidate::new(Model::SharedRate, &groups, &pooled, n);
        let own = Candidate::new(Model::OwnLines, &groups, &pooled, n);
        let newest_has_rate = OWN_RATE_LEAST <= newest.points.len() && newest.moments.sxx > 0.0;
        let best = match (own, shared) {
            (Some(own), _) if groups.len() == 1 => own,
            (Some(own), Some(shared)) if newest_has_rate && own.beats(&shared) => own,
            (_, Some(shared)) => shared,
            _ => return Err(WhyNot::TooLarge),
        };
        best.finish(&groups, &pooled)
    }
}

struct Group<'a> {
    points: &'a [Observation],
    moments: Moments,
}

impl Group<'_> {
    /// The rate this segment has under the model, with the spread of hours it rests on.
    fn rate(&self, model: Model, pooled: &Moments) -> (f64, f64) {
        let basis = match model {
            Model::OwnLines if self.moments.sxx > 0.0 => &self.moments,
            Model::OwnLines | Model::SharedRate => pooled,
        };
        (basis.sxy / basis.sxx, basis.sxx)
    }
}

fn pairs(points: &[Observation]) -> impl Iterator<Item = (f64, f64)> + Clone {
    points.iter().map(|point| (point.x, point.y))
}

struct Candidate {
    model: Model,
    rss: f64,
    dof: usize,
    log_likelihood: f64,
    /// `None` where `AICc` does not exist.
    aicc: Option<f64>,
}

impl Candidate {
    /// `None` without a degree of freedom for the scatter, or if a sum is not finite.
    fn new(model: Model, groups: &[Group<'_>], pooled: &Moments, n: usize) -> Option<Self> {
        let rates = match model {
            Model::SharedRate => 1,
            Model::OwnLines => groups.iter().filter(|group| group.moments.sxx > 0.0).count(),
        };
        let dof = n.checked_sub(groups.len() + rates).filter(|dof| 0 < *dof)?;
        let rss: f64 = groups
            .iter()
            .map(|it| it.moments.residual_squares(it.rate(model, pooled).0, pairs(it.points)))
            .sum();
        if !rss.is_finite() {
            return None;
        }
        let variance = (rss / count(n)).max(SIGMA_LEAST * SIGMA_LEAST);
        let share = rss / (count(n) * variance);
        let log_likelihood = -0.5 * count(n) * ((2.0 * PI * variance).ln() + share);
        let p = count(groups.len() + rates + 1);
        let spare = count(n) - p - 1.0;
        let penalty = 2.0 * p + 2.0 * p * (p + 1.0) / spare;
        let aicc = (spare > 0.0).then_some(penalty - 2.0 * log_likelihood);
        Some(Self { model, rss, dof, log_likelihood, aicc })
    }

    fn beats(&self, other: &Self) -> bool {
        match (self.aicc, other.aicc) {
            (Some(mine), Some(theirs)) => mine < theirs,
            (mine, _) => mine.is_some(),
        }
    }

    fn finish(self, groups: &[Group<'_>], pooled: &Moments) -> Result<Segmented, WhyNot> {
        let variance = self.rss / count(self.dof);
        let segments = groups
            .iter()
            .map(|group| {
                let (rate, sxx) = group.rate(self.model, pooled);
                let mean = Mean::about_centre(&group.moments, rate, variance, sxx);
                let segment = group.points.first().map_or(0, |point| point.segment);
                SegmentMean { segment, n: group.points.len(), mean }
            })
            .collect::<Vec<_>>();
        let finite = segments.iter().all(|SegmentMean { mean, .. }| {
            [mean.at(0.0), mean.rate, mean.se_at(0.0), mean.rate_var].iter().all(|x| x.is_finite())
        });
        if !finite {
            return Err(WhyNot::TooLarge);
        }
        Ok(Segmented {
            model: self.model,
            segments,
            sigma: variance.sqrt(),
            dof: self.dof,
            log_likelihood: self.log_likelihood,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn stretch(segment: usize, points: &[(f64, f64)]) -> Vec<Observation> {
        points.iter().map(|&(x, y)| Observation { x, y, segment }).collect()
    }

    fn grown(segment: usize, from: f64, level: f64, rate: f64, jitter: f64) -> Vec<Observation> {
        let signs = [1.0, -1.0, -1.0, 1.0, 1.0, -1.0];
        let points: Vec<(f64, f64)> = (0..6)
            .zip(signs)
            .map(|(step, sign)| {
                let x = f64::from(step) * 8.0;
                (from + x, level + rate * x + sign * jitter)
            })
            .collect();
        stretch(segment, &points)
    }

    #[test]
    fn too_little_is_refused_with_what_is_missing() {
        let fit = |points: &[(f64, f64)]| Segmented::fit(&stretch(0, points)).unwrap_err();
        assert_eq!(Segmented::fit(&[]), Err(WhyNot::NoReadings));
        assert_eq!(fit(&[(0.0, 0.4), (8.0, 0.5)]), WhyNot::TooFewReadings { have: 2, need: 3 });
        assert_eq!(fit(&[(8.0, 0.4), (8.0, 0.5), (8.0, 0.6)]), WhyNot::SameHour);
        assert_eq!(fit(&[(8.0, 1e300), (9.0, 0.5), (10.0, 0.6)]), WhyNot::TooLarge);
        let mut three = stretch(0, &[(0.0, 0.4)]);
        three.extend(stretch(1, &[(8.0, 0.3)]));
        three.extend(stretch(2, &[(16.0, 0.3), (24.0, 0.4)]));
        assert_eq!(Segmented::fit(&three), Err(WhyNot::TooFewReadings { have: 4, need: 5 }));
    }

    #[test]
    fn one_rate_serves_all_unless_the_readings_say_otherwise() {
        let mut alike = grown(0, 0.0, 0.40, 0.005, 0.01);
        alike.extend(grown(1, 48.0, 0.40, 0.0051, 0.01));
        let fit = Segmented::fit(&alike).unwrap();
        assert_eq!((fit.model, fit.dof), (Model::SharedRate, 9));
        let rates: Vec<f64> = fit.segments.iter().map(|it| it.mean.rate).collect();
        assert_eq!(rates[0].to_bits(), rates[1].to_bits());

        let mut unlike = grown(0, 0.0, 0.40, 0.005, 0.01);
        unlike.extend(grown(1, 48.0, 0.40, -0.004, 0.01));
        let fit = Segmented::fit(&unlike).unwrap();
        assert_eq!((fit.model, fit.dof), (Model::OwnLines, 8));
        assert!((fit.segments[1].mean.rate + 0.004).abs() < 0.001, "a gap may shrink");
    }

    #[test]
    fn two_readings_after_work_borrow_the_rate_of_earlier_stretches() {
        let mut points = grown(0, 0.0, 0.40, 0.005, 0.001);
        points.extend(grown(1, 48.0, 0.40, 0.009, 0.001));
        points.extend(stretch(2, &[(96.0, 0.40), (104.0, 0.30)]));
        let fit = Segmented::fit(&points).unwrap();
        assert_eq!(fit.model, Model::SharedRate);
        assert!(0.005 < fit.segments[2].mean.rate, "not the −12 µm/h of the two readings alone");
    }

    #[test]
    fn a_single_old_reading_does_not_force_one_rate_on_the_others() {
        let mut points = grown(0, 0.0, 0.40, 0.002, 0.001);
        points.extend(stretch(1, &[(48.0, 0.35)]));
        points.extend(grown(2, 56.0, 0.40, 0.009, 0.001));
        let fit = Segmented::fit(&points).unwrap();
        assert_eq!((fit.model, fit.dof), (Model::OwnLines, 13 - 5));
        assert!((fit.segments[2].mean.rate - 0.009).abs() < 1e-4);
    }

    proptest! {
        #[test]
        fn a_noiseless_line_comes_back(
            level in 0.0..2.0_f64, rate in -0.02..0.02_f64, start in 0.0..20_000.0_f64,
            drop in 0.0..1.0_f64,
        ) {
            let mut points = grown(0, start, level, rate, 0.0);
            points.extend(grown(1, start + 48.0, level - drop, rate, 0.0));
            let fit = Segmented::fit(&points).unwrap();
            prop_assert_eq!(fit.model, Model::SharedRate, "fewer numbers say the same");
            prop_assert!((fit.segments[1].mean.rate - rate).abs() < 1e-11);
            prop_assert!((fit.segments[1].mean.at(start + 48.0) - (level - drop)).abs() < 1e-9);
            prop_assert!(fit.sigma < 1e-9);
        }

        #[test]
        fn another_meter_or_a_thicker_shim_only_moves_the_line(
            gaps in prop::collection::vec(0.1..1.5, 8..20),
            hours in -5_000.0..5_000.0_f64, mm in -0.5..0.5_f64, cut in 3_usize..6,
        ) {
            let at = |place: usize| count(place) * 7.3;
            let points: Vec<Observation> = gaps.iter().enumerate()
                .map(|(place, &y)| Observation { x: at(place), y, segment: place / cut })
                .collect();
            let moved: Vec<Observation> =
                points.iter().map(|p| Observation { x: p.x + hours, y: p.y + mm, ..*p }).collect();
            if let (Ok(a), Ok(b)) = (Segmented::fit(&points), Segmented::fit(&moved)) {
                prop_assert_eq!(a.model, b.model);
                prop_assert!((a.log_likelihood - b.log_likelihood).abs() < 1e-6);
                for (a, b) in a.segments.iter().zip(&b.segments) {
                    prop_assert!((a.mean.rate - b.mean.rate).abs() < 1e-9);
                    prop_assert!((a.mean.at(9.0) + mm - b.mean.at(9.0 + hours)).abs() < 1e-8);
                    prop_assert!((a.mean.se_at(9.0) - b.mean.se_at(9.0 + hours)).abs() < 1e-8);
                }
            }
        }

        #[test]
        fn any_numbers_give_a_finite_fit_or_a_reason(
            points in prop::collection::vec((any::<f64>(), any::<f64>(), 0_usize..2), 0..12),
        ) {
            let mut segment = 0;
            let points: Vec<Observation> = points.into_iter()
                .map(|(x, y, step)| { segment += step; Observation { x, y, segment } })
                .collect();
            if let Ok(fit) = Segmented::fit(&points) {
                prop_assert!(fit.sigma.is_finite() && fit.log_likelihood.is_finite());
                for it in &fit.segments {
                    prop_assert!(it.mean.at(0.0).is_finite() && it.mean.rate.is_finite());
                }
            }
        }
    }
}
