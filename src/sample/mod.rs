//! An invented yard from a seed: three machines, months of sessions, and something to decide.
//!
//! Knows a story (see [`scenario`]) and how people, leaves and wear would have written it down:
//! gaps grow, are felt with leaves through somebody's fingers, are shimmed, and one machine runs
//! hot. The same seed gives the same yard on every computer and with every later version of the
//! libraries, because the random numbers are PCG by its definition and are only added and
//! multiplied. Does not know files or the clock: the time at which the story ends is an argument.
//!
//! Everything here is invented: the yard, the machines, the people's initials, the limits, the
//! torques. The limits say so wherever they are shown.
#![warn(clippy::as_conversions)]

mod chance;
mod course;
mod diary;
mod heat;
mod jaw;
mod scenario;
mod timetable;

use crate::domain::{
    gauge::{Calibration, LeafSet, Usual},
    machine::{Shear, ShearId},
    quantity::{Length, LengthUnit},
    yard::{
        Intervals, Machine, Part, PartKind, Settings, ShelfItem, Tolerance, Upkeep, WorkTimes, Yard,
    },
};
use chrono::{DateTime, TimeDelta, Utc};
use include_dir::{Dir, include_dir};
use scenario::Scenario;
use std::path::Path;

/// The yard of seed 1 as it ships, inside the program.
static SHIPPED: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/sample-sessions");

/// The lessons that ship, inside the program.
static LESSONS: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/assets/lessons");

/// Every lesson that ships, in order: the path of its file, and its text.
pub fn lessons() -> impl Iterator<Item = (&'static Path, &'static str)> {
    let mut files: Vec<_> = LESSONS.files().collect();
    files.sort_by_key(|file| file.path());
    files.into_iter().filter_map(|file| Some((file.path(), file.contents_utf8()?)))
}

/// The table of causes that ships: the path of its file, and its text.
pub fn causes() -> (&'static Path, &'static str) {
    (Path::new("causes.ron"), include_str!("../../assets/causes.ron"))
}

/// How many machines the story has.
pub const SHEARS: usize = 3;
/// How many sessions the story fills on each machine.
pub const SESSIONS: usize = 48;

/// Small wading birds and one larger one; the story is told over the first three and again over
/// the others.
const BIRDS: [&str; 12] = [
    "Heron",
    "Dunlin",
    "Wren",
    "Plover",
    "Sanderling",
    "Avocet",
    "Snipe",
    "Curlew",
    "Knot",
    "Redshank",
    "Turnstone",
    "Dipper",
];

/// A machine to begin one's own with.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// What it is, in two or three words.
    pub name: &'static str,
    /// The machine, without a name.
    pub shear: Shear,
}

/// The usual jaw in three sizes, with demonstration values.
pub fn templates() -> Vec<Template> {
    [
        (Scenario::WellKept, "A small jaw"),
        (Scenario::RunningHot, "A middle jaw"),
        (Scenario::SpreadJaw, "A large jaw"),
    ]
    .into_iter()
    .filter_map(|(scenario, name)| {
        let id = ShearId::new("machine")?;
        let shear = jaw::shear(id, String::new(), scenario, 0)?;
        Some(Template { name, shear: Shear { carrier: String::new(), ..shear } })
    })
    .collect()
}

/// Every file of the shipped yard: its path inside the yard's folder, and its bytes.
pub fn files() -> impl Iterator<Item = (&'static Path, &'static [u8])> {
    let mut folders = vec![&SHIPPED];
    std::iter::from_fn(move || {
        let folder = folders.pop()?;
        folders.extend(folder.dirs());
        Some(folder.files().map(|file| (file.path(), file.contents())))
    })
    .flatten()
}

/// A yard with `shears` machines and `sessions` sessions on each, the newest shortly before `end`.
///
/// The first three machines tell the whole story from [`SESSIONS`] sessions on; with fewer, what
/// was done earlier stands in the first session; with more, an earlier life of each machine comes
/// before.
pub fn yard(seed: u64, shears: usize, sessions: usize, end: DateTime<Utc>) -> Yard {
    let mut machines: Vec<Machine> = (0..shears)
        .zip(Scenario::ALL.into_iter().cycle())
        .filter_map(|(place, scenario)| {
            let (id, name) = name(place)?;
            let shear = jaw::shear(id, name, scenario, place)?;
            let stream = u64::try_from(place).unwrap_or(u64::MAX);
            let chance = chance::Chance::new(seed, stream);
            let sessions = diary::write(&shear, scenario, sessions, end, &leaf_sets(), chance);
            Some(Machine::new(shear, sessions))
        })
        .collect();
    machines.sort_by(|a, b| a.shear.id.cmp(&b.shear.id));
    Yard { settings: settings(end), machines }
}

