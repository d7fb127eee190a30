//! One wear mark over the service hours: what each value can mean, its lines and its limit.
//!
//! To read off, without zoom: marks are few. Knows numbers and ready-made words only.

use crate::gui::{
    paint,
    plots::{
        Bar, Chart, Crossing, Fan, Stretch, axis, bars, fan,
        marks::{self, MOMENTS},
    },
    theme::{self, Tokens},
};
use egui::{Align2, Painter, Rect, Stroke, pos2, vec2};

/// The plot.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MarkPlot<'a> {
    /// Service hours from the left to the right edge.
    pub(crate) hours: [f64; 2],
    /// Marks, oldest first, as wide as they are read finely.
    pub(crate) bars: Vec<Bar>,
    /// Lines, oldest first.
    pub(crate) lines: Vec<Stretch>,
    /// The forecast.
    pub(crate) fan: Fan,
    /// Where it meets the limit.
    pub(crate) crossing: Option<Crossing>,
    /// The limit in mm, and in words.
    pub(crate) limit: Option<(f64, String)>,
    /// Whether a value over the limit is beyond it.
    pub(crate) rising: bool,
    /// Millimetres of one unit on the axis, and its sign.
    pub(crate) unit: (f64, &'a str),
    /// What the axes show.
    pub(crate) axis: &'a str,
    /// Where limit and bars come from.
    pub(crate) note: &'a str,
    /// Service hours now, and in words.
    pub(crate) today: (f64, &'a str),
    /// Service hours of the next look, and in words.
    pub(crate) next: (f64, &'a str),
}

impl MarkPlot<'_> {
    /// Paints into `rect`, axes included.
    pub(crate) fn paint(&self, painter: &Painter, rect: Rect, t: &Tokens) {
        let area =
            Rect::from_min_max(rect.min + vec2(48.0, MOMENTS + 4.0), rect.max - vec2(98.0, 68.0));
        let chart = Chart { area, hours: self.hours, gaps: self.values() };
        let painter = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
        self.limit(&painter, &chart, t);
        axis::gaps(&painter, &chart, self.unit.0, 46.0, t);
        axis::hours(&painter, &chart, [90.0, 30.0], t);
        marks::moments(&painter, &chart, self.today, self.next, t);
        let [low, high] = chart.gaps.map(paint::screen);
        fan::fan(&painter, &chart, &self.fan, [low, high], t);
        let cut = painter.with_clip_rect(area.intersect(painter.clip_rect()));
        for line in &self.lines {
            cut.line_segment(line.ends(&chart), Stroke::new(2.4, t.accent));
        }
        bars::bars(&cut, &chart, &self.bars, bars::Look::Solid, 6.0, t);
        if let Some(crossing) = &self.crossing {
            fan::crossing(&painter, &chart, crossing, t.paper, t);
        }
        let above = pos2(area.left() - 11.0, area.top() - MOMENTS / 2.0);
        painter.text(above, Align2::RIGHT_CENTER, self.unit.1, theme::caption(), t.ink3);
        let left = rect.left() + 4.0;
        let words = |text: &str, font, ink, y: f32| {
            let galley = paint::fitted(&painter, text, font, ink, rect.width() - 12.0);
            paint::place(&painter, pos2(left, y), Align2::LEFT_CENTER, galley);
        };
        words(self.axis, theme::chip_bold(), t.ink, rect.bottom() - 28.0);
        words(self.note, theme::caption(), t.ink3, rect.bottom() - 9.0);
    }

    /// From under the least to over the largest of marks and limit, with room for a forecast.
    fn values(&self) -> [f64; 2] {
        let bars = self.bars.iter().flat_map(|it| [it.go_mm, it.no_go_mm.unwrap_or(it.go_mm)]);
        let all = bars.chain(self.limit.as_ref().map(|(limit, _)| *limit));
        let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| {
            (low.min(it), high.max(it))
        });
        let room = ((high - low) * 0.12).max(0.05);
        if low <= high { [(low - room).max(0.0), high + room] } else { [0.0, 1.0] }
    }

    fn limit(&self, painter: &Painter, chart: &Chart, t: &Tokens) {
        let Some((limit, words)) = &self.limit else { return };
        let (area, y) = (chart.area, chart.y(*limit));
        let beyond = if self.rising {
            Rect::from_x_y_ranges(area.x_range(), area.top()..=y)
        } else {
            Rect::from_x_y_ranges(area.x_range(), y..=area.bottom())
        };
        let hatch = Stroke::new(1.0, t.watch.gamma_multiply(0.55));
        paint::hatch_rect(painter, beyond, 12.0, hatch, paint::Lean::Falling);
        let line = [pos2(area.left(), y), pos2(area.right(), y)];
        paint::dashed(painter, &line, Stroke::new(1.6, t.watch), paint::LIMIT);
        let at = pos2(area.right() + 8.0, y);
        painter.text(at, Align2::LEFT_CENTER, words, theme::caption_bold(), t.watch);
    }
}
