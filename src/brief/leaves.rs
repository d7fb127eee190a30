//! Leaf sets, told: when their leaves must be measured again.

use crate::{
    domain::{gauge::LeafSet, yard::Settings},
    language::tell,
};
use chrono::{DateTime, NaiveDate, TimeDelta, Utc};

/// Days ahead in which a calibration is announced.
const AHEAD_DAYS: i64 = 30;

/// A notice for each set whose calibration is over or soon will be, the usual set first.
pub fn due_notices(settings: &Settings, now: DateTime<Utc>) -> Vec<String> {
    settings.leaf_sets.iter().filter_map(|set| due_notice(set, now)).collect()
}

/// Whether a set's calibration is over or soon will be: a fact and a next step.
pub fn due_notice(set: &LeafSet, now: DateTime<Utc>) -> Option<String> {
    let due = set.calibration()?.due;
    let today = now.date_naive();
    let name = set.name();
    if due < today {
        Some(tell!(
            "The leaf set “{name}” was due for calibration on {due}. Have its leaves measured: a worn \
             leaf makes every gap look wider than it is.",
            name,
            due = day(due)
        ))
    } else if due <= today + TimeDelta::days(AHEAD_DAYS) {
        Some(tell!(
            "The leaf set “{name}” is due for calibration on {due}. Send it in time.",
            name,
            due = day(due)
        ))
    } else {
        None
    }
}

fn day(day: NaiveDate) -> String {
    crate::brief::numbers::date(day)
}

#[test]
fn a_calibration_is_announced_a_month_ahead_and_named_when_it_is_over() {
    use crate::domain::gauge::{Calibration, Usual};
    let at = |month, day| NaiveDate::from_ymd_opt(2026, month, day).unwrap();
    let due = |month, day| {
        let calibration = Calibration { on: at(1, 1), due: at(month, day) };
        let set = Usual::MetricTen.set().unwrap().calibrated(Some(calibration));
        due_notice(&set, at(6, 1).and_hms_opt(12, 0, 0).unwrap().and_utc())
    };
    assert!(due(5, 31).unwrap().contains("was due for calibration on 31 May 2026"));
    assert!(due(6, 1).unwrap().contains("is due"), "the last day still counts");
    assert!(due(7, 1).is_some());
    assert_eq!(due(7, 2), None);
    let now = DateTime::UNIX_EPOCH;
    assert_eq!(due_notice(&Usual::MetricTen.set().unwrap(), now), None, "nobody noted one");
}
