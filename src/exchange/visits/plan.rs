//! What tables would change in a yard.
//!
//! Knows what is there already, so that importing a table twice changes nothing the second time.
//! A signed visit is never changed: where a table disagrees with one, that is a fault. Writes
//! nothing.

use crate::{
    domain::{
        log::{Counters, Mark, Reading, Session, SessionId, Work},
        machine::{
            BladeId, Shear, ShearId, StationId,
            bare::{Known, bare, fixed_blade, with},
        },
        quantity::Hours,
        yard::Yard,
    },
    exchange::{
        LineIssue,
        visits::{
            GoesOn, Table, TableIssue,
            read::{About, Gathered, Key, Refused, Visits, marks, readings},
            work::{Meant, work},
        },
    },
};
use chrono::{DateTime, Utc};
use std::collections::{BTreeMap, BTreeSet};

/// Whether a visit of a table is in the yard already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// It would be added.
    New,
    /// It is there and says the same.
    There,
}

/// One visit of the tables.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The visit as it would be signed, or as it is there.
    pub session: Session,
    /// What would happen to it.
    pub fate: Fate,
}

/// What would change.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Machines that would be described anew, or with more stations and blades than now.
    pub machines: Vec<Shear>,
    /// Every visit, by machine and time.
    pub changes: Vec<Change>,
    /// Everything that is wrong; with any of these nothing should be imported.
    pub issues: Vec<TableIssue>,
}

/// The tables that are taken in together, each as the bytes of its file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tables<'a> {
    /// One row per reading.
    pub readings: Option<&'a [u8]>,
    /// One row per piece of work.
    pub work: Option<&'a [u8]>,
    /// One row per wear mark.
    pub marks: Option<&'a [u8]>,
}

/// Works out what tables would change. A machine, station or blade that the yard does not know
/// is a fault, unless `create` says that it may be made.
pub fn plan(yard: &Yard, tables: Tables<'_>, create: Create) -> Plan {
    plan_while(yard, tables, create, &|_, _| true)
}

/// As [`plan`], as long as `goes_on` says so; what is known by then is of no use after a no.
pub fn plan_while(yard: &Yard, tables: Tables<'_>, create: Create, goes_on: GoesOn<'_>) -> Plan {
    let mut names = Names { yard, create, wanted: BTreeMap::new() };
    let known = |bytes| readings(bytes, goes_on, |shear, station| names.station(shear, station));
    let read = tables.readings.map(known);
    let done = tables.work.map(|bytes| work(bytes, goes_on, |meant| names.blade(meant)));
    let worn = tables.marks.map(|bytes| marks(bytes, goes_on, |meant| names.blade(meant)));
    let mut issues = Vec::new();
    let readings = taken_apart(read, Table::Readings, &mut issues);
    let work = taken_apart(done, Table::Work, &mut issues);
    let marks = taken_apart(worn, Table::Marks, &mut issues);
    let machines = names.machines();
    let changes = Bench::new(yard).changes(merged(readings, work, marks), &mut issues);
    issues.sort_by_key(|it| (it.table, it.issue.line, it.issue.column));
    Plan { machines, changes, issues }
}

/// What to do about a name the yard does not know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Create {
    /// It is a fault.
    Nothing,
    /// Make what is missing, with wide-open demonstration limits.
    WhatIsMissing,
}

fn taken_apart<R>(
    found: Option<Visits<R>>,
    table: Table,
    issues: &mut Vec<TableIssue>,
) -> BTreeMap<Key, Gathered<R>> {
    let Some(Visits { visits, issues: wrong }) = found else { return BTreeMap::new() };
    issues.extend(wrong.into_iter().map(|issue| TableIssue { table, issue }));
    visits
}

/// The names in the tables against those of the yard.
struct Names<'a> {
    yard: &'a Yard,
    create: Create,
    wanted: BTreeMap<ShearId, Known>,
}

