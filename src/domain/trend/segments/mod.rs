//! Straight lines between interventions: one each, or one rate for all.

mod candidates;
#[cfg(test)]
mod tests;

use crate::domain::trend::{
    Crossing, Mean, Observation, Reach, WhyNot, count,
    likelihood::{Held, Lines, Maximum, Region, Stretch, Typical, Weights},
};
pub(crate) use candidates::{Candidate, Readings, one_line_inside};

/// What the segments have in common.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Model {
    /// Nothing but the scatter: each segment has its own level and its own rate.
    OwnLines,
    /// The rate: each segment has its own level only.
    SharedRate,
    /// The rate, and how fresh edges break in.
    SharedRateBreakIn,
    /// How fresh edges break in; levels and rates are each segment's own.
    OwnLinesBreakIn,
}

/// A model that was tried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tried {
    /// Which.
    pub model: Model,
    /// Its numbers, σ among them.
    pub parameters: usize,
    /// Its largest log-likelihood; `None` if it has none, because exact readings lie on its lines.
    pub log_likelihood: Option<f64>,
    /// Its score, the smaller the better; `None` where there are too few readings for one.
    pub aicc: Option<f64>,
}

/// One segment's mean.
#[derive(Clone, Debug, PartialEq)]
pub struct SegmentMean {
    /// Which one, as named by its observations.
    pub segment: usize,
    /// How many observations it has.
    pub n: usize,
    /// The mean, with the variances that intervals are made of. With own lines, a segment that
    /// tells no rate of its own borrows the one that all the others share.
    pub mean: Mean,
    /// The line that intervals stand about: the same, but where lines pass inside every bracket the
    /// one that allows for scatter, which need not be one of them.
    pub about: Mean,
    /// The mean with the inverse of the observed information, as other programs give it; `None`
    /// where there is no scatter.
    pub plain: Option<Mean>,
    /// Where the lines can be that pass inside every bracket, if there are such lines.
    pub inside: Option<Region>,
}

/// A fit over all segments with one scatter.
#[derive(Clone, Debug, PartialEq)]
pub struct Segmented {
    /// What the segments share.
    pub model: Model,
    /// Every segment that says where its gap was, oldest first; at least one.
    pub segments: Vec<SegmentMean>,
    /// The most likely scatter σ; zero if lines pass inside every bracket.
    pub sigma: f64,
    /// Standard error of σ; `None` where there is no scatter.
    pub sigma_se: Option<f64>,
    /// The scatter that intervals are made of: never much below the leaf step.
    pub spread: f64,
    /// Observations less levels, rates and break-in.
    pub dof: usize,
    /// Observations used.
    pub n: usize,
    /// ln L at its maximum: ln of the probability of a bracket, of an exact reading its density
    /// per mm. `None` if it grows without end.
    pub log_likelihood: Option<f64>,
    /// Growth beyond the line over the whole break-in, in mm, if the model has it.
    pub break_in_mm: Option<f64>,
    /// Every model that could be tried.
    pub tried: Vec<Tried>,
}

/// How much is taken off the log-likelihood of intervals for each unit of mean leaf step over σ,
/// times the root of the number of readings.
///
/// Brackets alone let σ shrink to nothing, and intervals with it: of six readings 8 h and 40 µm
/// apart, felt with leaves 50 µm apart and a scatter of 20 µm, seven in ten lie on one line, and
/// the range of such lines holds the truth 44 times in 100. The toll says beforehand that a hand
/// does not scatter far less than its leaves are apart. Its size was found by simulation
/// (`tests/it/coverage.rs`); it is nothing for exact readings and fades as readings become many.
const TOLL: f64 = 0.075;

/// How closely the lines of intervals are sought.
const ENOUGH: f64 = 1e-11;

/// Growth of less than a thousandth of a nanometre over the spread of the hours is what rounding
/// leaves of none. In mm.
const NONE_MM: f64 = 1e-9;

impl SegmentMean {
    /// Where the mean meets a limit, as [`Mean::meets`]. The interval stands about the line that
    /// allows for scatter, and holds every line inside all brackets.
    pub fn meets(&self, limit: f64, reach: Reach, now: f64, factor: f64) -> Crossing {
        let told = self.about.meets(limit, reach, now, factor);
        let Some(inside) = &self.inside else { return told };
        let Crossing { estimate, .. } = self.mean.meets(limit, reach, now, 0.0);
        Crossing { estimate, ..told }.holding(inside.meets(limit, reach))
    }

    /// The interval of its rate, so many standard errors to either side; it holds every line inside
    /// all brackets.
    pub fn rates(&self, factor: f64) -> (f64, f64) {
        let reach = factor * self.about.rate_var.sqrt();
        let (low, high) = (self.about.rate - reach, self.about.rate + reach);
        match self.inside.as_ref().map(Region::rates) {
            Some((least, largest)) => (low.min(least), high.max(largest)),
            None => (low, high),
        }
    }
}

