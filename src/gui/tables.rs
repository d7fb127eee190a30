//! Tables in and out of the yard that is open: what is done on the thread of a long job.
//!
//! Knows files and the order: look first, then take in. Each visit is written once and for good, so
//! an import that was stopped is simply started again.

use crate::{
    domain::{log::Session, yard::Yard},
    exchange::{
        self,
        visits::{
            Create, Fate, Plan, Tables, findings_table, marks_table, plan, readings_table,
            work_table,
        },
    },
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
    /// What kept the next one from being written.
    pub(crate) fault: Option<FileIssue>,
}

/// Asks for a table where none was named; `None` if nobody chose one.
pub(crate) fn chosen_table(named: Option<PathBuf>) -> Option<PathBuf> {
    let dialog = || rfd::FileDialog::new().add_filter("CSV", &["csv", "txt"]);
    named.or_else(|| dialog().set_title("Import a table of readings").pick_file())
}

/// Asks for a folder where none was named; `None` if nobody chose one.
pub(crate) fn chosen_folder(named: Option<PathBuf>) -> Option<PathBuf> {
    named.or_else(|| rfd::FileDialog::new().set_title("Export tables into a folder").pick_folder())
}

/// What a table of readings would change, with the tables of work and of wear marks beside it if
/// there are any: a name that ends in `-work` or `-marks`, or `work.csv` and `marks.csv` beside
/// `readings.csv`.
pub(crate) fn look(yard: &Yard, file: PathBuf) -> Result<Looked, FileIssue> {
    let bytes = exchange::table_bytes(&file).map_err(|issue| as_file_issue(&file, &issue))?;
    let (work, marks) = (beside(&file, "work")?, beside(&file, "marks")?);
    let tables = Tables { readings: Some(&bytes), work: work.as_deref(), marks: marks.as_deref() };
    let plan = plan(yard, tables, Create::Nothing);
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
        what: issue.what.clone(),
        next: issue.next.clone(),
        newer: false,
    }
}

/// Signs every new visit of a plan.
pub(crate) fn take_in(root: &Path, plan: Plan, progress: &Progress) -> Taken {
    let mut taken = Taken::default();
    let new: Vec<Session> = plan
        .changes
        .into_iter()
        .filter(|change| change.fate == Fate::New)
        .map(|change| change.session)
        .collect();
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

/// Writes one table.
type Writes = fn(&Yard) -> String;

/// Writes every table; the names of those that are there now, and what kept the next from it.
pub(crate) fn export(
    yard: &Yard,
    folder: &Path,
    progress: &Progress,
) -> (Vec<PathBuf>, Option<FileIssue>) {
    let mut written = Vec::new();
    let tables: [(&str, Writes); 4] = [
        ("readings.csv", readings_table),
        ("work.csv", work_table),
        ("marks.csv", marks_table),
        ("findings.csv", findings_table),
    ];
    progress.expect(tables.len());
    for (name, table) in tables {
        if progress.is_cancelled() {
            break;
        }
        let path = folder.join(name);
        if let Err(err) = store::put_file(&path, table(yard).as_bytes()) {
            return (written, Some(err.into_issue()));
        }
        written.push(path);
        progress.step();
    }
    (written, None)
}
