//! How a value that reads well but makes no sense is refused in the middle of a file.
//!
//! The parser carries nothing but one string from the place of the fault to us, so the fact and
//! the next step travel in it, told apart by control characters that no sentence of ours holds.

use std::fmt;

/// Stands in a fact for the name of the field, which only the reader of the whole text knows.
pub(crate) const FIELD: &str = "\u{1e}";
const SPLIT: char = '\u{1f}';

/// A fact about a value, and what to do about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Refusal {
    /// The fact; [`FIELD`] in it becomes the name of the field.
    pub(crate) fact: String,
    /// What to do.
    pub(crate) next: String,
}

impl Refusal {
    pub(crate) fn new(fact: impl Into<String>, next: impl Into<String>) -> Self {
        Self { fact: fact.into(), next: next.into() }
    }

    /// Takes a refusal back out of a parser's message.
    pub(crate) fn from_message(message: &str) -> Option<Self> {
        let (fact, next) = message.split_once(SPLIT)?;
        Some(Self::new(fact, next))
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{SPLIT}{}", self.fact, self.next)
    }
}
