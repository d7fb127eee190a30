//! A lesson: a shift to look at, in steps with a question and its answer.
//!
//! Knows what a trainer wrote, and what that makes of a machine's own shift and gaps. Does not know
//! a file, and not whether the machine in hand has the station.

use crate::domain::{
    heat::ShiftWork,
    machine::{LineId, StationId, Thermal},
};

/// What the lower drawing shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Picture {
    /// Face temperature and hot gap over the shift.
    #[default]
    Heat,
    /// Closing and opening force along the jaw.
    Force,
}

/// The shift of a lesson; what is `None` is as on the machine in hand, and in a step as in its
/// lesson.
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
    /// Where to look, if not at the lesson's station.
    pub station: Option<StationId>,
    /// What is otherwise in this step: it shows a shift of its own.
    pub setting: Setting,
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

impl Setting {
    /// These numbers, and the other's where nothing is said.
    #[must_use]
    pub fn over(&self, other: &Self) -> Self {
        Self {
            gap_mm: self.gap_mm.or(other.gap_mm),
            also_mm: if self.also_mm.is_empty() { &other.also_mm } else { &self.also_mm }.clone(),
            cuts_per_minute: self.cuts_per_minute.or(other.cuts_per_minute),
            plate_mm: self.plate_mm.or(other.plate_mm),
            working_share: self.working_share.or(other.working_share),
            air_c: self.air_c.or(other.air_c),
            start_c: self.start_c.or(other.start_c),
            hours: self.hours.or(other.hours),
            breaks: if self.breaks.is_empty() { &other.breaks } else { &self.breaks }.clone(),
        }
    }

    /// The machine's usual shift with these numbers.
    pub fn work(&self, thermal: &Thermal) -> ShiftWork {
        let mut work = ShiftWork::usual(thermal);
        let duty = &mut work.duty;
        duty.cuts_per_minute = self.cuts_per_minute.unwrap_or(duty.cuts_per_minute);
        duty.air_c = self.air_c.unwrap_or(duty.air_c);
        duty.working_share = self.working_share.unwrap_or(duty.working_share);
        duty.hours = self.hours.unwrap_or(duty.hours);
        if !self.breaks.is_empty() {
            duty.breaks.clone_from(&self.breaks);
        }
        work.start_c = self.start_c.unwrap_or(work.duty.air_c);
        work.plate_mm = self.plate_mm.unwrap_or(work.plate_mm);
        work
    }

    /// Brings cold gaps, in mm, to these numbers; `station` is the lesson's.
    pub fn move_gaps(&self, gaps: &mut [(StationId, f64)], station: StationId) {
        for (line, to_mm) in &self.also_mm {
            let tightest = gaps.iter().filter(|(id, _)| id.line == *line);
            let tightest = tightest.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(id, _)| *id);
            if let Some(id) = tightest {
                move_blade(gaps, id, *to_mm);
            }
        }
        if let Some(to_mm) = self.gap_mm {
            move_blade(gaps, station, to_mm);
        }
    }
}

impl Lesson {
    /// The numbers of a step, those of the lesson where it says nothing.
    pub fn setting_at(&self, step: usize) -> Setting {
        self.steps
            .get(step)
            .map_or_else(|| self.setting.clone(), |it| it.setting.over(&self.setting))
    }

    /// Where a step looks.
    pub fn station_at(&self, step: usize) -> StationId {
        self.steps.get(step).and_then(|it| it.station).unwrap_or(self.station)
    }
}

/// Shims move a whole blade: every gap of the line, in mm, changes as the one at the station does.
pub fn move_blade(gaps: &mut [(StationId, f64)], station: StationId, to_mm: f64) {
    let here = gaps.iter().find(|(id, _)| *id == station).map_or(to_mm, |(_, gap)| *gap);
    for (_, gap) in gaps.iter_mut().filter(|(id, _)| id.line == station.line) {
        *gap += to_mm - here;
    }
}

#[test]
fn a_step_says_what_is_otherwise_and_shims_move_a_whole_blade() {
    let lesson = Setting { gap_mm: Some(0.4), air_c: Some(-20.0), ..Setting::default() };
    let step = Setting { air_c: Some(5.0), plate_mm: Some(20.0), ..Setting::default() };
    let both = step.over(&lesson);
    assert_eq!((both.gap_mm, both.air_c, both.plate_mm), (Some(0.4), Some(5.0), Some(20.0)));
    let at = |line, number| StationId { line, number };
    let mut gaps = vec![(at(LineId::G, 1), 0.3), (at(LineId::G, 2), 0.2), (at(LineId::T, 1), 0.6)];
    let also = Setting { also_mm: vec![(LineId::T, 0.5)], ..both };
    also.move_gaps(&mut gaps, at(LineId::G, 2));
    let moved: Vec<f64> = gaps.iter().map(|it| (it.1 * 100.0).round()).collect();
    assert_eq!(moved, [50.0, 40.0, 50.0], "{gaps:?}");
}
