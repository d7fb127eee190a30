//! The due list, told: what service asks for, and when.

use crate::{
    brief::{caution::practice, numbers, words, yard},
    domain::{
        decide::{Due, ServiceItem, ServiceTask, ServiceTime},
        machine::{BladeId, Shear},
        yard::Settings,
    },
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

/// Where the intervals come from.
const SOURCE: &str = "Common practice; the machine's manual comes first.";

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
        .map(|item| told(item, shear, settings).task.to_lowercase())
        .collect();
    (!due.is_empty()).then(|| format!("Due: {}.", due.join(" · ")))
}

fn told(item: &ServiceItem, shear: &Shear, settings: &Settings) -> ServiceTold {
    let every = |hours: f64| format!("Every {} of work. {SOURCE}", numbers::duration(hours));
    let intervals = settings.intervals;
    let (task, why) = match &item.task {
        ServiceTask::Look(due) => {
            let said = yard::due_words(*due, intervals.look.h());
            let why = match due {
                Due::AtOnce | Due::Never | Due::ClockWrong => said,
                Due::Overdue { .. } | Due::Later { .. } => {
                    format!("{said} {}", every(intervals.look.h()))
                }
            };
            ("Look at the gaps".to_owned(), why)
        }
        ServiceTask::Lubricate(since) => {
            let since = since.map_or_else(
                || "Nobody has logged a greasing yet.".to_owned(),
                |hours| format!("Greased {} ago.", numbers::duration(hours.h())),
            );
            let why = format!("{since} {}", every(intervals.lubricate.h()));
            ("Lubricate".to_owned(), why)
        }
        ServiceTask::Retorque(blade, since) => {
            let (worked, after) =
                (numbers::duration(since.h()), numbers::duration(intervals.retorque.h()));
            let why = format!(
                "Loosened {worked} of work ago; packs settle, so tighten again after {after}. \
                 {SOURCE}"
            );
            (format!("Tighten again: {}", name(shear, blade)), why)
        }
        ServiceTask::BreakIn(blade, since) => {
            let why = format!(
                "A fresh edge {} of work ago. {}",
                numbers::duration(since.h()),
                practice::THIN_FIRST
            );
            (format!("Thin stock first: {}", name(shear, blade)), why)
        }
        ServiceTask::Frost(air) => {
            let air = numbers::temperature(*air);
            let why = format!("The air was {air} at the last visit. {}", practice::THIN_FIRST);
            ("Thin stock first: frost".to_owned(), why)
        }
        ServiceTask::Weld(since) => {
            let why = format!(
                "The last build-up weld was {} of work ago. At the end of a shift, so that the \
                 part cools slowly under a cover. Work for a qualified welder, by the machine's \
                 manual.",
                numbers::duration(since.h())
            );
            ("Build-up weld at shift end".to_owned(), why)
        }
        ServiceTask::Calibrate(set, due) => {
            let due = due.format("%-d %b %Y");
            let why = format!(
                "Its leaves are to be measured by {due}: a worn leaf makes every gap look wider \
                 than it is."
            );
            (format!("Calibrate the leaf set “{set}”"), why)
        }
    };
    ServiceTold { task, when: when(item.time), why, due: item.is_due() }
}

fn name(shear: &Shear, blade: &BladeId) -> String {
    shear.blade(blade).map_or_else(|| blade.0.clone(), |it| it.name.clone())
}

fn when(time: ServiceTime) -> String {
    let hours = |left: f64| numbers::duration(left);
    match time {
        ServiceTime::AtOnce => "at once".to_owned(),
        ServiceTime::In(left) if left.thousandths() == 0 => "now".to_owned(),
        ServiceTime::In(left) if left.thousandths() < 0 => format!("{} over", hours(-left.h())),
        ServiceTime::In(left) => format!("in {}", hours(left.h())),
        ServiceTime::For(left) => format!("for {} more", hours(left.h())),
        ServiceTime::Unknown => "not logged".to_owned(),
        ServiceTime::Days(0) => "today".to_owned(),
        ServiceTime::Days(left @ ..0) => days(left.unsigned_abs(), "over"),
        ServiceTime::Days(left) => format!("in {}", days(left.unsigned_abs(), "")),
        ServiceTime::Meanwhile => "until it thaws".to_owned(),
    }
}

fn days(count: u64, after: &str) -> String {
    let days = if count == 1 { "1 day".to_owned() } else { format!("{count} days") };
    format!("{days} {after}").trim_end().to_owned()
}

/// A heading for the list.
pub fn title(shear: &Shear) -> String {
    format!("Service of {}", words::capital(&shear.name))
}

#[test]
fn what_is_due_comes_first_and_says_how_far_it_is_over() {
    use crate::domain::quantity::Hours;
    let hours = |h| ServiceTime::In(Hours::from_h(h).unwrap());
    for (time, said) in [
        (ServiceTime::AtOnce, "at once"),
        (hours(0.0), "now"),
        (hours(2.0), "in 2 h"),
        (hours(-3.0), "3 h over"),
        (ServiceTime::Days(1), "in 1 day"),
        (ServiceTime::Days(-2), "2 days over"),
        (ServiceTime::Days(0), "today"),
    ] {
        assert_eq!(when(time).replace('\u{a0}', " "), said);
    }
}
