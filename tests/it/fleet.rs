//! A yard as columns: what is in the files, what a second export adds, and what a fault leaves.
//!
//! `tests/e2e/fleet.py` asks the same files with another engine.

use crate::{
    cli::{sample, told},
    crash::{Failing, Fault},
    quay::{full_session, yard},
};
use gapwright::{
    domain::{
        log::{Session, SessionId},
        yard::Yard,
    },
    exchange::fleet::parts,
    store::{StoreError, ledger::Ledger, medium::Disk},
};
use parquet::{
    file::reader::{FileReader as _, SerializedFileReader},
    record::Field,
};
use std::{
    collections::BTreeMap,
    fs::{self, File},
    path::{Path, PathBuf},
};
use tempfile::TempDir;

/// Every row of one table, by the names of its columns; nulls are left out.
fn rows(fleet: &Path, table: &str) -> Vec<BTreeMap<String, Field>> {
    let mut files = Vec::new();
    let inside = |dir: &Path| -> Vec<PathBuf> {
        fs::read_dir(dir).into_iter().flatten().map(|it| it.unwrap().path()).collect()
    };
    for machine in inside(&fleet.join(table)) {
        for year in inside(&machine) {
            files.extend(
                inside(&year).into_iter().filter(|it| it.extension().unwrap() == "parquet"),
            );
        }
    }
    files.sort();
    let mut rows = Vec::new();
    for file in files {
        let reader = SerializedFileReader::new(File::open(file).unwrap()).unwrap();
        for row in reader.get_row_iter(None).unwrap() {
            let cells = row.unwrap().into_columns().into_iter();
            rows.push(cells.filter(|(_, it)| !matches!(it, Field::Null)).collect());
        }
    }
    rows
}

fn name(session: &Session) -> String {
    format!("{}/{}", session.shear, session.id)
}

/// Adds what is new of a yard to a fleet's folder.
fn add(yard: &Yard, fleet: &Path, medium: &Failing) -> Result<usize, StoreError> {
    let ledger = Ledger::open(medium, fleet, &yard.settings.name)?;
    let sessions = yard.machines.iter().flat_map(|it| &it.sessions);
    let new: Vec<String> = sessions.map(name).filter(|it| !ledger.has(it)).collect();
    let files: Vec<(PathBuf, Vec<u8>)> = yard
        .machines
        .iter()
        .flat_map(|machine| {
            let is_new = |id: &SessionId| !ledger.has(&format!("{}/{id}", machine.shear.id));
            parts(&yard.settings.name, machine, is_new).unwrap()
        })
        .map(|it| (it.folder.into(), it.bytes))
        .collect();
    ledger.keep(medium, &files, &new).map(|()| new.len())
}

fn first() -> Session {
    Session { amends: None, ..full_session(7) }
}

/// Corrects the first.
fn second() -> Session {
    Session { amends: Some(first().id), ..full_session(8) }
}

#[test]
fn a_row_says_what_the_reading_said_and_what_follows_from_the_log() {
    let dir = TempDir::new().unwrap();
    add(&yard(vec![first(), second()]), dir.path(), &Failing::well()).unwrap();
    let readings = rows(dir.path(), "readings");
    assert_eq!(readings.len(), 8);
    let text = |it: &str| Field::Str(it.into());
    let find = |session: &Session, station: &str| {
        let of = |row: &&BTreeMap<String, Field>| {
            row["session"] == text(session.id.as_str()) && row["station"] == text(station)
        };
        readings.iter().find(of).unwrap()
    };
    let row = find(&second(), "P1");
    for (column, value) in [
        ("yard", text("Quay yard")),
        ("place", text("secondary blades")),
        ("taken", Field::TimestampMicros(second().taken.timestamp_micros())),
        ("meter_h", Field::Double(4812.5)),
        ("service_h", Field::Double(4812.5)),
        ("segment", Field::Long(0)),
        ("go_mm", Field::Double(0.55)),
        ("no_go_mm", Field::Double(0.6)),
        ("blade_temp_c", Field::Double(41.0)),
        ("working_max_mm", Field::Double(1.25)),
    ] {
        assert_eq!(row[column], value, "{column}");
    }
    assert!(!find(&second(), "P2").contains_key("go_mm"), "not even the thinnest leaf went");
    assert!(!find(&second(), "G1").contains_key("no_go_mm"), "all leaves went");
    assert!(!find(&first(), "P1").contains_key("service_h"), "a correction stands in for it");
    let sessions = rows(dir.path(), "sessions");
    assert!(sessions.iter().all(|row| row["family"] == text(first().id.as_str())));
    assert!(sessions.iter().any(|row| row["findings"].to_string().contains("brown streak P")));
    assert_eq!(rows(dir.path(), "work_done").len(), 2 * first().work.len());
}

