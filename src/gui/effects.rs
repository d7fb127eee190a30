//! What the workbench asks of the outside, carried out.
//!
//! Saves run here and now: a draft is a few kilobytes, and what is confirmed on screen must be on
//! disk before the next frame says so. Folder dialogs run on a thread of their own, because a
//! portal may never answer.

use crate::{
    brief::{sheet::Sheet, words::capital},
    domain::{
        decide::CauseTable,
        heat::Lesson,
        log::{Session, SessionId},
        machine::ShearId,
        setup::Change,
        yard::{Settings, Yard},
    },
    exchange,
    gui::picture,
    language::{self, tell},
    report::{self, Paper},
    sample,
    store::{self, FileIssue, StoreError},
    workbench::{Arrival, Command, Effect, Notice, Setup, StudyStep},
};
use chrono::{DateTime, Utc};
use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
    sync::mpsc::{Receiver, channel},
    time::{Duration, Instant},
};

/// A folder dialog that is open somewhere; answers once.
pub(crate) type FolderPicked = Receiver<Chosen>;

/// What came of asking for a file or a folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Chosen {
    /// Somebody chose this.
    This(PathBuf),
    /// Somebody chose nothing.
    Nothing,
    /// Nobody was asked: no dialog is to be had on this system.
    NoDialog,
}

/// Nobody reads and closes a dialog faster than this, so there was none.
const DIALOG_LEAST: Duration = Duration::from_millis(250);

/// Shows a dialog and waits for it. A system that has none answers at once, with nothing.
#[expect(clippy::disallowed_methods, reason = "how long a dialog stood is not a time of day")]
pub(crate) fn ask(dialog: impl FnOnce() -> Option<PathBuf>) -> Chosen {
    let start = Instant::now();
    match dialog() {
        Some(path) => Chosen::This(path),
        None if start.elapsed() < DIALOG_LEAST => Chosen::NoDialog,
        None => Chosen::Nothing,
    }
}

/// There is no dialog to choose in, told.
pub(crate) fn no_dialog() -> Notice {
    Notice {
        fact: tell!("This system shows no dialog for files.").to_owned(),
        next: tell!("Type the path in the field instead, then tap again.").to_owned(),
        grave: false,
    }
}

/// Each draft as this window last wrote or found it, so that another window's writing is seen.
pub(crate) type Drafts = BTreeMap<(ShearId, SessionId), Session>;

fn key(draft: &Session) -> (ShearId, SessionId) {
    (draft.shear.clone(), draft.id.clone())
}

/// Drafts as they were found.
pub(crate) fn found(drafts: &[Session]) -> Drafts {
    drafts.iter().map(|draft| (key(draft), draft.clone())).collect()
}

