//! The trend of the chosen stations, made ready for the large plot.

use crate::{
    brief::{
        event::{EventBrief, EventKind},
        signal,
        trend::{self, reach_of},
    },
    domain::{
        decide::StationState,
        machine::{Band, Limits},
        quantity::LengthUnit,
        trend::{CONFIDENCE, Fit, Reach, StationTrend, Which},
    },
    gui::{
        marks::ActionMark,
        paint,
        plots::{Bar, Crossing, Event, Fan, LimitWords, Series, Stretch, TrendPlot},
        screens::trend::Scene,
        widgets::Bands,
    },
    language::tell,
    workbench::{Command, Span},
};
use egui::{Rect, Ui};
use std::hash::{DefaultHasher, Hash as _, Hasher as _};

/// The last 550 service hours: about three blade lives of a busy machine.
const RECENT_H: f64 = 550.0;

/// The service hours that the chosen span shows, forecast included.
pub(super) fn hours(scene: &Scene<'_>) -> [f64; 2] {
    let now = scene.brief.now_h;
    let first = scene
        .decided
        .stations
        .iter()
        .filter_map(|state| state.trend.observations.first())
        .map(|point| point.at_h)
        .fold(now, f64::min);
    let began = scene.brief.events.last().map_or(first, |event| event.at_h);
    let from = match scene.view.bench.span() {
        Span::ThisEdge if began < now => began,
        // Work done just now has no readings after it yet: show those before.
        Span::ThisEdge => scene.brief.events.iter().rev().nth(1).map_or(first, |it| it.at_h),
        Span::Recent => first.max(now - RECENT_H * scene.brief.per_hour),
        Span::All => first,
    };
    let back = (now - from).max(40.0 * scene.brief.per_hour);
    let lead = lead(scene);
    let wanted = lead.map_or(0.0, |state| {
        crossings(scene, state)
            .iter()
            .map(|it| it.interval.map_or(it.at_h, |[_, high]| high) - now)
            .fold(0.0, f64::max)
    });
    let ahead = (wanted * 1.06).clamp(back * 0.10, back * 0.34);
    let next = scene.brief.next_look_h - now;
    [now - back * 1.025, now + ahead.max(next * 1.5)]
}

fn lead<'a>(scene: &Scene<'a>) -> Option<&'a StationState> {
    let station = scene.shown().last().copied()?;
    scene.decided.stations.iter().find(|it| it.station == station)
}

/// Where the hours are kept that the plot shows.
pub(super) fn shown_hours() -> egui::Id {
    egui::Id::unique("hours of the trend shown")
}

/// Shows the plot.
pub(super) fn show(ui: &mut Ui, rect: Rect, scene: &Scene<'_>) -> Option<Command> {
    let n = scene.view.numbers;
    let shown = scene.shown();
    let states: Vec<&StationState> = shown
        .iter()
        .filter_map(|id| scene.decided.stations.iter().find(|state| state.station == *id))
        .collect();
    let series: Vec<Series> = states
        .iter()
        .map(|state| Series {
            name: state.station.to_string(),
            bars: bars(&state.trend),
            lines: stretches(&state.trend),
        })
        .collect();
    let lead = states.last();
    let crossings = lead.map_or_else(Vec::new, |state| crossings(scene, state));
    let fan = lead.and_then(|state| fan(&state.trend, n.far())).unwrap_or_default();
    let events = events(scene);
    let today = tell!("today {now_h}", now_h = n.along(scene.brief.now_h));
    let next = tell!("next look {next_look_h}", next_look_h = n.along(scene.brief.next_look_h));
    let words = LimitWords(trend::limit_words(&scene.line.limits, n));
    let note = trend::limits_note(&scene.line.limits);
    let kept = scene.view.bench.picked().and_then(|(station, session)| {
        let of = states.iter().position(|state| state.station == *station)?;
        let points = &states.get(of)?.trend.observations;
        Some((of, points.iter().position(|point| point.session == *session)?))
    });
    let say = |of: usize, place: usize| {
        states
            .get(of)
            .and_then(|state| {
                let point = state.trend.observations.get(place)?;
                Some(trend::reading(state.station, point, n))
            })
            .unwrap_or_default()
    };
    let tapped = TrendPlot {
        salt: salt(scene),
        hours: scene.hours,
        bands: bands(&scene.line.limits),
        words: &words,
        note: &note,
        unit: (per_unit(n.unit), n.unit_name()),
        axis: &scene.brief.axis,
        along: n.along_name(),
        series: &series,
        fan: &fan,
        crossings: &crossings,
        events: &events,
        today: (scene.brief.now_h, &today),
        next: (scene.brief.next_look_h, &next),
        kept,
        say: &say,
        rate: &|rate| n.rate(rate),
        shown: shown_hours(),
    }
    .show(ui, rect)?;
    let named = tapped.place().and_then(|(of, place)| {
        let state = states.get(of)?;
        Some((state.station, state.trend.observations.get(place)?.session.clone()))
    });
    (scene.view.bench.picked() != named.as_ref()).then_some(Command::PickReading(named))
}

