//! Readings and interventions of one station, walked together.
//!
//! Knows which stretch between two interventions a reading lies in, and what growth is counted
//! against. Does not fit anything.

use crate::domain::{
    gauge::Bracket,
    log::{Counters, Cut, EffectOnLine, History, Observed},
    quantity::{Hours, Length, float},
    trend::Point,
};

/// What growth is counted against.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Axis {
    /// Service hours.
    #[default]
    Hours,
    /// Tonnes cut.
    Tonnes,
    /// Cuts made.
    Cuts,
}

impl Axis {
    /// The axes that a log can be read along.
    pub fn of_log(history: &History) -> Vec<Self> {
        let tonnes = history.counted(|it| it.tonnes).then_some(Self::Tonnes);
        let cuts = history.counted(|it| it.cuts).then_some(Self::Cuts);
        [Some(Self::Hours), tonnes, cuts].into_iter().flatten().collect()
    }

    /// Where something lies on it; `None` if nobody had read the counter.
    pub fn of(self, at: Hours, counters: Counters) -> Option<f64> {
        let counted = |count: u64| i64::try_from(count).ok().map(float);
        match self {
            Self::Hours => Some(at.h()),
            Self::Tonnes => counters.tonnes.and_then(counted),
            Self::Cuts => counters.cuts.and_then(counted),
        }
    }
}

/// Walks readings and cuts together and numbers the stretches that have readings.
pub(crate) struct Spans<'a> {
    cuts: &'a [Cut],
    axis: Axis,
    /// Cuts before the newest reading seen.
    passed: usize,
    /// For each numbered stretch: how many cuts lie before it.
    before: Vec<usize>,
    /// When the edges in use were fresh.
    fresh: Option<Hours>,
}

impl<'a> Spans<'a> {
    pub(crate) fn new(cuts: &'a [Cut], axis: Axis) -> Self {
        Self { cuts, axis, passed: 0, before: Vec::with_capacity(cuts.len() + 1), fresh: None }
    }

    /// Readings as points, each with the number of its stretch.
    pub(crate) fn points(
        &mut self,
        readings: &[Observed],
        cold: impl Fn(&Observed) -> Option<Bracket>,
    ) -> Vec<Point> {
        let mut points = Vec::with_capacity(readings.len());
        for observed in readings {
            let Some(at) = self.axis.of(observed.at, observed.counters) else { continue };
            let Some(bracket) = cold(observed) else { continue };
            let (segment, edge_age_h) = self.place_of(observed);
            points.push(Point {
                at_h: at,
                go_mm: bracket.go().mm(),
                no_go_mm: bracket.no_go().map(Length::mm),
                mid_mm: bracket.middle().map(Length::mm),
                open_below: observed.bracket.is_open_below(),
                edge_age_h,
                segment,
                taken: observed.taken,
                session: observed.session.clone(),
                set_aside: observed.set_aside.clone(),
            });
        }
        points
    }

    /// The number of a reading's stretch, and the age of its edges. Readings of the session that
    /// records a cut lie before it.
    fn place_of(&mut self, observed: &Observed) -> (usize, Option<f64>) {
        while let Some(cut) = self.cuts.get(self.passed)
            && (cut.taken, &cut.session) < (observed.taken, &observed.session)
        {
            self.passed += 1;
            if matches!(
                cut.effect,
                EffectOnLine::Turned { .. }
                    | EffectOnLine::Replaced { .. }
                    | EffectOnLine::Swapped { .. }
            ) {
                self.fresh = Some(cut.at);
            }
        }
        if self.before.last() != Some(&self.passed) {
            self.before.push(self.passed);
        }
        // Breaking in is known by the hour only.
        let fresh = self.fresh.filter(|_| self.axis == Axis::Hours);
        (self.newest(), fresh.map(|fresh| (observed.at - fresh).h()))
    }

    pub(crate) fn newest(&self) -> usize {
        self.before.len().saturating_sub(1)
    }

    pub(crate) fn cut_after_last(&self) -> bool {
        self.passed < self.cuts.len()
    }

    /// From and to of every stretch, in service hours or what else growth is counted against.
    pub(crate) fn ends(&self, observations: &[Point]) -> Vec<(f64, f64)> {
        let first = observations.first().map_or(0.0, |point| point.at_h);
        let last = observations.last().map_or(0.0, |point| point.at_h);
        self.before
            .iter()
            .map(|&before| {
                let began = before.checked_sub(1).and_then(|place| self.cuts.get(place));
                let ended = self.cuts.get(before);
                let at = |cut: &Cut| self.axis.of(cut.at, cut.counters);
                (began.and_then(at).unwrap_or(first), ended.and_then(at).unwrap_or(last))
            })
            .collect()
    }
}
