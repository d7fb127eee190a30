//! Two windows describe one machine: neither overwrites in silence what the other has saved.

use crate::{
    arrivals::until,
    desk::{Desk, now},
};
use chrono::Offset as _;
use egui::Theme;
use gapwright::{
    domain::{
        gauge::Repeatability,
        machine::{LineId, Shear, ShearId},
        quantity::Length,
        setup::{Change, Field, OfLimits, OfMachine, OfYard},
        yard::Settings,
    },
    gui::App,
    store,
    workbench::{Arrival, Command, Screen, Setup, SetupDesk, SetupPage},
};
use std::time::Duration;

const USUAL: [f32; 2] = [1280.0, 800.0];
const WIDEST: Field = Field::Limit(LineId::P, OfLimits::WorkingMax);
const REACH: Field = Field::Machine(OfMachine::Reach);
const MOUTH: Field = Field::Machine(OfMachine::Mouth);

fn heron() -> ShearId {
    ShearId::new("heron").unwrap()
}

/// Somebody is at the limits of Heron and has typed another one.
fn typing(size: [f32; 2], theme: Theme) -> Desk {
    let mut desk = Desk::open(size, theme);
    desk.act(Command::ChooseMachine(heron()));
    desk.act(Command::Go(Screen::Setup));
    desk.act(Command::Setup(Setup::Page(SetupPage::Limits)));
    put(&mut desk, WIDEST, "0.5");
    desk
}

fn put(desk: &mut Desk, field: Field, text: &str) {
    desk.act(Command::Setup(Setup::Change(Change::Put(field, text.to_owned()))));
}

fn at(desk: &Desk) -> &SetupDesk {
    desk.window.state().bench().setup().unwrap()
}

fn on_disk(desk: &Desk) -> Shear {
    desk.on_disk().machine(&heron()).unwrap().shear.clone()
}

/// What another window saves: another reach, and in the second case another limit as well.
fn saved_elsewhere(desk: &Desk, widest_um: Option<i64>) -> Shear {
    let mut theirs = on_disk(desk);
    theirs.geometry.reach = Length::from_um(1_444_000);
    if let Some(um) = widest_um {
        let line = theirs.lines.iter_mut().find(|it| it.id == LineId::P).unwrap();
        let of = &line.limits;
        let mut working = of.working();
        working.max = Length::from_um(um);
        let bands = (of.set(), working, of.stop());
        let rest = (of.hot_min(), of.taper_max(), of.source().to_owned());
        line.limits = gapwright::domain::machine::Limits::new(
            bands.0, bands.1, bands.2, rest.0, rest.1, rest.2,
        )
        .unwrap();
    }
    store::save_shear(&desk.root(), &theirs).unwrap();
    theirs
}

#[test]
fn what_another_window_saved_is_not_overwritten_and_what_was_typed_stays() {
    let mut desk = typing(USUAL, Theme::Light);
    let theirs = saved_elsewhere(&desk, Some(700));
    // This window has not looked yet.
    desk.tap("Save");
    assert_eq!(on_disk(&desk), theirs, "nothing is overwritten");
    assert_eq!(at(&desk).text(&WIDEST), "0.5", "what was typed stays");
    assert!(!at(&desk).can_save());
    assert!(desk.shows("Another window or a copy has changed shears/heron/shear.ron"));
    assert!(desk.shows("Machine: pivot to tip: 1444\u{a0}mm there, 1360\u{a0}mm here."));
    assert!(desk.shows("Line P: working to: 0.7\u{a0}mm there, 0.5\u{a0}mm here."));
    // What is typed meanwhile stays too.
    put(&mut desk, MOUTH, "171");
    desk.tap("Keep mine");
    assert!(!desk.shows("Another window or a copy"));
    desk.tap("Save");
    let both = on_disk(&desk);
    assert_eq!(both.geometry.reach, theirs.geometry.reach, "what only they changed");
    assert_eq!(both.geometry.mouth, Length::from_um(171_000), "what only was changed here");
    assert_eq!(both.line(LineId::P).unwrap().limits.working().max, Length::from_um(500));
    assert!(!at(&desk).is_changed());
}

