//! What stands in a yard's folders, without reading a file.
//!
//! Follows no link inside the yard, and goes only where the yard's files stand. Bounded: a folder
//! that holds more than a yard can is named, and the rest of it is passed over.

use crate::{
    domain::machine::ShearId,
    store::{issue::FileIssue, paths},
};
use std::{
    fs, io,
    path::{Path, PathBuf},
};

/// More files than this in one folder are no log of one machine: a hundred years of ten a day.
const FILES_MOST: usize = 400_000;

/// Whether files or folders are looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// Files of ours, by their ending. A folder of that name is listed too, to be named.
    Files,
    /// Folders.
    Folders,
}

/// What stands in a folder, sorted, without hidden files. A folder that is not there holds nothing.
pub(crate) fn listing(folder: &Path, wanted: Wanted, issues: &mut Vec<FileIssue>) -> Vec<PathBuf> {
    listing_of(FILES_MOST, folder, wanted, issues)
}

fn listing_of(
    most: usize,
    folder: &Path,
    wanted: Wanted,
    issues: &mut Vec<FileIssue>,
) -> Vec<PathBuf> {
    if is_link(folder) {
        issues.push(is_a_link(folder));
        return Vec::new();
    }
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(err) if err.kind() == io::ErrorKind::NotFound => return Vec::new(),
        Err(err) => {
            issues.push(FileIssue::unreadable(folder, &err));
            return Vec::new();
        }
    };
    let mut found = Vec::new();
    for entry in entries {
        let looked = entry.and_then(|entry| Ok((entry.path(), entry.file_type()?)));
        let (path, kind) = match looked {
            Ok(looked) => looked,
            Err(err) => {
                issues.push(FileIssue::unreadable(folder, &err));
                continue;
            }
        };
        let hidden = path.file_name().is_none_or(|name| name.as_encoded_bytes().starts_with(b"."));
        let ours = path.extension().is_some_and(|it| it == paths::ENDING);
        let fits = match wanted {
            Wanted::Files => kind.is_dir() || ours,
            Wanted::Folders => kind.is_dir() || kind.is_symlink(),
        };
        if hidden || !fits {
            continue;
        }
        if kind.is_symlink() {
            issues.push(is_a_link(&path));
            continue;
        }
        if found.len() == most {
            let what = format!("this folder holds more than {most} files");
            issues.push(FileIssue::of(folder, what, "move away what is not this machine's"));
            break;
        }
        found.push(path);
    }
    found.sort();
    found
}

/// The machines of a yard, by what their folders are called. A folder of another name is passed over.
pub(crate) fn machines(root: &Path) -> Vec<ShearId> {
    // Faults in names are said when the yard is opened.
    let unsaid = &mut Vec::new();
    let id = |folder: PathBuf| ShearId::new(&folder.file_name()?.to_string_lossy());
    listing(&paths::shears(root), Wanted::Folders, unsaid).into_iter().filter_map(id).collect()
}

/// Whether a file or folder is none of its own.
pub(crate) fn is_link(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok_and(|about| about.is_symlink())
}

/// A link may lead anywhere, so what it leads to is no part of the yard.
pub(crate) fn is_a_link(path: &Path) -> FileIssue {
    let what = "this is a link, and a yard holds only files of its own";
    FileIssue::of(path, what, "copy what it leads to here, in its place")
}

#[test]
fn a_folder_that_holds_more_than_a_yard_can_is_named_and_the_rest_passed_over() {
    let dir = tempfile::tempdir().unwrap();
    for name in ["a.ron", "b.ron", "c.ron", "d.ron", "notes.txt", ".hidden.ron"] {
        tempfile::Builder::new()
            .prefix(name)
            .rand_bytes(0)
            .tempfile_in(&dir)
            .unwrap()
            .keep()
            .unwrap();
    }
    let found = |most| {
        let mut issues = Vec::new();
        let listed = listing_of(most, dir.path(), Wanted::Files, &mut issues).len();
        (listed, issues.into_iter().map(|it| it.what).collect::<Vec<_>>())
    };
    assert_eq!(found(4), (4, vec![]), "only files of ours count");
    assert_eq!(found(3), (3, vec!["this folder holds more than 3 files".to_owned()]));
}
