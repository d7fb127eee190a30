//! What to make safe before reaching in.
//!
//! Knows a tinted tile with a sign. Refuses to authorise anything: it reminds.

use crate::gui::{fonts, marks::Icon, paint, theme, widgets::touch};
use egui::{Align2, CornerRadius, FontId, Rect, Sense, Ui, vec2};

/// One caution.
#[derive(Clone, Copy, Debug)]
pub struct CautionTile<'a> {
    /// Its sign.
    pub icon: Icon,
    /// What to do, such as "Lock out".
    pub words: &'a str,
    /// How, such as "key with you".
    pub detail: &'a str,
}

impl CautionTile<'_> {
    /// Shows the tile at `width`, 96 high.
    pub fn show(self, ui: &mut Ui, width: f32) {
        let t = theme::tokens(ui);
        let (rect, _) = ui.allocate_exact_size(vec2(width, 96.0), Sense::hover());
        let painter = ui.painter();
        painter.rect_filled(rect, theme::RADIUS, t.watch_tint);
        let bar = Rect::from_min_size(rect.min, vec2(rect.width(), 4.0));
        painter.rect_filled(bar, CornerRadius { nw: 3, ne: 3, sw: 0, se: 0 }, t.watch);
        self.icon.paint(painter, rect.center_top() + vec2(0.0, 31.0), 26.0, t.ink, t);
        let line = |text: &str, family, size, ink, below: f32| {
            let font = FontId::new(size, family);
            let galley = paint::fitted(painter, text, font, ink, width - 10.0);
            paint::place(
                painter,
                rect.center_top() + vec2(0.0, below),
                Align2::CENTER_CENTER,
                galley,
            );
        };
        line(self.words, fonts::bold(), 13.5, t.ink, 62.0);
        line(self.detail, fonts::regular(), 12.0, t.ink2, 81.0);
        touch::say(ui, rect, ("caution", self.words), &format!("{}: {}", self.words, self.detail));
    }

    /// Shows it as a row over the width at hand, 44 high, where three tiles would cut their words.
    pub fn show_row(self, ui: &mut Ui) {
        let t = theme::tokens(ui);
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 44.0), Sense::hover());
        let painter = ui.painter();
        painter.rect_filled(rect, theme::RADIUS, t.watch_tint);
        let bar = Rect::from_min_size(rect.min, vec2(4.0, rect.height()));
        painter.rect_filled(bar, CornerRadius { nw: 3, ne: 0, sw: 3, se: 0 }, t.watch);
        self.icon.paint(painter, rect.left_center() + vec2(28.0, 0.0), 23.0, t.ink, t);
        let at = rect.left_center() + vec2(54.0, 0.0);
        let words = FontId::new(13.5, fonts::bold());
        let words = painter.text(at, Align2::LEFT_CENTER, self.words, words, t.ink);
        let room = rect.right() - words.right() - 20.0;
        let font = FontId::new(12.0, fonts::regular());
        let detail = paint::fitted(painter, self.detail, font, t.ink2, room);
        let at = egui::pos2(words.right() + 12.0, at.y);
        paint::place(painter, at, Align2::LEFT_CENTER, detail);
        touch::say(ui, rect, ("caution", self.words), &format!("{}: {}", self.words, self.detail));
    }
}
