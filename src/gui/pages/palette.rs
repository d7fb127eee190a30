//! A command by typing a part of its name.
//!
//! Offers what the table has for the screen in front, every machine, and every station while one is
//! measured. Up and Down choose, Enter does it, and so does a tap.

use crate::{
    gui::{
        commands::{self, Deed, Name, Place, TABLE},
        pages::Sight,
        paint, theme,
        widgets::{Spoken, focus_ring, paragraph, tap},
    },
    language::{self, tell},
    workbench::{Command, Screen},
};
use egui::{
    Align2, Id, Margin, Rect, Response, ScrollArea, Sense, Stroke, StrokeKind, TextEdit, Ui,
    accesskit::Role, vec2,
};

#[derive(Clone, Copy, PartialEq, Eq)]
enum Row {
    Chosen,
    Other,
}

struct Offer {
    words: String,
    keys: String,
    deed: Deed,
}

/// Where what was typed and the chosen row lie from frame to frame.
fn kept() -> Id {
    Id::unique("palette")
}

/// The next palette starts empty.
pub(crate) fn forget(ctx: &egui::Context) {
    ctx.data_mut(|data| data.remove::<(String, usize)>(kept()));
}

pub(super) fn show(ui: &mut Ui, sight: &Sight<'_>, asked: &mut Vec<Deed>) {
    let kept = kept();
    let (mut typed, mut at): (String, usize) =
        ui.data(|data| data.get_temp(kept)).unwrap_or_default();
    let up = commands::pressed(ui, Name::RowAbove);
    let down = commands::pressed(ui, Name::RowBelow);
    let enter = commands::pressed(ui, Name::RunRow);
    if field(ui, &mut typed) {
        at = 0;
    }
    let offers: Vec<Offer> =
        offers(sight).into_iter().filter(|it| fits(&it.words, &typed)).collect();
    if up {
        at = at.saturating_sub(1);
    }
    if down {
        at += 1;
    }
    at = at.min(offers.len().saturating_sub(1));
    let mut done = if enter { offers.get(at) } else { None };
    ui.add_space(8.0);
    if offers.is_empty() {
        let none =
            tell!("No command has “{typed}” in its name. Type less of it.", typed = typed.trim());
        paragraph(ui, &none);
    }
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 4.0;
        for (index, offer) in offers.iter().enumerate() {
            let here = if index == at { Row::Chosen } else { Row::Other };
            let (rect, response) = row(ui, offer, here);
            if response.clicked() {
                done = Some(offer);
            }
            if index == at && (up || down) {
                ui.scroll_to_rect(rect, None);
            }
        }
    });
    if let Some(offer) = done {
        // First the way back, so that a command that opens another page has the last word.
        asked.push(Deed::Close);
        asked.push(offer.deed.clone());
    }
    ui.data_mut(|data| data.insert_temp(kept, (typed, at)));
}

/// The field for it, which has the keyboard from the start; whether its text changed.
fn field(ui: &mut Ui, typed: &mut String) -> bool {
    let t = theme::tokens(ui);
    let id = Id::unique("palette field");
    let width = ui.available_width();
    let edit = TextEdit::singleline(typed)
        .id(id)
        .font(theme::value())
        .hint_text(tell!("a part of its name, such as: next"))
        .text_color(t.ink)
        .margin(Margin::symmetric(12, 10))
        .align(Align2::LEFT_CENTER)
        .min_size(vec2(width, theme::TOUCH))
        .desired_width(width);
    let response = ui.name_inputs(tell!("name of a command"), |ui| ui.add(edit));
    ui.ctx().accesskit_node_builder(id, |node| node.set_label(tell!("name of a command")));
    if ui.memory(|memory| memory.focused().is_none()) {
        response.request_focus();
    }
    response.changed()
}

fn offers(sight: &Sight<'_>) -> Vec<Offer> {
    let bench = sight.bench;
    let screen = bench.screen();
    let here = |place: Place| place == Place::Window || place == Place::On(screen);
    let listed = TABLE.iter().filter(|it| here(it.place) && it.name != Name::Palette);
    let mut offers: Vec<Offer> = listed
        .filter_map(|it| {
            let deed = commands::deed(it.name, bench)?;
            Some(Offer {
                words: language::told(it.words).to_owned(),
                keys: it.keys_in_words(),
                deed,
            })
        })
        .collect();
    let mut offer = |words: String, command: Command| {
        offers.push(Offer { words, keys: String::new(), deed: Deed::Ask(command) });
    };
    for machine in &bench.yard().machines {
        let shear = &machine.shear;
        offer(
            tell!("Machine {shear}", shear = shear.name),
            Command::ChooseMachine(shear.id.clone()),
        );
    }
    if let (Screen::Measure, Some(machine)) = (screen, bench.machine()) {
        for station in machine.shear.walk() {
            offer(tell!("Station {station}", station), Command::ChooseStation(station));
        }
    }
    offers
}

/// Every word that was typed stands somewhere in the name.
fn fits(words: &str, typed: &str) -> bool {
    let words = words.to_lowercase();
    typed.to_lowercase().split_whitespace().all(|part| words.contains(part))
}

/// Where the row is, and its answer.
fn row(ui: &mut Ui, offer: &Offer, row: Row) -> (Rect, Response) {
    let chosen = row == Row::Chosen;
    let t = theme::tokens(ui);
    let size = vec2(ui.available_width(), theme::TOUCH);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let id = ui.make_persistent_id(("offer", &offer.words));
    let spoken = Spoken { role: Role::Button, ..Spoken::one_of(&offer.words, chosen) };
    let response = tap(ui, rect, id, &spoken.with(&offer.keys));
    let (fill, edge) = if chosen {
        (t.accent_tint, Stroke::new(theme::CHOSEN, t.accent))
    } else {
        (t.field, Stroke::new(1.0, if response.hovered() { t.ink2 } else { t.edge }))
    };
    let painter = ui.painter();
    painter.rect(rect, theme::RADIUS, fill, edge, StrokeKind::Inside);
    let keys = painter.layout_no_wrap(offer.keys.clone(), theme::chip(), t.ink2);
    let room = rect.width() - keys.size().x - 42.0;
    let words = paint::fitted(painter, offer.words.as_str(), theme::body_bold(), t.ink, room);
    paint::place(painter, rect.left_center() + vec2(14.0, 0.0), Align2::LEFT_CENTER, words);
    paint::place(painter, rect.right_center() - vec2(14.0, 0.0), Align2::RIGHT_CENTER, keys);
    focus_ring(ui, &response, rect, 4.0);
    (rect, response)
}

#[test]
fn any_part_of_a_name_finds_it() {
    for typed in ["", "next", "ST NE", "station"] {
        assert!(fits("Next station", typed), "{typed}");
    }
    assert!(!fits("Next station", "previous"));
}
