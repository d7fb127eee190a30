//! Verdicts and the choice of the next leaf: a microsecond and two milliseconds at most by the
//! clock, and fewer insertions than by climbing through the set or by halving.
//!
//! Refuses to time what is wrong: a million draws must agree with the closed form first.

#![expect(clippy::unwrap_used, reason = "without its yard and its limits there is nothing to time")]
#![expect(clippy::indexing_slicing, reason = "three ways, in the order of the table")]
#![expect(clippy::print_stdout, reason = "the table is what it is run for")]

mod draws;
mod insertions;

use criterion::{Criterion, criterion_group, criterion_main};
use gapwright::domain::{
    gauge::{Bracket, Hand, Leaf, LeafSet},
    machine::{Band, Limits},
    quantity::Length,
    verdict::{Cold, Prior, next_leaf, weigh},
    yard::Tolerance,
};
use std::hint::black_box;

fn um(um: i64) -> Length {
    Length::from_um(um)
}

fn limits() -> Limits {
    let band = Band::from_um;
    let source = "bench".to_owned();
    Limits::new(band(300, 500), band(200, 1_250), band(100, 1_600), um(50), um(250), source)
        .unwrap()
}

/// Twenty-six leaves from 0.03 to 1.13 mm, odd enough that all 2 951 stacks are different.
fn odd_set() -> LeafSet {
    let leaf = |step: i64| {
        let cube = step.pow(3);
        let nm = 30_000 + 37_001 * step + 11 * cube + (cube * step) % 1_009;
        Leaf { thickness: Length::from_nm(nm), tolerance: um(3), measured: None }
    };
    LeafSet::new("odd".to_owned(), (0..26).map(leaf).collect()).unwrap()
}

fn truth(criterion: &mut Criterion) {
    draws::agree(1_000_000);
    report_insertions();
    let (limits, set) = (limits(), odd_set());
    assert_eq!(set.made().len(), 2_951);
    // Two limits inside the blur of the reading: every term of the closed form counts.
    let felt = Bracket::new(um(1_230), Some(um(1_280))).unwrap();
    let cold = Cold::taken_cold(felt, [0.012, 0.012], Hand { sigma_mm: 0.008, dof: None });
    criterion.bench_function("verdict on a reading", |bencher| {
        bencher.iter(|| weigh(black_box(&cold), &limits, None, Tolerance::default(), None));
    });
    let nothing = Bracket::new(Length::ZERO, None).unwrap();
    let prior = Prior::new(1.18, 0.04);
    criterion.bench_function("next leaf out of 2 951 stacks", |bencher| {
        bencher.iter(|| next_leaf(&set, black_box(nothing), Length::ZERO, &limits, prior));
    });
}

fn report_insertions() {
    let table = insertions::compare(1..=20, 12);
    println!("insertions a station, newest 12 rounds of 3 machines, 20 seeds");
    for (way, tally) in ["next leaf", "climbing", "halving"].iter().zip(table.total()) {
        println!("{way:>10} {:6.3}  settled {} of {}", tally.mean(), tally.settled, tally.stations);
    }
    for (way, other) in [("climbing", 1), ("halving", 2)] {
        let less = table.less(other);
        println!(
            "less than {way}: {:.3}, 95 % interval {:.3} to {:.3}",
            less.mean, less.low, less.high
        );
        assert!(less.high < 0.0, "not fewer than {way}");
    }
}

criterion_group!(benches, truth);
criterion_main!(benches);
