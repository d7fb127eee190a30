//! How often charts and breaks speak: hardly while nothing happens, surely when something did.
//!
//! Made-up looks eight hours apart whose truth is known, felt with leaves 50 µm apart from a first
//! gap anywhere between two leaves; seeds are fixed, so a count is the same each time.

use crate::domain::{
    statistics::normal_cdf,
    trend::{
        Chart, Fit, Observation, Segmented, SignalKind, bootstrap::Chance, change::unrecorded,
    },
};

const LEAF: f64 = 0.05;

/// Looks at a gap that widens as told, by a hand that scatters by so many mm.
fn looks(n: u32, widens: impl Fn(f64) -> f64, sigma: f64, chance: &mut Chance) -> Vec<Observation> {
    let start = 0.4 + LEAF * normal_cdf(chance.bell());
    (0..n)
        .map(|look| {
            let x = 8.0 * f64::from(look);
            let low = ((start + widens(x) + sigma * chance.bell()) / LEAF).floor() * LEAF;
            Observation { x, low: Some(low), high: Some(low + LEAF), segment: 0, edge_age: None }
        })
        .collect()
}

/// In how many of so many histories a break is found.
fn broken(histories: u32, n: u32, widens: impl Fn(f64) -> f64, sigma: f64) -> u32 {
    let mut chance = Chance(7);
    (0..histories)
        .map(|_| u32::from(!unrecorded(&looks(n, &widens, sigma, &mut chance)).is_empty()))
        .sum()
}

/// The middles of a gap that grows by a leaf in weeks are a staircase; a staircase is no change.
#[test]
fn a_steady_gap_is_called_broken_at_most_once_in_fifty() {
    for rate in [0.0, 0.000_1, 0.000_3, 0.001, 0.003, 0.005] {
        for sigma in [0.002, 0.005, 0.01, 0.02, 0.04] {
            let found = broken(100, 40, |x| rate * x, sigma);
            assert!(found <= 2, "{found} of 100 at {rate} mm/h and {sigma} mm");
        }
    }
    for (rate, sigma) in [(0.000_1, 0.002), (0.000_1, 0.005), (0.000_1, 0.01), (0.000_3, 0.005)] {
        let found = broken(20, 200, |x| rate * x, sigma);
        assert_eq!(found, 0, "a long log at {rate} mm/h and {sigma} mm");
    }
}

#[test]
fn a_break_that_matters_is_found() {
    let at = 160.0;
    let step = |mm: f64| move |x: f64| 0.005 * x + if at <= x { mm } else { 0.0 };
    let bend = |more: f64| move |x: f64| 0.005 * x + more * (x - at).max(0.0);
    for sigma in [0.005, 0.02, 0.04] {
        assert_eq!(broken(50, 40, step(-0.4), sigma), 50, "fell by 0.4 mm, {sigma}");
        assert!(49 <= broken(50, 40, bend(0.005), sigma), "growth doubled, {sigma}");
    }
    for sigma in [0.005, 0.02] {
        assert!(45 <= broken(50, 40, step(0.15), sigma), "opened by three leaves, {sigma}");
    }
}

/// Signals of each kind: limit, step, run, average.
fn said(n: u32, widens: impl Fn(f64) -> f64, sigma: f64, chance: &mut Chance) -> [u32; 4] {
    let seen = looks(n, widens, sigma, chance);
    let fit = Fit::new(&Segmented::fit(&seen).unwrap(), &[], 0.0).unwrap();
    let mut said = [0; 4];
    for it in Chart::of(&seen, &fit).iter().flat_map(|it| &it.signals) {
        let [limit, step, run, average] = &mut said;
        *match it.kind {
            SignalKind::BeyondLimit => limit,
            SignalKind::RangeHigh => step,
            SignalKind::RunAbove | SignalKind::RunBelow => run,
            SignalKind::AverageHigh | SignalKind::AverageLow => average,
        } += 1;
    }
    said
}

/// What the rules promise of normal readings about a known line.
const PROMISED: [f64; 4] = [1.0 / 370.0, 1.0 / 109.0, 1.0 / 512.0, 1.0 / 560.0];

#[test]
fn while_nothing_happens_signals_come_as_seldom_as_their_rules_promise() {
    const HISTORIES: u32 = 60;
    let mut all = [0; 4];
    let mut readings = 0;
    for n in [40, 100] {
        for rate in [0.0, 0.000_3, 0.003, 0.005] {
            for sigma in [0.02, 0.03, 0.04] {
                let mut chance = Chance(11);
                let mut cell = [0; 4];
                for _ in 0..HISTORIES {
                    let said = said(n, |x| rate * x, sigma, &mut chance);
                    for (sum, more) in cell.iter_mut().zip(said) {
                        *sum += more;
                    }
                }
                for ((sum, found), promised) in all.iter_mut().zip(cell).zip(PROMISED) {
                    *sum += found;
                    let share = f64::from(found) / f64::from(n * HISTORIES);
                    let at = format!("{n} looks, {rate} mm/h, {sigma} mm: {share:.4}");
                    assert!(share <= 2.2 * promised, "{promised:.4} promised, {at}");
                }
                readings += n * HISTORIES;
            }
        }
    }
    let shares = all.map(|found| f64::from(found) / f64::from(readings));
    for (share, promised) in shares.into_iter().zip(PROMISED) {
        assert!(share <= 1.25 * promised, "{shares:?}");
    }
    // Limits and steps are not bought with silence either.
    let [limit, step, ..] = shares;
    assert!(0.5 * PROMISED[0] <= limit && 0.5 * PROMISED[1] <= step, "{shares:?}");
}

/// A finer hand than leaves can tell. Where the gap grows by about a leaf from look to look, it
/// creeps from one end of its brackets to the other for weeks, always on one side of their middles.
#[test]
fn what_leaves_hide_gives_no_signal() {
    let slow = [0.0, 0.000_1, 0.000_3, 0.001];
    let in_step = [0.002_1, 0.003, 0.003_1, 0.005, 0.006, 0.006_2, 0.012_5];
    for rate in slow.into_iter().chain(in_step) {
        for sigma in [0.002, 0.005, 0.01] {
            let mut chance = Chance(13);
            let mut all = 0;
            for _ in 0..20 {
                all += said(40, |x| rate * x, sigma, &mut chance).iter().sum::<u32>();
            }
            assert!(all <= 1, "{all} in 800 readings at {rate} mm/h and {sigma} mm");
        }
    }
}

#[test]
fn a_shift_and_a_wild_reading_give_signals() {
    let bump = |x: f64| 0.005 * x + if (96.0..200.0).contains(&x) { 0.06 } else { 0.0 };
    let wild = |x: f64| 0.005 * x + if (x - 160.0).abs() < 1.0 { 0.12 } else { 0.0 };
    let mut chance = Chance(17);
    let mut found = [0; 2];
    for _ in 0..50 {
        let [.., run, average] = said(40, bump, 0.02, &mut chance);
        let [limit, ..] = said(40, wild, 0.02, &mut chance);
        found[0] += u32::from(0 < run + average);
        found[1] += u32::from(0 < limit);
    }
    assert!(48 <= found[0] && 44 <= found[1], "{found:?} of 50");
}
