//! A gauge study as CSV: `part,person,trial,value_mm`.
//!
//! Header required, columns in any order, `appraiser` for `person` and `value` for `value_mm` as
//! other programs write them; further columns are passed over. Two optional columns, `go_mm` and
//! `no_go_mm`, say between which leaves a reading lies; `value_mm` is then their middle.
//! Whatever is wrong is named by its line, and the largest full part of the rest is studied.

use crate::{
    domain::{
        gauge::study::{Hole, Label, Span, StudyReading, Table, Twice},
        quantity::Length,
    },
    exchange::{
        LineIssue,
        sheet::{Row, Sheet, number, table_bytes},
    },
};
use std::path::Path;

/// A study as it was found in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct StudyFile {
    /// Its largest full part.
    pub table: Table,
    /// What is wrong with it or missing from it, by line.
    pub issues: Vec<LineIssue>,
}

/// Half of the difference that rounding to whole nanometres may make.
const ROUNDING_NM: i64 = 1;

/// Where the cells of a reading stand.
pub(crate) struct Columns {
    pub(crate) part: usize,
    pub(crate) person: usize,
    pub(crate) trial: usize,
    pub(crate) value: usize,
    leaves: Option<(usize, usize)>,
}

/// Reads the study in a file.
///
/// # Errors
///
/// As [`read_study`]; also what the system said if the file cannot be read.
pub fn open_study(path: &Path) -> Result<StudyFile, Vec<LineIssue>> {
    read_study(&table_bytes(path).map_err(|issue| vec![issue])?)
}

/// Reads a study.
///
/// # Errors
///
/// What is wrong, if not a single reading is usable.
pub fn read_study(bytes: &[u8]) -> Result<StudyFile, Vec<LineIssue>> {
    let sheet = Sheet::read(bytes).map_err(|issue| vec![issue])?;
    let columns = columns(&sheet).map_err(|issue| vec![issue])?;
    let (mut lines, mut readings, mut issues) = (Vec::new(), Vec::new(), Vec::new());
    for row in &sheet.rows {
        let name = |column: usize| row.cell(column).map(str::to_owned);
        let names = (name(columns.part), name(columns.person), name(columns.trial));
        let value = if sheet.header.len() < row.len() {
            Err(too_long(row, &sheet))
        } else {
            value(row, &columns)
        };
        match (names, value) {
            ((Some(part), Some(person), Some(trial)), value) => {
                lines.push(row.line);
                let usable = value.as_ref().ok().copied();
                readings.push(StudyReading { part, person, trial, value: usable });
                issues.extend(value.err());
            }
            (_, Err(issue)) => issues.push(issue),
            ((part, person, _), Ok(_)) => {
                let missing = if part.is_none() {
                    "part"
                } else if person.is_none() {
                    "person"
                } else {
                    "trial"
                };
                let what = format!("the {missing} is missing, so this row is not used");
                issues.push(LineIssue::at(row.line, what, "write it, or remove the row"));
            }
        }
    }
    let (table, unbalanced) = Table::balanced(&readings);
    let line = |number: usize| lines.get(number).copied().unwrap_or(sheet.header_line);
    issues.extend(unbalanced.twice.iter().map(|it| twice(it, line)));
    issues.extend(unbalanced.holes.iter().map(|hole| missing(hole, line)));
    issues.sort_by_key(|issue| issue.line);
    let Some(table) = table else {
        let what = "no reading in this file can be used";
        issues.push(LineIssue::whole(what, "write at least one row below the header"));
        return Err(issues);
    };
    let out = unbalanced.left_out.iter();
    issues.extend(out.map(|label| left_out(label, &readings, line)));
    issues.extend(too_few(&table, &readings, line));
    Ok(StudyFile { table, issues })
}

