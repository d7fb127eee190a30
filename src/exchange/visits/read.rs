//! A table of readings, and rows gathered into visits.
//!
//! Knows what one row says and which rows belong together. Does not know the yard.

use crate::{
    domain::{
        gauge::Bracket,
        log::{Mark, MarkKind, Reading, SessionId},
        machine::{BladeId, ShearId, StationId},
        quantity::{Hours, Length, Temperature},
    },
    exchange::{
        LineIssue,
        sheet::Sheet,
        visits::{
            GoesOn,
            columns::{Cells, have},
            work::Meant,
        },
    },
};
use chrono::{DateTime, Utc};
use std::{collections::BTreeMap, sync::Arc};

const NEEDED: [&str; 7] =
    ["shear", "station", "taken", "meter_h", "go_mm", "no_go_mm", "blade_temp_c"];

const MARKS_NEEDED: [&str; 6] = ["shear", "blade", "kind", "taken", "meter_h", "value_mm"];

/// Which visit a row belongs to.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Key {
    pub(crate) shear: ShearId,
    pub(crate) taken: DateTime<Utc>,
    pub(crate) session: Option<SessionId>,
}

/// What every row of a visit says about the visit, each with its line; all must agree.
#[derive(Clone, Debug, Default)]
pub(crate) struct About {
    pub(crate) meter: Option<Hours>,
    pub(crate) by: Option<String>,
    pub(crate) note: Option<String>,
    pub(crate) air_temp: Option<Temperature>,
    pub(crate) jaw_temp: Option<Temperature>,
    pub(crate) tonnes: Option<u64>,
    pub(crate) cuts: Option<u64>,
}

/// The rows of one visit: `R` is a reading or a piece of work.
#[derive(Clone, Debug)]
pub(crate) struct Gathered<R> {
    /// The line of its first row.
    pub(crate) line: u64,
    pub(crate) about: About,
    pub(crate) rows: Vec<R>,
}

/// Everything a table says, by visit, and everything wrong with it.
#[derive(Clone, Debug)]
pub(crate) struct Visits<R> {
    pub(crate) visits: BTreeMap<Key, Gathered<R>>,
    pub(crate) issues: Vec<LineIssue>,
}

/// What is wrong with a name that reads well: a fact and a next step.
pub(crate) type Refused = (String, String);

/// Reads a table of readings; `known` says what to do about a station nobody knows.
pub(crate) fn readings(
    bytes: &[u8],
    goes_on: GoesOn<'_>,
    mut known: impl FnMut(&ShearId, StationId) -> Result<(), Refused>,
) -> Visits<Reading> {
    gather(bytes, &NEEDED, goes_on, |cells| {
        let (shear, taken, session) = (cells.shear()?, cells.time("taken")?, cells.session()?);
        let station = cells.must("station", "a station such as P1", |text| text.parse().ok())?;
        let blade_temp = cells.temperature("blade_temp_c")?;
        let leaves = Some(cells.words("leaves")).filter(|name| !name.is_empty()).map(Arc::from);
        let reading = Reading { station, bracket: bracket(cells)?, blade_temp, leaves };
        known(&shear, station).map_err(|(what, next)| cells.fault("station", what, next))?;
        Ok((Key { shear, taken, session }, reading))
    })
}

/// Reads a table of wear marks; `known` says what to do about a blade nobody knows.
pub(crate) fn marks(
    bytes: &[u8],
    goes_on: GoesOn<'_>,
    mut known: impl FnMut(Meant) -> Result<BladeId, Refused>,
) -> Visits<Mark> {
    gather(bytes, &MARKS_NEEDED, goes_on, |cells| {
        let (shear, taken, session) = (cells.shear()?, cells.time("taken")?, cells.session()?);
        let kinds = MarkKind::ALL.map(MarkKind::key).join(", ");
        let kind = cells.must("kind", &format!("one of {kinds}"), |text| {
            let low = text.to_lowercase().replace([' ', '-'], "_");
            MarkKind::ALL.into_iter().find(|kind| kind.key() == low)
        })?;
        let next = "write millimetres above zero, such as 1.4";
        let value = cells.length("value_mm")?.filter(|value| Length::ZERO < *value);
        let value = value.ok_or_else(|| cells.fault("value_mm", "nothing was measured", next))?;
        let blade = cells.must("blade", "the name of a blade in shear.ron", |text| {
            Some(BladeId(text.to_owned()))
        })?;
        let meant = Meant { shear: shear.clone(), lines: Vec::new(), blade: Some(blade) };
        let blade = known(meant).map_err(|(what, next)| cells.fault("blade", what, next))?;
        Ok((Key { shear, taken, session }, Mark { blade, kind, value }))
    })
}

