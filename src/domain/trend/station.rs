//! The trend of one station: from a shear's history to points, segments and lines.

use crate::domain::{
    gauge::Bracket,
    log::{History, Observed, SessionId},
    machine::StationId,
    trend::{
        Axis, Bootstrap, Change, Chart, Fit, HoursTo, Observation, Profile, SecondOpinion,
        Segmented, Spans, WhyNot, unrecorded, with_profile,
    },
};
use chrono::{DateTime, Utc};

/// One reading on the trend, referred to 20 °C.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Service hours, or what else growth is counted against.
    pub at_h: f64,
    /// The thickest stack that went.
    pub go_mm: f64,
    /// The thinnest that did not; `None` if all went.
    pub no_go_mm: Option<f64>,
    /// The middle; `None` for an open end.
    pub mid_mm: Option<f64>,
    /// Not even the thinnest leaf went: nothing is known below.
    pub open_below: bool,
    /// Service hours since fresh edges came into use, where the log tells.
    pub edge_age_h: Option<f64>,
    /// Between which interventions, counted from 0 over stretches with readings.
    pub segment: usize,
    /// When.
    pub taken: DateTime<Utc>,
    /// In which session.
    pub session: SessionId,
    /// Why it does not count, if somebody set it aside.
    pub set_aside: Option<String>,
}

/// One station's readings and what they say about its growth.
#[derive(Clone, Debug, PartialEq)]
pub struct StationTrend {
    /// The station.
    pub station: StationId,
    /// Its readings, oldest first.
    pub observations: Vec<Point>,
    /// The lines, or why there are none.
    pub fit: Result<Fit, WhyNot>,
    /// Readings of stretches that have open ends of one kind only: drawn, but they cannot say where
    /// a line lies.
    pub left_out_open: usize,
    /// Readings that could not be referred to 20 °C: neither drawn nor used.
    pub left_out_unreferred: usize,
    /// Readings of visits that did not read the counter asked for: neither drawn nor used.
    pub left_out_uncounted: usize,
    /// Whether work has moved the gap since the newest reading that the lines use, so that hours
    /// left are those of a gap that no longer is.
    pub superseded: bool,
    /// Breaks that no recorded work explains, oldest first.
    pub changes: Vec<Change>,
}

impl StationTrend {
    /// The trend of `station` with every reading referred to 20 °C by `cold`, which answers `None`
    /// for a reading that cannot be.
    pub fn of(
        history: &History,
        station: StationId,
        cold: impl Fn(&Observed) -> Option<Bracket>,
    ) -> Self {
        Self::along(Axis::Hours, history, station, cold)
    }

    /// The same with growth counted against something else than hours.
    pub fn along(
        axis: Axis,
        history: &History,
        station: StationId,
        cold: impl Fn(&Observed) -> Option<Bracket>,
    ) -> Self {
        let readings = history.readings.get(&station).map_or(&[][..], Vec::as_slice);
        let counted = |it: &&Observed| axis.of(it.at, it.counters).is_some();
        let left_out_uncounted = readings.len() - readings.iter().filter(counted).count();
        let mut spans = Spans::new(history.cuts_on(station.line), axis);
        let observations = spans.points(readings, cold);
        let left_out_unreferred = readings.len() - left_out_uncounted - observations.len();
        let mut changes = Vec::new();
        let fit = if readings.is_empty() {
            Err(WhyNot::NoReadings)
        } else if left_out_uncounted == readings.len() {
            Err(WhyNot::NoneCounted(readings.len()))
        } else if observations.is_empty() {
            Err(WhyNot::NoneReferred(readings.len()))
        } else if observations.iter().all(|it| it.set_aside.is_some()) {
            Err(WhyNot::AllSetAside(observations.len()))
        } else {
            let seen: Vec<Observation> = counted_of(&observations).map(Point::seen).collect();
            changes = unrecorded(&seen);
            let within = changes.iter().filter_map(|it| {
                let (_, behind) = it.between_h;
                Some((seen.get(it.place)?.segment, behind))
            });
            Segmented::fit(&seen).and_then(|fitted| {
                let last_h = observations.last().map_or(0.0, |point| point.at_h);
                let fit = Fit::new(&fitted, &spans.ends(&observations), last_h)?;
                Ok(fit.running_through(within))
            })
        };
        let places = Places::of(&observations);
        for it in &mut changes {
            places.name(&mut it.place);
        }
        let counting = counted_of(&observations).count();
        let left_out_open = fit.as_ref().map_or(0, |fit| counting - fit.n);
        let newest = fit.as_ref().ok().and_then(|fit| fit.segments.last()).map(|it| it.index);
        let superseded =
            newest.is_some_and(|newest| newest != spans.newest()) || spans.cut_after_last();
        Self {
            station,
            observations,
            fit,
            left_out_open,
            left_out_unreferred,
            left_out_uncounted,
            superseded,
            changes,
        }
    }

