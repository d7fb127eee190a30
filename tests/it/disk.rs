//! A yard on the real disk: what is kept comes back, and what is broken is named.

use crate::quay::{any_session, full_session, heron, yard};
use chrono::NaiveDate;
use gapwright::{
    domain::{
        gauge::{Calibration, Leaf, LeafSet, Repeatability},
        log::{Session, Work},
        machine::BladeId,
        quantity::{Hours, Length},
        yard::{Rule, Tolerance, Yard},
    },
    store::{self, StoreError},
};
use proptest::prelude::*;
use std::{fs, path::Path};

/// What is listed, as paths inside the yard with line, column and fact.
pub(crate) fn said(root: &Path, issues: &[store::FileIssue]) -> Vec<String> {
    let inside = |issue: &store::FileIssue| {
        let text = issue.to_string();
        text.replace(&format!("{}/", root.display()), "").replace(&root.display().to_string(), "")
    };
    issues.iter().map(inside).collect()
}

#[test]
fn everything_a_yard_holds_comes_back() {
    let dir = tempfile::tempdir().unwrap();
    let root = dir.path().join("quay");
    let yard = yard(vec![full_session(7), Session { amends: None, ..full_session(8) }]);
    store::create_yard(&root, &yard).unwrap();
    let opened = store::open(&root).unwrap();
    assert_eq!(said(&root, &opened.issues), [""; 0]);
    assert_eq!(opened.yard, yard);
    assert!(opened.drafts.is_empty() && !opened.read_only);
    let again = store::create_yard(&root, &yard);
    assert!(matches!(again, Err(StoreError::YardThere(_))), "{again:?}");
}

#[test]
fn how_sure_a_verdict_must_be_comes_back_and_a_yard_without_it_has_the_default() {
    let dir = tempfile::tempdir().unwrap();
    let mut yard = yard(vec![]);
    yard.settings.tolerance = Tolerance::new(0.9, Rule::Simple).unwrap();
    store::create_yard(dir.path(), &yard).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().yard.settings, yard.settings);
    let path = dir.path().join("yard.ron");
    let text = fs::read_to_string(&path).unwrap();
    let put = |text: &str| {
        #[expect(clippy::disallowed_methods, reason = "a file as another hand leaves it")]
        fs::write(&path, text).unwrap();
    };
    put(&text.replace("conformity: 0.9", "conformity: 0.4"));
    let said = said(dir.path(), &store::check(dir.path()));
    assert!(said[0].contains("“conformity” is 0.4, which proves nothing"), "{said:?}");
    let start = text.find("tolerance: (").unwrap();
    let end = start + text[start..].find("),").unwrap() + 2;
    put(&format!("{}{}", &text[..start], &text[end..]));
    let opened = store::open(dir.path()).unwrap();
    assert_eq!((opened.issues.len(), opened.yard.settings.tolerance), (0, Tolerance::default()));
}

#[test]
fn worn_leaves_and_calibrations_come_back_and_impossible_ones_are_named() {
    let dir = tempfile::tempdir().unwrap();
    let mut yard = yard(vec![]);
    let day = |month| NaiveDate::from_ymd_opt(2026, month, 9).unwrap();
    let um = Length::from_um;
    let leaf = Leaf { thickness: um(500), tolerance: um(4), measured: Some(um(494)) };
    let set = LeafSet::new("worn".into(), vec![leaf]).unwrap();
    let set = set.calibrated(Some(Calibration { on: day(2), due: day(8) }));
    yard.settings.leaf_sets.push(set);
    store::create_yard(dir.path(), &yard).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().yard.settings, yard.settings);
    let path = dir.path().join("yard.ron");
    let text = fs::read_to_string(&path).unwrap();
    for (from, to, expected) in [
        ("measured_mm: 0.494", "measured_mm: 0.0", "“measured_mm” is 0, which cannot be"),
        ("due: \"2026-08-09\"", "due: \"2025-08-09\"", "cannot have been due on 2025-08-09"),
        ("on: \"2026-02-09\"", "on: \"spring\"", "“spring” is no day"),
    ] {
        assert!(text.contains(from), "{from}: {text}");
        #[expect(clippy::disallowed_methods, reason = "a file as another hand leaves it")]
        fs::write(&path, text.replace(from, to)).unwrap();
        let said = said(dir.path(), &store::check(dir.path()));
        assert!(said.iter().any(|it| it.contains(expected)), "{to}: {said:?}");
    }
}

