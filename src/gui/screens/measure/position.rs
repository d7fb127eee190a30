//! Before the jaw moves: people clear, move, lock out, block. One big button says it is done.

use crate::{
    brief::{
        caution::{ADVICE_ONLY, BEFORE_REACHING_IN, Caution, MOVE_THE_JAW},
        service::reminder,
    },
    domain::decide::service,
    gui::{
        marks::Icon,
        meaning::caution_icon,
        screens::measure::{Room, hand::Hand, temps},
        theme,
        widgets::{Button, CautionTile, heading, paragraph},
    },
    language::{self, tell},
    workbench::Command,
};
use egui::{RichText, Ui};

pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, room: Room, asked: &mut Vec<Command>) {
    let t = theme::tokens(ui);
    let on = ui;
    heading(on, tell!("Move the jaw"), "");
    let position = hand.shear.positions.get(hand.line.position);
    let words = position.map_or("", |position| language::known(&position.words));
    on.label(RichText::new(format!("{words}.")).font(theme::panel_title()).color(t.ink));
    paragraph(on, &tell!("Then measure {hand}.", hand = stations(hand)));
    let yard = hand.view.bench.yard();
    let due = yard.machine(&hand.shear.id).and_then(|machine| {
        let items = service(machine, &yard.settings, hand.view.now);
        reminder(&items, hand.shear, &yard.settings)
    });
    if let Some(due) = due {
        on.label(RichText::new(due).font(theme::body_bold()).color(t.watch));
    }
    on.add_space(room.pick([0.0, 4.0, 8.0]));
    on.label(RichText::new(language::told(MOVE_THE_JAW)).font(theme::body_bold()).color(t.ink));
    tiles(on);
    if room == Room::Full {
        for caution in BEFORE_REACHING_IN {
            on.label(
                RichText::new(language::told(caution.sentence)).font(theme::chip()).color(t.ink2),
            );
        }
    }
    temps::show_jaws_and_air(on, hand, asked);
    on.label(RichText::new(language::told(ADVICE_ONLY)).font(theme::caption()).color(t.ink3));
}

pub(super) fn buttons(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 12.0;
        if hand.previous().is_some() {
            let back = Button::plain(tell!("Back")).before(Icon::Back).width(92.0).height(62.0);
            if back.show(ui).clicked() {
                asked.push(Command::PreviousStation);
            }
        }
        let width = ui.available_width();
        let done = Button::primary(tell!("Locked and blocked"))
            .detail(tell!("people clear, jaw moved: measure"));
        if done.width(width).height(62.0).show(ui).clicked() {
            asked.push(Command::PositionReached);
        }
    });
}

/// Six tiles, two in a row, or three where the window is low.
pub(in crate::gui::screens) fn tiles(ui: &mut Ui) {
    let tile = |caution: &Caution| {
        let icon = caution_icon(caution.sign);
        let [words, detail] = [caution.title, caution.detail].map(language::told);
        CautionTile { icon, words, detail }
    };
    let tiles = BEFORE_REACHING_IN.each_ref().map(tile);
    for row in tiles.chunks(if theme::is_low(ui.ctx()) { 3 } else { 2 }) {
        CautionTile::show_row(row, ui);
    }
}

/// The stations measured in this position: `P1 to P4`.
fn stations(hand: &Hand<'_>) -> String {
    let parts: Vec<String> = hand
        .shear
        .lines
        .iter()
        .filter(|line| line.position == hand.line.position)
        .filter_map(|line| {
            let (first, last) = (line.stations.first()?.id, line.stations.last()?.id);
            Some(if first == last {
                first.to_string()
            } else {
                tell!("{first} to {last}", first, last)
            })
        })
        .collect();
    parts.join(", ")
}
