//! The yard on disk.
//!
//! Knows folders, files, formats and the order of writes that survives a crash. Refuses to know
//! what a reading means, and never repairs anything: what cannot be read is named and left alone.
//!
//! # The files
//!
//! ```text
//! my-yard/
//!   yard.ron                                         leaves, shelf, intervals, tolerance table, unit
//!   shears/heron/shear.ron                           geometry, lines, blades, limits, chains
//!   shears/heron/sessions/2026-03-14T0705Z-7f3a.ron  one signed visit, written once
//!   shears/heron/drafts/2026-03-15T0640Z-7f3a.ron    one unsigned visit, rewritten as it grows
//!   studies/2026-03-16T0710Z-7f3a.csv                a crew's check of its own measuring
//!   causes.ron                                       what may lie behind trouble, if not as in the program
//!   backups/yard-0003.ron                            yard.ron before its third edit
//! ```
//!
//! Every file but a study is RON text that a person can read, copy, compare and mend. Its first field is
//! `format`, now 1. Every quantity's name ends in its unit (`gap_mm`, `blade_temp_c`, `meter_h`,
//! `torque_nm`), files are always metric, times are RFC 3339 in UTC. Fields that say nothing are
//! left out and read as empty. Unknown fields, NaN, infinities and sizes no machine has are
//! refused with file, line and column. An older format is read and not rewritten; a newer one is
//! named and left as it is.
//!
//! What is true now is folded from the sessions and stored nowhere. A correction is a new session
//! that names the one it `amends`. So nothing signed is ever edited, no two tablets write one
//! file, and yards merge by copying files.
//!
//! # Why a crash is harmless
//!
//! 1. New bytes go to a hidden temporary file in the same folder and are synced to the disk. Until
//!    then nothing that is read has changed.
//! 2. A rename gives the file its name. A rename is all or nothing: a reader finds the old state or
//!    the new one. A session is renamed only where no file is; a draft, a description and
//!    `yard.ron` replace the one before.
//! 3. The folder is synced, so that the name survives a power cut. Only then is success reported.
//! 4. A draft is removed after its session is signed. A crash in between leaves both; they have one
//!    name, and the draft is passed over.
//! 5. A new yard gets its `yard.ron` last; without it the folder is no yard.
//!
//! `tests/it/crash.rs` lets each operation in turn fail and finds the old state or the new one.
//! Every text is read back before it is written, so what was confirmed can be opened again.

mod backup;
mod check;
mod find;
mod fit;
mod issue;
pub mod ledger;
mod look;
mod many;
pub mod medium;
mod open;
mod overview;
mod paths;
mod progress;
mod refusal;
mod save;
mod seal;
mod text;
mod watch;
mod wire;

pub use check::check;
pub use issue::{FileIssue, StoreError};
pub use look::{Colours, Contrast, Look, Motion, Speech};
pub(crate) use many::on_each;
pub use open::{
    Opened, causes, described, lesson, open, open_with, read_problem, settings_of_text,
    settings_text, shear_of_text, shear_text,
};
pub use overview::{KeptLine, KeptRow, Stamps};
pub use progress::Progress;
pub use save::{Writer, put_file as put_file_on};
pub use watch::{Arrived, Watch};

use crate::{
    domain::{
        gauge::Repeatability,
        log::{Session, SessionId},
        machine::Shear,
        yard::{Settings, Yard},
    },
    store::medium::Disk,
};

use std::path::{Path, PathBuf};

/// A session that nobody has signed yet. Only its folder tells it from a signed one.
pub type Draft = Session;

/// Keeps a signed session for good and removes its draft: [`Writer::sign`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn sign(root: &Path, session: &Session) -> Result<(), StoreError> {
    Writer::new(&Disk, root).sign(session)
}

/// Keeps an unsigned session: [`Writer::save_draft`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_draft(root: &Path, draft: &Draft) -> Result<(), StoreError> {
    Writer::new(&Disk, root).save_draft(draft)
}

