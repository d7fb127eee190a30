//! Wear marks against their limits: an edge's radius, a blade's thickness, a tip's wear.
//!
//! A dull edge is turned; a thin blade or a worn tip is replaced, whatever its edges. Growth is a
//! line through the marks since the edge or the blade came into use, by the method for gaps. A
//! limit is inclusive. Knows marks and limits; does not know gaps.

use crate::domain::{
    decide::{Reason, machine::Context},
    log::{MarkKind, MarkSeen},
    machine::{Blade, BladeId, Line, WearLimits},
    quantity::Length,
    statistics::t_quantile,
    trend::{CONFIDENCE, Crossing, Observation, Reach, Segmented},
};

/// One wear mark of a blade as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkState {
    /// The blade.
    pub blade: BladeId,
    /// What.
    pub kind: MarkKind,
    /// The newest value.
    pub value: Length,
    /// The limit, if the machine's file has one.
    pub limit: Option<Length>,
    /// Whether the value is beyond it.
    pub beyond: bool,
    /// Growth in millimetres an hour, if there are marks enough.
    pub rate_mm_per_h: Option<f64>,
    /// Hours from the newest mark until the limit is met, if it is on its way there.
    pub hours_to_limit: Option<MarkHours>,
}

/// Hours until a wear mark meets its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
#[expect(clippy::struct_field_names, reason = "every quantity's name ends in its unit")]
pub struct MarkHours {
    /// The line's.
    pub estimate_h: f64,
    /// The low end of the interval at [`CONFIDENCE`]; `None` if it is open.
    pub low_h: Option<f64>,
    /// The high end; `None` if it may never be.
    pub high_h: Option<f64>,
}

/// The limit of a kind of mark.
pub const fn mark_limit(limits: &WearLimits, kind: MarkKind) -> Option<Length> {
    match kind {
        MarkKind::EdgeRadius => limits.edge_radius_max,
        MarkKind::Thickness => limits.thickness_min,
        MarkKind::TipWear => limits.tip_wear_max,
    }
}

/// Which way a kind of mark wears.
const fn reach(kind: MarkKind) -> Reach {
    match kind {
        MarkKind::EdgeRadius | MarkKind::TipWear => Reach::Up,
        MarkKind::Thickness => Reach::Down,
    }
}

/// The wear marks of both blades of a line, the fixed one first.
pub(crate) fn of_line(context: &Context<'_>, line: &Line) -> Vec<MarkState> {
    let blades = [&line.fixed, &line.moving].into_iter().filter_map(|id| context.shear.blade(id));
    blades
        .flat_map(|blade| MarkKind::ALL.into_iter().filter_map(|kind| of(context, blade, kind)))
        .collect()
}

/// Every mark that is beyond its limit, as a reason.
pub(crate) fn beyond(context: &Context<'_>, line: &Line) -> Vec<Reason> {
    let reason = |it: MarkState| {
        let MarkState { blade, kind, value, .. } = it;
        let limit = it.limit.filter(|_| it.beyond)?;
        Some(Reason::WearMark { blade, kind, value, limit })
    };
    of_line(context, line).into_iter().filter_map(reason).collect()
}

fn of(context: &Context<'_>, blade: &Blade, kind: MarkKind) -> Option<MarkState> {
    let marks = context.history.marks_of(&blade.id, kind);
    let value = marks.last()?.value;
    let limit = mark_limit(&blade.wear, kind);
    let beyond = limit.is_some_and(|limit| match reach(kind) {
        Reach::Up => limit < value,
        Reach::Down => value < limit,
    });
    let grown = grown(marks, limit, reach(kind));
    Some(MarkState {
        blade: blade.id.clone(),
        kind,
        value,
        limit,
        beyond,
        rate_mm_per_h: grown.map(|(rate, _)| rate),
        hours_to_limit: grown.and_then(|(_, hours)| hours).filter(|_| !beyond),
    })
}

/// Growth of exact marks, and the hours from the newest until the line meets the limit.
fn grown(
    marks: &[MarkSeen],
    limit: Option<Length>,
    reach: Reach,
) -> Option<(f64, Option<MarkHours>)> {
    let seen: Vec<Observation> = marks
        .iter()
        .map(|mark| Observation {
            x: mark.at.h(),
            low: Some(mark.value.mm()),
            high: Some(mark.value.mm()),
            segment: 0,
            edge_age: None,
        })
        .collect();
    let fitted = Segmented::fit(&seen).ok()?;
    let mean = &fitted.segments.last()?.mean;
    let now = marks.last()?.at.h();
    let hours = limit.and_then(|limit| {
        let dof = i64::try_from(fitted.dof).ok().map(crate::domain::quantity::float)?;
        let factor = t_quantile(f64::midpoint(1.0, CONFIDENCE), dof)?;
        let Crossing { estimate, low, high } = mean.meets(limit.mm(), reach, now, factor);
        let from_now = |at: Option<f64>| at.map(|at| (at - now).max(0.0));
        Some(MarkHours {
            estimate_h: from_now(estimate)?,
            low_h: from_now(low),
            high_h: from_now(high),
        })
    });
    Some((mean.rate, hours))
}
