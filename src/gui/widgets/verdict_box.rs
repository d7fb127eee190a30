//! The verdict while the number is still under the hand.
//!
//! Knows a tinted box with a mark, a headline and sentences. Refuses to word them.

use crate::gui::{
    marks::VerdictMark,
    theme,
    widgets::{LimitRuler, paragraph},
};
use egui::{Align, CornerRadius, Frame, Layout, Margin, Rect, Sense, Ui, vec2};

/// A verdict in words, with its numbers.
#[derive(Clone, Copy, Debug)]
pub struct VerdictBox<'a> {
    /// Where the reading lies; gives the tint and the bar.
    pub mark: VerdictMark,
    /// What to do, such as "Working. Leave it."
    pub headline: &'a str,
    /// Why, with bold numbers; one paragraph each.
    pub reasons: &'a [&'a str],
    /// The reading on its limits.
    pub ruler: Option<LimitRuler<'a>>,
}

impl VerdictBox<'_> {
    /// Shows the box over the width at hand, at least `least` high.
    pub fn show(self, ui: &mut Ui, least: f32) {
        let t = theme::tokens(ui);
        // Where room is short it is the words' and not the margin's.
        let margin = if ui.available_height() < 116.0 { 7 } else { 12 };
        let frame = Frame::NONE
            .fill(self.mark.tint(t))
            .corner_radius(theme::RADIUS)
            .inner_margin(Margin { left: 20, right: 12, top: margin, bottom: margin });
        let shown = frame.show(ui, |ui| {
            ui.take_available_width();
            ui.set_min_height(least - 2.0 * f32::from(margin));
            ui.spacing_mut().item_spacing.y = f32::from(margin) / 2.0;
            ui.with_layout(Layout::left_to_right(Align::Min), |ui| {
                let (rect, _) = ui.allocate_exact_size(vec2(20.0, 22.0), Sense::hover());
                self.mark.paint(ui.painter(), rect.center(), 19.0, t);
                let text =
                    egui::RichText::new(self.headline).font(theme::panel_title()).color(t.ink);
                ui.add(egui::Label::new(text).wrap());
            });
            for reason in self.reasons {
                paragraph(ui, reason);
            }
            if let Some(ruler) = self.ruler {
                ui.add_space(4.0);
                ruler.show(ui);
            }
        });
        let bar =
            Rect::from_min_size(shown.response.rect.min, vec2(5.0, shown.response.rect.height()));
        let round = CornerRadius { nw: 4, sw: 4, ne: 0, se: 0 };
        ui.painter().rect_filled(bar, round, self.mark.colour(t));
    }
}
