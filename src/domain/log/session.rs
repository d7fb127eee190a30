//! One visit to a machine.

use crate::domain::{
    gauge::Bracket,
    log::{Mark, Remark, Work},
    machine::{LineId, ShearId, StationId},
    quantity::{Hours, Length, Temperature},
};
use chrono::{DateTime, Utc};
use std::{fmt, sync::Arc};

/// The name of a session inside its shear, unique across tablets, sorting by time:
/// `2026-03-14T0705Z-7f3a`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SessionId(String);

impl SessionId {
    /// From the time of the visit and a tail that tells tablets apart.
    pub fn new(taken: DateTime<Utc>, tail: u16) -> Self {
        Self(format!("{}-{tail:04x}", taken.format("%Y-%m-%dT%H%MZ")))
    }

    /// From a file stem; `None` if it could leave the folder or surprise a file system.
    pub fn parse(stem: &str) -> Option<Self> {
        let fits = |c: char| c.is_ascii_alphanumeric() || c == '-';
        let sound = !stem.is_empty() && stem.len() <= 60 && stem.chars().all(fits);
        (sound && !stem.starts_with('-')).then(|| Self(stem.to_owned()))
    }

    /// The file stem.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for SessionId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// One gap, measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Where.
    pub station: StationId,
    /// What the leaves said, at the blades' temperature.
    pub bracket: Bracket,
    /// The blades' temperature there; `None` if nobody took it, then 20 °C is assumed and said.
    pub blade_temp: Option<Temperature>,
    /// The leaf set it was read with, by its name; `None` stands for the yard's usual one.
    pub leaves: Option<Arc<str>>,
}

/// What somebody saw or heard.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FindingKind {
    /// Straw-coloured streak on a face.
    StrawStreak,
    /// Brown streak.
    BrownStreak,
    /// Purple streak.
    PurpleStreak,
    /// Blue streak.
    BlueStreak,
    /// Cracks in a face.
    SurfaceCracks,
    /// A chip out of a cutting edge.
    ChippedEdge,
    /// The machine jammed.
    Jam,
    /// The blades chattered.
    Chatter,
    /// A bolt that was loose.
    LooseBolt,
    /// Stock caught in the slot beside the guide blade.
    StockCaught,
    /// One of the yard's own words.
    Own(String),
}

/// A finding and where it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// What.
    pub kind: FindingKind,
    /// On which line; `None` for the machine as a whole.
    pub line: Option<LineId>,
    /// At which station of it.
    pub station: Option<u8>,
    /// How large, along the edge, if somebody measured it.
    pub size: Option<Length>,
    /// A free note.
    pub note: String,
}

/// Counters beside the hour meter; like it they only run on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counters {
    /// Tonnes cut, whole ones.
    pub tonnes: Option<u64>,
    /// Cuts made.
    pub cuts: Option<u64>,
}

/// One of the counters beside the hour meter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// Tonnes cut.
    Tonnes,
    /// Cuts made.
    Cuts,
}

impl Counters {
    /// What one of them shows; `None` if nobody read it.
    pub const fn of(self, counted: Counted) -> Option<u64> {
        match counted {
            Counted::Tonnes => self.tonnes,
            Counted::Cuts => self.cuts,
        }
    }

    /// The same with one of them read, or not read after all.
    #[must_use]
    pub const fn with(self, counted: Counted, shows: Option<u64>) -> Self {
        match counted {
            Counted::Tonnes => Self { tonnes: shows, ..self },
            Counted::Cuts => Self { cuts: shows, ..self },
        }
    }
}

/// One visit to one machine: readings as found, what was seen, then what was done.
///
/// Readings after work belong to the next session, so that every bracket stands on one side of
/// every intervention.
#[derive(Clone, Debug, PartialEq)]
pub struct Session {
    /// Its name.
    pub id: SessionId,
    /// The machine.
    pub shear: ShearId,
    /// When.
    pub taken: DateTime<Utc>,
    /// What the hour meter showed.
    pub meter: Hours,
    /// Initials of who did it.
    pub by: String,
    /// Air temperature.
    pub air_temp: Option<Temperature>,
    /// Temperature of the jaws' bodies; `None` means assumed between air and blade.
    pub jaw_temp: Option<Temperature>,
    /// Gaps as found.
    pub readings: Vec<Reading>,
    /// Wear marks as found.
    pub marks: Vec<Mark>,
    /// What was seen or heard.
    pub findings: Vec<Finding>,
    /// What was done, after the readings.
    pub work: Vec<Work>,
    /// What the machine's other counters showed.
    pub counters: Counters,
    /// What is said about earlier sessions.
    pub remarks: Vec<Remark>,
    /// A free note.
    pub note: String,
    /// The session this one corrects and stands in for.
    pub amends: Option<SessionId>,
}

impl Session {
    /// What the hour meter showed when the visit was over: another meter's reading if it was
    /// changed.
    pub fn meter_after(&self) -> Hours {
        let changed = self.work.iter().rev().find_map(|work| match work {
            Work::MeterChanged { new, .. } => Some(*new),
            _ => None,
        });
        changed.unwrap_or(self.meter)
    }

    /// Whether something happened that calls for a look at once.
    pub fn calls_for_a_look(&self) -> bool {
        self.findings
            .iter()
            .any(|finding| matches!(finding.kind, FindingKind::Jam | FindingKind::Chatter))
    }
}
