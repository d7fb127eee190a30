//! Made-up histories whose truth is known, and how often the program's intervals hold it.
//!
//! Looks eight hours apart at a gap that grows 5 µm an hour, felt with leaves 50 µm apart by a hand
//! that scatters. Knows nothing of how a fit is made.

use gapwright::domain::{
    statistics::{normal_quantile, t_quantile},
    trend::{Observation, Reach, Segmented},
};
use rand::Rng as _;
use rand_pcg::Pcg64;
use std::fmt;

const GROWTH: f64 = 0.005;
const LOOKS_APART: f64 = 8.0;
const LEAF: f64 = 0.05;
/// The confidences asked for.
pub(crate) const NOMINAL: [f64; 2] = [0.80, 0.95];

/// One row of the table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cell {
    /// Readings.
    pub(crate) n: u32,
    /// Scatter of the hand, in mm.
    pub(crate) sigma: f64,
    /// Hours from the last reading to the limit, in truth.
    pub(crate) ahead: f64,
    /// How many readings in ten lack one of their ends.
    pub(crate) open_in_ten: u32,
}

/// What came of a cell.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Outcome {
    /// The cell.
    pub(crate) cell: Cell,
    /// Histories tried.
    pub(crate) histories: u32,
    /// Through whose brackets a line passed, so that the most likely scatter was zero.
    pub(crate) degenerate: u32,
    /// Of those, how many times the range of such lines alone held the truth.
    pub(crate) exact_held: u32,
    /// How many intervals had no upper end, at either confidence.
    pub(crate) unbounded: [u32; 2],
    /// How many held the truth.
    pub(crate) held: [u32; 2],
}

/// Every row: few and many readings, fine and coarse hands, near and far limits, open ends or not.
pub(crate) fn cells() -> impl Iterator<Item = Cell> {
    [0, 2].into_iter().flat_map(|open_in_ten| {
        [6, 12, 40].into_iter().flat_map(move |n| {
            [0.01, 0.02, 0.04].into_iter().flat_map(move |sigma| {
                [50.0, 200.0].map(|ahead| Cell { n, sigma, ahead, open_in_ten })
            })
        })
    })
}

struct Chance(Pcg64);

impl Chance {
    fn share(&mut self) -> f64 {
        (f64::from(self.0.next_u32()) + 0.5) / 4_294_967_296.0
    }

    fn bell(&mut self, deviation: f64) -> f64 {
        deviation * normal_quantile(self.share()).unwrap()
    }
}

impl Cell {
    /// Draws histories from a seed and counts.
    pub(crate) fn run(self, seed: u64, histories: u32) -> Outcome {
        let mut chance = Chance(Pcg64::new(u128::from(seed), u128::from(self.n)));
        let mut outcome = Outcome {
            cell: self,
            histories,
            degenerate: 0,
            exact_held: 0,
            unbounded: [0; 2],
            held: [0; 2],
        };
        for _ in 0..histories {
            self.one(&mut chance, &mut outcome);
        }
        outcome
    }

    fn one(self, chance: &mut Chance, outcome: &mut Outcome) {
        let start = 0.40 + LEAF * chance.share();
        let points: Vec<Observation> = (0..self.n)
            .map(|look| self.reading(start, LOOKS_APART * f64::from(look), chance))
            .collect();
        let last = LOOKS_APART * f64::from(self.n - 1);
        let truth = last + self.ahead;
        let limit = start + GROWTH * truth;
        let fit = Segmented::fit(&points).unwrap();
        let segment = fit.segments.last().unwrap();
        let above = |high: Option<f64>| high.is_none_or(|high| truth <= high);
        if let Some(inside) = &segment.inside {
            outcome.degenerate += 1;
            let exact = inside.meets(limit, Reach::Up);
            outcome.exact_held +=
                u32::from(exact.is_some_and(|(low, high)| low <= truth && above(high)));
        }
        let dof = f64::from(u32::try_from(fit.dof).unwrap());
        let counted = outcome.held.iter_mut().zip(&mut outcome.unbounded).zip(NOMINAL);
        for ((held, unbounded), confidence) in counted {
            let factor = t_quantile(f64::midpoint(1.0, confidence), dof).unwrap();
            let told = segment.meets(limit, Reach::Up, last, factor);
            *unbounded += u32::from(told.high.is_none());
            *held += u32::from(told.low.is_none_or(|low| low <= truth) && above(told.high));
        }
    }

    fn reading(self, start: f64, x: f64, chance: &mut Chance) -> Observation {
        let gap = start + GROWTH * x + chance.bell(self.sigma);
        // Leaves in whole hundredths, so that brackets are as exact as real ones.
        let low = ((gap / LEAF).floor() * LEAF * 100.0).round() / 100.0;
        let high = ((low + LEAF) * 100.0).round() / 100.0;
        let open = chance.share() * 20.0;
        let share = f64::from(self.open_in_ten);
        Observation {
            x,
            low: Some(low).filter(|_| open < share || 2.0 * share <= open),
            high: Some(high).filter(|_| share <= open),
            segment: 0,
            edge_age: None,
        }
    }
}

impl Outcome {
    /// Both draws taken together.
    pub(crate) fn and(self, other: Self) -> Self {
        let sum = |a: [u32; 2], b: [u32; 2]| [a[0] + b[0], a[1] + b[1]];
        Self {
            cell: self.cell,
            histories: self.histories + other.histories,
            degenerate: self.degenerate + other.degenerate,
            exact_held: self.exact_held + other.exact_held,
            unbounded: sum(self.unbounded, other.unbounded),
            held: sum(self.held, other.held),
        }
    }

    /// How often the interval held the truth, at either confidence.
    pub(crate) fn coverage(&self) -> [f64; 2] {
        self.held.map(|held| f64::from(held) / f64::from(self.histories))
    }

    /// The head of the table.
    pub(crate) const HEAD: &str = "\
open ends | n | σ mm | limit h | one line fits all | its range holds | no upper end 80/95 | 80 % holds | 95 % holds
--- | --- | --- | --- | --- | --- | --- | --- | ---";
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Cell { n, sigma, ahead, open_in_ten } = self.cell;
        let of = |part: u32, whole: u32| 100.0 * f64::from(part) / f64::from(whole.max(1));
        let all = self.histories;
        let range = if self.degenerate == 0 {
            "–".to_owned()
        } else {
            format!("{:.1} %", of(self.exact_held, self.degenerate))
        };
        let [near, sure] = self.coverage().map(|it| 100.0 * it);
        write!(
            f,
            "{} | {n} | {sigma:.2} | {ahead:.0} | {:.1} % | {range} | {:.1}/{:.1} % | {near:.1} | {sure:.1}",
            if open_in_ten == 0 { "none" } else { "2 in 10" },
            of(self.degenerate, all),
            of(self.unbounded[0], all),
            of(self.unbounded[1], all),
        )
    }
}
