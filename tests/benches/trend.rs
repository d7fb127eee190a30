//! Trends in processor time: twenty readings, all stations of a long log, and that cost keeps step with
//! the number of readings.
//!
//! Refuses to time a fit that failed.
#![expect(clippy::unwrap_used, reason = "a fit that failed must stop the clock")]
#![expect(clippy::indexing_slicing, reason = "rows and machines that this file made itself")]

mod cpu_time;

use chrono::{DateTime, TimeDelta};
use cpu_time::CpuTime;
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use gapwright::domain::trend::{Model, Observation, Reach, Segmented, StationTrend, with_profile};
use gapwright::{
    domain::{decide::decide, verdict::cold, yard::Yard},
    sample,
};
use std::hint::black_box;

/// Readings eight hours apart, shimmed every forty looks, felt with leaves 50 µm apart.
fn log(readings: usize) -> Vec<Observation> {
    let mut state = 1_u32;
    (0..readings)
        .map(|look| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let jitter = 0.1 * (f64::from(state >> 8) / 16_777_216.0 - 0.5);
            let gap = 0.4 + 0.04 * f64::from(u32::try_from(look % 40).unwrap()) + jitter;
            let low = (gap / 0.05).floor() * 0.05;
            Observation {
                x: 8.0 * f64::from(u32::try_from(look).unwrap()),
                low: Some(low),
                high: Some(low + 0.05),
                segment: look / 40,
                edge_age: None,
            }
        })
        .collect()
}

fn twenty(criterion: &mut Criterion<CpuTime>) {
    let text = include_str!("../reference/interval_A20.csv");
    let points: Vec<Observation> = text
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| {
            let row: Vec<f64> = line.split(',').map(|word| word.parse().unwrap()).collect();
            let (low, high) = (Some(row[1]), Some(row[2]));
            Observation { x: row[0], low, high, segment: 0, edge_age: None }
        })
        .collect();
    criterion.bench_function("twenty brackets", |bencher| {
        bencher.iter(|| Segmented::fit(black_box(&points)).unwrap());
    });
    criterion.bench_function("twenty brackets by their likelihood", |bencher| {
        let ask = || {
            with_profile(black_box(&points), Model::OwnLines, |it| {
                (it.rate(0.95).unwrap(), it.meets(1.2, Reach::Up, 497.0, 0.95).unwrap())
            })
        };
        bencher.iter(|| ask().unwrap());
    });
}

/// The middle machine of an invented yard with a thousand sessions.
fn long_yard(sessions: usize) -> Yard {
    let end = DateTime::UNIX_EPOCH + TimeDelta::days(20_000);
    sample::yard(1, 1, sessions, end)
}

fn trends(yard: &Yard) -> Vec<StationTrend> {
    let machine = &yard.machines[0];
    let trends: Vec<StationTrend> = machine
        .shear
        .walk()
        .into_iter()
        .map(|station| {
            let line = machine.shear.line(station.line).unwrap();
            StationTrend::of(&machine.history, station, |it| {
                Some(cold(line, it, yard.settings.kit()).bracket)
            })
        })
        .collect();
    assert!(trends.iter().all(|it| it.fit.is_ok()));
    trends
}

fn all_stations(criterion: &mut Criterion<CpuTime>) {
    let yard = long_yard(1_000);
    let mut group = criterion.benchmark_group("17 stations with 1 000 sessions");
    group.sample_size(20);
    group.bench_function("one fit each", |bencher| {
        let seen: Vec<Vec<Observation>> = trends(&yard).iter().map(StationTrend::seen).collect();
        bencher.iter(|| {
            for it in &seen {
                black_box(Segmented::fit_with(it, Model::SharedRate).unwrap());
            }
        });
    });
    group.bench_function("all models, profiles, breaks and charts", |bencher| {
        bencher.iter(|| {
            for it in trends(&yard) {
                let fit = it.fit.as_ref().unwrap();
                let ask = |likely: &gapwright::domain::trend::Profile<'_>| {
                    (likely.rate(0.8), likely.meets(1.6, Reach::Up, fit.last_h, 0.8))
                };
                black_box((it.profiled(ask), &it.changes, it.chart()));
            }
        });
    });
    group.finish();
}

fn linear(criterion: &mut Criterion<CpuTime>) {
    let mut group = criterion.benchmark_group("readings of one station");
    group.sample_size(10);
    for readings in [1_000, 10_000, 100_000] {
        let seen = log(readings);
        group.throughput(Throughput::Elements(u64::try_from(readings).unwrap()));
        group.bench_with_input(BenchmarkId::from_parameter(readings), &seen, |bencher, seen| {
            bencher.iter(|| Segmented::fit(black_box(seen)).unwrap());
        });
    }
    group.finish();
}

fn decisions(criterion: &mut Criterion<CpuTime>) {
    let end = DateTime::UNIX_EPOCH + TimeDelta::days(20_000);
    let yard = sample::yard(1, sample::SHEARS, sample::SESSIONS, end);
    criterion.bench_function("decide the sample yard", |bencher| {
        bencher.iter(|| {
            for machine in &yard.machines {
                black_box(decide(machine, &yard.settings));
            }
        });
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().with_measurement(CpuTime);
    targets = twenty, all_stations, linear, decisions
}
criterion_main!(benches);
