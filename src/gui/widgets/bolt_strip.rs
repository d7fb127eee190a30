//! The bolts of a blade in the order they are tightened.
//!
//! Knows hexagons in a row. Refuses to know torques: they stand below in words.

use crate::gui::{fonts, paint, theme, widgets::touch};
use egui::{Align2, FontId, Rect, Sense, Shape, Stroke, StrokeKind, Ui, Vec2, pos2, vec2};

/// One bolt, from the pivot outward.
#[derive(Clone, Copy, Debug)]
pub struct StripBolt<'a> {
    /// Its number on the blade.
    pub number: &'a str,
    /// When it is tightened, such as "first".
    pub order: &'a str,
    /// Whether it is the first.
    pub first: bool,
}

/// Shows the bolts over the width at hand, 62 high.
///
/// `name` is what a screen reader says, such as "tighten in the order 2, 3, 1, 4".
pub fn bolt_strip(ui: &mut Ui, bolts: &[StripBolt<'_>], name: &str) {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 62.0), Sense::hover());
    touch::say(ui, rect, ("bolts", name), name);
    let painter = ui.painter();
    let bar = Rect::from_min_size(rect.min, vec2(rect.width(), 38.0)).shrink(0.7);
    painter.rect(bar, 0.0, t.blade, Stroke::new(1.4, t.ink), StrokeKind::Middle);
    let pitch = rect.width() / bolts.len().max(1) as f32;
    let radius = (pitch * 0.42).min(15.0);
    for (index, bolt) in bolts.iter().enumerate() {
        let middle = pos2(rect.left() + pitch * (index as f32 + 0.5), bar.center().y);
        let corner =
            |k: u8| middle + radius * Vec2::angled(f32::from(k) * std::f32::consts::FRAC_PI_3);
        let head: Vec<_> = (0..6).map(corner).collect();
        let (fill, ink) = if bolt.first { (t.accent, t.on_accent) } else { (t.field, t.ink) };
        painter.add(Shape::convex_polygon(head, fill, Stroke::new(1.6, t.ink)));
        let number = FontId::new(14.0, fonts::bold());
        painter.text(middle, Align2::CENTER_CENTER, bolt.number, number, ink);
        let (font, ink) =
            if bolt.first { (theme::chip_bold(), t.accent) } else { (theme::chip(), t.ink2) };
        let order = paint::fitted(painter, bolt.order, font, ink, pitch - 2.0);
        let below = pos2(middle.x, rect.bottom() - 9.0);
        paint::place(painter, below, Align2::CENTER_CENTER, order);
    }
}
