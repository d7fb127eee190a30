//! Wear marks against their limits: an edge's radius, a blade's thickness, a tip's wear.
//!
//! A dull edge is turned; a thin blade or a worn tip is replaced, whatever its edges. A mark that
//! may pass its limit before the next look is told, so that the work can be planned; it calls for
//! nothing by itself. A limit is inclusive. Knows marks and limits; does not know gaps.

use crate::domain::{
    decide::{Reason, machine::Context},
    log::MarkKind,
    machine::{Blade, BladeId, Line, WearLimits},
    quantity::Length,
    trend::{CONFIDENCE, HoursTo, MarkTrend, Which, worn},
};

/// What a wear mark says about its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkVerdict {
    /// Inside.
    Inside,
    /// Inside, and the low end of its forecast comes before the next look.
    Soon,
    /// Beyond.
    Beyond,
}

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
    /// What the value and its growth say about the limit, if there is one.
    pub verdict: Option<MarkVerdict>,
    /// Its growth, or why nobody knows it.
    pub trend: MarkTrend,
    /// Hours from the newest mark until the limit is met.
    pub hours: Option<HoursTo>,
}

/// The limit of a kind of mark.
pub const fn mark_limit(limits: &WearLimits, kind: MarkKind) -> Option<Length> {
    match kind {
        MarkKind::EdgeRadius => limits.edge_radius_max,
        MarkKind::Thickness => limits.thickness_min,
        MarkKind::TipWear => limits.tip_wear_max,
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
        let limit = it.limit.filter(|_| it.verdict == Some(MarkVerdict::Beyond))?;
        Some(Reason::WearMark { blade, kind, value, limit })
    };
    of_line(context, line).into_iter().filter_map(reason).collect()
}

/// Every mark that may be beyond its limit by the next look, as a reason.
pub(crate) fn soon(context: &Context<'_>, line: &Line) -> Vec<Reason> {
    let reason = |it: MarkState| {
        let MarkState { blade, kind, value, .. } = it;
        let limit = it.limit.filter(|_| it.verdict == Some(MarkVerdict::Soon))?;
        Some(Reason::WearSoon { blade, kind, value, limit, hours: it.hours? })
    };
    of_line(context, line).into_iter().filter_map(reason).collect()
}

fn of(context: &Context<'_>, blade: &Blade, kind: MarkKind) -> Option<MarkState> {
    let newest = context.history.marks_of(&blade.id, kind).last()?;
    let trend = MarkTrend::of(context.history, &blade.id, kind)?;
    let limit = mark_limit(&blade.wear, kind);
    let hours = limit.and_then(|limit| trend.hours_to(limit, CONFIDENCE));
    let ahead_h = (context.history.service_now() - newest.at).h() + context.look.h();
    let verdict = limit.map(|limit| {
        let beyond = match worn(kind) {
            Which::WorkingMin => newest.value < limit,
            _ => limit < newest.value,
        };
        let soon = || hours.is_some_and(|hours| comes_within(&hours, ahead_h));
        match () {
            () if beyond => MarkVerdict::Beyond,
            () if soon() => MarkVerdict::Soon,
            () => MarkVerdict::Inside,
        }
    });
    let (blade, value) = (blade.id.clone(), newest.value);
    Some(MarkState { blade, kind, value, limit, verdict, trend, hours })
}

/// As for a gap: the line runs towards the limit and may be there in so many hours.
fn comes_within(hours: &HoursTo, ahead_h: f64) -> bool {
    let early = hours.low_h.or(hours.estimate_h);
    hours.estimate_h.is_some() && early.is_some_and(|early| early <= ahead_h)
}
