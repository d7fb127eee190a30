//! The models that some readings allow, each fitted and scored.
//!
//! Knows when a number can be told at all: how many readings it takes, at how many hours, with how
//! many ends. Does not know what a fit is used for.

use crate::domain::{
    quantity::{Hours, Length},
    trend::{
        Model, Observation, Tried, WhyNot, count,
        likelihood::{
            Guess, Held, Lines, Maximum, Region, Shape, Slopes, Stretch, Strip, behind, centre,
        },
        line::Moments,
    },
};

/// Gaps are kept in whole nanometres; less scatter than one is rounding. In mm.
const SIGMA_LEAST: f64 = 1e-6;
/// Fewer readings than this in the newest segment tell no rate of its own.
const OWN_RATE_LEAST: usize = 3;
/// Fewer readings than this during break-in tell nothing about it.
const BREAK_IN_LEAST: usize = 4;
/// Less scatter than this share of the leaf step is none.
const SEEN_LEAST: f64 = 0.02;
/// How closely the most likely lines are sought.
const ENOUGH: f64 = 1e-18;
/// A toll on small scatter that moves nothing but keeps a maximum in reach, and how closely the
/// lines under it are sought.
const VANISHING: f64 = 1e-9;
const LEANING_ENOUGH: f64 = 1e-11;

/// The readings that say where the gap was, between interventions.
#[derive(Clone, Debug)]
pub(crate) struct Readings<'a> {
    pub(crate) stretches: Vec<Stretch<'a>>,
    strips: Vec<Vec<Strip>>,
    guess: Vec<Guess>,
    sigma: f64,
    /// Root mean square of the hours about their centres.
    pub(crate) scale: f64,
    /// How many.
    pub(crate) n: usize,
    /// Mean width of the closed ones, in mm.
    pub(crate) step: f64,
}

/// One model with its most likely lines, or with all that pass inside every bracket.
#[derive(Clone, Debug)]
pub(crate) struct Candidate<'a> {
    pub(crate) model: Model,
    pub(crate) lines: Lines<'a>,
    pub(crate) maximum: Option<Maximum>,
    pub(crate) inside: Option<Vec<Region>>,
    pub(crate) parameters: usize,
    pub(crate) log_likelihood: Option<f64>,
    aicc: Option<f64>,
}

impl<'a> Readings<'a> {
    pub(crate) fn of(observations: &'a [Observation]) -> Result<Self, WhyNot> {
        if observations.is_empty() {
            return Err(WhyNot::NoReadings);
        }
        let mut stretches = Vec::new();
        let mut strips = Vec::new();
        let mut common = Slopes::default();
        for points in observations.chunk_by(|a, b| a.segment == b.segment) {
            let whole = whole(points).ok_or(WhyNot::TooLarge)?;
            if !says_where(points) {
                continue;
            }
            let free = Slopes::inside(&without_ends(&whole)).unwrap_or_default();
            common = common.and(free).unwrap_or_default();
            stretches.push(Stretch {
                points,
                centre: centre(points),
                tells_rate: free.only_zero(),
            });
            strips.push(whole);
        }
        let all = || stretches.iter().flat_map(|it| it.points);
        let (n, need) = (all().count(), stretches.len() + 2);
        if stretches.is_empty() {
            return Err(WhyNot::AllOpen(observations.len()));
        }
        let one_hour = || all().zip(all().skip(1)).all(|(a, b)| a.x.total_cmp(&b.x).is_eq());
        if 1 < n && one_hour() && all().all(Observation::is_closed) {
            return Err(WhyNot::SameHour);
        }
        if n < need {
            return Err(WhyNot::TooFewReadings { have: n, need });
        }
        if !common.only_zero() {
            let closed = all().all(Observation::is_closed);
            return Err(if closed { WhyNot::SameHour } else { WhyNot::TooOpen });
        }
        let widths: Vec<f64> = all().filter_map(Observation::width).collect();
        let step = widths.iter().sum::<f64>() / count(widths.len().max(1));
        let (guess, variance, sxx) = rough(&stretches).ok_or(WhyNot::TooLarge)?;
        let sigma = (variance + step * step / 12.0).sqrt().max(SIGMA_LEAST);
        let scale = (sxx / count(n)).sqrt();
        if !(sigma.is_finite() && scale.is_finite() && 0.0 < scale) {
            return Err(WhyNot::TooLarge);
        }
        Ok(Self { stretches, strips, guess, sigma, scale, n, step })
    }

    /// The regions of lines inside every bracket; `None` if there are none, or if break-in bends
    /// them.
    fn inside(&self, shape: Shape) -> Option<Vec<Region>> {
        let slopes = slopes(&self.strips, shape)?;
        let each = self.strips.iter().zip(slopes).zip(&self.stretches);
        each.map(|((strips, slopes), stretch)| Region::of(strips, slopes, stretch.centre)).collect()
    }

