//! Text in a cell that a spreadsheet shall show and not compute.
//!
//! A cell that begins with `=`, `+`, `-`, `@`, a tab or a return is a formula to most
//! spreadsheets, and a formula can reach for other files and addresses. An apostrophe in front
//! makes it text; reading takes that apostrophe away again. Numbers are written as numbers.

/// How a formula begins.
const FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

fn computes(text: &str) -> bool {
    text.trim_start_matches('\'').trim_start_matches([' ', '\n']).starts_with(FORMULA)
}

/// Words as they are put into a cell.
pub(crate) fn guarded(text: &str) -> String {
    if computes(text) { format!("'{text}") } else { text.to_owned() }
}

/// Words as they were before they were put into a cell.
pub(crate) fn bare(text: &str) -> &str {
    text.strip_prefix('\'').filter(|_guarded| computes(text)).unwrap_or(text)
}

#[test]
fn a_formula_becomes_text_and_comes_back() {
    for (words, cell) in [
        ("=cmd|' /C calc'!A0", "'=cmd|' /C calc'!A0"),
        ("+49 30", "'+49 30"),
        ("-wet", "'-wet"),
        ("@all", "'@all"),
        ("\t=1", "'\t=1"),
        (" =1", "' =1"),
        ("'=1", "''=1"),
        ("'tis dry", "'tis dry"),
        ("KW", "KW"),
        ("", ""),
    ] {
        assert_eq!(guarded(words), cell);
        assert_eq!(bare(cell), words);
    }
}
