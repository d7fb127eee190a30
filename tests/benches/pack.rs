//! Packs by the clock: six blades, thirteen thicknesses, ten of each, and the worst of a thousand
//! draws.
//!
//! Refuses to pass if the worst draw takes longer than the screen may.
#![expect(clippy::unwrap_used, reason = "a draw that cannot be made must stop the clock")]
#![expect(clippy::indexing_slicing, reason = "tables that this file made itself")]
#![expect(clippy::print_stdout, reason = "a bench tells its worst draw")]

#[path = "cpu_time.rs"]
mod cpu_time;

use cpu_time::CpuTime;
use criterion::measurement::Measurement as _;
use gapwright::domain::{
    machine::PackRules,
    quantity::Length,
    shims::{Goal, Seat, plan_shared},
    yard::ShelfItem,
};
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;
use std::{hint::black_box, time::Duration};

const LIMIT: Duration = Duration::from_millis(20);
/// Pre-cut shims: 0.05 mm to 2 mm, invented.
const THICKNESSES_UM: [i64; 13] =
    [50, 100, 150, 200, 250, 300, 400, 500, 600, 750, 1_000, 1_500, 2_000];

fn seats(rng: &mut Pcg64Mcg) -> Vec<Seat> {
    (0..6)
        .map(|_| {
            let base = rng.random_range(150..2_000_i64);
            let goals = (0..rng.random_range(2..=4)).map(|_| {
                let gap = Length::from_um((base + rng.random_range(-90..=90)).max(10));
                Goal::within(gap, Length::from_um(300), Length::from_um(500))
            });
            let goals = goals.collect();
            let pack = (0..rng.random_range(0..=3))
                .map(|_| Length::from_um(THICKNESSES_UM[rng.random_range(0..8)]))
                .collect();
            let rules = PackRules { most_shims: 6, thickest: Length::from_um(3_000), step: None };
            Seat { goals, closes: 1.0, pack, rules, step: None }
        })
        .collect()
}

fn main() {
    let shelf: Vec<ShelfItem> = THICKNESSES_UM
        .iter()
        .map(|um| ShelfItem { thickness: Length::from_um(*um), count: 10 })
        .collect();
    let mut took: Vec<Duration> = (0..1_000)
        .map(|seed| {
            let seats = seats(&mut Pcg64Mcg::seed_from_u64(seed));
            let start = CpuTime.start();
            let _answer = black_box(plan_shared(black_box(&seats), &shelf));
            CpuTime.end(start)
        })
        .collect();
    took.sort();
    let worst = took.last().copied().unwrap();
    println!("six blades, 13 × 10 shims: median {:?}, worst of 1 000 {worst:?}", took[500]);
    assert!(worst <= LIMIT, "the worst took longer than {LIMIT:?}");
}
