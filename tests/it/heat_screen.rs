//! The Heat screen, as a trainer uses it.

use crate::desk::Desk;
use egui::{Key, Modifiers, Theme};
use egui_kittest::{
    SnapshotResults,
    kittest::{NodeT as _, Queryable as _},
};
use gapwright::{
    domain::{heat::Colour, machine::ShearId},
    sample, store,
    workbench::{Command, Heat, HeatDesk, Screen, Tried},
};

fn at_heat(size: [f32; 2], theme: Theme) -> Desk {
    let mut desk = Desk::open(size, theme);
    desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
    desk.act(Command::Go(Screen::Heat));
    desk
}

/// Waits until the low and high case has come from its threads.
fn settled(mut desk: Desk) -> Desk {
    for _ in 0..600 {
        let known = desk.window.query_all_by_label_contains("eight times in ten").count();
        if 0 < known {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(20));
        desk.window.run();
    }
    desk
}

fn hand(desk: &Desk) -> &HeatDesk {
    desk.window.state().bench().heat()
}

#[test]
fn the_screen_looks_as_accepted() {
    let mut results = SnapshotResults::new();
    for (name, size, theme, lesson, step) in [
        ("heat-light", [1600.0, 1000.0], Theme::Light, 1, 3),
        ("heat-dark", [1280.0, 800.0], Theme::Dark, 1, 2),
        ("heat-force", [1280.0, 800.0], Theme::Light, 5, 0),
        ("heat-1024", [1024.0, 768.0], Theme::Light, 3, 1),
    ] {
        let mut desk = at_heat(size, theme);
        desk.act(Command::Heat(Heat::Lesson(lesson)));
        desk.act(Command::Heat(Heat::Step(step)));
        let mut desk = settled(desk);
        desk.names_are_unique();
        desk.window.snapshot(name);
        results.extend_harness(&mut desk.window);
    }
}

#[test]
fn a_trainer_walks_through_a_lesson() {
    let mut desk = at_heat([1280.0, 800.0], Theme::Light);
    desk.tap("next lesson");
    assert_eq!(hand(&desk).lesson, 1);
    desk.window.get_by_label_contains("What will the side thrust do");
    assert_eq!(desk.window.query_all_by_label_contains("flexed away at once").count(), 0);
    desk.tap("Show answer");
    desk.window.get_by_label_contains("flexed away at once");
    desk.tap("Next step");
    assert_eq!((hand(&desk).step, hand(&desk).answer), (1, false), "hidden again");
    desk.tap("step 4, Read the colour");
    assert_eq!(hand(&desk).step, 3);
    desk.tap("G1, Guide blade, first from the pivot");
    assert_eq!(hand(&desk).station.map(|it| it.to_string()).as_deref(), Some("G1"));
    desk.names_are_unique();
}

#[test]
fn a_wider_gap_cools_the_face_and_the_lesson_comes_back() {
    let mut desk = at_heat([1600.0, 1000.0], Theme::Light);
    desk.act(Command::Heat(Heat::Lesson(1)));
    desk.act(Command::Heat(Heat::Seek(4.0)));
    let face = |desk: &Desk| -> String {
        let chip = desk.window.get_by_label("G2, Guide blade, second from the pivot");
        chip.accesskit_node().description().unwrap_or_default()
    };
    let tight = face(&desk);
    desk.window.get_by_label("Cold gap at G2").focus();
    desk.window.run();
    for _ in 0..30 {
        desk.window.key_press(Key::ArrowRight);
        desk.window.run();
    }
    assert!((hand(&desk).tried.gap_mm.unwrap() - 0.45).abs() < 1e-9);
    let wide = face(&desk);
    assert!(tight.contains("blue") || tight.contains("grey"), "{tight}");
    assert!(wide.contains("no colour"), "{wide}");
    desk.tap("back to the lesson");
    assert_eq!(hand(&desk).tried, Tried::default());
    assert_eq!(face(&desk), tight);
}

/// What a hand moved goes along through a lesson, until a step says otherwise.
#[test]
fn a_step_that_sets_a_number_takes_it_back_from_the_hand() {
    let mut desk = at_heat([1280.0, 800.0], Theme::Light);
    desk.act(Command::Heat(Heat::Lesson(2)));
    let moved = Tried { plate_mm: Some(12.0), air_c: Some(-10.0), ..Tried::default() };
    desk.act(Command::Heat(Heat::Try(moved)));
    desk.tap("Next step");
    assert_eq!(hand(&desk).tried, moved, "this step has no plate of its own");
    desk.tap("Next step");
    assert_eq!((hand(&desk).tried.plate_mm, hand(&desk).tried.air_c), (None, Some(-10.0)));
}