/// Zoom and place are kept until another line, another span or another session is looked at.
fn salt(scene: &Scene<'_>) -> u64 {
    let mut hasher = DefaultHasher::new();
    scene.machine.shear.id.hash(&mut hasher);
    scene.machine.sessions.len().hash(&mut hasher);
    scene.line.id.hash(&mut hasher);
    scene.view.numbers.per.hash(&mut hasher);
    let span = match scene.view.bench.span() {
        Span::ThisEdge => 0_u8,
        Span::Recent => 1,
        Span::All => 2,
    };
    span.hash(&mut hasher);
    hasher.finish()
}

/// Limits for drawing.
pub(super) fn bands(limits: &Limits) -> Bands {
    let ends = |band: Band| [band.min, band.max].map(|limit| paint::screen(limit.mm()));
    Bands { set: ends(limits.set()), working: ends(limits.working()), stop: ends(limits.stop()) }
}

/// Millimetres of one unit.
pub(super) const fn per_unit(unit: LengthUnit) -> f64 {
    match unit {
        LengthUnit::Millimetre => 1.0,
        LengthUnit::Inch => 25.4,
    }
}

/// Every reading as a bar.
pub(super) fn bars(trend: &StationTrend) -> Vec<Bar> {
    trend
        .observations
        .iter()
        .map(|point| Bar {
            at_h: point.at_h,
            go_mm: point.go_mm,
            no_go_mm: point.no_go_mm,
            aside: point.set_aside.is_some(),
        })
        .collect()
}

/// Each segment's straight line, the newest up to the newest reading.
pub(super) fn stretches(trend: &StationTrend) -> Vec<Stretch> {
    trend.fit.as_ref().map_or_else(|_| Vec::new(), lines_of)
}

/// The straight lines of a fit.
pub(super) fn lines_of(fit: &Fit) -> Vec<Stretch> {
    fit.segments
        .iter()
        .map(|segment| {
            let at = |hour: f64| segment.intercept_mm + segment.rate * hour;
            let hours = [segment.from_h, segment.to_h];
            Stretch { hours, gaps: hours.map(at), rate: segment.rate }
        })
        .collect()
}

/// The mean and its interval from the newest reading on; none once work has moved the gap.
fn fan(trend: &StationTrend, far: f64) -> Option<Fan> {
    const STEPS: u32 = 40;
    let fit = trend.fit.as_ref().ok().filter(|_| !trend.superseded)?;
    let points = (0..=STEPS)
        .map(|step| {
            let at = fit.last_h + far * (f64::from(step) / f64::from(STEPS)).powi(2);
            let mean = fit.mean.at(at);
            // Through a change that nobody wrote down an interval would not hold.
            let band = fit.band_mm(at, CONFIDENCE).filter(|_| fit.through_break_h.is_none());
            let (low, high) = band.unwrap_or((mean, mean));
            [at, low, mean, high]
        })
        .collect();
    Some(Fan { points })
}

/// Where the forecast meets the working and the stop limit that it moves towards.
fn crossings(scene: &Scene<'_>, state: &StationState) -> Vec<Crossing> {
    let n = scene.view.numbers;
    let Some(fit) = state.trend.fit.as_ref().ok().filter(|_| !state.trend.superseded) else {
        return Vec::new();
    };
    fit.hours_to(&scene.line.limits)
        .into_iter()
        .filter(|hours| hours.which != Which::SetMax && !hours.passed)
        .filter_map(|hours| {
            let ahead = hours.estimate_h.filter(|ahead| *ahead < n.far())?;
            let at = |ahead: f64| fit.last_h + ahead;
            Some(Crossing {
                limit_mm: hours.limit_mm,
                at_h: at(ahead),
                interval: hours
                    .low_h
                    .zip(hours.high_h)
                    .filter(|_| hours.through_break_h.is_none())
                    .map(|(low, high)| [at(low), at(high)]),
                words: trend::ahead(&hours, n)?,
                stop: matches!(hours.which, Which::StopMax | Which::StopMin),
                rising: reach_of(hours.which) == Reach::Up,
            })
        })
        .collect()
}

/// What was done on the line, and what was done and not written down, oldest first.
pub(super) fn events(scene: &Scene<'_>) -> Vec<Event> {
    let mut all: Vec<Event> = scene.brief.events.iter().map(event).collect();
    let lead = scene.shown().last().copied();
    let insight = lead.zip(scene.view.insight).and_then(|(lead, it)| it.station(lead));
    for change in insight.map_or(&[][..], |it| &it.changes) {
        let (before, after) = change.between_h;
        all.push(Event {
            at_h: f64::midpoint(before, after),
            mark: ActionMark::Measure,
            title: signal::change_title(change.kind).to_owned(),
            hours: scene.view.numbers.along(after),
        });
    }
    all.sort_by(|a, b| a.at_h.total_cmp(&b.at_h));
    all
}

fn event(brief: &EventBrief) -> Event {
    Event {
        at_h: brief.at_h,
        mark: event_mark(brief.kind),
        title: brief.title.clone(),
        hours: brief.hours.clone(),
    }
}

/// The action mark of what was done.
pub(super) const fn event_mark(kind: EventKind) -> ActionMark {
    match kind {
        EventKind::Pads | EventKind::Shims => ActionMark::Shim,
        EventKind::Turned => ActionMark::Rotate,
        EventKind::Fitted => ActionMark::Replace,
        EventKind::Moved => ActionMark::Measure,
    }
}

/// Growth now, if it is known.
pub(super) fn rate_of(state: &StationState) -> Option<f64> {
    state.trend.fit.as_ref().ok().map(Fit::rate)
}
