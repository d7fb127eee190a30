//! A machine as a whole: every line decided, most severe first, and when it is next due.

use crate::domain::{
    decide::{Action, Job, LineDecision, Spread, StationState, joint, line, pads, shelf, spread},
    log::{History, Session, SessionId},
    machine::{Line, LineId, Shear, ShearId, Toward},
    quantity::{Hours, float},
    trend::Axis,
    yard::{Intervals, Machine, Settings, ShelfItem},
};
use chrono::{DateTime, Utc};

/// All decisions for one machine.
#[derive(Clone, Debug, PartialEq)]
pub struct MachineDecision {
    /// The machine.
    pub shear: ShearId,
    /// The newest session with readings, and its time; `None` before the first one.
    pub measured: Option<(SessionId, DateTime<Utc>)>,
    /// What the hour meter showed in the newest session.
    pub meter: Hours,
    /// What the hour meter, the one of now, will show when the next look is due.
    pub next_look: Hours,
    /// Lines, most severe first; of equals, those to be measured, then the one that leaves its limits
    /// first.
    pub lines: Vec<LineDecision>,
}

impl MachineDecision {
    /// The most severe action.
    pub fn worst(&self) -> Action {
        self.lines.iter().map(|line| line.action).max().unwrap_or(Action::Leave)
    }

    /// The same with growth counted against something else than hours; actions and their reasons
    /// stay, since they follow from hours.
    #[must_use]
    pub fn along(&self, axis: Axis, machine: &Machine, settings: &Settings) -> Self {
        let mut other = self.clone();
        for decided in &mut other.lines {
            let Some(line) = machine.shear.line(decided.line) else { continue };
            for state in &mut decided.stations {
                *state = state.along(axis, line, &machine.history, settings);
            }
        }
        other
    }

    /// The decision on one line.
    pub fn line(&self, id: LineId) -> Option<&LineDecision> {
        self.lines.iter().find(|line| line.line == id)
    }
}

/// What every line's decision draws on.
pub(crate) struct Context<'a> {
    pub(crate) shear: &'a Shear,
    pub(crate) history: &'a History,
    pub(crate) shelf: &'a [ShelfItem],
    pub(crate) look: Hours,
    pub(crate) retorque: Hours,
    pub(crate) spread: Option<Spread>,
}

/// Decides every line of a machine.
pub fn decide(machine: &Machine, settings: &Settings) -> MachineDecision {
    let (shear, history) = (&machine.shear, &machine.history);
    let Intervals { look, retorque, .. } = settings.intervals_of(shear);
    let states: Vec<(LineId, Vec<StationState>)> = shear
        .lines
        .iter()
        .map(|line| (line.id, states_of(line, history, (settings, look))))
        .collect();
    let of = |id: LineId| -> Vec<StationState> {
        states.iter().find(|(line, _)| *line == id).map(|(_, it)| it.clone()).unwrap_or_default()
    };
    let spread = spread::look_for(shear, history, of);
    let shelf = settings.shelf.as_slice();
    let context = Context { shear, history, shelf, look, retorque, spread };
    let mut lines: Vec<LineDecision> =
        shear.lines.iter().map(|line| line::decide_line(&context, line, &states)).collect();
    let pads = |decision: &&LineDecision| {
        shear.line(decision.line).is_some_and(|line| line.toward == Toward::Pads)
    };
    let pads_work = lines.iter().filter(pads).any(|it| it.action != Action::Leave);
    for decision in &mut lines {
        let moved = shear
            .line(decision.line)
            .is_some_and(|line| !matches!(line.toward, Toward::Pads | Toward::Neither));
        decision.provisional = pads_work && moved && decision.job != Job::Nothing;
    }
    let severity = |it: &LineDecision| (it.action, it.job == Job::Measure);
    lines.sort_by(|a, b| {
        severity(b).cmp(&severity(a)).then_with(|| soonest(a).total_cmp(&soonest(b)))
    });
    shelf::share(&context, &states, &mut lines);
    joint::tell(shear, &mut lines);
    pads::tell_the_others(shear, &mut lines);
    let last = history.last_measured();
    let meter = history.last().map_or(Hours::ZERO, Session::meter_after);
    MachineDecision {
        shear: shear.id.clone(),
        measured: last.map(|session| (session.id.clone(), session.taken)),
        meter,
        next_look: history.worked_since_measured().map_or(meter, |worked| meter + look - worked),
        lines,
    }
}

fn states_of(line: &Line, history: &History, by: (&Settings, Hours)) -> Vec<StationState> {
    line.stations.iter().map(|station| StationState::of(line, station.id, history, by)).collect()
}

fn soonest(decision: &LineDecision) -> f64 {
    match decision.hours() {
        Some((_, hours)) if hours.passed => f64::NEG_INFINITY,
        Some((_, hours)) => hours.estimate_h.unwrap_or(f64::INFINITY),
        None => f64::INFINITY,
    }
}

/// Whether somebody must look at a machine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Due {
    /// Never measured.
    Never,
    /// A jam or chatter was logged since the last look.
    AtOnce,
    /// The clock has run longer than the interval, so the machine may have worked it off.
    Overdue {
        /// Hours on the clock since the last look.
        clock_h: f64,
    },
    /// Not yet.
    Later {
        /// Hours on the clock since the last look.
        clock_h: f64,
    },
    /// The last session is dated after now: one of the two clocks is wrong.
    ClockWrong,
}

/// The last look at a machine, as far as the next one depends on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LastLook {
    /// When somebody last measured; `None` before the first time.
    pub measured: Option<DateTime<Utc>>,
    /// Whether a jam or chatter was logged since.
    pub trouble_since: bool,
}

impl LastLook {
    /// What a machine's log says.
    pub fn of(history: &History) -> Self {
        Self {
            measured: history.last_measured().map(|session| session.taken),
            trouble_since: history.due_at_once(),
        }
    }

    /// When the next look is due. Only the clock is known between sessions: a machine cannot have
    /// worked more hours than have passed, so before that it is surely not due.
    pub fn due(self, look: Hours, now: DateTime<Utc>) -> Due {
        if self.trouble_since {
            return Due::AtOnce;
        }
        let Some(measured) = self.measured else { return Due::Never };
        let minutes = now.signed_duration_since(measured).num_minutes();
        let clock_h = float(minutes) / 60.0;
        // Five minutes of grace for two clocks that do not quite agree.
        if minutes < -5 {
            Due::ClockWrong
        } else if look.h() <= clock_h {
            Due::Overdue { clock_h }
        } else {
            Due::Later { clock_h: clock_h.max(0.0) }
        }
    }
}
