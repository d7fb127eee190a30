//! A field that takes words or a number on a page of its own.
//!
//! Knows its looks and its name. What was typed is the caller's.

use crate::gui::{theme, widgets::touch};
use egui::{Align2, Id, Margin, Response, TextEdit, Ui, vec2};

/// Shows the field at the width at hand; its name says what it takes.
pub(super) fn show(ui: &mut Ui, name: &str, hint: &str, text: &mut String) -> Response {
    let t = theme::tokens(ui);
    let width = ui.available_width();
    let id = Id::unique(("field", name));
    let edit = TextEdit::singleline(text)
        .id(id)
        .font(theme::value())
        .text_color(t.ink)
        .hint_text(hint)
        .margin(Margin::symmetric(12, 10))
        .align(Align2::LEFT_CENTER)
        .min_size(vec2(width, theme::TOUCH))
        .desired_width(width);
    let response = ui.name_inputs(name, |ui| ui.add(edit));
    ui.ctx().accesskit_node_builder(id, |node| node.set_label(name));
    touch::follow(ui, &response, response.rect);
    response
}
