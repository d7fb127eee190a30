//! Another yard, and tables in and out, in the window: beside the frames, with a word before a table
//! is taken in.

use crate::desk::Desk;
use egui::Theme;
use egui_kittest::kittest::Queryable as _;
use gapwright::{sample, store, workbench::Command};
use std::{fs, path::PathBuf, thread, time::Duration};

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
