//! Breaks that nobody wrote down, offered where they are.

use crate::{
    brief::signal,
    domain::{machine::StationId, trend::Change},
    gui::{
        screens::trend::Scene,
        theme,
        widgets::{paragraph, touch},
    },
};
use egui::{CornerRadius, Frame, Margin, Rect, Ui, vec2};

/// Says one break in a box, and what to do about it.
pub(super) fn offer(ui: &mut Ui, scene: &Scene<'_>, station: StationId, change: &Change) {
    let t = theme::tokens(ui);
    let said = signal::change(station, change, scene.view.numbers);
    let margin = Margin { left: 18, right: 12, top: 10, bottom: 10 };
    let frame = Frame::NONE.fill(t.watch_tint).corner_radius(theme::RADIUS).inner_margin(margin);
    let shown = frame.show(ui, |ui| {
        ui.take_available_width();
        ui.spacing_mut().item_spacing.y = 4.0;
        paragraph(ui, &format!("**{said}**"));
        paragraph(ui, signal::change_advice(change.kind));
    });
    let rect = shown.response.rect;
    let bar = Rect::from_min_size(rect.min, vec2(5.0, rect.height()));
    let round = CornerRadius { nw: 4, sw: 4, ne: 0, se: 0 };
    ui.painter().rect_filled(bar, round, t.watch);
    touch::say(ui, bar, ("break", station.to_string(), change.place), &said);
}
