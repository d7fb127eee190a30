//! The yard, told: machines by urgency.
//!
//! What stands still is told once, as a [`Standing`]; what time changes is told of that at any
//! moment, as a [`MachineBrief`].

use crate::{
    brief::{Numbers, decision::tell_line, numbers, words},
    domain::{
        decide::{Action, Due, Job, LastLook, MachineDecision},
        machine::{LineId, ShearId},
        quantity::{Hours, float},
        trend::HoursTo,
        yard::Machine,
    },
    language::tell,
};
use chrono::{DateTime, Utc};

/// What is told of a machine and does not change until somebody does something to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Which.
    pub shear: ShearId,
    /// What people call it.
    pub name: String,
    /// Carrier and place.
    pub carrier: String,
    /// The weightiest reason, told.
    pub reason: String,
    /// `4 812.0 h`.
    pub meter: String,
    /// Hours to the first working limit, large and quiet.
    pub hours: (String, String),
    /// Whether today's jobs lack parts, in two or three words; nothing if they do not.
    pub parts: Option<String>,
    /// What the next look depends on.
    pub last: LastLook,
    /// Hours between two looks at it, where they are not those of the yard.
    pub look: Option<Hours>,
    /// Its lines, most severe first.
    pub lines: Vec<LineRow>,
}

/// One line of a machine, in a row.
#[derive(Clone, Debug, PartialEq)]
pub struct LineRow {
    /// Which.
    pub line: LineId,
    /// Its place with a capital: `Secondary blades`.
    pub place: String,
    /// What to do.
    pub action: Action,
    /// Whether that is to measure, because nobody knows the gap.
    pub measure: bool,
    /// That in a word.
    pub action_word: String,
    /// The job in one line.
    pub headline: String,
    /// Hours to the working limit, large: `10 h`.
    pub hours: String,
    /// Their interval, quiet: `5–16`.
    pub interval: String,
}

impl Standing {
    /// Of one machine; parts are the yard's business and are told by who knows them.
    pub fn of(machine: &Machine, decision: &MachineDecision, n: Numbers) -> Self {
        let shear = &machine.shear;
        let lines: Vec<_> = decision.lines.iter().map(|line| tell_line(line, shear, n)).collect();
        let reason = lines.first().and_then(|line| line.reasons.first());
        let soonest =
            decision.lines.iter().filter_map(|line| line.hours().map(|(_, hours)| hours)).min_by(
                |a, b| {
                    let order = |it: &HoursTo| match it.estimate_h {
                        _ if it.passed => f64::NEG_INFINITY,
                        estimate => estimate.unwrap_or(f64::INFINITY),
                    };
                    order(a).total_cmp(&order(b))
                },
            );
        Self {
            shear: shear.id.clone(),
            name: shear.name.clone(),
            carrier: shear.carrier.clone(),
            reason: reason.map_or_else(String::new, |told| told.text.clone()),
            meter: numbers::meter(decision.meter),
            hours: numbers::hours_to(soonest),
            parts: None,
            last: LastLook::of(&machine.history),
            look: shear.intervals.look,
            lines: lines
                .into_iter()
                .zip(&decision.lines)
                .map(|(it, decided)| LineRow {
                    measure: decided.action == Action::Leave && decided.job == Job::Measure,
                    line: it.line,
                    place: it.place,
                    action: it.action,
                    action_word: it.action_word.to_owned(),
                    headline: it.headline,
                    hours: it.hours,
                    interval: it.interval,
                })
                .collect(),
        }
    }

    /// The most severe action.
    pub fn action(&self) -> Action {
        self.lines.iter().map(|line| line.action).max().unwrap_or(Action::Leave)
    }

    /// That in a word.
    pub fn action_word(&self) -> &'static str {
        words::action(self.action())
    }

    /// The weightiest job in one line.
    pub fn headline(&self) -> &str {
        self.lines.first().map_or("", |line| &line.headline)
    }

    /// How many lines need work.
    pub fn jobs(&self) -> usize {
        self.lines.iter().filter(|line| line.action != Action::Leave).count()
    }
}

/// One machine in the list, at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct MachineBrief<'a> {
    /// What stands still.
    pub standing: &'a Standing,
    /// `measured 2 h ago`.
    pub measured: String,
    /// What the rule about looking at the gaps says.
    pub due: Due,
    /// That in words.
    pub due_words: String,
}

impl MachineBrief<'_> {
    /// Whether there is nothing to do but to measure: trouble was logged, or nobody ever has.
    pub fn must_measure(&self) -> bool {
        self.standing.action() == Action::Leave && matches!(self.due, Due::AtOnce | Due::Never)
    }

    /// What to do in a word.
    pub fn action_word(&self) -> &'static str {
        if self.must_measure() { tell!("Measure") } else { self.standing.action_word() }
    }
}

/// Tells every machine at the time `now`, most urgent first, where the gaps are looked at every
/// `look` hours unless a machine says otherwise.
pub fn tell(standings: &[Standing], look: Hours, now: DateTime<Utc>) -> Vec<MachineBrief<'_>> {
    let mut briefs: Vec<MachineBrief<'_>> = standings
        .iter()
        .map(|standing| {
            let look = standing.look.unwrap_or(look);
            let due = standing.last.due(look, now);
            MachineBrief {
                standing,
                measured: measured(standing.last, due, now),
                due,
                due_words: due_words(due, look.h()),
            }
        })
        .collect();
    briefs.sort_by(|a, b| {
        (b.standing.action(), urgency(b.due))
            .cmp(&(a.standing.action(), urgency(a.due)))
            .then_with(|| a.standing.name.cmp(&b.standing.name))
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

fn measured(last: LastLook, due: Due, now: DateTime<Utc>) -> String {
    match (due, last.measured) {
        (_, None) => tell!("never measured").to_owned(),
        (Due::ClockWrong, _) => tell!("measured after now").to_owned(),
        (_, Some(taken)) => ago(float(now.signed_duration_since(taken).num_minutes()) / 60.0),
    }
}

fn ago(clock_h: f64) -> String {
    if clock_h < 1.0 {
        tell!("measured within 1 h").to_owned()
    } else if clock_h < 48.0 {
        tell!("measured {hours} ago", hours = numbers::whole_hours(clock_h.floor()))
    } else {
        tell!("measured {days} days ago", days = numbers::hours_value((clock_h / 24.0).floor()))
    }
}

/// What the rule about looking at the gaps says for a machine.
pub fn due_words(due: Due, look_h: f64) -> String {
    let look = numbers::whole_hours(look_h);
    match due {
        Due::Never => tell!("Measure it once before it cuts.").to_owned(),
        Due::AtOnce => tell!("Look at once: jam or chatter logged.").to_owned(),
        Due::Overdue { .. } => tell!("Look due if it has worked {look} since.", look),
        Due::Later { clock_h } => {
            tell!(
                "Next look within {hours}.",
                hours = numbers::whole_hours((look_h - clock_h).ceil())
            )
        }
        Due::ClockWrong => {
            tell!("The last session is dated after now. Check this tablet's clock.").to_owned()
        }
    }
}
