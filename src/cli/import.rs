//! Visits out of tables and into a yard.
//!
//! Knows the order: read everything, name everything that is wrong, and only if nothing is, write.
//! Each visit is written once and for good, so an import that was cut short is simply started
//! again.

use crate::{
    cli::{
        Exit, ImportArgs, WrongData, open_or_sample,
        out::{say, told},
    },
    domain::yard::{Settings, Yard},
    exchange::{
        LineIssue, table_bytes,
        visits::{Change, Create, Fate, Plan, Table, Tables, plan},
    },
    store::{self, StoreError},
};
use anyhow::Result;
use std::{
    fmt::Write as _,
    path::{Path, PathBuf},
};

/// Takes the visits of the tables into the yard, or says what would change.
pub(crate) fn import(args: &ImportArgs) -> Result<Exit> {
    let (root, readings) = named(args)?;
    let (work, marks) = (args.work.as_deref(), args.marks.as_deref());
    let beside = |path: Option<&Path>| path.map_or(Some(None), |path| bytes(path).map(Some));
    let (Some(readings_csv), Some(work_csv), Some(marks_csv)) =
        (bytes(readings), beside(work), beside(marks))
    else {
        return Ok(Exit::WrongData);
    };
    let (yard, root, issues, is_new) = yard_to_fill(root, args)?;
    let create = if args.create { Create::WhatIsMissing } else { Create::Nothing };
    let tables = Tables {
        readings: Some(&readings_csv),
        work: work_csv.as_deref(),
        marks: marks_csv.as_deref(),
    };
    let plan = plan(&yard, tables, create);
    if !plan.issues.is_empty() {
        for it in &plan.issues {
            let file = match it.table {
                Table::Readings => Some(readings),
                Table::Work => work,
                Table::Marks => marks,
            };
            complain(file.unwrap_or(readings), &it.issue);
        }
        say("Nothing was imported.")?;
        return Ok(Exit::WrongData);
    }
    if args.dry_run {
        say(table(&yard, &plan)?)?;
        say(format_args!("{} Nothing was written: this was a dry run.", summary(&plan)))?;
        return Ok(told(&issues));
    }
    if is_new {
        store::create_yard(&root, &yard).map_err(wrong)?;
    }
    write(&root, &plan)?;
    say(summary(&plan))?;
    Ok(told(&issues))
}

fn named(args: &ImportArgs) -> Result<(Option<&Path>, &Path)> {
    match (args.paths.as_slice(), &args.yard) {
        ([file], yard) => Ok((yard.as_deref(), file)),
        ([yard, file], None) => Ok((Some(yard), file)),
        _ => Err(WrongData("Name the yard once: either first, or with --yard.".to_owned()).into()),
    }
}

fn wrong(err: StoreError) -> WrongData {
    WrongData(err.into_issue().to_string())
}

/// The yard as it is now; an empty one where there is none and one may be made.
fn yard_to_fill(
    root: Option<&Path>,
    args: &ImportArgs,
) -> Result<(Yard, PathBuf, Vec<store::FileIssue>, bool)> {
    if let Some(root) = root.filter(|root| args.create && !root.join("yard.ron").exists()) {
        let name = root.file_name().map(|name| name.to_string_lossy().into_owned());
        let settings = Settings::usual(name.unwrap_or_default());
        return Ok((Yard { settings, machines: Vec::new() }, root.to_owned(), Vec::new(), true));
    }
    let (opened, root) = open_or_sample(root)?;
    Ok((opened.yard, root, opened.issues, false))
}

fn bytes(path: &Path) -> Option<Vec<u8>> {
    table_bytes(path).map_err(|issue| complain(path, &issue)).ok()
}

#[expect(clippy::print_stderr, reason = "faults must not mix with what was asked for")]
fn complain(file: &Path, issue: &LineIssue) {
    eprintln!("{}:{issue}", file.display());
}

/// What would change, one visit a row.
fn table(yard: &Yard, plan: &Plan) -> Result<String> {
    let mut out = String::new();
    for shear in &plan.machines {
        let what =
            if yard.machine(&shear.id).is_some() { "more stations or blades" } else { "new" };
        writeln!(out, "machine {}: {what}, with wide-open demonstration limits", shear.id)?;
    }
    let wide =
        plan.changes.iter().map(|it| it.session.shear.as_str().len()).max().unwrap_or(0).max(7);
    writeln!(
        out,
        "{:wide$}  {:22}  {:>10}  {:>8}  {:>4}  {:>5}  change",
        "machine", "visit", "meter h", "readings", "work", "marks"
    )?;
    for Change { session, fate } in &plan.changes {
        let fate = match fate {
            Fate::New => "new",
            Fate::There => "there already",
        };
        writeln!(
            out,
            "{:wide$}  {:22}  {:>10}  {:>8}  {:>4}  {:>5}  {fate}",
            session.shear.as_str(),
            session.id.as_str(),
            session.meter.h(),
            session.readings.len(),
            session.work.len(),
            session.marks.len(),
        )?;
    }
    Ok(out)
}

fn summary(plan: &Plan) -> String {
    let new = plan.changes.iter().filter(|it| it.fate == Fate::New).count();
    let visits = if new == 1 { "visit" } else { "visits" };
    format!("{new} new {visits}, {} there already.", plan.changes.len() - new)
}

fn write(root: &Path, plan: &Plan) -> Result<(), WrongData> {
    for shear in &plan.machines {
        store::save_shear(root, shear).map_err(wrong)?;
    }
    let new = plan.changes.iter().filter(|it| it.fate == Fate::New);
    for (written, Change { session, .. }) in new.enumerate() {
        store::sign(root, session).map_err(|err| {
            WrongData(format!(
                "{}; {written} visits before it are imported: import again to go on",
                err.into_issue()
            ))
        })?;
    }
    Ok(())
}