#[test]
fn time_runs_while_it_plays_and_stops_at_the_end() {
    let mut desk = at_heat([1280.0, 800.0], Theme::Light);
    desk.window.key_press_modifiers(Modifiers::COMMAND, Key::Num5);
    desk.window.get_by_label("play the shift").click();
    for _ in 0..40 {
        desk.window.step();
    }
    assert!(hand(&desk).playing);
    assert!(0.0 < hand(&desk).hour.unwrap());
    desk.window.get_by_label("stop the clock").click();
    desk.window.step();
    desk.window.step();
    assert!(!hand(&desk).playing);
    desk.act(Command::Heat(Heat::Seek(7.99)));
    desk.window.get_by_label("play the shift").click();
    desk.window.run_steps(60);
    assert!(!hand(&desk).playing, "it stops at the end");
}

#[test]
fn a_shift_that_cannot_be_calculated_is_said() {
    let mut desk = at_heat([1280.0, 800.0], Theme::Light);
    let tried = Tried { air_c: Some(-70.0), ..Tried::default() };
    desk.act(Command::Heat(Heat::Try(tried)));
    desk.window.get_by_label_contains("The air temperature is −70");
    desk.tap("Back to the lesson");
    desk.window.get_by_label("play the shift");
}

/// The lesson whose tip is wedged shows that the jaw is spread, in the drawing and in words.
#[test]
fn a_wedged_tip_is_seen_to_spread_the_jaw() {
    let mut desk = at_heat([1600.0, 1000.0], Theme::Light);
    desk.act(Command::Heat(Heat::Lesson(3)));
    desk.act(Command::Heat(Heat::Step(1)));
    desk.window.get_by_label_contains("The hot tip spreads the jaw");
    desk.tap("S4, Secondary blades, fourth from the pivot");
    desk.window.get_by_label_contains("pushes the cutting cheek out");
}

#[test]
fn a_seen_colour_is_read_backwards_and_the_lowest_gap_is_told() {
    let mut desk = at_heat([1600.0, 1000.0], Theme::Light);
    desk.act(Command::Heat(Heat::Lesson(1)));
    desk.tap("seen blue");
    assert_eq!(hand(&desk).seen, Some(Colour::Blue));
    desk.window.get_by_label_contains("Blue is about 285–340");
    desk.tap("seen blue");
    assert_eq!(hand(&desk).seen, None);
    let mut desk = settled(desk);
    desk.window.run();
    desk.window.get_by_label_contains("Set at least");
}

#[test]
fn force_along_the_jaw_stands_on_the_drawing() {
    let mut desk = at_heat([1280.0, 800.0], Theme::Light);
    desk.act(Command::Heat(Heat::Lesson(5)));
    let chip = desk.window.get_by_label("P1, Primary blades, first from the pivot");
    let told = chip.accesskit_node().description().unwrap_or_default();
    assert!(told.contains("plate up to") && told.contains("closing force"), "{told}");
    let pads = desk.window.query_all_by_label_contains("Guide pads").count();
    assert_eq!(pads, 0, "pads cut nothing");
    desk.act(Command::Heat(Heat::Lesson(0)));
    desk.act(Command::Heat(Heat::Try(Tried { plate_mm: Some(40.0), ..Tried::default() })));
    assert!(1 < desk.window.query_all_by_label_contains("The plate stalls the jaw").count());
    desk.window.get_by_label_contains("It is cut as far out as P3");
}

/// A presenter's remote knows two keys and Escape.
#[test]
fn a_projector_is_led_with_two_keys() {
    let mut desk = at_heat([1280.0, 800.0], Theme::Light);
    let press = |desk: &mut Desk, key| {
        desk.window.key_press(key);
        desk.window.run();
    };
    press(&mut desk, Key::PageDown);
    assert!(!hand(&desk).answer, "at the desk these keys belong to the sliders");
    press(&mut desk, Key::F11);
    assert!(hand(&desk).large);
    assert!(1.2 < desk.window.ctx.zoom_factor(), "large type");
    press(&mut desk, Key::PageDown);
    assert_eq!((hand(&desk).step, hand(&desk).answer), (0, true), "first the answer");
    press(&mut desk, Key::PageDown);
    press(&mut desk, Key::PageDown);
    assert_eq!((hand(&desk).step, hand(&desk).answer), (1, true));
    press(&mut desk, Key::PageUp);
    press(&mut desk, Key::PageUp);
    assert_eq!((hand(&desk).step, hand(&desk).answer), (0, false));
    press(&mut desk, Key::Escape);
    assert!(!hand(&desk).large);
    assert!((desk.window.ctx.zoom_factor() - 1.0).abs() < 1e-6);
}

