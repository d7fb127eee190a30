//! From a file's bytes to text, and from a fault in the text to a line, a column and a sentence.
//!
//! Knows encodings, file lengths and the parser's own words for a fault. Does not know what a
//! file is about.

use crate::store::{
    issue::FileIssue,
    refusal::{FIELD, Refusal},
};
use ron::error::{Error, Position, SpannedError};
use std::{
    fs::{self, File},
    io::{self, Read as _},
    path::Path,
};

/// No file of a yard is longer; a session with every station takes a few kilobytes.
pub(crate) const BYTES_MOST: u64 = 4 * 1024 * 1024;

const MEND: &str = "correct it in a text editor";

/// A fault in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Fault {
    line: Option<usize>,
    column: Option<usize>,
    what: String,
    next: String,
}

impl Fault {
    /// A fault without a place.
    pub(crate) fn new(what: impl Into<String>, next: impl Into<String>) -> Self {
        Self { line: None, column: None, what: what.into(), next: next.into() }
    }

    /// Placed where `name` stands in quotes, if it does.
    pub(crate) fn at_name(self, text: &str, name: &str) -> Self {
        self.at(text, &format!("\"{name}\""))
    }

    /// Placed where `words` first stand, if they do; not where a note only quotes them.
    pub(crate) fn at(mut self, text: &str, words: &str) -> Self {
        let own = |at: &usize| !text.get(..*at).is_some_and(|before| before.ends_with('\\'));
        if let Some(at) = text.match_indices(words).map(|(at, _)| at).find(own) {
            let before = text.get(..at).unwrap_or_default();
            self.line = Some(1 + before.matches('\n').count());
            self.column = Some(1 + before.chars().rev().take_while(|c| *c != '\n').count());
        }
        self
    }

    /// As an issue of a file.
    pub(crate) fn of(self, path: &Path) -> FileIssue {
        FileIssue {
            line: self.line,
            column: self.column,
            ..FileIssue::of(path, self.what, self.next)
        }
    }
}

/// The text of a file, without a byte order mark.
///
/// # Errors
///
/// What keeps it from being read, in words.
pub(crate) fn read(path: &Path) -> Result<String, FileIssue> {
    read_any(path, BYTES_MOST)
}

/// The text of a file that may be longer than others, without a byte order mark.
///
/// # Errors
///
/// What keeps it from being read, in words.
pub(crate) fn read_any(path: &Path, most: u64) -> Result<String, FileIssue> {
    let unreadable = |err: io::Error| FileIssue::unreadable(path, &err);
    let too_long = || {
        let mib = most / (1024 * 1024);
        let what = format!("this file is longer than {mib} MiB, so it is no file of a yard");
        FileIssue::of(path, what, "move it out of the yard")
    };
    let about = fs::metadata(path).map_err(unreadable)?;
    if !about.is_file() {
        let what = "this is not a file";
        return Err(FileIssue::of(path, what, "move it out of the yard"));
    }
    if most < about.len() {
        return Err(too_long());
    }
    let mut bytes = Vec::with_capacity(usize::try_from(about.len()).unwrap_or_default());
    // The file may grow between the look and the read.
    let mut file = File::open(path).map_err(unreadable)?.take(most + 1);
    file.read_to_end(&mut bytes).map_err(unreadable)?;
    if u64::try_from(bytes.len()).is_ok_and(|length| most < length) {
        return Err(too_long());
    }
    let text = String::from_utf8(bytes).map_err(|err| {
        let good = err.as_bytes().get(..err.utf8_error().valid_up_to()).unwrap_or_default();
        let line = 1 + good.split(|byte| *byte == b'\n').count().saturating_sub(1);
        let issue = FileIssue::of(path, "this is not UTF-8 text", "save it as UTF-8 text again");
        FileIssue { line: Some(line), ..issue }
    })?;
    Ok(match text.strip_prefix('\u{feff}') {
        Some(without_mark) => without_mark.to_owned(),
        None => text,
    })
}

