//! What stands around every screen: the notice that must be read.

use crate::{
    gui::theme,
    language::tell,
    workbench::{Command, Notice},
};
use egui::{Frame, RichText, Ui};

/// The newest notice, with a button that puts it away.
pub(crate) fn notice(ui: &mut Ui, notice: Option<&Notice>) -> Option<Command> {
    let notice = notice?;
    let t = theme::tokens(ui);
    let (fill, edge) = if notice.grave { (t.stop_tint, t.stop) } else { (t.watch_tint, t.watch) };
    let mut asked = None;
    Frame::NONE
        .fill(fill)
        .stroke(egui::Stroke::new(1.5, edge))
        .corner_radius(theme::RADIUS)
        .inner_margin(12)
        .show(ui, |ui| {
            ui.horizontal(|ui| {
                let width = ui.available_width() - 120.0;
                ui.vertical(|ui| {
                    ui.set_width(width);
                    ui.label(RichText::new(&notice.fact).font(theme::body_bold()).color(t.ink));
                    if !notice.next.is_empty() {
                        ui.label(RichText::new(&notice.next).font(theme::body()).color(t.ink));
                    }
                });
                if ui.button(tell!("Understood")).clicked() {
                    asked = Some(Command::DismissNotice);
                }
            });
        });
    ui.add_space(8.0);
    asked
}
