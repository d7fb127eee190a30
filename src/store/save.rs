//! Keeping what was confirmed: signed once, drafted often, never half-written.
//!
//! Knows the order of operations that makes a crash harmless; the operations themselves are the
//! medium's. Does not know when something is kept. Long because all that may be written, and in
//! which order, is seen best in one place.

use crate::{
    domain::{
        gauge::Repeatability,
        log::{Session, SessionId, merge},
        machine::Shear,
        yard::{Settings, Yard},
    },
    store::{
        Draft, backup,
        fit::keeps_all_of,
        issue::{FileIssue, StoreError},
        medium::{Lock, Medium},
        open::load,
        paths,
        text::{self, Fault},
        wire::{self, FORMAT, Unread},
    },
};
use std::{
    collections::BTreeSet,
    fs, io,
    path::{Component, Path, PathBuf},
    thread,
    time::Duration,
};

/// A writer holds the lock for some milliseconds; one that hangs must not hang this window.
const LOCK_TRIES: u32 = 50;
const LOCK_PAUSE: Duration = Duration::from_millis(10);

/// Writes to one yard on one medium.
#[derive(Clone, Copy, Debug)]
pub struct Writer<'a, M> {
    medium: &'a M,
    root: &'a Path,
}

impl<'a, M: Medium> Writer<'a, M> {
    /// Writes to the yard in the folder `root`.
    pub const fn new(medium: &'a M, root: &'a Path) -> Self {
        Self { medium, root }
    }

    /// Keeps a signed session for good and removes its draft.
    ///
    /// Signing the same session again is harmless, so that it can be tried again after a fault.
    ///
    /// # Errors
    ///
    /// [`StoreError::AlreadySigned`] if another session has its name; else whatever kept it from
    /// being written.
    pub fn sign(&self, session: &Session) -> Result<(), StoreError> {
        self.may_write()?;
        let target = paths::session(self.root, session);
        let text = sure(&target, session, wire::signed_text, wire::session)?;
        let folder = paths::sessions(self.root, &session.shear);
        self.create(
            &target,
            &folder,
            text.as_bytes(),
            || matches!(load(&target, wire::session), Ok((there, _)) if there == *session),
        )?;
        self.confirm(&target, &folder)?;
        let draft = paths::draft(self.root, &session.shear, &session.id);
        // The session is safe; a draft that stays behind is recognised by its name.
        if let Ok(_held) = self.lock()
            && holds_no_more(&draft, session)
        {
            self.medium.remove(&draft).ok();
        }
        Ok(())
    }

    /// Keeps an unsigned session of which another window may keep its own version under the same
    /// name, and answers what is kept: both together, see [`merge`].
    ///
    /// `base` is what this window last kept or found under that name.
    ///
    /// # Errors
    ///
    /// As [`Self::save_draft`].
    pub fn merge_draft(&self, base: Option<&Draft>, draft: &Draft) -> Result<Draft, StoreError> {
        self.may_write()?;
        let _held = self.lock()?;
        let target = paths::draft(self.root, &draft.shear, &draft.id);
        let there = load(&target, wire::session).ok().map(|(there, _text)| there);
        if there.is_none() {
            self.keep_unread(&target)?;
        }
        let kept = match &there {
            Some(there) if Some(there) != base => merge(base, there, draft),
            _ => draft.clone(),
        };
        // Two windows that only look at each other's draft write nothing.
        if there.as_ref() != Some(&kept) {
            self.save_draft(&kept)?;
        }
        Ok(kept)
    }

