//! A large yard: opening 1 000, 10 000 and 50 000 sessions, and keeping one more.
//!
//! Files as a person reads them, one field a line, from a warm page cache. The limits: 10 000
//! sessions open in 0.7 s on two cores and in twice the time of a bare loop that only parses the
//! same files on as many cores; 250 MB at most; time grows with the number of sessions; a durable
//! save takes twice the time of the same file created, synced, renamed and its folder synced by
//! hand. The overview of what was told before, with every file looked at and no session read, takes a
//! fifth of opening. A session that arrives at a machine with a thousand holds the window up for 4 ms
//! at most. Prints its figures and fails beyond a limit. Refuses to measure a yard that does
//! not open whole.
#![expect(clippy::print_stdout, reason = "a benchmark is there to print")]
#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark that cannot measure should stop"
)]
#![expect(clippy::disallowed_methods, reason = "a benchmark reads the clock and writes by hand")]

use chrono::{DateTime, Utc};
use gapwright::{
    domain::yard::Machine,
    sample,
    store::{self, KeptRow, Stamps, Watch},
    workbench::{Arrival, Command, Workbench},
};
use serde::Deserialize;
use std::{
    fs::{self, File},
    hint::black_box,
    io::Write as _,
    path::{Path, PathBuf},
    thread,
    time::{Duration, Instant},
};

const SHEARS: usize = 3;

fn main() {
    let dir = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap();
    let threads = thread::available_parallelism().unwrap();
    println!("{threads} threads, median of 5");
    arrives();
    println!(
        "sessions | readings | files MB | open s | bare parse s | ratio | peak MB | overview s"
    );
    println!("--- | --- | --- | --- | --- | --- | --- | ---");
    let mut each = Vec::new();
    for sessions in [1_000, 10_000, 50_000_usize] {
        let root = dir.path().join(sessions.to_string());
        let yard = sample::yard(1, SHEARS, sessions.div_ceil(SHEARS), DateTime::<Utc>::UNIX_EPOCH);
        store::create_yard(&root, &yard).unwrap();
        drop(yard);
        let files = files(&root);
        let bytes: u64 = files.iter().map(|path| fs::metadata(path).unwrap().len()).sum();
        let bare = median(|| bare_parse(&files, threads.get()));
        forget_peak();
        let opened = store::open(&root).unwrap();
        let peak = peak_mb();
        assert!(opened.issues.is_empty(), "{:?}", opened.issues.first());
        let readings: usize = opened
            .yard
            .machines
            .iter()
            .flat_map(|machine| &machine.sessions)
            .map(|session| session.readings.len())
            .sum();
        drop(opened);
        let open = median(|| {
            drop(black_box(store::open(&root).unwrap()));
        });
        let ratio = open.as_secs_f64() / bare.as_secs_f64();
        let overview = overview(&root, dir.path());
        println!(
            "{} | {readings} | {:.1} | {:.3} | {:.3} | {ratio:.2} | {peak:.0} | {:.3}",
            files.len(),
            bytes as f64 / 1e6,
            open.as_secs_f64(),
            bare.as_secs_f64(),
            overview.as_secs_f64(),
        );
        each.push(open.as_secs_f64() / files.len() as f64);
        if sessions == 10_000 {
            assert!(open < Duration::from_millis(700), "{open:?}");
            assert!(ratio < 2.0, "{ratio}");
            assert!(peak < 250.0, "{peak}");
            assert!(overview < open / 5, "{overview:?} beside {open:?}");
        }
        looks(&root);
        if sessions == 1_000 {
            saves(&root);
        }
    }
    let (least, most) =
        each.iter().fold((f64::MAX, 0.0_f64), |(low, high), it| (low.min(*it), high.max(*it)));
    println!("microseconds a session: {:.0} to {:.0}", least * 1e6, most * 1e6);
    assert!(most < 2.0 * least, "time does not grow with the number of sessions");
}

