//! Opening the sample yard from a warm disk. May take 30 ms by the clock.
//!
//! Refuses to measure a yard that does not open whole: reading less is no way to be fast.

use criterion::{Criterion, criterion_group, criterion_main};
use gapwright::store;
use std::{hint::black_box, path::Path};

fn open(criterion: &mut Criterion) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions");
    let broken = store::check(&root);
    assert!(broken.is_empty(), "the sample yard has broken files: {broken:?}");
    criterion.bench_function("open the sample yard", |bencher| {
        bencher.iter(|| black_box(store::open(&root)));
    });
}

criterion_group!(benches, open);
criterion_main!(benches);
