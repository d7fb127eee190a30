//! How the lines were chosen: every model that was tried, with its score, on demand.

use crate::{
    brief::signal,
    domain::trend::Fit,
    gui::{
        theme,
        widgets::{Button, paragraph, touch},
    },
    language::{self, tell},
};
use egui::{Align2, FontId, Rect, Sense, Ui, pos2, vec2};

/// Shows a button, and the table once it was pressed.
pub(super) fn show(ui: &mut Ui, fit: &Fit) {
    let id = ui.make_persistent_id("models tried");
    let mut open = ui.data(|data| data.get_temp::<bool>(id)).unwrap_or(false);
    let word =
        if open { tell!("Hide how lines were chosen") } else { tell!("How lines were chosen") };
    let width = ui.available_width();
    if Button::plain(word).width(width).show(ui).clicked() {
        open = !open;
        ui.data_mut(|data| data.insert_temp(id, open));
    }
    if !open {
        return;
    }
    ui.add_space(4.0);
    let head = ["", tell!("numbers"), tell!("ln L"), "AICc"].map(str::to_owned);
    line(ui, &head, &theme::chip());
    for tried in &fit.tried {
        let chosen = tried.model == fit.model;
        let font = if chosen { theme::chip_bold() } else { theme::chip() };
        let cells = signal::candidate(tried);
        let rect = line(ui, &cells, &font);
        let [name, .., score] = cells;
        let said = if chosen { tell!("chosen") } else { tell!("not chosen") };
        touch::say(
            ui,
            rect,
            ("tried", &name),
            &tell!("{name}: score {score}, {said}", name, score, said),
        );
    }
    ui.add_space(4.0);
    paragraph(ui, language::told(signal::HOW_CHOSEN));
}

fn line(ui: &mut Ui, cells: &[String; 4], font: &FontId) -> Rect {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 24.0), Sense::hover());
    let ink = if *font == theme::chip_bold() { t.ink } else { t.ink2 };
    let middle = rect.center().y;
    let rights = [rect.right() - 116.0, rect.right() - 60.0, rect.right()];
    let [name, numbers @ ..] = cells;
    let room = rights[0] - rect.left() - 44.0;
    let name_of = crate::gui::paint::fitted(ui.painter(), name.as_str(), font.clone(), ink, room);
    let at = pos2(rect.left(), middle);
    crate::gui::paint::place(ui.painter(), at, Align2::LEFT_CENTER, name_of);
    for (words, x) in numbers.iter().zip(rights) {
        ui.painter().text(pos2(x, middle), Align2::RIGHT_CENTER, words, font.clone(), ink);
    }
    rect
}
