//! What may lie behind trouble at a line, ranked.
//!
//! Naive Bayes over a table that people can read and change: how likely each clue is under each
//! cause. A clue counts if it was found or if somebody looked and did not find it; what nobody can
//! know is left out. Clues are taken as independent of one another, which they are not quite, so
//! the probabilities are surer than they should be and the order counts for more than they do.
//! Knows the table and the clues of one line; does not know where the table comes from, nor words.

mod clues;

pub use clues::{Clue, Evidence, Found, RECENT};

use crate::domain::{
    decide::{MachineDecision, causes::clues::clues_of},
    machine::{Line, Shear, Toward},
    quantity::Hours,
    yard::Machine,
};
use std::collections::BTreeMap;

/// Where a cause can be at work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Spot {
    /// Blades that cut against the cutting side, without the tip.
    Blades,
    /// The tip against the cutting side.
    Tip,
    /// The tip against the guide blade.
    Guide,
    /// The tip against the front blade.
    Front,
    /// The guide pads.
    Pads,
}

impl Spot {
    /// Where a line is on its machine.
    pub fn of(shear: &Shear, line: &Line) -> Self {
        let guide = shear.lines.iter().find(|it| it.toward == Toward::Guide);
        let with_tip = guide.is_some_and(|guide| guide.moving == line.moving);
        match line.toward {
            Toward::Cutting if with_tip => Self::Tip,
            Toward::Cutting => Self::Blades,
            Toward::Guide => Self::Guide,
            Toward::Neither => Self::Front,
            Toward::Pads => Self::Pads,
        }
    }
}

/// How likely clues are, 0 to [`MOST_LIKELY`] each.
pub type Likelihoods = BTreeMap<Clue, f64>;

/// Nothing is so sure that not finding it rules a cause out.
pub const MOST_LIKELY: f64 = 0.99;

/// One cause in the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Cause {
    /// Such as "the lower jaw has spread".
    pub name: String,
    /// What to look at or do, as a sentence.
    pub next: String,
    /// How common it is beside the others, above 0; only ratios count.
    pub weight: f64,
    /// Where it can be at work.
    pub at: Vec<Spot>,
    /// Clues that are more or less likely under it than usual. Zero is never: a cause that never
    /// shows a clue is ruled out by it.
    pub shows: Likelihoods,
}

/// How likely clues are under causes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CauseTable {
    /// Where its numbers come from.
    pub source: String,
    /// The weight of whatever the table does not name, above 0.
    pub other: f64,
    /// How likely each clue is whatever the cause, above 0. What is missing counts for nothing.
    pub usual: Likelihoods,
    /// The causes it names.
    pub causes: Vec<Cause>,
}

/// One cause with its probability.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Its name; `None` for whatever the table does not name.
    pub name: Option<String>,
    /// What to look at or do; empty for whatever the table does not name.
    pub next: String,
    /// Its probability, 0 to 1; those of a line add up to 1.
    pub p: f64,
    /// Clues that speak for it, as places in the evidence, strongest first.
    pub speaks_for: Vec<usize>,
    /// Clues that speak against it, likewise.
    pub speaks_against: Vec<usize>,
}

/// How much the first place rests on single numbers and single clues.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sensitivity {
    /// Whether the first stays first if any one number that counts here is off by a factor of two:
    /// a weight, how likely a clue is, or how likely it is not to be there.
    pub holds: bool,
    /// A clue without which another suspect would come first: its place in the evidence, and the
    /// suspect's place in the ranking.
    pub turns_on: Option<(usize, usize)>,
}

/// What may lie behind trouble at a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Causes {
    /// The clues that count.
    pub evidence: Vec<Evidence>,
    /// Causes, likeliest first.
    pub ranked: Vec<Suspect>,
    /// What the first place rests on.
    pub sensitivity: Sensitivity,
    /// Where the table's numbers come from.
    pub source: String,
}

/// A clue speaks for or against a cause from this change of its odds on.
const SPEAKS: f64 = 1.5;

/// Adds to each line of a decision what may lie behind its trouble; a line without trouble of its
/// own gets nothing.
pub fn explain(decision: &mut MachineDecision, machine: &Machine, look: Hours, table: &CauseTable) {
    if table.causes.is_empty() {
        return;
    }
    let found: Vec<Option<Causes>> = decision
        .lines
        .iter()
        .map(|it| {
            let line = machine.shear.line(it.line)?;
            let evidence = clues_of(decision, machine, line, look)?;
            Some(rank(table, Spot::of(&machine.shear, line), evidence))
        })
        .collect();
    for (line, causes) in decision.lines.iter_mut().zip(found) {
        line.causes = causes;
    }
}

