//! Files that decayed, files that cannot be, files that mean harm: named or read, in bounded time.

use crate::{
    disk::said,
    quay::{full_session, yard},
};
use gapwright::{
    domain::{
        decide::decide,
        log::{BoltSpan, Session, Work},
        machine::BladeId,
        quantity::Length,
    },
    store,
};
use rand::{Rng as _, SeedableRng as _};
use rand_pcg::Pcg32;
use std::{
    fs,
    path::{Path, PathBuf},
    time::{Duration, Instant},
};
use tempfile::TempDir;

const SESSION: &str = "shears/heron/sessions/2026-03-14T0705Z-7f3a.ron";
const SHEAR: &str = "shears/heron/shear.ron";

fn whole() -> Session {
    Session { amends: None, ..full_session(7) }
}

fn yard_of(sessions: Vec<Session>) -> TempDir {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(sessions)).unwrap();
    dir
}

#[expect(clippy::disallowed_methods, reason = "a file as decay or another hand leaves it")]
fn put(path: &Path, bytes: &[u8]) {
    fs::write(path, bytes).unwrap();
}

/// A disk that turns one digit into another leaves a file that reads well and lies.
#[test]
fn a_digit_that_turned_on_the_disk_is_no_reading() {
    let dir = yard_of(vec![whole()]);
    let path = dir.path().join(SESSION);
    let bytes = fs::read(&path).unwrap();
    let sum = bytes.windows(13).rposition(|it| it == b"content_crc32").unwrap();
    let mut turned = 0;
    for place in (0..sum).filter(|it| bytes[*it].is_ascii_digit()) {
        let mut wrong = bytes.clone();
        wrong[place] ^= 1;
        put(&path, &wrong);
        let opened = store::open(dir.path()).unwrap();
        assert_eq!(opened.yard.machines[0].sessions, [], "byte {place} lied");
        assert_eq!(opened.issues.len(), 1);
        turned += usize::from(opened.issues[0].what.contains("not as it was signed"));
    }
    assert!(60 < turned, "most of them would have been read as numbers: {turned}");
    // Who mends a file by hand takes the line away.
    let text = String::from_utf8(bytes).unwrap().replace("0.55,", "0.5,");
    put(&path, text.as_bytes());
    let said = said(dir.path(), &store::check(dir.path()));
    assert!(said[0].contains("if you changed it on purpose, remove the line"), "{said:?}");
    let mended: Vec<&str> = text.lines().filter(|line| !line.contains("content_crc32")).collect();
    put(&path, mended.join("\n").as_bytes());
    assert_eq!(store::check(dir.path()), []);
}

#[test]
fn work_that_cannot_have_been_done_is_named_where_it_stands() {
    let blade = || BladeId("lower-secondary".into());
    let um = Length::from_um;
    let shims = |bolts, put_in: &[i64], take_out: &[i64]| Work::Shims {
        blade: blade(),
        bolts,
        put_in: put_in.iter().copied().map(um).collect(),
        take_out: take_out.iter().copied().map(um).collect(),
    };
    #[track_caller]
    fn check(work: Vec<Work>, expected: &[&str]) {
        let dir = yard_of(vec![Session { work, ..whole() }]);
        let text = fs::read_to_string(dir.path().join(SESSION)).unwrap();
        // The field that stands where the fault is said to be, and the fault.
        let placed = |it: &store::FileIssue| {
            let line = text.lines().nth(it.line.unwrap() - 1).unwrap();
            format!("{}: {}", line.trim().split_once(':').unwrap().0, it.what)
        };
        let facts: Vec<String> = store::check(dir.path()).iter().map(placed).collect();
        assert_eq!(facts, expected);
    }
    let fresh = Work::Replaced { blade: blade(), pack: vec![um(500)] };
    check(vec![shims(None, &[], &[300])], &[]); // It may have stood there before the log began.
    check(vec![fresh.clone(), shims(None, &[300], &[500])], &[]);
    check(
        vec![fresh.clone(), shims(None, &[], &[300])],
        &[
            "take_out_mm: a shim of 0.3 mm came out from behind “lower-secondary”, and none was there",
        ],
    );
    check(
        vec![fresh, shims(None, &[], &[500, 500])],
        &[
            "take_out_mm: a shim of 0.5 mm came out from behind “lower-secondary”, and none was there",
        ],
    );
    check(
        vec![shims(None, &[], &[9_900])],
        &[
            "take_out_mm: a shim of 9.9 mm came out from behind “lower-secondary”, and none was there",
        ],
    );
    check(
        vec![shims(Some(BoltSpan { first: 1, last: 4 }), &[500], &[])],
        &["last: shims reach bolt 4 of “lower-secondary”, and it has 3"],
    );
    let mut two = yard(vec![]).machines.remove(0).shear;
    two.blades[1].edges = 2;
    let dir = yard_of(vec![]);
    store::save_shear(dir.path(), &two).unwrap();
    let work = vec![Work::Turned { blade: blade(), edge: 3, pack: vec![] }];
    store::sign(dir.path(), &Session { work, ..whole() }).unwrap();
    let said = said(dir.path(), &store::check(dir.path())).concat();
    assert!(said.contains(": “lower-secondary” was turned to edge 3, and it has 2 edges"));
}