fn bracket(cells: Cells<'_>) -> Result<Bracket, LineIssue> {
    let (go, no_go) = (cells.length("go_mm")?, cells.length("no_go_mm")?);
    if go.is_none() && no_go.is_none() {
        let what = "“go_mm” and “no_go_mm” are both empty, so nothing was measured";
        return Err(cells.fault(
            "go_mm",
            what,
            "write what went and what did not, or remove the row",
        ));
    }
    Bracket::new(go.unwrap_or(Length::ZERO), no_go).map_err(|err| {
        cells.fault("no_go_mm", err.to_string(), "compare with the paper, and write both as felt")
    })
}

/// Reads every row and puts those of one visit together, in the order they stand.
pub(crate) fn gather<R>(
    bytes: &[u8],
    needed: &[&str],
    goes_on: GoesOn<'_>,
    mut row_of: impl FnMut(Cells<'_>) -> Result<(Key, R), LineIssue>,
) -> Visits<R> {
    let mut found = Visits { visits: BTreeMap::new(), issues: Vec::new() };
    let sheet = match Sheet::read(bytes) {
        Ok(sheet) => sheet,
        Err(issue) => {
            found.issues.push(issue);
            return found;
        }
    };
    if let Err(issue) = have(&sheet, needed) {
        found.issues.push(issue);
        return found;
    }
    for (done, row) in sheet.rows.iter().enumerate() {
        if !goes_on(done, sheet.rows.len()) {
            break;
        }
        let taken = Cells::of(&sheet, row).and_then(|cells| {
            let (key, row) = row_of(cells)?;
            let new = || Gathered { line: cells.line(), about: About::default(), rows: Vec::new() };
            let visit = found.visits.entry(key).or_insert_with(new);
            visit.about.take(cells)?;
            visit.rows.push(row);
            Ok(())
        });
        found.issues.extend(taken.err());
    }
    found
}

impl About {
    fn take(&mut self, cells: Cells<'_>) -> Result<(), LineIssue> {
        let text = |column| Some(cells.words(column)).filter(|words| !words.is_empty());
        let (by, note) = (text("by"), text("note"));
        agree(&mut self.meter, Some(cells.hours("meter_h")?), cells, "meter_h")?;
        agree(&mut self.by, by, cells, "by")?;
        agree(&mut self.note, note, cells, "note")?;
        agree(&mut self.air_temp, cells.temperature("air_temp_c")?, cells, "air_temp_c")?;
        agree(&mut self.jaw_temp, cells.temperature("jaw_temp_c")?, cells, "jaw_temp_c")?;
        agree(&mut self.tonnes, cells.count("tonnage_t")?, cells, "tonnage_t")?;
        agree(&mut self.cuts, cells.count("cuts")?, cells, "cuts")
    }
}

/// Keeps what the first row said; a later one may say the same, or nothing.
fn agree<T: PartialEq>(
    kept: &mut Option<T>,
    said: Option<T>,
    cells: Cells<'_>,
    column: &str,
) -> Result<(), LineIssue> {
    if said.is_some() && kept.is_some() && *kept != said {
        let what = format!("“{column}” reads otherwise than in an earlier row of this visit");
        return Err(cells.fault(
            column,
            what,
            "write the same in both, or give each visit its time",
        ));
    }
    if kept.is_none() {
        *kept = said;
    }
    Ok(())
}