    /// Keeps what stands in a draft that cannot be read beside it, as `….unread`: a person may still
    /// make out the readings in it. The first such copy stays, since what follows was written here.
    fn keep_unread(&self, draft: &Path) -> Result<(), StoreError> {
        let beside = draft.with_extension("unread");
        let (Ok(bytes), Some(folder)) = (fs::read(draft), draft.parent()) else { return Ok(()) };
        let refused = |source| StoreError::Disk { path: beside.clone(), source };
        let staged = self.medium.stage(folder, &bytes).map_err(refused)?;
        let published = self.medium.publish(staged, &beside);
        let there = |err: &io::Error| err.kind() == io::ErrorKind::AlreadyExists;
        published.or_else(|err| if there(&err) { Ok(()) } else { Err(refused(err)) })
    }

    /// Keeps an unsigned session, in place of what was kept under its name before.
    ///
    /// # Errors
    ///
    /// Whatever kept it from being written; then the former draft is still there.
    pub fn save_draft(&self, draft: &Draft) -> Result<(), StoreError> {
        self.may_write()?;
        let target = paths::draft(self.root, &draft.shear, &draft.id);
        let text = sure(&target, draft, wire::session_text, wire::session)?;
        self.replace(&target, &paths::drafts(self.root, &draft.shear), &text)
    }

    /// Forgets an unsigned session, unless another window has confirmed more in it by now.
    ///
    /// # Errors
    ///
    /// Whatever kept its file from being removed.
    pub fn discard_draft(&self, draft: &Draft) -> Result<(), StoreError> {
        self.may_write()?;
        let _held = self.lock()?;
        let path = paths::draft(self.root, &draft.shear, &draft.id);
        if !holds_no_more(&path, draft) {
            return Ok(());
        }
        match self.medium.remove(&path) {
            Err(err) if err.kind() == io::ErrorKind::NotFound => Ok(()),
            Err(source) => Err(StoreError::Disk { path, source }),
            Ok(()) => self.confirm(&path, &paths::drafts(self.root, &draft.shear)),
        }
    }

    /// Keeps a machine's description, whatever stands there.
    ///
    /// # Errors
    ///
    /// [`StoreError::WouldLose`] if the description there now cannot be read; else whatever kept
    /// it from being written.
    pub fn save_shear(&self, shear: &Shear) -> Result<(), StoreError> {
        self.may_write()?;
        let _held = self.lock()?;
        self.put_shear(shear)
    }

    /// Keeps a machine's description in place of `base`, the one it was made from; `None` for a new
    /// machine. Answers what stands there if that is another one: then nothing is written.
    ///
    /// # Errors
    ///
    /// As [`Self::save_shear`].
    pub fn save_shear_over(
        &self,
        base: Option<&Shear>,
        shear: &Shear,
    ) -> Result<Option<Shear>, StoreError> {
        self.may_write()?;
        let _held = self.lock()?;
        let target = paths::shear(self.root, &shear.id);
        let there = load(&target, |text| wire::shear(text, shear.id.clone())).ok();
        match there.map(|(there, _text)| there) {
            Some(there) if Some(&there) != base && there != *shear => Ok(Some(there)),
            _ => self.put_shear(shear).map(|()| None),
        }
    }

    fn put_shear(&self, shear: &Shear) -> Result<(), StoreError> {
        let target = paths::shear(self.root, &shear.id);
        let read = |text: &str| wire::shear(text, shear.id.clone());
        let text = sure(&target, shear, wire::shear_text, read)?;
        keeps_readable(&target, read)?;
        let shears = paths::shears(self.root);
        let folder = shears.join(shear.id.as_str());
        if folder.exists() {
            backup::keep(self.medium, &target, &text)?;
            return self.replace(&target, &folder, &text);
        }
        // A new machine is made under a name that nobody reads, and is there with its description
        // or not at all. What an ended program left under that name is written over.
        let hidden = shears.join(format!(".{}", shear.id));
        self.replace(&hidden.join(paths::SHEAR), &hidden, &text)?;
        let refused = |source| StoreError::Disk { path: target.clone(), source };
        self.medium.move_dir(&hidden, &folder).map_err(refused)?;
        self.confirm(&target, &shears)
    }

