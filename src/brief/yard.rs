//! The yard, told: machines by urgency.

use crate::{
    brief::{Numbers, decision::tell_line, numbers, words},
    domain::{
        decide::{Action, Due, MachineDecision, due},
        log::History,
        machine::ShearId,
        quantity::float,
        yard::{Machine, Settings, Yard},
    },
};
use chrono::{DateTime, Utc};

/// One machine in the list.
#[derive(Clone, Debug, PartialEq)]
pub struct MachineBrief {
    /// Which.
    pub shear: ShearId,
    /// What people call it.
    pub name: String,
    /// Carrier and place.
    pub carrier: String,
    /// The most severe action.
    pub action: Action,
    /// That in a word.
    pub action_word: &'static str,
    /// The weightiest job in one line.
    pub headline: String,
    /// The weightiest reason, told.
    pub reason: String,
    /// `4 812.0 h`.
    pub meter: String,
    /// `measured 2 h ago`.
    pub measured: String,
    /// What the 8-hour rule says.
    pub due: Due,
    /// That in words.
    pub due_words: String,
    /// Hours to the first working limit, large and quiet.
    pub hours: (String, String),
    /// How many lines need work.
    pub jobs: usize,
    /// The count of each action over the lines, mildest first.
    pub actions: Vec<Action>,
}

/// Tells every machine, most urgent first.
pub fn tell(
    yard: &Yard,
    decisions: &[MachineDecision],
    now: DateTime<Utc>,
    n: Numbers,
) -> Vec<MachineBrief> {
    let mut briefs: Vec<MachineBrief> = yard
        .machines
        .iter()
        .filter_map(|machine| {
            let decision = decisions.iter().find(|it| it.shear == machine.shear.id)?;
            Some(tell_machine(machine, decision, &yard.settings, now, n))
        })
        .collect();
    briefs.sort_by(|a, b| {
        (b.action, urgency(b.due))
            .cmp(&(a.action, urgency(a.due)))
            .then_with(|| a.name.cmp(&b.name))
    });
    briefs
}

const fn urgency(due: Due) -> u8 {
    match due {
        Due::Later { .. } => 0,
        Due::Overdue { .. } => 1,
        Due::Never => 2,
        Due::ClockWrong => 3,
        Due::AtOnce => 4,
    }
}

fn tell_machine(
    machine: &Machine,
    decision: &MachineDecision,
    settings: &Settings,
    now: DateTime<Utc>,
    n: Numbers,
) -> MachineBrief {
    let shear = &machine.shear;
    let look = settings.intervals.look;
    let is_due = due(&machine.history, look, now);
    let first = decision.lines.first().map(|line| tell_line(line, shear, n));
    let hours = decision
        .lines
        .iter()
        .filter_map(|line| line.hours().map(|(_, hours)| hours))
        .min_by(|a, b| {
            let order = |it: &crate::domain::trend::HoursTo| {
                if it.passed { f64::NEG_INFINITY } else { it.estimate_h.unwrap_or(f64::INFINITY) }
            };
            order(a).total_cmp(&order(b))
        });
    let action = decision.worst();
    MachineBrief {
        shear: shear.id.clone(),
        name: shear.name.clone(),
        carrier: shear.carrier.clone(),
        action,
        action_word: words::action(action),
        headline: first.as_ref().map_or_else(String::new, |line| line.headline.clone()),
        reason: first
            .and_then(|line| line.reasons.into_iter().next())
            .map_or_else(String::new, |told| told.text),
        meter: numbers::meter(decision.meter),
        measured: measured(&machine.history, is_due, now),
        due: is_due,
        due_words: due_words(is_due, look.h()),
        hours: numbers::hours_to(hours),
        jobs: decision.lines.iter().filter(|line| line.action != Action::Leave).count(),
        actions: decision.lines.iter().map(|line| line.action).collect(),
    }
}

fn measured(history: &History, due: Due, now: DateTime<Utc>) -> String {
    match (due, history.last_measured()) {
        (_, None) => "never measured".to_owned(),
        (Due::ClockWrong, _) => "measured after now".to_owned(),
        (_, Some(last)) => ago(float(now.signed_duration_since(last.taken).num_minutes()) / 60.0),
    }
}

fn ago(clock_h: f64) -> String {
    if clock_h < 1.0 {
        "measured within the hour".to_owned()
    } else if clock_h < 48.0 {
        format!("measured {} ago", numbers::whole_hours(clock_h.floor()))
    } else {
        format!("measured {} days ago", numbers::hours_value((clock_h / 24.0).floor()))
    }
}

/// What the rule about looking at the gaps says for a machine.
pub fn due_words(due: Due, look_h: f64) -> String {
    let look = numbers::whole_hours(look_h);
    match due {
        Due::Never => "Measure it once before it cuts.".to_owned(),
        Due::AtOnce => "Look at once: a jam or chatter was logged.".to_owned(),
        Due::Overdue { .. } => format!("Look due if it has worked {look} since."),
        Due::Later { clock_h } => {
            format!("Next look within {}.", numbers::whole_hours((look_h - clock_h).ceil()))
        }
        Due::ClockWrong => {
            "The last session is dated after now. Check this tablet's clock.".to_owned()
        }
    }
}
