//! Every command with its keys, by where it is.

use crate::{
    gui::{
        commands::{Entry, Place, TABLE},
        theme,
        widgets::{divider, heading, paragraph},
    },
    language::{self, tell},
};
use egui::{Align, Layout, RichText, Ui};

pub(super) fn show(ui: &mut Ui) {
    paragraph(
        ui,
        tell!(
            "**Tab** goes to the next control, **Shift+Tab** to the one before, **Space** presses it. \
         What has no key here has a button on its screen."
        ),
    );
    let mut shown: Vec<Place> = Vec::new();
    for entry in TABLE {
        if !shown.contains(&entry.place) {
            shown.push(entry.place);
        }
    }
    for place in shown {
        let mut rows =
            TABLE.iter().filter(|it| it.place == place && !it.keys.is_empty()).peekable();
        if rows.peek().is_some() {
            ui.add_space(8.0);
            heading(ui, place.words(), "");
            divider(ui);
            rows.for_each(|entry| row(ui, entry));
        }
    }
}

fn row(ui: &mut Ui, entry: &Entry) {
    let t = theme::tokens(ui);
    ui.with_layout(Layout::left_to_right(Align::Min), |ui| {
        ui.allocate_ui_with_layout(
            egui::vec2(190.0, 0.0),
            Layout::left_to_right(Align::Min),
            |ui| {
                ui.set_min_width(190.0);
                let keys = RichText::new(entry.keys_in_words()).font(theme::body_bold());
                ui.label(keys.color(t.ink));
            },
        );
        let words = RichText::new(language::told(entry.words)).font(theme::body()).color(t.ink);
        ui.add(egui::Label::new(words).wrap());
    });
}
