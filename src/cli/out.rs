//! Printing what was asked for.
//!
//! A reader that has seen enough, such as `head`, closes the pipe; that is no fault.

use crate::{cli::Exit, store};
use anyhow::{Context as _, Result};
use std::{
    fmt::Display,
    io::{ErrorKind, IsTerminal as _, Write as _, stderr, stdout},
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

/// How far something long is, on one line of a terminal that is written over; anywhere else it is
/// silent, since what is written there is read by another program or by nobody.
#[derive(Debug)]
pub(crate) struct Count {
    words: &'static str,
    done: usize,
    of: usize,
    shown: bool,
}

impl Count {
    /// Nothing of so many is done.
    pub(crate) fn to(of: usize, words: &'static str) -> Self {
        let count = Self { words, done: 0, of, shown: stderr().is_terminal() };
        count.show();
        count
    }

    /// One more is done.
    pub(crate) fn step(&mut self) {
        self.done += 1;
        self.show();
    }

    #[expect(clippy::print_stderr, reason = "how far it is must not mix with what was asked for")]
    fn show(&self) {
        if self.shown {
            eprint!("\r{}: {} of {}", self.words, self.done, self.of);
        }
    }
}

/// What follows begins on a line of its own.
impl Drop for Count {
    #[expect(clippy::print_stderr, reason = "how far it is must not mix with what was asked for")]
    fn drop(&mut self) {
        if self.shown {
            eprintln!();
        }
    }
}

/// Damaged files go to the reader's attention, and to the exit code.
#[expect(clippy::print_stderr, reason = "faults must not mix with what was asked for")]
pub(crate) fn told(issues: &[store::FileIssue]) -> Exit {
    for issue in issues {
        eprintln!("{issue}");
    }
    if issues.is_empty() { Exit::Done } else { Exit::WrongData }
}
