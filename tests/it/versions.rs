//! Files of every kind that somebody may find in a yard, and what is said about them.
//!
//! The fixtures are frozen: a released format is read for ever.

use crate::{
    disk::said,
    quay::{full_session, yard},
};
use gapwright::{
    domain::{log::Session, machine::WearLimits, yard::Upkeep},
    store,
};
use proptest::prelude::*;
use std::{fs, path::PathBuf};
use tempfile::TempDir;

const SESSION: &str = "shears/heron/sessions/2026-03-14T0705Z-7f3a.ron";

fn fixtures() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/sessions")
}

/// A yard with one whole session and one file of these bytes beside it.
fn yard_with(bytes: &[u8]) -> TempDir {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![whole()])).unwrap();
    put(&dir, SESSION, bytes);
    dir
}

fn whole() -> Session {
    Session { amends: None, work: vec![], ..full_session(5) }
}

#[expect(clippy::disallowed_methods, reason = "broken files are what `store` refuses to write")]
fn put(dir: &TempDir, path: &str, bytes: &[u8]) {
    fs::write(dir.path().join(path), bytes).unwrap();
}

/// What is said about the session's file; the rest of the yard must have opened.
fn said_about(bytes: &[u8]) -> Vec<String> {
    let dir = yard_with(bytes);
    let opened = store::open(dir.path()).unwrap();
    assert!(opened.yard.machines[0].sessions.contains(&whole()), "one file took another down");
    assert!(fs::read(dir.path().join(SESSION)).unwrap() == bytes, "a file was changed by reading");
    let said = said(dir.path(), &opened.issues);
    said.iter().map(|it| it.strip_prefix(SESSION).unwrap().to_owned()).collect()
}

/// What is said about each fixture, after its path.
const FOUND: &[(&str, &str)] = &[
    ("good.ron", ""),
    ("byte-order-mark.ron", ""),
    (
        "backwards.ron",
        ":12:5: at P1 a stack that goes cannot be thicker than one that does not go; \
             compare with the paper sheet and write “go_mm” and “no_go_mm” as felt",
    ),
    (
        "decimal-comma.ron",
        ":10:18: the name of a field is expected here, not “55”; \
             write numbers with a decimal point; a comma ends a value",
    ),
    ("empty.ron", ":1:1: this file is empty; copy it again from where it came from"),
    (
        "format-zero.ron",
        ":2:5: format 0 never existed; \
             write format: 1 if this program made the file",
    ),
    (
        "infinite.ron",
        ":19:26: “put_in_mm” is inf, which is no number; \
             write millimetres, above zero and at most 100000",
    ),
    (
        "local-time.ron",
        ":5:13: “2026-03-14T07:05:00+02:00” is no time in UTC; \
             write it like \"2026-03-14T07:05:00Z\"",
    ),
    (
        "more-after-the-end.ron",
        ":21:2: there is more text after the end; \
             remove what follows the last bracket",
    ),
    (
        "negative-meter.ron",
        ":6:14: “meter_h” is -1, which cannot be; \
             write hours from 0 to 10000000",
    ),
    (
        "negative.ron",
        ":16:5: at P2 a stack cannot be thinner than nothing; \
             compare with the paper sheet and write “go_mm” and “no_go_mm” as felt",
    ),
    (
        "newer.ron",
        ": this file has format 2, made by a newer program; \
             update this program to read it; the file is left as it is",
    ),
    (
        "no-format.ron",
        ":20:1: this file does not say its format; \
             write format: 1 as its first field",
    ),
    ("no-meter.ron", ":20:1: the field “meter_h” is missing; add it before this place"),
    (
        "no-station.ron",
        ":13:19: “2P” is no station; \
             write a line letter and a number, such as \"P1\"",
    ),
    (
        "not-a-number.ron",
        ":15:19: “no_go_mm” is NaN, which is no number; \
             write millimetres, at most 100000",
    ),
    ("not-utf-8.ron", ":7: this is not UTF-8 text; save it as UTF-8 text again"),
    (
        "other-machine.ron",
        ":4:12: this session belongs to the machine “dipper”; \
             move it to shears/dipper",
    ),
    (
        "other-name.ron",
        ":3:9: the session inside is named “2026-03-14T0705Z-0000”, the file is not; \
             give the file back the name of its session",
    ),
    (
        "quoted-number.ron",
        ":10:15: a number is expected here; \
             write it with a decimal point and no unit, such as 0.45",
    ),
    (
        "truncated.ron",
        ":15:24: this file ends too early, it was cut short; \
             copy it again from where it came from, or complete it in a text editor",
    ),
    ("twice.ron", ":8:5: the field “by” stands here twice; keep one of the two"),
    (
        "unknown-blade.ron",
        ":18:16: “lower-tertiary” is no blade of this machine; \
             correct it, or add it to shear.ron of “heron”",
    ),
    (
        "unknown-field.ron",
        ":11:9: “nogo_mm” is no field of this format; \
             correct its name or remove it; fields here are station, go_mm, no_go_mm, \
             blade_temp_c, leaves",
    ),
    (
        "unknown-station.ron",
        ":13:18: P7 is no station of this machine; \
             correct it, or add it to shear.ron of “heron”",
    ),
    (
        "unknown-work.ron",
        ":17:12: “Polished” is not known here; \
             write one of Shims, Turned, Replaced, Swapped, Tightened, Welded, Lubricated, \
             MeterChanged",
    ),
    (
        "wandering-name.ron",
        ":3:10: “../../yard” cannot be a session's name; \
             write the file's name without its ending, such as \"2026-03-14T0705Z-7f3a\"",
    ),
];

