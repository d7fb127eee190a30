//! Whether readings still keep to their lines: control charts, and what they say in words.

use crate::{
    brief::{Numbers, signal, words},
    domain::trend::{Chart, ChartPoint, Signal, SignalKind},
    gui::{
        insight::StationInsight,
        plots::{ControlPlot, ControlPoint, ControlRow, Event},
        screens::trend::{Scene, breaks, plot, reading, within},
        theme,
        widgets::{
            self, paragraph,
            touch::{self, Spoken},
        },
    },
    language::{self, tell},
    workbench::Command,
};
use egui::{Align2, Rect, Sense, Stroke, Ui, pos2, vec2};

/// Of so many signals, the newest ones, each has a row; the charts show all.
const LISTED: usize = 40;

/// The leading station with what is known of it.
fn lead<'a>(scene: &Scene<'a>) -> Option<&'a StationInsight> {
    let station = scene.shown().last().copied()?;
    scene.view.insight?.station(station)
}

/// Paints the charts of the leading station.
pub(super) fn charts(ui: &mut Ui, rect: Rect, scene: &Scene<'_>) -> Option<Command> {
    let insight = lead(scene)?;
    let station = insight.station;
    let Some(chart) = &insight.chart else {
        let mut child = ui.new_child(egui::UiBuilder::new().max_rect(rect.shrink(24.0)));
        widgets::heading(&mut child, &tell!("No charts of {station} yet", station), "");
        paragraph(&mut child, language::told(signal::NO_CHART));
        return None;
    };
    let rows = rows(chart);
    let events: Vec<Event> = plot::events(scene);
    let today = tell!("today {now_h}", now_h = scene.view.numbers.along(scene.brief.now_h));
    let name = tell!("Control charts of {station}", station);
    let tapped = ControlPlot {
        hours: scene.hours,
        rows: &rows,
        events: &events,
        today: (scene.brief.now_h, &today),
        picked_h: picked_h(scene, insight),
        name: &name,
        axis: scene.view.numbers.along_name(),
    }
    .show(ui, rect)?;
    let place = chart.points.iter().find(|it| it.at_h.total_cmp(&tapped).is_eq())?.place;
    pick(scene, insight, place)
}

fn rows(chart: &Chart) -> [ControlRow<'static>; 3] {
    let gives = |it: &ChartPoint, of: &[SignalKind]| {
        let from = chart.signals.partition_point(|signal| signal.place < it.place);
        let here = chart.signals.iter().skip(from).take_while(|signal| signal.place == it.place);
        here.into_iter().any(|signal| of.contains(&signal.kind))
    };
    let points = |value: &dyn Fn(&ChartPoint) -> Option<f64>,
                  limit: &dyn Fn(&ChartPoint) -> f64,
                  of: &[SignalKind]| {
        let point = |it: &ChartPoint| {
            Some(ControlPoint {
                at_h: it.at_h,
                value: value(it)?,
                limit: limit(it),
                signals: gives(it, of),
                anew: it.range.is_none(),
            })
        };
        chart.points.iter().filter_map(point).collect::<Vec<_>>()
    };
    let single = [SignalKind::BeyondLimit, SignalKind::RunAbove, SignalKind::RunBelow];
    let average = [SignalKind::AverageHigh, SignalKind::AverageLow];
    [
        ControlRow {
            title: tell!("Each reading"),
            note: tell!("standard deviations from its line"),
            points: points(&|it| Some(it.z), &|_| chart.limit, &single),
            two_sided: true,
        },
        ControlRow {
            title: tell!("From one reading to the next"),
            note: tell!("size of the step (moving range)"),
            points: points(&|it| it.range, &|_| chart.range_limit, &[SignalKind::RangeHigh]),
            two_sided: false,
        },
        ControlRow {
            title: tell!("Weighted average"),
            note: tell!("since the last work (EWMA), the newest weighs 0.2"),
            points: points(&|it| Some(it.average), &|it| it.average_limit, &average),
            two_sided: true,
        },
    ]
}

/// The service hours of the reading that is read off, if it is this station's.
fn picked_h(scene: &Scene<'_>, insight: &StationInsight) -> Option<f64> {
    let (station, session) = scene.view.bench.picked()?;
    let state = scene.decided.stations.iter().find(|it| it.station == *station)?;
    let point = state.trend.observations.iter().find(|it| it.session == *session)?;
    (*station == insight.station).then_some(point.at_h)
}

fn pick(scene: &Scene<'_>, insight: &StationInsight, place: usize) -> Option<Command> {
    let state = scene.decided.stations.iter().find(|it| it.station == insight.station)?;
    let point = state.trend.observations.get(place)?;
    Some(Command::PickReading(Some((insight.station, point.session.clone()))))
}

/// What the charts say, newest first, each with its rule; then how to read them.
pub(super) fn list(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let mut asked = Vec::new();
    let Some(insight) = lead(scene) else { return asked };
    let station = insight.station;
    ui.add_space(12.0);
    within(ui, |ui| {
        widgets::heading(ui, &tell!("Does {station} keep to its line?", station), "");
        ui.add_space(6.0);
    });
    asked.extend(reading::show(ui, scene));
    let signals = insight.chart.as_ref().map_or(&[][..], |chart| &chart.signals);
    within(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 8.0;
        for change in &insight.changes {
            asked.extend(breaks::offer(ui, scene, change));
        }
        let said = signal::steady(station, signals.len(), insight.changes.len());
        if insight.chart.is_some() {
            paragraph(ui, &said);
        }
    });
    ui.add_space(8.0);
    for (place, it) in signals.iter().enumerate().rev().take(LISTED) {
        if row(ui, (place, it), scene.view.numbers) {
            asked.extend(pick(scene, insight, it.place));
        }
    }
    ui.add_space(10.0);
    within(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 8.0;
        if LISTED < signals.len() {
            paragraph(ui, &signal::older(signals.len() - LISTED));
        }
        paragraph(ui, language::told(signal::HOW_CHARTS_READ));
    });
    asked
}

/// A signal: its hour, and its rule in words.
fn row(ui: &mut Ui, (place, it): (usize, &Signal), n: Numbers) -> bool {
    let t = theme::tokens(ui);
    let hours = n.along(it.at_h);
    let rule = words::capital(&signal::rule(it.kind));
    let width = ui.available_width();
    let wrap = width - 16.0 - 76.0 - 12.0;
    let galley = ui.painter().layout(rule.clone(), theme::body(), t.ink2, wrap.max(60.0));
    let tall = (galley.size().y + 18.0).max(theme::TOUCH);
    let (rect, _) = ui.allocate_exact_size(vec2(width, tall), Sense::hover());
    let label = tell!("signal at {hours}, {rule}", hours, rule);
    let id = ui.make_persistent_id(("signal", place));
    let response = touch::tap(ui, rect, id, &Spoken::button(&label));
    if response.hovered() {
        ui.painter().rect_filled(rect, 0.0, t.field);
    }
    let top = rect.top() + 9.0;
    let at = pos2(rect.left() + 16.0, top);
    ui.painter().text(at, Align2::LEFT_TOP, hours, theme::body_bold(), t.ink);
    ui.painter().galley(pos2(rect.left() + 92.0, top), galley, t.ink2);
    let edge = Stroke::new(1.0, t.soft);
    crate::gui::paint::level(ui.painter(), rect.left()..=rect.right(), rect.bottom(), edge);
    touch::focus_ring(ui, &response, rect.shrink(3.0), 3.0);
    response.clicked()
}
