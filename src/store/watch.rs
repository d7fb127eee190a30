//! What others have put into a yard since it was opened: by another window, a copy, a sync.
//!
//! Asks every file when it last changed, and reads only what is new. A poll and not a notification
//! of the system: those stay silent on network shares, cards and synced folders, which is where
//! other people's sessions come from. A folder is listed only when it has changed itself; what it
//! held is asked each time, since a file that is written over in place leaves its folder as it was.
//! Does not know what happens with what it finds.

use crate::{
    domain::{
        log::Session,
        machine::{Shear, ShearId},
        yard::Settings,
    },
    store::{
        Draft,
        find::{Wanted, listing},
        issue::FileIssue,
        open::{load, session, shear},
        paths, wire,
    },
};
use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
    sync::atomic::AtomicU64,
    time::SystemTime,
};

/// How a file or folder can be told from what stood there before; `None` if there is none.
type Stamp = Option<(SystemTime, u64)>;

/// What has arrived.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Arrived {
    /// Signed sessions that were not there, or read otherwise.
    pub sessions: Vec<Session>,
    /// Drafts that were not there, or read otherwise.
    pub drafts: Vec<Draft>,
    /// Descriptions of machines that were not there, or read otherwise.
    pub shears: Vec<Shear>,
    /// What belongs to the yard as a whole, if it reads otherwise.
    pub settings: Option<Settings>,
    /// What has arrived and cannot be read.
    pub issues: Vec<FileIssue>,
}

impl Arrived {
    /// Whether nothing has.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// A look at one yard now and then.
#[derive(Clone, Debug)]
pub struct Watch {
    root: PathBuf,
    folders: BTreeMap<PathBuf, Stamp>,
    files: BTreeMap<PathBuf, Stamp>,
}

impl Watch {
    /// From here on. Start before the yard is opened, so that nothing slips in between.
    pub fn start(root: &Path) -> Self {
        let mut watch =
            Self { root: root.to_owned(), folders: BTreeMap::new(), files: BTreeMap::new() };
        watch.changed();
        // What came a moment ago may have come after the yard was opened.
        for stamp in watch.files.values_mut().filter(|stamp| is_fresh(**stamp)) {
            *stamp = None;
        }
        watch
    }

    /// What has arrived since the last look.
    pub fn look(&mut self) -> Arrived {
        let mut arrived = Arrived::default();
        let changed = self.changed();
        let read = AtomicU64::new(0);
        let mut shears: BTreeMap<ShearId, Option<Shear>> = BTreeMap::new();
        for (path, of) in changed {
            match of {
                Of::Yard => match load(&path, wire::settings) {
                    Ok((settings, _text)) => arrived.settings = Some(settings),
                    Err(issue) => arrived.issues.push(issue),
                },
                Of::Shear(id) => {
                    let described = shear(&self.root, &id, &mut arrived.issues);
                    arrived.shears.extend(described.clone());
                    shears.insert(id, described);
                }
                Of::Session(id) | Of::Draft(id) => {
                    // A fault in the description was named when the description was read.
                    let described = shears
                        .entry(id.clone())
                        .or_insert_with(|| shear(&self.root, &id, &mut Vec::new()));
                    let Some(described) = described else { continue };
                    match session(&path, described, &read) {
                        Ok(session) if path.starts_with(paths::drafts(&self.root, &id)) => {
                            arrived.drafts.push(session);
                        }
                        Ok(session) => arrived.sessions.push(session),
                        // It may still be on its way here; then it is looked at again.
                        Err(_) if is_fresh(stamp(&path)) => drop(self.files.insert(path, None)),
                        Err(issue) => arrived.issues.push(issue),
                    }
                }
            }
        }
        arrived
    }

    /// Files that are not as they were; what is gone is not among them. Machines come before their
    /// sessions.
    fn changed(&mut self) -> Vec<(PathBuf, Of)> {
        let mut found = Vec::new();
        self.file(paths::settings(&self.root), Of::Yard, &mut found);
        // Faults in names were said when the yard was opened.
        let unsaid = &mut Vec::new();
        for folder in listing(&paths::shears(&self.root), Wanted::Folders, unsaid) {
            let name = folder.file_name().unwrap_or_default().to_string_lossy();
            let Some(id) = ShearId::new(&name) else { continue };
            self.file(paths::shear(&self.root, &id), Of::Shear(id.clone()), &mut found);
            let folders = [
                (paths::sessions(&self.root, &id), Of::Session(id.clone())),
                (paths::drafts(&self.root, &id), Of::Draft(id.clone())),
            ];
            for (folder, of) in folders {
                let now = stamp(&folder);
                // A folder may change twice within what its clock can tell apart.
                if self.folders.get(&folder) == Some(&now) && !is_fresh(now) {
                    self.changed_in_place(&folder, &of, &mut found);
                    continue;
                }
                for path in listing(&folder, Wanted::Files, unsaid) {
                    self.file(path, of.clone(), &mut found);
                }
                self.folders.insert(folder, now);
            }
        }
        found
    }

    /// Files of a folder that was listed before and has had no other names since.
    fn changed_in_place(&mut self, folder: &Path, of: &Of, found: &mut Vec<(PathBuf, Of)>) {
        let inside = self.files.range_mut(folder.to_owned()..);
        for (path, known) in inside.take_while(|(path, _)| path.starts_with(folder)) {
            let now = stamp(path);
            if *known != now && now.is_some() {
                found.push((path.clone(), of.clone()));
            }
            *known = now;
        }
    }

    fn file(&mut self, path: PathBuf, of: Of, found: &mut Vec<(PathBuf, Of)>) {
        let now = stamp(&path);
        if self.files.insert(path.clone(), now) != Some(now) && now.is_some() {
            found.push((path, of));
        }
    }
}

/// What a file is.
#[derive(Clone, Debug)]
enum Of {
    Yard,
    Shear(ShearId),
    Session(ShearId),
    Draft(ShearId),
}

fn stamp(path: &Path) -> Stamp {
    let about = fs::symlink_metadata(path).ok()?;
    Some((about.modified().ok()?, about.len()))
}

/// Whether a stamp is so new that the next change may bear the same.
fn is_fresh(stamp: Stamp) -> bool {
    let Some((changed, _)) = stamp else { return false };
    // Cards count in steps of two seconds. A clock that was set back makes a stamp of the future,
    // which is looked at each time.
    changed.elapsed().map_or(true, |age| age.as_secs() < 3)
}