    /// Keeps what belongs to the yard as a whole in place of `base`, which it was made from. Answers
    /// what stands there if that is something else: then nothing is written.
    ///
    /// # Errors
    ///
    /// As [`Self::save_settings`].
    pub fn save_settings_over(
        &self,
        base: &Settings,
        settings: &Settings,
    ) -> Result<Option<Settings>, StoreError> {
        self.may_write()?;
        let _held = self.lock()?;
        let there = load(&paths::settings(self.root), wire::settings).ok();
        match there.map(|(there, _text)| there) {
            Some(there) if there != *base && there != *settings => Ok(Some(there)),
            _ => self.put_settings(settings).map(|()| None),
        }
    }

    /// Keeps what belongs to the yard as a whole, whatever stands there.
    ///
    /// # Errors
    ///
    /// [`StoreError::WouldLose`] if `yard.ron` cannot be read now; else whatever kept it from
    /// being written.
    pub fn save_settings(&self, settings: &Settings) -> Result<(), StoreError> {
        self.may_write()?;
        let _held = self.lock()?;
        self.put_settings(settings)
    }

    fn put_settings(&self, settings: &Settings) -> Result<(), StoreError> {
        let target = paths::settings(self.root);
        let text = sure(&target, settings, wire::settings_text, wire::settings)?;
        keeps_readable(&target, wire::settings)?;
        backup::keep(self.medium, &target, &text)?;
        self.replace(&target, self.root, &text)
    }

    /// Changes nothing but the crew's scatter in what belongs to the yard as a whole, and answers
    /// with all of it as it now stands.
    ///
    /// # Errors
    ///
    /// As [`Writer::save_settings`].
    pub fn save_repeatability(&self, scatter: Repeatability) -> Result<Settings, StoreError> {
        self.may_write()?;
        let _held = self.lock()?;
        // Another window may have changed something else since this one read it.
        let target = paths::settings(self.root);
        let (mut settings, _) = load(&target, wire::settings).map_err(StoreError::WouldLose)?;
        settings.repeatability = Some(scatter);
        self.put_settings(&settings)?;
        Ok(settings)
    }

    /// Keeps a gauge study as the table it is, in place of what was kept under its name before.
    ///
    /// # Errors
    ///
    /// Whatever kept it from being written; then the former table is still there.
    pub fn save_study(&self, name: &SessionId, table: &str) -> Result<(), StoreError> {
        self.may_write()?;
        self.replace(&paths::study(self.root, name), &paths::studies(self.root), table)
    }

    /// Puts a picture into the yard's folder of pictures, in place of one with its name.
    ///
    /// # Errors
    ///
    /// Whatever kept it from being written.
    pub fn save_picture(&self, name: &str, png: &[u8]) -> Result<(), StoreError> {
        self.may_write()?;
        let folder = paths::pictures(self.root);
        replace(self.medium, &folder.join(name), &folder, png)
    }

    /// Puts a job sheet into the yard's folder of sheets, in place of one with its name, and answers
    /// where it is.
    ///
    /// # Errors
    ///
    /// Whatever kept it from being written.
    pub fn save_sheet(&self, name: &str, pdf: &[u8]) -> Result<PathBuf, StoreError> {
        self.may_write()?;
        let folder = paths::sheets(self.root);
        let path = folder.join(name);
        replace(self.medium, &path, &folder, pdf)?;
        Ok(path)
    }

    /// Puts a table for other programs into the yard's folder of tables, in place of one with its
    /// name.
    ///
    /// # Errors
    ///
    /// Whatever kept it from being written.
    pub fn save_table(&self, name: &str, csv: &str) -> Result<(), StoreError> {
        self.may_write()?;
        let folder = paths::tables(self.root);
        replace(self.medium, &folder.join(name), &folder, csv.as_bytes())
    }

