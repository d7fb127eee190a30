//! A gauge study as it is kept in a yard: the table of a study, with the machine it is made on and
//! every place that nobody measured yet.
//!
//! Knows how to write it and to go on with it; what its readings say is read by `study`.

use crate::{
    domain::{
        gauge::study::{Span, StudyReading},
        quantity::Length,
    },
    exchange::{
        sheet::{Row, Sheet},
        study::{columns, value},
    },
};
use csv::WriterBuilder;

/// A study that a crew makes in the yard, with the places that are still to be measured.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptStudy {
    /// The folder name of the machine.
    pub machine: String,
    /// Every planned place in the order of the walk; without a value where nobody measured yet.
    pub readings: Vec<StudyReading>,
}

impl KeptStudy {
    /// Reads what [`write_study`] wrote; `None` for any other table, which nobody can go on with.
    pub fn read(bytes: &[u8]) -> Option<Self> {
        let sheet = Sheet::read(bytes).ok()?;
        let columns = columns(&sheet).ok()?;
        let machine_at = sheet.column(&[MACHINE]).ok()??;
        let name = |row: &Row, column: usize| row.cell(column).map(str::to_owned);
        let machine = name(sheet.rows.first()?, machine_at)?;
        let mut readings = Vec::new();
        for row in &sheet.rows {
            let value = match row.cell(columns.value) {
                Some(_) => Some(value(row, &columns).ok()?),
                None => None,
            };
            readings.push(StudyReading {
                part: name(row, columns.part)?,
                person: name(row, columns.person)?,
                trial: name(row, columns.trial)?,
                value,
            });
        }
        Some(Self { machine, readings })
    }

    /// Whether every place is measured.
    pub fn is_complete(&self) -> bool {
        self.readings.iter().all(|reading| reading.value.is_some())
    }
}

/// The column that says on which machine a study was made.
const MACHINE: &str = "machine";

/// Writes a study made on a machine with the leaves of each reading; places without a value keep
/// their row, so that the plan can be taken up again.
pub fn write_study(machine: &str, readings: &[StudyReading]) -> String {
    let mut rows = WriterBuilder::new().comment(Some(b'#')).from_writer(Vec::new());
    let mut write = |cells: [&str; 7]| {
        // Memory takes every row.
        rows.write_record(cells).ok();
    };
    write([MACHINE, "part", "person", "trial", "value_mm", "go_mm", "no_go_mm"]);
    for StudyReading { part, person, trial, value } in readings {
        let middle = value.map_or(String::new(), |value| value.middle_mm().to_string());
        let leaves = value.filter(|value| value.low() != value.high());
        let mm = |length: fn(Span) -> Length| {
            leaves.map_or(String::new(), |value| length(value).mm().to_string())
        };
        write([machine, part, person, trial, &middle, &mm(Span::low), &mm(Span::high)]);
    }
    String::from_utf8(rows.into_inner().unwrap_or_default()).unwrap_or_default()
}

#[test]
fn what_is_written_is_read_back() {
    use crate::{domain::gauge::study::Table, exchange::read_study};
    let um = Length::from_um;
    let reading = |part: &str, person: &str, value| StudyReading {
        part: part.into(),
        person: person.into(),
        trial: "1".into(),
        value,
    };
    let readings = [
        reading("S2, outer; \"far\"", "#kw", Span::new(um(550), um(600))),
        reading("S2, outer; \"far\"", "ot", Span::exactly(um(572))),
        reading("P1", "#kw", Span::new(Length::from_nm(457_200), Length::from_nm(482_601))),
        reading("P1", "ot", Span::exactly(um(0))),
        reading("P2", "ot", None),
    ];
    let text = write_study("heron", &readings);
    assert_eq!(
        text.lines().nth(1),
        Some("heron,\"S2, outer; \"\"far\"\"\",\"#kw\",1,0.575,0.55,0.6")
    );
    let file = read_study(text.as_bytes()).unwrap();
    assert_eq!(Some(file.table), Table::balanced(&readings[..4]).0);
    assert!(file.issues[0].to_string().starts_with("6: the reading is missing"));
    let kept = KeptStudy::read(text.as_bytes()).unwrap();
    assert_eq!((kept.machine.as_str(), kept.readings.as_slice()), ("heron", &readings[..]));
    assert!(!kept.is_complete());
    assert_eq!(
        KeptStudy::read(b"part,person,trial,value_mm\nP1,kw,1,0.5\n"),
        None,
        "nobody knows on which machine"
    );
}
