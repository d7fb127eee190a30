//! The temperatures a gap is referred to 20 °C by: blades at the station, jaws and air once a visit.
//!
//! Knows which was taken and where a first tap starts. What is assumed for one that nobody took is
//! the domain's business.

use crate::{
    brief::numbers,
    domain::{
        log::Session,
        quantity::{Temperature, TemperatureRise},
    },
    gui::{
        screens::measure::hand::Hand,
        widgets::{Step, Stepper, section},
    },
    language::tell,
    workbench::Command,
};
use egui::Ui;

/// Whose temperature it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    Blades,
    Jaws,
    Air,
}

impl Part {
    /// The head of its stepper, and what each of the three taps does.
    fn words(self) -> [&'static str; 4] {
        match self {
            Self::Blades => [
                tell!("Blade temperature"),
                tell!("blade colder"),
                tell!("blade warmer"),
                tell!("blade temperature not taken"),
            ],
            Self::Jaws => [
                tell!("Jaw temperature"),
                tell!("jaws colder"),
                tell!("jaws warmer"),
                tell!("jaw temperature not taken"),
            ],
            Self::Air => [
                tell!("Air temperature"),
                tell!("air colder"),
                tell!("air warmer"),
                tell!("air temperature not taken"),
            ],
        }
    }

    fn taken(self, hand: &Hand<'_>) -> Option<Temperature> {
        let session = hand.visit.map(|visit| &visit.session);
        match self {
            Self::Blades => hand.blade_temp,
            Self::Jaws => session?.jaw_temp,
            Self::Air => session?.air_temp,
        }
    }

    /// What it was the last time somebody took it.
    fn last(self, hand: &Hand<'_>) -> Option<Temperature> {
        let newest = |of: fn(&Session) -> Option<Temperature>| {
            hand.machine.history.sessions.iter().rev().find_map(of)
        };
        match self {
            Self::Blades => hand.telling.state(hand.at)?.felt.as_ref()?.blade_temp,
            Self::Jaws => newest(|session| session.jaw_temp),
            Self::Air => newest(|session| session.air_temp),
        }
    }

    /// One degree colder or warmer; the first time it starts where the last session was.
    pub(super) fn stepped(self, hand: &Hand<'_>, way: Step) -> Command {
        let by_k = if way == Step::Less { -1.0 } else { 1.0 };
        self.set(match self.taken(hand) {
            Some(now) => TemperatureRise::from_k(by_k).map(|by| now + by),
            None => Some(self.last(hand).unwrap_or(Temperature::REFERENCE)),
        })
    }

    const fn set(self, to: Option<Temperature>) -> Command {
        match self {
            Self::Blades => Command::SetBladeTemp(to),
            Self::Jaws => Command::SetJawTemp(to),
            Self::Air => Command::SetAirTemp(to),
        }
    }
}

/// One temperature with a tap for colder, one for warmer, and one on itself for not taken.
pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, part: Part, asked: &mut Vec<Command>) {
    let [title, less, more, clear] = part.words();
    let taken = part.taken(hand);
    section(ui, title, "");
    let value = taken.map_or("—".to_owned(), numbers::temperature);
    let stepper = Stepper { value: &value, less, more };
    let (step, gone) = stepper.show_clearing(ui, taken.map(|_| clear));
    match step {
        Some(way) => asked.push(part.stepped(hand, way)),
        None if gone => asked.push(part.set(None)),
        None => {}
    }
}

/// The two that hold for the whole visit, side by side.
pub(super) fn show_jaws_and_air(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    ui.columns(2, |columns| {
        let [left, right] = columns else { return };
        show(left, hand, Part::Jaws, asked);
        show(right, hand, Part::Air, asked);
    });
}