#[test]
fn the_scatter_of_a_crew_comes_back_and_a_yard_without_one_has_none() {
    let dir = tempfile::tempdir().unwrap();
    let mut yard = yard(vec![]);
    store::create_yard(dir.path(), &yard).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().yard.settings.repeatability, None);
    yard.settings.repeatability = Some(Repeatability {
        sigma: Length::from_um(21),
        dof: Some(60),
        from: "studies/2026-02-03.csv".into(),
        taken: NaiveDate::from_ymd_opt(2026, 2, 3).unwrap(),
    });
    store::save_settings(dir.path(), &yard.settings).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().yard.settings, yard.settings);
    let text = fs::read_to_string(dir.path().join("yard.ron")).unwrap();
    assert!(text.contains("sigma_mm: 0.021") && text.contains("taken: \"2026-02-03\""), "{text}");
    let backwards = Repeatability {
        sigma: Length::from_um(-21),
        ..yard.settings.repeatability.clone().unwrap()
    };
    yard.settings.repeatability = Some(backwards);
    let refusal = store::save_settings(dir.path(), &yard.settings).unwrap_err().to_string();
    assert!(refusal.contains("“sigma_mm” is negative"), "{refusal}");
}

#[test]
fn files_are_written_for_people() {
    let dir = tempfile::tempdir().unwrap();
    let session = Session { findings: vec![], work: vec![], amends: None, ..full_session(7) };
    store::create_yard(dir.path(), &yard(vec![session])).unwrap();
    let path = dir.path().join("shears/heron/sessions/2026-03-14T0705Z-7f3a.ron");
    assert_eq!(
        fs::read_to_string(&path).unwrap(),
        r#"(
    format: 1,
    id: "2026-03-14T0705Z-7f3a",
    shear: "heron",
    taken: "2026-03-14T07:05:00Z",
    meter_h: 4812.5,
    by: "KW",
    air_temp_c: -4.0,
    jaw_temp_c: 12.5,
    readings: [(
        station: "P1",
        go_mm: 0.55,
        no_go_mm: 0.6,
        blade_temp_c: 41.0,
        leaves: "Inch, ten leaves",
    ), (
        station: "P2",
        go_mm: 0.0,
        no_go_mm: 0.05,
    ), (
        station: "G1",
        go_mm: 1.0,
    ), (
        station: "F2",
        go_mm: 0.457,
        no_go_mm: 0.457,
    )],
    note: "frost; started on thin stock – 3 × 2 mm",
    content_crc32: "6c3c1937",
)
"#
    );
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let mode = fs::metadata(&path).unwrap().permissions().mode();
        assert_eq!(mode & 0o444, 0o444, "the crew can read it: {mode:o}");
    }
}

#[test]
fn a_signed_session_is_never_overwritten() {
    let dir = tempfile::tempdir().unwrap();
    let first = full_session(7);
    store::create_yard(dir.path(), &yard(vec![first.clone()])).unwrap();
    store::sign(dir.path(), &first).unwrap();
    let other = Session { note: "another tablet, the same name".into(), ..first.clone() };
    let refusal = store::sign(dir.path(), &other).unwrap_err();
    assert!(matches!(refusal, StoreError::AlreadySigned(_)), "{refusal}");
    assert_eq!(store::open(dir.path()).unwrap().yard.machines[0].sessions, [first]);
}

#[test]
fn drafts_of_two_windows_stand_side_by_side_until_signed_or_discarded() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![])).unwrap();
    let (mut one, two) = (full_session(7), full_session(8));
    store::save_draft(dir.path(), &one).unwrap();
    store::save_draft(dir.path(), &two).unwrap();
    one.readings.pop();
    store::save_draft(dir.path(), &one).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().drafts, [one.clone(), two.clone()]);
    store::sign(dir.path(), &one).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().drafts, std::slice::from_ref(&two));
    store::discard_draft(dir.path(), &two).unwrap();
    store::discard_draft(dir.path(), &two).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().drafts, []);
    // A draft of a signed name that holds more than was signed is named, not dropped.
    let more = Session { readings: full_session(7).readings, ..one };
    store::save_draft(dir.path(), &more).unwrap();
    let opened = store::open(dir.path()).unwrap();
    assert_eq!(opened.drafts, []);
    assert!(opened.issues[0].what.contains("more than the signed session"), "{opened:?}");
}

