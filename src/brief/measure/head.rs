//! The head of the Measure screen: which machine, which visit, which hours, how far.

use crate::{
    brief::{Numbers, measure::Telling, numbers},
    domain::{quantity::Hours, yard::Machine},
    language::tell,
};
use chrono::{DateTime, Utc};

/// The cells of the title block.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// What people call the machine.
    pub machine: String,
    /// Carrier and place, or that somebody must look at once.
    pub carrier: String,
    /// `Session 131`.
    pub session: String,
    /// `Tue 4 Nov, 14:40`.
    pub taken: String,
    /// `by MR`; empty until somebody said so.
    pub by: String,
    /// `4 812.0 h`.
    pub meter: String,
    /// `+8.0 h since last`.
    pub since: String,
    /// How many stations are measured, and of how many.
    pub measured: (usize, usize),
}

/// Tells the head. `taken` is when the visit began; `meter` the meter as typed, if it was.
pub fn head(
    telling: &Telling<'_>,
    machine: &Machine,
    taken: DateTime<Utc>,
    meter: Option<Hours>,
) -> Head {
    let last = machine.history.last().map(|session| session.meter);
    let shown = meter.or(last).unwrap_or(Hours::ZERO);
    let since = match (meter, last) {
        (Some(meter), Some(last)) if last <= meter => {
            tell!("+{meter} since last", meter = numbers::meter(meter - last))
        }
        (Some(_), _) => String::new(),
        (None, Some(_)) => tell!("last time").to_owned(),
        (None, None) => tell!("not read yet").to_owned(),
    };
    let by = telling.session.map_or("", |session| session.by.trim());
    let look = machine.history.due_at_once();
    let stations = machine.shear.walk();
    let done = stations.iter().filter(|station| telling.is_confirmed(**station)).count();
    Head {
        machine: machine.shear.name.clone(),
        carrier: if look {
            tell!("look at once: jam or chatter logged").to_owned()
        } else {
            machine.shear.carrier.clone()
        },
        session: tell!("Session {sessions}", sessions = machine.history.sessions.len() + 1),
        taken: telling.numbers.moment(taken),
        by: if by.is_empty() { String::new() } else { tell!("by {by}", by) },
        meter: numbers::meter(shown),
        since,
        measured: (done, stations.len()),
    }
}

/// When the draft was last written: a caption and the time of day.
pub fn saved(at: Option<DateTime<Utc>>, n: Numbers) -> (&'static str, String) {
    match at {
        Some(at) => (tell!("Saved on this tablet"), n.clock(at)),
        None => (tell!("On this tablet"), tell!("nothing yet").to_owned()),
    }
}

/// What is measured, what is not, what was seen: to read before signing.
pub fn summary(telling: &Telling<'_>) -> String {
    let walk = telling.shear.walk();
    let missing: Vec<String> = walk
        .iter()
        .filter(|station| !telling.is_confirmed(**station))
        .map(ToString::to_string)
        .collect();
    let measured = walk.len() - missing.len();
    let stations = if missing.is_empty() {
        tell!("All **{measured}** stations are measured.", measured)
    } else {
        let missing = missing.join(", ");
        tell!(
            "**{measured}** of {walk} stations are measured. Not yet: **{missing}**.",
            measured,
            walk = walk.len(),
            missing
        )
    };
    let seen = match telling.session.map_or(0, |session| session.findings.len()) {
        0 => tell!("Nothing was seen on the faces.").to_owned(),
        1 => tell!("**1** thing was seen.").to_owned(),
        more => tell!("**{more}** things were seen.", more),
    };
    format!("{stations} {seen}")
}
