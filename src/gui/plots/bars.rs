//! Readings as bars from the leaf that goes to the leaf that does not.

use crate::gui::{paint, plots::Chart, theme::Tokens};
use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, pos2, vec2};

/// One reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Bar {
    /// Service hours.
    pub(crate) at_h: f64,
    /// The thickest stack that goes, in mm.
    pub(crate) go_mm: f64,
    /// The thinnest that does not; `None` if all go.
    pub(crate) no_go_mm: Option<f64>,
    /// Whether somebody set it aside: drawn faint and struck through.
    pub(crate) aside: bool,
}

/// How a series is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Look {
    /// Solid: the one that is read.
    Solid,
    /// Outlined, on this ground.
    Outlined(Color32),
}

/// More bars in view than this for each point of width are drawn as one per point.
const MOST: f32 = 0.9;
/// How tall an open bar is drawn, from the stack that goes to its arrow.
const OPEN: f32 = 16.0;

impl Bar {
    /// What the bar covers on screen, with its arrow if the reading is open.
    pub(crate) fn rect(&self, chart: &Chart, width: f32) -> Rect {
        let x = chart.x(self.at_h);
        let low = chart.y(self.go_mm);
        let high = self.no_go_mm.map_or(low - OPEN, |no_go| chart.y(no_go)).min(low - 2.0);
        Rect::from_min_max(pos2(x - width / 2.0, high), pos2(x + width / 2.0, low))
    }
}

/// A width that leaves air between bars that follow each other closely.
pub(crate) fn width(chart: &Chart, bars: &[Bar], most: f32) -> f32 {
    let shown = in_view(chart, bars);
    let (Some(first), Some(last)) = (shown.first(), shown.last()) else { return most };
    let hours = paint::screen(last.at_h - first.at_h);
    let spacing = hours * chart.per_hour() / shown.len().max(2) as f32;
    (spacing * 0.5).clamp(1.5, most)
}

/// The bars in view; hours must not fall.
fn in_view<'a>(chart: &Chart, all: &'a [Bar]) -> &'a [Bar] {
    let from = all.partition_point(|bar| bar.at_h < chart.hours[0]);
    let to = all.partition_point(|bar| bar.at_h <= chart.hours[1]);
    all.get(from..to).unwrap_or_default()
}

/// Paints a series; hours must not fall.
pub(crate) fn bars(
    painter: &Painter,
    chart: &Chart,
    all: &[Bar],
    look: Look,
    most: f32,
    t: &Tokens,
) {
    let painter = painter.with_clip_rect(chart.area.expand(1.0).intersect(painter.clip_rect()));
    let width = width(chart, all, most);
    let shown = in_view(chart, all);
    let many = MOST * chart.area.width() < shown.len() as f32;
    let thinned = many.then(|| envelope(chart, shown));
    for bar in thinned.as_deref().unwrap_or(shown) {
        one(&painter, chart, bar, (look, width), t);
    }
}

fn one(painter: &Painter, chart: &Chart, bar: &Bar, (look, width): (Look, f32), t: &Tokens) {
    let rect = bar.rect(chart, width);
    if bar.aside {
        let faint = Stroke::new(1.2, t.ink3);
        painter.rect_stroke(rect, 0.0, faint, StrokeKind::Inside);
        let wide = rect.expand2(vec2(3.0, 2.0));
        painter.line_segment([wide.left_bottom(), wide.right_top()], faint);
        return;
    }
    let (ink, body) =
        (t.ink, if bar.no_go_mm.is_none() { rect.with_min_y(rect.top() + 5.0) } else { rect });
    match look {
        Look::Solid if bar.no_go_mm.is_some() => {
            painter.rect_filled(body, 0.0, ink);
        }
        Look::Solid => open(painter, body, (ink.gamma_multiply(0.35), ink)),
        Look::Outlined(ground) if bar.no_go_mm.is_some() => {
            painter.rect(body, 0.0, ground, Stroke::new(1.2, t.ink3), StrokeKind::Inside);
        }
        Look::Outlined(ground) => open(painter, body, (ground, t.ink3)),
    }
}

/// No ceiling: three sides and an arrow that points on.
fn open(painter: &Painter, body: Rect, (fill, edge): (Color32, Color32)) {
    painter.rect_filled(body, 0.0, fill);
    let stroke = Stroke::new(1.2, edge);
    let sides: Vec<Pos2> =
        vec![body.left_top(), body.left_bottom(), body.right_bottom(), body.right_top()];
    painter.add(Shape::line(sides, stroke));
    let tip = body.center_top() - vec2(0.0, 6.0);
    let head = vec![tip, tip + vec2(4.0, 6.0), tip + vec2(-4.0, 6.0)];
    painter.add(Shape::convex_polygon(head, edge, Stroke::NONE));
}

/// One bar per point of width, from the lowest floor to the highest ceiling that falls on it.
fn envelope(chart: &Chart, shown: &[Bar]) -> Vec<Bar> {
    let mut columns: Vec<(f32, Bar)> = Vec::new();
    for bar in shown {
        let column = chart.x(bar.at_h).floor();
        match columns.last_mut() {
            Some((last, all)) if (*last - column).abs() < 0.5 => {
                all.go_mm = all.go_mm.min(bar.go_mm);
                all.no_go_mm = all.no_go_mm.zip(bar.no_go_mm).map(|(a, b)| a.max(b));
            }
            _ => columns.push((column, *bar)),
        }
    }
    columns.into_iter().map(|(_, bar)| bar).collect()
}

#[test]
fn ten_thousand_readings_are_drawn_as_one_bar_per_point() {
    let area = Rect::from_min_size(Pos2::ZERO, vec2(900.0, 400.0));
    let chart = Chart { area, hours: [0.0, 10_000.0], gaps: [0.0, 2.0] };
    let wavy = |k: u32| if k.is_multiple_of(2) { 0.40 } else { 0.45 };
    let many: Vec<Bar> = (0..10_000)
        .map(|k| Bar {
            at_h: f64::from(k),
            go_mm: wavy(k),
            no_go_mm: Some(wavy(k) + 0.05),
            aside: false,
        })
        .collect();
    let few = envelope(&chart, &many);
    assert!(few.len() <= 901, "{}", few.len());
    let whole = |bar: &Bar| bar.go_mm <= 0.40 && bar.no_go_mm.is_some_and(|it| 0.4999 < it);
    assert!(few.iter().all(whole), "nothing that was measured disappears");
}
