//! The process is killed at any moment, and what it had confirmed is on the disk.
//!
//! This test binary starts itself once more with a folder in its environment. The child works there
//! through the real app, reading after reading and visit after visit, and says each one that was
//! confirmed. The parent kills it (SIGKILL on Unix, which nothing can catch) and looks.
#![expect(clippy::print_stdout, reason = "how often it was killed is worth a line")]

use crate::cli::told;
use chrono::{DateTime, Offset as _, TimeDelta, Utc};
use gapwright::{
    domain::{log::Session, yard::Yard},
    exchange::visits::{readings_table, work_table},
    gui::App,
    sample, store,
    workbench::Command,
};
use rand::{Rng as _, SeedableRng as _};
use rand_pcg::Pcg32;
use std::{
    collections::BTreeSet,
    env, fs,
    io::{BufRead as _, BufReader, Write as _, stdout},
    path::{Path, PathBuf},
    process::{self, Child, Stdio},
    thread,
    time::Duration,
};
use tempfile::TempDir;

const FOLDER: &str = "GAPWRIGHT_SCRIPTED_VISITS";

#[expect(clippy::disallowed_methods, reason = "the child lives in real time")]
fn now() -> DateTime<Utc> {
    Utc::now()
}

/// What the child does; without a folder in the environment there is nothing to do.
#[test]
fn scripted_visits() {
    let Some(root) = env::var_os(FOLDER).map(PathBuf::from) else { return };
    let opened = store::open(&root).unwrap();
    let tail = u16::try_from(process::id() % 65_536).unwrap();
    let mut app = App::new(opened, root, now, Utc.fix(), tail);
    let ctx = egui::Context::default();
    // That a visit was taken up again is told.
    app.act(&ctx, Command::DismissNotice);
    let walk = app.bench().machine().unwrap().shear.walk();
    let say = |words: String| {
        let mut out = stdout().lock();
        writeln!(out, "{words}").unwrap();
        out.flush().unwrap();
    };
    say("open".into());
    loop {
        for station in &walk {
            let mut act = |command| app.act(&ctx, command);
            act(Command::ChooseStation(*station));
            act(Command::PositionReached);
            for stack in ["0.55", "0.60"] {
                act(Command::Type(stack.into()));
                act(Command::Confirm);
            }
            assert_eq!(app.bench().notice(), None);
            say(format!("kept {} {station}", app.bench().visit().unwrap().session.id));
        }
        let id = app.bench().visit().unwrap().session.id.clone();
        let meter = app.bench().machine().unwrap().history.last().unwrap().meter_after();
        app.act(&ctx, Command::TypeMeter(meter.h().to_string()));
        app.act(&ctx, Command::TypeInitials("KW".into()));
        app.act(&ctx, Command::SignOff);
        if app.bench().notice().is_some() {
            // Another window signed this visit first; what this one has more stays in its draft.
            say("signed elsewhere".into());
            return;
        }
        assert!(app.bench().visit().is_none(), "{:?}", app.bench().visit().unwrap().sign_fault);
        say(format!("signed {id}"));
    }
}

fn times() -> u32 {
    env::var("GAPWRIGHT_KILLS").ok().and_then(|it| it.parse().ok()).unwrap_or(20)
}

fn small_yard() -> (TempDir, PathBuf) {
    let dir = tempfile::tempdir().unwrap();
    let root = dir.path().join("yard");
    let end = now() - TimeDelta::hours(1);
    store::create_yard(&root, &sample::yard(1, 1, 4, end)).unwrap();
    (dir, root)
}

/// Runs the child until it is killed, and says what it had confirmed by then.
fn killed_after(root: &Path, wait: Duration) -> Vec<String> {
    let (child, lines) = started(root);
    thread::sleep(wait);
    killed(child, lines)
}

fn killed(mut child: Child, lines: impl Iterator<Item = String>) -> Vec<String> {
    child.kill().unwrap();
    child.wait().unwrap();
    lines.collect()
}

/// A child that has opened the yard, and what it will say.
fn started(root: &Path) -> (Child, impl Iterator<Item = String> + use<>) {
    let mut child = process::Command::new(env::current_exe().unwrap())
        .args(["kill::scripted_visits", "--exact", "--nocapture"])
        .env(FOLDER, root)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
    assert!(lines.any(|line| line.ends_with("open")), "the child did not start");
    (child, lines)
}

