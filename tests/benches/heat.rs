//! An eight-hour shift of a whole machine, CPU time; may take 2 ms. The low and high case of 200
//! draws may take 250 ms on two cores, so half a second of CPU time.

mod cpu_time;

use cpu_time::CpuTime;
use criterion::{Criterion, criterion_group, criterion_main};
use gapwright::{
    domain::{
        decide::{cold_gaps, decide},
        heat::{Model, ShiftWork},
    },
    store,
};
use std::{hint::black_box, path::Path};

#[expect(clippy::expect_used, reason = "without its machine there is nothing to measure")]
fn model() -> Model {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions");
    let yard = store::open(&root).expect("the sample yard opens").yard;
    let machine = yard.machines.iter().find(|it| it.shear.id.as_str() == "heron");
    let machine = machine.expect("the sample yard has a heron");
    let thermal = machine.shear.thermal.as_ref().expect("it knows its heat");
    let gaps = cold_gaps(&machine.shear, &decide(machine, &yard.settings));
    Model::of(&machine.shear, &gaps.gaps, &ShiftWork::usual(thermal), None).expect("it is sound")
}

fn shifts(criterion: &mut Criterion<CpuTime>) {
    let model = model();
    criterion.bench_function("shift of 8 h, every line", |bencher| {
        bencher.iter(|| black_box(model.run(0.05)));
    });
    criterion.bench_function("low and high of 200 draws", |bencher| {
        bencher.iter(|| black_box(model.band(200, 0.1)));
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().with_measurement(CpuTime).sample_size(10);
    targets = shifts
}
criterion_main!(benches);
