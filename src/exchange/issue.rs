//! What is wrong with a table, as a fact and a next step.

use std::fmt;

/// Something wrong with one line of a table, or with all of it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct LineIssue {
    /// The line, counted from 1; `None` for the table as a whole.
    pub line: Option<u64>,
    /// The cell in that line, counted from 1; `None` for the line as a whole.
    pub column: Option<usize>,
    /// The fact, without a full stop.
    pub what: String,
    /// What to do, without a full stop.
    pub next: String,
}

impl LineIssue {
    pub(crate) fn at(line: u64, what: impl Into<String>, next: impl Into<String>) -> Self {
        Self { line: Some(line), ..Self::whole(what, next) }
    }

    /// The same, in the cell of this column, counted from 0 as the table does.
    pub(crate) fn in_column(self, column: usize) -> Self {
        Self { column: Some(column + 1), ..self }
    }

    pub(crate) fn whole(what: impl Into<String>, next: impl Into<String>) -> Self {
        Self { line: None, column: None, what: what.into(), next: next.into() }
    }
}

/// `17:5: fact; next step`, to stand behind a file's name and a colon.
impl fmt::Display for LineIssue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(f, "{line}:")?;
        }
        if let Some(column) = self.column {
            write!(f, "{column}:")?;
        }
        write!(f, " {}; {}", self.what, self.next)
    }
}
