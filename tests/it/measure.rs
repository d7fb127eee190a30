//! A whole visit on the real window without a screen: by keyboard alone, and by pointer alone.
//!
//! Long because each way through the window is walked from its first key to the signature.

use crate::picture;
use chrono::{DateTime, FixedOffset, TimeDelta, TimeZone as _, Utc};
use egui::{Event, Key, Modifiers, Theme, UiBuilder};
use egui_kittest::{
    Harness, SnapshotResults,
    kittest::{NodeT as _, Queryable as _},
};
use gapwright::{
    brief::{Numbers, measure::Telling, numbers, plain},
    domain::{
        decide::{Action, Due, LastLook, decide},
        gauge::Bracket,
        log::{Counted, FindingKind, Session},
        machine::{LineId, StationId},
        quantity::{Hours, Length},
        yard::Machine,
    },
    gui::App,
    sample, store,
    workbench::{Command, Screen},
};
use std::path::PathBuf;
use tempfile::TempDir;

pub(crate) fn now() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 11, 25, 7, 0, 0).unwrap()
}

/// A small yard on disk and the window that is open on it.
pub(crate) struct Bench {
    pub(crate) harness: Harness<'static, App>,
    folder: TempDir,
}

impl Bench {
    pub(crate) fn open(size: [f32; 2], theme: Theme, machines: usize) -> Self {
        let folder = TempDir::new().unwrap();
        let end = now() - TimeDelta::hours(9);
        store::create_yard(folder.path(), &sample::yard(1, machines, 48, end)).unwrap();
        let mut bench = Self { harness: window(size, theme, &folder), folder };
        bench.harness.run();
        bench
    }

    /// Closes the window and opens the yard in a new one, as after a crash.
    fn start_again(self) -> Self {
        let harness = window([1280.0, 800.0], Theme::Light, &self.folder);
        let mut bench = Self { harness, folder: self.folder };
        bench.harness.run();
        bench
    }

    pub(crate) fn type_text(&mut self, text: &str) {
        for letter in text.chars() {
            self.harness.event(Event::Text(letter.to_string()));
        }
        self.harness.run();
    }

    pub(crate) fn press(&mut self, key: Key) {
        self.harness.key_press(key);
        self.harness.run();
    }

    pub(crate) fn click(&mut self, label: &str) {
        self.harness.get_by_label(label).click();
        self.harness.run();
    }

    pub(crate) fn act(&mut self, command: Command) {
        let ctx = self.harness.ctx.clone();
        self.harness.state_mut().act(&ctx, command);
        self.harness.run();
    }

    pub(crate) fn shows(&self, text: &str) -> bool {
        self.harness.query_all_by_label_contains(text).next().is_some()
    }

    fn at(&self) -> String {
        self.harness.state().bench().visit().unwrap().at.to_string()
    }

    /// What the disk says now.
    pub(crate) fn on_disk(&self) -> Machine {
        let opened = store::open(self.folder.path()).unwrap();
        assert_eq!(opened.issues, []);
        opened.yard.machines.into_iter().next().unwrap()
    }
}

fn window(size: [f32; 2], theme: Theme, folder: &TempDir) -> Harness<'static, App> {
    window_at(size, theme, folder, folder.path().to_owned())
}

fn window_at(
    size: [f32; 2],
    theme: Theme,
    folder: &TempDir,
    root: PathBuf,
) -> Harness<'static, App> {
    let opened = store::open(folder.path()).unwrap();
    let zone = FixedOffset::east_opt(0).unwrap();
    let app = App::new(opened, root, now, zone, 0x7f3a);
    picture::builder(size, theme).build_ui_state(
        |ui, app: &mut App| {
            // The harness leaves a margin that a window has not.
            let whole = ui.ctx().content_rect();
            app.draw(&mut ui.new_child(UiBuilder::new().max_rect(whole)));
        },
        app,
    )
}

fn station(name: &str) -> StationId {
    name.parse().unwrap()
}

fn um(um: i64) -> Length {
    Length::from_um(um)
}

fn bracket(go_um: i64, no_go_um: i64) -> Bracket {
    Bracket::new(um(go_um), Some(um(no_go_um))).unwrap()
}

fn felt(session: &Session, name: &str) -> Bracket {
    session.readings.iter().find(|it| it.station == station(name)).unwrap().bracket
}