/// Two processes take up the same drafts, measure on the same machine, and are killed.
#[test]
fn two_processes_that_write_one_yard_lose_nothing_either_confirmed() {
    let (_dir, root) = small_yard();
    let mut chance = Pcg32::seed_from_u64(8);
    let mut confirmed = 0;
    for round in 0..times().div_ceil(4) {
        let (one, other) = (started(&root), started(&root));
        thread::sleep(Duration::from_millis(u64::from(chance.next_u32() % 300)));
        let said = [killed(one.0, one.1), killed(other.0, other.1)].concat();
        let opened = store::open(&root).unwrap();
        for issue in &opened.issues {
            assert!(issue.what.contains("holds more than the signed"), "round {round}: {issue}");
        }
        let shear = &opened.yard.machines[0].shear.id;
        let text = |folder: &str, id: &str| {
            let path = root.join(format!("shears/{shear}/{folder}/{id}.ron"));
            fs::read_to_string(path).unwrap_or_default()
        };
        for line in &said {
            if let ["kept", id, station] = line.split(' ').collect::<Vec<_>>()[..] {
                let both = text("sessions", id) + &text("drafts", id);
                assert!(both.contains(&format!("station: \"{station}\"")), "round {round}: {line}");
                confirmed += 1;
            }
        }
    }
    println!("two processes confirmed {confirmed} readings, none lost");
    assert!(0 < confirmed);
}

#[test]
fn a_process_killed_at_any_moment_loses_nothing_it_confirmed() {
    let (_dir, root) = small_yard();
    let mut chance = Pcg32::seed_from_u64(5);
    let (mut confirmed, mut signed) = (0, 0);
    for round in 0..times() {
        let wait = Duration::from_micros(u64::from(chance.next_u32() % 300_000));
        let said = killed_after(&root, wait);
        let opened = store::open(&root).unwrap();
        assert_eq!(opened.issues, [], "round {round} left something broken");
        let sessions = &opened.yard.machines[0].sessions;
        let held = |session: &Session, id: &str, station: &str| {
            let holds = session.readings.iter().any(|it| it.station.to_string() == station);
            session.id.as_str() == id && holds
        };
        for line in &said {
            match line.split(' ').collect::<Vec<_>>()[..] {
                ["kept", id, station] => {
                    let mut all = sessions.iter().chain(&opened.drafts);
                    assert!(all.any(|it| held(it, id, station)), "round {round} lost {line}");
                    confirmed += 1;
                }
                ["signed", id] => {
                    assert!(
                        sessions.iter().any(|it| it.id.as_str() == id),
                        "round {round}: {line}"
                    );
                    signed += 1;
                }
                _ => panic!("the child said {line}"),
            }
        }
    }
    println!("{} kills, {confirmed} readings and {signed} visits confirmed, none lost", times());
    assert!(times() < confirmed, "{confirmed}");
}

fn said_by(yard: &Yard) -> BTreeSet<String> {
    let tables = readings_table(&yard.machines) + &work_table(&yard.machines);
    tables.lines().map(str::to_owned).collect()
}

/// An import that is killed is started again, and nothing is there twice or half.
#[test]
fn an_import_killed_at_any_moment_is_started_again() {
    let home = TempDir::new().unwrap();
    let at = |name: &str| home.path().join(name).to_str().unwrap().to_owned();
    let yard = sample::yard(1, 1, 200, now() - TimeDelta::hours(1));
    let (readings, work, copy) = (at("readings.csv"), at("work.csv"), at("copy"));
    store::put_file(Path::new(&readings), readings_table(&yard.machines).as_bytes()).unwrap();
    store::put_file(Path::new(&work), work_table(&yard.machines).as_bytes()).unwrap();
    let mut chance = Pcg32::seed_from_u64(6);
    for _ in 0..times().min(100) {
        let mut child = process::Command::new(env!("CARGO_BIN_EXE_gapwright"))
            .args(["import", &copy, &readings, "--work", &work, "--create"])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        thread::sleep(Duration::from_millis(u64::from(30 + chance.next_u32() % 60)));
        child.kill().unwrap();
        child.wait().unwrap();
        if Path::new(&copy).join("yard.ron").exists() {
            assert_eq!(store::open(Path::new(&copy)).unwrap().issues, []);
        }
    }
    let end = told(home.path(), &["import", &copy, &readings, "--work", &work, "--create"]);
    assert_eq!((end.code, end.err.as_str()), (0, ""));
    assert_eq!(said_by(&store::open(Path::new(&copy)).unwrap().yard).len(), said_by(&yard).len());
}
