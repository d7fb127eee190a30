//! One reading on a ruler of its limits.
//!
//! Knows three bands inside each other and a pointer. Refuses to judge: the verdict stands above.

use crate::gui::{paint, theme};
use egui::{Align2, Rect, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

/// The limits of one line in mm, for drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bands {
    /// As left after work.
    pub set: [f32; 2],
    /// Working limits.
    pub working: [f32; 2],
    /// Stop limits.
    pub stop: [f32; 2],
}

impl Bands {
    /// From zero to a little past the upper stop limit: what a drawing of these limits must hold.
    pub fn span(&self) -> [f32; 2] {
        [0.0, self.stop[1] * 1.11]
    }
}

/// A reading and its limits along one line.
#[derive(Clone, Copy, Debug)]
pub struct LimitRuler<'a> {
    /// The limits.
    pub bands: Bands,
    /// The reading from low to high in mm.
    pub reading: [f32; 2],
    /// The station's name over the pointer.
    pub name: &'a str,
    /// Limits as text: lower working, the word for the set range, upper working, upper stop.
    pub labels: [&'a str; 4],
}

impl LimitRuler<'_> {
    /// Shows the ruler over the width at hand, 52 high.
    pub fn show(self, ui: &mut Ui) {
        let t = theme::tokens(ui);
        let (area, _) = ui.allocate_exact_size(vec2(ui.available_width(), 52.0), Sense::hover());
        let painter = ui.painter();
        let bar = Rect::from_min_max(
            pos2(area.left(), area.top() + 19.0),
            pos2(area.right(), area.top() + 31.0),
        );
        let [low, high] = self.bands.span();
        let high = high.max(self.reading[1]).max(low + 0.01);
        let x = |gap: f32| bar.left() + ((gap - low) / (high - low)).clamp(0.0, 1.0) * bar.width();
        let fill = |from: f32, to: f32, colour| {
            let part = Rect::from_x_y_ranges(x(from)..=x(to), bar.y_range());
            painter.rect_filled(part, 0.0, colour);
        };
        let Bands { set, working, stop } = self.bands;
        painter.rect_filled(bar, 0.0, t.field);
        fill(low, stop[0], t.stop);
        fill(stop[0], working[0], t.watch_tint);
        fill(set[0], set[1], t.ok);
        fill(working[1], stop[1], t.watch_tint);
        fill(stop[1], high, t.stop);
        for limit in working {
            paint::upright(painter, x(limit), bar.top()..=bar.bottom(), Stroke::new(2.0, t.watch));
        }
        painter.rect_stroke(bar, 0.0, Stroke::new(1.0, t.ink), StrokeKind::Inside);

        let (from, to) = (x(self.reading[0]), x(self.reading[1]));
        let middle = f32::midpoint(from, to);
        let half = ((to - from) / 2.0).max(4.0);
        let pointer = Rect::from_x_y_ranges(middle - half..=middle + half, bar.y_range());
        painter.rect_filled(pointer.expand2(vec2(0.0, 5.0)), 0.0, t.accent);
        let name = (theme::caption_bold(), t.accent);
        let at = middle.min(area.right() - 12.0).max(area.left() + 12.0);
        painter.text(pos2(at, area.top() - 1.0), Align2::CENTER_TOP, self.name, name.0, name.1);

        // Upper limits are named first: they are what wear runs into. Others give way.
        let [lower, set_word, upper, stop_upper] = self.labels;
        let mut taken: Vec<Rect> = Vec::new();
        for (text, gap) in [
            (upper, working[1]),
            (stop_upper, stop[1]),
            (lower, working[0]),
            (set_word, f32::midpoint(set[0], set[1])),
        ] {
            let galley = painter.layout_no_wrap(text.to_owned(), theme::caption(), t.ink2);
            let half = galley.size().x / 2.0;
            let at = x(gap).min(area.right() - half).max(area.left() + half);
            let rect = Align2::CENTER_TOP.anchor_size(pos2(at, bar.bottom() + 6.0), galley.size());
            if taken.iter().all(|other| !other.expand(4.0).intersects(rect)) {
                painter.galley(rect.min, galley, t.ink2);
                taken.push(rect);
            }
        }
    }
}
