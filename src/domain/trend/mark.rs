//! The trend of a wear mark: an edge's radius, a blade's thickness, a tip's wear over the hours.
//!
//! The method is that for gaps: a straight line for each edge, blade or shape, with one rate or one
//! each. A mark counts as a bracket as wide as it is read finely, so that marks that happen to lie
//! on one line do not pretend to a growth without uncertainty. Does not know limits.

use crate::domain::{
    log::{History, MARK_STEP, MarkKind, MarkSeen},
    machine::BladeId,
    quantity::Length,
    trend::{Fit, HoursTo, Observation, Segmented, Which, WhyNot},
};

/// The trend of one kind of wear mark on one blade.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkTrend {
    /// The blade.
    pub blade: BladeId,
    /// What.
    pub kind: MarkKind,
    /// Every mark, oldest first; at least one.
    pub seen: Vec<MarkSeen>,
    /// The lines, or why there are none.
    pub fit: Result<Fit, WhyNot>,
    /// Whether edge, blade or shape were renewed since: then nothing of this is a forecast.
    pub superseded: bool,
}

impl MarkSeen {
    /// What the value stands for, in mm: half of [`MARK_STEP`] on either side, not below zero.
    pub fn ends_mm(&self) -> (f64, f64) {
        let half = MARK_STEP.half();
        ((self.value - half).max(Length::ZERO).mm(), (self.value + half).mm())
    }
}

impl MarkTrend {
    /// `None` if nobody ever measured it.
    pub fn of(history: &History, blade: &BladeId, kind: MarkKind) -> Option<Self> {
        let log = history.marks.get(&(blade.clone(), kind))?;
        let last_h = log.seen.last()?.at.h();
        let observed = |it: &MarkSeen| {
            let (low, high) = it.ends_mm();
            Observation {
                x: it.at.h(),
                low: Some(low),
                high: Some(high),
                segment: it.renewed,
                edge_age: None,
            }
        };
        let seen: Vec<Observation> = log.seen.iter().map(observed).collect();
        let ends: Vec<(f64, f64)> = (0..=log.renewed).map(|it| ends(&seen, it)).collect();
        let fit = Segmented::fit(&seen).and_then(|fitted| Fit::new(&fitted, &ends, last_h));
        let newest = fit.as_ref().ok().and_then(|fit| fit.segments.last()).map(|it| it.index);
        Some(Self {
            blade: blade.clone(),
            kind,
            seen: log.seen.clone(),
            fit,
            superseded: newest.is_some_and(|newest| newest != log.renewed),
        })
    }

    /// Hours from the newest mark to a limit of this kind; `None` without a line of what is in use,
    /// or unless 0 < confidence < 1.
    pub fn hours_to(&self, limit: Length, confidence: f64) -> Option<HoursTo> {
        let fit = self.fit.as_ref().ok().filter(|_| !self.superseded)?;
        fit.hours_to_one(worn(self.kind), limit.mm(), confidence)
    }

    /// Growth in millimetres an hour, while it is that of what is in use.
    pub fn rate_mm_per_h(&self) -> Option<f64> {
        self.fit.as_ref().ok().filter(|_| !self.superseded).map(Fit::rate)
    }
}

/// From which side a kind of mark meets its limit: radius and wear grow, a thickness goes down.
pub const fn worn(kind: MarkKind) -> Which {
    match kind {
        MarkKind::EdgeRadius | MarkKind::TipWear => Which::WorkingMax,
        MarkKind::Thickness => Which::WorkingMin,
    }
}

/// The hours of the first and the last mark of a stretch.
fn ends(seen: &[Observation], stretch: usize) -> (f64, f64) {
    let mut hours = seen.iter().filter(|it| it.segment == stretch).map(|it| it.x);
    let first = hours.next().unwrap_or(0.0);
    (first, hours.next_back().unwrap_or(first))
}
