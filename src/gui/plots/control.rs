//! Control charts below each other over the same hours: does every reading still keep to its line?
//!
//! Knows points with limits either way, and which of them give a signal. Refuses to know the rules
//! behind them: callers hand in numbers and ready-made words.

use crate::{
    gui::{
        paint,
        plots::{
            Chart, Event, axis,
            marks::{self, EVENTS, MOMENTS},
        },
        theme::{self, Tokens},
        widgets::touch,
    },
    language::tell,
};
use egui::{Align2, Id, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, pos2, vec2};

/// One point on a chart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ControlPoint {
    /// Service hours.
    pub(crate) at_h: f64,
    /// How high it stands.
    pub(crate) value: f64,
    /// The limit there.
    pub(crate) limit: f64,
    /// Whether it gives a signal.
    pub(crate) signals: bool,
    /// Whether work began the chart anew before it.
    pub(crate) anew: bool,
}

/// One chart.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ControlRow<'a> {
    /// What it shows: `Each reading`.
    pub(crate) title: &'a str,
    /// How to read it.
    pub(crate) note: &'a str,
    /// Its points, oldest first.
    pub(crate) points: Vec<ControlPoint>,
    /// Whether there is a limit below as well.
    pub(crate) two_sided: bool,
}

/// The charts of one station.
pub(crate) struct ControlPlot<'a> {
    /// Service hours from the left to the right edge.
    pub(crate) hours: [f64; 2],
    /// From the top down.
    pub(crate) rows: &'a [ControlRow<'a>],
    /// What was done, oldest first.
    pub(crate) events: &'a [Event],
    /// Service hours now, and in words.
    pub(crate) today: (f64, &'a str),
    /// The hour that is read off.
    pub(crate) picked_h: Option<f64>,
    /// What runs from left to right: `service hours`.
    pub(crate) axis: &'a str,
    /// What a screen reader says.
    pub(crate) name: &'a str,
}

const LEFT: f32 = 48.0;
const RIGHT: f32 = 98.0;
const BELOW: f32 = 50.0;
/// Title and air above each chart.
const HEAD: f32 = 22.0;
/// How far from a point a finger may be.
const REACH: f32 = 24.0;
/// Points closer than this to each other are drawn as one stroke from the lowest to the highest.
const CROWDED: f32 = 1.5;

impl ControlPlot<'_> {
    /// Shows the charts in `rect`; answers the hour of the point that was tapped.
    pub(crate) fn show(self, ui: &Ui, rect: Rect) -> Option<f64> {
        let t = theme::tokens(ui);
        let area = Rect::from_min_max(
            rect.min + vec2(LEFT, EVENTS + MOMENTS),
            rect.max - vec2(RIGHT, BELOW),
        );
        let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
        let whole = Chart { area, hours: self.hours, gaps: [0.0, 1.0] };
        marks::events(&painter, &whole, self.events, t.paper, t);
        if whole.shows(self.today.0) {
            let x = whole.x(self.today.0);
            paint::upright(&painter, x, area.top()..=area.bottom(), Stroke::new(1.2, t.ink2));
            let at = pos2(x, area.top() - 8.0);
            painter.text(at, Align2::CENTER_CENTER, self.today.1, theme::caption_bold(), t.ink);
        }
        let count = self.rows.len().max(1) as f32;
        let tall = area.height() / count;
        for (row, place) in self.rows.iter().zip(0_u8..) {
            let top = area.top() + tall * f32::from(place);
            let part = Rect::from_x_y_ranges(area.x_range(), top + HEAD..=top + tall - 4.0);
            self.row(&painter, row, part, t);
        }
        axis::hours(&painter, &whole, [90.0, 30.0], t);
        let foot = pos2(area.right(), rect.bottom() - 12.0);
        painter.text(foot, Align2::RIGHT_CENTER, self.axis, theme::caption(), t.ink3);
        if let Some(x) = self.picked_h.filter(|at| whole.shows(*at)).map(|at| whole.x(at)) {
            paint::upright(&painter, x, area.top()..=area.bottom(), Stroke::new(2.5, t.accent));
        }
        self.tapped(ui, area, &whole)
    }

    fn tapped(&self, ui: &Ui, area: Rect, whole: &Chart) -> Option<f64> {
        let id: Id = ui.make_persistent_id("control charts");
        let response = ui.interact(area, id, Sense::click());
        response.widget_info(|| {
            egui::WidgetInfo::labeled(egui::accesskit::Role::GraphicsDocument, true, self.name)
        });
        touch::focus_ring(ui, &response, area, 2.0);
        let at = response.interact_pointer_pos().filter(|_| response.clicked())?;
        let points = &self.rows.first()?.points;
        let far = |point: &ControlPoint| (whole.x(point.at_h) - at.x).abs();
        let nearest = points.iter().min_by(|a, b| far(a).total_cmp(&far(b)))?;
        (far(nearest) <= REACH).then_some(nearest.at_h)
    }

    fn row(&self, painter: &Painter, row: &ControlRow<'_>, area: Rect, t: &Tokens) {
        let shown: Vec<&ControlPoint> = row
            .points
            .iter()
            .filter(|it| self.hours[0] <= it.at_h && it.at_h <= self.hours[1])
            .collect();
        let most = shown.iter().fold(1.0_f64, |most, it| most.max(it.limit).max(it.value.abs()));
        let top = most * 1.12;
        let gaps = if row.two_sided { [-top, top] } else { [0.0, top] };
        let chart = Chart { area, hours: self.hours, gaps };
        let at = pos2(area.left(), area.top() - HEAD / 2.0);
        let style = (theme::body_bold(), t.ink, t.paper);
        let said = paint::knocked_out(painter, at, Align2::LEFT_CENTER, row.title, style);
        let room = area.right() - said.right() - 12.0;
        let note = paint::shrunk(painter, row.note, &theme::caption(), t.ink3, room);
        let beside = pos2(said.right() + 12.0, at.y);
        let covers = Align2::LEFT_CENTER.anchor_size(beside, note.size());
        painter.rect_filled(covers, 0.0, t.paper);
        paint::place(painter, beside, Align2::LEFT_CENTER, note);

        axis::gaps(painter, &chart, 1.0, 34.0, t);
        let cut = painter.with_clip_rect(area.expand(6.0).intersect(painter.clip_rect()));
        paint::level(&cut, area.left()..=area.right(), chart.y(0.0), Stroke::new(1.2, t.ink2));
        limits((painter, &cut), &chart, row, &shown, t);
        points(&cut, &chart, &shown, t);
    }
}