/// A page of the lesson: the same size and the same pixels from a small window and from a large one,
/// whatever the theme, and every step of every lesson has one.
#[test]
fn a_page_of_the_lesson_is_kept_in_the_yard_whatever_the_window() {
    let page = |size, theme, lesson, step| {
        let mut desk = at_heat(size, theme);
        desk.act(Command::Heat(Heat::Lesson(lesson)));
        desk.act(Command::Heat(Heat::Step(step)));
        let mut desk = settled(desk);
        let file = desk.kept_picture();
        let name = file.file_name().unwrap().to_str().unwrap().to_owned();
        (name, image::open(&file).unwrap().into_rgba8())
    };
    let (name, small) = page([1024.0, 768.0], Theme::Dark, 1, 3);
    assert_eq!(name, "heron-lesson-2-step-4-G2-0.15mm-3h00.png");
    assert_eq!(small.dimensions(), (2_370, 1_676));
    let (_, large) = page([1600.0, 1000.0], Theme::Light, 1, 3);
    assert!(small == large, "the window's size and theme are not on the page");
    egui_kittest::try_image_snapshot_options(&small, "heat-page", &crate::picture::options())
        .unwrap();
}

#[test]
fn every_lesson_that_ships_reads_and_a_wrong_one_is_named_with_its_place() {
    let lessons: Vec<_> =
        sample::lessons().map(|(path, text)| store::lesson(path, text).unwrap()).collect();
    assert_eq!(lessons.len(), 7);
    for lesson in &lessons {
        assert!(3 <= lesson.steps.len(), "{}", lesson.title);
    }
    let (path, text) = sample::lessons().next().unwrap();
    for (from, to, says) in [
        ("gap_mm: 0.55", "gap_mm: 55.0", "gap_mm"),
        ("station: \"G2\"", "station: \"two\"", "no station"),
        ("minutes: 8", "minutse: 8", "minutse"),
        ("at_h: 1.0", "at_h: soon", "a number is expected"),
    ] {
        assert!(text.contains(from), "{from}");
        let issue = store::lesson(path, &text.replace(from, to)).unwrap_err();
        assert!(issue.line.is_some() && issue.column.is_some(), "{issue}");
        assert!(issue.to_string().contains(says), "{issue}");
    }
}

/// A trainer's own lesson in the yard: a good one comes after those that ship, a bad one is named.
#[test]
fn a_yard_brings_its_own_lessons() {
    let home = tempfile::tempdir().unwrap();
    let root = home.path().join("yard");
    let yard = sample::yard(1, 1, 2, chrono::DateTime::UNIX_EPOCH);
    store::create_yard(&root, &yard).unwrap();
    std::fs::create_dir(root.join("lessons")).unwrap();
    let (_, text) = sample::lessons().next().unwrap();
    let put = |name: &str, text: &str| {
        store::put_file(&root.join("lessons").join(name), text.as_bytes()).unwrap();
    };
    put("ours.ron", &text.replace("The right gap", "Our own gap"));
    let opened = store::open(&root).unwrap();
    assert_eq!(opened.issues, []);
    assert_eq!(opened.lessons.len(), 1);
    assert_eq!(opened.lessons[0].title, "Our own gap");
    put("wrong.ron", &text.replace("steps: [", "steps: [(title: 7),"));
    let issues = store::check(&root);
    let said = issues.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
    assert_eq!(issues.len(), 1, "{said}");
    assert!(said.contains("wrong.ron:") && issues[0].line.is_some(), "{said}");
}

/// Nothing has warmed yet: one temperature is said once, and no draws stand apart.
#[test]
fn before_the_first_cut_one_temperature_is_said_once() {
    let mut desk = Desk::open([1280.0, 800.0], Theme::Light);
    desk.act(Command::Go(Screen::Heat));
    desk.until(|desk| desk.shows("Hot steel grows"));
    desk.act(Command::Heat(Heat::Seek(0.0)));
    assert!(desk.shows("Both at 20\u{a0}°C, the gap is "));
    assert!(!desk.shows("between 20 and 20"));
}
