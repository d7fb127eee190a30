//! Straight lines between interventions as a likelihood problem, free or held to a condition.
//!
//! Knows which numbers a model has and turns brackets into rows relative to a first guess, so that
//! large hour-meter values and levels cost no digits. Does not know what a fit is used for.

use crate::domain::trend::{
    Observation, count,
    likelihood::{
        maximise::{Maximum, NoMaximum, Problem, Row, Weights},
        typical::Typical,
    },
};

/// Hours in which fresh edges may wear at another rate. Demonstration value: a few shifts.
pub(crate) const BREAK_IN_H: f64 = 24.0;

/// Which numbers the stretches have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Shape {
    /// A rate for each stretch instead of one for all.
    pub(crate) own_rates: bool,
    /// Another rate while edges are fresh.
    pub(crate) break_in: bool,
}

/// Readings between two interventions.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stretch<'a> {
    pub(crate) points: &'a [Observation],
    /// Mean of the hours.
    pub(crate) centre: f64,
    /// Whether its readings alone tell a rate.
    pub(crate) tells_rate: bool,
}

/// A line: its level at the centre of its stretch, and its rate.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Guess {
    pub(crate) level: f64,
    pub(crate) rate: f64,
}

/// What the newest line is held to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Held {
    /// Nothing.
    Free,
    /// A rate.
    Rate(f64),
    /// A mean at an hour.
    Through(f64, f64),
}

/// Stretches, a model for them, and a first guess.
#[derive(Clone, Debug)]
pub(crate) struct Lines<'a> {
    pub(crate) stretches: &'a [Stretch<'a>],
    pub(crate) shape: Shape,
    pub(crate) guess: Vec<Guess>,
    /// Extra growth over the whole break-in.
    pub(crate) extra: f64,
    pub(crate) sigma: f64,
    /// Unit of hours.
    pub(crate) scale: f64,
    pub(crate) toll: f64,
}

/// How far along its break-in an edge is behind: −1 when fresh, 0 from the end on.
pub(crate) fn behind(point: &Observation) -> f64 {
    point.edge_age.map_or(0.0, |age| (age.clamp(0.0, BREAK_IN_H) - BREAK_IN_H) / BREAK_IN_H)
}

impl Lines<'_> {
    /// The most likely lines under a condition.
    pub(crate) fn maximise(&self, held: Held, enough: f64) -> Result<Maximum, NoMaximum> {
        self.problem(held, enough).maximise()
    }

    /// What the readings tell about these lines on average.
    pub(crate) fn typical(&self, maximum: &Maximum) -> Option<Typical> {
        Typical::of(&self.problem(Held::Free, 0.0), maximum)
    }

    fn problem(&self, held: Held, enough: f64) -> Problem {
        let newest = self.stretches.len().saturating_sub(1);
        let stretches = self
            .stretches
            .iter()
            .zip(&self.guess)
            .enumerate()
            .map(|(place, (stretch, guess))| {
                let held = match held {
                    Held::Rate(_) if !self.shape.own_rates => held,
                    Held::Free | Held::Rate(_) | Held::Through(..) if place == newest => held,
                    _ => Held::Free,
                };
                let guess = self.guess_under(held, stretch, *guess);
                let weigh = self.weigher(held, stretch);
                stretch.points.iter().map(|point| self.row(point, stretch, guess, &weigh)).collect()
            })
            .collect();
        Problem { stretches, sigma: self.sigma, enough, toll: self.toll }
    }

    fn guess_under(&self, held: Held, stretch: &Stretch<'_>, free: Guess) -> Guess {
        match held {
            Held::Free => free,
            Held::Rate(rate) => Guess { rate, ..free },
            Held::Through(at, y) => {
                let run = at - stretch.centre;
                // The straight way from the middle of the readings, unless it is too steep.
                let rate =
                    if run.abs() < 1e-9 * self.scale { free.rate } else { (y - free.level) / run };
                Guess { level: y - rate * run, rate }
            }
        }
    }

    /// How a mean at `x` is made of numbers.
    fn weigher(&self, held: Held, stretch: &Stretch<'_>) -> impl Fn(f64) -> Weights {
        let (scale, own_rates, tells_rate) = (self.scale, self.shape.own_rates, stretch.tells_rate);
        let (level, from, moves) = match held {
            Held::Free => (1.0, stretch.centre, 1.0),
            Held::Rate(_) => (1.0, stretch.centre, 0.0),
            Held::Through(at, _) => (0.0, at, 1.0),
        };
        move |x| {
            let rate = moves * (x - from) / scale;
            if own_rates {
                Weights { own: [level, if tells_rate { rate } else { 0.0 }], shared: [0.0; 2] }
            } else {
                Weights { own: [level, 0.0], shared: [rate, 0.0] }
            }
        }
    }

    fn row(
        &self,
        point: &Observation,
        stretch: &Stretch<'_>,
        guess: Guess,
        weigh: &impl Fn(f64) -> Weights,
    ) -> Row {
        let behind = if self.shape.break_in { behind(point) } else { 0.0 };
        let mean = guess.level + guess.rate * (point.x - stretch.centre) + self.extra * behind;
        let Weights { own, shared: [rate, _] } = weigh(point.x);
        Row {
            lo: point.low.map_or(f64::NEG_INFINITY, |lo| lo - mean),
            hi: point.high.map_or(f64::INFINITY, |hi| hi - mean),
            own,
            shared: [rate, behind],
        }
    }
}

/// The mean of some hours.
pub(crate) fn centre(points: &[Observation]) -> f64 {
    let first = points.first().map_or(0.0, |it| it.x);
    first + points.iter().map(|it| it.x - first).sum::<f64>() / count(points.len().max(1))
}
