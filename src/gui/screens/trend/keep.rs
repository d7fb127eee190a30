//! What is shown, kept for a report: as a table, a picture or a drawing.

use crate::{
    gui::{screens::trend::Scene, theme, widgets::Button},
    language::tell,
    workbench::{Command, TrendView},
};
use egui::{Ui, vec2};

/// The height of the row of buttons with the air above it.
pub(super) const TALL: f32 = theme::TOUCH + 10.0;

/// Three buttons side by side.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>) -> Option<Command> {
    let shear = scene.machine.shear.id.as_str();
    let what = match scene.view.bench.trend_view() {
        TrendView::Growth => "growth",
        TrendView::Signals => "signals",
        TrendView::Compare(_) => "compared",
    };
    let name = |ending: &str| format!("{shear}-{}-{what}.{ending}", scene.line.id);
    ui.add_space(8.0);
    ui.spacing_mut().item_spacing = vec2(8.0, 0.0);
    let width = (ui.available_width() - 16.0) / 3.0;
    let mut asked = None;
    ui.horizontal(|ui| {
        let mut tapped = |word| Button::plain(word).width(width).show(ui).clicked();
        if tapped(tell!("Table")) {
            asked = Some(Command::SaveTable(format!("{shear}-growth.csv")));
        }
        if tapped(tell!("Picture")) {
            asked = Some(Command::SavePicture(name("png")));
        }
        if tapped(tell!("Drawing")) {
            asked = Some(Command::SaveDrawing(name("svg")));
        }
    });
    asked
}
