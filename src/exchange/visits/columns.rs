//! The columns of a table by name, and cells as quantities.
//!
//! Knows where a cell stands, so that every fault has a line and a column. Does not know what a
//! row is for.

use crate::{
    domain::{
        log::SessionId,
        machine::ShearId,
        quantity::{Hours, Length, Temperature},
    },
    exchange::{
        LineIssue,
        cell::bare,
        sheet::{Row, Sheet, number},
    },
};
use chrono::{DateTime, Utc};

/// Beyond these a value is a typing error, and a yard does not take it.
const MM_MOST: f64 = 100_000.0;
const H_MOST: f64 = 10_000_000.0;
const C_MOST: f64 = 5_000.0;
const NEWTON_METRES_MOST: f64 = 1_000_000.0;

/// The cells of one row, asked for by the name of their column.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cells<'a> {
    sheet: &'a Sheet,
    row: &'a Row,
}

/// Fails unless the header has all of these columns, and each of them once.
pub(crate) fn have(sheet: &Sheet, columns: &[&str]) -> Result<(), LineIssue> {
    if sheet.header.len() < 2 {
        let what = "the header is a single cell";
        let next = "separate the cells by commas, semicolons or tabs";
        return Err(LineIssue::at(sheet.header_line, what, next));
    }
    for column in columns {
        if sheet.column(&[column])?.is_none() {
            let what = format!("the header has no column “{column}”");
            let line = columns.join(&sheet.separator.to_string());
            let next = format!("start the file with the line {line}");
            return Err(LineIssue::at(sheet.header_line, what, next));
        }
    }
    for (place, name) in sheet.header.iter().enumerate() {
        if !name.is_empty() {
            sheet.column(&[name]).map_err(|issue| issue.in_column(place))?;
        }
    }
    Ok(())
}

impl<'a> Cells<'a> {
    /// The cells of a row that is not longer than the header.
    pub(crate) fn of(sheet: &'a Sheet, row: &'a Row) -> Result<Self, LineIssue> {
        if row.len() < sheet.header.len() && row.is_cut_by_another(sheet) {
            let what = "the cells of this row are not separated as those of the header are";
            let next = "separate the cells of both by the same: commas, semicolons or tabs";
            return Err(LineIssue::at(row.line, what, next));
        }
        if sheet.header.len() < row.len() {
            let what =
                format!("this row has {} cells, the header {}", row.len(), sheet.header.len());
            let next = "with decimal commas, separate the cells by semicolons";
            return Err(LineIssue::at(row.line, what, next).in_column(sheet.header.len()));
        }
        Ok(Self { sheet, row })
    }

    /// The line of the row.
    pub(crate) const fn line(self) -> u64 {
        self.row.line
    }

    fn place(self, column: &str) -> Option<usize> {
        self.sheet.header.iter().position(|name| name == column)
    }

