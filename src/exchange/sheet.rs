//! Rows and cells of a table with a header, whatever its separator.
//!
//! Knows text, quotes and lines; does not know which columns somebody needs.

use crate::exchange::LineIssue;
use csv::{ReaderBuilder, StringRecord, Trim};
use std::{
    fs::File,
    io::{self, Read as _},
    path::Path,
};

/// A million readings fit into this; a larger file is no table of a yard.
const BYTES_MOST: u64 = 128 * 1024 * 1024;

/// What separates cells, by whichever of them stands in the header.
const SEPARATORS: [char; 3] = [';', '\t', ','];

/// The bytes of a table.
///
/// # Errors
///
/// What the system said, or that the file is too large to be one.
pub fn table_bytes(path: &Path) -> Result<Vec<u8>, LineIssue> {
    let unread =
        |err: io::Error| LineIssue::whole(format!("this cannot be read ({err})"), "check the path");
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(unread)?;
    file.take(BYTES_MOST + 1).read_to_end(&mut bytes).map_err(unread)?;
    if u64::try_from(bytes.len()).is_ok_and(|length| BYTES_MOST < length) {
        let what = "this file is longer than 128 MiB";
        return Err(LineIssue::whole(what, "split it, and import the parts one by one"));
    }
    Ok(bytes)
}

/// The cells of a table under its header.
#[derive(Clone, Debug)]
pub(crate) struct Sheet {
    /// The names in the header, in lower case.
    pub(crate) header: Vec<String>,
    /// Where the header stands.
    pub(crate) header_line: u64,
    /// What stands between its cells.
    pub(crate) separator: char,
    /// The rows under it.
    pub(crate) rows: Vec<Row>,
}

/// One row.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    /// Its line, counted from 1.
    pub(crate) line: u64,
    cells: StringRecord,
}

impl Row {
    /// The text in a column; `None` if the row is too short or there is nothing in it.
    pub(crate) fn cell(&self, column: usize) -> Option<&str> {
        self.cells.get(column).filter(|text| !text.is_empty())
    }

    /// Whether another separator than that of its table would give it as many cells as the header.
    pub(crate) fn is_cut_by_another(&self, sheet: &Sheet) -> bool {
        let stands = |it: &char| self.cells.iter().map(|text| text.matches(*it).count()).sum();
        let others = SEPARATORS.iter().filter(|it| **it != sheet.separator);
        others.map(stands).any(|cuts: usize| cuts + 1 == sheet.header.len())
    }

    /// How many cells it has.
    pub(crate) fn len(&self) -> usize {
        self.cells.len()
    }
}

impl Sheet {
    /// Reads a table. Lines that start with `#` and empty lines are passed over.
    ///
    /// A semicolon or a tab in the header separates cells, otherwise commas do.
    pub(crate) fn read(bytes: &[u8]) -> Result<Self, LineIssue> {
        let text = std::str::from_utf8(bytes).map_err(|err| {
            let (before, _) = bytes.split_at(err.valid_up_to());
            LineIssue::at(line_after(before), "this is not UTF-8 text", "save it as UTF-8 again")
        })?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let speaks = |line: &&str| !line.trim().is_empty() && !line.starts_with('#');
        let Some(first) = text.lines().find(speaks) else {
            return Err(LineIssue::whole("this file is empty", "write a header and rows below it"));
        };
        let separator = SEPARATORS.into_iter().find(|it| first.contains(*it)).unwrap_or(',');
        let mut reader = ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .trim(Trim::All)
            .comment(Some(b'#'))
            .delimiter(u8::try_from(separator).unwrap_or(b','))
            .from_reader(text.as_bytes());
        let mut rows = Vec::new();
        let mut lines = Lines { text, byte: 0, line: 1 };
        for record in reader.records() {
            let cells = record.map_err(|err| {
                let line = err.position().map_or(1, csv::Position::line);
                LineIssue::at(line, "this row cannot be read", "check its quotes")
            })?;
            let start = cells.position().map_or(0, csv::Position::byte);
            let row = Row { line: lines.of_row_at(start), cells };
            if (0..row.len()).any(|column| row.cell(column).is_some()) {
                rows.push(row);
            }
        }
        let mut rows = rows.into_iter();
        let Some(header) = rows.next() else {
            return Err(LineIssue::whole("this file is empty", "write a header and rows below it"));
        };
        Ok(Self {
            header_line: header.line,
            header: header.cells.iter().map(str::to_lowercase).collect(),
            separator,
            rows: rows.collect(),
        })
    }

