//! What stands around the screens: keys, pages, and how the window looks.

use crate::{desk::Desk, measure::Bench};
use egui::accesskit::{Live, Role};
use egui::{Event, Key, Modifiers, Theme};
use egui_kittest::{
    SnapshotResults,
    kittest::{NodeT as _, Queryable as _},
};
use gapwright::{
    domain::{machine::LineId, quantity::Length},
    store::{Contrast, Look},
    workbench::{Command, Heat, Screen, StudyStep},
};

fn with_ctrl(bench: &mut Bench, key: Key) {
    bench.harness.key_press_modifiers(Modifiers::COMMAND, key);
    bench.harness.run();
}

fn screen(bench: &Bench) -> Screen {
    bench.harness.state().bench().screen()
}

#[test]
fn help_opens_on_every_screen_and_goes_away_again() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    for (key, title) in [
        (Key::Num1, "Yard"),
        (Key::Num2, "Measure"),
        (Key::Num3, "Decide"),
        (Key::Num4, "Trend"),
        (Key::Num5, "Heat"),
    ] {
        with_ctrl(&mut bench, key);
        let here = screen(&bench);
        bench.press(Key::F1);
        assert!(bench.shows(&format!("Help: {title}")), "{title}");
        assert!(bench.shows("manual"), "{title} defers to the manual");
        bench.press(Key::Escape);
        assert!(!bench.shows(&format!("Help: {title}")), "{title}");
        assert_eq!(screen(&bench), here);
    }
}

#[test]
fn a_command_is_found_by_a_part_of_its_name() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 2);
    with_ctrl(&mut bench, Key::K);
    bench.type_text("tren");
    bench.press(Key::Enter);
    assert_eq!(screen(&bench), Screen::Trend);
    let before = bench.harness.state().bench().machine().unwrap().shear.id.clone();
    with_ctrl(&mut bench, Key::K);
    bench.type_text("next machine");
    bench.press(Key::Enter);
    let after = bench.harness.state().bench().machine().unwrap().shear.id.clone();
    assert_ne!(before, after);
    with_ctrl(&mut bench, Key::K);
    assert!(bench.shows("Next machine"), "the palette starts empty");
    bench.press(Key::Escape);
    assert_eq!(screen(&bench), Screen::Trend);
}

/// In a note a question mark is a question mark; where a number is typed it asks for the keys.
#[test]
fn a_question_mark_lists_the_keys_but_not_in_a_note() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    bench.type_text("?");
    assert!(bench.shows("Take the last step back"));
    bench.press(Key::Escape);
    let walk = bench.harness.state().bench().machine().unwrap().shear.walk();
    for station in &walk {
        bench.act(Command::ChooseStation(*station));
    }
    bench.press(Key::PageDown);
    bench.click("note");
    bench.type_text("blue?");
    let note = bench.harness.state().bench().visit().unwrap().session.note.clone();
    assert_eq!(note, "blue?");
    assert!(!bench.shows("Take the last step back"));
}

#[test]
fn undo_says_what_it_took_back_and_a_station_can_be_started_over() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    bench.type_text("0.40/0.45");
    bench.press(Key::Enter);
    with_ctrl(&mut bench, Key::Z);
    assert!(bench.shows("Taken back: 0.40–0.45"), "what went, at the station it went from");
    with_ctrl(&mut bench, Key::Y);
    assert!(!bench.shows("Taken back"));
    let first = bench.harness.state().bench().machine().unwrap().shear.walk()[0];
    assert!(bench.harness.state().bench().visit().unwrap().reading(first).is_some());
    bench.click("Start this station over");
    assert!(bench.harness.state().bench().visit().unwrap().reading(first).is_none());
    with_ctrl(&mut bench, Key::Z);
    let visit = bench.harness.state().bench().visit().unwrap().clone();
    assert!(visit.reading(first).is_some(), "and undo brings it again");
}

#[test]
fn blades_grow_warm_and_a_streak_is_seen_by_key() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    bench.press(Key::F8);
    let first = bench.harness.state().bench().visit().unwrap().blade_temp.unwrap();
    bench.press(Key::F8);
    let second = bench.harness.state().bench().visit().unwrap().blade_temp.unwrap();
    assert!((second.c() - first.c() - 1.0).abs() < 1e-9);
    bench.press(Key::F7);
    assert_eq!(bench.harness.state().bench().visit().unwrap().blade_temp, Some(first));
    bench.press(Key::F6);
    assert!(bench.shows("Seen or heard at"));
    bench.harness.get_by_label("Blue streak").focus();
    bench.harness.run();
    bench.press(Key::Space);
    assert_eq!(bench.harness.state().bench().visit().unwrap().session.findings.len(), 1);
    bench.press(Key::F6);
    assert!(!bench.shows("Seen or heard at"));
}

/// Who sees nothing hears the verdict while the number is typed.
#[test]
fn the_verdict_is_announced_while_it_is_typed() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    let said = |bench: &Bench| -> String {
        let status = bench.harness.get_all_by_role(Role::Status);
        let live = status.filter(|node| node.accesskit_node().data().live() == Some(Live::Polite));
        live.filter_map(|node| node.accesskit_node().label()).collect()
    };
    let before = said(&bench);
    bench.type_text("0.40/0.45");
    let after = said(&bench);
    assert!(!before.is_empty() && !after.is_empty() && before != after, "{before} / {after}");
}

