//! What each kind of user comes for, from an empty disk to a job sheet, through the keys and the
//! pointer of a window that nobody sees.
//!
//! Knows what must be on the screen and on the disk at each step. Sends no command past the window.

use crate::desk::{Desk, now};
use chrono::TimeDelta;
use egui::{Color32, Key, Shape, accesskit::Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use gapwright::{
    domain::{
        log::{Remark, Work},
        machine::LineId,
        yard::Machine,
    },
    language::{self, Language, known},
    store,
    workbench::Screen,
};
use std::{fmt::Write as _, fs, path::PathBuf};

const USUAL: [f32; 2] = [1280.0, 800.0];

/// A sentence with places, as the language in hand has it.
fn filled(sentence: &str, places: &[(&str, &dyn std::fmt::Display)]) -> String {
    language::fill(known(sentence), places)
}

/// Makes a yard and a machine of one's own, beginning with a jaw that ships.
fn settle_in(desk: &mut Desk, yard: &str, machine: &str) {
    assert!(desk.shows("Heron"), "the first thing to be seen is the sample yard");
    desk.tap(known("New…"));
    let folder = desk.beside("quay");
    desk.fill(known("name of the new yard"), yard);
    desk.fill(known("folder of the new yard"), &folder.display().to_string());
    desk.press(Key::Enter);
    desk.until(|desk| desk.root() == folder);
    assert!(!desk.shows("Heron"), "a new yard has no machine");
    desk.tap(known("Set up a machine"));
    desk.tap(known("A middle jaw"));
    assert!(!desk.window.state().bench().setup().unwrap().can_save(), "it has no name yet");
    let label = known("name");
    desk.fill(&filled("machine: {label}", &[("label", &label)]), machine);
    desk.with_ctrl(Key::S);
    let made = own(desk);
    assert_eq!((made.shear.name.as_str(), made.sessions.len()), (machine, 0));
}

/// The one machine of the yard, as the disk has it.
fn own(desk: &Desk) -> Machine {
    let mut machines = desk.on_disk().machines;
    assert_eq!(machines.len(), 1);
    machines.remove(0)
}

/// Asks for the job sheet; it lies in the yard, and the window says so.
fn sheet(desk: &mut Desk, machine: &str) {
    desk.tap(known("Job sheet"));
    let sheets = fs::read_dir(desk.root().join("sheets")).unwrap();
    let sheets: Vec<PathBuf> = sheets.map(|it| it.unwrap().path()).collect();
    let [sheet] = &sheets[..] else { panic!("{sheets:?}") };
    assert!(fs::read(sheet).unwrap().starts_with(b"%PDF-"));
    let name = sheet.file_name().unwrap().to_string_lossy();
    assert!(name.starts_with(machine), "{name}");
    assert!(desk.shows(&filled("Job sheet written: {name}.", &[("name", &name)])));
}

/// The technician: ten minutes, gloves on, the machine locked out.
fn technician() {
    let mut desk = Desk::first_start(USUAL);
    settle_in(&mut desk, "Quay yard", "Old Crane");
    // What lies on the shelf, or no recipe can be made.
    desk.tap(known("Shims on the shelf"));
    for (row, (thickness, count)) in [("0.5", "12"), ("0.1", "30")].into_iter().enumerate() {
        desk.tap(known("Add a shim"));
        for (label, text) in [(known("thickness"), thickness), (known("count"), count)] {
            let row = row + 1;
            let field = filled("shelf row {row}: {label}", &[("row", &row), ("label", &label)]);
            desk.fill(&field, text);
        }
    }
    desk.with_ctrl(Key::S);
    assert_eq!(desk.on_disk().settings.shelf.len(), 2);

    desk.with_ctrl(Key::Num2);
    let walk = own(&desk).shear.walk();
    let mark = language::spoken().decimal_mark().to_string();
    let mut moves = 0;
    for station in &walk {
        if desk.shows(known("Locked and blocked")) {
            desk.press(Key::Enter);
            moves += 1;
        }
        assert_eq!(desk.window.state().bench().visit().unwrap().at, *station);
        // The primary blades stand wide open, all else as it was set.
        let [goes, does_not] = match station.line {
            LineId::P => ["1.30", "1.35"],
            LineId::J => ["0.30", "0.35"],
            LineId::F => ["0.95", "1.00"],
            LineId::T => ["0.60", "0.65"],
            _ => ["0.45", "0.50"],
        };
        desk.type_text(&goes.replace('.', &mark));
        desk.press(Key::Enter);
        let before = verdict(&desk);
        desk.type_text(&does_not.replace('.', &mark));
        assert_ne!(verdict(&desk), before, "{station}: it is said while it is typed");
        desk.press(Key::Enter);
    }
    assert_eq!(moves, 4, "one for each position of the jaw");
    assert!(desk.shows(known("Ready to sign")));
    desk.type_text("12");
    for _ in ["hour meter", "tonnes", "cuts"] {
        desk.press(Key::Enter);
    }
    desk.type_text("AB");
    for _ in ["initials", "note"] {
        desk.press(Key::Enter);
    }
    let machine = own(&desk);
    let signed = machine.history.last().unwrap();
    assert_eq!((signed.by.as_str(), signed.meter.h()), ("AB", 12.0));
    assert_eq!(signed.readings.len(), walk.len());
    assert_eq!(store::open(&desk.root()).unwrap().drafts, []);

    assert_eq!(desk.window.state().bench().screen(), Screen::Decide, "what to do comes next");
    for shim in ["0.50 + 0.10 + 0.10 + 0.10 + 0.10", "1.30–1.35", "0.42"] {
        assert!(desk.shows(&shim.replace('.', &mark)), "{shim}");
    }
    desk.tap(known("Record work done"));
    assert_eq!(own(&desk).sessions.len(), 1, "it is asked once more");
    desk.tap(known("Yes, done"));
    let machine = own(&desk);
    assert_eq!(machine.sessions.len(), 2);
    let done = &machine.history.last().unwrap().work;
    assert!(done.iter().any(Work::moves_gap), "{done:?}");
    desk.window.get_by_label(known("Measure this line"));
    sheet(&mut desk, "old-crane");
}

/// The verdict as a screen reader says it while a number is typed.
fn verdict(desk: &Desk) -> String {
    let status = desk.window.get_all_by_role(Role::Status);
    status.filter_map(|it| it.accesskit_node().label()).collect()
}

#[test]
fn a_technician_leaves_with_a_recipe_and_a_sheet() {
    technician();
}

#[test]
fn a_technician_who_speaks_german_does_too() {
    language::speak(Language::German);
    technician();
}

/// A dozen visits ten hours apart, as another program wrote them down: the secondary blades open by
/// 5 µm an hour, and once there was dirt in the gap of S4.
fn visits() -> String {
    let mut text = "shear,station,taken,meter_h,go_mm,no_go_mm,blade_temp_c\n".to_owned();
    for visit in 0..12_i32 {
        let taken = (now() - TimeDelta::days(i64::from(12 - visit))).to_rfc3339();
        let meter = 100 + 10 * visit;
        for (station, first) in [("S1", 30), ("S2", 30), ("S3", 35), ("S4", 40)] {
            let dirt = if (visit, station) == DIRTY { 25 } else { 0 };
            // A hand feels now and then one leaf more than there is.
            let hand = if (visit + first) % 4 == 0 { 5 } else { 0 };
            let go = f64::from(first + 5 * visit + hand - dirt) / 100.0;
            let no_go = go + 0.05;
            writeln!(text, "osprey,{station},{taken},{meter},{go:.2},{no_go:.2},20").unwrap();
        }
    }
    text
}

const DIRTY: (i32, &str) = (8, "S4");

#[test]
fn an_engineer_sees_how_fast_gaps_grow_and_when_they_are_out() {
    let mut desk = Desk::first_start(USUAL);
    settle_in(&mut desk, "Lower quay", "Osprey");
    let table = desk.beside("visits.csv");
    store::put_file(&table, visits().as_bytes()).unwrap();
    desk.with_ctrl(Key::Num1);
    desk.fill("path of a yard's folder", &table.display().to_string());
    desk.tap("Import…");
    desk.until(|desk| !desk.window.state().is_busy());
    assert!(desk.shows("visits.csv: 12 new visits, 0 here already"));
    assert_eq!(own(&desk).sessions.len(), 0, "a look changes nothing");
    desk.tap("Take them in");
    desk.until(|desk| !desk.window.state().is_busy());
    assert!(desk.shows("12 visits taken in."));
    desk.tap("Understood");
    assert_eq!(own(&desk).sessions.len(), 12);

    desk.with_ctrl(Key::Num4);
    desk.tap("line S");
    desk.tap("S4 growth");
    assert_eq!(
        growth(&desk),
        "between 0.95 and 1.00\u{a0}mm, working; 4.4\u{a0}µm/h; 72\u{a0}h 53–98"
    );
    // To the newest reading, and back to the one that lies beside the line.
    desk.tap("Cold gap at 20 °C, S secondary blades, mm");
    for _ in 0..12 {
        desk.press(Key::ArrowRight);
    }
    for _ in 0..11 - DIRTY.0 {
        desk.press(Key::ArrowLeft);
    }
    assert!(desk.shows("hour meter 180.0\u{a0}h"));
    desk.tap("Set aside");
    desk.tap("dirt or a burr in the gap");
    desk.tap("Set aside for this reason");
    assert_eq!(
        growth(&desk),
        "between 0.95 and 1.00\u{a0}mm, working; 5.0\u{a0}µm/h; 50\u{a0}h 50–66"
    );
    assert!(desk.shows("One reading set aside"));
    let machine = own(&desk);
    let remarks: Vec<_> = machine.sessions.iter().flat_map(|it| &it.remarks).collect();
    assert!(matches!(remarks[..], [Remark::SetAside { .. }]), "{remarks:?}");

    desk.tap("Table");
    assert!(desk.shows("Table saved: osprey-growth.csv."));
    let table = fs::read_to_string(desk.root().join("tables/osprey-growth.csv")).unwrap();
    let s4 = table.lines().find(|it| it.starts_with("osprey,S,S4,")).unwrap();
    assert!(s4.starts_with("osprey,S,S4,100,210,11,0.005,"), "eleven of twelve: {s4}");
    let picture = fs::read(desk.kept_picture()).unwrap();
    assert!(picture.starts_with(b"\x89PNG"));
    desk.tap("Decide");
    sheet(&mut desk, "osprey");
}

/// What the row of S4 says.
fn growth(desk: &Desk) -> String {
    desk.window.get_by_label("S4 growth").accesskit_node().description().unwrap_or_default()
}

#[test]
fn a_trainer_plays_a_lesson_to_its_end() {
    let mut desk = Desk::first_start(USUAL);
    desk.tap("Heat");
    desk.tap("next lesson");
    assert!(desk.shows("Lesson 2 of 7 Why a face turns blue"));
    let (bare, at_first) = streak(&desk);
    assert!(at_first.contains("no colour"), "{at_first}");
    for (question, answer) in [
        ("What will the side thrust do", "is flexed away at once"),
        ("Why is this face hotter than the dashed one", "rub with more force on every cut"),
        ("Where has the cold gap gone?", "Into growth."),
        ("How hot was this face, and how sure are you?", "Somewhere from 285 to 340 °C."),
        ("What do you do at the machine?", "Take shims out behind the guide blade"),
    ] {
        assert!(desk.shows(question) && !desk.shows(answer), "{question}");
        if question.starts_with("How hot") {
            let (blue, told) = streak(&desk);
            assert!(told.contains("blue"), "{told}");
            let cast = |it: Color32| i16::from(it.b()) - i16::from(it.r());
            assert!(cast(bare) < 20 && 80 < cast(blue), "{bare:?} {blue:?}");
        }
        desk.tap("Show answer");
        assert!(desk.shows(answer), "{answer}");
        if question.starts_with("What do you do") {
            break;
        }
        desk.tap("Next step");
    }
    desk.tap("Next lesson");
    assert!(desk.shows("Lesson 3 of 7 A frozen morning"));
    desk.window.get_by_label("play the shift").click();
    desk.window.run_steps(40);
    desk.window.get_by_label("stop the clock").click();
    desk.window.run_steps(2);
    assert!(0.0 < desk.window.state().bench().heat().hour.unwrap(), "time has gone on");

    desk.press(Key::F1);
    assert!(desk.shows("Help: Heat"));
    desk.tap("Back to Heat");
    assert!(!desk.shows("Help: Heat") && desk.shows("Lesson 3 of 7"));
    desk.tap("Decide");
    sheet(&mut desk, "wren");
}

/// The colour painted in the chip of G2, and what a screen reader says of the place.
fn streak(desk: &Desk) -> (Color32, String) {
    let chip = desk.window.get_by_label("G2, Guide blade, second from the pivot");
    let inside = chip.rect();
    let shapes = desk.window.output().shapes.iter();
    let mut swatches = shapes.filter_map(|it| match &it.shape {
        Shape::Rect(it) if it.rect.width() < 14.0 && inside.contains_rect(it.rect) => Some(it.fill),
        _ => None,
    });
    let told = chip.accesskit_node().description().unwrap_or_default();
    (swatches.next().unwrap(), told)
}
