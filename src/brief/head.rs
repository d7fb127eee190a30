//! The head of a sheet, told: which machine, which session, how many hours, when to look again.

use crate::{
    brief::{Numbers, numbers},
    domain::{decide::MachineDecision, quantity::Hours, yard::Machine},
    language::tell,
};

/// What the title block of a screen says about one machine.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// What people call it.
    pub machine: String,
    /// Carrier and place.
    pub carrier: String,
    /// `Session 131`: its place in the log of the newest one with readings.
    pub session: String,
    /// `Tue 4 Nov, 15:04`, or that nobody measured it.
    pub taken: String,
    /// `17 of 17`: stations measured in that session.
    pub stations: String,
    /// `4 812.0 h`.
    pub meter: String,
    /// `+8.0 h since last`.
    pub since: String,
    /// `4 820.0 h`.
    pub next_look: String,
    /// `in 8.0 h`.
    pub next_in: String,
    /// `**4** of 6 lines`.
    pub needs_work: String,
}

/// Tells the head of a machine's sheet.
pub fn tell(machine: &Machine, decision: &MachineDecision, n: Numbers) -> Head {
    use crate::domain::decide::Action;
    let history = &machine.history;
    // Counted over the whole log, as on Measure, so that a session has one number everywhere.
    let number = history.sessions.iter().rposition(|session| !session.readings.is_empty());
    let all = machine.shear.walk().len();
    let (taken, stations) = history.last_measured().map_or_else(
        || (tell!("not measured yet").to_owned(), String::new()),
        |last| {
            (
                n.moment(last.taken),
                tell!("{readings} of {all}", readings = last.readings.len(), all),
            )
        },
    );
    // Service hours: a meter that was changed in between does not matter.
    let mut service = history
        .sessions
        .iter()
        .zip(&history.service)
        .rev()
        .filter(|(session, _)| !session.readings.is_empty())
        .map(|(_, service)| *service);
    let since = match (service.next(), service.next()) {
        (Some(last), Some(before)) => {
            tell!("+{before} since last", before = numbers::meter(last - before))
        }
        _ => String::new(),
    };
    let ahead = decision.next_look - decision.meter;
    let trouble = history.due_at_once();
    let next_in = if trouble {
        tell!("after a jam or chatter").to_owned()
    } else if ahead < Hours::ZERO {
        tell!("overdue by {ahead}", ahead = numbers::meter(-ahead))
    } else {
        tell!("in {left}", left = numbers::meter(ahead))
    };
    let known = decision.measured.is_some();
    let jobs = decision.lines.iter().filter(|line| line.action != Action::Leave).count();
    Head {
        machine: machine.shear.name.clone(),
        carrier: machine.shear.carrier.clone(),
        session: number.map_or_else(
            || tell!("Session").to_owned(),
            |it| tell!("Session {value}", value = it + 1),
        ),
        taken,
        stations,
        meter: numbers::meter(decision.meter),
        since,
        next_look: if known && !trouble {
            numbers::meter(decision.next_look)
        } else {
            tell!("now").to_owned()
        },
        next_in: if known { next_in } else { String::new() },
        needs_work: tell!("**{jobs}** of {lines} lines", jobs, lines = decision.lines.len()),
    }
}
