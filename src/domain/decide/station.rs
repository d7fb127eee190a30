//! Everything one station contributes to a decision.

use crate::domain::{
    gauge::{Bracket, Stack},
    log::{History, Observed},
    machine::{Line, StationId},
    quantity::{Hours, Length},
    trend::{Axis, Fit, HoursTo, StationTrend, Which},
    verdict::{Cold, Prior, Verdict, VerdictKind, Way, cold, next_leaf, weigh},
    yard::Settings,
};

/// One station, measured or not.
#[derive(Clone, Debug, PartialEq)]
pub struct StationState {
    /// Which.
    pub station: StationId,
    /// Its newest reading as felt.
    pub felt: Option<Observed>,
    /// That reading at 20 °C.
    pub cold: Option<Cold>,
    /// The reading before it at 20 °C.
    pub previous: Option<Bracket>,
    /// The gap at working temperature, estimated; `None` while the reading is open.
    pub hot_mm: Option<f64>,
    /// What the reading says about its limits.
    pub verdict: Option<Verdict>,
    /// The stack that would settle it best, if it is undecided and the set has one.
    pub next_leaf: Option<Stack>,
    /// Its trend.
    pub trend: StationTrend,
    /// Hours to the working limit it meets first.
    pub hours: Option<HoursTo>,
    /// Whether work has moved the gap since.
    pub stale: bool,
    /// The gap after the recipe of its line.
    pub after: Option<Length>,
}

impl StationState {
    /// Reads one station out of a history.
    pub fn of(
        line: &Line,
        station: StationId,
        history: &History,
        (settings, look): (&Settings, Hours),
    ) -> Self {
        let kit = settings.kit();
        let trend =
            StationTrend::of(history, station, |observed| Some(cold(line, observed, kit).bracket));
        let felt = history.latest(station).cloned();
        let read_with = |observed: &Observed| settings.kit_of(observed.leaves.as_deref());
        let at_20 = felt.as_ref().map(|observed| cold(line, observed, read_with(observed)));
        let previous = felt
            .as_ref()
            .and_then(|felt| history.before(station, &felt.session))
            .map(|observed| cold(line, observed, kit).bracket);
        let hours = working_hours(&trend, line);
        let worked = match &trend.fit {
            Ok(fit) => history.service_now().h() - fit.last_h,
            Err(_) => 0.0,
        };
        let rate = trend.fit.as_ref().map_or(0.0, Fit::rate);
        let ahead_h = worked + look.h();
        let soon = hours.as_ref().and_then(|it| leaves_within(it, rate, ahead_h));
        let prior = felt.as_ref().and_then(|felt| foreseen(&trend, felt.at));
        let verdict =
            at_20.as_ref().map(|cold| weigh(cold, &line.limits, soon, settings.tolerance, prior));
        let undecided = verdict.is_some_and(|it| it.kind() == VerdictKind::Undecided);
        let next_leaf =
            felt.as_ref().zip(at_20.as_ref()).filter(|_| undecided).and_then(|(felt, cold)| {
                next_leaf(kit.leaves?, felt.bracket, cold.shift, &line.limits, prior)
            });
        let hot_mm = at_20
            .as_ref()
            .and_then(|cold| cold.bracket.middle())
            .map(|middle| line.hot_gap_mm(middle.mm()));
        Self {
            station,
            stale: history.stale(station),
            felt,
            cold: at_20,
            previous,
            hot_mm,
            verdict,
            next_leaf,
            trend,
            hours,
            after: None,
        }
    }

    /// The same station with growth counted against something else than hours.
    pub(crate) fn along(
        &self,
        axis: Axis,
        line: &Line,
        history: &History,
        settings: &Settings,
    ) -> Self {
        let kit = settings.kit();
        let cold = |observed: &Observed| Some(cold(line, observed, kit).bracket);
        let trend = StationTrend::along(axis, history, self.station, cold);
        let hours = working_hours(&trend, line);
        Self { trend, hours, ..self.clone() }
    }

