//! Naming everything in a yard that cannot be right, as far as files alone can tell.
//!
//! Opens the yard and then looks across its files: meters, edges, packs. Never writes.

use crate::store::{
    issue::FileIssue,
    open::{Opened, open},
    paths,
};
use std::path::Path;

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
