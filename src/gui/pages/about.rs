//! What this program is, what it is not, and whose work is in it.

use crate::{
    brief::caution,
    gui::widgets::{divider, focus_ring, heading, paragraph},
    language::{self, sentence, tell},
};
use egui::{CollapsingHeader, Ui};

/// Each crate in the program: name, version, licence. Made from `Cargo.lock` by a test.
const CRATES: &str = include_str!("../../../assets/licences/crates.txt");

/// The licences that stand in the program whole.
const WHOLE: [(&str, &str); 4] = [
    (sentence!("Gapwright: MIT"), include_str!("../../../LICENSE-MIT")),
    (sentence!("Gapwright: Apache 2.0"), include_str!("../../../LICENSE-APACHE")),
    (sentence!("Typeface B612"), include_str!("../../../assets/fonts/B612-licence.txt")),
    (sentence!("Typeface DejaVu Sans"), include_str!("../../../assets/fonts/DejaVu-licence.txt")),
];

pub(super) fn show(ui: &mut Ui) {
    heading(ui, &tell!("Gapwright {version}", version = env!("CARGO_PKG_VERSION")), "");
    paragraph(ui, env!("CARGO_PKG_DESCRIPTION"));
    heading(ui, tell!("Safety"), "");
    paragraph(ui, language::told(caution::ADVICE_ONLY));
    for it in &caution::BEFORE_REACHING_IN {
        paragraph(ui, language::told(it.sentence));
    }
    divider(ui);
    heading(ui, tell!("Licences"), "");
    paragraph(
        ui,
        tell!(
            "Gapwright is free software, under the MIT or the Apache 2.0 licence as you choose. It is \
         set in B612 and DejaVu Sans, which are inside the program."
        ),
    );
    for (title, text) in WHOLE {
        folded(ui, language::told(title), text);
    }
    let count = CRATES.lines().count();
    folded(ui, &tell!("{count} crates of others, each with its licence", count), CRATES);
}

fn folded(ui: &mut Ui, title: &str, text: &str) {
    let shown = CollapsingHeader::new(title).id_salt(title).show(ui, |ui| {
        // Piece by piece: one label of a thousand lines costs more than the page.
        for line in text.lines() {
            ui.label(line);
        }
    });
    focus_ring(ui, &shown.header_response, shown.header_response.rect, 4.0);
}
