//! What lies ahead of one line: how far its gap may still grow, how fast it does, and how much pack
//! and edge is left to answer with.
//!
//! Knows the fit of the station that meets its upper working limit first. Does not know what it is
//! used for: `parts` counts what will be used up, `plan` weighs when to work.

use crate::domain::{
    decide::{LineDecision, StationState},
    log::{BladeState, History},
    machine::{Blade, BladeId, Line},
    quantity::Length,
    trend::{Fit, Reach, Which},
    yard::Machine,
};

/// What lies ahead of a line.
pub(crate) struct Outlook<'a> {
    pub(crate) line: &'a Line,
    /// The blade the pack stands behind.
    pub(crate) blade: &'a Blade,
    fit: &'a Fit,
    now_h: f64,
    /// The mean gap of the widest station now, in mm at 20 °C.
    pub(crate) gap_mm: f64,
    /// The upper working limit.
    pub(crate) limit_mm: f64,
    /// Where work leaves the gap: the middle of the set range.
    pub(crate) target_mm: f64,
    /// How much gap the rules still allow to be closed by shims.
    pub(crate) room_mm: f64,
    /// The same behind a fresh edge.
    pub(crate) fresh_room_mm: f64,
}

impl<'a> Outlook<'a> {
    /// `None` where nobody can look ahead: no trend of the gap that is there now, or one that does
    /// not run towards the upper limit.
    pub(crate) fn of(machine: &'a Machine, decision: &'a LineDecision) -> Option<Self> {
        let line = machine.shear.line(decision.line)?;
        let blade = machine.shear.blade(&line.fixed)?;
        let fit = first_to_widen(&decision.stations)?;
        let now_h = machine.history.service_now().h();
        let state = machine.history.blades.get(&blade.id);
        let used = state.map_or(Length::ZERO, BladeState::pack_total);
        let base: Length =
            state.and_then(|it| it.base_pack.as_ref()).into_iter().flatten().copied().sum();
        let closes = blade.face_angle_deg.to_radians().cos();
        let room = |used: Length| {
            let rules = blade.pack.map_or(Length::ZERO, |rules| rules.thickest - used);
            rules.mm().max(0.0) * closes
        };
        Some(Self {
            line,
            blade,
            fit,
            now_h,
            gap_mm: fit.mean.at(now_h),
            limit_mm: line.limits.working().max.mm(),
            target_mm: line.limits.set().middle().mm(),
            room_mm: room(used),
            fresh_room_mm: room(base),
        })
    }

    /// How far the gap grows in so many hours, at most with probability `share`; in mm, and no less
    /// than nothing, since steel does not grow back.
    ///
    /// Level and growth are both uncertain: the gap meets its limit by then with the very
    /// probability that the trend gives.
    pub(crate) fn growth_mm(&self, hours: f64, share: f64) -> f64 {
        let at = self.now_h + hours;
        let sure = 2.0 * share - 1.0;
        let off = self.fit.factor(sure.abs()).unwrap_or(0.0) * self.fit.mean.se_at(at);
        (self.fit.mean.at(at) + off.copysign(sure) - self.gap_mm).max(0.0)
    }

    /// Mean growth in mm per hour, not below zero.
    pub(crate) fn rate(&self) -> f64 {
        self.fit.rate().max(0.0)
    }

    /// Standard error of the mean gap in so many hours, in mm.
    pub(crate) fn se_mm(&self, hours: f64) -> f64 {
        self.fit.mean.se_at(self.now_h + hours)
    }

    /// How sure the readings are that the gap is beyond its limit in so many hours.
    pub(crate) fn chance(&self, hours: f64) -> f64 {
        self.fit.chance_beyond(self.limit_mm, Reach::Up, self.now_h + hours)
    }
}

/// The fit of the station that meets its upper working limit first.
fn first_to_widen(states: &[StationState]) -> Option<&Fit> {
    let ahead = |state: &StationState| {
        let hours = state.hours.filter(|hours| hours.which == Which::WorkingMax)?;
        if hours.passed { Some(f64::NEG_INFINITY) } else { hours.estimate_h }
    };
    let known = states.iter().filter_map(|state| Some((ahead(state)?, state)));
    let (_, first) = known.min_by(|(one, _), (other, _)| one.total_cmp(other))?;
    first.trend.fit.as_ref().ok()
}

/// Hours that the edge in use has left by its table, not below zero; `None` if nobody knows since
/// when it has cut.
pub(crate) fn edge_left_h(history: &History, blade: &Blade) -> Option<f64> {
    let (used, _) = history.hours_on_edge(&blade.id)?;
    Some((blade.hours_per_edge - used).h().max(0.0))
}

/// How many fresh edges a blade has.
pub(crate) fn fresh_edges(history: &History, blade: &Blade) -> usize {
    history.blades.get(&blade.id).map_or(0, |state| state.fresh_edges(blade).len())
}

/// The decision on the line that a blade carries the pack of.
pub(crate) fn decision_on<'a>(
    machine: &Machine,
    decisions: &'a [LineDecision],
    blade: &BladeId,
) -> Option<&'a LineDecision> {
    let line = machine.shear.lines.iter().find(|line| line.fixed == *blade)?;
    decisions.iter().find(|it| it.line == line.id)
}
