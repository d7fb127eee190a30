//! A gauge study from a file to words and numbers, on the command line.

use crate::{
    cli::{json, told},
    desk::Desk,
};
use chrono::NaiveDate;
use egui::{Event, Key, Theme};
use egui_kittest::{SnapshotResults, kittest::Queryable as _};
use gapwright::{
    brief::{plain, study::tell},
    domain::{
        gauge::study::Study,
        machine::ShearId,
        quantity::{Length, LengthUnit},
    },
    exchange, sample, store,
    workbench::{Command, Screen, StudyBench, StudyStep},
};
use std::{fs, path::Path};
use tempfile::TempDir;

const MANUAL: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/aiag_msa_grr.csv");

#[expect(clippy::disallowed_methods, reason = "somebody else's program wrote this file")]
fn put(dir: &TempDir, text: &str) -> String {
    let path = dir.path().join("study.csv");
    fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn the_manuals_study_is_printed_with_one_plain_conclusion() {
    let home = TempDir::new().unwrap();
    let told = told(home.path(), &["study", MANUAL]);
    assert_eq!((told.code, told.err.as_str()), (0, ""));
    let text = told.out.replace('\u{a0}', " ");
    for line in [
        "10 stations × 3 people × 3 times",
        "Your measuring takes 28 % of the spread; you can tell 4 groups of gaps apart. A change \
         of less than 0.838 mm between two readings may be only the hand.",
        "GRR  all of measuring         0.306 mm    27 %       0.302 mm    28 %",
        "ndc  groups told apart               5    5.09              4    4.86",
    ] {
        assert!(text.lines().any(|it| it == line), "{line}\n{text}");
    }
}

#[test]
fn the_manuals_study_is_full_of_numbers_as_json() {
    let home = TempDir::new().unwrap();
    let told = told(home.path(), &["study", MANUAL, "--json"]);
    assert_eq!((told.code, told.err.as_str()), (0, ""));
    let value = json(&told);
    for (path, expected) in [
        ("/ranges/ev", 0.201_856_67),
        ("/ranges/av", 0.229_667_03),
        ("/ranges/grr", 0.305_766_35),
        ("/ranges/pv", 1.104_595_56),
        ("/ranges/tv", 1.146_134_55),
        ("/anova/ev", 0.199_933_179_721),
        ("/anova/av", 0.226_837_521_496),
        ("/anova/grr", 0.302_371_522_323),
        ("/anova/pv", 1.042_327_493_838),
        ("/anova/tv", 1.085_299_563_219),
        ("/anova/if_unpooled/ev", 0.214_434_657_232),
        ("/ranges/share/grr", 0.266_780_498),
    ] {
        let found = value.pointer(path).unwrap().as_f64().unwrap();
        assert!((found / expected - 1.0).abs() < 1e-6, "{path}: {found} is not {expected}");
    }
    assert_eq!((&value["ranges"]["ndc"], &value["anova"]["ndc"]), (&5.into(), &4.into()));
    assert_eq!(value["anova"]["pooled"], true);
    assert_eq!(value["anova"]["interaction"], serde_json::Value::Null, "it is in the hand");
}

#[test]
fn what_is_wrong_goes_apart_by_line_and_the_rest_is_studied() {
    let home = TempDir::new().unwrap();
    let mut text = fs::read_to_string(MANUAL).unwrap();
    text = text.replacen("2,B,2,-1.22", "2,B,2,thick", 1);
    let file = put(&home, &text);
    let found = told(home.path(), &["study", &file, "--json"]);
    assert_eq!(found.code, 1);
    assert_eq!(
        found.err,
        format!(
            "{file}:18: “thick” is not a reading in millimetres; write a number such as 0.55\n\
             {file}:14: part “2” is not complete and is left out of the study; complete it, and \
             study again\n"
        )
    );
    let value = json(&found);
    assert_eq!((&value["parts"], &value["issues"][0]["line"]), (&9.into(), &18.into()));
    assert!(value["anova"]["grr"].as_f64().is_some());

    let one_person: Vec<&str> =
        text.lines().filter(|line| line.starts_with("part") || line.contains(",A,")).collect();
    let file = put(&home, &one_person.join("\n"));
    let found = told(home.path(), &["study", &file, "--json"]);
    assert_eq!(found.code, 1);
    assert!(found.err.starts_with(&format!("{file}:2: all readings are by one person, “A”")));
    let value = json(&found);
    assert_eq!(value["anova"]["av"], serde_json::Value::Null);
    assert_eq!(value["anova"]["grr"], value["anova"]["ev"]);

    let nothing = told(home.path(), &["study", &put(&home, "P1,kw,1,0.5\n"), "--json"]);
    assert_eq!((nothing.code, nothing.out.as_str()), (1, ""));
    assert!(nothing.err.contains(":1: the header has no column “part”"), "{}", nothing.err);
    let absent = told(home.path(), &["study", "nowhere.csv"]);
    assert_eq!(absent.code, 1);
    assert!(absent.err.contains("nowhere.csv: this cannot be read"), "{}", absent.err);
}

#[test]
fn a_yard_takes_the_crews_scatter_over_and_names_the_study() {
    let home = TempDir::new().unwrap();
    let yard = home.path().join("yard");
    store::unpack(&yard, sample::files()).unwrap();
    let used = told(home.path(), &["study", MANUAL, "--use", yard.to_str().unwrap()]);
    assert_eq!((used.code, used.err.as_str()), (0, ""));
    assert!(used.out.contains("now count with a scatter of 0.302"), "{}", used.out);
    let kept = store::open(&yard).unwrap().yard.settings.repeatability.unwrap();
    assert_eq!(kept.sigma, Length::from_nm(302_372));
    // EV² 0.0400 with 78 degrees of freedom, AV² 0.0515 with 2: 0.0914²/(…) = 6.2.
    assert_eq!(kept.dof, Some(6), "three people say little about people");
    assert_eq!(kept.from, "aiag_msa_grr.csv, 10 stations × 3 people × 3 times");
    assert!(NaiveDate::from_ymd_opt(2025, 1, 1).unwrap() < kept.taken);

    let single = put(&home, "part,person,trial,value_mm\nP1,kw,1,0.5\n");
    let refused = told(home.path(), &["study", &single, "--use", yard.to_str().unwrap()]);
    assert_eq!(refused.code, 1);
    assert!(refused.err.contains("the yard was left as it is"), "{}", refused.err);
    let still = store::open(&yard).unwrap().yard.settings.repeatability.unwrap();
    assert_eq!(still.sigma, kept.sigma);
}

/// A window on the sample yard with the plan of a check in front.
fn at_plan(size: [f32; 2], theme: Theme) -> Desk {
    let mut desk = Desk::open(size, theme);
    desk.act(Command::ChooseMachine(ShearId::new("dunlin").unwrap()));
    desk.act(Command::Go(Screen::Measure));
    desk.tap("Check");
    assert_eq!(desk.window.state().bench().screen(), Screen::Study);
    desk
}

fn type_text(desk: &mut Desk, text: &str) {
    for letter in text.chars() {
        desk.window.event(Event::Text(letter.to_string()));
    }
    desk.window.run();
}

fn press(desk: &mut Desk, key: Key) {
    desk.window.key_press(key);
    desk.window.run();
}

/// Walks with Tab to what a person would call `label`.
fn tab_to(desk: &mut Desk, label: &str) {
    for _ in 0..80 {
        let there = desk.window.query_by_label(label).is_some_and(|it| it.is_focused());
        if there {
            return;
        }
        press(desk, Key::Tab);
    }
    panic!("Tab does not lead to {label}");
}

/// One crew at four stations: the gap in hundredths, what each person adds, and a hand that is not
/// steady.
fn leaves(station: usize, person: usize, trial: usize) -> String {
    let gap = [40, 50, 65, 80][station] + [0, 5][person] + [0, 5, 0][(station + trial) % 3];
    format!("0.{gap}-0.{}", gap + 5)
}

/// Plans by keyboard: the primary blades, two people, three times.
fn begin(desk: &mut Desk) {
    for label in ["P1", "P2", "P3", "P4"] {
        tab_to(desk, label);
        press(desk, Key::Space);
    }
    // Nobody has signed in this window yet, so the plan starts without people.
    for initials in ["KW", "OT"] {
        tab_to(desk, "initials of somebody who measures");
        type_text(desk, initials);
        press(desk, Key::Enter);
    }
    tab_to(desk, "Begin");
    press(desk, Key::Enter);
}

/// Types every reading of the walk that is still open.
fn measure_all(desk: &mut Desk) {
    for trial in 0..3 {
        for person in 0..2 {
            for station in 0..4 {
                type_text(desk, &leaves(station, person, trial));
                press(desk, Key::Enter);
            }
        }
    }
}

fn study(desk: &Desk) -> StudyBench {
    desk.window.state().bench().study_bench().unwrap().clone()
}

#[test]
fn a_whole_check_is_done_by_keyboard_and_kept_reading_by_reading() {
    let mut desk = at_plan([1280.0, 800.0], Theme::Light);
    begin(&mut desk);
    let plan = study(&desk);
    assert_eq!(
        (plan.people.as_slice(), plan.trials),
        (["KW", "OT"].map(str::to_owned).as_slice(), 3)
    );
    assert!(desk.window.query_by_label("Move the jaw").is_some(), "first the jaw is made safe");
    press(&mut desk, Key::Enter);
    assert!(desk.window.query_by_label_contains("KW, first time, station P1").is_some());

    // Two stacks, one after the other.
    for text in ["0.50", "0.55"] {
        type_text(&mut desk, text);
        press(&mut desk, Key::Enter);
    }
    let file = desk.root().join(format!("studies/{}.csv", study(&desk).name.unwrap()));
    let kept = fs::read_to_string(&file).unwrap();
    assert!(
        kept.starts_with(
            "machine,part,person,trial,value_mm,go_mm,no_go_mm\n\
             dunlin,P1,KW,1,0.525,0.5,0.55\ndunlin,P2,KW,1,,,\n"
        ),
        "it is on disk before the next station comes up, and so is the plan: {kept}"
    );
    assert!(desk.window.query_by_label_contains("station P2").is_some());
    // A slip is named, and what was typed stays; Page Up leads back and the reading is said anew.
    type_text(&mut desk, "60");
    press(&mut desk, Key::Enter);
    assert!(desk.window.query_by_label_contains("Did you mean 0.60?").is_some());
    press(&mut desk, Key::Escape);
    type_text(&mut desk, ">1.00");
    press(&mut desk, Key::Enter);
    assert!(desk.window.query_by_label_contains("needs the stack that does not go").is_some());
    press(&mut desk, Key::Escape);
    press(&mut desk, Key::PageUp);
    assert!(desk.window.query_by_label_contains("station P1").is_some());

    measure_all(&mut desk);
    assert!(desk.window.query_by_label("All is measured").is_some());
    let table = exchange::open_study(&file).unwrap();
    assert_eq!(table.issues, []);
    let found = Study::of(&table.table);
    let brief = tell(&found, &table.table, desk.numbers());
    assert!(desk.window.query_by_label(&plain(&brief.conclusion)).is_some(), "{brief:?}");
    assert_eq!(brief.size, "4 stations × 2 people × 3 times");

    tab_to(&mut desk, "Use this in my readings");
    press(&mut desk, Key::Enter);
    let used = desk.on_disk().settings.repeatability.unwrap();
    let grr = found.anova.chosen().components.grr.unwrap();
    assert_eq!(Some(used.sigma), Length::from_mm(grr));
    assert_eq!(used.from, format!("studies/{}.csv, Dunlin", study(&desk).name.unwrap()));
    assert!(desk.window.query_by_label_contains("count with a scatter of").is_some());
    let settings = &desk.window.state().bench().yard().settings;
    assert_eq!(settings.repeatability.as_ref(), Some(&used));
    assert_eq!(store::check(&desk.root()), [], "a study in the yard is nothing to complain about");

    press(&mut desk, Key::PageUp);
    assert!(desk.window.query_by_label_contains("OT, third time, station P4").is_some());
    desk.tap("Back to Measure");
    assert_eq!(desk.window.state().bench().screen(), Screen::Measure);
    desk.tap("Check");
    assert_eq!(study(&desk).readings.len(), 24, "it waits where it was left");
}

/// The window goes in the middle of it; the next one goes on where nobody measured yet, and what
/// is finished or of another machine is left alone.
#[test]
fn a_half_filled_check_is_taken_up_where_it_was_left() {
    let size = [1280.0, 800.0];
    let mut desk = at_plan(size, Theme::Light);
    begin(&mut desk);
    press(&mut desk, Key::Enter);
    for reading in ["0.50-0.55", "0.55-0.60", "0.60-0.65"] {
        type_text(&mut desk, reading);
        press(&mut desk, Key::Enter);
    }
    let left = study(&desk);

    let mut desk = desk.again(size, Theme::Light);
    desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
    desk.act(Command::Study(StudyStep::Open));
    assert!(!study(&desk).is_running(), "it was made on another machine");
    desk.act(Command::ChooseMachine(ShearId::new("dunlin").unwrap()));
    desk.act(Command::Go(Screen::Measure));
    desk.tap("Check");
    let found = study(&desk);
    assert_eq!((&found.name, &found.people), (&left.name, &left.people));
    assert_eq!((&found.stations, found.trials), (&left.stations, left.trials));
    assert_eq!((&found.readings, found.at), (&left.readings, 3));
    assert!(found.kept.is_some() && found.position.is_none(), "the jaw is made safe again first");
    press(&mut desk, Key::Enter);
    assert!(desk.window.query_by_label_contains("KW, first time, station P4").is_some());
    for (done, station) in (3..24).zip(["P4", "P1", "P2", "P3"].iter().cycle()) {
        let at = format!("station {station}");
        assert!(desk.window.query_by_label_contains(&at).is_some(), "{done}");
        type_text(&mut desk, "0.50-0.55");
        press(&mut desk, Key::Enter);
    }
    assert!(desk.window.query_by_label("All is measured").is_some());

    let mut desk = desk.again(size, Theme::Light);
    desk.act(Command::ChooseMachine(ShearId::new("dunlin").unwrap()));
    desk.act(Command::Study(StudyStep::Open));
    assert!(!study(&desk).is_running(), "nothing is left to do in that one");
}

#[test]
fn the_jaw_moves_only_after_everybody_has_measured_there() {
    let mut desk = at_plan([1280.0, 800.0], Theme::Light);
    for label in ["S2", "P1", "P4"] {
        desk.tap(label);
    }
    for initials in ["KW", "OT"] {
        desk.act(Command::Study(StudyStep::TogglePerson(initials.into())));
    }
    desk.act(Command::Study(StudyStep::SetTrials(2)));
    let (machine, _) = desk.machine("dunlin");
    let walk: Vec<String> = study(&desk)
        .walk(&machine.shear)
        .iter()
        .map(|it| format!("{} {} {}", it.station, it.person, it.trial))
        .collect();
    let primary = ["P1 0 1", "P4 0 1", "P1 1 1", "P4 1 1", "P1 0 2", "P4 0 2", "P1 1 2", "P4 1 2"];
    assert_eq!(walk[..8], primary);
    assert_eq!(walk[8..], ["S2 0 1", "S2 1 1", "S2 0 2", "S2 1 2"]);
}

#[test]
fn a_full_disk_is_said_and_nothing_that_was_typed_is_lost() {
    let mut desk = at_plan([1280.0, 800.0], Theme::Light);
    // Where the studies should be is a file, so that no folder can be made.
    blocked(&desk.root().join("studies"));
    begin(&mut desk);
    press(&mut desk, Key::Enter);
    type_text(&mut desk, "0.50-0.55");
    press(&mut desk, Key::Enter);
    assert!(desk.window.query_by_label_contains("Not saved").is_some());
    assert_eq!((study(&desk).readings.len(), study(&desk).kept), (1, None));
}

#[expect(clippy::disallowed_methods, reason = "this stands in the way of the store")]
fn blocked(path: &Path) {
    fs::write(path, "not a folder").unwrap();
}

#[test]
fn the_check_looks_as_accepted_and_everything_has_its_own_name() {
    let mut results = SnapshotResults::new();
    let mut desk = at_plan([1024.0, 768.0], Theme::Light);
    desk.names_are_unique();
    results.add(desk.window.try_snapshot("study-plan-light"));
    begin(&mut desk);
    desk.names_are_unique();
    for (theme, name) in [(Theme::Light, "study-light"), (Theme::Dark, "study-dark")] {
        let mut desk = at_plan([1280.0, 800.0], theme);
        begin(&mut desk);
        press(&mut desk, Key::Enter);
        measure_all(&mut desk);
        results.add(desk.window.try_snapshot(name));
        desk.names_are_unique();
    }
    let mut desk = at_plan([1024.0, 768.0], Theme::Dark);
    begin(&mut desk);
    press(&mut desk, Key::Enter);
    for text in ["0.50-0.55", "0.60-0.65", "0.70-0.75", "0.95"] {
        type_text(&mut desk, text);
        press(&mut desk, Key::Enter);
    }
    desk.names_are_unique();
    results.add(desk.window.try_snapshot("study-hand-dark"));
}

#[test]
fn a_small_window_and_inches_break_nothing() {
    for size in [[700.0, 480.0], [320.0, 240.0]] {
        let mut desk = at_plan_in_any(size);
        desk.window.render().unwrap();
        for station in ["P1", "P2"] {
            desk.act(Command::Study(StudyStep::ToggleStation(station.parse().unwrap())));
        }
        desk.act(Command::Study(StudyStep::TogglePerson("KW".into())));
        desk.act(Command::SetUnit(LengthUnit::Inch));
        desk.act(Command::Study(StudyStep::Start));
        desk.act(Command::Study(StudyStep::PositionReached));
        for text in [".020-.022", ".024-.026"] {
            desk.act(Command::Study(StudyStep::Type(text.into())));
            desk.act(Command::Study(StudyStep::Confirm));
        }
        assert_eq!(study(&desk).readings.len(), 2);
        desk.window.render().unwrap();
    }
}

fn at_plan_in_any(size: [f32; 2]) -> Desk {
    let mut desk = Desk::open(size, Theme::Light);
    desk.act(Command::Study(StudyStep::Open));
    desk
}