/// The limits as steps from point to point, named at the right edge.
fn limits(
    (beside, painter): (&Painter, &Painter),
    chart: &Chart,
    row: &ControlRow<'_>,
    shown: &[&ControlPoint],
    t: &Tokens,
) {
    let stroke = Stroke::new(1.6, t.watch);
    let signs: &[f64] = if row.two_sided { &[1.0, -1.0] } else { &[1.0] };
    for sign in signs {
        let crowded = chart.area.width() / (shown.len().max(1) as f32) < CROWDED;
        for stretch in shown.chunk_by(|_, b| !b.anew || crowded) {
            let mut line: Vec<Pos2> = Vec::new();
            for point in stretch {
                let at = chart.at(point.at_h, sign * point.limit);
                let apart = line.last().is_none_or(|last| 3.0 <= (last.x - at.x).abs());
                if line.len() < 2 || apart {
                    line.push(at);
                }
            }
            paint::dashed(painter, &line, stroke, paint::LIMIT);
        }
        let Some(last) = shown.last() else { continue };
        let at = pos2(chart.area.right() + 8.0, chart.y(sign * last.limit));
        beside.text(at, Align2::LEFT_CENTER, tell!("limit"), theme::caption_bold(), t.watch);
    }
}

fn points(painter: &Painter, chart: &Chart, shown: &[&ControlPoint], t: &Tokens) {
    let spacing = chart.area.width() / shown.len().max(1) as f32;
    if spacing < CROWDED {
        let column = |it: &ControlPoint| chart.x(it.at_h).floor();
        for group in shown.chunk_by(|a, b| (column(a) - column(b)).abs() < 0.5) {
            let Some(first) = group.first() else { continue };
            let low = group.iter().map(|it| it.value).fold(f64::INFINITY, f64::min);
            let high = group.iter().map(|it| it.value).fold(f64::NEG_INFINITY, f64::max);
            let (from, to) = (chart.at(first.at_h, low), chart.at(first.at_h, high));
            painter.line_segment([from, to], Stroke::new(1.0, t.ink));
        }
    } else {
        for stretch in shown.chunk_by(|_, b| !b.anew) {
            let line: Vec<Pos2> = stretch.iter().map(|it| chart.at(it.at_h, it.value)).collect();
            painter.add(Shape::line(line, Stroke::new(1.2, t.ink3)));
        }
        for it in shown {
            painter.circle_filled(chart.at(it.at_h, it.value), 2.8, t.ink);
        }
    }
    let mut last = f32::NEG_INFINITY;
    for it in shown.iter().filter(|it| it.signals) {
        let at = chart.at(it.at_h, it.value);
        if at.x - last < CROWDED {
            continue;
        }
        last = at.x;
        painter.circle_stroke(at, 6.0, Stroke::new(2.2, t.watch));
    }
}
