//! Both files as text, to be read, copied and edited.
//!
//! What is edited is read as strictly as a file, and only then becomes the draft.

use crate::{
    gui::{
        fonts,
        screens::setup::step,
        theme,
        widgets::{Button, paragraph, segmented},
    },
    language::{self, sentence, tell},
    store,
    workbench::{Command, Setup, SetupDesk, TextOf},
};
use egui::{FontId, Id, ScrollArea, TextEdit, Ui};

/// The height of the text in a column.
const IN_A_COLUMN: f32 = 320.0;
const NAME: &str = sentence!("the file as text");

pub(super) fn show(ui: &mut Ui, desk: &SetupDesk, asked: &mut Vec<Command>) {
    let parts: &[&str] =
        if desk.draft().shear.is_some() { &["shear.ron", "yard.ron"] } else { &["yard.ron"] };
    let which = if parts.len() == 1 { TextOf::Yard } else { desk.text_of };
    ui.horizontal_wrapped(|ui| {
        let on = usize::from(which == TextOf::Yard).min(parts.len() - 1);
        if let Some(place) = segmented(ui, tell!("file"), parts, on) {
            let of = if place + 1 == parts.len() { TextOf::Yard } else { TextOf::Shear };
            asked.push(step(Setup::Text(of)));
        }
        let edited = desk.text.is_some();
        if Button::plain(tell!("Take the text in")).enabled(edited).show(ui).clicked() {
            asked.push(step(Setup::TakeText));
        }
        if edited && Button::quiet(tell!("Leave it")).show(ui).clicked() {
            asked.push(step(Setup::Text(which)));
        }
    });
    if let Some(fault) = &desk.text_fault {
        let t = theme::tokens(ui);
        ui.label(egui::RichText::new(fault).font(theme::body_bold()).color(t.stop));
    }
    let shown = match (&desk.text, desk.finished()) {
        (Some(text), _) => Ok(text.clone()),
        (None, Ok(finished)) => match (which, &finished.shear) {
            (TextOf::Shear, Some(shear)) => store::shear_text(shear),
            _ => store::settings_text(&finished.settings),
        },
        (None, Err(_)) => {
            paragraph(ui, tell!("Mend what stands at the side first: then it is a file."));
            return;
        }
    };
    let mut text = match shown {
        Ok(text) => text,
        Err(issue) => {
            paragraph(
                ui,
                &format!(
                    "{}: {}.",
                    language::understood(&issue.what),
                    language::understood(&issue.next)
                ),
            );
            return;
        }
    };
    // Lines of a file are not broken, so in a column, too, they scroll by themselves.
    let room = ui.available_height();
    let tall = if room.is_finite() { room } else { IN_A_COLUMN };
    let area = ScrollArea::both().id_salt("text").auto_shrink(false).max_height(tall);
    area.show(ui, |ui| {
        let id = Id::unique(NAME);
        let edit = TextEdit::multiline(&mut text)
            .id(id)
            .font(FontId::new(13.0, fonts::regular()))
            .desired_width(f32::INFINITY)
            .desired_rows(24);
        let response = ui.name_inputs(language::told(NAME), |ui| ui.add(edit));
        ui.ctx().accesskit_node_builder(id, |node| node.set_label(language::told(NAME)));
        if response.changed() {
            asked.push(step(Setup::TypeText(text)));
        }
    });
}