impl Model {
    /// A rate for each segment.
    pub const fn own_rates(self) -> bool {
        matches!(self, Self::OwnLines | Self::OwnLinesBreakIn)
    }

    /// Another rate while edges are fresh.
    pub const fn break_in(self) -> bool {
        matches!(self, Self::SharedRateBreakIn | Self::OwnLinesBreakIn)
    }
}

impl Segmented {
    /// Fits the models that the readings allow and keeps the one with the smallest `AICc`.
    ///
    /// *Estimates* levels, rates and one scatter by maximum likelihood: a bracket counts with the
    /// probability Φ((hi − µ)/σ) − Φ((lo − µ)/σ) of a reading in it, an exact reading with its
    /// density. *Assumes* normal errors of one size throughout. *Reference:* Tobin, Econometrica
    /// 26 (1958) 24, for open ends; `AICc` = −2·ln L + 2p + 2p(p+1)/(n−p−1) with p counting σ,
    /// Hurvich and Tsai, Biometrika 76 (1989) 297. A model is out where n ≤ p + 1; own lines are
    /// out while the newest of several segments has fewer than three readings or tells no rate;
    /// break-in is out unless four readings saw it.
    ///
    /// Where lines pass inside every bracket there is no scatter to be seen and no standard error;
    /// the fit says so and carries the exact range of those lines.
    ///
    /// Intervals stand about these lines, as wide as such readings make them on average, with the
    /// scatter of the same likelihood under a toll on small σ, and with n/(n − p) times the
    /// variance, which makes exact readings Student's.
    ///
    /// # Errors
    ///
    /// [`WhyNot`] if not even one shared rate can be estimated with its scatter.
    pub fn fit(observations: &[Observation]) -> Result<Self, WhyNot> {
        let readings = Readings::of(observations)?;
        Self::best(&readings, &Candidate::all(&readings))
    }

    /// Fits one model only.
    ///
    /// # Errors
    ///
    /// [`WhyNot`] as [`Segmented::fit`], or if the readings do not allow that model.
    pub fn fit_with(observations: &[Observation], model: Model) -> Result<Self, WhyNot> {
        let readings = Readings::of(observations)?;
        let only: Vec<Candidate<'_>> = Candidate::of(model, &readings, None).into_iter().collect();
        Self::best(&readings, &only)
    }

    fn best(readings: &Readings<'_>, candidates: &[Candidate<'_>]) -> Result<Self, WhyNot> {
        let best = candidates
            .iter()
            .reduce(|best, other| if other.beats(best) { other } else { best })
            .ok_or(WhyNot::TooLarge)?;
        let tried = candidates.iter().map(Candidate::tried).collect();
        let shared = candidates.iter().find(|it| !it.model.own_rates()).unwrap_or(best);
        let fitted = Self::finish(readings, best, shared, tried);
        let finite = fitted.segments.iter().all(|SegmentMean { mean, .. }| {
            [mean.at(0.0), mean.rate, mean.se_at(0.0), mean.rate_var].iter().all(|x| x.is_finite())
        });
        if finite { Ok(fitted) } else { Err(WhyNot::TooLarge) }
    }

    fn finish(
        readings: &Readings<'_>,
        best: &Candidate<'_>,
        shared: &Candidate<'_>,
        tried: Vec<Tried>,
    ) -> Self {
        let n = readings.n;
        let dof = n.saturating_sub(best.parameters - 1).max(1);
        let student = count(n) / count(dof);
        let careful = Careful::of(readings, best);
        let stretches = best.lines.stretches;
        let mut segments = Vec::with_capacity(stretches.len());
        for (place, stretch) in stretches.iter().enumerate() {
            let plain = best.maximum.as_ref().map(|it| plain_mean(&best.lines, it, place));
            let wide = careful.as_ref().map(|it| it.mean(place));
            let inside = best.inside.as_ref().and_then(|it| it.get(place)).cloned();
            let mut about = line(stretch, plain.as_ref(), wide.as_ref(), inside.as_ref(), student);
            let mut told = about;
            if let Some(inside) = &inside {
                (told.rate, told.level) = inside.nearest(about.rate, about.level);
            }
            if best.model.own_rates() && !stretch.tells_rate {
                (told.rate, told.rate_var) = rate_of_all(readings, shared, student);
                (about.rate, about.rate_var) = (told.rate, told.rate_var);
            }
            for it in [&mut told, &mut about] {
                if it.rate.abs() * readings.scale < NONE_MM {
                    it.rate = 0.0;
                }
            }
            segments.push(SegmentMean {
                segment: stretch.points.first().map_or(0, |it| it.segment),
                n: stretch.points.len(),
                mean: told,
                about,
                plain,
                inside,
            });
        }
        let sigma = best.maximum.as_ref().map_or(0.0, Maximum::sigma);
        let break_in = best.maximum.as_ref().filter(|_| best.model.break_in());
        Self {
            model: best.model,
            segments,
            sigma,
            sigma_se: best.maximum.as_ref().map(|it| sigma * it.ln_sigma_variance().sqrt()),
            spread: careful.map_or(sigma, |it| it.maximum.sigma()) * student.sqrt(),
            dof,
            n,
            log_likelihood: best.log_likelihood,
            break_in_mm: break_in.map(|it| best.lines.extra + second(it.numbers(0).1)),
            tried,
        }
    }
}