pub(crate) fn columns(sheet: &Sheet) -> Result<Columns, LineIssue> {
    let needed = |names: &[&str]| {
        sheet.column(names)?.ok_or_else(|| {
            let what = format!("the header has no column “{}”", names.join("” or “"));
            LineIssue::at(
                sheet.header_line,
                what,
                "start the file with the line part,person,trial,value_mm",
            )
        })
    };
    let leaves = sheet.column(&["go_mm"])?.zip(sheet.column(&["no_go_mm"])?);
    Ok(Columns {
        part: needed(&["part"])?,
        person: needed(&["person", "appraiser"])?,
        trial: needed(&["trial"])?,
        value: needed(&["value_mm", "value"])?,
        leaves,
    })
}

/// The reading of a row.
pub(crate) fn value(row: &Row, columns: &Columns) -> Result<Span, LineIssue> {
    let length = |column: usize| -> Result<Option<Span>, LineIssue> {
        let Some(text) = row.cell(column) else { return Ok(None) };
        let span = number(text).and_then(Length::from_mm).and_then(Span::exactly);
        span.map(Some).ok_or_else(|| {
            let what = format!("“{text}” is not a reading in millimetres");
            LineIssue::at(row.line, what, "write a number such as 0.55")
        })
    };
    let Some(exact) = length(columns.value)? else {
        return Err(LineIssue::at(
            row.line,
            "the reading is missing",
            "measure it again, or leave it empty to study the rest",
        ));
    };
    let Some((go, no_go)) = columns.leaves else { return Ok(exact) };
    match (length(go)?, length(no_go)?) {
        (None, None) => Ok(exact),
        (Some(go), Some(no_go)) => Span::new(go.low(), no_go.high())
            .filter(|it| (it.twice() - exact.twice()).abs() <= ROUNDING_NM)
            .ok_or_else(|| {
                LineIssue::at(
                    row.line,
                    "value_mm is not the middle of go_mm and no_go_mm",
                    "compare with the paper, and write the two leaves as felt",
                )
            }),
        _ => Err(LineIssue::at(
            row.line,
            "only one of the two leaves is known, so this reading has no middle",
            "measure it with leaves thin and thick enough",
        )),
    }
}

fn too_long(row: &Row, sheet: &Sheet) -> LineIssue {
    let what = format!("this row has {} cells, the header {}", row.len(), sheet.header.len());
    LineIssue::at(row.line, what, "with decimal commas, separate the cells by semicolons")
}

fn twice(it: &Twice, line: impl Fn(usize) -> u64) -> LineIssue {
    let first = line(it.first);
    let (what, next) = if it.agree {
        (format!("this repeats line {first} and is counted once"), "remove one of them")
    } else {
        let what = format!(
            "this reads otherwise than line {first}, for the same part, person and trial; neither \
             is used"
        );
        (what, "find out which is right, and remove the other")
    };
    LineIssue::at(line(it.again), what, next)
}

fn missing(hole: &Hole, line: impl Fn(usize) -> u64) -> LineIssue {
    let Hole { part, person, trials, after } = hole;
    let what = format!(
        "after this line a reading is missing: part “{part}”, person “{person}”, trial {}",
        trials.join(", ")
    );
    LineIssue::at(line(*after), what, "add it, or study the rest")
}

fn left_out(label: &Label, readings: &[StudyReading], line: impl Fn(usize) -> u64) -> LineIssue {
    let (kind, name, first) = match label {
        Label::Part(name) => ("part", name, readings.iter().position(|it| it.part == *name)),
        Label::Person(name) => ("person", name, readings.iter().position(|it| it.person == *name)),
        Label::Trial(name) => ("trial", name, readings.iter().position(|it| it.trial == *name)),
    };
    let what = format!("{kind} “{name}” is not complete and is left out of the study");
    let next = "complete it, and study again";
    first.map_or_else(
        || LineIssue::whole(what.clone(), next),
        |first| LineIssue::at(line(first), what.clone(), next),
    )
}