/// Puts the parser's fault into words.
pub(crate) fn explain(text: &str, err: &SpannedError) -> Fault {
    let (what, next) = words(text, err);
    Fault { line: Some(err.span.start.line), column: Some(err.span.start.col), what, next }
}

fn words(text: &str, err: &SpannedError) -> (String, String) {
    let list = |names: &[&str]| names.join(", ");
    let owned = |what: &str, next: &str| (what.to_owned(), next.to_owned());
    if text.trim().is_empty() {
        return owned("this file is empty", "copy it again from where it came from");
    }
    if is_cut_short(text, err) {
        return owned(
            "this file ends too early, it was cut short",
            "copy it again from where it came from, or complete it in a text editor",
        );
    }
    match &err.code {
        Error::Message(message) => match Refusal::from_message(message) {
            Some(Refusal { fact, next }) => {
                (fact.replace(FIELD, field_before(text, err.span.end)), next)
            }
            None => (format!("this cannot be read ({message})"), MEND.to_owned()),
        },
        Error::NoSuchStructField { expected, found, .. } => (
            format!("“{found}” is no field of this format"),
            format!("correct its name or remove it; fields here are {}", list(expected)),
        ),
        Error::NoSuchEnumVariant { expected, found, .. } => {
            (format!("“{found}” is not known here"), format!("write one of {}", list(expected)))
        }
        Error::MissingStructField { field: "format", .. } => {
            owned("this file does not say its format", "write format: 1 as its first field")
        }
        Error::MissingStructField { field, .. } => {
            (format!("the field “{field}” is missing"), "add it before this place".to_owned())
        }
        Error::DuplicateStructField { field, .. } => {
            (format!("the field “{field}” stands here twice"), "keep one of the two".to_owned())
        }
        Error::TrailingCharacters => {
            owned("there is more text after the end", "remove what follows the last bracket")
        }
        Error::ExpectedFloat => owned(
            "a number is expected here",
            "write it with a decimal point and no unit, such as 0.45",
        ),
        Error::InvalidIdentifier(found) | Error::SuggestRawIdentifier(found) => (
            format!("the name of a field is expected here, not “{found}”"),
            "write numbers with a decimal point; a comma ends a value".to_owned(),
        ),
        Error::ExceededRecursionLimit => owned("brackets are nested too deeply", MEND),
        code => {
            let said = code.to_string();
            let mut letters = said.chars();
            let first = letters.next().map(|c| c.to_ascii_lowercase());
            let said: String = first.into_iter().chain(letters).collect();
            (said.trim_end_matches('.').to_owned(), MEND.to_owned())
        }
    }
}

/// Whether the parser ran out of text before the last bracket.
fn is_cut_short(text: &str, err: &SpannedError) -> bool {
    let whole = text.trim_end();
    let read = until(text, err.span.end).len();
    let nothing_left = whole.get(read..).unwrap_or_default().trim().is_empty();
    match err.code {
        Error::Eof => true,
        Error::ExpectedComma | Error::ExpectedArrayEnd | Error::ExpectedStructLikeEnd => {
            nothing_left
        }
        Error::ExpectedStringEnd => !whole.ends_with(')'),
        _ => nothing_left && !whole.ends_with(')'),
    }
}

/// The name of the last field that begins before a place.
fn field_before(text: &str, place: Position) -> &str {
    let before = until(text, place);
    let in_name = |c: char| c.is_ascii_alphanumeric() || c == '_';
    before
        .rmatch_indices(':')
        .find_map(|(colon, _)| {
            let name = before.get(..colon)?.trim_end();
            let start = name.trim_end_matches(in_name).len();
            name.get(start..).filter(|name| !name.is_empty())
        })
        .unwrap_or("a field")
}

fn until(text: &str, place: Position) -> &str {
    let mut start = 0;
    for (number, line) in (1..).zip(text.split_inclusive('\n')) {
        if number == place.line {
            let inside = line.char_indices().nth(place.col.saturating_sub(1));
            let end = start + inside.map_or(line.len(), |(at, _)| at);
            return text.get(..end).unwrap_or(text);
        }
        start += line.len();
    }
    text
}
