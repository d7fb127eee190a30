//! What straight lines through one station say: growth, hours left, chances.

use crate::domain::{
    machine::Limits,
    statistics::{t_cdf, t_quantile},
    trend::{Bounded, Crossing, Mean, Model, Reach, SegmentMean, Segmented, WhyNot, count},
};

/// How sure an interval is when nobody asks for another: four in five.
pub const CONFIDENCE: f64 = 0.80;

/// Straight lines through one station's readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// What the segments share.
    pub model: Model,
    /// Oldest first; at least one.
    pub segments: Vec<Segment>,
    /// Standard deviation of the readings about the lines.
    pub sigma_mm: f64,
    /// Degrees of freedom behind it.
    pub dof: usize,
    /// Gaussian log-likelihood, density per mm.
    pub log_likelihood: f64,
    /// The newest segment's mean, in mm over service hours.
    pub mean: Mean,
    /// Service hours of the newest reading: hours left count from here.
    pub last_h: f64,
}

/// A stretch between interventions and its straight line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Which one: the `segment` of its points.
    pub index: usize,
    /// Service hours of the work that began it, or of the first reading.
    pub from_h: f64,
    /// Service hours of the work that ended it, or of the last reading.
    pub to_h: f64,
    /// The line at service hour 0, where the first hour meter stood at 0.
    pub intercept_mm: f64,
    /// Its standard error.
    pub intercept_se: f64,
    /// Growth in mm per hour; negative while the gap shrinks.
    pub rate: f64,
    /// Its standard error.
    pub rate_se: f64,
    /// Readings the line rests on.
    pub n: usize,
}

/// Which limit is met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The upper end of the set range.
    SetMax,
    /// The upper working limit.
    WorkingMax,
    /// The upper stop limit.
    StopMax,
    /// The lower working limit.
    WorkingMin,
    /// The lower stop limit.
    StopMin,
    /// A length somebody asked about.
    Asked,
}

/// Hours from the newest reading until the mean meets a limit.
///
/// A negative number of hours lies in the past.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoursTo {
    /// Which limit.
    pub which: Which,
    /// The limit.
    pub limit_mm: f64,
    /// Where the mean meets it; `None` if it does not move towards it.
    pub estimate_h: Option<f64>,
    /// The lower end of the interval.
    pub low_h: Option<f64>,
    /// The upper end.
    pub high_h: Option<f64>,
    /// How sure the interval is.
    pub confidence: f64,
    /// Which ends exist.
    pub bounded: Bounded,
    /// Whether the mean was beyond the limit at the newest reading.
    pub passed: bool,
}

impl Fit {
    pub(crate) fn new(
        fitted: &Segmented,
        ends: &[(f64, f64)],
        last_h: f64,
    ) -> Result<Self, WhyNot> {
        let segments = fitted
            .segments
            .iter()
            .map(|SegmentMean { segment, n, mean }| {
                let (from_h, to_h) = ends.get(*segment).copied().unwrap_or((0.0, last_h));
                Segment {
                    index: *segment,
                    from_h,
                    to_h,
                    intercept_mm: mean.at(0.0),
                    intercept_se: mean.se_at(0.0),
                    rate: mean.rate,
                    rate_se: mean.rate_var.sqrt(),
                    n: *n,
                }
            })
            .collect();
        let mean = fitted.segments.last().ok_or(WhyNot::NoReadings)?.mean;
        Ok(Self {
            model: fitted.model,
            segments,
            sigma_mm: fitted.sigma,
            dof: fitted.dof,
            log_likelihood: fitted.log_likelihood,
            mean,
            last_h,
        })
    }

    /// Growth now in mm per hour: the newest segment's rate.
    pub const fn rate(&self) -> f64 {
        self.mean.rate
    }

    /// How many standard errors a two-sided interval of this confidence allows.
    ///
    /// `None` unless 0 < confidence < 1.
    pub fn factor(&self, confidence: f64) -> Option<f64> {
        t_quantile(f64::midpoint(1.0, confidence), count(self.dof)).filter(|_| 0.0 < confidence)
    }

    /// The interval of the mean at service hour `at_h`.
    ///
    /// `None` unless 0 < confidence < 1.
    pub fn band_mm(&self, at_h: f64, confidence: f64) -> Option<(f64, f64)> {
        let reach = self.factor(confidence)? * self.mean.se_at(at_h);
        let mean = self.mean.at(at_h);
        Some((mean - reach, mean + reach))
    }

    /// How sure the readings are that the mean lies beyond `limit_mm` at service hour `at_h`.
    ///
    /// Without any scatter it is 0, 1, or ½ on the limit itself.
    pub fn chance_beyond(&self, limit_mm: f64, reach: Reach, at_h: f64) -> f64 {
        let mean = self.mean.at(at_h);
        let beyond = match reach {
            Reach::Up => mean - limit_mm,
            Reach::Down => limit_mm - mean,
        };
        let se = self.mean.se_at(at_h);
        let certain = if beyond > 0.0 {
            1.0
        } else if beyond < 0.0 {
            0.0
        } else {
            0.5
        };
        if se > 0.0 { t_cdf(beyond / se, count(self.dof)).unwrap_or(certain) } else { certain }
    }

    /// Hours to every limit of a line, at [`CONFIDENCE`].
    pub fn hours_to(&self, limits: &Limits) -> Vec<HoursTo> {
        self.hours_to_at(limits, CONFIDENCE)
    }

    /// Hours to every limit of a line, at another confidence; none unless 0 < confidence < 1.
    pub fn hours_to_at(&self, limits: &Limits, confidence: f64) -> Vec<HoursTo> {
        let Some(factor) = self.factor(confidence) else { return Vec::new() };
        [
            (Which::SetMax, limits.set().max, Reach::Up),
            (Which::WorkingMax, limits.working().max, Reach::Up),
            (Which::StopMax, limits.stop().max, Reach::Up),
            (Which::WorkingMin, limits.working().min, Reach::Down),
            (Which::StopMin, limits.stop().min, Reach::Down),
        ]
        .map(|(which, limit, reach)| self.to(which, limit.mm(), reach, confidence, factor))
        .to_vec()
    }

    /// Hours to a length somebody asked about, met in the direction the gap grows.
    ///
    /// `None` unless the limit is finite and 0 < confidence < 1.
    pub fn hours_to_length(&self, limit_mm: f64, confidence: f64) -> Option<HoursTo> {
        let factor = self.factor(confidence).filter(|_| limit_mm.is_finite())?;
        let reach = if self.rate() < 0.0 { Reach::Down } else { Reach::Up };
        Some(self.to(Which::Asked, limit_mm, reach, confidence, factor))
    }

    fn to(
        &self,
        which: Which,
        limit_mm: f64,
        reach: Reach,
        confidence: f64,
        factor: f64,
    ) -> HoursTo {
        let crossing: Crossing = self.mean.meets(limit_mm, reach, self.last_h, factor);
        let now = self.mean.at(self.last_h);
        let passed = match reach {
            Reach::Up => limit_mm < now,
            Reach::Down => now < limit_mm,
        };
        let from_last = |end: Option<f64>| end.map(|at_h| at_h - self.last_h);
        HoursTo {
            which,
            limit_mm,
            estimate_h: from_last(crossing.estimate),
            low_h: from_last(crossing.low),
            high_h: from_last(crossing.high),
            confidence,
            bounded: crossing.bounded(),
            passed,
        }
    }
}