    /// What lines would be fitted to, without the fit.
    pub fn points(
        history: &History,
        station: StationId,
        cold: impl Fn(&Observed) -> Option<Bracket>,
    ) -> Vec<Observation> {
        let readings = history.readings.get(&station).map_or(&[][..], Vec::as_slice);
        let mut spans = Spans::new(history.cuts_on(station.line), Axis::Hours);
        let points = spans.points(readings, cold);
        counted_of(&points).map(Point::seen).collect()
    }
}

/// The points that nobody set aside.
fn counted_of(points: &[Point]) -> impl Iterator<Item = &Point> {
    points.iter().filter(|point| point.set_aside.is_none())
}

impl Point {
    /// What the trend sees of it.
    pub(crate) fn seen(&self) -> Observation {
        Observation {
            x: self.at_h,
            low: (!self.open_below).then_some(self.go_mm),
            high: self.no_go_mm,
            segment: self.segment,
            edge_age: self.edge_age_h,
        }
    }
}

impl StationTrend {
    /// Asks the likelihood of the newest line; `None` if there is no fit, or one without scatter.
    pub fn profiled<T>(&self, ask: impl FnOnce(&Profile<'_>) -> T) -> Option<T> {
        let fit = self.fit.as_ref().ok()?;
        with_profile(&self.seen(), fit.model, ask)
    }

    /// What the lines are fitted to: every reading that nobody set aside.
    pub fn seen(&self) -> Vec<Observation> {
        counted_of(&self.observations).map(Point::seen).collect()
    }

    /// The readings that somebody set aside, oldest first.
    pub fn set_aside(&self) -> impl Iterator<Item = &Point> {
        self.observations.iter().filter(|point| point.set_aside.is_some())
    }

    /// Control charts of its readings about their lines; `None` while nothing scatters.
    pub fn chart(&self) -> Option<Chart> {
        let mut chart = Chart::of(&self.seen(), self.fit.as_ref().ok()?)?;
        let places = Places::of(&self.observations);
        for it in &mut chart.points {
            places.name(&mut it.place);
        }
        for it in &mut chart.signals {
            places.name(&mut it.place);
        }
        Some(chart)
    }

    /// What a line says that a few wild readings cannot sway.
    pub fn second_opinion(&self) -> Option<SecondOpinion> {
        let mut second = SecondOpinion::of(&self.seen(), self.fit.as_ref().ok()?)?;
        let places = Places::of(&self.observations);
        for place in &mut second.apart {
            places.name(place);
        }
        Some(second)
    }

    /// The interval of hours to a limit by drawing the readings again, with so many draws from a
    /// seed.
    pub fn bootstrap(&self, to: &HoursTo, draws: usize, seed: u64) -> Option<Bootstrap> {
        let fit = self.fit.as_ref().ok()?;
        let limit = (to.limit_mm, fit.reach(to.which, to.limit_mm));
        Bootstrap::of(&self.seen(), fit, limit, to.confidence, (draws, seed))
    }
}

/// Where the readings that count stand among all.
struct Places(Vec<usize>);

impl Places {
    fn of(points: &[Point]) -> Self {
        let counted = points.iter().enumerate().filter(|(_, it)| it.set_aside.is_none());
        Self(counted.map(|(place, _)| place).collect())
    }