/// Every screen, with what is on it while it is worked on.
pub(crate) fn screens() -> Vec<(&'static str, Vec<Command>)> {
    vec![
        ("yard", vec![Command::Go(Screen::Yard)]),
        ("position", vec![Command::Go(Screen::Measure)]),
        (
            "measure",
            vec![
                Command::Go(Screen::Measure),
                Command::PositionReached,
                Command::TapLeaf(Length::from_um(300)),
            ],
        ),
        ("decide", vec![Command::Go(Screen::Decide), Command::ChooseLine(LineId::G)]),
        ("trend", vec![Command::Go(Screen::Trend), Command::ChooseLine(LineId::G)]),
        ("study", vec![Command::Study(StudyStep::Open)]),
        ("heat", vec![Command::Go(Screen::Heat)]),
    ]
}

pub(crate) fn open(at: &[Command], size: [f32; 2]) -> Desk {
    let mut desk = Desk::open(size, Theme::Light);
    for command in at {
        desk.act(command.clone());
    }
    desk
}

/// The keyboard comes everywhere: Tab visits every control, and the first is not on the rail.
#[test]
fn tab_starts_on_the_screen_and_comes_to_the_rail_last() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    assert!(bench.shows("People clear"));
    bench.press(Key::Tab);
    for rail in ["Yard", "Measure", "Decide", "Trend", "Heat"] {
        let tab = bench.harness.get_by_role_and_label(Role::Tab, rail);
        assert!(!tab.is_focused(), "{rail}");
    }
}

#[test]
fn a_chosen_look_is_worn_and_kept_and_survives_the_next_start() {
    let home = tempfile::tempdir().unwrap();
    let mut desk = Desk::open([1280.0, 800.0], Theme::Light);
    desk.look_in(home.path());
    desk.window.key_press_modifiers(Modifiers::COMMAND, Key::Comma);
    desk.window.run();
    desk.tap("contrast high");
    desk.tap("text 150 %");
    let kept = Look::read(home.path()).unwrap();
    assert_eq!((kept.text_percent, kept.contrast), (150, Contrast::High));
    assert!((desk.window.ctx.zoom_factor() - 1.5).abs() < 1e-6);
    desk.window.key_press_modifiers(Modifiers::COMMAND, Key::Num0);
    desk.window.run();
    assert!((desk.window.ctx.zoom_factor() - 1.0).abs() < 1e-6);
    assert_eq!(Look::read(home.path()).unwrap().text_percent, 100);
}

/// Reduced motion: a playing shift stands still between steps of half an hour.
#[test]
fn with_reduced_motion_a_shift_plays_in_steps() {
    let mut desk = open(&[Command::Go(Screen::Heat)], [1280.0, 800.0]);
    desk.window.key_press_modifiers(Modifiers::COMMAND, Key::Comma);
    desk.window.run();
    desk.tap("motion reduced");
    desk.window.key_press(Key::Escape);
    desk.window.run();
    let hour = |desk: &Desk| desk.window.state().bench().heat().hour.unwrap_or_default();
    desk.act(Command::Heat(Heat::Seek(0.0)));
    let ctx = desk.window.ctx.clone();
    desk.window.state_mut().act(&ctx, Command::Heat(Heat::Play(true)));
    let mut hours = Vec::new();
    for _ in 0..200 {
        desk.window.step();
        hours.push(hour(&desk));
    }
    hours.dedup();
    assert!(1 < hours.len(), "it plays: {hours:?}");
    let whole = |it: &f64| (it * 2.0).fract().abs() < 1e-9;
    assert!(hours.iter().all(whole), "{hours:?}");
}

#[test]
fn pages_look_as_before() {
    let mut results = SnapshotResults::new();
    for (name, key) in [("help", Key::F1), ("keys", Key::F2)] {
        let mut bench = Bench::open([1024.0, 768.0], Theme::Light, 1);
        bench.press(Key::Enter);
        bench.press(key);
        bench.harness.snapshot(format!("page-{name}"));
        results.extend_harness(&mut bench.harness);
    }
    let mut bench = Bench::open([1024.0, 768.0], Theme::Dark, 2);
    with_ctrl(&mut bench, Key::K);
    bench.type_text("ma");
    bench.harness.snapshot("page-palette");
    bench.press(Key::Escape);
    with_ctrl(&mut bench, Key::Comma);
    bench.click("contrast high");
    bench.harness.snapshot("page-settings");
    bench.press(Key::F1);
    bench.click("About this program");
    bench.harness.snapshot("page-about");
    results.extend_harness(&mut bench.harness);
}

/// Twice the size in a window of 1280 × 800: the parts stand one under the other.
#[test]
fn every_screen_at_twice_the_size_looks_as_before() {
    let mut results = SnapshotResults::new();
    let mut screens = screens();
    screens.push(("setup", vec![Command::Go(Screen::Setup)]));
    for (name, at) in screens {
        let mut desk = open(&at, [640.0, 400.0]);
        desk.window.run();
        desk.window.snapshot(format!("large-{name}"));
        results.extend_harness(&mut desk.window);
    }
}

/// Black and white.
#[test]
fn measure_at_high_contrast_looks_as_before() {
    let mut results = SnapshotResults::new();
    for (theme, name) in [(Theme::Light, "light"), (Theme::Dark, "dark")] {
        let mut bench = Bench::open([1280.0, 800.0], theme, 1);
        bench.press(Key::Enter);
        bench.press(Key::Enter);
        bench.type_text("0.40/0.45");
        with_ctrl(&mut bench, Key::Comma);
        bench.click("contrast high");
        bench.press(Key::Escape);
        bench.harness.event(Event::PointerGone);
        bench.harness.run();
        bench.harness.snapshot(format!("measure-high-{name}"));
        results.extend_harness(&mut bench.harness);
    }
}
