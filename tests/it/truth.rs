//! How sure a reading is, against values that somebody else published or that chance gives.
//!
//! Each test names its source: "published" was read in the source or in a copy that quotes it,
//! "recomputed" was found independently at 40 digits, and "from memory" says that nobody read it.

use crate::{draws, insertions};
use gapwright::domain::{
    statistics::{normal_cdf, normal_density, normal_quantile, t_quantile},
    verdict::Law,
};

#[track_caller]
fn close(what: &str, value: f64, expected: f64, relative: f64) {
    assert!((value / expected - 1.0).abs() <= relative, "{what}: {value} is not {expected}");
}

/// NIST Technical Note 1297, Table B.1: every printed cell but the misprinted one, within half a
/// unit of its last digit.
#[test]
fn coverage_factors_are_those_of_the_printed_table() {
    // The middle columns are shares within whole deviations, so they are not 0.6827 and so on.
    let within = |deviations: f64| 1.0 - 2.0 * normal_cdf(-deviations);
    let shares = [within(1.0), 0.90, 0.95, within(2.0), 0.99, within(3.0)];
    let text = include_str!("../reference/tn1297_table_b1.csv");
    let (mut held, mut misprints) = (0, 0);
    for row in text.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let (dof, cells) = row.split_once(',').unwrap();
        for (cell, share) in cells.split(',').zip(shares) {
            let upper = f64::midpoint(1.0, share);
            let factor = match dof {
                "inf" => normal_quantile(upper).unwrap(),
                dof => t_quantile(upper, dof.parse().unwrap()).unwrap(),
            };
            let places = cell.split_once('.').map_or(0, |(_, decimals)| decimals.len());
            let half_unit = 0.5 * 0.1_f64.powi(i32::try_from(places).unwrap());
            let printed: f64 = cell.parse().unwrap();
            // A hair more, for what was rounded on a tie.
            if (factor - printed).abs() <= half_unit + 1e-9 {
                held += 1;
            } else {
                assert_eq!((dof, cell), ("35", "1.70"), "{factor}");
                misprints += 1;
            }
        }
    }
    assert_eq!((held, misprints), (167, 1));
}

/// GUM Supplement 1: a million draws for each of six brackets at random, with a fixed seed.
#[test]
fn a_million_draws_agree_with_the_closed_form() {
    draws::agree(1_000_000);
}

/// JCGM 106, one-sided upper limit: a Zener diode with −5.47 V ± 0.05 V (u) against −5.40 V. The
/// figures and 0.92 are from memory, not read in the source; the long value is recomputed.
#[test]
fn a_zener_diode_from_memory_conforms_with_092() {
    let law = Law::new(-5.47, -5.47, 0.05).unwrap();
    let conforms = 1.0 - law.above(-5.40);
    close("conformance", conforms, 0.919_243_340_766_229, 1e-12);
    assert!((conforms - 0.92).abs() < 0.005);
}

/// JCGM 106, one-sided lower limit: a container's bursting pressure, 509.7 kPa ± 8.6 kPa (u)
/// against 490 kPa. The figures and 0.99 are from memory; the long value is recomputed.
#[test]
fn a_container_from_memory_conforms_with_099() {
    let law = Law::new(509.7, 509.7, 8.6).unwrap();
    let conforms = 1.0 - law.below(490.0);
    close("conformance", conforms, 0.989_009_547_384_822_2, 1e-12);
    assert!((conforms - 0.99).abs() < 0.005);
}

/// JCGM 106, global risks of a production of resistors: 1500 Ω ± 0.12 Ω, measured with u 0.04 Ω,
/// tolerance ± 0.20 Ω, accepted within ± 0.18 Ω or, without a guard band, ± 0.20 Ω. The set-up was
/// read in copies; 10 % out of tolerance, 1 % and 7 % are from memory; long values are recomputed.
#[test]
fn the_risks_of_accepting_and_rejecting_resistors_are_those_of_the_guide() {
    let (process, measured, limit) = (0.12, 0.04, 0.20);
    let inside = Law::new(0.0, 0.0, process).unwrap().within(-limit, limit);
    close("inside the tolerance", inside, 0.904_419_295_454_446_1, 1e-12);
    assert!((1.0 - inside - 0.10).abs() < 0.005);
    let made = |off: f64| normal_density(off / process) / process;
    let risks = |accepted: f64| {
        let accept = |off: f64| Law::new(off, off, measured).unwrap().within(-accepted, accepted);
        let consumer = 2.0 * integral(limit, 1.2, |off| made(off) * accept(off));
        let producer = 2.0 * integral(0.0, limit, |off| made(off) * (1.0 - accept(off)));
        (consumer, producer)
    };
    let (consumer, producer) = risks(0.18);
    close("consumer's risk", consumer, 0.009_878_291_521_774, 1e-9);
    close("producer's risk", producer, 0.069_026_510_461_565, 1e-9);
    assert!((consumer - 0.01).abs() < 0.005 && (producer - 0.07).abs() < 0.005);
    let (consumer, producer) = risks(limit);
    close("consumer's risk, no guard", consumer, 0.018_942_206_717, 1e-9);
    close("producer's risk, no guard", producer, 0.037_207_800_178, 1e-9);
}

/// Simpson's rule over 2000 panels.
fn integral(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    let panels = 2_000_u32;
    let step = (to - from) / f64::from(panels);
    let weight = |place: u32| match place {
        0 => 1.0,
        it if it == panels => 1.0,
        it if it % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let sum: f64 =
        (0..=panels).map(|place| weight(place) * f(from + f64::from(place) * step)).sum();
    sum * step / 3.0
}

/// Specific risk at an acceptance limit that lies r·2u inside the limit: Φ(−2r), recomputed.
#[test]
fn at_the_acceptance_limit_the_risk_is_what_the_guard_band_leaves() {
    for (r, risk) in [
        (0.0, 0.5),
        (0.25, 0.308_537_54),
        (0.5, 0.158_655_25),
        (0.75, 0.066_807_2),
        (1.0, 0.022_750_13),
    ] {
        let u = 0.01;
        let at = 1.25 - r * 2.0 * u;
        close("risk", Law::new(at, at, u).unwrap().above(1.25), risk, 5e-7);
    }
}

/// The whole table, with the newest 12 rounds of each machine, is printed by `cargo bench truth`.
#[test]
fn the_next_leaf_settles_more_with_fewer_insertions_than_climbing_or_halving() {
    let table = insertions::compare(1..=20, 2);
    let [ours, climbing, halving] = table.total();
    assert!(climbing.settled <= ours.settled && halving.settled <= ours.settled, "{table:?}");
    for (other, clearly) in [(1, -10.0), (2, -0.4)] {
        let less = table.less(other);
        assert!(less.low <= less.mean && less.mean <= less.high && less.high < clearly, "{less:?}");
    }
    assert!(ours.mean() < 2.1, "{}", ours.mean());
}