#[test]
fn what_would_not_read_back_is_not_saved() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![])).unwrap();
    let mut session = full_session(7);
    session.work = vec![Work::Turned { blade: BladeId("guide".into()), edge: 9, pack: vec![] }];
    let refusal = store::sign(dir.path(), &session).unwrap_err().to_string();
    assert!(refusal.contains("“guide” cannot be turned to edge 9"), "{refusal}");
    session = Session { meter: Hours::from_whole(-1), ..full_session(7) };
    let refusal = store::save_draft(dir.path(), &session).unwrap_err().to_string();
    assert!(refusal.contains("“meter_h” is -1"), "{refusal}");
    let mut shear = heron();
    shear.blades[0].face_angle_deg = f64::NAN;
    let refusal = store::save_shear(dir.path(), &shear).unwrap_err().to_string();
    assert!(refusal.contains("“face_angle_deg” is NaN"), "{refusal}");
}

#[test]
fn folders_that_are_no_yard_say_so() {
    let dir = tempfile::tempdir().unwrap();
    let refusal = |path: &Path| said(dir.path(), &store::check(path)).concat();
    assert_eq!(
        refusal(dir.path()),
        ": this folder holds no yard.ron, so it is no yard; choose the folder with yard.ron in \
         it, or make a yard with `gapwright sample`"
    );
    assert_eq!(
        refusal(&dir.path().join("gone")),
        "gone: there is nothing here; check the path, or plug the drive back in"
    );
    let pulled = store::sign(&dir.path().join("gone"), &full_session(7)).unwrap_err().to_string();
    assert!(pulled.contains("plug the drive back in"), "{pulled}");
    assert!(!dir.path().join("gone").exists(), "no yard grows where the drive was");
}

#[test]
fn an_empty_yard_opens_with_no_machine() {
    let dir = tempfile::tempdir().unwrap();
    let empty = Yard { machines: vec![], ..yard(vec![]) };
    store::create_yard(dir.path(), &empty).unwrap();
    let opened = store::open(dir.path()).unwrap();
    assert_eq!((opened.yard, opened.issues), (empty, vec![]));
}

#[test]
fn strangers_in_the_folder_are_passed_over_or_named() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![full_session(7)])).unwrap();
    let inside = dir.path().join("shears/heron/sessions");
    let session = inside.join("2026-03-14T0705Z-7f3a.ron");
    fs::copy(&session, inside.join("notes.txt")).unwrap();
    fs::copy(&session, inside.join(".gapwright-x.tmp")).unwrap();
    assert_eq!(said(dir.path(), &store::check(dir.path())), [""; 0]);
    fs::copy(&session, inside.join("2026-03-14T0705Z-7f3a (copy).ron")).unwrap();
    fs::create_dir(inside.join("folder.ron")).unwrap();
    fs::create_dir(dir.path().join("shears/Grey Heron")).unwrap();
    fs::create_dir(dir.path().join("shears/plover")).unwrap();
    assert_eq!(
        said(dir.path(), &store::check(dir.path())),
        [
            "shears/Grey Heron: this cannot be a machine's folder; rename it with lower-case \
             letters, digits and hyphens",
            "shears/heron/sessions/2026-03-14T0705Z-7f3a (copy).ron:3:9: the session inside is \
             named “2026-03-14T0705Z-7f3a”, the file is not; give the file back the name of its \
             session",
            "shears/heron/sessions/folder.ron: this is not a file; move it out of the yard",
            "shears/plover/shear.ron: this machine's folder holds no shear.ron; copy it here, or \
             move the folder out of shears",
        ]
    );
}

#[test]
fn a_meter_that_ran_backwards_is_named_by_the_check() {
    let dir = tempfile::tempdir().unwrap();
    let plain = |hour, meter| Session {
        meter: Hours::from_whole(meter),
        work: vec![],
        amends: None,
        ..full_session(hour)
    };
    store::create_yard(dir.path(), &yard(vec![plain(7, 480), plain(8, 48)])).unwrap();
    assert_eq!(
        said(dir.path(), &store::check(dir.path())),
        ["shears/heron/sessions/2026-03-14T0805Z-7f3a.ron: the hour meter shows 48 h, less than \
          before; sign a correction, or record the change of meter if there was one"]
    );
}

