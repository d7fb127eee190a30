//! What to do with each blade.

use crate::{gui::screens::View, workbench::Command};

/// Paints the screen.
pub(crate) fn ui(ui: &mut egui::Ui, view: &View<'_>) -> Vec<Command> {
    ui.label(view.bench.machine().map_or("", |machine| &machine.shear.name));
    Vec::new()
}