    /// Whether such lines keep clear of all ends: then brackets as these are certain without
    /// scatter.
    fn clear_inside(&self, shape: Shape) -> bool {
        let narrower =
            |it: &Strip| Strip { x: it.x, lo: it.lo.map(|nm| nm + 1), hi: it.hi.map(|nm| nm - 1) };
        let strips: Vec<Vec<Strip>> =
            self.strips.iter().map(|it| it.iter().map(narrower).collect()).collect();
        slopes(&strips, shape).is_some()
    }
}

/// Whether one straight line passes inside every bracket, corners counted in.
pub(crate) fn one_line_inside(points: &[Observation]) -> bool {
    whole(points).is_some_and(|strips| Slopes::inside(&strips).is_some())
}

/// The slopes that each stretch's lines inside every bracket may have.
fn slopes(strips: &[Vec<Strip>], Shape { own_rates, break_in }: Shape) -> Option<Vec<Slopes>> {
    if break_in {
        return None;
    }
    let each = strips.iter().map(|it| Slopes::inside(it)).collect::<Option<Vec<_>>>()?;
    if own_rates {
        return Some(each.into_iter().map(Slopes::bounded).collect());
    }
    let common = each.iter().try_fold(Slopes::default(), |sum, it| sum.and(*it))?;
    Some(vec![common; strips.len()])
}

/// In whole units, in the order of their hours. An exact reading was rounded to a nanometre.
fn whole(points: &[Observation]) -> Option<Vec<Strip>> {
    let nm = |mm: Option<f64>| match mm {
        Some(mm) => Length::from_mm(mm).map(|it| Some(it.nm())),
        None => Some(None),
    };
    let mut strips = Vec::with_capacity(points.len());
    for point in points {
        let x = Hours::from_h(point.x)?.thousandths();
        let (mut lo, mut hi) = (nm(point.low)?, nm(point.high)?);
        if lo.is_some() && lo == hi {
            (lo, hi) = (lo.map(|it| it - 1), hi.map(|it| it + 1));
        }
        strips.push(Strip { x, lo, hi });
    }
    strips.sort_by_key(|it| it.x);
    Some(strips)
}

/// Whether readings pin a level: one has both ends, or some have the one and some the other.
fn says_where(points: &[Observation]) -> bool {
    points.iter().any(|it| it.low.is_some()) && points.iter().any(|it| it.high.is_some())
}

/// The same readings seen from so far away that a bracket has no width: the slopes inside are the
/// ways in which a line can run off without contradicting any of them.
fn without_ends(strips: &[Strip]) -> Vec<Strip> {
    strips.iter().map(|it| Strip { x: it.x, lo: it.lo.map(|_| 0), hi: it.hi.map(|_| 0) }).collect()
}

fn pairs<'a>(stretch: &Stretch<'a>) -> impl Iterator<Item = (f64, f64)> + Clone + use<'a> {
    stretch.points.iter().filter_map(|it| Some((it.x, it.rough()?)))
}