    /// What the trend expects to be found at 20 °C when the hour meter shows `meter`; `None` before
    /// there is a trend, after work that moved the gap, and while the line runs through a change that
    /// is not in the log.
    pub fn prior(&self, meter: Hours) -> Option<Prior> {
        let felt = self.felt.as_ref()?;
        // A meter that was changed meanwhile, or is not typed yet, shows less than it did.
        let since = (meter - felt.meter).max(Hours::ZERO);
        foreseen(&self.trend, felt.at + since)
    }

    /// The gap to plan with: the middle, or the floor while the reading is open.
    pub(crate) fn expected(&self) -> Option<Length> {
        let bracket = self.cold.as_ref()?.bracket;
        Some(bracket.middle().unwrap_or_else(|| bracket.go()))
    }

    /// Growth in millimetres an hour, while it is that of the present gap.
    pub fn rate_mm_per_h(&self) -> Option<f64> {
        let fit = self.trend.fit.as_ref().ok()?;
        (!self.trend.superseded).then(|| fit.rate())
    }
}

fn foreseen(trend: &StationTrend, at: Hours) -> Option<Prior> {
    let fit = trend.fit.as_ref().ok().filter(|_| !trend.superseded)?;
    if fit.through_break_h.is_some() {
        return None;
    }
    let se = fit.mean.se_at(at.h());
    Prior::new(fit.mean.at(at.h()), se.hypot(fit.sigma_mm))
}

/// Hours to whichever working limit comes first; a limit already passed comes before all.
fn working_hours(trend: &StationTrend, line: &Line) -> Option<HoursTo> {
    let fit = trend.fit.as_ref().ok().filter(|_| !trend.superseded)?;
    let order = |hours: &HoursTo| {
        if hours.passed { f64::NEG_INFINITY } else { hours.estimate_h.unwrap_or(f64::INFINITY) }
    };
    fit.hours_to(&line.limits)
        .into_iter()
        .filter(|hours| matches!(hours.which, Which::WorkingMax | Which::WorkingMin))
        .min_by(|a, b| order(a).total_cmp(&order(b)))
}

/// Which way the gap may leave its working limits in so many hours after its newest reading, if
/// it moves that way at all. Where the trend has passed the limit already it is the reading that
/// lags.
fn leaves_within(hours: &HoursTo, rate_mm_per_h: f64, within_h: f64) -> Option<Way> {
    let (way, towards) = match hours.which {
        Which::WorkingMin | Which::StopMin => (Way::Tight, rate_mm_per_h < 0.0),
        _ => (Way::Wide, 0.0 < rate_mm_per_h),
    };
    let early = hours.low_h.or(hours.estimate_h)?;
    let due = hours.passed || (hours.estimate_h.is_some() && early <= within_h);
    (towards && due).then_some(way)
}

#[test]
fn soon_means_moving_that_way_and_there_before_the_next_look() {
    use crate::domain::trend::Bounded;
    let to = |which, estimate_h: Option<f64>, low_h, passed| HoursTo {
        which,
        limit_mm: 1.25,
        estimate_h,
        low_h,
        high_h: None,
        confidence: 0.8,
        bounded: Bounded::Low,
        passed,
        reading_h: None,
        exact_h: None,
        through_break_h: None,
    };
    let max = |estimate_h, low_h, passed| to(Which::WorkingMax, estimate_h, low_h, passed);
    assert_eq!(leaves_within(&max(Some(10.0), Some(5.0), false), 0.005, 8.0), Some(Way::Wide));
    assert_eq!(leaves_within(&max(Some(30.0), Some(12.0), false), 0.005, 8.0), None);
    // The machine worked ten hours since the reading: the next look is eighteen after it.
    assert_eq!(leaves_within(&max(Some(30.0), Some(12.0), false), 0.005, 18.0), Some(Way::Wide));
    assert_eq!(leaves_within(&max(None, Some(5.0), false), 0.0, 8.0), None, "it may not grow");
    assert_eq!(leaves_within(&max(Some(-1.0), None, true), 0.005, 8.0), Some(Way::Wide));
    assert_eq!(leaves_within(&max(None, None, true), -0.005, 8.0), None, "on its way back in");
    let min = to(Which::WorkingMin, Some(3.0), Some(1.0), false);
    assert_eq!(leaves_within(&min, -0.005, 8.0), Some(Way::Tight));
}
