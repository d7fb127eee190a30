//! Where the gap lies: goes up to here, does not go from there, and what is left between.
//!
//! Knows three fields in a row. Refuses to know the thicknesses.

use crate::gui::{
    marks::Icon,
    paint, theme,
    widgets::touch::{self, Spoken},
};
use egui::{Align2, CornerRadius, Rect, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

/// What two leaves proved.
#[derive(Clone, Copy, Debug)]
pub struct BracketStrip<'a> {
    /// Such as "0.55 goes"; empty if no leaf went.
    pub goes: &'a str,
    /// Such as "0.60 does not"; empty if every leaf went.
    pub does_not: &'a str,
    /// Where the space between them starts and ends, as shares of the strip.
    pub between: [f32; 2],
    /// What a screen reader says, such as "between 0.55 and 0.60".
    pub name: &'a str,
    /// What tapping it opens, such as "uncertainty"; `None` if nothing.
    pub opens: Option<&'a str>,
}

impl BracketStrip<'_> {
    /// Shows the strip over the width at hand, 44 high; true if it was tapped.
    pub fn show(self, ui: &mut Ui) -> bool {
        let t = theme::tokens(ui);
        let (area, _) = ui.allocate_exact_size(vec2(ui.available_width(), 44.0), Sense::hover());
        touch::say(ui, area, "between", self.name);
        let painter = ui.painter();
        let rect = area.shrink2(vec2(0.0, 4.0));
        painter.rect_filled(rect, 3.0, t.field);
        let [from, to] =
            self.between.map(|share| rect.left() + share.clamp(0.0, 1.0) * rect.width());
        let (goes, not) = (rect.with_max_x(from), rect.with_min_x(to));
        if !self.goes.is_empty() {
            painter.rect_filled(goes, CornerRadius { nw: 3, sw: 3, ne: 0, se: 0 }, t.ok_tint);
        }
        if !self.does_not.is_empty() {
            let thin = Stroke::new(1.0, t.hatch);
            paint::hatch_rect(painter, not, 8.5, thin, paint::Lean::Falling);
        }
        painter.rect_stroke(rect, 3.0, Stroke::new(1.0, t.edge), StrokeKind::Inside);
        let between =
            Rect::from_min_max(pos2(from, area.top()), pos2(to.max(from + 4.0), area.bottom()));
        painter.rect_filled(between, 0.0, t.accent);
        let font = theme::body_bold();
        let say = |text: &str, room: Rect, ground| {
            if !text.is_empty() && 46.0 < room.width() {
                let ink = (font.clone(), t.ink, ground);
                paint::knocked_out(painter, room.center(), Align2::CENTER_CENTER, text, ink);
            }
        };
        say(self.goes, goes, t.ok_tint);
        say(self.does_not, not, t.field);
        let Some(opens) = self.opens else { return false };
        let response = touch::tap(ui, area, ui.make_persistent_id("opens"), &Spoken::button(opens));
        let at = pos2(rect.right() - 14.0, rect.center().y);
        Icon::Forward.paint(ui.painter(), at, 13.0, t.ink2, t);
        if response.hovered() {
            ui.painter().rect_stroke(rect, 3.0, Stroke::new(1.5, t.ink2), StrokeKind::Inside);
        }
        touch::focus_ring(ui, &response, rect, 3.0);
        response.clicked()
    }
}