#[test]
fn every_broken_file_is_named_with_its_place_and_what_to_do() {
    let mut left: Vec<_> = fs::read_dir(fixtures())
        .unwrap()
        .map(|entry| entry.unwrap())
        .filter(|entry| entry.file_type().unwrap().is_file())
        .map(|entry| entry.file_name().into_string().unwrap())
        .collect();
    for (name, expected) in FOUND {
        let said = said_about(&fs::read(fixtures().join(name)).unwrap());
        assert_eq!(said.join("\n"), *expected, "{name}");
        left.retain(|it| it != name);
    }
    assert_eq!(left, [""; 0], "a fixture without a row");
}

#[test]
fn a_file_cut_short_anywhere_says_so() {
    let text = fs::read_to_string(fixtures().join("good.ron")).unwrap();
    let end = text.trim_end().len();
    let dir = yard_with(b"");
    for cut in (1..end).step_by(3).chain(end - 60..end) {
        put(&dir, SESSION, text.as_bytes().get(..cut).unwrap());
        let said = said(dir.path(), &store::check(dir.path()));
        assert_eq!(said.len(), 1, "cut at {cut}");
        assert!(said[0].contains("cut short"), "cut at {cut}: {said:?}");
    }
}

#[test]
fn the_yard_of_format_1_still_opens() {
    let opened = store::open(&fixtures().join("format-1")).unwrap();
    assert!(opened.issues.is_empty(), "{:?}", opened.issues);
    // Written before a machine's file could say anything about heat or wear, a reading anything
    // about its leaves, and a yard anything about parts and work times.
    let early = |hour| {
        let mut session = full_session(hour);
        session.readings.iter_mut().for_each(|it| it.leaves = None);
        session
    };
    let mut expected = yard(vec![early(7)]);
    expected.settings.upkeep = Upkeep::default();
    for machine in &mut expected.machines {
        machine.shear.thermal = None;
        machine.shear.blades.iter_mut().for_each(|it| it.wear = WearLimits::default());
    }
    assert_eq!(opened.yard, expected);
    assert_eq!(opened.drafts, [Session { note: "not signed".into(), ..early(9) }]);
}