impl Names<'_> {
    /// What is to be made of this machine, or why nothing is.
    fn wanted(&mut self, shear: &ShearId, missing: &str) -> Result<&mut Known, Refused> {
        if self.create == Create::WhatIsMissing {
            return Ok(self.wanted.entry(shear.clone()).or_default());
        }
        let next = "correct it, describe it in shear.ron, or import with --create";
        let what = match self.yard.machine(shear) {
            Some(_) => format!("{missing} of the machine “{shear}”"),
            None => format!("“{shear}” is no machine of this yard"),
        };
        Err((what, next.to_owned()))
    }

    fn station(&mut self, shear: &ShearId, station: StationId) -> Result<(), Refused> {
        let known = self.yard.machine(shear).and_then(|it| it.shear.station(station));
        if known.is_some() {
            return Ok(());
        }
        let wanted = self.wanted(shear, &format!("{station} is no station"))?;
        let highest = wanted.stations.entry(station.line).or_default();
        *highest = station.number.max(*highest);
        Ok(())
    }

    fn blade(&mut self, Meant { shear, lines, blade }: Meant) -> Result<BladeId, Refused> {
        let there = self.yard.machine(&shear).map(|it| &it.shear);
        let line = lines.first().copied();
        if let Some(blade) = blade {
            if there.is_some_and(|it| it.blade(&blade).is_some()) {
                return Ok(blade);
            }
            let wanted = self.wanted(&shear, &format!("“{blade}” is no blade"))?;
            let new_lines =
                lines.iter().filter(|id| there.is_none_or(|it| it.line(**id).is_none()));
            let mut faces = false;
            for id in new_lines {
                let blades = wanted.blades.entry(*id).or_default();
                if !blades.contains(&blade) && blades.len() < 2 {
                    blades.push(blade.clone());
                }
                faces |= blades.contains(&blade);
            }
            if !faces {
                wanted.apart.insert(blade.clone());
            }
            return Ok(blade);
        }
        let Some(line) = line else {
            return Err(("no blade is named".to_owned(), "name its line".to_owned()));
        };
        if let Some(found) = there.and_then(|it| it.line(line)) {
            return Ok(found.fixed.clone());
        }
        let wanted = self.wanted(&shear, &format!("{line} is no line"))?;
        let blades = wanted.blades.entry(line).or_default();
        if blades.is_empty() {
            blades.push(fixed_blade(line));
        }
        Ok(blades.first().cloned().unwrap_or_else(|| fixed_blade(line)))
    }

    fn machines(&self) -> Vec<Shear> {
        let made = self.wanted.iter().filter_map(|(id, known)| match self.yard.machine(id) {
            Some(machine) => with(&machine.shear, known).filter(|it| *it != machine.shear),
            None => bare(id.clone(), known),
        });
        made.collect()
    }
}

/// The rows of one visit in all tables.
#[derive(Default)]
struct Rows {
    readings: Option<Gathered<Reading>>,
    work: Option<Gathered<Work>>,
    marks: Option<Gathered<Mark>>,
}

impl Rows {
    /// The first table that has some, and their first line in it.
    fn first(&self) -> Option<(Table, u64)> {
        let readings = self.readings.as_ref().map(|it| (Table::Readings, it.line));
        let work = || self.work.as_ref().map(|it| (Table::Work, it.line));
        let marks = || self.marks.as_ref().map(|it| (Table::Marks, it.line));
        readings.or_else(work).or_else(marks)
    }
}

/// Rows of all tables that are one visit. Where only one of them names it, its time is enough.
fn merged(
    readings: BTreeMap<Key, Gathered<Reading>>,
    work: BTreeMap<Key, Gathered<Work>>,
    marks: BTreeMap<Key, Gathered<Mark>>,
) -> BTreeMap<Key, Rows> {
    let mut by_time: BTreeMap<(ShearId, DateTime<Utc>), SessionId> = BTreeMap::new();
    for key in readings.keys().chain(work.keys()).chain(marks.keys()) {
        if let Some(session) = &key.session {
            by_time.insert((key.shear.clone(), key.taken), session.clone());
        }
    }
    let named = |key: Key| {
        let twin = by_time.get(&(key.shear.clone(), key.taken)).cloned();
        Key { session: key.session.or(twin), ..key }
    };
    let mut all: BTreeMap<Key, Rows> = BTreeMap::new();
    for (key, rows) in readings {
        all.entry(named(key)).or_default().readings = Some(rows);
    }
    for (key, rows) in work {
        all.entry(named(key)).or_default().work = Some(rows);
    }
    for (key, rows) in marks {
        all.entry(named(key)).or_default().marks = Some(rows);
    }
    all
}

/// The visits of the yard, to be found by name and by time.
struct Bench<'a> {
    by_name: BTreeMap<(&'a ShearId, &'a SessionId), &'a Session>,
    by_time: BTreeMap<(&'a ShearId, DateTime<Utc>), &'a Session>,
}

impl<'a> Bench<'a> {
    fn new(yard: &'a Yard) -> Self {
        let mut bench = Self { by_name: BTreeMap::new(), by_time: BTreeMap::new() };
        for machine in &yard.machines {
            let id = &machine.shear.id;
            // Of several at one time the one that counts is found, so it comes last.
            for session in machine.sessions.iter().chain(&machine.history.sessions) {
                bench.by_name.insert((id, &session.id), session);
                bench.by_time.insert((id, session.taken), session);
            }
        }
        bench
    }

