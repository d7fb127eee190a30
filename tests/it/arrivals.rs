//! What others put into a yard while a window is open on it: seen without a restart, named if it is
//! damaged, and each once.

use crate::{
    desk::now,
    quay::{heron, yard},
    together::{put, whole},
};
use chrono::{Offset as _, Utc};
use gapwright::{
    domain::log::Session,
    gui::App,
    store::{self, Watch},
};
use std::{fs, path::Path, thread, time::Duration};

/// Paints frames until something is so; nobody waits longer than it takes to notice.
pub(crate) fn until(app: &mut App, so: impl Fn(&App) -> bool) {
    let ctx = egui::Context::default();
    for _ in 0..1_000 {
        let output = ctx.run_ui(egui::RawInput::default(), |ui| app.draw(ui));
        output.drop_without_applying_deltas();
        if so(app) {
            return;
        }
        thread::sleep(Duration::from_millis(10));
    }
    panic!("nothing came of it");
}

#[test]
fn a_session_that_arrives_by_copy_appears_without_restart() {
    let dir = tempfile::tempdir().unwrap();
    let (here, there) = (dir.path().join("here"), dir.path().join("there"));
    store::create_yard(&here, &yard(vec![whole(7)])).unwrap();
    store::create_yard(&there, &yard(vec![whole(9)])).unwrap();
    let opened = store::open(&here).unwrap();
    let app = App::new(opened, here.clone(), now, Utc.fix(), 7);
    let mut app = app.watching(Duration::from_millis(20));
    until(&mut app, |app| app.bench().notice().is_none());
    let session = "shears/heron/sessions/2026-03-14T0905Z-7f3a.ron";
    let whole_file = fs::read(there.join(session)).unwrap();
    put(&here.join(session), &whole_file[..100]);
    thread::sleep(Duration::from_millis(100));
    put(&here.join(session), &whole_file);
    until(&mut app, |app| app.bench().yard().machines[0].sessions.len() == 2);
    let notice = app.bench().notice().unwrap();
    assert_eq!(notice.fact, "A visit to Heron has arrived, signed KW.");
    // A machine that arrives, and a draft of another window.
    let crane = here.join("shears/crane");
    fs::create_dir(&crane).unwrap();
    fs::copy(there.join("shears/heron/shear.ron"), crane.join("shear.ron")).unwrap();
    store::save_draft(&here, &whole(11)).unwrap();
    until(&mut app, |app| app.bench().yard().machines.len() == 2);
    let heron = gapwright::domain::machine::ShearId::new("heron").unwrap();
    until(&mut app, |app| app.bench().visit_to(&heron).is_some_and(|it| it.session == whole(11)));
}

#[test]
fn a_watch_tells_what_is_new_once() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![whole(7)])).unwrap();
    let mut watch = Watch::start(dir.path());
    watch.look();
    assert!(watch.look().is_empty(), "nothing has come");
    store::sign(dir.path(), &whole(8)).unwrap();
    store::save_draft(dir.path(), &whole(9)).unwrap();
    let arrived = watch.look();
    assert_eq!((arrived.sessions, arrived.drafts), (vec![whole(8)], vec![whole(9)]));
    assert!(watch.look().is_empty(), "said once");
    let settings =
        gapwright::domain::yard::Settings { name: "Lower quay".into(), ..yard(vec![]).settings };
    store::save_settings(dir.path(), &settings).unwrap();
    assert_eq!(watch.look().settings, Some(settings));
    fs::remove_dir_all(dir.path()).unwrap();
    assert!(watch.look().is_empty(), "a drive that was pulled brings nothing");
}

/// Hours ago, so that nothing counts as just written.
fn age(path: &Path, hours: u64) {
    let then = fs::metadata(path).unwrap().modified().unwrap() - Duration::from_secs(3_600 * hours);
    fs::File::open(path).unwrap().set_modified(then).unwrap();
}

/// A card that decays or a tool that writes in place leaves the folder's own time as it was.
#[test]
fn a_watch_sees_what_is_written_over_in_place() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![whole(7), whole(8)])).unwrap();
    let sessions = dir.path().join("shears/heron/sessions");
    let [first, second] = ["0705", "0805"].map(|it| {
        let path = sessions.join(format!("2026-03-14T{it}Z-7f3a.ron"));
        age(&path, 9);
        path
    });
    let heron = dir.path().join("shears/heron");
    for path in [dir.path().join("yard.ron"), heron.join("shear.ron"), sessions] {
        age(&path, 9);
    }
    let mut watch = Watch::start(dir.path());
    assert!(watch.look().is_empty(), "nothing has come");
    let other = Session { note: "Read again by daylight.".into(), ..whole(7) };
    let aside = tempfile::tempdir().unwrap();
    store::create_yard(aside.path(), &yard(vec![other.clone()])).unwrap();
    put(&first, &fs::read(aside.path().join(first.strip_prefix(dir.path()).unwrap())).unwrap());
    put(&second, b"(format: 1, garbage");
    let arrived = watch.look();
    assert_eq!(arrived.sessions, vec![other]);
    assert!(arrived.issues.is_empty(), "it may still be on its way here");
    age(&second, 1);
    let named: Vec<_> = watch.look().issues.into_iter().map(|it| it.path).collect();
    assert_eq!(named, [second]);
}