/// The meter five hours after the last session.
fn meter(bench: &Bench) -> String {
    let last = bench.on_disk().history.last().unwrap().meter;
    format!("{:.1}", last.h() + 5.0)
}

#[test]
fn a_whole_session_by_keyboard_alone() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    let before = bench.on_disk().sessions.len();
    let meter = meter(&bench);
    bench.press(Key::Enter);
    let walk = bench.harness.state().bench().machine().unwrap().shear.walk();
    for name in &walk {
        if bench.shows("People clear") {
            bench.press(Key::Enter);
        }
        assert_eq!(bench.at(), name.to_string());
        match name.to_string().as_str() {
            // One stack after the other, as a hand finds them.
            "P1" => {
                bench.type_text("0.55");
                bench.press(Key::Enter);
                bench.type_text("0.60");
            }
            // Which one stuck is known first, then which one went.
            "P2" => {
                bench.type_text("0.65n0.60g");
            }
            "P3" => bench.type_text("0,70/0,75"),
            "P4" => bench.type_text(">1.30"),
            "G2" => bench.type_text("0.05 0.10"),
            _ => bench.type_text("0.45-0.50"),
        }
        bench.press(Key::Enter);
    }
    assert!(bench.shows("Ready to sign"));
    for _ in ["the meter", "tonnes", "cuts"] {
        bench.press(Key::Enter);
    }
    bench.type_text("QX");
    bench.press(Key::Enter);
    bench.type_text("after the night shift");
    bench.press(Key::Enter);
    assert!(bench.shows("Type the hour meter"), "the meter was passed over and is asked for");
    for _ in 0..4 {
        bench.press(Key::ArrowUp);
    }
    bench.type_text(&meter);
    for _ in 0..5 {
        bench.press(Key::Enter);
    }
    assert_eq!(bench.harness.state().bench().screen(), Screen::Decide);

    let machine = bench.on_disk();
    assert_eq!(machine.sessions.len(), before + 1);
    let session = machine.history.last().unwrap();
    assert_eq!(session.readings.len(), walk.len());
    assert_eq!((session.by.as_str(), session.note.as_str()), ("QX", "after the night shift"));
    assert_eq!(felt(session, "P1"), bracket(550, 600));
    assert_eq!(felt(session, "P2"), bracket(600, 650));
    assert_eq!(felt(session, "P3"), bracket(700, 750));
    assert_eq!(felt(session, "P4"), Bracket::new(um(1_300), None).unwrap());
    let settings = &bench.harness.state().bench().yard().settings;
    let decision = decide(&machine, settings);
    assert_eq!(decision.line(LineId::G).unwrap().action, Action::Stop, "0.05–0.10 at G2");
    assert!(store::open(bench.folder.path()).unwrap().drafts.is_empty());
}

#[test]
fn a_whole_session_by_pointer_alone() {
    let mut bench = Bench::open([1024.0, 768.0], Theme::Light, 1);
    let meter = meter(&bench);
    let by = bench.on_disk().history.last().unwrap().by.clone();
    bench.click("Heron");
    let walk = bench.harness.state().bench().machine().unwrap().shear.walk();
    for _ in &walk {
        if bench.shows("People clear") {
            bench.click("Locked and blocked");
        }
        for leaf in ["leaf 0.05", "leaf 0.40", "Goes in", "leaf 0.50", "Does not go"] {
            bench.click(leaf);
        }
        if bench.at() == "T2" {
            bench.click("blade warmer");
            bench.click("blade warmer");
            bench.click("Surface cracks");
        }
        bench.click("Save and next");
    }
    for figure in meter.chars() {
        bench.click(&figure.to_string());
    }
    bench.click(&by);
    bench.click("Sign off");

    let machine = bench.on_disk();
    let session = machine.history.last().unwrap();
    assert_eq!(session.by, by);
    assert_eq!(session.readings.len(), walk.len());
    assert!(session.readings.iter().all(|reading| reading.bracket == bracket(450, 500)));
    let warm = session.readings.iter().find(|it| it.station == station("T2")).unwrap();
    assert!(warm.blade_temp.is_some());
    assert_eq!(session.findings.len(), 1);
    assert_eq!(session.findings[0].kind, FindingKind::SurfaceCracks);
    let decision = decide(&machine, &bench.harness.state().bench().yard().settings);
    assert_ne!(decision.line(LineId::T).unwrap().action, Action::Leave, "cracks at T2");
}

