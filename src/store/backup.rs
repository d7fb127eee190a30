//! Earlier versions of what is not written once: `yard.ron` and each `shear.ron`.
//!
//! Knows numbers and order: `backups/yard-0007.ron` is what stood there before the seventh edit, and
//! the last ten are kept. Whoever wants one back copies it over by hand; the program says where it
//! is and never does so by itself.

use crate::store::{issue::StoreError, medium::Medium, paths};
use std::{
    fs,
    path::{Path, PathBuf},
};

/// How many earlier versions are kept of each file.
const KEPT: usize = 10;

/// Keeps what stands in `target` now, unless it says what will stand there.
pub(crate) fn keep(medium: &impl Medium, target: &Path, new: &str) -> Result<(), StoreError> {
    let Ok(now) = fs::read(target) else { return Ok(()) };
    if now == new.as_bytes() {
        return Ok(());
    }
    let folder = paths::backups(target);
    let known = numbered(target);
    let number = known.last().map_or(1, |(number, _)| number + 1);
    let refused = |source| StoreError::Disk { path: target.to_owned(), source };
    medium.create_dirs(&folder).map_err(refused)?;
    let staged = medium.stage(&folder, &now).map_err(refused)?;
    let name = format!("{}-{number:04}.{}", stem(target), paths::ENDING);
    medium.replace(staged, &folder.join(name)).map_err(refused)?;
    medium.sync_dir(&folder).map_err(refused)?;
    for (_, old) in known.iter().take((known.len() + 1).saturating_sub(KEPT)) {
        // One too many does no harm, and the next edit tries again.
        medium.remove(old).ok();
    }
    Ok(())
}

/// The newest earlier version of a file.
pub(crate) fn newest(target: &Path) -> Option<PathBuf> {
    numbered(target).pop().map(|(_, path)| path)
}

fn stem(target: &Path) -> String {
    target.file_stem().unwrap_or_default().to_string_lossy().into_owned()
}

/// Earlier versions with their numbers, oldest first.
fn numbered(target: &Path) -> Vec<(u32, PathBuf)> {
    let stem = stem(target);
    let entries = fs::read_dir(paths::backups(target)).into_iter().flatten().flatten();
    let mut found: Vec<(u32, PathBuf)> = entries
        .filter_map(|entry| {
            let path = entry.path();
            let name = path.file_stem()?.to_str()?.strip_prefix(&stem)?.strip_prefix('-')?;
            let ours = path.extension().is_some_and(|it| it == paths::ENDING);
            Some((name.parse().ok().filter(|_| ours)?, path))
        })
        .collect();
    found.sort();
    found
}