#[test]
fn a_newer_yard_opens_to_be_read_and_is_not_written() {
    let dir = yard_with(&fs::read(fixtures().join("good.ron")).unwrap());
    let newer = b"(format: 2, gauges: Digital(\"x\"), name: \"Quay\")";
    put(&dir, "yard.ron", newer);
    let opened = store::open(dir.path()).unwrap();
    assert!(opened.read_only && opened.issues[0].newer);
    assert_eq!(opened.yard.machines[0].sessions.len(), 2, "machines and sessions are still read");
    let refused = [
        store::sign(dir.path(), &full_session(9)),
        store::save_draft(dir.path(), &full_session(9)),
        store::save_settings(dir.path(), &opened.yard.settings),
        store::save_shear(dir.path(), &opened.yard.machines[0].shear),
    ];
    for refusal in refused {
        let said = refusal.unwrap_err().to_string();
        assert!(said.contains("can only be read here"), "{said}");
    }
    assert_eq!(fs::read(dir.path().join("yard.ron")).unwrap(), newer);
}

#[test]
fn a_newer_or_broken_machine_is_left_out_and_named() {
    let rows = [
        ("format: 1", "format: 12", " this file has format 12, made by a newer program"),
        (
            "moving: \"upper-secondary\"",
            "moving: \"upper-primary\"",
            "18:17: line P names the blade “upper-primary”, which is not among the blades",
        ),
        (
            "station: \"P2\"",
            "station: \"P3\"",
            "26:22: station P3 is not in order on its line: number them from 1 at the pivot outward",
        ),
        ("hot_min_mm: 0.05", "hot_min_mm: -0.05", "46:9: a limit is below zero"),
        ("jaw_position: 1", "jaw_position: 0", "78:5: line P has jaw position 0"),
        ("ppm_per_k: 11.75", "ppm_per_k: inf", "178:28: “ppm_per_k” is inf, which is no number"),
        ("edges: 4", "edges: 5", "277:9: blade “upper-secondary” must have 1 to 4 edges"),
        (
            "reach_mm: 1900.0",
            "reach_mm: 0.0",
            "5:5: the geometry has a length that is not above zero",
        ),
        ("carrier:", "carriage:", "4:5: “carriage” is no field of this format"),
    ];
    let dir = yard_with(&fs::read(fixtures().join("good.ron")).unwrap());
    let path = "shears/heron/shear.ron";
    let text = fs::read_to_string(dir.path().join(path)).unwrap();
    for (from, to, expected) in rows {
        put(&dir, path, text.replacen(from, to, 1).as_bytes());
        let opened = store::open(dir.path()).unwrap();
        assert!(opened.yard.machines.is_empty() && !opened.read_only, "{to}");
        let said = said(dir.path(), &opened.issues);
        assert_eq!(said.len(), 1, "{said:?}");
        let (fact, next) = said[0].split_once("; ").unwrap();
        assert_eq!(fact, format!("{path}:{expected}"));
        assert!(next.ends_with("; until then this machine is left out"), "{next}");
    }
}

#[test]
fn a_broken_yard_file_keeps_no_session_out_and_is_not_written_over() {
    let dir = yard_with(&fs::read(fixtures().join("good.ron")).unwrap());
    put(&dir, "yard.ron", b"(format: 1, name: \"Quay\",");
    let opened = store::open(dir.path()).unwrap();
    assert!(!opened.read_only);
    store::sign(dir.path(), &full_session(9)).unwrap();
    let said = store::save_settings(dir.path(), &opened.yard.settings).unwrap_err().to_string();
    assert!(said.contains("would be lost") && said.contains("cut short"), "{said}");
    let sessions = store::open(dir.path()).unwrap().yard.machines[0].sessions.len();
    assert_eq!(sessions, 3);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]
    /// Whatever happened to the bytes, the file is read or named, and nothing panics.
    #[test]
    fn damaged_bytes_are_read_or_named(
        damage in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..4),
        shape in 0..3_u8,
    ) {
        let mut bytes = fs::read(fixtures().join("format-1").join(SESSION)).unwrap();
        for (place, byte) in damage {
            let place = place.index(bytes.len());
            match shape {
                0 => bytes[place] = byte,
                1 => bytes.insert(place, byte),
                _ => drop(bytes.drain(place..(place + usize::from(byte)).min(bytes.len()))),
            }
        }
        prop_assert!(said_about(&bytes).len() <= 1);
    }
}
