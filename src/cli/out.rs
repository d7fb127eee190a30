//! Printing what was asked for.
//!
//! A reader that has seen enough, such as `head`, closes the pipe; that is no fault.

use anyhow::{Context as _, Result};
use std::{
    fmt::Display,
    io::{ErrorKind, Write as _, stdout},
};

/// What an answer looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Form {
    /// Words for a person.
    Text,
    /// Numbers for another program.
    Json,
}

/// Prints a text and ends its last line.
///
/// # Errors
///
/// If the text cannot be written, such as to a full disk.
pub(crate) fn say(text: impl Display) -> Result<()> {
    let text = text.to_string();
    let end = if text.ends_with('\n') { "" } else { "\n" };
    let mut out = stdout().lock();
    let written = write!(out, "{text}{end}").and_then(|()| out.flush());
    match written {
        Err(err) if err.kind() == ErrorKind::BrokenPipe => Ok(()),
        other => other.context("what was asked for could not be printed"),
    }
}