    /// Makes a new yard in `root`, with every machine and session.
    ///
    /// # Errors
    ///
    /// [`StoreError::YardThere`] if there is one; else whatever kept it from being written.
    pub fn create_yard(&self, yard: &Yard) -> Result<(), StoreError> {
        let mut files = Vec::new();
        let path = paths::settings(self.root);
        let text = sure(&path, &yard.settings, wire::settings_text, wire::settings)?;
        files.push((path, text));
        for machine in &yard.machines {
            let shear = &machine.shear;
            let path = paths::shear(self.root, &shear.id);
            let read = |text: &str| wire::shear(text, shear.id.clone());
            let text = sure(&path, shear, wire::shear_text, read)?;
            files.push((path, text));
            for session in &machine.sessions {
                let path = paths::session(self.root, session);
                let text = sure(&path, session, wire::signed_text, wire::session)?;
                files.push((path, text));
            }
        }
        self.create_all(files.iter().map(|(path, text)| (path.clone(), text.as_bytes())))
    }

    /// Makes a new yard in `root` from its files, such as those of a yard inside the program.
    ///
    /// # Errors
    ///
    /// [`StoreError::YardThere`] if there is one; else whatever kept it from being written.
    pub fn unpack<'f>(
        &self,
        files: impl IntoIterator<Item = (&'f Path, &'f [u8])>,
    ) -> Result<(), StoreError> {
        let mut placed = Vec::new();
        for (path, bytes) in files {
            if !path.components().all(|part| matches!(part, Component::Normal(_))) {
                let what = "this path leads out of the yard";
                return Err(StoreError::Unusable(FileIssue::of(path, what, "remove it")));
            }
            placed.push((self.root.join(path), bytes));
        }
        self.create_all(placed)
    }

    /// Writes `yard.ron` last: without it the folder is no yard, and making it can start again.
    fn create_all<'f>(
        &self,
        files: impl IntoIterator<Item = (PathBuf, &'f [u8])>,
    ) -> Result<(), StoreError> {
        let crown = paths::settings(self.root);
        if crown.exists() {
            return Err(StoreError::YardThere(self.root.to_owned()));
        }
        let (last, first): (Vec<_>, Vec<_>) =
            files.into_iter().partition(|(path, _)| *path == crown);
        let mut folders = BTreeSet::new();
        for (path, bytes) in &first {
            let folder = path.parent().unwrap_or(self.root);
            folders.insert(folder);
            self.create(path, folder, bytes, || fs::read(path).is_ok_and(|there| there == *bytes))
                .map_err(|err| self.as_yard_there(err))?;
        }
        for folder in folders {
            self.confirm(folder, folder)?;
        }
        for (path, bytes) in &last {
            self.create(path, self.root, bytes, || false).map_err(|err| self.as_yard_there(err))?;
        }
        self.confirm(&crown, self.root)
    }

    fn as_yard_there(&self, err: StoreError) -> StoreError {
        match err {
            StoreError::AlreadySigned(_) => StoreError::YardThere(self.root.to_owned()),
            other => other,
        }
    }

    /// Puts a new file where there is none. One that is there already is fine if it `is_the_same`.
    fn create(
        &self,
        target: &Path,
        folder: &Path,
        bytes: &[u8],
        is_the_same: impl FnOnce() -> bool,
    ) -> Result<(), StoreError> {
        let refused = |source| StoreError::Disk { path: target.to_owned(), source };
        self.medium.create_dirs(folder).map_err(refused)?;
        let staged = self.medium.stage(folder, bytes).map_err(refused)?;
        match self.medium.publish(staged, target) {
            Err(err) if err.kind() == io::ErrorKind::AlreadyExists => is_the_same()
                .then_some(())
                .ok_or_else(|| StoreError::AlreadySigned(target.to_owned())),
            other => other.map_err(refused),
        }
    }

    /// Keeps other windows and programs from writing what is not written once. They are quick, so
    /// this waits for them a moment.
    fn lock(&self) -> Result<Lock, StoreError> {
        let path = paths::lock(self.root);
        for _ in 0..LOCK_TRIES {
            let lock = self.medium.lock(&path);
            match lock.map_err(|source| StoreError::Disk { path: path.clone(), source })? {
                Some(lock) => return Ok(lock),
                None => thread::sleep(LOCK_PAUSE),
            }
        }
        Err(StoreError::BeingWritten(self.root.to_owned()))
    }

    fn replace(&self, target: &Path, folder: &Path, text: &str) -> Result<(), StoreError> {
        replace(self.medium, target, folder, text.as_bytes())
    }

    fn confirm(&self, target: &Path, folder: &Path) -> Result<(), StoreError> {
        confirm(self.medium, target, folder)
    }

    /// Nothing is written where there is no yard any more, such as on a drive that was pulled, nor
    /// to a yard that a newer program made.
    fn may_write(&self) -> Result<(), StoreError> {
        let path = paths::settings(self.root);
        if let Err(source) = fs::metadata(&path) {
            return Err(StoreError::Disk { path: self.root.to_owned(), source });
        }
        // A broken yard.ron is named when the yard is opened and does not keep sessions out.
        let format = text::read(&path).ok().and_then(|text| wire::format(&text).ok());
        match format {
            Some(format) if FORMAT < format => {
                Err(StoreError::ReadOnly(FileIssue::newer(&path, format)))
            }
            _ => Ok(()),
        }
    }
}