#[cfg(unix)]
#[test]
fn no_link_leads_out_of_a_yard() {
    use std::os::unix::fs::symlink;
    let (dir, other) = (yard_of(vec![whole()]), yard_of(vec![whole()]));
    let shears = |dir: &TempDir| dir.path().join("shears");
    symlink(other.path().join(SESSION), dir.path().join("shears/heron/sessions/link.ron")).unwrap();
    symlink(shears(&other).join("heron"), shears(&dir).join("linked")).unwrap();
    symlink("/dev/zero", dir.path().join("shears/heron/sessions/zero.ron")).unwrap();
    symlink(shears(&other), dir.path().join("shears/heron/drafts")).unwrap();
    let opened = store::open(dir.path()).unwrap();
    assert_eq!(opened.yard, yard(vec![whole()]));
    let fact = "this is a link, and a yard holds only files of its own; copy what it leads to \
                here, in its place";
    assert_eq!(
        said(dir.path(), &opened.issues),
        ["heron/drafts", "heron/sessions/link.ron", "heron/sessions/zero.ron", "linked"]
            .map(|it| format!("shears/{it}: {fact}"))
    );
    // A description elsewhere, the yard's own file elsewhere, and all machines elsewhere.
    let described = dir.path().join(SHEAR);
    fs::remove_file(&described).unwrap();
    symlink(other.path().join(SHEAR), &described).unwrap();
    let opened = store::open(dir.path()).unwrap();
    assert_eq!(opened.yard.machines, []);
    let named = said(dir.path(), &opened.issues);
    assert!(named[0].starts_with(&format!("{SHEAR}: this is a link")), "{named:?}");
    fs::remove_file(&described).unwrap();
    fs::copy(other.path().join(SHEAR), &described).unwrap();
    let whole = yard_of(vec![]);
    for name in ["yard.ron", "shears"] {
        fs::rename(whole.path().join(name), whole.path().join("aside")).unwrap();
        symlink(other.path().join(name), whole.path().join(name)).unwrap();
        let named = said(whole.path(), &store::check(whole.path()));
        assert!(named[0].starts_with(&format!("{name}: this is a link")), "{named:?}");
        fs::remove_file(whole.path().join(name)).unwrap();
        fs::rename(whole.path().join("aside"), whole.path().join(name)).unwrap();
    }
    let pipe = dir.path().join("shears/heron/sessions/pipe.ron");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    if made.is_ok_and(|it| it.success()) {
        let said = said(dir.path(), &store::check(dir.path()));
        assert!(said.iter().any(|it| it.contains("pipe.ron: this is not a file")), "{said:?}");
    }
}

#[test]
fn a_hostile_file_costs_bounded_time() {
    let dir = yard_of(vec![whole()]);
    let path = dir.path().join(SESSION);
    let most = 4 << 20;
    let head = "(format:1,id:\"2026-03-14T0705Z-7f3a\",shear:\"heron\",taken:\"2026-03-14T07:05:00Z\",\
                meter_h:1,";
    let fill = |piece: &str| piece.repeat((most - head.len() - 20) / piece.len());
    // Only where the format does not stand first are brackets followed without a shape to fit.
    put(&path, format!("(id:{}, format:1)", "[".repeat(most / 2)).as_bytes());
    let said_of = said(dir.path(), &store::check(dir.path())).concat();
    assert!(said_of.contains("brackets are nested too deeply"), "{said_of}");
    let rows: [(String, &str); 6] = [
        ("[".repeat(most), "cannot"),
        (format!("{head}readings:{}", fill("[")), ""),
        (format!("{head}note:{}", fill("Some(")), ""),
        (format!("{head}readings:[{}])", fill("(station:\"P1\",go_mm:0),")), "read"),
        (format!("{head}note:\"{}\")", fill("ä")), "read"),
        (format!("{head}meter_h:{})", fill("9")), ""),
    ];
    for (text, expected) in rows {
        put(&path, text.as_bytes());
        let start = clock();
        let opened = store::open(dir.path()).unwrap();
        let read = opened.issues.is_empty();
        assert_eq!(read, expected == "read", "{:.60}: {:?}", text, opened.issues);
        assert!(start.elapsed() < Duration::from_secs(20), "{:?}: {text:.60}", start.elapsed());
        assert!(said(dir.path(), &opened.issues).concat().len() < 1_000, "a fault is a sentence");
    }
}