    /// From a place among those that count to its place among all.
    fn name(&self, place: &mut usize) {
        *place = self.0.get(*place).copied().unwrap_or(*place);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        log::{Counters, Cut, EffectOnLine},
        machine::{Band, Limits, LineId},
        quantity::{Hours, Length},
        trend::{Reach, Which},
    };
    use chrono::TimeDelta;

    const P1: StationId = StationId { line: LineId::P, number: 1 };

    fn session(at: i32) -> (DateTime<Utc>, SessionId) {
        let taken = DateTime::UNIX_EPOCH + TimeDelta::hours(i64::from(at));
        (taken, SessionId::new(taken, 1))
    }

    fn felt(at: i32, go_um: i64, no_go_um: Option<i64>) -> Observed {
        let (taken, session) = session(at);
        let bracket = Bracket::new(Length::from_um(go_um), no_go_um.map(Length::from_um)).unwrap();
        Observed {
            taken,
            at: Hours::from_whole(at),
            meter: Hours::from_whole(at),
            bracket,
            blade_temp: None,
            jaw_temp: None,
            air_temp: None,
            leaves: None,
            session,
            counters: Counters::default(),
            set_aside: None,
        }
    }

    fn history(readings: Vec<Observed>, cuts: &[i32]) -> History {
        let cut = |&at: &i32| {
            let (taken, session) = session(at);
            let (at, counters) = (Hours::from_whole(at), Counters::default());
            Cut { at, taken, effect: EffectOnLine::PadsMoved, session, counters }
        };
        History {
            readings: [(P1, readings)].into(),
            cuts: [(LineId::P, cuts.iter().map(cut).collect())].into(),
            ..History::default()
        }
    }

    #[expect(clippy::unnecessary_wraps, reason = "has the shape that a trend asks for")]
    fn as_felt(observed: &Observed) -> Option<Bracket> {
        Some(observed.bracket)
    }

    fn limits() -> Limits {
        let band = Band::from_um;
        let (hot_min, taper) = (Length::from_um(100), Length::from_um(300));
        let source = "test".to_owned();
        Limits::new(band(300, 500), band(200, 1250), band(100, 1600), hot_min, taper, source)
            .unwrap()
    }

    /// Every eight hours 50 µm more, felt with leaves 50 µm apart.
    fn steady(from: i32, count: i32, go_um: i64) -> Vec<Observed> {
        (0..count)
            .map(|step| {
                let go = go_um + i64::from(step) * 50;
                felt(from + 8 * step, go, Some(go + 50))
            })
            .collect()
    }

    #[test]
    fn work_cuts_the_trend_after_the_readings_of_its_own_session() {
        let mut readings = steady(0, 5, 400);
        readings.extend(steady(40, 5, 300));
        // Shims at 32 h, in two steps; the reading of that session was taken before.
        let trend = StationTrend::of(&history(readings, &[32, 32]), P1, as_felt);
        let segments: Vec<usize> = trend.observations.iter().map(|point| point.segment).collect();
        assert_eq!(segments, [0, 0, 0, 0, 0, 1, 1, 1, 1, 1]);
        let fit = trend.fit.unwrap();
        let ends: Vec<(f64, f64)> = fit.segments.iter().map(|it| (it.from_h, it.to_h)).collect();
        assert_eq!(ends, [(0.0, 32.0), (32.0, 72.0)]);
        assert!((fit.rate() - 0.050 / 8.0).abs() < 1e-12);
        assert!((fit.segments[0].intercept_mm - 0.425).abs() < 1e-12);
        assert!(!trend.superseded);

        // Now at 0.525: 0.725 more to the working limit, 1.075 to the stop limit.
        let hours = fit.hours_to(&limits());
        let to = |which| hours.iter().find(|it| it.which == which).unwrap();
        assert!((to(Which::WorkingMax).estimate_h.unwrap() - 116.0).abs() < 1e-6);
        assert!((to(Which::StopMax).estimate_h.unwrap() - 172.0).abs() < 1e-6);
        assert!(to(Which::SetMax).passed && to(Which::SetMax).estimate_h.unwrap() < 0.0);
        assert_eq!((to(Which::StopMin).estimate_h, to(Which::StopMin).passed), (None, false));
    }

