//! When the visits were: rounds, checks after work, mentions in mid-shift.

use crate::{
    domain::machine::LineId,
    sample::{
        chance::Chance,
        course::Stage,
        scenario::{LIFE, Scenario, Story},
    },
};
use chrono::{DateTime, Datelike as _, TimeDelta, Timelike as _, Utc, Weekday};

/// What a visit is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Purpose {
    /// The round at the end of a shift.
    Round,
    /// Only what was worked on, after the first hour of cutting.
    Check,
    /// Something happened; nothing was measured.
    Mention,
    /// New blades all round; nothing was measured.
    Fitting,
}

/// One visit, without its contents.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Visit {
    pub(crate) purpose: Purpose,
    pub(crate) taken: DateTime<Utc>,
    /// Service hours from here to the newest session, in tenths.
    pub(crate) tenths_before_end: i32,
}

/// The story of the life a session belongs to, and the session counted within it.
pub(crate) const fn life_of(scenario: Scenario, session: usize) -> (&'static Story, usize) {
    let story = if session < LIFE { scenario.story() } else { Scenario::earlier() };
    (story, session % LIFE)
}

/// The stages that work begins at a session.
pub(crate) fn begun(
    story: &'static Story,
    within: usize,
) -> impl Iterator<Item = (LineId, &'static Stage)> {
    story.courses.iter().flat_map(move |course| {
        let id = LineId::new(course.line);
        let stages = course.stages.iter().filter(move |stage| stage.from == within);
        stages.filter_map(move |stage| id.map(|id| (id, stage)))
    })
}

fn works_at(scenario: Scenario, session: usize) -> bool {
    let (story, within) = life_of(scenario, session);
    begun(story, within).any(|(_, stage)| stage.begins.is_work())
}

pub(crate) fn purpose_of(scenario: Scenario, session: usize) -> Purpose {
    let (story, within) = life_of(scenario, session);
    if within == LIFE - 1 {
        Purpose::Fitting
    } else if story.no_readings.contains(&within) {
        Purpose::Mention
    } else if works_at(scenario, session + 1) {
        Purpose::Check
    } else {
        Purpose::Round
    }
}

/// Visits from the newest backward: a round at the end of every shift, a check early on the day
/// after work, mentions in between; eight hours of cutting a day and none on Sundays.
pub(crate) fn visits(
    scenario: Scenario,
    lives: usize,
    end: DateTime<Utc>,
    chance: &mut Chance,
) -> Vec<Visit> {
    let mut taken = end - TimeDelta::minutes(scenario.story().minutes_before_end);
    let mut tenths_before_end = 0;
    let mut visits: Vec<Visit> = Vec::with_capacity(lives * LIFE);
    for session in 0..lives * LIFE {
        let purpose = purpose_of(scenario, session);
        visits.push(Visit { purpose, taken, tenths_before_end });
        let minute = chance.between(-12, 12);
        let (tenths, earlier) = match (purpose, purpose_of(scenario, session + 1)) {
            (Purpose::Round, Purpose::Check) => (68, at(taken, 7 * 60 + 20 + minute)),
            (Purpose::Round, Purpose::Mention) => (34, at(taken, 11 * 60 + minute)),
            (Purpose::Check, _) => (12, at(working_day_before(taken), 14 * 60 + 36 + minute)),
            (Purpose::Mention, _) => (46, at(working_day_before(taken), 14 * 60 + 36 + minute)),
            (Purpose::Round | Purpose::Fitting, _) => {
                let early = at(working_day_before(taken), 14 * 60 + 36 + minute);
                (chance.between(77, 83), early)
            }
        };
        tenths_before_end += tenths;
        taken = earlier;
    }
    visits
}

/// The same day at this many minutes after midnight.
fn at(day: DateTime<Utc>, minutes: i32) -> DateTime<Utc> {
    let since_midnight = i64::from(day.num_seconds_from_midnight());
    day - TimeDelta::seconds(since_midnight) + TimeDelta::minutes(i64::from(minutes))
}

fn working_day_before(day: DateTime<Utc>) -> DateTime<Utc> {
    let before = day - TimeDelta::days(1);
    if before.weekday() == Weekday::Sun { before - TimeDelta::days(1) } else { before }
}