#[test]
fn theirs_can_be_taken_and_a_step_back_brings_ours_without_undoing_what_they_did() {
    let mut desk = typing(USUAL, Theme::Light);
    put(&mut desk, MOUTH, "171");
    let theirs = saved_elsewhere(&desk, None);
    let arrival = Arrival { shears: vec![theirs.clone()], ..Arrival::default() };
    desk.act(Command::Arrived(Box::new(arrival)));
    desk.tap("Take theirs");
    assert!(!at(&desk).is_changed());
    assert_eq!(at(&desk).text(&REACH), "1444");
    desk.act(Command::Setup(Setup::Undo));
    let texts = |desk: &Desk| [REACH, MOUTH, WIDEST].map(|it| at(desk).text(&it).to_owned());
    assert_eq!(texts(&desk), ["1444", "171", "0.5"]);
    desk.act(Command::Setup(Setup::Undo));
    assert_eq!(&texts(&desk)[0], "1444", "however far back");
    desk.act(Command::Setup(Setup::Redo));
    desk.tap("Save");
    assert_eq!(on_disk(&desk).geometry.reach, theirs.geometry.reach);
}

/// Whoever has typed nothing is asked nothing: the fields show what stands in the files.
#[test]
fn a_window_that_changed_nothing_follows_and_a_real_watch_tells_it() {
    let desk = Desk::open(USUAL, Theme::Light);
    let opened = store::open(&desk.root()).unwrap();
    let app = App::new(opened, desk.root(), now, chrono::Utc.fix(), 3);
    let mut app = app.watching(Duration::from_millis(20));
    let ctx = egui::Context::default();
    let text = |app: &App, field: &Field| app.bench().setup().unwrap().text(field).to_owned();
    for command in [Command::ChooseMachine(heron()), Command::Go(Screen::Setup)] {
        app.act(&ctx, command);
    }
    saved_elsewhere(&desk, None);
    until(&mut app, |app| text(app, &REACH) == "1444");
    assert!(!app.bench().setup().unwrap().is_changed());
    // With something typed it is asked.
    app.act(&ctx, Command::Setup(Setup::Change(Change::Put(REACH, "1500".to_owned()))));
    let settings = store::open(&desk.root()).unwrap().yard.settings;
    let theirs = Settings { name: "Lower quay".to_owned(), ..settings };
    store::save_settings(&desk.root(), &theirs).unwrap();
    until(&mut app, |app| !app.bench().setup().unwrap().elsewhere().is_empty());
    assert_eq!(text(&app, &REACH), "1500");
    app.act(&ctx, Command::Setup(Setup::KeepOurs));
    assert_eq!(text(&app, &Field::Yard(OfYard::Name)), "Lower quay");
}

/// A gauge study that ends while the yard is described is no question: it has no field there.
#[test]
fn the_scatter_of_a_study_is_not_taken_back_by_a_description() {
    let mut desk = typing(USUAL, Theme::Light);
    put(&mut desk, Field::Yard(OfYard::Name), "Upper quay");
    let scatter = Repeatability {
        sigma: Length::from_um(11),
        dof: Some(60),
        from: "study".to_owned(),
        taken: now().date_naive(),
    };
    let settings = store::save_repeatability(&desk.root(), scatter.clone()).unwrap();
    desk.act(Command::SettingsSaved(Box::new(settings)));
    assert!(at(&desk).elsewhere().is_empty());
    desk.tap("Save");
    let saved = desk.on_disk().settings;
    assert_eq!((saved.name.as_str(), saved.repeatability), ("Upper quay", Some(scatter)));
    assert_eq!(on_disk(&desk).line(LineId::P).unwrap().limits.working().max, Length::from_um(500));
}

#[test]
fn the_question_looks_as_accepted() {
    let mut results = egui_kittest::SnapshotResults::new();
    for (name, size, theme) in [
        ("setup-elsewhere-1024", [1024.0, 768.0], Theme::Dark),
        ("setup-elsewhere-light", USUAL, Theme::Light),
    ] {
        let mut desk = typing(size, theme);
        let theirs = saved_elsewhere(&desk, Some(700));
        let arrival = Arrival { shears: vec![theirs], ..Arrival::default() };
        desk.act(Command::Arrived(Box::new(arrival)));
        desk.names_are_unique();
        desk.window.snapshot(name);
        results.extend_harness(&mut desk.window);
    }
}
