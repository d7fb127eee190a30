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
        find::{Wanted, listing, machines},
        issue::FileIssue,
        open::{load_own, session, shear},
        paths, wire,
    },
};
use std::{
    collections::{BTreeMap, BTreeSet},
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
    /// Machines whose sessions were not read, since nothing that describes them could be.
    dark: BTreeSet<ShearId>,
    /// What could not be read at the last look, and may still be on its way here.
    coming: BTreeMap<PathBuf, Stamp>,
}

impl Watch {
    /// From here on. Start before the yard is opened, so that nothing slips in between.
    pub fn start(root: &Path) -> Self {
        let mut watch = Self {
            root: root.to_owned(),
            folders: BTreeMap::new(),
            files: BTreeMap::new(),
            dark: BTreeSet::new(),
            coming: BTreeMap::new(),
        };
        let is_dark = |id: &ShearId| shear(root, id, &mut Vec::new()).is_none();
        watch.dark.extend(machines(root).into_iter().filter(is_dark));
        watch.changed();
        // What came a moment ago may have come after the yard was opened.
        for stamp in watch.files.values_mut().filter(|stamp| is_fresh(**stamp)) {
            *stamp = None;
        }
        watch
    }

    /// What has arrived since the last look.
    pub fn look(&mut self) -> Arrived {
        let mut look = Look::default();
        let changed = self.changed();
        for (path, of) in &changed {
            match of {
                Of::Yard => match load_own(path, wire::settings) {
                    Ok((settings, _text)) => look.arrived.settings = Some(settings),
                    Err(issue) => self.name(path, vec![issue], &mut look.arrived.issues),
                },
                Of::Shear(id) => self.describe(path, id, &mut look),
                Of::Session(id) | Of::Draft(id) => {
                    if let Err(issue) = self.read(path, id, &mut look) {
                        self.name(path, vec![issue], &mut look.arrived.issues);
                    }
                }
            }
        }
        let looked: BTreeSet<&Path> = changed.iter().map(|(path, _)| path.as_path()).collect();
        for id in std::mem::take(&mut look.described_anew) {
            // Faults of a machine that was described before were said before.
            let unsaid = self.dark.remove(&id);
            for path in self.inside(&id).into_iter().filter(|it| !looked.contains(it.as_path())) {
                let read = self.read(&path, &id, &mut look);
                look.arrived.issues.extend(read.err().filter(|_| unsaid));
            }
        }
        look.arrived
    }

    /// Reads the description of a machine. What did not fit it before may fit it now.
    fn describe(&mut self, path: &Path, id: &ShearId, look: &mut Look) {
        let mut faults = Vec::new();
        let described = shear(&self.root, id, &mut faults);
        if described.is_some() {
            look.described_anew.push(id.clone());
            look.arrived.issues.append(&mut faults);
        }
        look.arrived.shears.extend(described.clone());
        look.shears.insert(id.clone(), described);
        self.name(path, faults, &mut look.arrived.issues);
    }

    /// Reads a session or a draft of a machine, if anything describes that.
    fn read(&mut self, path: &Path, id: &ShearId, look: &mut Look) -> Result<(), FileIssue> {
        // A fault in the description was named when the description was read.
        let described =
            look.shears.entry(id.clone()).or_insert_with(|| shear(&self.root, id, &mut Vec::new()));
        let Some(described) = described else {
            self.dark.insert(id.clone());
            return Ok(());
        };
        let session = session(path, described, &look.bytes)?;
        if path.starts_with(paths::drafts(&self.root, id)) {
            look.arrived.drafts.push(session);
        } else {
            look.arrived.sessions.push(session);
        }
        Ok(())
    }

    /// Names what is wrong with a file, unless it may still be on its way here: then it is looked at
    /// again. A date after now says nothing of that, so such a file is named once it stays as it is.
    fn name(&mut self, path: &Path, faults: Vec<FileIssue>, issues: &mut Vec<FileIssue>) {
        let now = stamp(path);
        let stays = self.coming.remove(path) == Some(now);
        let waits = !faults.is_empty() && is_fresh(now) && !(stays && is_ahead(now));
        if waits {
            self.coming.insert(path.to_owned(), now);
            self.files.insert(path.to_owned(), None);
        } else {
            issues.extend(faults);
        }
    }

    /// The sessions and drafts of a machine that were seen so far.
    fn inside(&self, id: &ShearId) -> Vec<PathBuf> {
        let folders = [paths::sessions(&self.root, id), paths::drafts(&self.root, id)];
        let seen = |folder: &PathBuf| self.files.range(folder.clone()..);
        let names = |folder: PathBuf| {
            let inside = seen(&folder).map(|(path, _)| path.clone());
            inside.take_while(move |path| path.starts_with(&folder)).collect::<Vec<_>>()
        };
        folders.into_iter().flat_map(names).collect()
    }

    /// Files that are not as they were; what is gone is not among them. Machines come before their
    /// sessions.
    fn changed(&mut self) -> Vec<(PathBuf, Of)> {
        let mut found = Vec::new();
        self.file(paths::settings(&self.root), Of::Yard, &mut found);
        // Faults in names were said when the yard was opened.
        let unsaid = &mut Vec::new();
        for id in machines(&self.root) {
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

/// One look: what it has read so far.
#[derive(Default)]
struct Look {
    arrived: Arrived,
    shears: BTreeMap<ShearId, Option<Shear>>,
    described_anew: Vec<ShearId>,
    bytes: AtomicU64,
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

/// Whether a stamp is of the future.
fn is_ahead(stamp: Stamp) -> bool {
    stamp.is_some_and(|(changed, _)| changed.elapsed().is_err())
}
