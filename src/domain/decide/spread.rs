//! A lower jaw that has spread.
//!
//! The tip's two gaps, against the cutting side and against the guide blade, share one slot. Wear
//! makes their sum grow slowly, shims change it by a known amount, and play taken out at the pads
//! moves the tip between them without changing it at all. A jump that none of this explains means
//! that the slot itself has opened. Shims cannot cure that.

use crate::domain::{
    decide::{StationState, recipe::all_bolts},
    log::{BoltSpan, Cut, EffectOnLine, History, SessionId, Work},
    machine::{LineId, Shear, Toward},
};
use chrono::{DateTime, Utc};

/// The tip's two gaps together jumped open.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// The line against the cutting side.
    pub cutting: LineId,
    /// The line against the guide blade.
    pub guide: LineId,
    /// The last session before the jump.
    pub from: DateTime<Utc>,
    /// The first session after it.
    pub to: DateTime<Utc>,
    /// How far they opened together, in mm.
    pub by_mm: f64,
}

/// The smallest jump that is called a spread, in mm: well above feeler resolution and what a tip
/// wears between two sessions. A design value of ours; no published source.
pub const SPREAD_JUMP_MM: f64 = 0.25;
/// Sessions on each side of a jump that are compared, by their medians.
const SIDE: usize = 3;

struct Sum {
    taken: DateTime<Utc>,
    session: SessionId,
    /// Both gaps and the packs that closed them, so that shims in or out change nothing.
    mm: f64,
}

/// Looks for a jump of the two gaps' sum that no work explains, since the jaw itself was last mended.
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
    let mut cuts: Vec<&Cut> =
        history.cuts_on(cutting.id).iter().chain(history.cuts_on(guide.id)).collect();
    cuts.sort_by_key(|cut| cut.taken);
    let mut sums = add_up(&states(cutting.id), &states(guide.id));
    for sum in &mut sums {
        sum.mm += cuts
            .iter()
            .filter(|cut| is_before(cut, sum))
            .map(|cut| closed_by(cut, shear))
            .sum::<f64>();
    }
    let mended = last_mended(history);
    let comparable = |one: &Sum, other: &Sum| {
        // A fresh edge or a new part changes the sum by an unknown amount.
        cuts.iter()
            .filter(|cut| {
                matches!(
                    cut.effect,
                    EffectOnLine::Turned { .. }
                        | EffectOnLine::Replaced { .. }
                        | EffectOnLine::Swapped { .. }
                )
            })
            .all(|cut| is_before(cut, one) == is_before(cut, other))
    };
    let mut worst: Option<Spread> = None;
    for place in 1..sums.len() {
        let Some((before, after)) = sums.split_at_checked(place) else { continue };
        let (Some(last), Some(first)) = (before.last(), after.first()) else { continue };
        if mended.is_some_and(|mended| first.taken <= mended) || !comparable(last, first) {
            continue;
        }
        let near = |sum: &&Sum| comparable(sum, last);
        let was = median(before.iter().rev().take(SIDE).take_while(near).map(|it| it.mm).collect());
        let is = median(after.iter().take(SIDE).take_while(near).map(|it| it.mm).collect());
        let by_mm = is? - was?;
        if SPREAD_JUMP_MM <= by_mm && worst.as_ref().is_none_or(|worst| worst.by_mm < by_mm) {
            let (from, to) = (last.taken, first.taken);
            worst = Some(Spread { cutting: cutting.id, guide: guide.id, from, to, by_mm });
        }
    }
    worst
}

/// Whether work was done before a session's readings; its own readings lie before its work.
fn is_before(cut: &Cut, sum: &Sum) -> bool {
    (cut.taken, &cut.session) < (sum.taken, &sum.session)
}

/// How far shims closed one of the two gaps, in mm.
fn closed_by(cut: &Cut, shear: &Shear) -> f64 {
    match &cut.effect {
        EffectOnLine::Shimmed { blade, by, bolts } => {
            let blade = shear.blade(blade);
            let angle = blade.map_or(0.0, |blade| blade.face_angle_deg);
            // The mean gap closes as far as the shims reach.
            let all = blade.and_then(all_bolts).map(BoltSpan::count);
            let reach = bolts
                .zip(all)
                .map_or(1.0, |(span, all)| (f64::from(span.count()) / f64::from(all)).min(1.0));
            by.mm() * reach * angle.to_radians().cos()
        }
        EffectOnLine::Turned { .. }
        | EffectOnLine::Replaced { .. }
        | EffectOnLine::Swapped { .. }
        | EffectOnLine::PadsMoved
        | EffectOnLine::Moved(_) => 0.0,
    }
}

/// The mean gap of both lines added up, for every session that measured all of both.
fn add_up(cutting: &[StationState], guide: &[StationState]) -> Vec<Sum> {
    let Some(lead) = cutting.first() else { return Vec::new() };
    lead.trend
        .observations
        .iter()
        .filter_map(|point| {
            let mm = mean_in(cutting, &point.session)? + mean_in(guide, &point.session)?;
            Some(Sum { taken: point.taken, session: point.session.clone(), mm })
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

/// The newest weld or straightening at the jaw itself.
fn last_mended(history: &History) -> Option<DateTime<Utc>> {
    history.sessions.iter().rev().find(|it| it.work.iter().any(Work::mends_jaw)).map(|it| it.taken)
}
