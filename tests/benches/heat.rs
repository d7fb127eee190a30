//! Heat: a shift, may take 2 ms, and a moved number with its frame, 16 ms, both in CPU time; the low
//! and high case on two cores by the clock on the wall, 250 ms.
//!
//! While numbers move no thread draws low and high, so that CPU time is what a hand waits for.

mod cpu_time;

use chrono::{DateTime, Offset as _, Utc};
use cpu_time::CpuTime;
use criterion::{Criterion, criterion_group, criterion_main};
use egui::{Context, RawInput, Rect, pos2, vec2};
use gapwright::{
    domain::{
        decide::{cold_gaps, decide},
        heat::{Model, Shift, ShiftWork, Spreads, draw},
        machine::ShearId,
    },
    gui::App,
    store,
    workbench::{Command, Heat, Screen, Tried},
};
use std::{hint::black_box, path::Path, thread};

/// The same as on the screen.
const DRAWS: u32 = 200;

fn yard() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions")
}

#[expect(clippy::expect_used, reason = "without its machine there is nothing to measure")]
fn model() -> Model {
    let yard = store::open(&yard()).expect("the sample yard opens").yard;
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
    let ctx = Context::default();
    let mut app = app(&ctx);
    let mut gap_mm = 0.10;
    criterion.bench_function("a moved number on the Heat screen", |bencher| {
        bencher.iter(|| {
            gap_mm = if gap_mm < 0.6 { gap_mm + 0.01 } else { 0.10 };
            let tried = Tried { gap_mm: Some(gap_mm), ..Tried::default() };
            app.act(&ctx, Command::Heat(Heat::Try(tried)));
            black_box(frame(&ctx, &mut app))
        });
    });
}

/// Draws by turns on two threads, as the window does it.
fn low_and_high(model: &Model) -> usize {
    let spreads = Spreads::default();
    let one = |first: u32| -> Vec<Shift> {
        let mine = (first..DRAWS).step_by(2);
        mine.filter_map(|it| draw(&model.network, &model.duty, &spreads, it, 0.1).ok()).collect()
    };
    let shifts: Vec<Shift> = thread::scope(|scope| {
        let other = scope.spawn(|| one(1));
        let mut shifts = one(0);
        shifts.extend(other.join().unwrap_or_default());
        shifts
    });
    model.band_of(&shifts).hours.len()
}

fn waiting(criterion: &mut Criterion) {
    let model = model();
    criterion.bench_function("low and high of 200 draws on two threads", |bencher| {
        bencher.iter(|| black_box(low_and_high(&model)));
    });
}

#[expect(clippy::expect_used, reason = "without its yard there is nothing to measure")]
fn app(ctx: &Context) -> App {
    let opened = store::open(&yard()).expect("the sample yard opens");
    let mut app = App::new(opened, yard(), clock, Utc.fix(), 0);
    app.act(ctx, Command::ChooseMachine(ShearId::new("heron").expect("a name")));
    app.act(ctx, Command::Go(Screen::Heat));
    for _ in 0..5 {
        frame(ctx, &mut app);
    }
    app
}

/// A moment after the last session of the sample yard.
fn clock() -> DateTime<Utc> {
    DateTime::from_timestamp_secs(1_800_000_000).unwrap_or_default()
}

fn frame(ctx: &Context, app: &mut App) -> usize {
    let screen_rect = Some(Rect::from_min_size(pos2(0.0, 0.0), vec2(1600.0, 1000.0)));
    let mut output = ctx.run_ui(RawInput { screen_rect, ..RawInput::default() }, |ui| app.draw(ui));
    let shapes = std::mem::take(&mut output.shapes);
    let primitives = ctx.tessellate(shapes, output.pixels_per_point);
    output.drop_without_applying_deltas();
    primitives.len()
}

criterion_group! {
    name = cpu;
    config = Criterion::default().with_measurement(CpuTime).sample_size(20);
    targets = shifts
}
criterion_group! {
    name = wall;
    config = Criterion::default().sample_size(20);
    targets = waiting
}
criterion_main!(cpu, wall);