#[test]
fn slips_are_named_and_what_was_typed_stays() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    for (typed, said) in [
        ("loose", "“loose” is not a number"),
        ("-0.45", "“-0.45” is negative"),
        ("45", "Did you mean 0.45?"),
        ("0.60-0.55", "Check which one stuck"),
    ] {
        bench.type_text(typed);
        bench.press(Key::Enter);
        assert!(bench.shows(said), "{typed}");
        assert_eq!(bench.harness.state().bench().visit().unwrap().entry().text, typed);
        assert_eq!(bench.at(), "J1", "{typed}: nothing was saved");
        bench.press(Key::Escape);
    }
    bench.type_text("0.018in");
    assert_eq!(bench.harness.state().bench().visit().unwrap().entry().text, "0.018in");
    bench.press(Key::Enter);
    bench.type_text("0.50");
    bench.press(Key::Enter);
    assert_eq!(bench.at(), "J2");
}

#[test]
fn a_draft_survives_and_undo_takes_the_last_step_back() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    for _ in 0..2 {
        bench.type_text("0.40 0.45");
        bench.press(Key::Enter);
    }
    bench.harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    bench.harness.run();
    let mut bench = bench.start_again();
    assert!(bench.shows("Heron"));
    let drafts = store::open(bench.folder.path()).unwrap().drafts;
    assert_eq!(drafts.len(), 1);
    assert_eq!(drafts[0].readings.len(), 1, "the second one was taken back");
    bench.press(Key::Enter);
    assert_eq!(bench.at(), "J2", "the visit goes on where it stopped");
}

#[test]
fn one_tap_logs_a_jam_and_the_machine_is_due_at_once() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    let before = bench.on_disk().sessions.len();
    bench.click("Jam, Heron");
    let machine = bench.on_disk();
    assert_eq!(machine.sessions.len(), before + 1);
    let settings = &bench.harness.state().bench().yard().settings;
    assert_eq!(LastLook::of(&machine.history).due(settings.intervals.look, now()), Due::AtOnce);
    let row = bench.harness.get_by_label("Heron");
    let said = row.accesskit_node().data().description().map(ToOwned::to_owned);
    assert!(said.unwrap().contains("Look at once: jam or chatter logged."));
}

/// Tonnes by keyboard, cuts by the figures for gloves; the draft, the log and the trend have them.
#[test]
fn a_visit_is_signed_past_what_is_not_measured() {
    let mut bench = Bench::open([1024.0, 768.0], Theme::Light, 1);
    bench.press(Key::Enter);
    bench.type_text("0.45-0.50");
    bench.press(Key::Enter);
    bench.click("More…");
    bench.click("Sign off what is measured");
    assert!(bench.shows("Ready to sign") && bench.shows("stations are measured. Not yet: "));
}

#[test]
fn tonnes_and_cuts_are_signed_and_growth_is_counted_along_them() {
    let mut bench = Bench::open([1024.0, 768.0], Theme::Light, 1);
    let (before, meter) = (bench.on_disk(), meter(&bench));
    let last = before.history.last().unwrap().counters;
    let (tonnes, cuts) = (last.tonnes.unwrap() + 31, last.cuts.unwrap() + 870);
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    let walk = bench.harness.state().bench().machine().unwrap().shear.walk();
    let at = walk[0];
    bench.type_text("0.40/0.45");
    bench.press(Key::Enter);
    for station in &walk {
        bench.act(Command::ChooseStation(*station));
    }
    bench.press(Key::PageDown);
    bench.type_text(&meter);
    bench.press(Key::Enter);
    bench.type_text(&format!("{tonnes}.5"));
    bench.click("cuts");
    for figure in cuts.to_string().chars() {
        bench.click(&figure.to_string());
    }
    bench.act(Command::TypeInitials("MR".into()));
    bench.click("Sign off");
    assert!(bench.shows(&format!("“{tonnes}.5” is no whole number of tonnes.")));
    bench.harness.snapshot("signing-refused");
    bench.click("tonnes");
    for _ in ["5", "the point"] {
        bench.click("Del");
    }

    let mut bench = bench.start_again();
    let draft = bench.harness.state().bench().visit().unwrap().session.counters;
    assert_eq!((draft.tonnes, draft.cuts), (Some(tonnes), Some(cuts)), "the draft keeps both");
    bench.act(Command::SignOff);
    let after = bench.on_disk();
    assert_eq!(after.history.last().unwrap().counters, draft);
    let total = after.history.readings[&at].last().unwrap().counters;
    let session = after.history.last().unwrap().id.clone();
    bench.act(Command::Go(Screen::Trend));
    bench.act(Command::ChooseLine(at.line));
    bench.act(Command::PickReading(Some((at, session))));
    for (along, total) in [("tonnes", total.tonnes), ("cuts", total.cuts)] {
        bench.click(&format!("along {along}"));
        let place = numbers::count(total.unwrap());
        assert!(bench.shows(&format!("{at} at {place}\u{a0}")), "{place}");
    }
}

