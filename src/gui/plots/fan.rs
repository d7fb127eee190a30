//! The forecast: a dashed mean, the fan of its interval, and where both meet a limit.

use crate::gui::{paint, plots::Chart, theme, theme::Tokens};
use egui::{Align2, Color32, Mesh, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};

/// A straight mean carried on, with its interval.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Fan {
    /// Service hours, then lower end, mean and upper end in mm.
    pub(crate) points: Vec<[f64; 4]>,
}

/// Where the forecast meets a limit.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Crossing {
    /// The limit in mm.
    pub(crate) limit_mm: f64,
    /// Service hours at which the mean meets it.
    pub(crate) at_h: f64,
    /// The interval of that, where it has both ends.
    pub(crate) interval: Option<[f64; 2]>,
    /// `in 10 h, 5–16`.
    pub(crate) words: String,
    /// Whether it is a stop limit.
    pub(crate) stop: bool,
    /// Whether the gap grows towards it.
    pub(crate) rising: bool,
}

/// Paints the fan, cut off beyond the stop limits.
pub(crate) fn fan(painter: &Painter, chart: &Chart, fan: &Fan, stop: [f32; 2], t: &Tokens) {
    let [low, high] = stop.map(|gap| chart.y(f64::from(gap)));
    let inside = Rect::from_x_y_ranges(chart.area.x_range(), high..=low);
    let painter =
        painter.with_clip_rect(inside.intersect(chart.area).intersect(painter.clip_rect()));
    let mut mesh = Mesh::default();
    let edge = |end: usize| -> Vec<Pos2> {
        let value = |point: &[f64; 4]| point.get(end).copied().unwrap_or_default();
        fan.points.iter().map(|point| chart.at(point[0], value(point))).collect()
    };
    let (lower, mean, upper) = (edge(1), edge(2), edge(3));
    for (low, high) in lower.iter().zip(&upper) {
        mesh.colored_vertex(*low, t.accent_tint);
        mesh.colored_vertex(*high, t.accent_tint);
    }
    for k in (0..u32::try_from(lower.len().saturating_sub(1)).unwrap_or(0)).map(|k| 2 * k) {
        mesh.add_triangle(k, k + 1, k + 2);
        mesh.add_triangle(k + 1, k + 2, k + 3);
    }
    painter.add(Shape::mesh(mesh));
    for side in [lower, upper] {
        painter.add(Shape::line(side, Stroke::new(1.0, t.accent)));
    }
    paint::dashed(&painter, &mean, Stroke::new(2.4, t.accent), [8.0, 5.0]);
}

/// Paints a crossing on its limit, with its hours beside it on a patch of `ground`; returns what
/// both cover.
pub(crate) fn crossing(
    painter: &Painter,
    chart: &Chart,
    it: &Crossing,
    ground: Color32,
    t: &Tokens,
) -> Option<Rect> {
    if !chart.shows(it.at_h) {
        return None;
    }
    let (x, y) = (chart.x(it.at_h), chart.y(it.limit_mm));
    let colour = if it.stop { t.stop } else { t.watch };
    let ends = it.interval.map(|ends| ends.map(|hour| chart.x(hour)));
    if let Some([low, high]) = ends {
        let cut = painter.with_clip_rect(chart.area.expand2(vec2(0.0, 8.0)));
        paint::level(&cut, low..=high, y, Stroke::new(3.0, colour));
        for end in [low, high] {
            paint::upright(&cut, end, y - 7.0..=y + 7.0, Stroke::new(1.8, colour));
        }
    }
    let mark = pos2(x, y);
    painter.circle(mark, 5.0, ground, Stroke::new(2.2, colour));
    // Beside the crossing where the fan is not: behind a working limit, before a stop limit.
    let font = theme::chip_bold();
    let [low, high] = ends.unwrap_or([x, x]);
    let width = painter.layout_no_wrap(it.words.clone(), font.clone(), colour).size().x;
    let behind = !it.stop && high + 10.0 + width < chart.area.right();
    let (x, y, anchor) = match (behind, it.rising) {
        (true, true) => (high.max(x) + 10.0, y + 8.0, Align2::LEFT_TOP),
        (true, false) => (high.max(x) + 10.0, y - 8.0, Align2::LEFT_BOTTOM),
        (false, true) => (low.min(x) - 8.0, y - 8.0, Align2::RIGHT_BOTTOM),
        (false, false) => (low.min(x) - 8.0, y + 8.0, Align2::RIGHT_TOP),
    };
    let style = (font, colour, ground);
    let words = paint::knocked_out(painter, pos2(x, y), anchor, it.words.as_str(), style);
    Some(words.union(Rect::from_center_size(mark, vec2(14.0, 14.0))))
}
