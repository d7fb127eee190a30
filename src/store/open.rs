//! Opening a yard: everything that reads, and by name everything that does not.
//!
//! Reads on all processors, tells how far it is, and stops when asked to. Never writes. Does not
//! know what happens with an issue.

use crate::{
    domain::{
        decide::CauseTable,
        heat::{self, Lesson},
        log::Session,
        machine::{Shear, ShearId, ShearIssue},
        shims::PackProblem,
        yard::{Machine, Settings, Yard},
    },
    store::{
        Draft, Progress, backup,
        find::{Wanted, is_a_link, is_link, listing},
        fit::{keeps_all_of, misfit, words_of},
        issue::{FileIssue, StoreError},
        many::on_each,
        paths,
        text::{self, Fault},
        wire::{self, Unread},
    },
};
use std::{
    fs, io,
    path::{Path, PathBuf},
    sync::{
        Mutex,
        atomic::{AtomicU64, Ordering},
    },
};

/// All sessions of a yard together are not longer than this: a hundred thousand take a quarter.
const ALL_BYTES_MOST: u64 = 1024 * 1024 * 1024;

/// A yard as it was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// Everything that could be read.
    pub yard: Yard,
    /// Everything that could not.
    pub issues: Vec<FileIssue>,
    /// Visits that were begun and not signed.
    pub drafts: Vec<Draft>,
    /// The yard's own lessons, by the names of their files.
    pub lessons: Vec<Lesson>,
    /// The yard's own table of causes, if it has one that can be read.
    pub causes: Option<CauseTable>,
    /// Whether a newer program made the yard, so that nothing may be written to it.
    pub read_only: bool,
}

/// Opens the yard in the folder `root`.
///
/// A broken file never takes the yard down: it is named, and everything else opens. A machine
/// whose description is broken is left out as a whole.
///
/// # Errors
///
/// [`StoreError::Unusable`] if the folder cannot be read or is no yard.
pub fn open(root: &Path) -> Result<Opened, StoreError> {
    open_with(root, &Progress::default())
}

/// Opens a yard like [`open`], and tells `progress` how far it is.
///
/// # Errors
///
/// As [`open`]; [`StoreError::Cancelled`] once `progress` is cancelled.
pub fn open_with(root: &Path, progress: &Progress) -> Result<Opened, StoreError> {
    let unusable = |err: io::Error| StoreError::Unusable(FileIssue::unreadable(root, &err));
    fs::read_dir(root).map_err(unusable)?;
    let mut finder = Finder { root, issues: Vec::new(), read_only: false };
    let settings = finder.settings()?;
    let lessons = finder.lessons();
    let causes = finder.causes();
    let shears = finder.shears();
    let mut places = finder.places(&shears);
    let read = AtomicU64::new(0);
    let sessions = on_each(&places, progress, |place| {
        let shear = shears.get(place.machine)?;
        Some(session(&place.path, shear, &read))
    });
    if progress.is_cancelled() {
        return Err(StoreError::Cancelled);
    }
    let mut drafts = Vec::new();
    let mut logs: Vec<Log> = shears.into_iter().map(Log::of).collect();
    for (place, session) in places.drain(..).zip(sessions) {
        let Some((log, session)) = logs.get_mut(place.machine).zip(session) else { continue };
        match session {
            Err(issue) => finder.issues.push(issue),
            Ok(session) if place.signed => log.sessions.push(session),
            Ok(draft) => finder.draft(log, &place.path, draft, &mut drafts),
        }
    }
    let logs: Vec<Mutex<Option<Log>>> = logs.into_iter().map(|log| Mutex::new(Some(log))).collect();
    let folded = on_each(&logs, progress, |log| log.lock().ok()?.take().map(Log::machine));
    let machines = folded.into_iter().flatten().collect();
    if progress.is_cancelled() {
        return Err(StoreError::Cancelled);
    }
    let Finder { mut issues, read_only, .. } = finder;
    // What holds for the whole yard comes first, the rest by its place.
    let crown = paths::settings(root);
    issues.sort_by(|a, b| (a.path != crown, &a.path).cmp(&(b.path != crown, &b.path)));
    Ok(Opened { yard: Yard { settings, machines }, issues, drafts, lessons, causes, read_only })
}

/// The yard in the folder `root` with its machines as they are described, and no session read.
///
/// # Errors
///
/// As [`open`].
pub fn described(root: &Path) -> Result<Yard, StoreError> {
    fs::read_dir(root).map_err(|err| StoreError::Unusable(FileIssue::unreadable(root, &err)))?;
    let mut finder = Finder { root, issues: Vec::new(), read_only: false };
    let settings = finder.settings()?;
    let machines = finder.shears().into_iter().map(|it| Machine::new(it, Vec::new())).collect();
    Ok(Yard { settings, machines })
}

/// Where a session or a draft stands.
struct Place {
    machine: usize,
    signed: bool,
    path: PathBuf,
}

/// A machine with the sessions found so far.
struct Log {
    shear: Shear,
    sessions: Vec<Session>,
}

impl Log {
    const fn of(shear: Shear) -> Self {
        Self { shear, sessions: Vec::new() }
    }