/// Carries out one effect on the yard in `root` and says what to report to the workbench.
///
/// Folder dialogs and other yards belong to the app; it takes those effects before this.
pub(crate) fn carry_out(
    root: &Path,
    drafts: &mut Drafts,
    effect: &Effect,
    now: DateTime<Utc>,
) -> Option<Command> {
    match effect {
        Effect::SaveDraft(draft) => Some(save_draft(root, drafts, draft, now)),
        Effect::DropDraft(draft) => drop_draft(root, drafts, draft),
        Effect::MoveDraft { from, to } => {
            let said = save_draft(root, drafts, to, now);
            let is_safe = !matches!(said, Command::Tell(_));
            let not_dropped = is_safe.then(|| drop_draft(root, drafts, from)).flatten();
            Some(not_dropped.unwrap_or(said))
        }
        Effect::Sign(session) => Some(sign(root, session)),
        Effect::FindStudy(machine) => unfinished_study(root, machine).map(Command::Study),
        Effect::KeepStudy { name, machine, readings } => {
            let text = exchange::write_study(machine.as_str(), readings);
            Some(match store::save_study(root, name, &text) {
                Ok(()) => Command::Study(StudyStep::Kept(now)),
                Err(err) => Command::Tell(not_saved(err)),
            })
        }
        Effect::UseScatter(scatter) => {
            Some(match store::save_repeatability(root, scatter.clone()) {
                Ok(settings) => Command::SettingsSaved(Box::new(settings)),
                Err(err) => Command::Tell(not_saved(err)),
            })
        }
        Effect::SaveSettings { base, settings } => {
            Some(match store::save_settings_over(root, base, settings) {
                Ok(None) => Command::SettingsSaved(settings.clone()),
                Ok(theirs) => arrived(Arrival { settings: theirs, ..Arrival::default() }),
                Err(err) => Command::Tell(not_saved(err)),
            })
        }
        Effect::SaveShear { base, shear } => {
            Some(match store::save_shear_over(root, base.as_deref(), shear) {
                Ok(None) => Command::ShearSaved(shear.clone()),
                Ok(Some(_)) if base.is_none() => Command::Tell(name_taken()),
                Ok(Some(theirs)) => arrived(Arrival { shears: vec![theirs], ..Arrival::default() }),
                Err(err) => Command::Tell(not_saved(err)),
            })
        }
        Effect::ReadShear(id, text) => {
            let read = store::shear_of_text(Path::new("shear.ron"), text, id.clone());
            Some(taken_in(read.map(|it| Change::TakeShear(Box::new(it)))))
        }
        Effect::ReadSettings(text) => {
            let read = store::settings_of_text(Path::new("yard.ron"), text);
            Some(taken_in(read.map(|it| Change::TakeSettings(Box::new(it)))))
        }
        Effect::MakeYard { folder, name } => Some(make_yard(folder, name)),
        Effect::PickNewFolder
        | Effect::PickYardFolder
        | Effect::OpenYard(_)
        | Effect::ImportTable(_)
        | Effect::TakeTableIn
        | Effect::LeaveTable
        | Effect::ExportTables(_)
        | Effect::TakePicture(_)
        | Effect::TakeLesson(_)
        | Effect::TakeDrawing(_)
        | Effect::MakeSheet(_)
        | Effect::KeepTable(..) => None,
    }
}

/// A new machine's folder was made by another window between two looks at the yard.
fn name_taken() -> Notice {
    Notice {
        fact: tell!("Not saved: another window has just made a machine in this folder.").to_owned(),
        next: tell!(
            "Save again in a moment: yours then gets a folder of its own. What you typed is still \
             here."
        )
        .to_owned(),
        grave: true,
    }
}

fn arrived(arrival: Arrival) -> Command {
    Command::Arrived(Box::new(arrival))
}

fn save_draft(root: &Path, drafts: &mut Drafts, draft: &Session, now: DateTime<Utc>) -> Command {
    match store::merge_draft(root, drafts.get(&key(draft)), draft) {
        Ok(kept) => {
            drafts.insert(key(draft), kept.clone());
            if kept == *draft {
                Command::DraftSaved(now)
            } else {
                Command::DraftKept(Box::new(kept))
            }
        }
        Err(err) => Command::Tell(not_saved(err)),
    }
}

fn drop_draft(root: &Path, drafts: &mut Drafts, draft: &Session) -> Option<Command> {
    drafts.remove(&key(draft));
    store::discard_draft(root, draft).err().map(|err| Command::Tell(not_saved(err)))
}

/// The newest study of this machine, if somebody has still to measure in it.
fn unfinished_study(root: &Path, machine: &ShearId) -> Option<StudyStep> {
    let (name, study, kept) = store::kept_studies(root).into_iter().find_map(|(name, path)| {
        let study = exchange::KeptStudy::read(&exchange::table_bytes(&path).ok()?)?;
        let kept = fs::metadata(&path).and_then(|it| it.modified()).ok()?;
        (study.machine == machine.as_str()).then(|| (name, study, kept.into()))
    })?;
    let readings = (!study.is_complete()).then_some(study.readings)?;
    Some(StudyStep::TakeUp { name, readings, kept })
}

/// An edited text becomes the draft, or its fault is told.
fn taken_in(read: Result<Change, FileIssue>) -> Command {
    Command::Setup(match read {
        Ok(change) => Setup::Change(change),
        Err(issue) => Setup::NoText(format!("{}.", language::understood(&issue.to_string()))),
    })
}

fn make_yard(folder: &Path, name: &str) -> Command {
    let yard = Yard { settings: Settings::usual(name.to_owned()), machines: Vec::new() };
    match store::create_yard(folder, &yard) {
        Ok(()) => Command::OpenYard(folder.to_owned()),
        Err(err) => {
            let issue = err.into_issue();
            Command::Tell(Notice {
                fact: tell!("No yard was made: {what}.", what = language::understood(&issue.what)),
                next: format!("{}.", language::understood(&issue.next)),
                grave: true,
            })
        }
    }
}

