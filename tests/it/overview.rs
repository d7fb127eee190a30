//! A yard that shows before its sessions are read: true to the files, or not there.

use crate::{arrivals::until, desk::now, picture};
use chrono::{DateTime, Offset as _, TimeDelta, Utc};
use egui_kittest::kittest::Queryable as _;
use gapwright::{
    brief::yard::Standing,
    domain::{log::FindingKind, machine::ShearId},
    gui::{App, Surroundings},
    language::Language,
    sample,
    store::{self, KeptRow, Stamps},
    workbench::{Arrival, Command, Screen},
};
use std::{
    fs::{self, File},
    path::{Path, PathBuf},
    thread,
    time::Duration,
};
use tempfile::TempDir;

const TELLER: &str = "a test";

/// A yard, and beside it a folder for what is kept of it.
struct Place {
    dir: TempDir,
    yard: PathBuf,
    cache: PathBuf,
}

fn place(sessions: usize) -> Place {
    let dir = tempfile::tempdir().unwrap();
    let (yard, cache) = (dir.path().join("yard"), dir.path().join("cache"));
    let end = now() - TimeDelta::minutes(30);
    store::create_yard(&yard, &sample::yard(1, sample::SHEARS, sessions, end)).unwrap();
    Place { dir, yard, cache }
}

impl Place {
    fn around(&self) -> Surroundings {
        Surroundings {
            desktop: Language::English,
            clock: now,
            zone: Utc.fix(),
            tail: 7,
            look_every: None,
            patience: Some(Duration::ZERO),
            cache: Some(self.cache.clone()),
        }
    }

    fn open(&self) -> App {
        App::opening(self.yard.clone(), self.around()).unwrap()
    }

    /// What a window says that reads everything and keeps nothing.
    fn truth(&self) -> Vec<Standing> {
        let opened = store::open(&self.yard).unwrap();
        App::new(opened, self.yard.clone(), now, Utc.fix(), 7).standings().to_vec()
    }

    /// One window, from the first glance to the end of reading: what it showed at each.
    fn glance_and_truth(&self) -> [Vec<Standing>; 2] {
        let mut app = self.open();
        assert!(app.is_glance());
        let glance = app.standings().to_vec();
        until(&mut app, |app| !app.is_glance());
        [glance, app.standings().to_vec()]
    }

    fn sessions(&self) -> PathBuf {
        self.yard.join("shears/heron/sessions")
    }

    fn session(&self) -> PathBuf {
        let mut files: Vec<_> =
            fs::read_dir(self.sessions()).unwrap().map(|it| it.unwrap().path()).collect();
        files.sort();
        files.swap_remove(files.len() / 2)
    }
}

#[expect(clippy::disallowed_methods, reason = "a file as another hand leaves it")]
fn put(path: &Path, bytes: &[u8]) {
    fs::write(path, bytes).unwrap();
}

/// Other bytes, and everything that tells a file from another as it was.
fn put_unseen(path: &Path, bytes: &[u8]) {
    let before = fs::metadata(path).unwrap().modified().unwrap();
    put(path, bytes);
    File::options().append(true).open(path).unwrap().set_modified(before).unwrap();
}

#[test]
fn the_second_start_shows_at_once_what_reading_everything_says() {
    let place = place(sample::SESSIONS);
    let truth = place.truth();
    assert_eq!(place.glance_and_truth(), [vec![], truth.clone()], "nothing is kept at first");
    assert_eq!(place.glance_and_truth(), [truth.clone(), truth.clone()]);
    // That no session was read for it: none of them could be.
    let session = place.session();
    for path in fs::read_dir(place.sessions()).unwrap().map(|it| it.unwrap().path()) {
        let length = fs::metadata(&path).unwrap().len();
        put_unseen(&path, &vec![b'?'; usize::try_from(length).unwrap()]);
    }
    let [glance, read] = place.glance_and_truth();
    assert_eq!(glance, truth);
    // And that what is kept is not the last word: the files are.
    assert_eq!(read, place.truth());
    assert_ne!(read, truth, "{}", session.display());
}

