//! What straight lines through one station say: growth, hours left, chances.

use crate::domain::{
    machine::Limits,
    statistics::{t_cdf, t_quantile},
    trend::{
        Bounded, Crossing, Mean, Model, Observation, Reach, Region, SegmentMean, Segmented, Tried,
        WhyNot, behind, count,
    },
};

/// How sure an interval is when nobody asks for another: four in five.
pub const CONFIDENCE: f64 = 0.80;

/// More hours than this are never: a thousand years.
const NEVER_H: f64 = 1e7;

/// Straight lines through one station's readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// What the segments share.
    pub model: Model,
    /// Oldest first; at least one.
    pub segments: Vec<Segment>,
    /// The most likely scatter of readings about the lines; zero if lines pass inside every
    /// bracket.
    pub sigma_mm: f64,
    /// Its standard error; `None` where there is no scatter to be seen.
    pub sigma_se_mm: Option<f64>,
    /// The scatter that intervals are made of.
    pub spread_mm: f64,
    /// Readings that the lines use.
    pub n: usize,
    /// Degrees of freedom behind the intervals.
    pub dof: usize,
    /// ln L: ln of the probability of a bracket, of an exact reading its density per mm. `None` if
    /// it grows without end.
    pub log_likelihood: Option<f64>,
    /// What fresh edges wear beyond the line while they break in, in mm, if the model has it.
    pub break_in_mm: Option<f64>,
    /// The newest segment's mean over service hours, with the variances of its intervals.
    pub mean: Mean,
    /// Service hours of the newest reading: hours left count from here.
    pub last_h: f64,
    /// Every model that could be tried, with its score.
    pub tried: Vec<Tried>,
    /// Service hours of a change that no recorded work explains and that the lines run through; the
    /// newest, if there are several.
    pub through_break_h: Option<f64>,
    /// [`Fit::factor`] at [`CONFIDENCE`]: a screen asks for it at every point of a fan.
    usual_factor: Option<f64>,
}

/// A stretch between interventions and its straight line.
#[derive(Clone, Debug, PartialEq)]
pub struct Segment {
    /// Which one: the `segment` of its points.
    pub index: usize,
    /// Service hours of the work that began it, or of the first reading.
    pub from_h: f64,
    /// Service hours of the work that ended it, or of the last reading.
    pub to_h: f64,
    /// The line at service hour 0, where the first hour meter stood at 0.
    pub intercept_mm: f64,
    /// Its standard error, for intervals.
    pub intercept_se: f64,
    /// Growth in mm per hour; negative while the gap shrinks.
    pub rate: f64,
    /// Its standard error, for intervals.
    pub rate_se: f64,
    /// Readings the line rests on.
    pub n: usize,
    /// Standard errors from the observed information; `None` where there is no scatter.
    pub plain: Option<PlainErrors>,
    /// The line with all that its intervals are made of.
    pub told: SegmentMean,
}

/// Standard errors from the observed information alone, as other programs give them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlainErrors {
    /// Of the line at service hour 0.
    pub intercept_mm: f64,
    /// Of its growth, in mm per hour.
    pub rate: f64,
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

