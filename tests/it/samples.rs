//! The yard in `sample-sessions` is the one that its seed gives.
//!
//! With `UPDATE_SNAPSHOTS` set in the environment the folder is written anew instead.

use chrono::{DateTime, TimeZone as _, Utc};
use gapwright::{
    brief::Numbers,
    domain::{
        decide::{Action, Reason, decide},
        machine::LineId,
        yard::Yard,
    },
    sample::{SESSIONS, SHEARS, yard},
    store,
};
use std::{
    fs,
    path::{Path, PathBuf},
};

/// The afternoon on which the story of the sample yard ends.
fn end() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 11, 24, 14, 40, 0).unwrap()
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions")
}

/// Machine by machine, so that a difference is named and not buried in a whole yard.
fn assert_same(found: &Yard, expected: &Yard) {
    assert_eq!(found.settings, expected.settings);
    let names = |yard: &Yard| -> Vec<String> {
        yard.machines.iter().map(|machine| machine.shear.id.to_string()).collect()
    };
    assert_eq!(names(found), names(expected));
    for (found, expected) in found.machines.iter().zip(&expected.machines) {
        assert_eq!(found.shear, expected.shear);
        for (found, expected) in found.history.sessions.iter().zip(&expected.history.sessions) {
            assert_eq!(found, expected);
        }
        assert_eq!(found.history, expected.history);
    }
}

#[test]
fn the_sample_yard_is_the_one_of_its_seed() {
    let expected = yard(1, SHEARS, SESSIONS, end());
    if std::env::var_os("UPDATE_SNAPSHOTS").is_some() {
        if folder().exists() {
            fs::remove_dir_all(folder()).unwrap();
        }
        store::create_yard(&folder(), &expected).unwrap();
    }
    let opened = store::open(&folder()).unwrap();
    assert_eq!(opened.issues, []);
    assert_eq!((opened.drafts.len(), opened.read_only), (0, false));
    assert_eq!(store::check(&folder()), []);
    assert_same(&opened.yard, &expected);
    for machine in &opened.yard.machines {
        assert!(40 <= machine.sessions.len(), "{}", machine.shear.id);
    }
}

/// Further machines and sessions than the story has survive the disk too.
#[test]
fn any_sample_yard_survives_the_disk() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().join("yard");
    let expected = yard(7, 4, 60, end());
    store::create_yard(&root, &expected).unwrap();
    assert_same(&store::open(&root).unwrap().yard, &expected);
}

/// What the newest sessions are there to show.
#[test]
fn the_sample_yard_shows_all_five_actions_a_spread_jaw_and_a_well_kept_machine() {
    let yard = store::open(&folder()).unwrap().yard;
    let decided = |name: &str| {
        let machine = yard.machines.iter().find(|it| it.shear.id.as_str() == name).unwrap();
        decide(machine, &yard.settings)
    };
    let heron = decided("heron");
    for (line, action) in [
        (LineId::G, Action::Stop),
        (LineId::F, Action::Replace),
        (LineId::P, Action::Rotate),
        (LineId::S, Action::Shim),
        (LineId::T, Action::Leave),
        (LineId::J, Action::Leave),
    ] {
        assert_eq!(heron.line(line).map(|it| it.action), Some(action), "line {line}");
    }
    assert_eq!(decided("dunlin").worst(), Action::Leave);
    let wren = decided("wren");
    let reasons = &wren.line(LineId::T).unwrap().reasons;
    assert!(reasons.iter().any(|it| matches!(it, Reason::JawSpread(_))), "{reasons:?}");
}

/// Measure counts every session of the log, findings alone included; the sheets counted only those
/// with readings, so that one machine stood at session 45 and session 49 at once.
#[test]
fn a_session_has_one_number_on_every_screen() {
    let yard = store::open(&folder()).unwrap().yard;
    for machine in &yard.machines {
        let decision = decide(machine, &yard.settings);
        let head = gapwright::brief::head::tell(machine, &decision, Numbers::default());
        let last = machine.history.last_measured().unwrap();
        let place = machine.history.sessions.iter().position(|it| it.id == last.id).unwrap();
        assert_eq!(head.session, format!("Session {}", place + 1));
    }
}
