//! The budget of the reading in hand, term by term, for whoever asks or teaches.

use crate::{
    brief::leaves,
    gui::{
        screens::{
            budget,
            measure::{hand::Hand, temps},
        },
        widgets::{Button, heading, paragraph},
    },
    language::tell,
    workbench::Command,
};
use egui::{Id, Ui};

fn page() -> Id {
    Id::unique("uncertainty of the reading in hand")
}

/// Whether the budget is in front.
pub(super) fn is_open(ui: &Ui) -> bool {
    ui.data(|data| data.get_temp(page())).unwrap_or(false)
}

/// Brings the budget to the front.
pub(super) fn open(ui: &Ui) {
    ui.data_mut(|data| data.insert_temp(page(), true));
}

fn close(ui: &Ui) {
    ui.data_mut(|data| data.remove::<bool>(page()));
}

/// The budget, the temperatures that go into it, and the way back.
pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    heading(ui, &tell!("How sure {at} is", at = hand.at), "");
    let gap = hand.felt.as_ref().map(|(_, gap)| (&gap.cold, &gap.verdict));
    budget::show(ui, hand.view, gap);
    temps::show_jaws_and_air(ui, hand, asked);
    let notice = hand.leaves.and_then(|set| leaves::due_notice(set, hand.view.now));
    if let Some(notice) = notice {
        paragraph(ui, &notice);
    }
    let width = ui.available_width();
    let escape = ui.input(|input| input.key_pressed(egui::Key::Escape));
    if Button::plain(tell!("Back to the leaves")).width(width).show(ui).clicked() || escape {
        close(ui);
    }
}