const fn second([_, second]: [f64; 2]) -> f64 {
    second
}

/// Lines under the toll on small scatter, with what readings tell about them on average.
struct Careful<'a> {
    lines: Lines<'a>,
    maximum: Maximum,
    typical: Typical,
}

impl<'a> Careful<'a> {
    /// `None` if exact readings lie on a line, so that nothing scatters.
    fn of(readings: &Readings<'_>, best: &Candidate<'a>) -> Option<Self> {
        let mut lines = best.refined();
        lines.toll = TOLL * readings.step * count(readings.n).sqrt();
        lines.sigma = lines.sigma.max(0.1 * readings.step);
        let maximum = lines.maximise(Held::Free, ENOUGH).ok()?;
        let typical = lines.typical(&maximum)?;
        Some(Self { lines, maximum, typical })
    }

    fn mean(&self, place: usize) -> Mean {
        let (at_centre, along) = level_and_rate(&self.lines);
        Mean {
            level_var: self.typical.covariance(place, &at_centre, &at_centre),
            covariance: self.typical.covariance(place, &at_centre, &along),
            rate_var: self.typical.covariance(place, &along, &along),
            ..plain_mean(&self.lines, &self.maximum, place)
        }
    }
}

/// The rate of all segments together with its variance, for one that tells none of its own.
fn rate_of_all(readings: &Readings<'_>, shared: &Candidate<'_>, student: f64) -> (f64, f64) {
    let told = Careful::of(readings, shared).map(|it| it.mean(0));
    let plain = shared.maximum.as_ref().map(|it| plain_mean(&shared.lines, it, 0));
    (plain.or(told).map_or(0.0, |it| it.rate), told.map_or(0.0, |it| it.rate_var * student))
}

/// The most likely line with the variances of the careful one. Without a most likely line it is
/// the careful one, and without that the middle of all that fit.
fn line(
    stretch: &Stretch<'_>,
    plain: Option<&Mean>,
    wide: Option<&Mean>,
    inside: Option<&Region>,
    student: f64,
) -> Mean {
    let middle = || {
        let (low, high) = inside.map_or((0.0, 0.0), |it| it.levels(stretch.centre));
        let (least, largest) = inside.map_or((0.0, 0.0), Region::rates);
        Mean {
            centre: stretch.centre,
            level: f64::midpoint(low, high),
            rate: f64::midpoint(least, largest),
            level_var: 0.0,
            covariance: 0.0,
            rate_var: 0.0,
        }
    };
    let at = plain.or(wide).copied().unwrap_or_else(middle);
    let spread = wide.or(plain).copied().unwrap_or_else(middle);
    Mean {
        level_var: spread.level_var * student,
        covariance: spread.covariance * student,
        rate_var: spread.rate_var * student,
        ..at
    }
}

/// A segment's mean with the inverse of the observed information.
pub(crate) fn plain_mean(lines: &Lines<'_>, maximum: &Maximum, place: usize) -> Mean {
    let guess = lines.guess.get(place).copied().unwrap_or_default();
    let ([level, own], [shared, _]) = maximum.numbers(place);
    let (at_centre, along) = level_and_rate(lines);
    Mean {
        centre: lines.stretches.get(place).map_or(0.0, |it| it.centre),
        level: guess.level + level,
        rate: guess.rate + if lines.shape.own_rates { own } else { shared } / lines.scale,
        level_var: maximum.covariance(place, &at_centre, &at_centre),
        covariance: maximum.covariance(place, &at_centre, &along),
        rate_var: maximum.covariance(place, &along, &along),
    }
}

/// Which numbers the level at the centre and the rate are made of.
fn level_and_rate(lines: &Lines<'_>) -> (Weights, Weights) {
    let unit = 1.0 / lines.scale;
    let along = if lines.shape.own_rates {
        Weights { own: [0.0, unit], shared: [0.0; 2] }
    } else {
        Weights { own: [0.0; 2], shared: [unit, 0.0] }
    };
    (Weights { own: [1.0, 0.0], shared: [0.0; 2] }, along)
}
