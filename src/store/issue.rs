//! What can be wrong with a file or a folder, as a fact and a next step.
//!
//! Knows paths, lines and columns. Does not know how an issue was found, nor how it is shown.

use std::{
    fmt, io,
    path::{Path, PathBuf},
};

/// Something wrong with one file: where, what, and what to do about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileIssue {
    /// The file or folder.
    pub path: PathBuf,
    /// The line, counted from 1, where it is known.
    pub line: Option<usize>,
    /// The column in characters, counted from 1, where it is known.
    pub column: Option<usize>,
    /// The fact, without a full stop.
    pub what: String,
    /// What to do, without a full stop.
    pub next: String,
    /// Whether nothing is broken and only a newer program can read the file.
    pub newer: bool,
}

impl FileIssue {
    pub(crate) fn of(path: &Path, what: impl Into<String>, next: impl Into<String>) -> Self {
        let path = path.to_owned();
        Self { path, line: None, column: None, what: what.into(), next: next.into(), newer: false }
    }

    /// The line and the column in words, as far as they are known.
    pub(crate) fn place(&self) -> String {
        match (self.line, self.column) {
            (Some(line), Some(column)) => format!(", line {line}, column {column}"),
            (Some(line), None) => format!(", line {line}"),
            (None, _) => String::new(),
        }
    }

    pub(crate) fn newer(path: &Path, format: u64) -> Self {
        let what = format!("this file has format {format}, made by a newer program");
        let next = "update this program to read it; the file is left as it is";
        Self { newer: true, ..Self::of(path, what, next) }
    }

    /// Puts the issue of reading a file or a folder into words.
    pub(crate) fn unreadable(path: &Path, source: &io::Error) -> Self {
        match source.kind() {
            io::ErrorKind::PermissionDenied => Self::of(
                path,
                "this may not be read by you",
                "ask its owner for permission, or copy it to a folder of yours",
            ),
            io::ErrorKind::NotFound => {
                Self::of(path, "there is nothing here", "check the path, or plug the drive back in")
            }
            _ => Self::of(
                path,
                format!("reading failed ({source})"),
                "check the drive, then open it again",
            ),
        }
    }
}

/// `path:line:column: fact; next step`.
impl fmt::Display for FileIssue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:", self.path.display())?;
        for place in [self.line, self.column].into_iter().flatten() {
            write!(f, "{place}:")?;
        }
        write!(f, " {}; {}", self.what, self.next)
    }
}

/// Why a yard cannot be opened, or something cannot be kept.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The folder cannot be read, or is no yard.
    #[error("{0}")]
    Unusable(FileIssue),
    /// Somebody does not want it any more.
    #[error("stopped before the yard was open; nothing was changed")]
    Cancelled,
    /// A session of this name is signed already and says something else.
    #[error(
        "{}: a signed session of this name is already here and is never overwritten; \
         change the time by a minute and sign again",
        .0.display()
    )]
    AlreadySigned(PathBuf),
    /// Another window is writing the same at this moment.
    #[error(
        "{}: not saved, because another window is writing here; nothing on disk was changed; \
         save again in a moment",
        .0.display()
    )]
    BeingWritten(PathBuf),
    /// Another export of the same yard is adding to the same folder.
    #[error(
        "{}: not exported, because another export of this yard is writing here; nothing was \
         changed; export again when it is done",
        .0.display()
    )]
    BeingExported(PathBuf),
    /// A new yard was to be made where one is.
    #[error("{}: there is already a yard here; choose an empty folder", .0.display())]
    YardThere(PathBuf),
    /// A newer program made the yard.
    #[error("not saved, because this yard can only be read here: {0}")]
    ReadOnly(FileIssue),
    /// What stands in the file now cannot be read, so replacing it would lose it.
    #[error("not saved, because the file there now would be lost: {0}")]
    WouldLose(FileIssue),
    /// What was to be written would not read back the same.
    #[error("not saved, because it could not be read back: {0}")]
    WontReadBack(FileIssue),
    /// The disk refused. What was there before is still there.
    #[error(
        "{}: not saved: {}, nothing on disk was changed; {}",
        path.display(), fact(source), remedy(source)
    )]
    Disk {
        /// The file that was to be written.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// Written, but the disk did not confirm that it will survive a power cut.
    #[error(
        "{}: written, but the drive did not confirm it ({source}); save again before you pull \
         the drive or switch off",
        path.display()
    )]
    Unconfirmed {
        /// The file that was written.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

/// What the system said, as a person would; in its own words only where there are no others.
fn fact(source: &io::Error) -> String {
    use io::ErrorKind;
    match source.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full".to_owned(),
        ErrorKind::PermissionDenied => "you may not write here".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "this disk can only be read".to_owned(),
        ErrorKind::NotFound => "the folder is not there".to_owned(),
        _ => format!("the system says “{source}”"),
    }
}

fn remedy(source: &io::Error) -> &'static str {
    use io::ErrorKind;
    match source.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "free some space and save again",
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            "ask for permission to write here, or copy the yard to a folder of yours"
        }
        ErrorKind::NotFound => "plug the drive back in and save again",
        _ => "check the drive and save again",
    }
}

impl StoreError {
    /// The same as an issue of a file, to be listed with others.
    pub fn into_issue(self) -> FileIssue {
        match self {
            Self::Unusable(issue)
            | Self::ReadOnly(issue)
            | Self::WouldLose(issue)
            | Self::WontReadBack(issue) => issue,
            Self::Cancelled => {
                FileIssue::of(Path::new(""), "stopped before the yard was open", "open it again")
            }
            Self::AlreadySigned(path) => FileIssue::of(
                &path,
                "a signed session of this name is already here and is never overwritten",
                "change the time by a minute and sign again",
            ),
            Self::BeingWritten(path) => FileIssue::of(
                &path,
                "not saved, because another window is writing here",
                "save again in a moment",
            ),
            Self::BeingExported(path) => FileIssue::of(
                &path,
                "not exported, because another export of this yard is writing here",
                "export again when it is done",
            ),
            Self::YardThere(path) => {
                FileIssue::of(&path, "there is already a yard here", "choose an empty folder")
            }
            Self::Disk { path, source } => {
                let next = remedy(&source);
                FileIssue::of(&path, format!("not saved: {}", fact(&source)), next)
            }
            Self::Unconfirmed { path, source } => FileIssue::of(
                &path,
                format!("written, but the drive did not confirm it ({source})"),
                "save again before you pull the drive or switch off",
            ),
        }
    }
}
