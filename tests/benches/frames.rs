//! One frame of each screen on the sample yard: run and tessellate, CPU time, without the graphics
//! card. May take 2 ms each.
//!
//! Every frame is painted from the state as if it were the first after a movement of the pointer.
//! Works on a copy of the yard, and starts a visit so that Measure has something to show.

mod cpu_time;

use chrono::{DateTime, Offset as _, Utc};
use cpu_time::CpuTime;
use criterion::{Criterion, criterion_group, criterion_main};
use egui::{Context, RawInput, Rect, Theme, pos2, vec2};
use gapwright::{
    domain::quantity::Length,
    gui::App,
    store,
    workbench::{Command, Screen},
};
use std::{hint::black_box, path::Path};

fn frames(criterion: &mut Criterion<CpuTime>) {
    for screen in Screen::ALL {
        let ctx = Context::default();
        ctx.set_theme(Theme::Light);
        let mut app = app(&ctx);
        app.act(&ctx, Command::Go(screen));
        // Fonts and layouts settle in the first frames.
        for _ in 0..5 {
            frame(&ctx, &mut app);
        }
        criterion.bench_function(&format!("frame of {screen:?}"), |bencher| {
            bencher.iter(|| black_box(frame(&ctx, &mut app)));
        });
    }
}

#[expect(clippy::expect_used, reason = "without its yard there is nothing to measure")]
fn app(ctx: &Context) -> App {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions");
    let opened = store::open(&root).expect("the sample yard opens");
    let mut app = App::new(opened, root, clock, chrono::Utc.fix(), 0);
    app.act(ctx, Command::TapLeaf(Length::from_um(300)));
    app
}

/// A moment after the last session of the sample yard.
fn clock() -> DateTime<Utc> {
    DateTime::from_timestamp_secs(1_800_000_000).unwrap_or_default()
}

/// Runs one frame and returns how many triangles it came to.
fn frame(ctx: &Context, app: &mut App) -> usize {
    let screen_rect = Some(Rect::from_min_size(pos2(0.0, 0.0), vec2(1600.0, 1000.0)));
    let input = RawInput { screen_rect, ..RawInput::default() };
    let mut output = ctx.run_ui(input, |ui| app.draw(ui));
    let shapes = std::mem::take(&mut output.shapes);
    let primitives = ctx.tessellate(shapes, output.pixels_per_point);
    output.drop_without_applying_deltas();
    primitives.len()
}

criterion_group! {
    name = benches;
    config = Criterion::default().with_measurement(CpuTime);
    targets = frames
}
criterion_main!(benches);