    /// The text of a cell; `None` if nothing is in it, or there is no such column.
    pub(crate) fn text(self, column: &str) -> Option<&'a str> {
        self.place(column).and_then(|place| self.row.cell(place)).map(bare)
    }

    /// A fault in a cell.
    pub(crate) fn fault(
        self,
        column: &str,
        what: impl Into<String>,
        next: impl Into<String>,
    ) -> LineIssue {
        let issue = LineIssue::at(self.row.line, what, next);
        match self.place(column) {
            Some(place) => issue.in_column(place),
            None => issue,
        }
    }

    /// A fault for a cell that is empty and must not be.
    pub(crate) fn missing(self, column: &str, next: &str) -> LineIssue {
        self.fault(column, format!("“{column}” is missing"), next)
    }

    /// What a cell says, if it says something.
    pub(crate) fn read<T>(
        self,
        column: &str,
        expected: &str,
        parse: impl FnOnce(&str) -> Option<T>,
    ) -> Result<Option<T>, LineIssue> {
        let Some(text) = self.text(column) else { return Ok(None) };
        parse(text).map(Some).ok_or_else(|| {
            self.fault(column, format!("“{column}” is “{text}”"), format!("write {expected}"))
        })
    }

    /// What a cell says, which must say something.
    pub(crate) fn must<T>(
        self,
        column: &str,
        expected: &str,
        parse: impl FnOnce(&str) -> Option<T>,
    ) -> Result<T, LineIssue> {
        let next = format!("write {expected}");
        self.read(column, expected, parse)?.ok_or_else(|| self.missing(column, &next))
    }

    pub(crate) fn shear(self) -> Result<ShearId, LineIssue> {
        self.must("shear", "a machine's folder, such as heron", ShearId::new)
    }

    pub(crate) fn session(self) -> Result<Option<SessionId>, LineIssue> {
        let expected = "the name of a visit, such as 2026-03-14T0705Z-7f3a, or nothing";
        self.read("session", expected, SessionId::parse)
    }

    pub(crate) fn time(self, column: &str) -> Result<DateTime<Utc>, LineIssue> {
        self.must(column, "a time such as 2026-03-14T07:05:00Z", |text| {
            DateTime::parse_from_rfc3339(text).ok().map(|time| time.to_utc())
        })
    }

    pub(crate) fn hours(self, column: &str) -> Result<Hours, LineIssue> {
        self.must(column, "hours such as 4812.5", |text| {
            number(text).filter(|h| (0.0..=H_MOST).contains(h)).and_then(Hours::from_h)
        })
    }

    /// A length that is not negative.
    pub(crate) fn length(self, column: &str) -> Result<Option<Length>, LineIssue> {
        self.read(column, "millimetres such as 0.55", length)
    }

    pub(crate) fn temperature(self, column: &str) -> Result<Option<Temperature>, LineIssue> {
        self.read(column, "degrees Celsius such as 41.5, or nothing", |text| {
            number(text).filter(|c| *c <= C_MOST).and_then(Temperature::from_c)
        })
    }

    /// Newton metres.
    pub(crate) fn torque(self) -> Result<f64, LineIssue> {
        self.must("torque_nm", "newton metres such as 812.5", |text| {
            number(text).filter(|nm| (0.0..=NEWTON_METRES_MOST).contains(nm))
        })
    }

    /// Thicknesses above zero, apart by spaces.
    pub(crate) fn shims(self, column: &str) -> Result<Vec<Length>, LineIssue> {
        let expected = "the thickness of each shim in mm, apart by spaces, such as 0.5 0.25";
        let shims = self.read(column, expected, |text| {
            let thick = |it: &str| length(it).filter(|thick| Length::ZERO < *thick);
            text.split_whitespace().map(thick).collect()
        })?;
        Ok(shims.unwrap_or_default())
    }

    pub(crate) fn whole(self, column: &str) -> Result<Option<u8>, LineIssue> {
        self.read(column, "a whole number such as 2, or nothing", |text| {
            text.parse().ok().filter(|it| 1 <= *it)
        })
    }

    /// What a counter shows.
    pub(crate) fn count(self, column: &str) -> Result<Option<u64>, LineIssue> {
        self.read(column, "a whole number such as 18250, or nothing", |text| text.parse().ok())
    }

    /// Words of any kind; nothing if there are none.
    pub(crate) fn words(self, column: &str) -> String {
        self.text(column).unwrap_or_default().to_owned()
    }

    /// `yes` or `no`; nothing means no.
    pub(crate) fn yes(self, column: &str) -> Result<bool, LineIssue> {
        let yes = self.read(column, "yes or no", |text| match text.to_lowercase().as_str() {
            "yes" | "true" | "1" => Some(true),
            "no" | "false" | "0" => Some(false),
            _ => None,
        })?;
        Ok(yes.unwrap_or(false))
    }
}

fn length(text: &str) -> Option<Length> {
    number(text).filter(|mm| (0.0..=MM_MOST).contains(mm)).and_then(Length::from_mm)
}
