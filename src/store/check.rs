//! Naming everything in a yard that cannot be right, as far as files alone can tell.
//!
//! Opens the yard and then looks across its files: meters, edges, packs. Never writes.

use crate::{
    domain::log::{Impossible, impossible},
    store::{
        issue::FileIssue,
        open::{Opened, open},
        paths,
        text::{self, Fault},
    },
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
        for (id, wrong) in impossible(&machine.shear, &machine.history.sessions) {
            let Some(session) = machine.sessions.iter().find(|it| it.id == id) else { continue };
            let path = paths::session(root, session);
            let text = text::read(&path).unwrap_or_default();
            issues.push(told(&wrong, &text).of(&path));
        }
    }
    issues
}

/// What cannot be, in words, placed in the text of its session.
fn told(wrong: &Impossible, text: &str) -> Fault {
    let next = "compare with the machine, and sign a correction";
    match wrong {
        Impossible::Edge { blade, edge, edges } => {
            let has = if *edges == 1 { "one edge".to_owned() } else { format!("{edges} edges") };
            let what = format!("“{blade}” was turned to edge {edge}, and it has {has}");
            Fault::new(what, next).at(text, &format!("edge: {edge}"))
        }
        Impossible::NotInPack { blade, shim } => {
            let what = format!(
                "a shim of {} mm came out from behind “{blade}”, and none was there",
                shim.mm()
            );
            Fault::new(what, next).at(text, "take_out_mm")
        }
        Impossible::Bolt { blade, bolt, bolts } => {
            let what = format!("shims reach bolt {bolt} of “{blade}”, and it has {bolts}");
            Fault::new(what, next).at(text, &format!("last: {bolt}"))
        }
    }
}
