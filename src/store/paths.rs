//! Where things stand in a yard's folder.
//!
//! Names come in as domain ids, which cannot leave the folder.

use crate::domain::{
    log::{Session, SessionId},
    machine::ShearId,
};
use std::path::{Path, PathBuf};

/// The ending of every file of ours.
pub(crate) const ENDING: &str = "ron";

/// What belongs to the yard as a whole.
pub(crate) fn settings(root: &Path) -> PathBuf {
    root.join("yard.ron")
}

/// The folder of all machines.
pub(crate) fn shears(root: &Path) -> PathBuf {
    root.join("shears")
}

/// Locked while somebody writes what is not written once.
pub(crate) fn lock(root: &Path) -> PathBuf {
    root.join(".gapwright.lock")
}

/// Where earlier versions of a description are kept.
pub(crate) fn backups(target: &Path) -> PathBuf {
    target.with_file_name("backups")
}

/// The folder of the yard's own lessons.
pub(crate) fn lessons(root: &Path) -> PathBuf {
    root.join("lessons")
}

/// The yard's own table of causes.
pub(crate) fn causes(root: &Path) -> PathBuf {
    root.join("causes.ron")
}

/// The folder of tables that an engineer has saved.
pub(crate) fn tables(root: &Path) -> PathBuf {
    root.join("tables")
}

/// The folder of job sheets.
pub(crate) fn sheets(root: &Path) -> PathBuf {
    root.join("sheets")
}

/// The folder of pictures that a trainer has saved.
pub(crate) fn pictures(root: &Path) -> PathBuf {
    root.join("pictures")
}

/// What a machine's description is called in its folder.
pub(crate) const SHEAR: &str = "shear.ron";

/// A machine's description.
pub(crate) fn shear(root: &Path, id: &ShearId) -> PathBuf {
    shears(root).join(id.as_str()).join(SHEAR)
}

/// The folder of a machine's signed sessions.
pub(crate) fn sessions(root: &Path, id: &ShearId) -> PathBuf {
    shears(root).join(id.as_str()).join("sessions")
}

/// The folder of a machine's drafts.
pub(crate) fn drafts(root: &Path, id: &ShearId) -> PathBuf {
    shears(root).join(id.as_str()).join("drafts")
}

/// A signed session.
pub(crate) fn session(root: &Path, session: &Session) -> PathBuf {
    sessions(root, &session.shear).join(file_name(&session.id))
}

/// A draft.
pub(crate) fn draft(root: &Path, shear: &ShearId, id: &SessionId) -> PathBuf {
    drafts(root, shear).join(file_name(id))
}

/// The folder of the crew's gauge studies.
pub(crate) fn studies(root: &Path) -> PathBuf {
    root.join("studies")
}

/// A gauge study, a table that other programs read too.
pub(crate) fn study(root: &Path, name: &SessionId) -> PathBuf {
    studies(root).join(format!("{name}.csv"))
}

/// The name of a gauge study kept at `path`; `None` for a file that is none.
pub(crate) fn study_name(path: &Path) -> Option<SessionId> {
    let is_table = path.extension().is_some_and(|ending| ending == "csv");
    SessionId::parse(path.file_stem().filter(|_| is_table)?.to_str()?)
}

fn file_name(id: &SessionId) -> String {
    format!("{id}.{ENDING}")
}