/// Whether a draft on the disk may go because `known` holds all of it. Another window may have
/// measured on; one that cannot be read holds nothing to go on from.
fn holds_no_more(draft: &Path, known: &Session) -> bool {
    load(draft, wire::session).map_or(true, |(there, _text)| keeps_all_of(known, &there))
}

/// Puts a file in place of the one there is.
fn replace(
    medium: &impl Medium,
    target: &Path,
    folder: &Path,
    bytes: &[u8],
) -> Result<(), StoreError> {
    let refused = |source| StoreError::Disk { path: target.to_owned(), source };
    medium.create_dirs(folder).map_err(refused)?;
    let staged = medium.stage(folder, bytes).map_err(refused)?;
    medium.replace(staged, target).map_err(refused)?;
    confirm(medium, target, folder)
}

fn confirm(medium: &impl Medium, target: &Path, folder: &Path) -> Result<(), StoreError> {
    let path = target.to_owned();
    medium.sync_dir(folder).map_err(|source| StoreError::Unconfirmed { path, source })
}

/// Writes a file that is no part of a yard, in place of one that is there.
///
/// # Errors
///
/// [`StoreError::Disk`] if it was not written, [`StoreError::Unconfirmed`] if the disk did not
/// confirm it.
pub fn put_file(medium: &impl Medium, path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    replace(medium, path, folder.unwrap_or(Path::new(".")), bytes)
}

/// The text of a value, if reading it gives the value back.
fn sure<T: PartialEq>(
    target: &Path,
    value: &T,
    write: impl FnOnce(&T) -> Result<String, Fault>,
    read: impl FnOnce(&str) -> Result<T, Unread>,
) -> Result<String, StoreError> {
    let doubt = |fault: Fault| StoreError::WontReadBack(fault.of(target));
    let text = write(value).map_err(doubt)?;
    match read(&text) {
        Ok(again) if again == *value => Ok(text),
        Err(Unread::Faulty(fault)) => Err(doubt(fault)),
        Ok(_) | Err(Unread::Newer(_)) => {
            Err(doubt(Fault::new("a value does not survive writing", "enter it again")))
        }
    }
}

/// Refuses to replace a file that a person may still mend.
fn keeps_readable<T>(
    target: &Path,
    read: impl FnOnce(&str) -> Result<T, Unread>,
) -> Result<(), StoreError> {
    if matches!(target.try_exists(), Ok(false)) {
        return Ok(());
    }
    load(target, read).map(|_readable| ()).map_err(StoreError::WouldLose)
}
