//! What was last told of each machine, kept so that a yard shows before its sessions are read.
//!
//! A copy of words, and of which files they were told from: their names, sizes and times. It lies
//! in the user's cache folder and not in the yard, which is copied and synced, may be read-only, and
//! would have two tablets write one file. It is never the last word: what is not wholly as it was is
//! passed over without a fault, and whoever shows a kept row reads the sessions behind it all the
//! same. So it may be deleted at any time. Does not know what the words mean.

use crate::{
    domain::machine::ShearId,
    store::{
        find::{Wanted, listing, machines},
        issue::StoreError,
        medium::Disk,
        paths,
        save::put_file,
        seal, text, wire,
    },
};
use serde::{Deserialize, Serialize};
use std::{
    collections::{BTreeMap, BTreeSet},
    fmt::Write as _,
    fs,
    path::{Path, PathBuf},
    time::{Duration, SystemTime},
};

/// What was told of one machine.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct KeptRow {
    /// The machine's folder.
    pub shear: String,
    /// Why it is not as it should be.
    pub reason: String,
    /// The hour meter.
    pub meter: String,
    /// Hours to the first limit, large and quiet.
    pub hours: (String, String),
    /// Whether today's jobs lack parts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub parts: Option<String>,
    /// When somebody last measured, in seconds since 1970; `None` before the first time.
    pub measured: Option<i64>,
    /// Whether a jam or chatter was logged since.
    pub trouble_since: bool,
    /// Its lines, most severe first.
    pub lines: Vec<KeptLine>,
}

/// What was told of one line.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct KeptLine {
    /// Its letter.
    pub line: char,
    /// How severe it is: 0 for nothing to do, up to 4 for a stop.
    pub severity: u8,
    /// Whether the gap is to be measured, because nobody knows it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub measure: bool,
    /// Where it is.
    pub place: String,
    /// What to do, in a word.
    pub word: String,
    /// What to do, in a line.
    pub headline: String,
    /// Hours to its limit.
    pub hours: String,
    /// Their interval.
    pub interval: String,
}

#[derive(Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct KeptFile {
    format: u64,
    yard: String,
    told_by: String,
    machines: Vec<(String, KeptRow)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    content_crc32: Option<String>,
}

/// The files of a yard as they stand at one moment, by machine, without a look into any session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamps {
    root: String,
    of: BTreeMap<ShearId, Stamp>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Stamp {
    /// `yard.ron` and `shear.ron`.
    described: [Seen; 2],
    /// Sessions by name.
    sessions: BTreeMap<String, Seen>,
}

impl Stamp {
    fn sum(&self) -> String {
        let mut said = String::new();
        let described = self.described.iter().map(|seen| ("", seen));
        let sessions = self.sessions.iter().map(|(name, seen)| (name.as_str(), seen));
        for (name, Seen { length, changed }) in described.chain(sessions) {
            // Writing to a text cannot fail.
            writeln!(said, "{name} {length:?} {changed:?}").ok();
        }
        format!("{:08x}-{}", crc32fast::hash(said.as_bytes()), self.sessions.len())
    }
}

/// What tells a file from what stood under its name before.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Seen {
    length: Option<u64>,
    changed: Option<Duration>,
}

impl Seen {
    fn of(path: &Path) -> Self {
        let about = fs::symlink_metadata(path).ok();
        let since_1970 = |time: SystemTime| time.duration_since(SystemTime::UNIX_EPOCH).ok();
        let changed = about.as_ref().and_then(|it| it.modified().ok()).and_then(since_1970);
        Self { length: about.map(|it| it.len()), changed }
    }
}

impl Stamps {
    /// Of the yard in `root`. To be taken before the sessions are read: then what changes in between
    /// makes them stale.
    pub fn of(root: &Path) -> Self {
        // Faults are named when the yard is opened.
        let unsaid = &mut Vec::new();
        let mut of = BTreeMap::new();
        for id in machines(root) {
            let signed = listing(&paths::sessions(root, &id), Wanted::Files, unsaid);
            let sessions = signed.into_iter().map(|path| (stem(&path), Seen::of(&path))).collect();
            let described = [paths::settings(root), paths::shear(root, &id)];
            of.insert(id, Stamp { described: described.map(|it| Seen::of(&it)), sessions });
        }
        let root = fs::canonicalize(root).unwrap_or_else(|_| root.to_owned());
        Self { root: root.to_string_lossy().into_owned(), of }
    }

    /// The names of a machine's session files.
    pub fn sessions(&self, shear: &ShearId) -> BTreeSet<&str> {
        let stamp = self.of.get(shear).into_iter();
        stamp.flat_map(|stamp| stamp.sessions.keys().map(String::as_str)).collect()
    }

    /// Whether every file of a machine that stood there at `earlier` stands there as it was.
    pub fn hold_all_of(&self, earlier: &Self, shear: &ShearId) -> bool {
        let (Some(now), Some(then)) = (self.of.get(shear), earlier.of.get(shear)) else {
            return false;
        };
        let stands = |(name, seen)| now.sessions.get(name) == Some(seen);
        now.described == then.described && then.sessions.iter().all(stands)
    }

    /// The rows in the folder `cache` that the same teller told from the same files.
    pub fn still_true(&self, cache: &Path, told_by: &str) -> Vec<KeptRow> {
        let Some(kept) = read(&self.place(cache)) else { return Vec::new() };
        if kept.yard != self.root || kept.told_by != told_by {
            return Vec::new();
        }
        let is_true = |(sum, row): &(String, KeptRow)| {
            let stamp = ShearId::new(&row.shear).and_then(|id| self.of.get(&id));
            stamp.is_some_and(|stamp| stamp.sum() == *sum)
        };
        kept.machines.into_iter().filter(is_true).map(|(_, row)| row).collect()
    }

    /// Keeps rows in the folder `cache`, in place of what was kept of this yard before.
    ///
    /// # Errors
    ///
    /// Whatever kept them from being written. Nothing is lost but time at the next start.
    pub fn keep(&self, cache: &Path, told_by: &str, rows: Vec<KeptRow>) -> Result<(), StoreError> {
        let stamped = |row: KeptRow| {
            let stamp = ShearId::new(&row.shear).and_then(|id| self.of.get(&id))?;
            Some((stamp.sum(), row))
        };
        let file = KeptFile {
            format: wire::FORMAT,
            yard: self.root.clone(),
            told_by: told_by.to_owned(),
            machines: rows.into_iter().filter_map(stamped).collect(),
            content_crc32: None,
        };
        let place = self.place(cache);
        let text = wire::pretty(&file).map_err(|it| StoreError::WontReadBack(it.of(&place)))?;
        put_file(&Disk, &place, seal::sealed(&text).as_bytes())
    }

    fn place(&self, cache: &Path) -> PathBuf {
        cache.join(format!("overview-{:08x}.ron", crc32fast::hash(self.root.as_bytes())))
    }
}

fn stem(path: &Path) -> String {
    path.file_stem().unwrap_or_default().to_string_lossy().into_owned()
}

/// What is kept, if it is whole.
fn read(path: &Path) -> Option<KeptFile> {
    let text = text::read(path).ok()?;
    let file: KeptFile = wire::strictly(&text).ok()?;
    let sum = file.content_crc32.as_deref()?;
    (file.format == wire::FORMAT && seal::check(&text, sum).is_ok()).then_some(file)
}
