//! A yard as tables that other programs read; readings and work read back the same.
//!
//! Visits that a later one corrects are left out, as everywhere. Numbers keep every digit.

use crate::{
    domain::{
        decide::mark_limit,
        log::{BoltSpan, FindingKind, History, Mark, Session, SessionId, WeldPart, Work},
        machine::{BladeId, Shear, StationId},
        quantity::{Hours, Length, Temperature},
        yard::Machine,
    },
    exchange::{cell::guarded, visits::work::kind_of},
};
use chrono::{DateTime, SecondsFormat, Utc};
use csv::{Writer, WriterBuilder};
use std::collections::BTreeMap;

const READINGS: [&str; 17] = [
    "shear",
    "station",
    "taken",
    "meter_h",
    "go_mm",
    "no_go_mm",
    "blade_temp_c",
    "place",
    "session",
    "by",
    "air_temp_c",
    "jaw_temp_c",
    "tonnage_t",
    "cuts",
    "leaves",
    "note",
    "set_aside",
];

const WORK: [&str; 23] = [
    "shear",
    "line",
    "at",
    "meter_h",
    "kind",
    "put_in_mm",
    "take_out_mm",
    "edge",
    "blade",
    "first_bolt",
    "last_bolt",
    "pack_mm",
    "torque_nm",
    "old_h",
    "new_h",
    "place",
    "consumable",
    "cooled_slowly",
    "template_checked",
    "with_blade",
    "session",
    "by",
    "part",
];

const MARKS: [&str; 11] = [
    "shear", "blade", "kind", "taken", "meter_h", "value_mm", "limit_mm", "name", "session", "by",
    "note",
];

const FINDINGS: [&str; 11] = [
    "shear", "line", "station", "taken", "meter_h", "finding", "size_mm", "note", "place",
    "session", "by",
];

/// Every reading that counts, one a row.
pub fn readings_table<'m>(machines: impl IntoIterator<Item = &'m Machine>) -> String {
    let mut table = Rows::new(READINGS);
    for machine in machines {
        let aside = set_aside(&machine.history);
        for session in &machine.history.sessions {
            for reading in &session.readings {
                let why = aside.get(&(&session.id, reading.station)).copied();
                let line = machine.shear.line(reading.station.line);
                let go = (!reading.bracket.is_open_below()).then(|| reading.bracket.go());
                table.add(&[
                    session.shear.as_str().to_owned(),
                    reading.station.to_string(),
                    time(session.taken),
                    hours(session.meter),
                    length(go),
                    length(reading.bracket.no_go()),
                    temperature(reading.blade_temp),
                    guarded(line.map_or("", |line| &line.place)),
                    session.id.to_string(),
                    guarded(session.by.trim()),
                    temperature(session.air_temp),
                    temperature(session.jaw_temp),
                    count(session.counters.tonnes),
                    count(session.counters.cuts),
                    guarded(reading.leaves.as_deref().unwrap_or_default()),
                    guarded(session.note.trim()),
                    guarded(why.unwrap_or_default()),
                ]);
            }
        }
    }
    table.text()
}

/// Why readings do not count for growth, where somebody set them aside.
fn set_aside(history: &History) -> BTreeMap<(&SessionId, StationId), &str> {
    let each = history.readings.iter().flat_map(|(station, readings)| {
        readings.iter().filter_map(|it| Some(((&it.session, *station), it.set_aside.as_deref()?)))
    });
    each.collect()
}

/// Every piece of work that counts, one a row.
pub fn work_table<'m>(machines: impl IntoIterator<Item = &'m Machine>) -> String {
    let mut table = Rows::new(WORK);
    for machine in machines {
        for session in &machine.history.sessions {
            for work in &session.work {
                table.add(&work_cells(&machine.shear, session, work));
            }
        }
    }
    table.text()
}

/// Every wear mark that counts, one a row, with its limit as it is now.
pub fn marks_table<'m>(machines: impl IntoIterator<Item = &'m Machine>) -> String {
    let mut table = Rows::new(MARKS);
    for machine in machines {
        for session in &machine.history.sessions {
            for Mark { blade, kind, value } in &session.marks {
                let known = machine.shear.blade(blade);
                table.add(&[
                    session.shear.as_str().to_owned(),
                    guarded(&blade.0),
                    kind.key().to_owned(),
                    time(session.taken),
                    hours(session.meter),
                    length(Some(*value)),
                    length(known.and_then(|it| mark_limit(&it.wear, *kind))),
                    guarded(known.map_or("", |it| &it.name)),
                    session.id.to_string(),
                    guarded(session.by.trim()),
                    guarded(session.note.trim()),
                ]);
            }
        }
    }
    table.text()
}

/// Everything that was seen or heard, one a row.
pub fn findings_table<'m>(machines: impl IntoIterator<Item = &'m Machine>) -> String {
    let mut table = Rows::new(FINDINGS);
    for machine in machines {
        for session in &machine.history.sessions {
            for finding in &session.findings {
                let line = finding.line.and_then(|line| machine.shear.line(line));
                let station = finding.line.zip(finding.station);
                let station = station.map(|(line, number)| StationId { line, number });
                table.add(&[
                    session.shear.as_str().to_owned(),
                    finding.line.map_or_else(String::new, |line| line.to_string()),
                    station.map_or_else(String::new, |station| station.to_string()),
                    time(session.taken),
                    hours(session.meter),
                    guarded(seen_as(&finding.kind)),
                    length(finding.size),
                    guarded(finding.note.trim()),
                    guarded(line.map_or("", |line| &line.place)),
                    session.id.to_string(),
                    guarded(session.by.trim()),
                ]);
            }
        }
    }
    table.text()
}

