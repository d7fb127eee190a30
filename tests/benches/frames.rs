//! One frame of each screen on the sample yard: run and tessellate, CPU time, without the graphics
//! card. May take 2 ms each, and 4 ms with 10 000 sessions.
//!
//! Every frame is painted from the state as if it were the first after a movement of the pointer.
//! Works on a copy of the yard, and starts a visit so that Measure has something to show.

mod cpu_time;

use chrono::{DateTime, Offset as _, TimeDelta, Utc};
use cpu_time::CpuTime;
use criterion::{Criterion, criterion_group, criterion_main};
use egui::{Context, RawInput, Rect, Theme, pos2, vec2};
use gapwright::{
    domain::{
        machine::{LineId, StationId},
        quantity::Length,
    },
    gui::App,
    sample,
    store::{self, Opened},
    workbench::{Command, Kin, Screen, Span, TrendView},
};
use std::{hint::black_box, path::Path};

fn frames(criterion: &mut Criterion<CpuTime>) {
    for screen in Screen::ALL {
        let ctx = Context::default();
        ctx.set_theme(Theme::Light);
        let mut app = app(&ctx);
        app.act(&ctx, Command::Go(screen));
        measure(criterion, &format!("frame of {screen:?}"), &ctx, &mut app);
    }
}

fn measure(criterion: &mut Criterion<CpuTime>, name: &str, ctx: &Context, app: &mut App) {
    // Fonts and layouts settle in the first frames.
    for _ in 0..5 {
        frame(ctx, app);
    }
    criterion.bench_function(name, |bencher| bencher.iter(|| black_box(frame(ctx, app))));
}

/// Ten machines with 1 000 sessions each, every screen on one of them. May take 4 ms.
#[expect(clippy::expect_used, reason = "without its folder there is nothing to measure")]
fn many_sessions(criterion: &mut Criterion<CpuTime>) {
    let end = clock() - TimeDelta::hours(1);
    let yard = sample::yard(1, 10, 1_000, end);
    let opened = Opened {
        yard,
        issues: Vec::new(),
        drafts: Vec::new(),
        lessons: Vec::new(),
        causes: None,
        read_only: false,
    };
    let ctx = Context::default();
    ctx.set_theme(Theme::Light);
    let folder = tempfile::tempdir().expect("a folder to keep nothing in");
    let mut app = App::new(opened, folder.path().to_owned(), clock, chrono::Utc.fix(), 0);
    for screen in Screen::ALL {
        app.act(&ctx, Command::Go(screen));
        measure(criterion, &format!("10 000 sessions, {screen:?}"), &ctx, &mut app);
    }
}

/// One machine with 6 000 sessions, which are 100 000 readings, all of them on the Trend screen at
/// once: four stations in the large plot, the other lines below. May take 8 ms.
fn many_readings(criterion: &mut Criterion<CpuTime>) {
    let yard = sample::yard(1, 1, 6_000, DateTime::UNIX_EPOCH + TimeDelta::days(20_000));
    let readings: usize =
        yard.machines.iter().flat_map(|it| it.history.readings.values()).map(Vec::len).sum();
    assert!((90_000..=110_000).contains(&readings), "{readings} readings");
    let ctx = Context::default();
    ctx.set_theme(Theme::Light);
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions");
    let opened = Opened {
        yard,
        issues: Vec::new(),
        drafts: Vec::new(),
        lessons: Vec::new(),
        causes: None,
        read_only: false,
    };
    let mut app = App::new(opened, root, clock, chrono::Utc.fix(), 0);
    let mut act = |command| app.act(&ctx, command);
    act(Command::Go(Screen::Trend));
    act(Command::ChooseLine(LineId::S));
    for number in 1..=4 {
        act(Command::ToggleTrendStation(StationId { line: LineId::S, number }));
    }
    act(Command::SetSpan(Span::All));
    for view in [TrendView::Growth, TrendView::Signals, TrendView::Compare(Kin::Stations)] {
        app.act(&ctx, Command::SetTrendView(view));
        measure(criterion, &format!("{readings} readings, {view:?}"), &ctx, &mut app);
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
    targets = frames, many_sessions, many_readings
}
criterion_main!(benches);
