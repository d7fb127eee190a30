//! Limits as bands behind the readings: set range tinted, working dashed, stop solid and hatched
//! beyond.

use crate::gui::{paint, plots::Chart, theme::Tokens, widgets::Bands};
use egui::{Painter, Rect, Stroke};

/// Paints the bands over the whole chart.
pub(crate) fn limits(painter: &Painter, chart: &Chart, bands: Bands, t: &Tokens) {
    let painter = painter.with_clip_rect(chart.area.intersect(painter.clip_rect()));
    let across = chart.area.x_range();
    let y = |gap: f32| chart.y(f64::from(gap));
    let set = Rect::from_x_y_ranges(across, y(bands.set[1])..=y(bands.set[0]));
    painter.rect_filled(set, 0.0, t.ok_tint);
    let hatch = Stroke::new(1.0, t.stop.gamma_multiply(0.55));
    let beyond = [
        (chart.area.top(), y(bands.stop[1])),
        (y(bands.stop[0]), chart.y(0.0).min(chart.area.bottom())),
    ];
    for (top, bottom) in beyond {
        let (top, bottom) = (top.max(chart.area.top()), bottom.min(chart.area.bottom()));
        if top < bottom {
            let outside = Rect::from_x_y_ranges(across, top..=bottom);
            paint::hatch_rect(&painter, outside, 12.0, hatch, paint::Lean::Falling);
        }
    }
    for gap in bands.stop {
        paint::level(&painter, across.min..=across.max, y(gap), Stroke::new(1.8, t.stop));
    }
    for gap in bands.working {
        let line = [egui::pos2(across.min, y(gap)), egui::pos2(across.max, y(gap))];
        paint::dashed(&painter, &line, Stroke::new(1.6, t.watch), paint::LIMIT);
    }
}
