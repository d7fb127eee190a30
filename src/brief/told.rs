//! A reason as it is told: the sentence, and the four things it rests on.
//!
//! Whoever wants to overrule advice must know the value, the limit it was held against, the row of
//! the table that limit stands in, and the rule that leads from there to the advice. Knows how they
//! are put together; does not know which sentence belongs to which reason.

use crate::{
    brief::{Numbers, words},
    domain::{
        log::FindingKind,
        machine::{Band, Line},
    },
    language::{self, sentence, tell},
};

/// One reason, told.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// The sentence, weighty numbers between double asterisks.
    pub text: String,
    /// What was found, as the sentence or its source says it: `0.12–0.17`, `466 h`.
    pub value: String,
    /// What it is held against, as one of them says it: `0.20`, `600 h`, `none expected`.
    pub limit: String,
    /// The value in mm, if it is a length; of a reading its middle.
    pub value_mm: Option<f64>,
    /// The limit in mm, if it is a length.
    pub limit_mm: Option<f64>,
    /// Which row of which table: `Limits table, row S secondary blades`.
    pub row: String,
    /// What leads from value and limit to the advice.
    pub rule: &'static str,
    /// Row, rule and where the limit is from, in one line.
    pub source: String,
}

/// What a reason rests on.
pub(crate) struct Basis {
    pub(crate) value: String,
    pub(crate) limit: String,
    pub(crate) row: String,
    pub(crate) rule: &'static str,
}

/// The limit of whatever is seen or heard.
const NO_FINDING: &str = sentence!("none expected");

impl Told {
    /// A sentence with what it rests on.
    pub(crate) fn new(text: String, Basis { value, limit, row, rule }: Basis) -> Self {
        let source = ground(&row, rule);
        Self { text, value, limit, value_mm: None, limit_mm: None, row, rule, source }
    }

    /// Row and rule alone, where the origin of all limits stands nearby.
    pub fn ground(&self) -> String {
        ground(&self.row, self.rule)
    }

    /// A sentence about something that was seen or heard.
    pub(crate) fn finding(text: String, kind: &FindingKind, rule: &'static str) -> Self {
        let value = words::finding(kind).to_owned();
        let row = tell!(
            "Findings, row {value}, {no_finding}",
            value,
            no_finding = language::told(NO_FINDING)
        );
        Self::new(text, Basis { value, limit: language::told(NO_FINDING).to_owned(), row, rule })
    }

    /// With value and limit in mm.
    pub(crate) fn lengths(self, value_mm: f64, limit_mm: f64) -> Self {
        Self { value_mm: Some(value_mm), limit_mm: Some(limit_mm), ..self }
    }

    /// With where the limit is from, or what else went into it.
    pub(crate) fn from(mut self, origin: &str) -> Self {
        self.source.push_str(" · ");
        self.source.push_str(origin);
        self
    }
}

fn ground(row: &str, rule: &str) -> String {
    tell!("{row} · rule: {rule}", row, rule)
}

/// The row of a line in the limits table.
pub(crate) fn limits_row(line: &Line) -> String {
    tell!("Limits table, row {line}", line = words::line(line))
}

/// `0.30–0.50`.
pub(crate) fn band_words(band: Band, n: Numbers) -> String {
    format!("{}–{}", n.length(band.min), n.length(band.max))
}