#[test]
fn a_second_export_adds_what_is_new_and_nothing_twice() {
    let home = TempDir::new().unwrap();
    let fleet = home.path().join("fleet");
    let to = fleet.to_str().unwrap();
    let sample = sample();
    let once = told(home.path(), &["export", sample.to_str().unwrap(), "--parquet", to]);
    assert_eq!((once.code, once.err.as_str()), (0, ""));
    assert!(once.out.starts_with("Added 144 visits in 9 files"), "{}", once.out);
    let again = told(home.path(), &["export", sample.to_str().unwrap(), "--parquet", to]);
    assert!(again.out.contains("has every visit of this yard already"), "{}", again.out);
    let before = rows(&fleet, "readings").len();
    let well = Failing::well();
    assert_eq!(add(&yard(vec![first()]), &fleet, &well).unwrap(), 1);
    assert_eq!(add(&yard(vec![first(), second()]), &fleet, &well).unwrap(), 1);
    assert_eq!(rows(&fleet, "readings").len(), before + 8, "another yard, two exports");
}

/// Two at once would give their files one number, and one would sweep the other's away.
#[test]
fn a_second_export_of_a_yard_waits_for_the_first() {
    let dir = TempDir::new().unwrap();
    let quay = yard(vec![first()]);
    let held = Ledger::open(&Disk, dir.path(), &quay.settings.name).unwrap();
    let refused = add(&quay, dir.path(), &Failing::well()).unwrap_err();
    assert!(matches!(refused, StoreError::BeingExported(_)), "{refused}");
    assert!(refused.to_string().ends_with("export again when it is done"), "{refused}");
    assert_eq!(rows(dir.path(), "sessions").len(), 0);
    Ledger::open(&Disk, dir.path(), "another yard").unwrap();
    drop(held);
    assert_eq!(add(&quay, dir.path(), &Failing::well()).unwrap(), 1);
}

/// Until the ledger knows of it an export may be there in part; the next one puts that right.
/// A person at a terminal sees how far it is; a log and another program are left in peace.
#[cfg(target_os = "linux")]
#[test]
fn an_export_counts_on_a_terminal_and_nowhere_else() {
    let home = TempDir::new().unwrap();
    let (one, two) = (home.path().join("one"), home.path().join("two"));
    let (yard, one) = (sample(), one.to_str().unwrap());
    let quiet = told(home.path(), &["export", yard.to_str().unwrap(), "--parquet", one]);
    assert_eq!((quiet.code, quiet.err.as_str()), (0, ""));
    let (program, two) = (env!("CARGO_BIN_EXE_gapwright"), two.display());
    let words = format!("{program} export {} --parquet {two}", yard.display());
    let seen = std::process::Command::new("script").args(["-qec", &words, "/dev/null"]).output();
    // Without this program there is no terminal to be had.
    let Ok(seen) = seen else { return };
    let seen = String::from_utf8(seen.stdout).unwrap();
    let machines = gapwright::store::open(&yard).unwrap().yard.machines.len();
    let last = format!("\rMachines laid out: {machines} of {machines}\r\n");
    assert!(seen.starts_with(&format!("\rMachines laid out: 0 of {machines}\r")), "{seen:?}");
    assert!(seen.contains(&last) && seen.contains("Added "), "{seen:?}");
}

#[test]
fn an_export_that_was_cut_short_is_made_good_by_the_next() {
    for fault in [Fault::Dies, Fault::DiesAfter, Fault::Refuses] {
        for at in 0.. {
            let dir = TempDir::new().unwrap();
            add(&yard(vec![first()]), dir.path(), &Failing::well()).unwrap();
            let medium = Failing::new(fault, at);
            let whole = yard(vec![first(), second()]);
            let result = add(&whole, dir.path(), &medium);
            assert_eq!(result.is_ok(), medium.failed().is_none(), "{result:?}");
            assert!(4 <= rows(dir.path(), "readings").len(), "what was there is still there");
            // One more visit by now, so that the next export is not the same as the one cut short.
            let more = Session { amends: None, ..full_session(9) };
            add(&yard(vec![first(), second(), more]), dir.path(), &Failing::well()).unwrap();
            assert_eq!(rows(dir.path(), "readings").len(), 12, "{fault:?} at {at}");
            assert_eq!(rows(dir.path(), "sessions").len(), 3);
            if medium.failed().is_none() {
                break;
            }
        }
    }
}
