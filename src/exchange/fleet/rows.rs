//! What stands in the three tables, and in which part of them.
//!
//! Knows the log and its fold; does not know the file format.

use crate::{
    domain::{
        log::{Finding, Observed, Reading, Session, SessionId, Work, families},
        machine::{Line, StationId},
        quantity::{Hours, Length, Temperature},
        yard::Machine,
    },
    exchange::{
        fleet::{
            Unwritable,
            columns::{Cell, Table},
        },
        visits::{kind_of, lines_of, seen_as, shims_text},
    },
};
use chrono::{DateTime, Datelike as _, Utc};
use std::collections::BTreeMap;

/// One file to be added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its folder below the fleet's, such as `readings/shear=heron/year=2026`.
    pub folder: String,
    /// What stands in it.
    pub bytes: Vec<u8>,
}

const READINGS: &[&str] = &[
    "yard",
    "session",
    "station",
    "line",
    "place",
    "taken",
    "meter_h",
    "service_h",
    "segment",
    "go_mm",
    "no_go_mm",
    "blade_temp_c",
    "jaw_temp_c",
    "air_temp_c",
    "set_aside",
    "working_min_mm",
    "working_max_mm",
    "stop_min_mm",
    "stop_max_mm",
    "limits_source",
];

const SESSIONS: &[&str] = &[
    "yard",
    "session",
    "family",
    "amends",
    "taken",
    "meter_h",
    "service_h",
    "by",
    "air_temp_c",
    "jaw_temp_c",
    "tonnage_t",
    "cuts",
    "readings",
    "work",
    "findings",
    "note",
];

const WORK: &[&str] = &[
    "yard",
    "session",
    "number",
    "at",
    "meter_h",
    "service_h",
    "kind",
    "blade",
    "lines",
    "put_in_mm",
    "take_out_mm",
    "pack_mm",
    "edge",
    "torque_nm",
];

/// The files that hold every visit of a machine for which `wanted` says yes, in the yard of this name.
///
/// # Errors
///
/// [`Unwritable`] if the library of the format refuses a table.
pub fn parts(
    yard: &str,
    machine: &Machine,
    wanted: impl Fn(&SessionId) -> bool,
) -> Result<Vec<Part>, Unwritable> {
    let mut parts = Vec::new();
    let log = Log::of(yard, machine);
    let mut years: BTreeMap<i32, [Table; 3]> = BTreeMap::new();
    let new = || [Table::new(READINGS), Table::new(SESSIONS), Table::new(WORK)];
    for session in machine.sessions.iter().filter(|it| wanted(&it.id)) {
        let [readings, sessions, work] = years.entry(session.taken.year()).or_insert_with(new);
        session.readings.iter().for_each(|it| log.reading(readings, session, it));
        log.session(sessions, session);
        (1_i64..).zip(&session.work).for_each(|it| log.work(work, session, it));
    }
    for (year, tables) in years {
        for (name, table) in ["readings", "sessions", "work_done"].into_iter().zip(tables) {
            if !table.is_empty() {
                let folder = format!("{name}/shear={}/year={year}", machine.shear.id);
                parts.push(Part { folder, bytes: table.file()? });
            }
        }
    }
    Ok(parts)
}

/// The log of one machine, with what follows from all of it.
struct Log<'a> {
    yard: &'a str,
    machine: &'a Machine,
    service: BTreeMap<&'a SessionId, Hours>,
    families: BTreeMap<&'a SessionId, &'a SessionId>,
    aside: BTreeMap<(&'a SessionId, StationId), &'a Observed>,
}

impl<'a> Log<'a> {
    fn of(yard: &'a str, machine: &'a Machine) -> Self {
        let history = &machine.history;
        let counted = history.sessions.iter().zip(&history.service);
        let observed = history.readings.iter().flat_map(|(station, readings)| {
            readings.iter().map(|it| ((&it.session, *station), it))
        });
        Self {
            yard,
            machine,
            service: counted.map(|(session, at)| (&session.id, *at)).collect(),
            families: families(&machine.sessions),
            aside: observed.filter(|(_, it)| it.set_aside.is_some()).collect(),
        }
    }

    /// Service hours of a visit that counts.
    fn service(&self, session: &Session) -> Cell {
        Cell::Number(self.service.get(&session.id).map(|at| at.h()))
    }

