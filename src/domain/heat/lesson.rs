//! A lesson: a shift to look at, in steps with a question and its answer.
//!
//! Knows what a trainer wrote. Does not know a file, and not whether the machine in hand has the
//! station.

use crate::domain::machine::{LineId, StationId};

/// What the lower drawing shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Picture {
    /// Face temperature and hot gap over the shift.
    #[default]
    Heat,
    /// Closing and opening force along the jaw.
    Force,
}

/// The shift of a lesson; what is `None` is as on the machine in hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Setting {
    /// The cold gap at the lesson's station, in mm: its whole blade moves, as with shims.
    pub gap_mm: Option<f64>,
    /// Cold gaps of other lines, in mm, moved likewise.
    pub also_mm: Vec<(LineId, f64)>,
    /// Cuts a minute.
    pub cuts_per_minute: Option<f64>,
    /// Thickness of the plate, in mm.
    pub plate_mm: Option<f64>,
    /// Share of the time it cuts, 0 to 1.
    pub working_share: Option<f64>,
    /// The air's temperature, in °C.
    pub air_c: Option<f64>,
    /// The machine's temperature when the shift begins, in °C; as warm as the air if it is not said.
    pub start_c: Option<f64>,
    /// Length of the shift, in hours.
    pub hours: Option<f64>,
    /// Breaks, as hours from and to.
    pub breaks: Vec<(f64, f64)>,
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Such as "The gap closes, the faces touch".
    pub title: String,
    /// The hour of the shift that it shows.
    pub at_h: f64,
    /// What the trainer asks.
    pub question: String,
    /// What the crew should find.
    pub answer: String,
}

/// A lesson.
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    /// Such as "Why a face turns blue".
    pub title: String,
    /// How long it takes.
    pub minutes: u8,
    /// The work in a few words, such as "thick plate, steady shift".
    pub work: String,
    /// Where to look.
    pub station: StationId,
    /// What the lower drawing shows.
    pub picture: Picture,
    /// The shift.
    pub setting: Setting,
    /// Its steps, at least one.
    pub steps: Vec<Step>,
}
