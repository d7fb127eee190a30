//! Opening a yard: everything that reads, and by name everything that does not.
//!
//! Never writes. Does not know what happens with an issue.

use crate::{
    domain::{
        heat::{self, Lesson},
        log::{Remark, Session, SessionId, Work},
        machine::{BladeId, LineId, Shear, ShearId, ShearIssue, StationId},
        quantity::{Hours, LengthUnit},
        yard::{Intervals, Machine, Settings, Tolerance, Yard},
    },
    store::{
        Draft,
        issue::{FileIssue, StoreError},
        paths,
        text::{self, Fault},
        wire::{self, Unread},
    },
};
use std::{
    fs, io,
    path::{Path, PathBuf},
};

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
    let unusable = |err: io::Error| StoreError::Unusable(FileIssue::unreadable(root, &err));
    fs::read_dir(root).map_err(unusable)?;
    let mut finder = Finder { root, issues: Vec::new(), drafts: Vec::new(), read_only: false };
    let settings = finder.settings()?;
    let machines = finder.machines();
    let lessons = finder.lessons();
    let Finder { issues, drafts, read_only, .. } = finder;
    Ok(Opened { yard: Yard { settings, machines }, issues, drafts, lessons, read_only })
}

/// Names every file of the yard that is wrong; empty means all is well.
pub fn check(root: &Path) -> Vec<FileIssue> {
    let Opened { yard, mut issues, .. } = match open(root) {
        Ok(opened) => opened,
        Err(err) => return vec![err.into_issue()],
    };
    for machine in &yard.machines {
        for id in &machine.history.backwards {
            let Some(session) = machine.sessions.iter().find(|it| it.id == *id) else { continue };
            issues.push(FileIssue::of(
                &paths::session(root, session),
                format!("the hour meter shows {} h, less than before", session.meter.h()),
                "sign a correction, or record the change of meter if there was one",
            ));
        }
    }
    issues
}

/// Reads a lesson that is built into the program; `path` names it in a fault.
///
/// # Errors
///
/// What is wrong with it, with line and column.
pub fn lesson(path: &Path, text: &str) -> Result<Lesson, FileIssue> {
    wire::lesson(text).map_err(|unread| match unread {
        Unread::Newer(format) => FileIssue::newer(path, format),
        Unread::Faulty(fault) => fault.of(path),
    })
}

/// What to show while `yard.ron` cannot be read: nothing on the shelf and no leaves.
fn stand_in(root: &Path) -> Settings {
    let name = root.file_name().map(|name| name.to_string_lossy().into_owned());
    let every_shift = Hours::from_whole(8);
    Settings {
        name: name.unwrap_or_default(),
        leaf_sets: Vec::new(),
        shelf: Vec::new(),
        intervals: Intervals { look: every_shift, lubricate: every_shift, retorque: every_shift },
        own_findings: Vec::new(),
        repeatability: None,
        tolerance: Tolerance::default(),
        unit: LengthUnit::Millimetre,
    }
}

struct Finder<'a> {
    root: &'a Path,
    issues: Vec<FileIssue>,
    drafts: Vec<Draft>,
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
        match load(&path, wire::settings) {
            Ok((settings, _text)) => Ok(settings),
            Err(mut issue) => {
                self.read_only = issue.newer;
                issue.next += "; until then no leaves and no shelf are known, \
                               and gaps are looked at every 8 hours";
                self.issues.push(issue);
                Ok(stand_in(self.root))
            }
        }
    }

    fn lessons(&mut self) -> Vec<Lesson> {
        let mut lessons = Vec::new();
        for path in self.listing(&paths::lessons(self.root)) {
            match load(&path, wire::lesson) {
                Ok((lesson, _text)) => lessons.push(lesson),
                Err(issue) => self.issues.push(issue),
            }
        }
        lessons
    }

    fn machines(&mut self) -> Vec<Machine> {
        let folder = paths::shears(self.root);
        let mut machines = Vec::new();
        for path in self.listing(&folder) {
            if !path.is_dir() {
                continue;
            }
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            let Some(id) = ShearId::new(&name) else {
                self.issues.push(FileIssue::of(
                    &path,
                    "this cannot be a machine's folder",
                    "rename it with lower-case letters, digits and hyphens",
                ));
                continue;
            };
            if let Some(machine) = self.machine(&id) {
                machines.push(machine);
            }
        }
        machines
    }

    fn machine(&mut self, id: &ShearId) -> Option<Machine> {
        let path = paths::shear(self.root, id);
        if matches!(path.try_exists(), Ok(false)) {
            self.issues.push(FileIssue::of(
                &path,
                "this machine's folder holds no shear.ron",
                "copy it here, or move the folder out of shears",
            ));
            return None;
        }
        let (shear, text) = match load(&path, |text| wire::shear(text, id.clone())) {
            Ok(read) => read,
            Err(mut issue) => {
                issue.next += "; until then this machine is left out";
                self.issues.push(issue);
                return None;
            }
        };
        let faults = shear.check();
        if !faults.is_empty() {
            let placed = |fault: &ShearIssue| {
                let next = "correct it in a text editor; until then this machine is left out";
                Fault::new(fault.to_string(), next).at(&text, &words_of(fault))
            };
            self.issues.extend(faults.iter().map(|fault| placed(fault).of(&path)));
            return None;
        }
        if let Some(fault) = heat::fault_of(&shear) {
            let next = "correct it in a text editor; until then no heat is calculated";
            let fault = Fault::new(fault.to_string(), next).at(&text, "thermal");
            self.issues.push(fault.of(&path));
        }
        let signed = paths::sessions(self.root, id);
        let sessions: Vec<Session> =
            self.listing(&signed).iter().filter_map(|path| self.session(path, &shear)).collect();
        let begun = paths::drafts(self.root, id);
        for path in self.listing(&begun) {
            let Some(draft) = self.session(&path, &shear) else { continue };
            let Some(signed) = sessions.iter().find(|it| it.id == draft.id) else {
                self.drafts.push(draft);
                continue;
            };
            // Signing ends with removing the draft; a draft that stayed is done with, unless it
            // holds something that was not signed.
            if !keeps_all_of(signed, &draft) {
                self.issues.push(FileIssue::of(
                    &path,
                    "this draft holds more than the signed session of the same name",
                    "copy what is missing into a new session, then remove the draft",
                ));
            }
        }
        Some(Machine::new(shear, sessions))
    }

    fn session(&mut self, path: &Path, shear: &Shear) -> Option<Session> {
        let read = load(path, wire::session).and_then(|(session, text)| {
            match misfit(path, &session, shear) {
                Some((fault, name)) => Err(fault.at_name(&text, &name).of(path)),
                None => Ok(session),
            }
        });
        read.map_err(|issue| self.issues.push(issue)).ok()
    }

    /// What stands in a folder, sorted, without hidden files and, among files, without those of
    /// another ending. A folder that is not there holds nothing.
    fn listing(&mut self, folder: &Path) -> Vec<PathBuf> {
        let entries = match fs::read_dir(folder) {
            Ok(entries) => entries,
            Err(err) if err.kind() == io::ErrorKind::NotFound => return Vec::new(),
            Err(err) => {
                self.issues.push(FileIssue::unreadable(folder, &err));
                return Vec::new();
            }
        };
        let mut found = Vec::new();
        for entry in entries {
            match entry {
                Ok(entry) => found.push(entry.path()),
                Err(err) => self.issues.push(FileIssue::unreadable(folder, &err)),
            }
        }
        found.retain(|path| {
            let hidden =
                path.file_name().is_some_and(|name| name.as_encoded_bytes().starts_with(b"."));
            !hidden && (path.is_dir() || path.extension().is_some_and(|it| it == paths::ENDING))
        });
        found.sort();
        found
    }
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

