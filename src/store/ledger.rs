//! What of a yard a fleet's folder holds already, so that an export adds only what is new.
//!
//! Knows names of visits and of files; does not know what stands in them. The ledger of a yard is a
//! text file in `_exported`, one visit a line, where no engine looks for data. It is written last:
//! files of an export that was cut short have a number that the ledger does not know, and the next
//! export begins by taking them away. One export of a yard at a time: two would give their files one
//! number, and one would take the other's away. The folder may be deleted at any time; the next export fills
//! it anew.

use crate::store::{
    issue::{FileIssue, StoreError},
    medium::{Lock, Medium},
    save::put_file,
    text,
};
use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
};

/// The tables of a fleet's folder.
const TABLES: [&str; 3] = ["readings", "sessions", "work_done"];

/// What of one yard is in a fleet's folder. Nobody else adds to it as long as this is there.
#[derive(Debug)]
pub struct Ledger {
    dir: PathBuf,
    key: String,
    number: u32,
    known: BTreeSet<String>,
    _held: Lock,
}

impl Ledger {
    /// Reads the ledger of the yard of this name; without one, nothing of it is there.
    ///
    /// # Errors
    ///
    /// [`StoreError::BeingExported`] if another export of the same yard has it;
    /// [`StoreError::Unusable`] if it is there and cannot be read; [`StoreError::Disk`] if nothing
    /// can be written there.
    pub fn open(medium: &impl Medium, dir: &Path, yard: &str) -> Result<Self, StoreError> {
        let key = format!("{:08x}", crc32fast::hash(yard.as_bytes()));
        let folder = dir.join("_exported");
        let lock = folder.join(format!("{key}.lock"));
        let refused = |source| StoreError::Disk { path: lock.clone(), source };
        medium.create_dirs(&folder).map_err(refused)?;
        let Some(held) = medium.lock(&lock).map_err(refused)? else {
            return Err(StoreError::BeingExported(dir.to_owned()));
        };
        let known = BTreeSet::new();
        let mut ledger = Self { dir: dir.to_owned(), key, number: 0, known, _held: held };
        let path = ledger.path();
        if matches!(path.try_exists(), Ok(false)) {
            return Ok(ledger);
        }
        let text = text::read_any(&path, LEDGER_MOST).map_err(StoreError::Unusable)?;
        let mut lines = text.lines();
        let number = lines.next().and_then(|line| line.strip_prefix("exports "));
        let Some(number) = number.and_then(|it| it.parse().ok()) else {
            let next = "delete this folder and export again";
            let issue = FileIssue::of(&path, "this is no list of exported visits", next);
            return Err(StoreError::Unusable(issue));
        };
        ledger.number = number;
        ledger.known = lines.map(str::to_owned).collect();
        Ok(ledger)
    }

    fn path(&self) -> PathBuf {
        self.dir.join("_exported").join(format!("{}.txt", self.key))
    }

    /// Whether a visit is there already.
    pub fn has(&self, visit: &str) -> bool {
        self.known.contains(visit)
    }

    /// Adds files, each to its folder below the fleet's, and then the visits they hold.
    ///
    /// # Errors
    ///
    /// Whatever kept something from being written; exporting again then ends well.
    pub fn keep(
        &self,
        medium: &impl Medium,
        files: &[(PathBuf, Vec<u8>)],
        visits: &[String],
    ) -> Result<(), StoreError> {
        self.sweep(medium)?;
        let number = self.number + 1;
        for (folder, bytes) in files {
            let name = format!("part-{}-{number:04}.parquet", self.key);
            put_file(medium, &self.dir.join(folder).join(name), bytes)?;
        }
        let mut text = format!("exports {number}\n");
        for visit in self.known.iter().chain(visits) {
            text.push_str(visit);
            text.push('\n');
        }
        put_file(medium, &self.path(), text.as_bytes())
    }

    /// Takes away what an export left that was cut short before the ledger knew of it.
    fn sweep(&self, medium: &impl Medium) -> Result<(), StoreError> {
        for table in TABLES {
            for machine in inside(&self.dir.join(table)) {
                for year in inside(&machine) {
                    for path in inside(&year) {
                        if self.number_of(&path).is_some_and(|number| self.number < number) {
                            medium.remove(&path).map_err(|source| StoreError::Disk {
                                path: path.clone(),
                                source,
                            })?;
                        }
                    }
                }
            }
        }
        Ok(())
    }

    /// Of which export of this yard a file is.
    fn number_of(&self, path: &Path) -> Option<u32> {
        let stem = path.file_stem()?.to_str()?.strip_prefix("part-")?;
        stem.strip_prefix(&self.key)?.strip_prefix('-')?.parse().ok()
    }
}

/// A line takes some thirty bytes, so this is two million visits.
const LEDGER_MOST: u64 = 64 * 1024 * 1024;

fn inside(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
    paths.sort();
    paths
}
