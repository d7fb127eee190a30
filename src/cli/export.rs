//! A yard as tables for other programs.
//!
//! Knows which file goes where. What stands in the tables is `exchange`'s business.

use crate::{
    cli::{
        Exit, ExportArgs, WrongData, open_or_sample,
        out::{Count, say, told},
    },
    domain::{log::SessionId, machine::ShearId, yard::Yard},
    exchange::{
        fleet::parts,
        visits::{findings_table, marks_table, readings_table, work_table},
    },
    store::{self, StoreError, ledger::Ledger, medium::Disk},
};
use anyhow::Result;
use std::path::{Path, PathBuf};

/// Writes what was asked for and says where it is.
pub(crate) fn export(args: &ExportArgs) -> Result<Exit> {
    let (opened, _) = open_or_sample(args.yard.as_deref())?;
    if let Some(to) = &args.csv {
        csv(&opened.yard, to)?;
    }
    if let Some(to) = &args.parquet {
        parquet(&opened.yard, to)?;
    }
    Ok(told(&opened.issues))
}

/// Adds what is new to the fleet's folder.
fn parquet(yard: &Yard, to: &Path) -> Result<()> {
    let wrong = |err: StoreError| WrongData(err.into_issue().to_string());
    let ledger = Ledger::open(&Disk, to, &yard.settings.name).map_err(wrong)?;
    let new: Vec<String> = yard
        .machines
        .iter()
        .flat_map(|machine| &machine.sessions)
        .map(|session| name(&session.shear, &session.id))
        .filter(|name| !ledger.has(name))
        .collect();
    if new.is_empty() {
        return say(format_args!("{} has every visit of this yard already.", to.display()));
    }
    let mut count = Count::to(yard.machines.len(), "Machines laid out");
    let mut files: Vec<(PathBuf, Vec<u8>)> = Vec::new();
    for machine in &yard.machines {
        let id = &machine.shear.id;
        let parts = parts(&yard.settings.name, machine, |it| !ledger.has(&name(id, it)))?;
        files.extend(parts.into_iter().map(|part| (PathBuf::from(part.folder), part.bytes)));
        count.step();
    }
    drop(count);
    ledger.keep(&Disk, &files, &new).map_err(wrong)?;
    say(format_args!("Added {} visits in {} files to {}.", new.len(), files.len(), to.display()))
}

fn name(shear: &ShearId, session: &SessionId) -> String {
    format!("{shear}/{session}")
}

fn csv(yard: &Yard, to: &Path) -> Result<()> {
    let machines = &yard.machines;
    let sessions = || machines.iter().flat_map(|machine| &machine.history.sessions);
    let tables = [
        (
            "readings",
            readings_table(machines),
            sessions().map(|it| it.readings.len()).sum::<usize>(),
        ),
        ("work", work_table(machines), sessions().map(|it| it.work.len()).sum()),
        ("marks", marks_table(machines), sessions().map(|it| it.marks.len()).sum()),
        ("findings", findings_table(machines), sessions().map(|it| it.findings.len()).sum()),
    ];
    for (name, table, rows) in tables {
        let path = file(to, name);
        store::put_file(&path, table.as_bytes())
            .map_err(|err| WrongData(err.into_issue().to_string()))?;
        let what = match name {
            "work" => "pieces of work",
            "marks" => "wear marks",
            name => name,
        };
        say(format_args!("Wrote {} with {rows} {what}.", path.display()))?;
    }
    Ok(())
}

/// Where a table goes: into a folder, or beside the others where a file was named for the readings.
fn file(to: &Path, name: &str) -> PathBuf {
    let is_file = to.extension().is_some_and(|end| end.eq_ignore_ascii_case("csv"));
    if !is_file || to.is_dir() {
        return to.join(format!("{name}.csv"));
    }
    if name == "readings" {
        return to.to_owned();
    }
    let stem = to.file_stem().unwrap_or_default().to_string_lossy();
    to.with_file_name(format!("{stem}-{name}.csv"))
}