/// A slip of the hand, or a counter that went back to zero: only who stands before it knows.
#[test]
fn a_counter_that_shows_less_is_signed_once_somebody_says_it_is_a_new_one() {
    let mut bench = Bench::open([1024.0, 768.0], Theme::Light, 1);
    let (before, meter) = (bench.on_disk(), meter(&bench));
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    let at = bench.harness.state().bench().machine().unwrap().shear.walk()[0];
    bench.type_text("0.40/0.45");
    bench.press(Key::Enter);
    bench.act(Command::TypeMeter(meter));
    bench.act(Command::TypeCounter(Counted::Cuts, "870".into()));
    bench.act(Command::TypeInitials("MR".into()));
    bench.act(Command::SignOff);
    assert!(bench.shows("The counter of cuts reads 870, but it stood at"));
    bench.harness.snapshot("signing-a-counter-set-back");
    assert_eq!(bench.on_disk().sessions.len(), before.sessions.len());
    bench.click("It is a new counter: sign with it");
    let after = bench.on_disk();
    assert_eq!(after.history.last().unwrap().counters.cuts, Some(870));
    let total = |machine: &Machine| machine.history.readings[&at].last().unwrap().counters.cuts;
    assert_eq!(total(&after), total(&before).map(|cuts| cuts + 870));
}

/// A carrier was swapped: the new meter shows fewer hours than the log knows.
#[test]
fn a_changed_hour_meter_is_recorded_on_the_sign_off_card_and_the_visit_can_be_signed() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    bench.type_text("0.40/0.45");
    bench.press(Key::Enter);
    let before = bench.on_disk();
    let last = before.history.service_now();
    for command in
        [Command::TypeInitials("MR".into()), Command::TypeMeter("8.5".into()), Command::SignOff]
    {
        bench.act(command);
    }
    bench.click("The meter was changed");
    bench.click("Record the change");
    bench.act(Command::SignOff);
    let after = bench.on_disk();
    assert_eq!(after.sessions.len(), before.sessions.len() + 2, "the change and the visit");
    let ran = after.history.service_now() - last;
    assert_eq!(Some(ran), Hours::from_h(8.5), "no hour is lost");
    assert!(after.history.backwards.is_empty());
}

#[test]
fn arrows_walk_the_list_and_an_open_visit_says_so() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 3);
    // The keyboard stands on the first row from the start.
    assert!(bench.shows("What to do with Wren"));
    bench.press(Key::ArrowDown);
    assert!(bench.shows("What to do with Heron"), "the pane follows the keyboard");
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    bench.type_text("0.40/0.45");
    bench.press(Key::Enter);
    bench.press(Key::Tab);
    bench.press(Key::Escape);
    bench.type_text("0.4");
    bench.click("Goes in");
    assert_eq!(bench.harness.state().bench().visit().unwrap().entry().go, Some(um(400)));
    bench.press(Key::PageUp);
    assert_eq!(bench.at(), "J1");
    bench.press(Key::ArrowDown);
    assert_eq!(bench.harness.state().bench().visit().unwrap().entry().go, Some(um(400)), "kept");
    bench.click("Yard");
    bench.click("Trend, Dunlin");
    assert_eq!(bench.harness.state().bench().screen(), Screen::Trend);
}

#[test]
fn a_yard_without_machines_teaches_and_another_can_be_opened_by_typing() {
    let other = Bench::open([1280.0, 800.0], Theme::Light, 2).folder;
    let mut bench = Bench::open([1024.0, 768.0], Theme::Light, 0);
    assert!(bench.shows("This yard has no machine yet"));
    bench.harness.get_by_label("path of a yard's folder").focus();
    bench.harness.run();
    bench.type_text(other.path().to_str().unwrap());
    bench.click("Open");
    while bench.harness.state().is_busy() {
        std::thread::sleep(std::time::Duration::from_millis(10));
        bench.harness.step();
    }
    bench.harness.run();
    assert!(bench.shows("Dunlin"));
    assert_eq!(bench.harness.state().root(), other.path());
}