fn keeps_all_of(signed: &Session, draft: &Session) -> bool {
    draft.readings.iter().all(|it| signed.readings.contains(it))
        && draft.findings.iter().all(|it| signed.findings.contains(it))
        && draft.work.iter().all(|it| signed.work.contains(it))
}

/// The words in the file by which a fault of a machine's description can be found.
fn words_of(fault: &ShearIssue) -> String {
    match fault {
        ShearIssue::NoLines => "lines".to_owned(),
        ShearIssue::Geometry => "geometry".to_owned(),
        ShearIssue::LineTwice(line)
        | ShearIssue::UnknownPosition(line)
        | ShearIssue::NoStations(line) => format!("\"{line}\""),
        ShearIssue::UnknownBlade { blade, .. } => format!("\"{blade}\""),
        ShearIssue::Edges(blade) | ShearIssue::Shape(blade) => format!("id: \"{blade}\""),
        ShearIssue::StationOrder(station) => format!("\"{station}\""),
    }
}

/// What keeps a session that reads well from belonging where it stands, with the name in its text.
fn misfit(path: &Path, session: &Session, shear: &Shear) -> Option<(Fault, String)> {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    if SessionId::parse(&stem).as_ref() != Some(&session.id) {
        let what = format!("the session inside is named “{}”, the file is not", session.id);
        let next = "give the file back the name of its session";
        return Some((Fault::new(what, next), session.id.to_string()));
    }
    if session.shear != shear.id {
        let what = format!("this session belongs to the machine “{}”", session.shear);
        let next = format!("move it to shears/{}", session.shear);
        return Some((Fault::new(what, next), session.shear.to_string()));
    }
    let unknown = |what: String, name: String| {
        let next = format!("correct it, or add it to shear.ron of “{}”", shear.id);
        Some((Fault::new(what, next), name))
    };
    if let Some(station) = stations_of(session).find(|it| shear.station(*it).is_none()) {
        return unknown(format!("{station} is no station of this machine"), station.to_string());
    }
    if let Some(line) = lines_of(session).find(|it| shear.line(*it).is_none()) {
        return unknown(format!("{line} is no line of this machine"), line.to_string());
    }
    if let Some(blade) = blades_of(session).find(|it| shear.blade(it).is_none()) {
        return unknown(format!("“{blade}” is no blade of this machine"), blade.to_string());
    }
    None
}

fn stations_of(session: &Session) -> impl Iterator<Item = StationId> {
    let seen = session.findings.iter().filter_map(|finding| {
        finding.line.zip(finding.station).map(|(line, number)| StationId { line, number })
    });
    let said = session.remarks.iter().filter_map(Remark::station);
    session.readings.iter().map(|reading| reading.station).chain(seen).chain(said)
}

fn lines_of(session: &Session) -> impl Iterator<Item = LineId> {
    let said = session.remarks.iter().map(Remark::line);
    session.findings.iter().filter_map(|finding| finding.line).chain(said)
}

fn blades_of(session: &Session) -> impl Iterator<Item = &BladeId> {
    session.work.iter().filter_map(Work::blade)
}