/// What somebody does to the yard, and of which machines the glance still speaks.
type Row<'a> = (&'a str, &'a dyn Fn(), &'a [&'a str]);

#[test]
fn what_is_kept_and_not_wholly_true_is_passed_over() {
    let place = place(4);
    let truth = place.truth();
    place.glance_and_truth();
    let shears = |rows: &[Standing]| -> Vec<String> {
        rows.iter().map(|it| it.shear.as_str().to_owned()).collect()
    };
    let others = ["dunlin", "wren"];
    let all = ["dunlin", "heron", "wren"];
    let (session, sessions) = (place.session(), place.sessions());
    let later = |path: &Path| {
        let file = File::options().append(true).open(path).unwrap();
        let before = file.metadata().unwrap().modified().unwrap();
        file.set_modified(before + Duration::from_secs(5)).unwrap();
    };
    let copy = sessions.join("2020-01-01T0000Z-0000.ron");
    let bytes = fs::read(&session).unwrap();
    let rows: [Row<'_>; 7] = [
        ("nothing", &|| {}, &all),
        ("a session was touched", &|| later(&session), &others),
        ("a session came that is none", &|| put(&copy, b"(format: 1"), &others),
        ("it went", &|| fs::remove_file(&copy).unwrap(), &others),
        ("a session went", &|| fs::remove_file(&session).unwrap(), &others),
        ("it came back", &|| put(&session, &bytes), &others),
        ("limits may have changed", &|| later(&place.yard.join("shears/heron/shear.ron")), &others),
    ];
    for (what, does, expected) in rows {
        does();
        let [glance, read] = place.glance_and_truth();
        assert_eq!(shears(&glance), expected, "{what}");
        assert!(glance.iter().all(|row| truth.contains(row)), "{what}");
        assert_eq!(read, place.truth(), "{what}");
    }
    later(&place.yard.join("yard.ron"));
    assert_eq!(place.glance_and_truth()[0], [], "the shelf may be another one");
    fs::remove_dir_all(&place.cache).unwrap();
    assert_eq!(place.glance_and_truth(), [vec![], truth.clone()], "it may be deleted");
    // Another yard in its place, such as another stick in the same slot.
    fs::rename(&place.yard, place.dir.path().join("away")).unwrap();
    let other = sample::yard(2, sample::SHEARS, 4, DateTime::UNIX_EPOCH);
    store::create_yard(&place.yard, &other).unwrap();
    let [glance, read] = place.glance_and_truth();
    assert_eq!((glance, read), (vec![], place.truth()));
}

fn rows() -> Vec<KeptRow> {
    let row = |shear: &str| KeptRow {
        parts: None,
        shear: shear.to_owned(),
        reason: "“too wide”\n".to_owned(),
        meter: "4 812.0 h".to_owned(),
        hours: ("10 h".to_owned(), String::new()),
        measured: Some(1_773_471_900),
        trouble_since: true,
        lines: Vec::new(),
    };
    ["heron", "wren"].map(row).to_vec()
}

/// A bit that turned, a file cut short, one of another yard or another program: as if not there.
#[test]
fn damage_to_what_is_kept_is_no_fault_of_the_yard() {
    let place = place(1);
    let stamps = Stamps::of(&place.yard);
    stamps.keep(&place.cache, TELLER, rows()).unwrap();
    let still = |of: &Path, by: &str| Stamps::of(of).still_true(&place.cache, by);
    assert_eq!(still(&place.yard, TELLER), rows());
    assert_eq!(still(&place.yard, "another program"), []);
    let path = fs::read_dir(&place.cache).unwrap().next().unwrap().unwrap().path();
    let whole = fs::read(&path).unwrap();
    for at in 0..whole.len() {
        let mut wrong = whole.clone();
        wrong[at] ^= 1 << (at % 8);
        put(&path, &wrong);
        let found = still(&place.yard, TELLER);
        assert!(found.is_empty() || found == rows(), "byte {at} lied");
        put(&path, &whole[..at]);
        // Only the line end after the last bracket may be missing.
        let expected = if at + 1 < whole.len() { vec![] } else { rows() };
        assert_eq!(still(&place.yard, TELLER), expected, "cut at {at}");
    }
    // What was kept of one yard, given the name of another's.
    let twin = place.dir.path().join("twin");
    store::create_yard(&twin, &sample::yard(1, 1, 1, now())).unwrap();
    Stamps::of(&twin).keep(&place.cache, TELLER, vec![]).unwrap();
    let mut names = fs::read_dir(&place.cache).unwrap().map(|it| it.unwrap().path());
    let of_twin = names.find(|it| *it != path).unwrap();
    put(&of_twin, &whole);
    assert_eq!(still(&twin, TELLER), []);
}

/// All of it lies beside the yard and nothing in it, so that one that can only be read has it too.
#[test]
fn nothing_is_kept_in_the_yard() {
    let place = place(2);
    let names = || {
        let mut all: Vec<PathBuf> = walk(&place.yard);
        all.sort();
        all
    };
    let before = names();
    place.glance_and_truth();
    place.glance_and_truth();
    assert_eq!(names(), before);
    // A cache that cannot be written is done without.
    let nowhere = Surroundings { cache: Some(place.session()), ..place.around() };
    let mut app = App::opening(place.yard.clone(), nowhere).unwrap();
    until(&mut app, |app| !app.is_glance());
    assert_eq!(app.standings(), place.truth());
    assert_eq!(names(), before);
}

fn walk(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().map(|it| it.unwrap().path());
    entries.flat_map(|path| if path.is_dir() { walk(&path) } else { vec![path] }).collect()
}

#[test]
fn what_is_asked_for_at_a_glance_is_done_when_the_log_is_there() {
    let place = place(sample::SESSIONS);
    place.glance_and_truth();
    let mut app = place.open();
    let ctx = egui::Context::default();
    let wren = ShearId::new("wren").unwrap();
    app.act(&ctx, Command::ReportNow(FindingKind::Jam));
    assert_eq!(app.bench().notice().unwrap().fact, "The log is not read yet.");
    app.act(&ctx, Command::DismissNotice);
    app.act(&ctx, Command::ChooseMachine(wren.clone()));
    app.act(&ctx, Command::Go(Screen::Decide));
    assert_eq!(app.bench().screen(), Screen::Yard, "nothing to decide from yet");
    until(&mut app, |app| !app.is_glance());
    assert_eq!(app.bench().screen(), Screen::Decide);
    assert_eq!(app.bench().machine().unwrap().shear.id, wren);
    assert_eq!(store::open(&place.yard).unwrap().drafts, [], "the jam was not half recorded");
}

#[test]
fn settings_that_cannot_be_read_are_told_until_somebody_has_read_it() {
    let place = place(3);
    let config = place.dir.path().to_owned();
    put(&config.join("window.ron"), b"(format: 1, text_percent: tall)");
    let after = |understood: bool| {
        let mut app = place.open().looking(Some(config.clone()));
        let frame = egui::Context::default().run_ui(egui::RawInput::default(), |ui| app.draw(ui));
        frame.drop_without_applying_deltas();
        if understood {
            app.act(&egui::Context::default(), Command::DismissNotice);
        }
        until(&mut app, |app| !app.is_glance());
        app.bench().notice().map(|it| it.fact.clone())
    };
    let said = after(false).unwrap();
    assert!(said.starts_with("The window looks as usual: "), "{said}");
    assert_eq!(after(true), None);
}

#[test]
fn reading_can_be_stopped_and_begun_again() {
    let place = place(600);
    let app = place.open();
    let mut window = picture::builder([1280.0, 800.0], egui::Theme::Light)
        .build_ui_state(|ui, app: &mut App| app.draw(ui), app);
    window.step();
    window.get_by_label("Stop").click();
    for _ in 0..400 {
        window.step();
        if !window.state().is_busy() {
            break;
        }
        thread::sleep(Duration::from_millis(10));
    }
    window.step();
    let app = window.state_mut();
    assert!(app.is_glance(), "it was quicker than a finger");
    assert_eq!(app.bench().notice().unwrap().fact, "Stopped: the log is not read.");
    app.act(&egui::Context::default(), Command::Go(Screen::Measure));
    until(app, |app| !app.is_glance());
    assert_eq!(app.bench().screen(), Screen::Measure);
}

/// With no patience at all everything takes a thread: nothing old is shown as if it held.
#[test]
fn decisions_are_made_anew_beside_the_frames_and_only_where_something_changed() {
    let place = place(sample::SESSIONS);
    let mut app = place.open();
    until(&mut app, |app| !app.is_glance());
    let ctx = egui::Context::default();
    let heron = ShearId::new("heron").unwrap();
    app.act(&ctx, Command::ChooseMachine(heron.clone()));
    app.act(&ctx, Command::ReportNow(FindingKind::Jam));
    let output = ctx.run_ui(egui::RawInput::default(), |ui| app.draw(ui));
    output.drop_without_applying_deltas();
    let there: Vec<&str> = app.decisions().iter().map(|it| it.shear.as_str()).collect();
    assert!(there.starts_with(&["dunlin"]) && there.ends_with(&["wren"]), "{there:?}");
    until(&mut app, |app| !app.is_busy());
    let fresh = App::new(store::open(&place.yard).unwrap(), place.yard.clone(), now, Utc.fix(), 7);
    assert_eq!(app.decisions(), fresh.decisions());
    // The next start knows of the jam at a glance.
    let jam = |row: &Standing| row.shear == heron && row.last.trouble_since;
    for _ in 0..200 {
        if place.open().standings().iter().any(jam) {
            return;
        }
        thread::sleep(Duration::from_millis(20));
    }
    panic!("what follows from the jam was not kept");
}

/// A visit arrives while its machine is being decided: that decision does not know of it, and is not
/// kept as if it did.
#[test]
fn what_was_decided_before_the_last_change_is_not_kept() {
    let place = place(sample::SESSIONS);
    let mut files: Vec<PathBuf> =
        fs::read_dir(place.sessions()).unwrap().map(|it| it.unwrap().path()).collect();
    files.sort();
    let newest = files.pop().unwrap();
    let bytes = fs::read(&newest).unwrap();
    fs::remove_file(&newest).unwrap();
    let mut app = place.open();
    until(&mut app, |app| !app.is_glance());
    let ctx = egui::Context::default();
    let heron = ShearId::new("heron").unwrap();
    app.act(&ctx, Command::ChooseMachine(heron.clone()));
    app.act(&ctx, Command::ReportNow(FindingKind::Jam));
    let output = ctx.run_ui(egui::RawInput::default(), |ui| app.draw(ui));
    output.drop_without_applying_deltas();
    assert!(app.is_busy(), "it decides without the visit");
    put(&newest, &bytes);
    let whole = store::open(&place.yard).unwrap().yard;
    let name = newest.file_stem().unwrap().to_string_lossy().into_owned();
    let sessions = whole.machine(&heron).unwrap().sessions.clone();
    let visit = sessions.into_iter().filter(|it| it.id.as_str() == name).collect();
    let arrival = Arrival { sessions: visit, ..Arrival::default() };
    app.act(&ctx, Command::Arrived(Box::new(arrival)));
    let truth = place.truth();
    let kept_are_true = || {
        let kept = place.open().standings().to_vec();
        for row in kept {
            assert!(truth.contains(&row), "{row:?}");
        }
    };
    until(&mut app, |app| {
        thread::sleep(Duration::from_millis(30));
        kept_are_true();
        !app.is_busy()
    });
    thread::sleep(Duration::from_millis(100));
    kept_are_true();
}

/// What a window tells of it is of the file that was there before.
#[test]
fn a_visit_overwritten_while_the_window_is_open_makes_its_row_stale() {
    let place = place(4);
    let mut app = place.open();
    until(&mut app, |app| !app.is_glance());
    let session = place.session();
    let text = fs::read_to_string(&session).unwrap();
    put(&session, text.replace("go_mm: 0.", "go_mm: 1.").as_bytes());
    let ctx = egui::Context::default();
    let shears = |app: &App| -> Vec<String> {
        app.standings().iter().map(|it| it.shear.as_str().to_owned()).collect()
    };
    // Something is decided anew, so that the overview is kept once more.
    app.act(&ctx, Command::ChooseMachine(ShearId::new("wren").unwrap()));
    app.act(&ctx, Command::ReportNow(FindingKind::Jam));
    until(&mut app, |app| !app.is_busy() && shears(&place.open()) == ["dunlin", "wren"]);
}