/// A look of the watch at a yard where nothing has come, which a window takes every two seconds.
fn looks(root: &Path) {
    let mut watch = Watch::start(root);
    watch.look();
    let look = median(|| assert!(watch.look().is_empty(), "something has come"));
    println!("a look at its files: {look:?}");
}

/// What the window's thread does when a session arrives at a machine that has a thousand, and when a
/// thousand that are known are read again.
fn arrives() {
    let mut yard = sample::yard(1, 1, 1_001, DateTime::<Utc>::UNIX_EPOCH);
    let machine = &mut yard.machines[0];
    let last = machine.sessions.pop().unwrap();
    let known = machine.sessions.clone();
    *machine = Machine::new(machine.shear.clone(), known.clone());
    let fold = median_of(|| {
        let mut bench = Workbench::new(yard.clone(), Vec::new(), 7);
        let arrival = Arrival { sessions: vec![last.clone()], ..Arrival::default() };
        let start = Instant::now();
        bench.apply(Command::Arrived(Box::new(arrival)), last.taken);
        let taken = start.elapsed();
        assert_eq!(bench.yard().machines[0].sessions.len(), 1_001);
        taken
    });
    let mut bench = Workbench::new(yard.clone(), Vec::new(), 7);
    let again = Arrival { sessions: known, ..Arrival::default() };
    let known = median_of(|| {
        let again = Box::new(again.clone());
        let start = Instant::now();
        bench.apply(Command::Arrived(again), last.taken);
        start.elapsed()
    });
    // Half of what a display of 60 pictures a second leaves for one.
    let most = Duration::from_millis(8);
    println!("one session more for 1 000: {fold:?}; 1 000 known ones again: {known:?}");
    assert!(fold < most, "{fold:?}");
    assert!(known < most, "{known:?}");
}

/// What a window shows first: machines as they are described, and what was last told of them.
fn overview(root: &Path, cache: &Path) -> Duration {
    let row = |shear: &str| KeptRow {
        parts: None,
        shear: shear.to_owned(),
        reason: String::new(),
        meter: String::new(),
        hours: (String::new(), String::new()),
        measured: None,
        trouble_since: false,
        lines: Vec::new(),
    };
    let yard = store::described(root).unwrap();
    let rows = yard.machines.iter().map(|it| row(it.shear.id.as_str())).collect();
    Stamps::of(root).keep(cache, "bench", rows).unwrap();
    median(|| {
        black_box(store::described(root).unwrap());
        let rows = Stamps::of(root).still_true(cache, "bench");
        assert_eq!(rows.len(), SHEARS, "a row was passed over");
    })
}

/// One draft kept over and over, beside the same bytes by hand.
fn saves(root: &Path) {
    let opened = store::open(root).unwrap();
    let session = opened.yard.machines.first().unwrap().sessions.last().unwrap().clone();
    let text = fs::read(root.join(format!("shears/{}/sessions/{}.ron", session.shear, session.id)));
    let text = text.unwrap();
    let folder = root.join("by-hand");
    fs::create_dir(&folder).unwrap();
    let by_hand = || {
        let staged = folder.join("staged.tmp");
        let mut file = File::create(&staged).unwrap();
        file.write_all(&text).unwrap();
        file.sync_all().unwrap();
        fs::rename(&staged, folder.join("kept.ron")).unwrap();
        File::open(&folder).unwrap().sync_all().unwrap();
    };
    let hundred = |act: &dyn Fn()| median(|| (0..100).for_each(|_| act())) / 100;
    let hand = hundred(&by_hand);
    let ours = hundred(&|| store::save_draft(root, &session).unwrap());
    let ratio = ours.as_secs_f64() / hand.as_secs_f64();
    println!("durable save: {ours:?}, by hand {hand:?}, {ratio:.2} times");
    assert!(ratio < 2.0, "{ratio}");
}

fn median(mut act: impl FnMut()) -> Duration {
    median_of(|| {
        let start = Instant::now();
        act();
        start.elapsed()
    })
}

