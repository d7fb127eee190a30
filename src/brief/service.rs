//! The due list, told: what service asks for, and when.

use crate::{
    brief::{caution::practice, numbers, words, yard},
    domain::{
        decide::{Due, ServiceItem, ServiceTask, ServiceTime},
        machine::{BladeId, Shear},
        quantity::Hours,
        yard::Settings,
    },
    language::{self, sentence, tell},
};

/// One item in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ServiceTold {
    /// What to do, in a few words.
    pub task: String,
    /// When, in a few words.
    pub when: String,
    /// Why, and where the interval comes from.
    pub why: String,
    /// Whether it is due now.
    pub due: bool,
}

/// Where the yard's intervals come from.
const SOURCE: &str = sentence!("Common practice; the machine's manual comes first.");
/// Where those of one machine come from.
const OWN: &str = sentence!("Written for this machine alone; its manual comes first.");

/// The due list of a machine.
pub fn tell(items: &[ServiceItem], shear: &Shear, settings: &Settings) -> Vec<ServiceTold> {
    items.iter().map(|item| told(item, shear, settings)).collect()
}

/// What is due now, in one sentence; `None` if nothing but the look at the gaps is.
pub fn reminder(items: &[ServiceItem], shear: &Shear, settings: &Settings) -> Option<String> {
    let other = |it: &&ServiceItem| !matches!(it.task, ServiceTask::Look(_)) && it.is_due();
    let due: Vec<String> = items
        .iter()
        .filter(other)
        .map(|item| words::within(&told(item, shear, settings).task))
        .collect();
    (!due.is_empty()).then(|| tell!("Due: {tasks}.", tasks = due.join(" · ")))
}

fn told(item: &ServiceItem, shear: &Shear, settings: &Settings) -> ServiceTold {
    let source = |own: Option<Hours>| language::told(if own.is_some() { OWN } else { SOURCE });
    let every = |hours: f64, own: Option<Hours>| {
        tell!(
            "Every {hours} of work. {source}",
            hours = numbers::duration(hours),
            source = source(own)
        )
    };
    let (own, intervals) = (shear.intervals, settings.intervals_of(shear));
    let (task, why) = match &item.task {
        ServiceTask::Look(due) => {
            let said = yard::due_words(*due, intervals.look.h());
            let why = match due {
                Due::AtOnce | Due::Never | Due::ClockWrong => said,
                Due::Overdue { .. } | Due::Later { .. } => {
                    format!("{said} {}", every(intervals.look.h(), own.look))
                }
            };
            (tell!("Look at the gaps").to_owned(), why)
        }
        ServiceTask::Lubricate(since) => {
            let since = since.map_or_else(
                || tell!("Nobody has logged a greasing yet.").to_owned(),
                |hours| tell!("Greased {hours} ago.", hours = numbers::duration(hours.h())),
            );
            let why = format!("{since} {}", every(intervals.lubricate.h(), own.lubricate));
            (tell!("Lubricate").to_owned(), why)
        }
        ServiceTask::Retorque(blade, since) => {
            let (worked, after) =
                (numbers::duration(since.h()), numbers::duration(intervals.retorque.h()));
            let why = tell!(
                "Loosened {worked} of work ago; packs settle, so tighten again after {after}. \
                 {source}",
                worked,
                after,
                source = source(own.retorque)
            );
            (tell!("Tighten again: {blade}", blade = name(shear, blade)), why)
        }
        ServiceTask::BreakIn(blade, since) => {
            let why = tell!(
                "A fresh edge {since} of work ago. {thin_first}",
                since = numbers::duration(since.h()),
                thin_first = language::told(practice::THIN_FIRST)
            );
            (tell!("Thin stock first: {blade}", blade = name(shear, blade)), why)
        }
        ServiceTask::Frost(air) => {
            let air = numbers::temperature(*air);
            let why = tell!(
                "The air was {air} at the last visit. {thin_first}",
                air,
                thin_first = language::told(practice::THIN_FIRST)
            );
            (tell!("Thin stock first: frost").to_owned(), why)
        }
        ServiceTask::Weld(since) => {
            let why = tell!(
                "The last build-up weld was {since} of work ago. At the end of a shift, so that the \
                 part cools slowly under a cover. Work for a qualified welder, by the machine's \
                 manual.",
                since = numbers::duration(since.h())
            );
            (tell!("Build-up weld at shift end").to_owned(), why)
        }
        ServiceTask::Calibrate(set, due) => {
            let due = numbers::date(*due);
            let why = tell!(
                "Its leaves are to be measured by {due}: a worn leaf makes every gap look wider \
                 than it is.",
                due
            );
            (tell!("Calibrate the leaf set “{set}”", set), why)
        }
    };
    ServiceTold { task, when: when(item.time), why, due: item.is_due() }
}

fn name(shear: &Shear, blade: &BladeId) -> String {
    shear.blade(blade).map_or_else(|| blade.0.clone(), |it| language::known(&it.name).to_owned())
}

fn when(time: ServiceTime) -> String {
    let hours = |left: f64| numbers::duration(left);
    match time {
        ServiceTime::AtOnce => tell!("at once").to_owned(),
        ServiceTime::In(left) if left.thousandths() == 0 => tell!("now").to_owned(),
        ServiceTime::In(left) if left.thousandths() < 0 => {
            tell!("{left} over", left = hours(-left.h()))
        }
        ServiceTime::In(left) => tell!("in {left}", left = hours(left.h())),
        ServiceTime::For(left) => tell!("for {left} more", left = hours(left.h())),
        ServiceTime::Unknown => tell!("not logged").to_owned(),
        ServiceTime::Days(0) => tell!("today").to_owned(),
        ServiceTime::Days(left @ ..0) => {
            tell!("{left} over", left = days(left.unsigned_abs()))
        }
        ServiceTime::Days(left) => tell!("in {left}", left = days(left.unsigned_abs())),
        ServiceTime::Meanwhile => tell!("until it thaws").to_owned(),
    }
}

fn days(count: u64) -> String {
    if count == 1 { tell!("1 day").to_owned() } else { tell!("{count} days", count) }
}

/// A heading for the list.
pub fn title(shear: &Shear) -> String {
    tell!("Service of {shear}", shear = words::capital(&shear.name))
}

#[test]
fn what_is_due_comes_first_and_says_how_far_it_is_over() {
    let hours = |h| ServiceTime::In(Hours::from_h(h).unwrap());
    for (time, said) in [
        (ServiceTime::AtOnce, tell!("at once")),
        (hours(0.0), "now"),
        (hours(2.0), "in 2 h"),
        (hours(-3.0), tell!("3 h over")),
        (ServiceTime::Days(1), tell!("in 1 day")),
        (ServiceTime::Days(-2), tell!("2 days over")),
        (ServiceTime::Days(0), "today"),
    ] {
        assert_eq!(when(time).replace('\u{a0}', " "), said);
    }
}