/// The words of a finding.
pub(crate) fn seen_as(kind: &FindingKind) -> &str {
    match kind {
        FindingKind::StrawStreak => "straw streak",
        FindingKind::BrownStreak => "brown streak",
        FindingKind::PurpleStreak => "purple streak",
        FindingKind::BlueStreak => "blue streak",
        FindingKind::SurfaceCracks => "surface cracks",
        FindingKind::ChippedEdge => "chipped edge",
        FindingKind::Jam => "jam",
        FindingKind::Chatter => "chatter",
        FindingKind::LooseBolt => "loose bolt",
        FindingKind::StockCaught => "stock caught",
        FindingKind::Own(words) => words,
    }
}

fn work_cells(shear: &Shear, session: &Session, work: &Work) -> [String; 23] {
    let mut cells: [String; 23] = std::array::from_fn(|_| String::new());
    let mut put = |column: &str, text: String| {
        let place = WORK.iter().position(|name| *name == column);
        if let Some(cell) = place.and_then(|place| cells.get_mut(place)) {
            *cell = text;
        }
    };
    put("shear", session.shear.as_str().to_owned());
    put("at", time(session.taken));
    put("meter_h", hours(session.meter));
    put("kind", kind_of(work).to_owned());
    put("session", session.id.to_string());
    put("by", guarded(session.by.trim()));
    if let Some(blade) = work.blade() {
        put("line", lines_of(shear, blade));
        put("blade", guarded(&blade.0));
    }
    let yes = |it: &bool| if *it { "yes" } else { "no" }.to_owned();
    match work {
        Work::Shims { bolts, put_in, take_out, .. } => {
            put("put_in_mm", shims_text(put_in));
            put("take_out_mm", shims_text(take_out));
            if let Some(BoltSpan { first, last }) = bolts {
                put("first_bolt", first.to_string());
                put("last_bolt", last.to_string());
            }
        }
        Work::Turned { edge, pack, .. } => {
            put("edge", edge.to_string());
            put("pack_mm", shims_text(pack));
        }
        Work::Replaced { pack, .. } => put("pack_mm", shims_text(pack)),
        Work::Swapped { with, .. } => put("with_blade", guarded(&with.0)),
        Work::Tightened { torque, .. } => put("torque_nm", torque.newton_metres().to_string()),
        Work::Welded { part, place, consumable, cooled_slowly, template_checked } => {
            put("part", weld_part(part).to_owned());
            put("place", guarded(place.trim()));
            put("consumable", guarded(consumable.trim()));
            put("cooled_slowly", yes(cooled_slowly));
            put("template_checked", yes(template_checked));
        }
        Work::Lubricated => {}
        Work::MeterChanged { old, new } => {
            put("old_h", hours(*old));
            put("new_h", hours(*new));
        }
    }
    cells
}

/// The word of a part that was welded.
const fn weld_part(part: &WeldPart) -> &'static str {
    match part {
        WeldPart::Tip(_) => "tip",
        WeldPart::UpperJaw => "upper_jaw",
        WeldPart::LowerJaw => "lower_jaw",
        WeldPart::Elsewhere => "",
    }
}

/// The lines a blade faces.
pub(crate) fn lines_of(shear: &Shear, blade: &BladeId) -> String {
    let faces = shear.lines.iter().filter(|line| line.moving == *blade || line.fixed == *blade);
    let mut letters: Vec<String> = faces.map(|line| line.id.to_string()).collect();
    letters.sort();
    letters.join(" ")
}

fn time(time: DateTime<Utc>) -> String {
    time.to_rfc3339_opts(SecondsFormat::AutoSi, true)
}

fn hours(hours: Hours) -> String {
    hours.h().to_string()
}

fn length(length: Option<Length>) -> String {
    length.map_or_else(String::new, |it| it.mm().to_string())
}

fn temperature(temperature: Option<Temperature>) -> String {
    temperature.map_or_else(String::new, |it| it.c().to_string())
}

fn count(count: Option<u64>) -> String {
    count.map_or_else(String::new, |it| it.to_string())
}

/// Shims in one cell, apart by spaces.
pub(crate) fn shims_text(shims: &[Length]) -> String {
    let thick: Vec<String> = shims.iter().map(|it| it.mm().to_string()).collect();
    thick.join(" ")
}

/// Rows of one table in memory.
struct Rows<const N: usize>(Writer<Vec<u8>>);

impl<const N: usize> Rows<N> {
    fn new(header: [&str; N]) -> Self {
        let mut rows = Self(WriterBuilder::new().comment(Some(b'#')).from_writer(Vec::new()));
        rows.add(&header.map(str::to_owned));
        rows
    }

    fn add(&mut self, cells: &[String; N]) {
        // Memory takes every row.
        self.0.write_record(cells).ok();
    }

    fn text(self) -> String {
        String::from_utf8(self.0.into_inner().unwrap_or_default()).unwrap_or_default()
    }
}