fn median_of(mut act: impl FnMut() -> Duration) -> Duration {
    act();
    let mut taken: Vec<Duration> = (0..5).map(|_| act()).collect();
    taken.sort();
    taken[2]
}

fn files(root: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for machine in fs::read_dir(root.join("shears")).unwrap() {
        for file in fs::read_dir(machine.unwrap().path().join("sessions")).unwrap() {
            files.push(file.unwrap().path());
        }
    }
    files
}

/// Reads and parses every file, and does nothing else.
fn bare_parse(files: &[PathBuf], threads: usize) {
    thread::scope(|scope| {
        for part in files.chunks(files.len().div_ceil(threads)) {
            scope.spawn(move || {
                let options = ron::Options::default()
                    .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
                let parsed: Vec<Bare> = part
                    .iter()
                    .map(|path| options.from_str(&fs::read_to_string(path).unwrap()).unwrap())
                    .collect();
                black_box(parsed);
            });
        }
    });
}

/// The shape of a session's file, as plain as it can be.
#[derive(Deserialize)]
#[expect(dead_code, reason = "read and not looked at")]
struct Bare {
    format: u64,
    id: String,
    shear: String,
    taken: String,
    meter_h: f64,
    #[serde(default)]
    by: String,
    #[serde(default)]
    air_temp_c: Option<f64>,
    #[serde(default)]
    jaw_temp_c: Option<f64>,
    #[serde(default)]
    readings: Vec<BareReading>,
    #[serde(default)]
    findings: Vec<BareFinding>,
    #[serde(default)]
    work: Vec<BareWork>,
    #[serde(default)]
    note: String,
}

#[derive(Deserialize)]
#[expect(dead_code, reason = "read and not looked at")]
struct BareReading {
    station: String,
    go_mm: f64,
    #[serde(default)]
    no_go_mm: Option<f64>,
    #[serde(default)]
    blade_temp_c: Option<f64>,
}

#[derive(Deserialize)]
#[expect(dead_code, reason = "read and not looked at")]
struct BareFinding {
    kind: BareKind,
    #[serde(default)]
    line: Option<String>,
    #[serde(default)]
    station: Option<u8>,
    #[serde(default)]
    size_mm: Option<f64>,
    #[serde(default)]
    note: String,
}

#[derive(Deserialize)]
#[expect(dead_code, reason = "read and not looked at")]
enum BareKind {
    StrawStreak,
    BrownStreak,
    PurpleStreak,
    BlueStreak,
    SurfaceCracks,
    ChippedEdge,
    Jam,
    Chatter,
    LooseBolt,
    StockCaught,
    Own(String),
}

#[derive(Deserialize)]
#[expect(dead_code, reason = "read and not looked at")]
enum BareWork {
    Shims {
        blade: String,
        #[serde(default)]
        put_in_mm: Vec<f64>,
        #[serde(default)]
        take_out_mm: Vec<f64>,
    },
    Turned {
        blade: String,
        edge: u8,
        #[serde(default)]
        pack_mm: Vec<f64>,
    },
    Replaced {
        blade: String,
        #[serde(default)]
        pack_mm: Vec<f64>,
    },
    Tightened {
        blade: String,
        torque_nm: f64,
    },
    Welded {
        place: String,
        consumable: String,
        cooled_slowly: bool,
        template_checked: bool,
    },
    Lubricated,
    MeterChanged {
        old_h: f64,
        new_h: f64,
    },
}

/// Linux keeps the peak of this process; elsewhere nothing is known and nothing is held to it.
fn peak_mb() -> f64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kilobytes = peak.and_then(|text| text.trim().trim_end_matches(" kB").parse::<f64>().ok());
    kilobytes.unwrap_or(0.0) / 1024.0
}

/// From here on the peak counts anew.
fn forget_peak() {
    fs::write("/proc/self/clear_refs", "5").ok();
}