/// Ranks the causes that can be at work at a spot by what was found there.
pub fn rank(table: &CauseTable, spot: Spot, evidence: Vec<Evidence>) -> Causes {
    let rows = Rows::of(table, spot, &evidence);
    let all = rows.chances(None);
    let mut order: Vec<usize> = (0..all.len()).collect();
    let p_of = |all: &[f64], row: usize| all.get(row).copied().unwrap_or(0.0);
    order.sort_by(|a, b| p_of(&all, *b).total_cmp(&p_of(&all, *a)));
    let without: Vec<Vec<f64>> = (0..evidence.len()).map(|clue| rows.chances(Some(clue))).collect();
    let ranked = order
        .iter()
        .map(|row| {
            let p = p_of(&all, *row);
            let mut change: Vec<(usize, f64)> = without
                .iter()
                .map(|without| odds(p) / odds(p_of(without, *row)))
                .enumerate()
                .filter(|(_, change)| change.is_finite())
                .collect();
            change.sort_by(|a, b| b.1.total_cmp(&a.1));
            let speaks = |it: &(usize, f64)| it.0;
            let cause = rows.causes.get(*row);
            Suspect {
                name: cause.map(|it| it.name.clone()),
                next: cause.map(|it| it.next.clone()).unwrap_or_default(),
                p,
                speaks_for: change.iter().filter(|it| SPEAKS <= it.1).map(speaks).collect(),
                speaks_against: change
                    .iter()
                    .rev()
                    .filter(|it| it.1 <= 1.0 / SPEAKS)
                    .map(speaks)
                    .collect(),
            }
        })
        .collect();
    let turns_on = without.iter().enumerate().find_map(|(clue, without)| {
        let first = first_of(without)?;
        let place = order.iter().position(|row| *row == first)?;
        (0 < place).then_some((clue, place))
    });
    // Every number is one factor of a product, so twice or half of one moves a cause by two at most.
    let of_place = |place: usize| order.get(place).map_or(0.0, |row| p_of(&all, *row));
    let sensitivity = Sensitivity { holds: 2.0 * of_place(1) <= of_place(0), turns_on };
    Causes { evidence, ranked, sensitivity, source: table.source.clone() }
}

/// The likeliest; of equals the first.
fn first_of(chances: &[f64]) -> Option<usize> {
    let rows = chances.iter().enumerate().rev();
    rows.max_by(|(_, a), (_, b)| a.total_cmp(b)).map(|(row, _)| row)
}

fn odds(p: f64) -> f64 {
    p / (1.0 - p).max(f64::MIN_POSITIVE)
}

/// The numbers of the table that one line calls for: for each cause its weight and how likely each
/// clue is as it was found. The last row is whatever the table does not name.
struct Rows<'a> {
    causes: Vec<&'a Cause>,
    weights: Vec<f64>,
    likely: Vec<Vec<f64>>,
}

impl<'a> Rows<'a> {
    fn of(table: &'a CauseTable, spot: Spot, evidence: &[Evidence]) -> Self {
        let causes: Vec<&Cause> = table.causes.iter().filter(|it| it.at.contains(&spot)).collect();
        let row = |shows: Option<&Likelihoods>| {
            let likely = |it: &Evidence| {
                let own = shows.and_then(|shows| shows.get(&it.clue));
                // A clue that the table does not know changes nothing.
                let usual = table.usual.get(&it.clue).copied().unwrap_or(0.5);
                it.found.chance(own.copied().unwrap_or(usual), usual)
            };
            evidence.iter().map(likely).collect()
        };
        let named = causes.iter().map(|cause| row(Some(&cause.shows)));
        let likely = named.chain(std::iter::once(row(None))).collect();
        let weights =
            causes.iter().map(|cause| cause.weight).chain(std::iter::once(table.other)).collect();
        Self { causes, weights, likely }
    }

    /// The probability of each row, leaving one clue out if asked to.
    ///
    /// The last row's numbers are above zero, so the sum is.
    fn chances(&self, without: Option<usize>) -> Vec<f64> {
        let weigh = |(weight, likely): (&f64, &Vec<f64>)| {
            let clues = likely.iter().enumerate().filter(|(clue, _)| Some(*clue) != without);
            clues.fold(*weight, |chance, (_, likely)| chance * likely)
        };
        let mut all: Vec<f64> = self.weights.iter().zip(&self.likely).map(weigh).collect();
        let sum: f64 = all.iter().sum();
        if 0.0 < sum {
            for chance in &mut all {
                *chance /= sum;
            }
        }
        all
    }
}

#[cfg(test)]
mod tests;