/// What a table of one person, one trial or one part cannot tell.
fn too_few(
    table: &Table,
    readings: &[StudyReading],
    line: impl Fn(usize) -> u64,
) -> Vec<LineIssue> {
    let one = |names: &[String]| match names {
        [name] => Some(name.clone()),
        _ => None,
    };
    let at = |found: Option<usize>| found.map(&line);
    let mut issues = Vec::new();
    if let Some(name) = one(table.people()) {
        issues.push(LineIssue {
            column: None,
            line: at(readings.iter().position(|it| it.person == name)),
            what: format!("all readings are by one person, “{name}”, so people cannot be compared"),
            next: "let at least two people measure the same parts".to_owned(),
        });
    }
    if let Some(name) = one(table.trials()) {
        issues.push(LineIssue {
            column: None,
            line: at(readings.iter().position(|it| it.trial == name)),
            what: format!(
                "there is one trial, “{name}”, so nothing tells how well a reading repeats"
            ),
            next: "let everybody measure each part at least twice".to_owned(),
        });
    }
    if let Some(name) = one(table.parts()) {
        issues.push(LineIssue {
            column: None,
            line: at(readings.iter().position(|it| it.part == name)),
            what: format!("there is one part, “{name}”, so nothing tells how parts differ"),
            next: "measure at least five parts".to_owned(),
        });
    }
    issues
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::gauge::study::Study;

    /// Everything said about a file, and the size of what was studied.
    fn said(text: &str) -> (Vec<String>, Option<[usize; 3]>) {
        match read_study(text.as_bytes()) {
            Ok(StudyFile { table, issues }) => {
                let size = [table.parts(), table.people(), table.trials()].map(<[String]>::len);
                (issues.iter().map(ToString::to_string).collect(), Some(size))
            }
            Err(issues) => (issues.iter().map(ToString::to_string).collect(), None),
        }
    }

    #[track_caller]
    fn check(text: &str, size: Option<[usize; 3]>, expected: &[&str]) {
        assert_eq!(said(text), (expected.iter().map(|it| (*it).to_owned()).collect(), size));
    }

    const FULL: &str = "part,person,trial,value_mm\n\
        P1,kw,1,0.50\nP1,kw,2,0.52\nP1,ot,1,0.51\nP1,ot,2,0.55\n\
        P2,kw,1,0.70\nP2,kw,2,0.71\nP2,ot,1,0.69\nP2,ot,2,0.72\n";

    #[test]
    fn a_full_study_is_read_whatever_its_order_separator_and_names() {
        check(FULL, Some([2, 2, 2]), &[]);
        let numbers = |text: &str| Study::of(&read_study(text.as_bytes()).unwrap().table);
        let semicolons = FULL.replace(',', ";").replace('.', ",");
        assert_eq!(numbers(&semicolons), numbers(FULL));
        let tabs = FULL.replace(',', "\t").replace('\n', "\r\n");
        assert_eq!(numbers(&tabs), numbers(FULL));
        let renamed = FULL.replace("person", " Appraiser").replace("value_mm", "value");
        assert_eq!(numbers(&format!("\u{feff}# a remark\n{renamed}")), numbers(FULL));
        let turn = |line: &str| {
            let cells: Vec<&str> = line.split(',').collect();
            [cells[3], "note", cells[1], cells[0], cells[2]].join(",")
        };
        let turned: Vec<String> = FULL.lines().map(turn).collect();
        assert_eq!(
            numbers(&turned.join("\n")),
            numbers(FULL),
            "columns in any order, others passed over"
        );
    }

    #[test]
    fn what_is_wrong_is_named_by_line_and_the_rest_is_studied() {
        let with = |from: &str, to: &str| FULL.replacen(from, to, 1);
        check(
            &with("0.71", "wide"),
            Some([1, 2, 2]),
            &[
                "7: “wide” is not a reading in millimetres; write a number such as 0.55",
                "6: part “P2” is not complete and is left out of the study; complete it, and \
                 study again",
                "2: there is one part, “P1”, so nothing tells how parts differ; measure at least \
                 five parts",
            ],
        );
        check(
            &format!("{}P3,kw,1,NaN\n", with("0.71", "")),
            Some([1, 2, 2]),
            &[
                "7: the reading is missing; measure it again, or leave it empty to study the rest",
                "10: “NaN” is not a reading in millimetres; write a number such as 0.55",
                "10: after this line a reading is missing: part “P3”, person “kw”, trial 2; add \
                 it, or study the rest",
                "10: after this line a reading is missing: part “P3”, person “ot”, trial 1, 2; \
                 add it, or study the rest",
                "10: part “P3” is not complete and is left out of the study; complete it, and \
                 study again",
                "6: part “P2” is not complete and is left out of the study; complete it, and \
                 study again",
                "2: there is one part, “P1”, so nothing tells how parts differ; measure at least \
                 five parts",
            ],
        );
        check(
            &format!("{FULL}P1,kw,1,0.50\nP3,,1,0.4\n,kw,1,0.4\n"),
            Some([2, 2, 2]),
            &[
                "10: this repeats line 2 and is counted once; remove one of them",
                "11: the person is missing, so this row is not used; write it, or remove the row",
                "12: the part is missing, so this row is not used; write it, or remove the row",
            ],
        );
        check(
            &format!("{FULL}P2,ot,2,0.27\n"),
            Some([1, 2, 2]),
            &[
                "10: this reads otherwise than line 9, for the same part, person and trial; \
                 neither is used; find out which is right, and remove the other",
                "6: part “P2” is not complete and is left out of the study; complete it, and \
                 study again",
                "2: there is one part, “P1”, so nothing tells how parts differ; measure at least \
                 five parts",
            ],
        );
    }

    #[test]
    fn one_person_or_one_trial_is_studied_as_far_as_it_goes_and_named() {
        let only = |what: &str| {
            let keep = |line: &&str| line.starts_with("part") || line.contains(what);
            FULL.lines().filter(keep).collect::<Vec<_>>().join("\n")
        };
        check(
            &only(",ot,"),
            Some([2, 1, 2]),
            &["2: all readings are by one person, “ot”, so people cannot be compared; let at \
               least two people measure the same parts"],
        );
        check(
            &only(",1,"),
            Some([2, 2, 1]),
            &["2: there is one trial, “1”, so nothing tells how well a reading repeats; let \
               everybody measure each part at least twice"],
        );
    }

    #[test]
    fn a_file_that_is_no_study_says_why() {
        let next = "start the file with the line part,person,trial,value_mm";
        let headless = format!("1: the header has no column “part”; {next}");
        check("1,kw,1,0.5\n", None, &[&headless]);
        let no_person = format!("1: the header has no column “person” or “appraiser”; {next}");
        check("part,trial,value\nP1,1,0.5\n", None, &[&no_person]);
        check(
            "part,person,trial,value_mm\n",
            None,
            &[" no reading in this file can be used; write at least one row below the header"],
        );
        check(
            "part,person,trial,value_mm\nP1,kw,1,0,55\n",
            None,
            &[
                "2: this row has 5 cells, the header 4; with decimal commas, separate the cells \
                 by semicolons",
                " no reading in this file can be used; write at least one row below the header",
            ],
        );
    }

    #[test]
    fn leaves_come_along_and_must_fit_the_value() {
        let text = "part,person,trial,value_mm,go_mm,no_go_mm\n\
                    P1,kw,1,0.575,0.55,0.60\nP1,kw,2,0.6,0.55,0.60\nP1,kw,3,0.55,0.55,\n";
        let file = read_study(text.as_bytes()).unwrap();
        let um = Length::from_um;
        assert_eq!(file.table.rows()[0][0], [Span::new(um(550), um(600)).unwrap()]);
        let said: Vec<String> = file.issues.iter().map(ToString::to_string).collect();
        assert!(said[0].starts_with("3: value_mm is not the middle"), "{said:?}");
        assert!(said[1].starts_with("4: only one of the two leaves"), "{said:?}");
    }
}