#[test]
fn a_file_too_long_for_a_yard_is_not_read() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![full_session(7)])).unwrap();
    let path = dir.path().join("shears/heron/sessions/2026-03-14T0705Z-7f3a.ron");
    fs::OpenOptions::new().write(true).open(&path).unwrap().set_len(5 << 20).unwrap();
    assert_eq!(
        said(dir.path(), &store::check(dir.path())),
        ["shears/heron/sessions/2026-03-14T0705Z-7f3a.ron: this file is longer than 4 MiB, so it \
          is no file of a yard; move it out of the yard"]
    );
}

#[cfg(unix)]
#[test]
fn what_may_not_be_read_is_named_and_the_rest_opens() {
    use std::os::unix::fs::PermissionsExt as _;
    let dir = tempfile::tempdir().unwrap();
    let (one, two) = (full_session(7), Session { amends: None, ..full_session(8) });
    store::create_yard(dir.path(), &yard(vec![one, two.clone()])).unwrap();
    let set = |path: &Path, mode| fs::set_permissions(path, fs::Permissions::from_mode(mode));
    let locked = dir.path().join("shears/heron/sessions/2026-03-14T0705Z-7f3a.ron");
    set(&locked, 0o000).unwrap();
    // The superuser reads it all the same; then it must simply open.
    let superuser = fs::read(&locked).is_ok();
    let opened = store::open(dir.path()).unwrap();
    let sessions = &opened.yard.machines[0].sessions;
    assert!(sessions.contains(&two), "one locked file took the yard down");
    let said_of = said(dir.path(), &opened.issues).concat();
    assert_eq!(sessions.len(), 1 + usize::from(superuser), "{said_of}");
    assert_eq!(superuser, said_of.is_empty(), "{said_of}");
    assert!(superuser || said_of.contains("may not be read by you; ask its owner"), "{said_of}");
    set(dir.path(), 0o000).unwrap();
    let whole = store::open(dir.path());
    let kept = store::sign(dir.path(), &full_session(9));
    set(dir.path(), 0o755).unwrap();
    assert_eq!((whole.is_ok(), kept.is_ok()), (superuser, superuser), "{whole:?} {kept:?}");
}

#[test]
fn a_yard_inside_the_program_is_unpacked_and_stays_inside_its_folder() {
    let dir = tempfile::tempdir().unwrap();
    let (from, to) = (dir.path().join("from"), dir.path().join("to"));
    store::create_yard(&from, &yard(vec![full_session(7)])).unwrap();
    let names =
        ["yard.ron", "shears/heron/shear.ron", "shears/heron/sessions/2026-03-14T0705Z-7f3a.ron"];
    let files = names.map(|name| (Path::new(name), fs::read(from.join(name)).unwrap()));
    store::unpack(&to, files.iter().map(|(name, bytes)| (*name, bytes.as_slice()))).unwrap();
    assert_eq!(store::open(&to).unwrap(), store::open(&from).unwrap());
    for wrong in ["../yard.ron", "/yard.ron", "shears/../../yard.ron"] {
        let file = (Path::new(wrong), b"()".as_slice());
        let refusal = store::unpack(&dir.path().join("new"), [file]).unwrap_err().to_string();
        assert!(refusal.contains("leads out of the yard"), "{refusal}");
    }
    assert!(!dir.path().join("new").exists());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]
    /// Whatever was signed or drafted is read back, to the nanometre.
    #[test]
    fn any_session_comes_back(signed in any_session(), begun in any_session()) {
        let dir = tempfile::tempdir().unwrap();
        store::create_yard(dir.path(), &yard(vec![])).unwrap();
        store::sign(dir.path(), &signed).unwrap();
        store::save_draft(dir.path(), &begun).unwrap();
        let opened = store::open(dir.path()).unwrap();
        prop_assert_eq!(&opened.issues, &[]);
        prop_assert_eq!(&opened.yard.machines[0].sessions, &[signed]);
        prop_assert_eq!(&opened.drafts, &[begun]);
    }
}
