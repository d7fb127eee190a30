//! Tables in and out of the yard that is open: what is done on the thread of a long job.
//!
//! Knows files and the order: look first, then take in. Each visit is written once and for good, so
//! an import that was stopped is simply started again.

use crate::{
    domain::{log::Session, yard::Yard},
    exchange::{
        self,
        visits::{
            Create, Fate, Plan, Tables, findings_table, marks_table, plan_while, readings_table,
            work_table,
        },
    },
    gui::effects::{Chosen, ask},
    language::{self, tell},
    store::{self, FileIssue, Progress},
};
use std::path::{Path, PathBuf};

/// What a table would change.
#[derive(Clone, Debug)]
pub(crate) struct Looked {
    /// The table.
    pub(crate) file: PathBuf,
    /// What it would change.
    pub(crate) plan: Plan,
}

/// What was taken in before the end, or before somebody stopped it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Taken {
    /// Visits that are signed now.
    pub(crate) sessions: Vec<Session>,
    /// How many were to be.
    pub(crate) of: usize,
    /// What kept the next one from being written.
    pub(crate) fault: Option<FileIssue>,
}

/// The table that was named, or else asked for.
pub(crate) fn chosen_table(named: Option<PathBuf>) -> Chosen {
    let dialog = || rfd::FileDialog::new().add_filter("CSV", &["csv", "txt"]);
    let asked = || ask(|| dialog().set_title(tell!("Import a table of readings")).pick_file());
    named.map_or_else(asked, Chosen::This)
}

/// The folder that was named, or else asked for.
pub(crate) fn chosen_folder(named: Option<PathBuf>) -> Chosen {
    let dialog = || rfd::FileDialog::new().set_title(tell!("Export tables into a folder"));
    named.map_or_else(|| ask(|| dialog().pick_folder()), Chosen::This)
}

/// What a table of readings would change, with the tables of work and of wear marks beside it if
/// there are any: a name that ends in `-work` or `-marks`, or `work.csv` and `marks.csv` beside
/// `readings.csv`.
pub(crate) fn look(yard: &Yard, file: PathBuf, progress: &Progress) -> Result<Looked, FileIssue> {
    let bytes = exchange::table_bytes(&file).map_err(|issue| as_file_issue(&file, &issue))?;
    let (work, marks) = (beside(&file, "work")?, beside(&file, "marks")?);
    let tables = Tables { readings: Some(&bytes), work: work.as_deref(), marks: marks.as_deref() };
    let plan = plan_while(yard, tables, Create::Nothing, &|done, of| {
        if done == 0 {
            progress.expect(of);
        }
        progress.step();
        !progress.is_cancelled()
    });
    Ok(Looked { file, plan })
}

/// The bytes of another table beside that of the readings, if there is one.
fn beside(readings: &Path, what: &str) -> Result<Option<Vec<u8>>, FileIssue> {
    let path = match readings.file_stem().and_then(|stem| stem.to_str()) {
        Some("readings") => readings.with_file_name(format!("{what}.csv")),
        stem => readings.with_file_name(format!("{}-{what}.csv", stem.unwrap_or_default())),
    };
    if !path.exists() {
        return Ok(None);
    }
    exchange::table_bytes(&path).map(Some).map_err(|issue| as_file_issue(&path, &issue))
}

/// The fault of a table as one of a file.
pub(crate) fn as_file_issue(file: &Path, issue: &exchange::LineIssue) -> FileIssue {
    FileIssue {
        path: file.to_owned(),
        line: issue.line.and_then(|line| usize::try_from(line).ok()),
        column: issue.column,
        what: language::understood(&issue.what),
        next: language::understood(&issue.next),
        newer: false,
    }
}

/// Signs every new visit of a plan.
pub(crate) fn take_in(root: &Path, plan: Plan, progress: &Progress) -> Taken {
    let new: Vec<Session> = plan
        .changes
        .into_iter()
        .filter(|change| change.fate == Fate::New)
        .map(|change| change.session)
        .collect();
    let mut taken = Taken { of: new.len(), ..Taken::default() };
    progress.expect(new.len());
    for session in new {
        if progress.is_cancelled() {
            break;
        }
        if let Err(err) = store::sign(root, &session) {
            taken.fault = Some(err.into_issue());
            break;
        }
        taken.sessions.push(session);
        progress.step();
    }
    taken
}

/// Writes every table; the names of those that are there now, and what kept the next from it. All are
/// made before the first is written: stopped until then, nothing has changed.
pub(crate) fn export(
    yard: &Yard,
    folder: &Path,
    progress: &Progress,
) -> (Vec<PathBuf>, Option<FileIssue>) {
    let machines = || {
        progress.expect(yard.machines.len());
        let wanted = yard.machines.iter().take_while(|_| !progress.is_cancelled());
        wanted.inspect(|_| progress.step())
    };
    let tables = [
        ("readings.csv", readings_table(machines())),
        ("work.csv", work_table(machines())),
        ("marks.csv", marks_table(machines())),
        ("findings.csv", findings_table(machines())),
    ];
    let mut written = Vec::new();
    if progress.is_cancelled() {
        return (written, None);
    }
    progress.expect(tables.len());
    for (name, table) in tables {
        let path = folder.join(name);
        if let Err(err) = store::put_file(&path, table.as_bytes()) {
            return (written, Some(err.into_issue()));
        }
        written.push(path);
        progress.step();
    }
    (written, None)
}

#[cfg(test)]
mod tests {
    use crate::{
        gui::tables::export,
        sample,
        store::{Progress, put_file},
    };
    use chrono::DateTime;
    use std::fs;

    #[test]
    fn an_export_that_is_stopped_leaves_last_weeks_tables() {
        let dir = tempfile::tempdir().unwrap();
        let yard = sample::yard(1, 3, 4, DateTime::UNIX_EPOCH);
        let readings = dir.path().join("readings.csv");
        put_file(&readings, b"last week").unwrap();
        let stopped = Progress::default();
        stopped.cancel();
        assert_eq!(export(&yard, dir.path(), &stopped), (vec![], None));
        assert_eq!(fs::read(&readings).unwrap(), b"last week");
        assert_eq!(fs::read_dir(&dir).unwrap().count(), 1);
        let progress = Progress::default();
        assert_eq!(export(&yard, dir.path(), &progress).0.len(), 4);
        assert_eq!(progress.so_far(), (16, 16), "each machine in each table, and each file");
        assert_ne!(fs::read(&readings).unwrap(), b"last week");
    }
}