/// The folder and the name of the machine at this place in the story.
fn name(place: usize) -> Option<(ShearId, String)> {
    let bird = BIRDS.get(place % BIRDS.len())?;
    let round = place / BIRDS.len() + 1;
    let name = if round == 1 { (*bird).to_owned() } else { format!("{bird} {round}") };
    let id = ShearId::new(&name.to_lowercase().replace(' ', "-"))?;
    Some((id, name))
}

fn settings(end: DateTime<Utc>) -> Settings {
    let um = Length::from_um;
    let shelf = [
        (50, 12),
        (100, 12),
        (150, 8),
        (200, 10),
        (250, 10),
        (300, 6),
        (400, 6),
        (500, 10),
        (750, 4),
        (1000, 6),
    ];
    Settings {
        name: "Tidewater yard".to_owned(),
        leaf_sets: calibrated(leaf_sets(), end),
        shelf: shelf.map(|(thick, count)| ShelfItem { thickness: um(thick), count }).to_vec(),
        intervals: Intervals::USUAL,
        own_findings: vec!["Oil on the blades".to_owned(), "Hose chafed".to_owned()],
        repeatability: None,
        tolerance: Tolerance::default(),
        unit: LengthUnit::Millimetre,
        upkeep: upkeep(),
    }
}

/// What lies in the container of the yard, and the times of its crew.
fn upkeep() -> Upkeep {
    let part = |kind, name: &str, shear: Option<&str>, count, per_job| Part {
        kind,
        name: name.to_owned(),
        shear: shear.and_then(ShearId::new),
        count,
        per_job,
    };
    let parts = vec![
        part(PartKind::Blade, "front", Some("heron"), 1, 1),
        part(PartKind::Blade, "lower-secondary", Some("heron"), 1, 1),
        part(PartKind::Blade, "tip", Some("wren"), 1, 1),
        part(PartKind::Bolt, "M24 10.9", None, 12, 1),
        part(PartKind::Bolt, "M20 10.9", None, 0, 1),
        part(PartKind::Nut, "M24 10.9", None, 12, 1),
        part(PartKind::Nut, "M20 10.9", None, 8, 1),
        part(PartKind::Electrode, "hard-facing electrodes", None, 40, 6),
        part(PartKind::Grease, "grease cartridges", None, 9, 1),
    ];
    Upkeep { parts, times: Some(WorkTimes::JUDGED) }
}

/// A pocket set in millimetres and one in inches.
fn leaf_sets() -> Vec<LeafSet> {
    [Usual::MetricTen, Usual::InchTen].into_iter().filter_map(Usual::set).collect()
}

/// The metric set was measured in spring and is good for a year; the other one is overdue, and its
/// leaf of 0.030 in was found worn.
fn calibrated(sets: Vec<LeafSet>, end: DateTime<Utc>) -> Vec<LeafSet> {
    let today = end.date_naive();
    let year = TimeDelta::days(365);
    let dated = |set: LeafSet, days: i64| {
        let on = today - TimeDelta::days(days);
        set.calibrated(Some(Calibration { on, due: on + year }))
    };
    let mut sets = sets.into_iter();
    let metric = sets.next().map(|set| dated(set, 240));
    let inch = sets.next().and_then(|set| worn(&set)).map(|set| dated(set, 400));
    metric.into_iter().chain(inch).collect()
}

/// The same set with its leaf of 0.030 in worn by 0.4 thousandths of an inch.
fn worn(set: &LeafSet) -> Option<LeafSet> {
    let mut leaves = set.leaves().to_vec();
    if let Some(leaf) = leaves.iter_mut().find(|leaf| leaf.thickness == Length::from_nm(762_000)) {
        leaf.measured = Some(leaf.thickness - Length::from_nm(10_160));
    }
    LeafSet::new(set.name().to_owned(), leaves)
}

#[cfg(test)]
mod tests;
