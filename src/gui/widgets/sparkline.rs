//! The last readings of one station, as bars from the leaf that went to the leaf that did not.
//!
//! Knows bars over a band. Refuses to know hours: steps are even.

use crate::gui::{theme, widgets::touch};
use egui::{Align2, Rect, Sense, Ui, pos2, vec2};

/// A few readings at a glance.
#[derive(Clone, Copy, Debug)]
pub struct Sparkline<'a> {
    /// Bars from low to high in mm, oldest first; the last one is the one under the hand.
    pub bars: &'a [[f32; 2]],
    /// The set range in mm.
    pub set: [f32; 2],
    /// The newest value as text, beside its bar.
    pub newest: &'a str,
    /// The oldest value as text.
    pub oldest: &'a str,
    /// What a screen reader says.
    pub name: &'a str,
}

impl Sparkline<'_> {
    /// Shows the readings over the width at hand, 44 high.
    pub fn show(self, ui: &mut Ui) {
        let t = theme::tokens(ui);
        let width = ui.available_width().min(170.0);
        let (rect, _) = ui.allocate_exact_size(vec2(width, 44.0), Sense::hover());
        touch::say(ui, rect, "last readings", self.name);
        let painter = ui.painter_at(rect);
        let plot = rect.with_max_x(rect.right() - 44.0);
        let ends = self.bars.iter().chain([&self.set]);
        let low = ends.clone().map(|bar| bar[0]).fold(f32::INFINITY, f32::min);
        let high = ends.map(|bar| bar[1]).fold(f32::NEG_INFINITY, f32::max);
        let tall = (high - low).max(0.05);
        let y = |gap: f32| plot.bottom() - 3.0 - (gap - low) / tall * (plot.height() - 6.0);

        let band = Rect::from_x_y_ranges(plot.x_range(), y(self.set[1])..=y(self.set[0]));
        painter.rect_filled(band, 0.0, t.ok_tint);
        let step = (plot.width() - 18.0) / self.bars.len().saturating_sub(1).max(1) as f32;
        for (index, bar) in self.bars.iter().enumerate() {
            let newest = index + 1 == self.bars.len();
            let ink = if newest { t.accent } else { t.ink2 };
            let left = plot.left() + 6.0 + step * index as f32;
            let tall = (y(bar[0]) - y(bar[1])).max(4.0);
            let mark = Rect::from_min_size(pos2(left, y(bar[1])), vec2(6.0, tall));
            painter.rect_filled(mark, 0.0, ink);
        }
        let place = |text: &str, bar: Option<&[f32; 2]>, font, ink| {
            if let Some(bar) = bar {
                let middle =
                    y(f32::midpoint(bar[0], bar[1])).clamp(rect.top() + 8.0, rect.bottom() - 8.0);
                painter.text(pos2(rect.right(), middle), Align2::RIGHT_CENTER, text, font, ink);
            }
        };
        place(self.newest, self.bars.last(), theme::chip_bold(), t.accent);
        if 1 < self.bars.len() && self.apart(tall, plot.height()) {
            place(self.oldest, self.bars.first(), theme::chip(), t.ink2);
        }
    }

    /// Whether both values can be printed without touching.
    fn apart(&self, tall: f32, height: f32) -> bool {
        let (Some(first), Some(last)) = (self.bars.first(), self.bars.last()) else { return false };
        15.0 < (last[0] - first[0]).abs() / tall * height
    }
}