fn sign(root: &Path, session: &Session) -> Command {
    match store::sign(root, session) {
        Ok(()) => Command::Signed(Box::new(session.clone())),
        Err(err) => Command::Tell(not_saved(err)),
    }
}

fn not_saved(err: StoreError) -> Notice {
    let issue = err.into_issue();
    let fact = match issue.what.strip_prefix("not saved") {
        Some(_) => capital(&language::understood(&issue.what)),
        None => tell!("Not saved: {what}", what = language::understood(&issue.what)),
    };
    Notice {
        fact: format!("{fact}."),
        next: tell!(
            "{next}. What you typed is still here.",
            next = capital(&language::understood(&issue.next))
        ),
        grave: true,
    }
}

/// Keeps a picture of the screen in the yard, and says where it is.
pub(crate) fn keep_picture(root: &Path, name: &str, image: &egui::ColorImage, left: f32) -> Notice {
    let bytes = match picture::png(image, left) {
        Ok(bytes) => bytes,
        Err(err) => {
            return Notice {
                fact: tell!(
                    "No picture was made: {err}.",
                    err = language::understood(&err.to_string())
                ),
                next: tell!("Make the window larger and try again.").to_owned(),
                grave: true,
            };
        }
    };
    match store::save_picture(root, name, &bytes) {
        Ok(()) => saved(tell!("Picture"), name, &root.join("pictures")),
        Err(err) => not_saved(err),
    }
}

/// Keeps a drawing of the screen in the yard, and says where it is.
pub(crate) fn keep_drawing(root: &Path, name: &str, svg: &str) -> Notice {
    match store::save_picture(root, name, svg.as_bytes()) {
        Ok(()) => saved(tell!("Drawing"), name, &root.join("pictures")),
        Err(err) => not_saved(err),
    }
}

/// Keeps a job sheet in the yard, shows it in whatever this system shows PDFs with, and says where
/// it is.
pub(crate) fn keep_sheet(root: &Path, name: &str, told: &Sheet) -> Notice {
    let bytes = match report::pdf(told, Paper::A4) {
        Ok(bytes) => bytes,
        Err(err) => {
            let (fact, next) = (
                tell!("No sheet was made: {err}.", err = language::understood(&err.to_string())),
                String::new(),
            );
            return Notice { fact, next, grave: true };
        }
    };
    let path = match store::save_sheet(root, name, &bytes) {
        Ok(path) => path,
        Err(err) => return not_saved(err),
    };
    let shown = opener::open(&path).is_ok();
    let next = if shown {
        tell!("It opens for printing and lies in {folder}.", folder = root.join("sheets").display())
    } else {
        tell!("Nothing here shows a PDF: print {path} from another program.", path = path.display())
    };
    Notice { fact: tell!("Job sheet written: {name}.", name), next, grave: false }
}

/// Keeps a table in the yard, and says where it is.
pub(crate) fn keep_table(root: &Path, name: &str, csv: &str) -> Notice {
    match store::save_table(root, name, csv) {
        Ok(()) => saved(tell!("Table"), name, &root.join("tables")),
        Err(err) => not_saved(err),
    }
}

fn saved(what: &str, name: &str, folder: &Path) -> Notice {
    Notice {
        fact: tell!("{what} saved: {name}.", what, name),
        next: tell!("It lies in {folder}.", folder = folder.display()),
        grave: false,
    }
}

/// The table of causes that ships, and what is wrong with it.
pub(crate) fn shipped_causes() -> Result<CauseTable, FileIssue> {
    let (path, text) = sample::causes();
    store::causes(path, text)
}

/// The lessons that ship, and what is wrong with any.
pub(crate) fn shipped_lessons() -> (Vec<Lesson>, Vec<FileIssue>) {
    let (mut lessons, mut issues) = (Vec::new(), Vec::new());
    for (path, text) in sample::lessons() {
        match store::lesson(path, text) {
            Ok(lesson) => lessons.push(lesson),
            Err(issue) => issues.push(issue),
        }
    }
    (lessons, issues)
}