impl Which {
    /// The word key of this limit, for other programs.
    pub const fn key(self) -> &'static str {
        match self {
            Self::SetMax => "set_max",
            Self::WorkingMax => "working_max",
            Self::StopMax => "stop_max",
            Self::WorkingMin => "working_min",
            Self::StopMin => "stop_min",
            Self::Asked => "asked",
        }
    }

    /// Which way it is met; `None` for a length that somebody asked about.
    pub const fn reach(self) -> Option<Reach> {
        match self {
            Self::SetMax | Self::WorkingMax | Self::StopMax => Some(Reach::Up),
            Self::WorkingMin | Self::StopMin => Some(Reach::Down),
            Self::Asked => None,
        }
    }
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
    /// From here on a single reading could be beyond it, as sure as the interval; `None` if that
    /// is not in sight.
    pub reading_h: Option<f64>,
    /// The first and the last hour at which a line inside every bracket meets it, if there are
    /// such lines that do; the last is `None` if one of them never does.
    pub exact_h: Option<(f64, Option<f64>)>,
    /// Service hours of a change that is not in the log and that this forecast runs through: then
    /// it is no forecast of the gap as it is now.
    pub through_break_h: Option<f64>,
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
            .map(|told| {
                let SegmentMean { segment, n, mean, plain, .. } = told;
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
                    plain: plain.map(|it| PlainErrors {
                        intercept_mm: it.se_at(0.0),
                        rate: it.rate_var.sqrt(),
                    }),
                    told: told.clone(),
                }
            })
            .collect();
        let mean = fitted.segments.last().ok_or(WhyNot::NoReadings)?.mean;
        Ok(Self {
            model: fitted.model,
            segments,
            sigma_mm: fitted.sigma,
            sigma_se_mm: fitted.sigma_se,
            spread_mm: fitted.spread,
            n: fitted.n,
            dof: fitted.dof,
            log_likelihood: fitted.log_likelihood,
            break_in_mm: fitted.break_in_mm,
            mean,
            last_h,
            tried: fitted.tried.clone(),
            through_break_h: None,
            usual_factor: factor(CONFIDENCE, fitted.dof),
        })
    }

    /// The line that intervals stand about.
    fn about(&self) -> Mean {
        self.segments.last().map_or(self.mean, |it| it.told.about)
    }

    /// Lines inside every bracket of the newest segment, if the fit is made of such lines.
    pub fn inside(&self) -> Option<&Region> {
        self.segments.last()?.told.inside.as_ref()
    }

    /// The interval of the newest segment's growth, as [`SegmentMean::rates`].
    ///
    /// `None` unless 0 < confidence < 1.
    pub fn rate_interval(&self, confidence: f64) -> Option<(f64, f64)> {
        Some(self.segments.last()?.told.rates(self.factor(confidence)?))
    }

    /// Told that the log is silent about these changes; each comes with the segment it lies in.
    #[must_use]
    pub(crate) fn running_through(self, changes: impl Iterator<Item = (usize, f64)>) -> Self {
        let newest = self.segments.last().map(|it| it.index);
        let bends =
            |(segment, at_h)| (!self.model.own_rates() || newest == Some(segment)).then_some(at_h);
        let through_break_h = changes.filter_map(bends).reduce(f64::max);
        Self { through_break_h, ..self }
    }

    /// How many readings its growth rests on: those of the newest segment alone, or with one growth
    /// for all segments every one.
    pub fn rate_readings(&self) -> usize {
        match self.segments.last() {
            Some(newest) if self.model.own_rates() => newest.n,
            _ => self.n,
        }
    }

    /// The fitted mean at a reading; `None` if its stretch says nothing about a line.
    pub(crate) fn mean_of(&self, seen: &Observation) -> Option<f64> {
        self.at(seen, |it| it.intercept_mm + it.rate * seen.x)
    }

    /// The same of the line that allows for scatter. A line inside all brackets may run along their
    /// edges, with every reading on one side of it.
    pub(crate) fn about_of(&self, seen: &Observation) -> Option<f64> {
        self.at(seen, |it| it.told.about.at(seen.x))
    }

    fn at(&self, seen: &Observation, line: impl Fn(&Segment) -> f64) -> Option<f64> {
        let place = self.segments.binary_search_by_key(&seen.segment, |it| it.index).ok()?;
        let extra = self.break_in_mm.map_or(0.0, |mm| mm * behind(seen));
        Some(line(self.segments.get(place)?) + extra)
    }

    /// With the readings' own uncertainty counted as scatter.
    ///
    /// What leaves and temperatures do to a reading they do to every reading of the same leaves
    /// and the same jaw, so it does not show as scatter about the lines, and it cancels in a rate.
    /// It does count for where a reading may lie.
    #[must_use]
    pub fn with_reading_u(self, u_mm: f64) -> Self {
        let wider = |mm: f64| mm.hypot(u_mm);
        Self { sigma_mm: wider(self.sigma_mm), spread_mm: wider(self.spread_mm), ..self }
    }

    /// Growth now in mm per hour: the newest segment's rate.
    pub const fn rate(&self) -> f64 {
        self.mean.rate
    }

    /// How many standard errors a two-sided interval of this confidence allows.
    ///
    /// `None` unless 0 < confidence < 1.
    pub fn factor(&self, confidence: f64) -> Option<f64> {
        let usual = confidence.total_cmp(&CONFIDENCE).is_eq();
        if usual { self.usual_factor } else { factor(confidence, self.dof) }
    }

    /// The interval of the mean at service hour `at_h`; it holds every line inside all brackets, if
    /// there are such lines.
    ///
    /// `None` unless 0 < confidence < 1.
    pub fn band_mm(&self, at_h: f64, confidence: f64) -> Option<(f64, f64)> {
        let about = self.about();
        let (mean, reach) = (about.at(at_h), self.factor(confidence)? * about.se_at(at_h));
        let (low, high) = self.inside().map_or((mean, mean), |it| it.levels(at_h));
        Some((low.min(mean - reach), high.max(mean + reach)))
    }

    /// How sure the readings are that the mean lies beyond `limit_mm` at service hour `at_h`.
    ///
    /// Without any scatter it is 0, 1, or ½ on the limit itself.
    pub fn chance_beyond(&self, limit_mm: f64, reach: Reach, at_h: f64) -> f64 {
        let about = self.about();
        let mean = about.at(at_h);
        let beyond = match reach {
            Reach::Up => mean - limit_mm,
            Reach::Down => limit_mm - mean,
        };
        let se = about.se_at(at_h);
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
            (Which::SetMax, limits.set().max),
            (Which::WorkingMax, limits.working().max),
            (Which::StopMax, limits.stop().max),
            (Which::WorkingMin, limits.working().min),
            (Which::StopMin, limits.stop().min),
        ]
        .map(|(which, limit)| self.to(which, limit.mm(), confidence, factor))
        .to_vec()
    }

    /// Hours to a length somebody asked about, met from the side that [`Fit::reach`] says.
    ///
    /// `None` unless the limit is finite and 0 < confidence < 1.
    pub fn hours_to_length(&self, limit_mm: f64, confidence: f64) -> Option<HoursTo> {
        self.hours_to_one(Which::Asked, limit_mm, confidence)
    }

    /// Hours to one limit, met from its own side.
    ///
    /// `None` unless the limit is finite and 0 < confidence < 1.
    pub fn hours_to_one(&self, which: Which, limit_mm: f64, confidence: f64) -> Option<HoursTo> {
        let factor = self.factor(confidence).filter(|_| limit_mm.is_finite())?;
        Some(self.to(which, limit_mm, confidence, factor))
    }

    /// Which way a limit is met: its own, else from above only where a gap that shrinks still lies
    /// above it.
    pub fn reach(&self, which: Which, limit_mm: f64) -> Reach {
        let coming_down = self.rate() < 0.0 && limit_mm <= self.mean.at(self.last_h);
        which.reach().unwrap_or(if coming_down { Reach::Down } else { Reach::Up })
    }

    fn to(&self, which: Which, limit_mm: f64, confidence: f64, factor: f64) -> HoursTo {
        let reach = self.reach(which, limit_mm);
        let newest = self.segments.last();
        let told = newest.map(|it| it.told.meets(limit_mm, reach, self.last_h, factor));
        let crossing = told.unwrap_or(Crossing { estimate: None, low: None, high: None });
        let now = self.mean.at(self.last_h);
        let passed = match reach {
            Reach::Up => limit_mm < now,
            Reach::Down => now < limit_mm,
        };
        let from_last = |end: Option<f64>| {
            end.map(|at_h| at_h - self.last_h).filter(|hours| hours.abs() < NEVER_H)
        };
        let reading = self.about().with_scatter(self.spread_mm);
        let exact = self.inside().and_then(|it| it.meets(limit_mm, reach));
        let exact_h =
            exact.and_then(|(first, last)| Some((from_last(Some(first))?, from_last(last))));
        let told = Crossing {
            estimate: from_last(crossing.estimate),
            low: from_last(crossing.low),
            high: from_last(crossing.high),
        };
        HoursTo {
            which,
            limit_mm,
            estimate_h: told.estimate,
            low_h: told.low,
            high_h: told.high,
            confidence,
            bounded: told.bounded(),
            passed,
            reading_h: from_last(reading.meets(limit_mm, reach, self.last_h, factor).low),
            exact_h,
            through_break_h: self.through_break_h,
        }
    }
}

fn factor(confidence: f64, dof: usize) -> Option<f64> {
    t_quantile(f64::midpoint(1.0, confidence), count(dof)).filter(|_| 0.0 < confidence)
}
