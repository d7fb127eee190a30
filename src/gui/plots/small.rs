//! One line's trend as a small multiple: to compare, not to read off.

use crate::gui::{
    marks::ActionMark,
    paint,
    plots::{Bar, Chart, Stretch, axis, bars, limits},
    theme::Tokens,
    widgets::Bands,
};
use egui::{Color32, Painter, Rect, Stroke, pos2, vec2};

/// A small trend.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SmallTrend {
    /// Service hours from the left to the right edge.
    pub(crate) hours: [f64; 2],
    /// Limits in mm.
    pub(crate) bands: Bands,
    /// Millimetres of one unit on the axis.
    pub(crate) per_unit: f64,
    /// Readings of one station, oldest first.
    pub(crate) bars: Vec<Bar>,
    /// Straight lines.
    pub(crate) lines: Vec<Stretch>,
    /// The newest intervention.
    pub(crate) event: Option<(f64, ActionMark)>,
}

impl SmallTrend {
    /// Paints into `rect`, axes included.
    pub(crate) fn paint(&self, painter: &Painter, rect: Rect, ground: Color32, t: &Tokens) {
        // Inches need two decimals more.
        let left = if self.per_unit > 1.0 { 42.0 } else { 32.0 };
        let area = Rect::from_min_max(rect.min + vec2(left, 6.0), rect.max - vec2(2.0, 24.0));
        let gaps = gaps(self.bands, [self.bars.as_slice()].into_iter());
        let chart = Chart { area, hours: self.hours, gaps };
        limits::limits(painter, &chart, self.bands, t);
        axis::gaps(painter, &chart, self.per_unit, 30.0, t);
        axis::hours(painter, &chart, [80.0, 2.0], t);
        let cut = painter.with_clip_rect(area.expand(1.0).intersect(painter.clip_rect()));
        if let Some((at_h, mark)) = self.event.filter(|(at_h, _)| chart.shows(*at_h)) {
            let x = chart.x(at_h);
            let line = [pos2(x, area.top() + 14.0), pos2(x, area.bottom())];
            paint::dashed(painter, &line, Stroke::new(1.0, t.ink2), [3.0, 3.0]);
            let patch = Rect::from_center_size(pos2(x, area.top() + 7.0), vec2(19.0, 19.0));
            painter.rect_filled(patch, 0.0, ground);
            mark.paint_in(painter, patch.center(), 15.0, (t.ink, ground));
        }
        for line in &self.lines {
            cut.line_segment(line.ends(&chart), Stroke::new(1.6, t.accent));
        }
        bars::bars(painter, &chart, &self.bars, bars::Look::Solid, 3.0, t);
    }
}

/// From zero, or the tightest reading, to past the upper stop limit or the widest one.
pub(crate) fn gaps<'a>(bands: Bands, series: impl Iterator<Item = &'a [Bar]>) -> [f64; 2] {
    let [low, high] = bands.span().map(f64::from);
    series.flatten().fold([low, high], |[low, high], bar| {
        let top = bar.no_go_mm.unwrap_or(bar.go_mm);
        [low.min(bar.go_mm), high.max(top * 1.06)]
    })
}