/// A first guess by least squares with one rate: lines, mean square about them, and the spread of
/// the hours.
fn rough(stretches: &[Stretch<'_>]) -> Option<(Vec<Guess>, f64, f64)> {
    let moments = stretches.iter().map(|it| Moments::of(pairs(it))).collect::<Option<Vec<_>>>()?;
    let sxx: f64 = moments.iter().map(|it| it.sxx).sum();
    let sxy: f64 = moments.iter().map(|it| it.sxy).sum();
    let rate = sxy / sxx;
    let (mut squares, mut n) = (0.0, 0);
    for (stretch, moments) in stretches.iter().zip(&moments) {
        squares += moments.residual_squares(rate, pairs(stretch));
        n += moments.n;
    }
    let guess = moments.iter().zip(stretches).map(|(it, stretch)| Guess {
        level: it.mean_y + rate * (stretch.centre - it.mean_x),
        rate,
    });
    rate.is_finite().then(|| (guess.collect(), squares / count(n), sxx))
}

impl<'a> Candidate<'a> {
    /// Every model that the readings allow, the simplest first.
    pub(crate) fn all(readings: &'a Readings<'a>) -> Vec<Self> {
        let mut all = Vec::new();
        let lone = readings.stretches.len() == 1;
        let simplest = if lone { Model::OwnLines } else { Model::SharedRate };
        let shared = Self::of(simplest, readings, None);
        let own_allowed = !lone
            && readings
                .stretches
                .last()
                .is_some_and(|it| OWN_RATE_LEAST <= it.points.len() && it.tells_rate);
        let own =
            own_allowed.then(|| Self::of(Model::OwnLines, readings, shared.as_ref())).flatten();
        let fresh = |of: Option<&Self>, model| {
            of.filter(|it| it.maximum.is_some() && sees_break_in(&readings.stretches))
                .and_then(|it| Self::of(model, readings, Some(it)))
        };
        let fresh_shared = fresh(
            shared.as_ref(),
            if lone { Model::OwnLinesBreakIn } else { Model::SharedRateBreakIn },
        );
        let fresh_own = fresh(own.as_ref(), Model::OwnLinesBreakIn);
        all.extend([shared, own, fresh_shared, fresh_own].into_iter().flatten());
        all
    }

    /// `None` if a number of the model cannot be told.
    pub(crate) fn of(
        model: Model,
        readings: &'a Readings<'a>,
        from: Option<&Self>,
    ) -> Option<Self> {
        // A single stretch has one rate either way; sharing it is the shorter sum.
        let own_rates = model.own_rates() && 1 < readings.stretches.len();
        let shape = Shape { own_rates, break_in: model.break_in() };
        let rates = if own_rates {
            readings.stretches.iter().filter(|it| it.tells_rate).count()
        } else {
            1
        };
        let parameters = readings.stretches.len() + rates + usize::from(shape.break_in) + 1;
        if readings.n < parameters {
            return None;
        }
        let mut lines = Lines {
            stretches: &readings.stretches,
            shape,
            guess: readings.guess.clone(),
            extra: 0.0,
            sigma: readings.sigma,
            scale: readings.scale,
            toll: 0.0,
        };
        if let Some(from) = from.filter(|it| it.maximum.is_some()) {
            let better = from.refined();
            (lines.guess, lines.sigma) = (better.guess, better.sigma);
        }
        let inside = readings.inside(shape);
        let (maximum, log_likelihood) = if inside.is_some() {
            let exact = readings.stretches.iter().flat_map(|it| it.points).any(is_exact);
            let top = match () {
                () if exact => None,
                () if readings.clear_inside(shape) => Some(0.0),
                () => Some(leaning(&lines, readings)?),
            };
            (None, top)
        } else {
            let maximum = lines.maximise(Held::Free, ENOUGH).ok()?;
            // Nobody asked beforehand whether such curves pass inside every bracket.
            if shape.break_in && maximum.sigma() < SEEN_LEAST * readings.step {
                return None;
            }
            let log_likelihood = maximum.log_likelihood;
            (Some(maximum), Some(log_likelihood))
        };
        let aicc = log_likelihood.and_then(|it| aicc(it, parameters, readings.n));
        Some(Self { model, lines, maximum, inside, parameters, log_likelihood, aicc })
    }

    pub(crate) fn beats(&self, other: &Self) -> bool {
        match (self.score(), other.score()) {
            (Some(mine), Some(theirs)) => mine < theirs,
            (mine, _) => mine.is_some(),
        }
    }

    /// What exact readings on a line say for it has no bound.
    fn score(&self) -> Option<f64> {
        if self.log_likelihood.is_none() { Some(f64::NEG_INFINITY) } else { self.aicc }
    }

    pub(crate) fn tried(&self) -> Tried {
        Tried {
            model: self.model,
            parameters: self.parameters,
            log_likelihood: self.log_likelihood,
            aicc: self.aicc,
        }
    }

    /// The problem with its own solution as the first guess.
    pub(crate) fn refined(&self) -> Lines<'a> {
        let mut lines = self.lines.clone();
        if let Some(maximum) = &self.maximum {
            for (place, guess) in lines.guess.iter_mut().enumerate() {
                let ([level, own], [shared, extra]) = maximum.numbers(place);
                guess.level += level;
                guess.rate += if lines.shape.own_rates { own } else { shared } / lines.scale;
                if place == 0 {
                    lines.extra += extra;
                }
            }
            lines.sigma = maximum.sigma();
        }
        lines
    }
}

/// What ln L comes up to as σ shrinks, where every line inside the brackets touches some end.
///
/// On the corner itself half of the readings would fall outside; lines that lean off it by a share
/// of σ do better, and how much better is what a vanishing toll on small σ finds.
fn leaning(lines: &Lines<'_>, readings: &Readings<'_>) -> Option<f64> {
    let toll = VANISHING * readings.step;
    let lines = Lines { toll, sigma: lines.sigma.max(0.1 * readings.step), ..lines.clone() };
    let maximum = lines.maximise(Held::Free, LEANING_ENOUGH).ok()?;
    Some((maximum.log_likelihood + toll / maximum.sigma()).min(0.0))
}

fn aicc(log_likelihood: f64, parameters: usize, n: usize) -> Option<f64> {
    let p = count(parameters);
    let spare = count(n) - p - 1.0;
    (0.0 < spare).then(|| 2.0 * p + 2.0 * p * (p + 1.0) / spare - 2.0 * log_likelihood)
}

fn is_exact(point: &Observation) -> bool {
    point.width().is_some_and(|width| width <= 0.0)
}

fn sees_break_in(stretches: &[Stretch<'_>]) -> bool {
    let all = || stretches.iter().flat_map(|it| it.points);
    let seen = all().filter(|it| behind(it) < 0.0).count();
    BREAK_IN_LEAST <= seen && BREAK_IN_LEAST <= all().count() - seen
}
