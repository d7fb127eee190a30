//! Finding the yard: the folder that was named, or a copy of the sample yard.

use crate::{
    cli::WrongData,
    domain::{
        decide::CauseTable,
        machine::ShearId,
        yard::{Machine, Yard},
    },
    sample,
    store::{self, Opened},
};
use anyhow::{Context as _, Result};
use directories::ProjectDirs;
use std::path::{Path, PathBuf};

/// Where the working copy of the sample yard lives.
///
/// # Errors
///
/// [`WrongData`] if this system names no folder for a user's data.
pub fn sample_home() -> Result<PathBuf, WrongData> {
    ProjectDirs::from("", "", "gapwright")
        .map(|dirs| dirs.data_dir().join("sample-yard"))
        .ok_or_else(|| {
            WrongData(
                "This system names no folder for your data. Set HOME, or name a yard's folder."
                    .to_owned(),
            )
        })
}

/// Where a window keeps what it last told of a yard; `None` if this system names no such folder.
pub fn cache_folder() -> Option<PathBuf> {
    ProjectDirs::from("", "", "gapwright").map(|dirs| dirs.cache_dir().to_owned())
}

/// Where a window keeps how it looks; `None` if this system names no such folder.
pub fn config_folder() -> Option<PathBuf> {
    ProjectDirs::from("", "", "gapwright").map(|dirs| dirs.config_dir().to_owned())
}

/// The folder `path`, or that of a copy of the sample yard, made on first use.
///
/// # Errors
///
/// If the copy cannot be made.
pub fn find_yard(path: Option<&Path>) -> Result<PathBuf> {
    path.map_or_else(sample_copy, |path| Ok(path.to_owned()))
}

/// Opens the yard in `path`, or a copy of the sample yard, made on first use.
///
/// The originals are inside the program and are never written to. Answers the folder as well.
///
/// # Errors
///
/// If the folder holds no yard, or the copy cannot be made.
pub fn open_or_sample(path: Option<&Path>) -> Result<(Opened, PathBuf)> {
    let root = find_yard(path)?;
    let opened = store::open(&root).map_err(|err| WrongData(err.into_issue().to_string()))?;
    Ok((opened, root))
}

fn sample_copy() -> Result<PathBuf> {
    let home = sample_home()?;
    if !home.join("yard.ron").exists() {
        store::unpack(&home, sample::files())
            .map_err(|err| WrongData(err.into_issue().to_string()))
            .with_context(|| "the sample yard could not be copied to your data folder")?;
    }
    Ok(home)
}

/// The yard's own table of causes, or the program's.
pub(crate) fn cause_table(opened: &Opened) -> Result<CauseTable, WrongData> {
    if let Some(table) = &opened.causes {
        return Ok(table.clone());
    }
    let (path, text) = sample::causes();
    store::causes(path, text).map_err(|issue| WrongData(issue.to_string()))
}

/// The machine in this folder of the yard.
pub(crate) fn machine_named<'a>(yard: &'a Yard, name: &str) -> Result<&'a Machine, WrongData> {
    let found = ShearId::new(name).and_then(|id| yard.machine(&id));
    found.ok_or_else(|| {
        let known: Vec<&str> = yard.machines.iter().map(|it| it.shear.id.as_str()).collect();
        if known.is_empty() {
            return WrongData(format!(
                "No machine “{name}”: this yard has none yet. Add a folder under shears/."
            ));
        }
        WrongData(format!("No machine “{name}” in this yard; it has {}.", known.join(", ")))
    })
}
