//! How one line's true gap runs: straight between interventions, with a step at each.
//!
//! Sessions are counted backward from the newest, which is 0, because a story is known by its
//! end. Gaps are in whole micrometres at 20 °C.

use crate::{
    domain::machine::{Line, Toward},
    sample::chance::Chance,
};

/// How a stretch of a line's course began.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Begin {
    /// New blades on their base pack.
    New,
    /// Turned to the next edge, back on the base pack.
    Turned,
    /// Shims behind the fixed blade.
    Shims {
        /// Thickness of each put in.
        put_in: &'static [i64],
        /// Thickness of each taken out.
        take_out: &'static [i64],
    },
    /// Shims behind the guide pads moved the upper jaw this far towards the cutting side.
    PadsMoved(i64),
    /// Nobody did anything: the jaw spread.
    Spread,
}

impl Begin {
    /// Whether somebody did this and wrote it down on this line.
    pub(crate) const fn is_work(self) -> bool {
        !matches!(self, Self::PadsMoved(_) | Self::Spread)
    }
}

/// A stretch between interventions.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stage {
    /// The session after whose readings it began.
    pub(crate) from: usize,
    /// What began it.
    pub(crate) begins: Begin,
    /// The gap just before, per station; empty where it follows from the shims.
    pub(crate) before: &'static [i32],
    /// The gap just after, per station.
    pub(crate) start: &'static [i32],
}

/// One line's course over one life of its blades, newest stage first.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Course {
    /// The line's letter.
    pub(crate) line: char,
    /// The gap at the newest session, per station.
    pub(crate) end: &'static [i32],
    /// Newest first; the last begins with the blades' life.
    pub(crate) stages: &'static [Stage],
}

/// One stage at one station, from just after session `from` to session `to`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Leg {
    pub(crate) from: usize,
    pub(crate) to: usize,
    start_um: f64,
    end_um: f64,
}

impl Leg {
    /// The gap in micrometres at a session within the leg, hours counted backward from the end.
    pub(crate) fn gap_um(&self, session: usize, hours_before_end: impl Fn(usize) -> f64) -> f64 {
        let (from, to) = (hours_before_end(self.from), hours_before_end(self.to));
        let share = if to < from { (from - hours_before_end(session)) / (from - to) } else { 1.0 };
        self.start_um + share * (self.end_um - self.start_um)
    }
}

impl Course {
    /// The legs of one station, newest first, for a life whose newest session is `newest`.
    ///
    /// `place` counts the stations from 0; `closes` is how much one micrometre of shim closes.
    pub(crate) fn legs(
        &self,
        line: &Line,
        place: usize,
        closes: f64,
        newest: usize,
        chance: &mut Chance,
    ) -> Vec<Leg> {
        let at = |gaps: &[i32]| gaps.get(place).copied().map(f64::from);
        let mut legs = Vec::with_capacity(self.stages.len());
        let mut to = 0;
        let Some(end) = at(self.end) else { return legs };
        let mut end_um = end + chance.within(3.0);
        for stage in self.stages {
            let Some(start) = at(stage.start) else { return legs };
            let start_um = start + chance.within(8.0);
            legs.push(Leg { from: newest + stage.from, to: newest + to, start_um, end_um });
            end_um = at(stage.before).unwrap_or(start_um + stage.begins.step_um(line, closes));
            to = stage.from;
        }
        legs
    }
}

impl Begin {
    /// How much wider the gap was before.
    fn step_um(self, line: &Line, closes: f64) -> f64 {
        let um = |whole: i64| f64::from(i32::try_from(whole).unwrap_or(0));
        match self {
            Self::Shims { put_in, take_out } => {
                um(put_in.iter().sum::<i64>() - take_out.iter().sum::<i64>()) * closes
            }
            Self::PadsMoved(by) => match line.toward {
                Toward::Cutting => um(by),
                Toward::Guide => -um(by),
                Toward::Neither | Toward::Pads => 0.0,
            },
            Self::New | Self::Turned | Self::Spread => 0.0,
        }
    }
}
