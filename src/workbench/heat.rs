//! The Heat screen's hand: which lesson, which hour, what is tried.
//!
//! Knows numbers a person moved. Does not know lessons or machines: whoever asks hands in what a
//! lesson says.

use crate::domain::{heat::Colour, machine::StationId};

/// What is looked at on the Heat screen.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HeatDesk {
    /// The index of the lesson.
    pub lesson: usize,
    /// The index of its step.
    pub step: usize,
    /// Whether the step's answer is shown.
    pub answer: bool,
    /// The hour that is shown; `None` is the step's own.
    pub hour: Option<f64>,
    /// Whether time runs.
    pub playing: bool,
    /// Whether it is shown on a projector, in large type.
    pub large: bool,
    /// The station looked at; `None` is the lesson's.
    pub station: Option<StationId>,
    /// A colour that the crew has seen there, to be read backwards.
    pub seen: Option<Colour>,
    /// What was moved by hand.
    pub tried: Tried,
}

/// Numbers moved by hand; `None` is as in the lesson.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Tried {
    /// The cold gap at the station, in mm.
    pub gap_mm: Option<f64>,
    /// Cuts a minute.
    pub cuts_per_minute: Option<f64>,
    /// Thickness of the plate, in mm.
    pub plate_mm: Option<f64>,
    /// The air's temperature, in °C.
    pub air_c: Option<f64>,
}

/// What can be asked for on the Heat screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Heat {
    /// Take up a lesson from its first step.
    Lesson(usize),
    /// Go to a step.
    Step(usize),
    /// Show or hide the answer.
    Answer(bool),
    /// Let time run, or stop it.
    Play(bool),
    /// Show this hour.
    Seek(f64),
    /// Look at another station.
    Station(StationId),
    /// Move a number.
    Try(Tried),
    /// Read a seen colour backwards, or no longer.
    Seen(Option<Colour>),
    /// Large type for a projector, or not.
    Large(bool),
}

impl HeatDesk {
    /// Carries out one request.
    pub(crate) fn apply(&mut self, asked: Heat) {
        match asked {
            Heat::Lesson(lesson) => *self = Self { lesson, large: self.large, ..Self::default() },
            Heat::Step(step) => {
                // A step looks at its own place; a gap moved elsewhere belongs to another blade.
                if self.station.take().is_some() {
                    self.tried.gap_mm = None;
                }
                (self.step, self.answer, self.hour) = (step, false, None);
                self.playing = false;
            }
            Heat::Answer(answer) => self.answer = answer,
            Heat::Play(playing) => self.playing = playing,
            Heat::Seek(hour) => self.hour = Some(hour),
            Heat::Station(station) => {
                // The gap that was moved belongs to the other blade.
                if self.station != Some(station) {
                    self.tried.gap_mm = None;
                }
                self.station = Some(station);
            }
            Heat::Try(tried) => self.tried = tried,
            Heat::Seen(seen) => self.seen = seen,
            Heat::Large(large) => self.large = large,
        }
    }
}

#[test]
fn a_new_lesson_begins_afresh_and_a_step_shows_its_own_hour() {
    let mut desk = HeatDesk { large: true, ..HeatDesk::default() };
    desk.apply(Heat::Try(Tried { gap_mm: Some(0.2), ..Tried::default() }));
    desk.apply(Heat::Seek(3.0));
    desk.apply(Heat::Answer(true));
    desk.apply(Heat::Step(2));
    assert_eq!((desk.hour, desk.answer, desk.tried.gap_mm), (None, false, Some(0.2)));
    let elsewhere = "T1".parse().unwrap();
    desk.apply(Heat::Station(elsewhere));
    desk.apply(Heat::Try(Tried { gap_mm: Some(0.6), ..Tried::default() }));
    desk.apply(Heat::Step(1));
    assert_eq!((desk.station, desk.tried.gap_mm), (None, None), "the step's own place");
    desk.apply(Heat::Lesson(1));
    assert_eq!(desk, HeatDesk { lesson: 1, large: true, ..HeatDesk::default() });
}
