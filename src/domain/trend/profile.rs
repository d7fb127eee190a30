//! Intervals by the likelihood itself: how far a number can be moved before the readings object.
//!
//! A second way to the same answer, without the assumption that a likelihood is a parabola. It is
//! the plain textbook interval, for comparison with other programs; the intervals that decisions
//! rest on are those of the fit, which allow for few readings and wide leaf steps.

use crate::domain::{
    statistics::normal_quantile,
    trend::{
        Crossing, Mean, Model, Observation, Reach,
        likelihood::{Held, Lines, between, beyond},
        segments::{Candidate, Readings, plain_mean},
    },
};

/// The likelihood of the newest line, held to a rate or to a mean at an hour.
#[derive(Debug)]
pub struct Profile<'a> {
    lines: Lines<'a>,
    top: f64,
    mean: Mean,
}

/// How closely held lines are sought; the interval's error is of its square.
const ENOUGH: f64 = 1e-9;

/// Runs `ask` with the profile of a model; `None` if the model has no maximum, because lines pass
/// inside every bracket or a number is left free.
pub fn with_profile<T>(
    observations: &[Observation],
    model: Model,
    ask: impl FnOnce(&Profile<'_>) -> T,
) -> Option<T> {
    let readings = Readings::of(observations).ok()?;
    let candidate = Candidate::of(model, &readings, None)?;
    let maximum = candidate.maximum.as_ref()?;
    let newest = readings.stretches.len().checked_sub(1)?;
    let profile = Profile {
        lines: candidate.refined(),
        top: maximum.log_likelihood,
        mean: plain_mean(&candidate.lines, maximum, newest),
    };
    Some(ask(&profile))
}

impl Profile<'_> {
    /// √(2·(ln L̂ − ln L)) for the newest line held to something: in standard errors where the
    /// likelihood is a parabola.
    fn objection(&self, held: Held) -> Option<f64> {
        let held = self.lines.maximise(held, ENOUGH).ok()?;
        Some((2.0 * (self.top - held.log_likelihood)).max(0.0).sqrt())
    }

    /// How strongly the readings object to a rate of the newest line, in standard errors.
    pub(crate) fn objection_to_rate(&self, rate: f64) -> Option<f64> {
        self.objection(Held::Rate(rate))
    }

    /// The rates that the readings do not object to: the profile-likelihood interval
    /// {b : 2·(ln L̂ − ln L(b)) ≤ χ²₁(confidence)}.
    ///
    /// `None` unless 0 < confidence < 1. *Reference:* Meeker and Escobar, Statistical Methods for
    /// Reliability Data, 1998, section 8.2.
    pub fn rate(&self, confidence: f64) -> Option<(f64, f64)> {
        let z = factor(confidence)?;
        let ask = |rate| self.objection(Held::Rate(rate));
        let step = z * self.mean.rate_var.sqrt();
        let low = beyond(&ask, z, self.mean.rate, -step)?;
        Some((low, beyond(&ask, z, self.mean.rate, step)?))
    }

    /// The hours at which the mean may meet a limit, as [`Mean::meets`] but by the likelihood.
    ///
    /// `None` unless 0 < confidence < 1.
    pub fn meets(&self, limit: f64, reach: Reach, now: f64, confidence: f64) -> Option<Crossing> {
        let z = factor(confidence)?;
        let parabola = self.mean.meets(limit, reach, now, z);
        let ask = |at: f64| self.objection(Held::Through(at, limit));
        let steady = self.objection(Held::Rate(0.0))?;
        let scale = self.lines.scale;
        let none = Crossing { estimate: parabola.estimate, low: None, high: None };
        // The hour at which a mean at the limit is least believable.
        let farthest = self.mean.least_believable(limit);
        Some(match parabola.estimate {
            Some(at) if z < steady => {
                let step = 0.1 * ((at - self.mean.centre).abs() + scale);
                let low = parabola.low.map_or(step, |low| 0.8 * (at - low));
                let high = parabola.high.map_or(step, |high| 0.8 * (high - at));
                Crossing {
                    low: beyond(&ask, z, at, -low.max(1e-9 * scale)),
                    high: beyond(&ask, z, at, high.max(1e-9 * scale)),
                    ..none
                }
            }
            Some(at) if farthest < at => {
                Crossing { low: between(&ask, z, at, farthest, 1e-12), ..none }
            }
            None if steady <= z && farthest <= now => {
                // Not growing towards it, but perhaps growing: not before this.
                let far = now + 1e6 * scale;
                let ahead = between(&ask, z, far, farthest, 1e-15);
                Crossing { low: ahead.filter(|at| now <= *at), ..none }
            }
            _ => none,
        })
    }
}

/// Standard errors on either side; `None` unless 0 < confidence < 1.
fn factor(confidence: f64) -> Option<f64> {
    normal_quantile(f64::midpoint(1.0, confidence)).filter(|_| 0.0 < confidence)
}
