//! A sum over a signed session, so that a bit that turned on the disk does not pass for a reading.
//!
//! The sum is the CRC-32 of every byte above its own line, without carriage returns, which tools
//! that copy text add and take away. It guards against decay and not against people: a file without
//! one is read as it is, and who mends a file by hand removes the line.

use crate::store::text::Fault;

const FIELD: &str = "content_crc32";

/// The text of a session with its sum as the last field.
pub(crate) fn sealed(text: &str) -> String {
    let Some(body) = text.strip_suffix(")\n") else { return text.to_owned() };
    format!("{body}    {FIELD}: \"{}\",\n)\n", sum(body))
}

/// Fails if the text above the sum is not what was summed.
pub(crate) fn check(text: &str, said: &str) -> Result<(), Fault> {
    let body = text.rfind(FIELD).and_then(|at| text.get(..at)).unwrap_or_default();
    let body = body.trim_end_matches(' ');
    if sum(body) == said {
        return Ok(());
    }
    let what =
        "this file is not as it was signed: its “content_crc32” does not fit what stands above";
    let next = "copy it again from where it came from; if you changed it on purpose, remove the \
                line “content_crc32”";
    Err(Fault::new(what, next).at(text, FIELD))
}

fn sum(body: &str) -> String {
    let mut sum = crc32fast::Hasher::new();
    for part in body.split('\r') {
        sum.update(part.as_bytes());
    }
    format!("{:08x}", sum.finalize())
}

#[test]
fn a_turned_bit_is_seen_and_a_changed_line_end_is_not() {
    let text = sealed("(\n    format: 1,\n    note: \"content_crc32\",\n)\n");
    assert_eq!(
        text,
        "(\n    format: 1,\n    note: \"content_crc32\",\n    content_crc32: \"b1715e85\",\n)\n"
    );
    let said = "b1715e85";
    assert_eq!(check(&text, said), Ok(()));
    assert_eq!(check(&text.replace('\n', "\r\n"), said), Ok(()));
    assert!(check(&text.replace("1,", "3,"), said).is_err());
}