    fn reading(&self, table: &mut Table, session: &Session, reading: &Reading) {
        let line = self.machine.shear.line(reading.station.line);
        let counts = self.service.contains_key(&session.id);
        let aside = self.aside.get(&(&session.id, reading.station));
        let bracket = reading.bracket;
        let limit = |of: fn(&Line) -> Length| Cell::Number(line.map(|line| of(line).mm()));
        table.add([
            Cell::text(self.yard),
            Cell::text(session.id.as_str()),
            Cell::text(reading.station.to_string()),
            Cell::text(reading.station.line.to_string()),
            Cell::Text(line.map(|line| line.place.clone())),
            time(session.taken),
            Cell::Number(Some(session.meter.h())),
            self.service(session),
            Cell::Count(counts.then(|| self.segment(session, reading.station))),
            length((!bracket.is_open_below()).then(|| bracket.go())),
            length(bracket.no_go()),
            temperature(reading.blade_temp),
            temperature(session.jaw_temp),
            temperature(session.air_temp),
            Cell::Text(aside.and_then(|it| it.set_aside.clone())),
            limit(|line| line.limits.working().min),
            limit(|line| line.limits.working().max),
            limit(|line| line.limits.stop().min),
            limit(|line| line.limits.stop().max),
            Cell::Text(line.map(|line| line.limits.source().to_owned())),
        ]);
    }

    /// How often work had moved the line's gaps before this visit; what a visit does comes after
    /// what it measures.
    fn segment(&self, session: &Session, station: StationId) -> i64 {
        let here = (session.taken, &session.id);
        let cuts = self.machine.history.cuts_on(station.line);
        let before = cuts.partition_point(|cut| (cut.taken, &cut.session) < here);
        i64::try_from(before).unwrap_or(i64::MAX)
    }

    fn session(&self, table: &mut Table, session: &Session) {
        let family = self.families.get(&session.id).copied().unwrap_or(&session.id);
        let seen: Vec<String> = session.findings.iter().map(finding).collect();
        let whole = |count: Option<u64>| Cell::Count(count.and_then(|it| i64::try_from(it).ok()));
        let size = |count: usize| Cell::Count(i64::try_from(count).ok());
        table.add([
            Cell::text(self.yard),
            Cell::text(session.id.as_str()),
            Cell::text(family.as_str()),
            Cell::Text(session.amends.as_ref().map(ToString::to_string)),
            time(session.taken),
            Cell::Number(Some(session.meter.h())),
            self.service(session),
            Cell::text(session.by.trim()),
            temperature(session.air_temp),
            temperature(session.jaw_temp),
            whole(session.counters.tonnes),
            whole(session.counters.cuts),
            size(session.readings.len()),
            size(session.work.len()),
            Cell::text(seen.join("; ")),
            Cell::text(session.note.trim()),
        ]);
    }

    fn work(&self, table: &mut Table, session: &Session, (number, work): (i64, &Work)) {
        let (mut put_in, mut take_out, mut pack) = (&[][..], &[][..], &[][..]);
        let (mut edge, mut torque) = (None, None);
        match work {
            Work::Shims { put_in: into, take_out: out, .. } => (put_in, take_out) = (into, out),
            Work::Turned { edge: to, pack: with, .. } => {
                (edge, pack) = (Some(i64::from(*to)), with);
            }
            Work::Replaced { pack: with, .. } => pack = with,
            Work::Tightened { torque: to, .. } => torque = Some(to.newton_metres()),
            Work::Swapped { .. }
            | Work::Welded { .. }
            | Work::Lubricated
            | Work::MeterChanged { .. } => {}
        }
        let lines = work.blade().map(|blade| lines_of(&self.machine.shear, blade));
        table.add([
            Cell::text(self.yard),
            Cell::text(session.id.as_str()),
            Cell::Count(Some(number)),
            time(session.taken),
            Cell::Number(Some(session.meter.h())),
            self.service(session),
            Cell::text(kind_of(work)),
            Cell::Text(work.blade().map(|blade| blade.0.clone())),
            Cell::text(lines.unwrap_or_default()),
            Cell::text(shims_text(put_in)),
            Cell::text(shims_text(take_out)),
            Cell::text(shims_text(pack)),
            Cell::Count(edge),
            Cell::Number(torque),
        ]);
    }
}

/// What was seen and where, such as `blue streak G2`.
fn finding(finding: &Finding) -> String {
    let kind = seen_as(&finding.kind);
    match (finding.line, finding.station) {
        (Some(line), Some(station)) => format!("{kind} {line}{station}"),
        (Some(line), None) => format!("{kind} {line}"),
        (None, _) => kind.to_owned(),
    }
}

const fn time(time: DateTime<Utc>) -> Cell {
    Cell::Time(time.timestamp_micros())
}

fn length(length: Option<Length>) -> Cell {
    Cell::Number(length.map(Length::mm))
}

fn temperature(temperature: Option<Temperature>) -> Cell {
    Cell::Number(temperature.map(Temperature::c))
}
