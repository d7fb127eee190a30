//! How many insertions a verdict takes, by three ways to choose the next stack.
//!
//! Gaps are those of invented yards; what a crew knows before it measures is what the log says up
//! to then. All ways use the same leaves, the same hand and the same rule to stop, and they feel
//! the same when they try the same stack.

use chrono::{DateTime, TimeZone as _, Utc};
use gapwright::{
    domain::{
        decide::StationState,
        gauge::{Bracket, Hand, LeafSet, Stack},
        log::{Session, fold},
        machine::{Limits, Line},
        quantity::Length,
        statistics::{normal_quantile, t_quantile},
        verdict::{Cold, Prior, VerdictKind, next_leaf, weigh},
        yard::{Machine, Settings},
    },
    sample::{SESSIONS, SHEARS, yard},
};
use rand::Rng as _;
use rand_pcg::Pcg64;

/// How far one hand scatters: what the invented crew does.
const HAND: Hand = Hand { sigma_mm: 0.007, dof: None };

/// What one way took over some stations.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Tally {
    /// Stations measured.
    pub(crate) stations: u32,
    /// Insertions in all.
    pub(crate) insertions: u32,
    /// Stations whose verdict was settled.
    pub(crate) settled: u32,
}

/// Ours, climbing through the set, and halving what is left; one row a seed.
#[derive(Clone, Debug)]
pub(crate) struct Comparison(pub(crate) Vec<[Tally; 3]>);

/// A difference of means per station, over seeds, with its 95 % interval.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Difference {
    /// Ours less the other's.
    pub(crate) mean: f64,
    /// The lower end.
    pub(crate) low: f64,
    /// The upper end.
    pub(crate) high: f64,
}

impl Tally {
    /// Insertions a station.
    pub(crate) fn mean(self) -> f64 {
        f64::from(self.insertions) / f64::from(self.stations)
    }

    fn add(&mut self, (insertions, settled): (u32, bool)) {
        self.stations += 1;
        self.insertions += insertions;
        self.settled += u32::from(settled);
    }
}

impl Comparison {
    /// All seeds together.
    pub(crate) fn total(&self) -> [Tally; 3] {
        let mut total = [Tally::default(); 3];
        for row in &self.0 {
            for (sum, tally) in total.iter_mut().zip(row) {
                sum.stations += tally.stations;
                sum.insertions += tally.insertions;
                sum.settled += tally.settled;
            }
        }
        total
    }

    /// Ours less the other way's, paired by seed.
    pub(crate) fn less(&self, other: usize) -> Difference {
        let differences: Vec<f64> =
            self.0.iter().map(|row| row[0].mean() - row[other].mean()).collect();
        let n = f64::from(u32::try_from(differences.len()).unwrap());
        let mean = differences.iter().sum::<f64>() / n;
        let squares: f64 = differences.iter().map(|it| (it - mean).powi(2)).sum();
        let reach = t_quantile(0.975, n - 1.0).unwrap() * (squares / (n - 1.0) / n).sqrt();
        Difference { mean, low: mean - reach, high: mean + reach }
    }
}

/// Measures every station of the newest `visits` rounds of each machine, for each seed.
pub(crate) fn compare(seeds: std::ops::RangeInclusive<u64>, visits: usize) -> Comparison {
    let end = Utc.with_ymd_and_hms(2026, 11, 24, 14, 40, 0).unwrap();
    Comparison(seeds.map(|seed| one_seed(seed, visits, end)).collect())
}

fn one_seed(seed: u64, visits: usize, end: DateTime<Utc>) -> [Tally; 3] {
    let yard = yard(seed, SHEARS, SESSIONS, end);
    let mut chance = Pcg64::new(u128::from(seed), 77);
    let mut tallies = [Tally::default(); 3];
    for machine in &yard.machines {
        let rounds = machine.history.sessions.iter().rev().filter(|it| !it.readings.is_empty());
        for round in rounds.take(visits) {
            measure(machine, &yard.settings, round, &mut chance, &mut tallies);
        }
    }
    tallies
}

/// One round, with nothing known but what was logged before it.
fn measure(
    machine: &Machine,
    settings: &Settings,
    round: &Session,
    chance: &mut Pcg64,
    tallies: &mut [Tally; 3],
) {
    let before: Vec<Session> =
        machine.sessions.iter().filter(|it| it.taken < round.taken).cloned().collect();
    let history = fold(&machine.shear, &before);
    let set = settings.leaf_sets.first().unwrap();
    for reading in &round.readings {
        let Some(no_go) = reading.bracket.no_go() else { continue };
        let line = machine.shear.line(reading.station.line).unwrap();
        let state =
            StationState::of(line, reading.station, &history, (settings, settings.intervals.look));
        let prior = state.prior(round.meter);
        let go = reading.bracket.go().mm();
        let gap_mm = go + share(chance) * (no_go.mm() - go);
        let station = Station { set, line, gap_mm, feels: chance.next_u64() };
        tallies[0].add(station.settle(settings, |known| ours(set, known, &line.limits, prior)));
        tallies[1].add(station.settle(settings, |known| open(set, known).first().copied()));
        tallies[2].add(station.settle(settings, |known| {
            let open = open(set, known);
            open.get(open.len() / 2).copied()
        }));
    }
}

fn ours(set: &LeafSet, known: Bracket, limits: &Limits, prior: Option<Prior>) -> Option<Stack> {
    next_leaf(set, known, Length::ZERO, limits, prior)
}

/// Stacks that could still tell something.
fn open(set: &LeafSet, known: Bracket) -> &[Stack] {
    let above = set.made().partition_point(|it| it.thickness <= known.go());
    let below = set.made().partition_point(|it| known.no_go().is_none_or(|no| it.thickness < no));
    &set.made()[above..below]
}

struct Station<'a> {
    set: &'a LeafSet,
    line: &'a Line,
    gap_mm: f64,
    /// The same stack feels the same here, whoever tries it.
    feels: u64,
}

impl Station<'_> {
    /// Insertions until the verdict is settled or no stack is left, and whether it is settled.
    fn settle(&self, settings: &Settings, next: impl Fn(Bracket) -> Option<Stack>) -> (u32, bool) {
        let mut known = Bracket::new(Length::ZERO, None).unwrap();
        let mut insertions = 0;
        loop {
            let kit = settings.kit();
            let cold = Cold::taken_cold(known, kit.stacks_mm(known), HAND);
            let verdict = weigh(&cold, &self.line.limits, None, settings.tolerance, None);
            if verdict.kind() != VerdictKind::Undecided {
                return (insertions, true);
            }
            let Some(stack) = next(known) else { return (insertions, false) };
            insertions += 1;
            known = if self.goes(stack) {
                Bracket::new(stack.thickness, known.no_go()).unwrap()
            } else {
                Bracket::new(known.go(), Some(stack.thickness)).unwrap()
            };
            assert!(insertions <= u32::try_from(self.set.made().len()).unwrap());
        }
    }

    fn goes(&self, stack: Stack) -> bool {
        let nm = u128::try_from(stack.thickness.nm()).unwrap();
        let mut chance = Pcg64::new(u128::from(self.feels), nm);
        let leaves = (2.0 * share(&mut chance) - 1.0) * stack.tolerance.mm();
        let hand = HAND.sigma_mm * normal_quantile(share(&mut chance).max(1e-12)).unwrap();
        stack.thickness.mm() + leaves <= self.gap_mm + hand
    }
}

/// Evenly from 0 up to but not including 1.
fn share(chance: &mut Pcg64) -> f64 {
    f64::from(u32::try_from(chance.next_u64() >> 32).unwrap()) / 4_294_967_296.0
}