/// Visits that were begun before the program ended, told.
pub(crate) fn taken_up(drafts: &[Session], yard: &Yard) -> Option<Notice> {
    let (first, rest) = drafts.split_first()?;
    let name = yard.machine(&first.shear).map_or(first.shear.as_str(), |it| &it.shear.name);
    let readings = match first.readings.len() {
        1 => tell!("one reading").to_owned(),
        count => tell!("{count} readings", count),
    };
    let more = match rest.len() {
        0 => String::new(),
        1 => tell!(" One more visit is there too.").to_owned(),
        count => tell!(" {count} more visits are there too.", count),
    };
    Some(Notice {
        fact: tell!(
            "A visit to {name} was not signed. Its {readings} are here again.{more}",
            name,
            readings,
            more
        ),
        next: tell!("Go on with it on Measure, or clear it there.").to_owned(),
        grave: false,
    })
}

/// What others signed while this window is open, told.
pub(crate) fn from_elsewhere(sessions: &[&Session], yard: &Yard) -> Option<Notice> {
    let newest = sessions.iter().max_by_key(|it| it.taken)?;
    let name = yard.machine(&newest.shear).map_or(newest.shear.as_str(), |it| &it.shear.name);
    let by = newest.by.trim();
    let by = if by.is_empty() { String::new() } else { tell!(", signed {by}", by) };
    let fact = match sessions.len() {
        1 => tell!("A visit to {name} has arrived{by}.", name, by),
        count => tell!("{count} visits have arrived, the newest to {name}{by}.", count, name, by),
    };
    Some(Notice { fact, next: String::new(), grave: false })
}

/// Damaged files, told: the first in full, the rest counted.
pub(crate) fn damaged_files(root: &Path, issues: &[FileIssue]) -> Option<Notice> {
    let (first, rest) = issues.split_first()?;
    let name = first.path.strip_prefix(root).unwrap_or(&first.path).display();
    let place = language::understood(&first.place());
    let more = match rest.len() {
        0 => String::new(),
        1 => tell!(" One more file has a fault.").to_owned(),
        count => tell!(" {count} more files have faults.", count),
    };
    Some(Notice {
        fact: tell!(
            "{name}{place}: {what}. Everything else is open.",
            name,
            place,
            what = language::understood(&first.what)
        ),
        next: tell!(
            "{next}.{more} “gapwright check” lists them all.",
            next = capital(&language::understood(&first.next)),
            more
        ),
        grave: true,
    })
}

/// Opens a folder dialog on a thread of its own.
pub(crate) fn pick_folder(ctx: &egui::Context, title: &'static str) -> FolderPicked {
    let (sender, receiver) = channel();
    let ctx = ctx.clone();
    std::thread::spawn(move || {
        // A send fails only after the window is gone, and then nobody waits for the answer.
        drop(sender.send(ask(|| rfd::FileDialog::new().set_title(title).pick_folder())));
        ctx.request_repaint();
    });
    receiver
}

#[cfg(test)]
mod tests {
    use crate::{
        domain::log::{Session, SessionId},
        gui::effects::{Drafts, carry_out},
        sample, store,
        workbench::{Command, Effect},
    };
    use chrono::DateTime;
    use std::fs;

    /// The rest of a visit that was signed elsewhere finds no room: where it came from must stay.
    #[test]
    fn a_draft_goes_only_when_what_it_became_is_on_the_disk() {
        let dir = tempfile::tempdir().unwrap();
        let now = DateTime::UNIX_EPOCH;
        let mut yard = sample::yard(1, 1, 1, now);
        let from = yard.machines[0].sessions.pop().unwrap();
        store::create_yard(dir.path(), &yard).unwrap();
        store::save_draft(dir.path(), &from).unwrap();
        let to = Session { id: SessionId::new(now, 9), ..from.clone() };
        let drafts = dir.path().join("shears").join(from.shear.as_str()).join("drafts");
        let taken = drafts.join(format!("{}.ron", to.id));
        fs::create_dir(&taken).unwrap();
        let moves = Effect::MoveDraft { from: Box::new(from.clone()), to: Box::new(to.clone()) };
        let mut known = Drafts::new();
        let said = carry_out(dir.path(), &mut known, &moves, now);
        assert!(matches!(said, Some(Command::Tell(_))), "{said:?}");
        assert_eq!(store::open(dir.path()).unwrap().drafts, [from]);
        fs::remove_dir(&taken).unwrap();
        carry_out(dir.path(), &mut known, &moves, now);
        assert_eq!(store::open(dir.path()).unwrap().drafts, [to]);
    }
}