    #[test]
    fn open_ends_count_unless_they_are_all_a_stretch_has() {
        let mut readings = steady(0, 4, 400);
        readings.push(felt(32, 600, None));
        readings.push(felt(40, 650, Some(700)));
        let cold = |it: &Observed| (it.at != Hours::from_whole(8)).then_some(it.bracket);
        let trend = StationTrend::of(&history(readings, &[]), P1, cold);
        assert_eq!((trend.left_out_open, trend.left_out_unreferred), (0, 1));
        assert_eq!(trend.fit.unwrap().segments[0].n, 5, "the thickest stack goes: that is a floor");

        let mut readings = steady(0, 4, 400);
        readings.push(felt(40, 600, None));
        let trend = StationTrend::of(&history(readings, &[32]), P1, as_felt);
        assert_eq!((trend.left_out_open, trend.observations.len()), (1, 5), "drawn, not used");

        let open = history(vec![felt(0, 600, None)], &[]);
        assert_eq!(StationTrend::of(&open, P1, as_felt).fit, Err(WhyNot::AllOpen(1)));
        assert_eq!(StationTrend::of(&open, P1, |_| None).fit, Err(WhyNot::NoneReferred(1)));
        let nothing = History::default();
        assert_eq!(StationTrend::of(&nothing, P1, as_felt).fit, Err(WhyNot::NoReadings));
    }

    #[test]
    fn after_work_the_old_forecast_is_marked_as_that_of_an_old_gap() {
        let trend = StationTrend::of(&history(steady(0, 5, 400), &[32]), P1, as_felt);
        assert!(trend.superseded && trend.fit.is_ok());
        let mut readings = steady(0, 5, 400);
        readings.push(felt(40, 1000, None));
        let trend = StationTrend::of(&history(readings, &[32]), P1, as_felt);
        assert!(trend.superseded, "the only reading since has an open end");
    }

    #[test]
    fn the_chance_of_being_beyond_grows_through_one_half_at_the_estimate() {
        let readings = [400, 500, 450, 550, 600, 550]
            .iter()
            .zip(0..)
            .map(|(&go, step)| felt(8 * step, go, Some(go + 50)))
            .collect();
        let fit = StationTrend::of(&history(readings, &[]), P1, as_felt).fit.unwrap();
        let asked = fit.hours_to_length(1.25, 0.8).unwrap();
        let (low, at) = (asked.low_h.unwrap(), asked.estimate_h.unwrap());
        let chance = |hours| fit.chance_beyond(1.25, Reach::Up, fit.last_h + hours);
        assert!((chance(at) - 0.5).abs() < 1e-9);
        assert!((chance(low) - 0.1).abs() < 1e-9, "an 80 % interval leaves a tenth on each side");
        let (below, above) = fit.band_mm(fit.last_h + low, 0.8).unwrap();
        assert!(below < 1.25 && (above - 1.25).abs() < 1e-9);
        assert_eq!(fit.hours_to_length(1.25, 1.0), None);
        assert_eq!(fit.hours_to_length(f64::NAN, 0.8), None);
    }

    /// A limit that a shrinking gap never came near is not one that it passed.
    #[test]
    fn a_limit_above_a_shrinking_gap_lies_ahead_of_nobody() {
        let readings: Vec<_> = (0..12)
            .map(|look| {
                felt(8 * look, 900 - 25 * i64::from(look), Some(950 - 25 * i64::from(look)))
            })
            .collect();
        let history = History { readings: [(P1, readings)].into(), ..History::default() };
        let trend = StationTrend::of(&history, P1, |it| Some(it.bracket));
        let fit = trend.fit.unwrap();
        let above = fit.hours_to_length(1.2, 0.8).unwrap();
        assert_eq!((above.passed, above.estimate_h), (false, None));
        let below = fit.hours_to_length(0.4, 0.8).unwrap();
        assert!(!below.passed && 0.0 < below.estimate_h.unwrap());
    }
}