    fn machine(self) -> Machine {
        Machine::new(self.shear, self.sessions)
    }
}

struct Finder<'a> {
    root: &'a Path,
    issues: Vec<FileIssue>,
    read_only: bool,
}

impl Finder<'_> {
    fn settings(&mut self) -> Result<Settings, StoreError> {
        let path = paths::settings(self.root);
        if matches!(path.try_exists(), Ok(false)) {
            return Err(StoreError::Unusable(FileIssue::of(
                self.root,
                "this folder holds no yard.ron, so it is no yard",
                "choose the folder with yard.ron in it, or make a yard with `gapwright sample`",
            )));
        }
        match load_own(&path, wire::settings) {
            Ok((settings, _text)) => Ok(settings),
            Err(mut issue) => {
                self.read_only = issue.newer;
                issue.next += "; until then no leaves and no shelf are known, \
                               and gaps are looked at every 8 hours";
                issue.next += &earlier(self.root, &path);
                self.issues.push(issue);
                Ok(stand_in(self.root))
            }
        }
    }

    fn lessons(&mut self) -> Vec<Lesson> {
        let mut lessons = Vec::new();
        for path in listing(&paths::lessons(self.root), Wanted::Files, &mut self.issues) {
            match load(&path, wire::lesson) {
                Ok((lesson, _text)) => lessons.push(lesson),
                Err(issue) => self.issues.push(issue),
            }
        }
        lessons
    }

    fn causes(&mut self) -> Option<CauseTable> {
        let path = paths::causes(self.root);
        if matches!(path.try_exists(), Ok(false)) {
            return None;
        }
        match load_own(&path, wire::causes) {
            Ok((causes, _text)) => Some(causes),
            Err(mut issue) => {
                issue.next += "; until then the program's own table is used";
                self.issues.push(issue);
                None
            }
        }
    }

    fn shears(&mut self) -> Vec<Shear> {
        let folder = paths::shears(self.root);
        let mut shears = Vec::new();
        for path in listing(&folder, Wanted::Folders, &mut self.issues) {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            let Some(id) = ShearId::new(&name) else {
                self.issues.push(FileIssue::of(
                    &path,
                    "this cannot be a machine's folder",
                    "rename it with lower-case letters, digits and hyphens",
                ));
                continue;
            };
            shears.extend(shear(self.root, &id, &mut self.issues));
        }
        shears
    }

    /// Every file of a session or a draft, signed ones of a machine before its drafts.
    fn places(&mut self, shears: &[Shear]) -> Vec<Place> {
        let mut places = Vec::new();
        for (machine, shear) in shears.iter().enumerate() {
            let folders = [
                (true, paths::sessions(self.root, &shear.id)),
                (false, paths::drafts(self.root, &shear.id)),
            ];
            for (signed, folder) in folders {
                let found = listing(&folder, Wanted::Files, &mut self.issues);
                places.extend(found.into_iter().map(|path| Place { machine, signed, path }));
            }
        }
        places
    }

    /// Signing ends with removing the draft; a draft that stayed is done with, unless it holds
    /// something that was not signed.
    fn draft(&mut self, log: &Log, path: &Path, draft: Draft, drafts: &mut Vec<Draft>) {
        let Some(signed) = log.sessions.iter().find(|it| it.id == draft.id) else {
            drafts.push(draft);
            return;
        };
        if !keeps_all_of(signed, &draft) {
            self.issues.push(FileIssue::of(
                path,
                "this draft holds more than the signed session of the same name",
                "copy what is missing into a new session, then remove the draft",
            ));
        }
    }
}

/// What to show while `yard.ron` cannot be read: nothing on the shelf and no leaves.
fn stand_in(root: &Path) -> Settings {
    let name = root.file_name().map(|name| name.to_string_lossy().into_owned());
    Settings { leaf_sets: Vec::new(), ..Settings::usual(name.unwrap_or_default()) }
}

/// Where what stood in a broken file before its last edit is kept, to go on from.
fn earlier(root: &Path, path: &Path) -> String {
    let Some(earlier) = backup::newest(path) else { return String::new() };
    let inside = earlier.strip_prefix(root).unwrap_or(&earlier);
    format!("; what stood here before the last edit is kept as {}", inside.display())
}

/// Reads a lesson that is built into the program; `path` names it in a fault.
///
/// # Errors
///
/// What is wrong with it, with line and column.
pub fn lesson(path: &Path, text: &str) -> Result<Lesson, FileIssue> {
    wire::lesson(text).map_err(|unread| built_in(path, unread))
}

/// Reads the table of causes that is built into the program; `path` names it in a fault.
///
/// # Errors
///
/// What is wrong with it, with line and column.
pub fn causes(path: &Path, text: &str) -> Result<CauseTable, FileIssue> {
    wire::causes(text).map_err(|unread| built_in(path, unread))
}

/// Reads the description of a machine from a text that is no file yet; `path` names it in a fault.
///
/// # Errors
///
/// What is wrong with it, with line and column.
pub fn shear_of_text(path: &Path, text: &str, id: ShearId) -> Result<Shear, FileIssue> {
    wire::shear(text, id).map_err(|unread| built_in(path, unread))
}

