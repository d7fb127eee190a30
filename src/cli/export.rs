//! A yard as tables for other programs.
//!
//! Knows which file goes where. What stands in the tables is `exchange`'s business.

use crate::{
    cli::{
        Exit, ExportArgs, WrongData, open_or_sample,
        out::{say, told},
    },
    domain::yard::Yard,
    exchange::visits::{readings_table, work_table},
    store,
};
use anyhow::Result;
use std::path::{Path, PathBuf};

/// Writes what was asked for and says where it is.
pub(crate) fn export(args: &ExportArgs) -> Result<Exit> {
    let (opened, _) = open_or_sample(args.yard.as_deref())?;
    if let Some(to) = &args.csv {
        csv(&opened.yard, to)?;
    }
    Ok(told(&opened.issues))
}

fn csv(yard: &Yard, to: &Path) -> Result<()> {
    let (readings, work) = files(to);
    for (path, table, what) in
        [(readings, readings_table(yard), "readings"), (work, work_table(yard), "pieces of work")]
    {
        store::put_file(&path, table.as_bytes())
            .map_err(|err| WrongData(err.into_issue().to_string()))?;
        let rows = count(yard, what);
        say(format_args!("Wrote {} with {rows} {what}.", path.display()))?;
    }
    Ok(())
}

fn count(yard: &Yard, what: &str) -> usize {
    let sessions = yard.machines.iter().flat_map(|machine| &machine.history.sessions);
    sessions.map(|it| if what == "readings" { it.readings.len() } else { it.work.len() }).sum()
}

/// The two tables: in a folder, or beside each other where a file was named.
fn files(to: &Path) -> (PathBuf, PathBuf) {
    let is_file = to.extension().is_some_and(|end| end.eq_ignore_ascii_case("csv"));
    if !is_file || to.is_dir() {
        return (to.join("readings.csv"), to.join("work.csv"));
    }
    let stem = to.file_stem().unwrap_or_default().to_string_lossy();
    (to.to_owned(), to.with_file_name(format!("{stem}-work.csv")))
}