    /// The column of the first of these names that the header has.
    ///
    /// Fails if two columns have that name, since nobody knows which is meant.
    pub(crate) fn column(&self, names: &[&str]) -> Result<Option<usize>, LineIssue> {
        for name in names {
            let mut found = self.header.iter().enumerate().filter(|(_, it)| it == name);
            if let Some((column, _)) = found.next() {
                return match found.next() {
                    None => Ok(Some(column)),
                    Some(_) => Err(LineIssue::at(
                        self.header_line,
                        format!("two columns are called “{name}”"),
                        "rename one of them",
                    )),
                };
            }
        }
        Ok(None)
    }
}

/// Lines of a text, counted once from its start to its end.
struct Lines<'a> {
    text: &'a str,
    byte: usize,
    line: u64,
}

impl Lines<'_> {
    /// The line of the first row that starts at or after a byte: the reader counts the empty lines and
    /// remarks in front of a row to it. Asked for each row in turn.
    fn of_row_at(&mut self, byte: u64) -> u64 {
        let byte = usize::try_from(byte).unwrap_or(usize::MAX);
        let between = self.text.get(self.byte..byte).unwrap_or_default();
        self.line += line_after(between.as_bytes()) - 1;
        self.byte = byte;
        let mut rest = self.text.get(byte..).unwrap_or_default();
        let mut line = self.line;
        while let Some((first, more)) = rest.split_once('\n') {
            if !first.trim_end_matches('\r').is_empty() && !first.starts_with('#') {
                break;
            }
            line += 1;
            rest = more;
        }
        line
    }
}

/// The line that stands behind these bytes.
fn line_after(bytes: &[u8]) -> u64 {
    bytes.iter().map(|byte| u64::from(*byte == b'\n')).sum::<u64>() + 1
}

/// A number with a decimal point or a decimal comma; `None` for any other text, NaN and infinity.
pub(crate) fn number(text: &str) -> Option<f64> {
    let digits = text.replace('−', "-").replacen(',', ".", 1);
    digits.parse().ok().filter(|value: &f64| value.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(text: &str) -> Vec<u64> {
        Sheet::read(text.as_bytes()).unwrap().rows.iter().map(|row| row.line).collect()
    }

    #[test]
    fn rows_know_the_line_an_editor_shows() {
        assert_eq!(lines("a,b\n1,2\n3,4\n"), [2, 3]);
        assert_eq!(lines("\u{feff}# first a remark\n\na;b\r\n1;2\r\n\r\n# another\r\n3;4"), [4, 7]);
        assert_eq!(lines("a,b\n\"two\nlines\",2\n3,4\n"), [2, 4], "a quoted cell spans lines");
        assert_eq!(lines("a,b\n1,2\n,\n3,4\n"), [2, 4], "a row of nothing is none");
    }

    #[test]
    fn numbers_have_a_point_or_a_comma_and_nothing_else() {
        assert_eq!(number("0.55"), Some(0.55));
        assert_eq!(number("0,55"), Some(0.55));
        assert_eq!(number("−0.5"), Some(-0.5));
        for text in ["1.234,5", "0.55 mm", "NaN", "inf", "wide", "1,2,3"] {
            assert_eq!(number(text), None, "{text}");
        }
    }

    #[test]
    fn what_is_no_table_is_named() {
        let said = |bytes: &[u8]| Sheet::read(bytes).unwrap_err().to_string();
        assert_eq!(said(b""), " this file is empty; write a header and rows below it");
        assert_eq!(
            said(b"# a remark\n\n"),
            " this file is empty; write a header and rows below it"
        );
        assert_eq!(said(b"a,b\n1,\xff\n"), "2: this is not UTF-8 text; save it as UTF-8 again");
        let twice = Sheet::read(b"part,part\n1,2\n").unwrap().column(&["part"]).unwrap_err();
        assert_eq!(twice.to_string(), "1: two columns are called “part”; rename one of them");
    }
}
