//! What a changed description would make of the log that is there.
//!
//! Folds the same sessions with the machine as it stands and as it would, and lays the decisions
//! beside each other. Says nothing about which is right.

use crate::domain::{
    decide::{Action, Job, MachineDecision, decide},
    machine::{LineId, Shear, StationId},
    quantity::Hours,
    verdict::VerdictKind,
    yard::{Machine, Settings},
};
use std::collections::BTreeSet;

/// A station whose verdict changes; `None` where it has none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StationChange {
    /// The station.
    pub station: StationId,
    /// As the files stand.
    pub before: Option<VerdictKind>,
    /// As the draft stands.
    pub after: Option<VerdictKind>,
}

/// A line for which something else is to be done; `None` where it is not there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineChange {
    /// The line.
    pub line: LineId,
    /// As the files stand.
    pub before: Option<Action>,
    /// As the draft stands.
    pub after: Option<Action>,
}

/// Everything that would change.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Consequences {
    /// Stations with another verdict, in walking order.
    pub stations: Vec<StationChange>,
    /// Lines with another action.
    pub lines: Vec<LineChange>,
    /// Lines with the same action, for which hands do something else, such as put in other shims.
    pub work: Vec<LineId>,
    /// What the hour meter will show when the next look is due, as the files stand and as the draft
    /// does; `None` if it is the same.
    pub next_look: Option<[Hours; 2]>,
    /// Readings at stations that would not be there any more; they stay in the log.
    pub unseen: usize,
}

impl Consequences {
    /// Whether nothing would change.
    pub const fn none(&self) -> bool {
        self.stations.is_empty()
            && self.lines.is_empty()
            && self.work.is_empty()
            && self.next_look.is_none()
            && self.unseen == 0
    }
}

/// What would change if `shear` and `settings` stood in the files of this machine's yard.
pub fn consequences(
    machine: &Machine,
    now: &Settings,
    shear: &Shear,
    settings: &Settings,
) -> Consequences {
    let would = Machine::new(shear.clone(), machine.sessions.clone());
    let (before, after) = (decide(machine, now), decide(&would, settings));
    let mut walk = machine.shear.walk();
    walk.extend(shear.walk().into_iter().filter(|it| machine.shear.station(*it).is_none()));
    let stations = walk.iter().map(|station| StationChange {
        station: *station,
        before: verdict(&before, *station),
        after: verdict(&after, *station),
    });
    let lines: BTreeSet<LineId> =
        machine.shear.lines.iter().chain(&shear.lines).map(|line| line.id).collect();
    let of = |line: LineId| [before.line(line), after.line(line)];
    let work = lines.iter().copied().filter(|line| match of(*line) {
        [Some(one), Some(other)] => {
            one.action == other.action && !is_same_work(&one.job, &other.job)
        }
        _ => false,
    });
    let work = work.collect();
    let lines = lines.into_iter().map(|line| {
        let [before, after] = of(line).map(|it| it.map(|it| it.action));
        LineChange { line, before, after }
    });
    let looks = [before.next_look, after.next_look];
    let gone = walk.iter().filter(|it| shear.station(**it).is_none());
    let readings = |it: &StationId| machine.history.readings.get(it).map_or(0, Vec::len);
    Consequences {
        stations: stations.filter(|it| it.before != it.after).collect(),
        lines: lines.filter(|it| it.before != it.after).collect(),
        work,
        next_look: Some(looks).filter(|[before, after]| before != after),
        unseen: gone.map(readings).sum(),
    }
}

/// Whether hands do the same for both; what was wanted of a pack may differ.
fn is_same_work(one: &Job, other: &Job) -> bool {
    match (one, other) {
        (
            Job::ChangePack { blade, bolts, plan, .. },
            Job::ChangePack { blade: same, bolts: there, plan: planned, .. },
        ) => {
            (blade, bolts, &plan.put_in, &plan.take_out)
                == (same, there, &planned.put_in, &planned.take_out)
        }
        (Job::StepPack { blade, parts, .. }, Job::StepPack { blade: same, parts: there, .. }) => {
            (blade, parts) == (same, there)
        }
        _ => one == other,
    }
}

fn verdict(decision: &MachineDecision, station: StationId) -> Option<VerdictKind> {
    let states = &decision.line(station.line)?.stations;
    Some(states.iter().find(|it| it.station == station)?.verdict?.kind())
}
