//! Taking a gauge study of 10 × 3 × 3 readings apart. May take 1 ms.
//!
//! Knows one study from the manual, with the time to read its file beside it, and one of a size
//! for which no factor is printed, so that all three are computed.

use criterion::{Criterion, criterion_group, criterion_main};
use gapwright::{
    domain::{
        gauge::study::{Span, Study, StudyReading, Table},
        quantity::Length,
    },
    exchange::read_study,
};
use std::hint::black_box;

const MANUAL: &[u8] = include_bytes!("../reference/aiag_msa_grr.csv");

fn study(criterion: &mut Criterion) {
    let table = read_study(MANUAL).map(|file| file.table);
    let Ok(table) = table else { return };
    criterion.bench_function("study 10 × 3 × 3", |bencher| {
        bencher.iter(|| black_box(Study::of(black_box(&table))));
    });
    criterion.bench_function("read and study 10 × 3 × 3", |bencher| {
        bencher.iter(|| read_study(black_box(MANUAL)).map(|file| Study::of(&file.table)));
    });
    let readings: Vec<StudyReading> = (0..12 * 4 * 4_u16)
        .map(|number| StudyReading {
            part: (number / 16).to_string(),
            person: (number / 4 % 4).to_string(),
            trial: (number % 4).to_string(),
            value: Span::exactly(Length::from_um(i64::from(number) * 7_919 % 1_000)),
        })
        .collect();
    let Some(odd) = Table::balanced(&readings).0 else { return };
    criterion.bench_function("study 12 × 4 × 4", |bencher| {
        bencher.iter(|| black_box(Study::of(black_box(&odd))));
    });
}

criterion_group!(benches, study);
criterion_main!(benches);