    fn there(&self, key: &Key) -> Option<&'a Session> {
        match &key.session {
            Some(session) => self.by_name.get(&(&key.shear, session)).copied(),
            None => self.by_time.get(&(&key.shear, key.taken)).copied(),
        }
    }

    fn changes(&self, visits: BTreeMap<Key, Rows>, issues: &mut Vec<TableIssue>) -> Vec<Change> {
        let mut changes = Vec::new();
        let mut names = BTreeSet::new();
        for (key, rows) in visits {
            let Some((table, line)) = rows.first() else { continue };
            let mut wrong = |what: String, next: &str| {
                issues.push(TableIssue { table, issue: LineIssue::at(line, what, next) });
            };
            let there = self.there(&key);
            let session = match assembled(&key, rows) {
                Ok(session) => session,
                Err((what, next)) => {
                    wrong(what, &next);
                    continue;
                }
            };
            let taken_name =
                self.by_name.contains_key(&(&key.shear, &session.id)) && there.is_none();
            if taken_name || !names.insert((key.shear.clone(), session.id.clone())) {
                wrong(
                    format!("two visits would be named “{}”", session.id),
                    "give one of them another time, or a session of its own",
                );
                continue;
            }
            match there {
                None => changes.push(Change { session, fate: Fate::New }),
                Some(there) if says_the_same(&session, there) => {
                    changes.push(Change { session: there.clone(), fate: Fate::There });
                }
                Some(there) => wrong(
                    format!("the visit “{}” is signed already and reads otherwise", there.id),
                    "sign a correction in the window, or remove its rows",
                ),
            }
        }
        changes
    }
}

/// A visit as it would be signed.
fn assembled(key: &Key, Rows { readings, work, marks }: Rows) -> Result<Session, Refused> {
    let apart = |gathered: Option<About>| gathered.unwrap_or_default();
    let about = apart(readings.as_ref().map(|it| it.about.clone()));
    let other = apart(work.as_ref().map(|it| it.about.clone()));
    let third = apart(marks.as_ref().map(|it| it.about.clone()));
    let mut meters = [about.meter, other.meter, third.meter].into_iter().flatten();
    let meter = meters.next().unwrap_or(Hours::ZERO);
    if meters.any(|it| it != meter) {
        let what = "the tables disagree about “meter_h” of this visit".to_owned();
        return Err((what, "write the same in all of them".to_owned()));
    }
    Ok(Session {
        id: key.session.clone().unwrap_or_else(|| named_by_time(key)),
        shear: key.shear.clone(),
        taken: key.taken,
        meter,
        by: about.by.or(other.by).or(third.by).unwrap_or_default(),
        air_temp: about.air_temp.or(other.air_temp),
        jaw_temp: about.jaw_temp.or(other.jaw_temp),
        readings: readings.map(|it| it.rows).unwrap_or_default(),
        findings: Vec::new(),
        work: work.map(|it| it.rows).unwrap_or_default(),
        counters: Counters { tonnes: about.tonnes, cuts: about.cuts },
        marks: marks.map(|it| it.rows).unwrap_or_default(),
        remarks: vec![],
        note: about.note.or(other.note).or(third.note).unwrap_or_default(),
        amends: None,
    })
}

/// The same machine and time give the same name, so that a table imported twice is found again.
fn named_by_time(key: &Key) -> SessionId {
    // FNV-1a, 32 bits, folded to 16: by its definition the same on every computer.
    let words = format!("{}|{}", key.shear.as_str(), key.taken.to_rfc3339());
    let mixed = words
        .bytes()
        .fold(0x811c_9dc5_u32, |hash, byte| (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193));
    SessionId::new(key.taken, u16::try_from((mixed >> 16) ^ (mixed & 0xffff)).unwrap_or_default())
}

/// Whether a signed visit says everything that the tables say; it may say more.
fn says_the_same(table: &Session, there: &Session) -> bool {
    let silent = |words: &str| words.is_empty();
    table.taken == there.taken
        && table.meter == there.meter
        && (silent(&table.by) || table.by == there.by.trim())
        && (silent(&table.note) || table.note == there.note.trim())
        && (table.air_temp.is_none() || table.air_temp == there.air_temp)
        && (table.jaw_temp.is_none() || table.jaw_temp == there.jaw_temp)
        && (table.counters.tonnes.is_none() || table.counters.tonnes == there.counters.tonnes)
        && (table.counters.cuts.is_none() || table.counters.cuts == there.counters.cuts)
        && (table.readings.is_empty() || same_readings(&table.readings, &there.readings))
        && (table.work.is_empty() || table.work == there.work)
        && (table.marks.is_empty() || table.marks == there.marks)
}

/// A table without leaf sets says nothing about them.
fn same_readings(table: &[Reading], there: &[Reading]) -> bool {
    let same = |(table, there): (&Reading, &Reading)| {
        let leaves = table.leaves.clone().or_else(|| there.leaves.clone());
        Reading { leaves, ..table.clone() } == *there
    };
    table.len() == there.len() && table.iter().zip(there).all(same)
}