/// Keeps an unsigned session together with another window's version: [`Writer::merge_draft`] on the
/// real disk.
///
/// # Errors
///
/// As there.
pub fn merge_draft(root: &Path, base: Option<&Draft>, draft: &Draft) -> Result<Draft, StoreError> {
    Writer::new(&Disk, root).merge_draft(base, draft)
}

/// Forgets an unsigned session: [`Writer::discard_draft`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn discard_draft(root: &Path, draft: &Draft) -> Result<(), StoreError> {
    Writer::new(&Disk, root).discard_draft(draft)
}

/// Keeps a machine's description: [`Writer::save_shear`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_shear(root: &Path, shear: &Shear) -> Result<(), StoreError> {
    Writer::new(&Disk, root).save_shear(shear)
}

/// Keeps a machine's description in place of the one it was made from: [`Writer::save_shear_over`]
/// on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_shear_over(
    root: &Path,
    base: Option<&Shear>,
    shear: &Shear,
) -> Result<Option<Shear>, StoreError> {
    Writer::new(&Disk, root).save_shear_over(base, shear)
}

/// Keeps what belongs to the yard as a whole in place of what it was made from:
/// [`Writer::save_settings_over`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_settings_over(
    root: &Path,
    base: &Settings,
    settings: &Settings,
) -> Result<Option<Settings>, StoreError> {
    Writer::new(&Disk, root).save_settings_over(base, settings)
}

/// Keeps what belongs to the yard as a whole: [`Writer::save_settings`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_settings(root: &Path, settings: &Settings) -> Result<(), StoreError> {
    Writer::new(&Disk, root).save_settings(settings)
}

/// Changes nothing but the crew's scatter: [`Writer::save_repeatability`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_repeatability(root: &Path, scatter: Repeatability) -> Result<Settings, StoreError> {
    Writer::new(&Disk, root).save_repeatability(scatter)
}

/// Keeps a gauge study: [`Writer::save_study`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_study(root: &Path, name: &SessionId, table: &str) -> Result<(), StoreError> {
    Writer::new(&Disk, root).save_study(name, table)
}

/// The gauge studies kept in a yard, newest first.
///
/// What cannot be listed is not there: a study that nobody can go on with is made anew.
pub fn kept_studies(root: &Path) -> Vec<(SessionId, PathBuf)> {
    let entries = std::fs::read_dir(paths::studies(root)).into_iter().flatten().flatten();
    let mut found: Vec<(SessionId, PathBuf)> = entries
        .map(|entry| entry.path())
        .filter_map(|path| Some((paths::study_name(&path)?, path)))
        .collect();
    found.sort_by(|a, b| b.cmp(a));
    found
}

/// Keeps a picture of the screen: [`Writer::save_picture`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_picture(root: &Path, name: &str, png: &[u8]) -> Result<(), StoreError> {
    Writer::new(&Disk, root).save_picture(name, png)
}

/// Keeps a job sheet and answers where: [`Writer::save_sheet`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_sheet(root: &Path, name: &str, pdf: &[u8]) -> Result<PathBuf, StoreError> {
    Writer::new(&Disk, root).save_sheet(name, pdf)
}

/// Keeps a table for other programs: [`Writer::save_table`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn save_table(root: &Path, name: &str, csv: &str) -> Result<(), StoreError> {
    Writer::new(&Disk, root).save_table(name, csv)
}

/// Makes a new yard with everything in it: [`Writer::create_yard`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn create_yard(root: &Path, yard: &Yard) -> Result<(), StoreError> {
    Writer::new(&Disk, root).create_yard(yard)
}

/// Makes a new yard from its files: [`Writer::unpack`] on the real disk.
///
/// # Errors
///
/// As there.
pub fn unpack<'f>(
    root: &Path,
    files: impl IntoIterator<Item = (&'f Path, &'f [u8])>,
) -> Result<(), StoreError> {
    Writer::new(&Disk, root).unpack(files)
}

/// Writes a file that is no part of a yard, such as an export, in place of one that is there: all
/// of it or nothing.
///
/// # Errors
///
/// [`StoreError::Disk`] and [`StoreError::Unconfirmed`], as when a yard is written.
pub fn put_file(path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    save::put_file(&Disk, path, bytes)
}
