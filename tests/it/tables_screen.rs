//! Another yard, and tables in and out, in the window: beside the frames, with a word before a table
//! is taken in.

use crate::desk::Desk;
use egui::Theme;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use gapwright::{
    sample, store,
    workbench::{Command, Screen},
};
use std::{fmt::Write as _, fs, path::PathBuf, thread, time::Duration};

/// Lets the window live until nothing runs beside it.
fn settle(desk: &mut Desk) {
    for _ in 0..400 {
        desk.window.step();
        if !desk.window.state().is_busy() {
            desk.window.run();
            return;
        }
        thread::sleep(Duration::from_millis(20));
    }
    panic!("it still runs");
}

fn told(desk: &Desk) -> String {
    desk.window.state().bench().notice().map(|it| it.fact.clone()).unwrap_or_default()
}

fn desk() -> Desk {
    Desk::open([1280.0, 800.0], Theme::Light)
}

#[test]
fn tables_go_out_and_a_colleagues_table_is_shown_before_it_is_taken_in() {
    let (mut desk, mut other) = (desk(), desk());
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("tables");
    // A colleague measured once more.
    let machine = other.window.state().bench().yard().machines[0].clone();
    let mut more =
        machine.history.sessions.iter().rfind(|it| !it.readings.is_empty()).unwrap().clone();
    more.taken += chrono::TimeDelta::hours(30);
    more.id = gapwright::domain::log::SessionId::new(more.taken, 9);
    store::sign(&other.root(), &more).unwrap();
    let arrival =
        gapwright::workbench::Arrival { sessions: vec![more.clone()], ..Default::default() };
    other.act(Command::Arrived(Box::new(arrival)));
    other.act(Command::ExportTables(Some(out.clone())));
    settle(&mut other);
    assert!(
        told(&other).starts_with("Wrote readings.csv, work.csv, marks.csv and findings.csv into "),
        "{}",
        told(&other)
    );

    desk.act(Command::ImportTable(Some(out.join("readings.csv"))));
    settle(&mut desk);
    desk.window.get_by_label("readings.csv: 1 new visit, 139 here already");
    let n = desk.numbers();
    let row = format!("Dunlin · {}, {} · 17 readings", n.day(more.taken), n.clock(more.taken));
    assert!(desk.window.query_by_label_contains(&row).is_some(), "{row}");
    let before = desk.on_disk().machines[0].sessions.len();
    desk.tap("Leave the table");
    assert_eq!(desk.on_disk().machines[0].sessions.len(), before, "a look changes nothing");
    desk.act(Command::ImportTable(Some(out.join("readings.csv"))));
    settle(&mut desk);
    desk.tap("Take them in");
    settle(&mut desk);
    assert_eq!(told(&desk), "One visit taken in.");
    assert_eq!(desk.on_disk().machines[0].sessions.len(), before + 1);
    assert_eq!(desk.window.state().bench().yard().machines[0].sessions.len(), before + 1);
    desk.act(Command::ImportTable(Some(out.join("readings.csv"))));
    settle(&mut desk);
    assert_eq!(told(&desk), "Every visit of this table is here already.");
}

#[test]
fn what_is_wrong_with_a_table_is_told_by_its_place_and_nothing_is_taken() {
    let mut desk = desk();
    let folder = tempfile::tempdir().unwrap();
    let table = folder.path().join("mine.csv");
    let text = "shear,station,taken,meter_h,go_mm,no_go_mm,blade_temp_c\n\
                heron,P9,2026-03-14T07:05:00Z,1,0.5,0.6,\n";
    store::put_file(&table, text.as_bytes()).unwrap();
    desk.act(Command::ImportTable(Some(table)));
    settle(&mut desk);
    assert_eq!(told(&desk), "mine.csv, line 2, column 2: P9 is no station of the machine “heron”.");
    desk.act(Command::ImportTable(Some(folder.path().join("none.csv"))));
    settle(&mut desk);
    assert!(told(&desk).starts_with("none.csv: this cannot be read"), "{}", told(&desk));
}

#[test]
fn another_yard_opens_beside_the_frames_and_one_that_is_none_is_named() {
    let mut desk = desk();
    desk.act(Command::OpenYard(PathBuf::from("/nowhere/at/all")));
    settle(&mut desk);
    assert!(told(&desk).starts_with("all: there is nothing here"), "{}", told(&desk));
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().join("other");
    let end = crate::desk::now();
    store::create_yard(&root, &sample::yard(2, 1, 3, end)).unwrap();
    desk.act(Command::OpenYard(root.clone()));
    settle(&mut desk);
    assert_eq!(desk.window.state().root(), root);
    assert_eq!(desk.window.state().bench().yard().machines.len(), 1);
    fs::remove_dir_all(root).unwrap();
}

/// What the strip of a job says, if it is there.
fn strip(desk: &Desk, words: &str) -> Option<String> {
    let mut found = desk.window.query_all_by_label_contains(words);
    found.next().and_then(|node| node.accesskit_node().value())
}