/// While a description is broken nobody knows which stations its sessions may name; they were left out
/// for good once, until the next start.
#[test]
fn a_machine_that_is_mended_while_a_window_is_open_has_its_sessions_at_once() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![whole(7), whole(8)])).unwrap();
    store::save_draft(dir.path(), &whole(11)).unwrap();
    let heron = dir.path().join("shears/heron");
    let described = fs::read(heron.join("shear.ron")).unwrap();
    put(&heron.join("shear.ron"), b"(format: 1, garbage");
    age(&heron.join("shear.ron"), 9);
    let app = App::new(store::open(dir.path()).unwrap(), dir.path().to_owned(), now, Utc.fix(), 7);
    let mut app = app.watching(Duration::from_millis(20));
    until(&mut app, |app| app.bench().yard().machines.is_empty());
    // One comes while it is broken, and one that is broken itself.
    store::sign(dir.path(), &whole(9)).unwrap();
    let torn = heron.join("sessions/2026-03-14T1005Z-7f3a.ron");
    put(&torn, b"(format: 1, garbage");
    age(&torn, 9);
    thread::sleep(Duration::from_millis(100));
    put(&heron.join("shear.ron"), &described);
    until(&mut app, |app| {
        app.bench().yard().machines.iter().any(|machine| machine.sessions.len() == 3)
    });
    let told = app.bench().notice().cloned().unwrap();
    assert!(
        told.fact.starts_with("shears/heron/sessions/2026-03-14T1005Z-7f3a.ron, line 1, column "),
        "{told:?}"
    );
    assert_eq!(app.decisions().len(), 1, "and what follows from them");
    let heron = gapwright::domain::machine::ShearId::new("heron").unwrap();
    assert!(app.bench().visit_to(&heron).is_some_and(|it| it.session == whole(11)));
}

/// A session that names a station its machine does not have fits once the machine has it.
#[test]
fn a_session_that_did_not_fit_is_taken_in_when_its_machine_is_corrected() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![whole(7)])).unwrap();
    let path = dir.path().join("shears/heron/shear.ron");
    let mut short = heron();
    short.lines[0].stations.pop();
    store::save_shear(dir.path(), &short).unwrap();
    let opened = store::open(dir.path()).unwrap();
    assert_eq!(opened.yard.machines[0].sessions, []);
    let session = dir.path().join("shears/heron/sessions/2026-03-14T0705Z-7f3a.ron");
    for file in [&dir.path().join("yard.ron"), &path, &session] {
        age(file, 9);
    }
    let mut watch = Watch::start(dir.path());
    assert!(watch.look().is_empty(), "nothing has come");
    store::save_shear(dir.path(), &heron()).unwrap();
    let arrived = watch.look();
    assert_eq!((arrived.sessions, arrived.issues), (vec![whole(7)], vec![]));
}

/// A tablet whose clock runs ahead dates its files after now, which says nothing about whether they
/// are whole.
#[test]
fn a_damaged_file_that_is_dated_after_now_is_named_once() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![whole(7)])).unwrap();
    let mut watch = Watch::start(dir.path());
    let torn = dir.path().join("shears/heron/sessions/2026-03-14T1005Z-7f3a.ron");
    let now = fs::metadata(dir.path().join("yard.ron")).unwrap().modified().unwrap();
    let ahead = now + Duration::from_hours(24);
    let comes = |bytes: &[u8]| {
        put(&torn, bytes);
        fs::File::options().write(true).open(&torn).unwrap().set_modified(ahead).unwrap();
    };
    comes(b"(format: 1,");
    assert_eq!(watch.look().issues, [], "it may still be on its way here");
    comes(b"(format: 1, garbage");
    assert_eq!(watch.look().issues, [], "it was");
    let named: Vec<_> = watch.look().issues.into_iter().map(|it| it.path).collect();
    assert_eq!(named, std::slice::from_ref(&torn));
    assert!(watch.look().is_empty(), "said once");
}
