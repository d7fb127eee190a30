//! What follows from the trend, in a box, and what the line leaves out.

use crate::{
    brief::trend::Advice,
    domain::decide::LineDecision,
    gui::{
        marks::ActionMark,
        meaning::job_mark,
        theme,
        widgets::{paragraph, touch},
    },
};
use egui::{CornerRadius, Frame, Margin, Rect, RichText, Sense, Ui, vec2};

/// Paints the box over the width at hand.
pub(super) fn show(ui: &mut Ui, decision: &LineDecision, advice: &Advice) {
    let t = theme::tokens(ui);
    let mark = job_mark(decision);
    let tint = match mark {
        ActionMark::Leave => t.ok_tint,
        ActionMark::Shim | ActionMark::Rotate | ActionMark::Replace => t.watch_tint,
        ActionMark::Stop => t.stop_tint,
        ActionMark::Measure => t.rail,
    };
    let frame = Frame::NONE.fill(tint).corner_radius(theme::RADIUS).inner_margin(Margin {
        left: 20,
        right: 14,
        top: 12,
        bottom: 12,
    });
    let shown = frame.show(ui, |ui| {
        ui.take_available_width();
        ui.spacing_mut().item_spacing.y = 6.0;
        ui.horizontal_top(|ui| {
            let (rect, _) = ui.allocate_exact_size(vec2(20.0, 22.0), Sense::hover());
            mark.paint(ui.painter(), rect.center(), 19.0, t, tint);
            ui.add(
                egui::Label::new(
                    RichText::new(&advice.title).font(theme::panel_title()).color(t.ink),
                )
                .wrap(),
            );
        });
        paragraph(ui, &advice.text);
    });
    let rect = shown.response.rect;
    let bar = Rect::from_min_size(rect.min, vec2(5.0, rect.height()));
    let round = CornerRadius { nw: 4, sw: 4, ne: 0, se: 0 };
    ui.painter().rect_filled(bar, round, mark.colour(t));
    let said = format!("{}. {}", advice.title, crate::brief::plain(&advice.text));
    touch::say(ui, bar, "trend advice", &said);
}