/// Asks for something and paints one frame, whatever still runs.
fn begin(desk: &mut Desk, command: Command) {
    let ctx = desk.window.ctx.clone();
    desk.window.state_mut().act(&ctx, command);
    desk.window.step();
}

fn stop(desk: &mut Desk) {
    desk.window.get_by_label("Stop").click();
    desk.window.step();
    desk.window.step();
}

/// Frames until the strip has counted on, so many times.
fn counts(desk: &mut Desk, words: &str) -> Vec<usize> {
    let mut seen: Vec<usize> = Vec::new();
    for _ in 0..1_000 {
        desk.window.step();
        if let Some(said) = strip(desk, &format!("{words}: ")) {
            let done = said.trim_start_matches(words).trim_start_matches(": ");
            seen.extend(done.split(' ').next().and_then(|it| it.parse::<usize>().ok()));
            seen.dedup();
        }
        if seen.len() == 3 {
            return seen;
        }
        thread::sleep(Duration::from_millis(5));
    }
    panic!("it does not count: {seen:?}, {}", told(desk));
}

/// A table on a drive that does not answer: a pipe that nobody writes to.
#[cfg(unix)]
#[test]
fn a_window_goes_on_while_a_table_does_not_come() {
    let mut desk = desk();
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("readings.csv");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    if !made.is_ok_and(|it| it.success()) {
        return;
    }
    begin(&mut desk, Command::ImportTable(Some(pipe.clone())));
    assert!(strip(&desk, "Looking at the table …").is_some());
    begin(&mut desk, Command::Go(Screen::Measure));
    assert_eq!(desk.window.state().bench().screen(), Screen::Measure);
    assert!(desk.window.state().is_busy(), "it still waits, and the screen is another");
    begin(&mut desk, Command::ImportTable(Some(pipe.clone())));
    assert_eq!(told(&desk), "Something else is still running.");
    stop(&mut desk);
    assert!(strip(&desk, "Looking at the table: stopping …").is_some());
    let text = "shear,station,taken,meter_h,go_mm,no_go_mm,blade_temp_c\n\
                heron,P1,2026-11-25T07:05:00Z,9000,0.5,0.6,\n";
    let mut end = fs::File::options().write(true).open(&pipe).unwrap();
    std::io::Write::write_all(&mut end, text.as_bytes()).unwrap();
    drop(end);
    settle(&mut desk);
    assert_eq!(told(&desk), "Stopped. Nothing was changed.");
    assert_eq!(desk.window.query_all_by_label("Take them in").count(), 0);
}

/// A table with one visit a row, a minute apart.
fn years_of(shear: &str, visits: usize) -> String {
    let mut text = "shear,station,taken,meter_h,go_mm,no_go_mm,blade_temp_c\n".to_owned();
    let mut taken = crate::desk::now() - chrono::TimeDelta::days(9_000);
    for _ in 0..visits {
        taken += chrono::TimeDelta::minutes(1);
        writeln!(text, "{shear},P1,{},1,0.5,0.55,", taken.to_rfc3339()).unwrap();
    }
    text
}

#[test]
fn a_long_table_counts_and_stops_and_goes_on_where_it_was() {
    let mut desk = desk();
    let machine = desk.on_disk().machines[0].clone();
    let (shear, before) = (machine.shear.id.as_str(), machine.sessions.len());
    let folder = tempfile::tempdir().unwrap();
    let decades = folder.path().join("decades.csv");
    store::put_file(&decades, years_of(shear, 300_000).as_bytes()).unwrap();
    begin(&mut desk, Command::ImportTable(Some(decades)));
    let seen = counts(&mut desk, "Looking at the table");
    assert!(seen.is_sorted(), "{seen:?}");
    stop(&mut desk);
    settle(&mut desk);
    assert_eq!(told(&desk), "Stopped. Nothing was changed.");
    assert_eq!(desk.window.query_all_by_label("Take them in").count(), 0);

    let years = folder.path().join("years.csv");
    store::put_file(&years, years_of(shear, 9_000).as_bytes()).unwrap();
    begin(&mut desk, Command::ImportTable(Some(years.clone())));
    settle(&mut desk);
    desk.window.get_by_label("years.csv: 9000 new visits, 0 here already");
    begin(&mut desk, Command::TakeTableIn);
    let seen = counts(&mut desk, "Taking visits in");
    assert!(seen.is_sorted(), "{seen:?}");
    stop(&mut desk);
    settle(&mut desk);
    let taken = desk.window.state().bench().yard().machines[0].sessions.len() - before;
    assert!(0 < taken && taken < 9_000);
    assert_eq!(told(&desk), format!("Stopped: {taken} of 9000 visits taken in."));
    assert_eq!(desk.on_disk().machines[0].sessions.len(), before + taken, "as the window says");
    begin(&mut desk, Command::ImportTable(Some(years)));
    settle(&mut desk);
    let rest = 9_000 - taken;
    desk.window.get_by_label(&format!("years.csv: {rest} new visits, {taken} here already"));
}