/// Reads what belongs to a yard from a text that is no file yet; `path` names it in a fault.
///
/// # Errors
///
/// What is wrong with it, with line and column.
pub fn settings_of_text(path: &Path, text: &str) -> Result<Settings, FileIssue> {
    wire::settings(text).map_err(|unread| built_in(path, unread))
}

/// The description of a machine as its file would say it.
///
/// # Errors
///
/// What a file cannot say.
pub fn shear_text(shear: &Shear) -> Result<String, FileIssue> {
    wire::shear_text(shear).map_err(|fault| fault.of(Path::new("shear.ron")))
}

/// What belongs to a yard as its file would say it.
///
/// # Errors
///
/// What a file cannot say.
pub fn settings_text(settings: &Settings) -> Result<String, FileIssue> {
    wire::settings_text(settings).map_err(|fault| fault.of(Path::new("yard.ron")))
}

fn built_in(path: &Path, unread: Unread) -> FileIssue {
    match unread {
        Unread::Newer(format) => FileIssue::newer(path, format),
        Unread::Faulty(fault) => fault.of(path),
    }
}

/// Reads the description of the machine in the folder `id`.
pub(crate) fn shear(root: &Path, id: &ShearId, issues: &mut Vec<FileIssue>) -> Option<Shear> {
    let path = paths::shear(root, id);
    if matches!(path.try_exists(), Ok(false)) {
        issues.push(FileIssue::of(
            &path,
            "this machine's folder holds no shear.ron",
            "copy it here, or move the folder out of shears",
        ));
        return None;
    }
    let (shear, text) = match load_own(&path, |text| wire::shear(text, id.clone())) {
        Ok(read) => read,
        Err(mut issue) => {
            issue.next += "; until then this machine is left out";
            issue.next += &earlier(root, &path);
            issues.push(issue);
            return None;
        }
    };
    let faults = shear.check();
    if !faults.is_empty() {
        let placed = |fault: &ShearIssue| {
            let next = "correct it in a text editor; until then this machine is left out";
            Fault::new(fault.to_string(), next).at(&text, &words_of(fault)).of(&path)
        };
        issues.extend(faults.iter().map(placed));
        return None;
    }
    if let Some(fault) = heat::fault_of(&shear) {
        let next = "correct it in a text editor; until then no heat is calculated";
        let fault = Fault::new(fault.to_string(), next).at(&text, "thermal");
        issues.push(fault.of(&path));
    }
    Some(shear)
}

/// Reads a session or a draft of a machine; `read` counts the bytes of all of them.
pub(crate) fn session(path: &Path, shear: &Shear, read: &AtomicU64) -> Result<Session, FileIssue> {
    let length = fs::symlink_metadata(path).map_or(0, |about| about.len());
    if ALL_BYTES_MOST < read.fetch_add(length, Ordering::Relaxed).saturating_add(length) {
        let what = "the sessions before this one fill 1 GiB, so it is not read";
        return Err(FileIssue::of(path, what, "move what is no session of yours out of the yard"));
    }
    let (session, text) = load(path, wire::session)?;
    match misfit(path, &session, shear) {
        Some((fault, name)) => Err(fault.at_name(&text, &name).of(path)),
        None => Ok(session),
    }
}

/// Reads a file of a yard and its text, unless it is a link, which may lead anywhere.
pub(crate) fn load_own<T>(
    path: &Path,
    parse: impl FnOnce(&str) -> Result<T, Unread>,
) -> Result<(T, String), FileIssue> {
    if is_link(path) { Err(is_a_link(path)) } else { load(path, parse) }
}

/// Reads a file and its text.
pub(crate) fn load<T>(
    path: &Path,
    parse: impl FnOnce(&str) -> Result<T, Unread>,
) -> Result<(T, String), FileIssue> {
    let text = text::read(path)?;
    match parse(&text) {
        Ok(value) => Ok((value, text)),
        Err(Unread::Newer(format)) => Err(FileIssue::newer(path, format)),
        Err(Unread::Faulty(fault)) => Err(fault.of(path)),
    }
}

/// Reads a shim problem, which belongs to no yard.
///
/// # Errors
///
/// What is wrong with the file, with line and column where they are known.
pub fn read_problem(path: &Path) -> Result<PackProblem, FileIssue> {
    load(path, wire::problem).map(|(problem, _)| problem)
}

#[test]
fn sessions_beyond_all_that_a_yard_may_hold_are_named_and_not_read() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/sessions/format-1");
    let yard = open(&root).unwrap().yard;
    let shear = &yard.machines[0].shear;
    let path = paths::session(&root, &yard.machines[0].sessions[0]);
    let length = fs::metadata(&path).unwrap().len();
    let after = |before| session(&path, shear, &AtomicU64::new(before));
    assert!(after(ALL_BYTES_MOST - length).is_ok());
    let said = after(ALL_BYTES_MOST - length + 1).unwrap_err().what;
    assert_eq!(said, "the sessions before this one fill 1 GiB, so it is not read");
}