/// What is said about a stack pair at P2 of a machine with demonstration limits.
#[track_caller]
fn check(go_um: i64, no_go_um: Option<i64>, headline: &str, reason: &str) {
    let yard = sample::yard(1, 1, 48, now());
    let machine = &yard.machines[0];
    let last = machine.sessions.last().unwrap().clone();
    // Everything at 20 °C, so that the leaves stand against the limits as they are.
    let session = Session { air_temp: None, jaw_temp: None, ..last };
    let telling = Telling {
        shear: &machine.shear,
        decision: None,
        session: Some(&session),
        settings: &yard.settings,
        leaves: yard.settings.leaf_sets.first(),
        numbers: Numbers::default(),
    };
    let felt = Bracket::new(um(go_um), no_go_um.map(um)).unwrap();
    let gap = telling.gap(station("P2"), felt, (None, None)).unwrap();
    let said = (Some(um(go_um)).filter(|go| *go != Length::ZERO), no_go_um.map(um));
    let live = telling.live(station("P2"), said, Some(&(felt, gap)), None);
    assert_eq!(live.headline, headline);
    let text = plain(&live.reasons.concat());
    assert!(text.replace('\u{a0}', " ").contains(reason), "{text}");
}

#[test]
fn the_verdict_names_a_leaf_only_where_one_would_tell_more() {
    check(300, Some(350), "In the set range. Leave it.", "0.925 mm left to the working limit 1.25");
    check(550, Some(600), "Working. Leave it.", "no trend yet");
    check(150, Some(200), "Too tight. Work before cutting on.", "is under the working limit 0.20");
    check(1_650, None, "Stop. Do not cut with it.", "over 1.65 is over the stop limit 1.60");
    check(0, Some(50), "Stop. Do not cut with it.", "under 0.05 is under the stop limit 0.10");
    check(1_150, Some(1_300), "Undecided: try 1.25.", "1.25 (1.00 + 0.25) would tell");
    check(1_230, Some(1_270), "Undecided: try 1.25.", "lies between the two stacks");
    check(1_240, Some(1_249), "Working. Leave it.", "left to the working limit");
    check(1_246, Some(1_249), "Working. Leave it.", "left to the working limit");
    check(1_251, Some(1_260), "Too wide. Work before cutting on.", "is over the working limit");
    check(550, None, "0.55 or more.", "Now the stack that does not go: try 1.25 (1.00 + 0.25)");
}

#[test]
fn the_screens_look_as_accepted() {
    let mut results = SnapshotResults::new();
    for (size, theme, name) in [
        ([1600.0, 1000.0], Theme::Light, "1600-light"),
        ([1280.0, 800.0], Theme::Dark, "1280-dark"),
        ([1024.0, 768.0], Theme::Light, "1024-light"),
    ] {
        let folder = TempDir::new().unwrap();
        let end = now() - TimeDelta::hours(9);
        store::create_yard(folder.path(), &sample::yard(1, 3, 48, end)).unwrap();
        // The folder is named in the picture, and this one has another name every time.
        let named = PathBuf::from("/yards/tidewater");
        let mut bench = Bench { harness: window_at(size, theme, &folder, named), folder };
        bench.harness.run();
        bench.harness.snapshot(format!("yard-{name}"));
        bench.press(Key::Enter);
        let middle = theme == Theme::Dark;
        if middle {
            bench.harness.snapshot("position-dark");
        }
        bench.press(Key::Enter);
        bench.click("P3, Primary blades, third from the pivot");
        bench.press(Key::Enter);
        bench.type_text("0.55");
        bench.press(Key::Enter);
        bench.click("leaf 0.50");
        bench.click("leaf 0.10");
        bench.harness.snapshot(format!("measure-{name}"));
        bench.click("uncertainty of this reading");
        bench.harness.snapshot(format!("uncertainty-{name}"));
        bench.press(Key::Escape);
        bench.click("G3, Guide blade, third from the pivot");
        bench.press(Key::PageDown);
        if middle {
            bench.harness.snapshot("signing-dark");
        }
        results.extend_harness(&mut bench.harness);
    }
}