#[expect(clippy::disallowed_methods, reason = "what hangs is told by a clock")]
fn clock() -> Instant {
    Instant::now()
}

/// How many files are mutated: a few in every run, as many as wanted in a long one.
fn mutations() -> usize {
    std::env::var("GAPWRIGHT_MUTATIONS").ok().and_then(|it| it.parse().ok()).unwrap_or(2_000)
}

/// Bits turned, pieces cut, doubled and moved, numbers made huge: every file is read or named.
#[test]
fn mutated_files_are_read_or_named_and_nothing_hangs() {
    let dir = yard_of(vec![whole(), Session { amends: None, ..full_session(8) }]);
    let names = [SESSION, SESSION, SESSION, SHEAR, "yard.ron"];
    let whole: Vec<(PathBuf, Vec<u8>)> = names
        .iter()
        .map(|name| (dir.path().join(name), fs::read(dir.path().join(name)).unwrap()))
        .collect();
    let mut chance = Pcg32::seed_from_u64(7);
    let (mut read, mut named, mut slowest) = (0, 0, Duration::ZERO);
    for count in 0..mutations() {
        let (path, bytes) = &whole[count % whole.len()];
        let mut wrong = bytes.clone();
        if count % 2 == 0 {
            // Without its sum, so that what reads well is taken for true and used.
            let sum = wrong.windows(13).rposition(|it| it == b"content_crc32");
            drop(sum.map(|at| wrong.splice(at.., *b")")));
        }
        for _ in 0..=chance.next_u32() % 3 {
            mutate(&mut wrong, &whole[chance.next_u32() as usize % whole.len()].1, &mut chance);
        }
        put(path, &wrong);
        let start = clock();
        match store::open(dir.path()) {
            Err(err) => panic!("mutation {count} took the yard down: {err}"),
            Ok(opened) if opened.issues.is_empty() => {
                read += 1;
                for machine in &opened.yard.machines {
                    decide(machine, &opened.yard.settings);
                }
            }
            Ok(_) => named += 1,
        }
        slowest = slowest.max(start.elapsed());
        put(path, bytes);
    }
    assert!(slowest < Duration::from_secs(10), "{slowest:?}");
    assert!(0 < read && 0 < named, "{read} read, {named} named");
}

fn mutate(bytes: &mut Vec<u8>, other: &[u8], chance: &mut Pcg32) {
    const HUGE: [&[u8]; 6] = [b"1e308", b"-1", b"99999999999999999999", b"NaN", b"0", b"1e-320"];
    let mut below = |most: usize| chance.next_u32() as usize % most.max(1);
    let (at, length) = (below(bytes.len()), below(40));
    let end = (at + length).min(bytes.len());
    match below(6) {
        0 => {
            if let Some(byte) = bytes.get_mut(at) {
                *byte ^= 1 << below(8);
            }
        }
        1 => bytes.truncate(at),
        2 => drop(bytes.drain(at..end)),
        3 => {
            let from = below(other.len());
            let piece = &other[from..(from + length).min(other.len())];
            bytes.splice(at..end, piece.iter().copied());
        }
        4 => {
            let twice = bytes[at..end].to_vec();
            bytes.splice(at..at, twice);
        }
        _ => {
            let digit = (at..bytes.len()).find(|it| bytes[*it].is_ascii_digit());
            let Some(start) = digit else { return };
            let number = |byte: &u8| byte.is_ascii_digit() || *byte == b'.';
            let length = bytes[start..].iter().take_while(|byte| number(byte)).count();
            bytes.splice(start..start + length, HUGE[below(HUGE.len())].iter().copied());
        }
    }
}
