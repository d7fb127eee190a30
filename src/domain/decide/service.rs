//! The service clock: what is due on a machine beside its gaps, and how many hours are left.
//!
//! Hours of work are known up to the newest visit and no further, so each item counts from there;
//! only the look at the gaps, frost and calibration follow the calendar. The intervals are those of
//! the machine, and of its yard where the machine says none. Knows no words.

use crate::domain::{
    decide::{Due, LastLook},
    log::BladeState,
    machine::BladeId,
    quantity::{Hours, Temperature},
    yard::{Machine, Settings},
};
use chrono::{DateTime, NaiveDate, TimeDelta, Utc};

/// Something that service asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum ServiceTask {
    /// Look at the gaps.
    Look(Due),
    /// Grease the pivot and the pads; the hours since it was last done, if anybody logged it.
    Lubricate(Option<Hours>),
    /// Tighten the bolts of a blade again, so many hours after they were loosened.
    Retorque(BladeId, Hours),
    /// Cut thin stock first: a blade has had a fresh edge for so many hours.
    BreakIn(BladeId, Hours),
    /// The air was this cold at the last visit: cold steel is brittle, so thin stock first.
    Frost(Temperature),
    /// Weld wear up again, at the end of a shift; the hours since it was last done.
    Weld(Hours),
    /// Have the leaves of a set measured by this day.
    Calibrate(String, NaiveDate),
}

/// When it is due.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ServiceTime {
    /// Before the machine cuts on.
    AtOnce,
    /// After so many hours of work; zero or less is due now.
    In(Hours),
    /// It holds for so many hours more.
    For(Hours),
    /// Nobody has written down when it was done last.
    Unknown,
    /// In so many days; zero or less is due now.
    Days(i64),
    /// As long as the weather lasts.
    Meanwhile,
}

/// One item of the due list.
#[derive(Clone, Debug, PartialEq)]
pub struct ServiceItem {
    /// What.
    pub task: ServiceTask,
    /// When.
    pub time: ServiceTime,
}

impl ServiceItem {
    /// Whether somebody must do something now.
    pub fn is_due(&self) -> bool {
        match self.time {
            ServiceTime::AtOnce | ServiceTime::For(_) | ServiceTime::Meanwhile => true,
            ServiceTime::In(left) => left <= Hours::ZERO,
            ServiceTime::Days(left) => left <= 0,
            ServiceTime::Unknown => false,
        }
    }

    /// What comes first: at once, due, what holds now, then what is still to come, soonest first.
    fn rank(&self) -> (u8, i64) {
        match self.time {
            ServiceTime::AtOnce => (0, 0),
            ServiceTime::In(left) if left <= Hours::ZERO => (1, left.thousandths()),
            ServiceTime::Days(left) if left <= 0 => (1, left * 24_000),
            ServiceTime::For(_) | ServiceTime::Meanwhile => (2, 0),
            ServiceTime::In(left) => (3, left.thousandths()),
            ServiceTime::Days(left) => (3, left * 24_000),
            ServiceTime::Unknown => (4, 0),
        }
    }
}

/// Frost of the last day still counts; older weather says nothing.
const WEATHER_HOURS: i64 = 24;
/// Days ahead in which a calibration is on the list.
const CALIBRATION_DAYS: i64 = 30;

/// Everything service asks for on a machine at the time `now`, most urgent first.
pub fn service(machine: &Machine, settings: &Settings, now: DateTime<Utc>) -> Vec<ServiceItem> {
    let history = &machine.history;
    let (intervals, worked) = (settings.intervals_of(&machine.shear), history.service_now());
    let mut items = vec![look(LastLook::of(history), intervals.look, now)];
    let mut add = |task, time| items.push(ServiceItem { task, time });
    if history.last().is_some() {
        let since = history.lubricated.map(|at| worked - at);
        let time =
            since.map_or(ServiceTime::Unknown, |it| ServiceTime::In(intervals.lubricate - it));
        add(ServiceTask::Lubricate(since), time);
    }
    for (id, state) in &history.blades {
        if let Some(cut) = since_loosened(state, worked) {
            let left = ServiceTime::In(intervals.retorque - cut);
            add(ServiceTask::Retorque(id.clone(), cut), left);
        }
        // An edge settles by what it has cut itself: moved to another seat it is as old as before.
        if let Some((cut, false)) = history.hours_on_edge(id)
            && cut < intervals.break_in
        {
            add(ServiceTask::BreakIn(id.clone(), cut), ServiceTime::For(intervals.break_in - cut));
        }
    }
    let fresh = |taken: DateTime<Utc>| now - taken < TimeDelta::hours(WEATHER_HOURS);
    let air = history.last().filter(|it| fresh(it.taken)).and_then(|it| it.air_temp);
    if let Some(air) = air.filter(|air| *air < Temperature::from_whole_c(0)) {
        add(ServiceTask::Frost(air), ServiceTime::Meanwhile);
    }
    if let Some(since) = history.last_weld().map(|at| worked - at) {
        let every = settings.upkeep.times().weld_every;
        add(ServiceTask::Weld(since), ServiceTime::In(every - since));
    }
    items.extend(calibrations(settings, now));
    items.sort_by_key(ServiceItem::rank);
    items
}

/// The leaf sets of a yard whose leaves must be measured again, now or within a month.
pub fn calibrations(settings: &Settings, now: DateTime<Utc>) -> Vec<ServiceItem> {
    let today = now.date_naive();
    let noted = settings.leaf_sets.iter().filter_map(|set| Some((set, set.calibration()?.due)));
    noted
        .map(|(set, due)| (set, due, (due - today).num_days()))
        .filter(|(_, _, left)| *left <= CALIBRATION_DAYS)
        .map(|(set, due, left)| ServiceItem {
            task: ServiceTask::Calibrate(set.name().to_owned(), due),
            time: ServiceTime::Days(left),
        })
        .collect()
}

fn look(last: LastLook, every: Hours, now: DateTime<Utc>) -> ServiceItem {
    let due = last.due(every, now);
    let left = |clock_h: f64| {
        Hours::from_h(clock_h).map_or(ServiceTime::AtOnce, |clock| ServiceTime::In(every - clock))
    };
    let time = match due {
        Due::Never | Due::AtOnce | Due::ClockWrong => ServiceTime::AtOnce,
        // By how much is not known: a clock also runs while a machine stands.
        Due::Overdue { .. } => ServiceTime::In(Hours::ZERO),
        Due::Later { clock_h } => left(clock_h),
    };
    ServiceItem { task: ServiceTask::Look(due), time }
}

/// Hours since the bolts of a blade were loosened and not tightened again afterwards.
///
/// A log that never names a torque for a blade says nothing about its bolts.
fn since_loosened(state: &BladeState, worked: Hours) -> Option<Hours> {
    let (loosened, (_, tightened)) = (state.loosened?, state.tightened?);
    (tightened <= loosened).then(|| worked - loosened)
}
