//! A lower jaw that has spread.
//!
//! The tip's two gaps, against the cutting side and against the guide blade, share one slot: wear
//! makes their sum grow slowly and shims change it by a known amount, but a jump with no work
//! recorded means that the slot itself has opened. Shims cannot cure that.

use crate::domain::{
    decide::StationState,
    log::{Cut, History, SessionId, Work},
    machine::{LineId, Shear, Toward},
    quantity::Hours,
};
use chrono::{DateTime, Utc};

/// The tip's two gaps together jumped open.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// The line against the cutting side.
    pub cutting: LineId,
    /// The line against the guide blade.
    pub guide: LineId,
    /// Service hours of the last session before the jump.
    pub from: Hours,
    /// Service hours of the first session after it.
    pub to: Hours,
    /// How far they opened together, in mm.
    pub by_mm: f64,
}

/// The smallest jump that is called a spread, in mm: well above feeler resolution and what a tip
/// wears between two sessions. A design value of ours; no published source.
const JUMP_MM: f64 = 0.25;
/// Sessions on each side of a jump that are compared, by their medians.
const SIDE: usize = 3;

struct Sum {
    taken: DateTime<Utc>,
    session: SessionId,
    at_h: f64,
    mm: f64,
}

/// Looks for a jump of the two gaps' sum that no work explains, since the last build-up weld.
pub(crate) fn look_for(
    shear: &Shear,
    history: &History,
    states: impl Fn(LineId) -> Vec<StationState>,
) -> Option<Spread> {
    let guide = shear.lines.iter().find(|line| line.toward == Toward::Guide)?;
    let cutting = shear
        .lines
        .iter()
        .find(|line| line.toward == Toward::Cutting && line.moving == guide.moving)?;
    let sums = add_up(&states(cutting.id), &states(guide.id));
    let mut cuts: Vec<&Cut> =
        history.cuts_on(cutting.id).iter().chain(history.cuts_on(guide.id)).collect();
    cuts.sort_by_key(|cut| cut.taken);
    let welded = last_weld(history);
    let undisturbed = |before: &Sum, after: &Sum| {
        cuts.iter().all(|cut| {
            let reached = (before.taken, &before.session) <= (cut.taken, &cut.session);
            let passed = (cut.taken, &cut.session) < (after.taken, &after.session);
            !(reached && passed)
        })
    };
    let mut worst: Option<Spread> = None;
    for place in 1..sums.len() {
        let (Some(before), Some(after)) = (sums.get(..place), sums.get(place..)) else { continue };
        let (Some(last), Some(first)) = (before.last(), after.first()) else { continue };
        if welded.is_some_and(|welded| first.taken <= welded) || !undisturbed(last, first) {
            continue;
        }
        let before: Vec<f64> = before
            .iter()
            .rev()
            .take(SIDE)
            .take_while(|sum| undisturbed(sum, last))
            .map(|sum| sum.mm)
            .collect();
        let after: Vec<f64> = after
            .iter()
            .take(SIDE)
            .take_while(|sum| undisturbed(first, sum))
            .map(|sum| sum.mm)
            .collect();
        let (Some(was), Some(is)) = (median(before), median(after)) else { continue };
        let by_mm = is - was;
        if JUMP_MM <= by_mm && worst.as_ref().is_none_or(|worst| worst.by_mm < by_mm) {
            let (from, to) = (Hours::from_h(last.at_h)?, Hours::from_h(first.at_h)?);
            worst = Some(Spread { cutting: cutting.id, guide: guide.id, from, to, by_mm });
        }
    }
    worst
}

/// The mean gap of both lines added up, for every session that measured all of both.
fn add_up(cutting: &[StationState], guide: &[StationState]) -> Vec<Sum> {
    let Some(lead) = cutting.first() else { return Vec::new() };
    lead.trend
        .observations
        .iter()
        .filter_map(|point| {
            let mm = mean_in(cutting, &point.session)? + mean_in(guide, &point.session)?;
            Some(Sum { taken: point.taken, session: point.session.clone(), at_h: point.at_h, mm })
        })
        .collect()
}

fn mean_in(states: &[StationState], session: &SessionId) -> Option<f64> {
    let mut total = 0.0;
    for state in states {
        let point = state.trend.observations.iter().find(|point| point.session == *session)?;
        total += point.mid_mm?;
    }
    let count = u32::try_from(states.len()).ok().filter(|count| 1 <= *count)?;
    Some(total / f64::from(count))
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let upper = values.get(values.len() / 2).copied()?;
    let lower = values.get(values.len().saturating_sub(1) / 2).copied()?;
    Some(f64::midpoint(lower, upper))
}

fn last_weld(history: &History) -> Option<DateTime<Utc>> {
    let welded = |work: &Work| matches!(work, Work::Welded { .. });
    history.sessions.iter().rev().find(|it| it.work.iter().any(welded)).map(|it| it.taken)
}
