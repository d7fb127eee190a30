//! Where the yard lies, how to open another one, and its tables in and out.
//!
//! One field takes a path for all of them: where a dialog cannot be had, it can be typed.

use crate::{
    gui::{
        paint,
        screens::View,
        theme,
        widgets::{Button, Panel, say, touch},
    },
    language::{self, sentence, tell},
    workbench::{Command, Screen, Setup, SetupPage},
};
use egui::{Align2, Id, Key, Margin, Sense, TextEdit, Ui, vec2};
use std::path::PathBuf;

/// The height of the strip at the foot of the screen.
pub(super) const HEIGHT: f32 = 68.0;
const NAME: &str = sentence!("path of a yard's folder");

/// In one strip, as high as the room.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, asked: &mut Vec<Command>) {
    let rect = ui.max_rect();
    Panel::paper().margin(Margin::symmetric(16, 12)).show_at(ui, rect, |ui| {
        ui.horizontal_centered(|ui| {
            let field_wide = (rect.width() * 0.22).clamp(150.0, 330.0);
            let room = (ui.available_width() - field_wide - 510.0).max(0.0);
            kept_in(ui, view, room);
            other_yards(ui, asked);
            path(ui, field_wide, asked);
        });
    });
}

/// In a column: the path, and the buttons below it in as many rows as they need.
pub(super) fn stacked(ui: &mut Ui, view: &View<'_>, asked: &mut Vec<Command>) {
    Panel::paper().margin(Margin::symmetric(16, 12)).show(ui, |ui| {
        let width = ui.available_width();
        kept_in(ui, view, width);
        ui.horizontal(|ui| other_yards(ui, asked));
        ui.horizontal_wrapped(|ui| path(ui, width, asked));
    });
}

fn kept_in(ui: &mut Ui, view: &View<'_>, room: f32) {
    let t = theme::tokens(ui);
    let (cell, _) = ui.allocate_exact_size(vec2(room, theme::TOUCH), Sense::hover());
    let path = view.root.display().to_string();
    let caption = pos(cell, -10.0);
    let words = tell!("This yard is kept in");
    ui.painter().text(caption, Align2::LEFT_CENTER, words, theme::caption(), t.ink3);
    let galley = paint::fitted(ui.painter(), path.as_str(), theme::body_bold(), t.ink, room);
    paint::place(ui.painter(), pos(cell, 9.0), Align2::LEFT_CENTER, galley);
    say(ui, cell, "folder", &tell!("this yard is kept in {path}", path));
}

fn other_yards(ui: &mut Ui, asked: &mut Vec<Command>) {
    if Button::plain(tell!("New…")).width(72.0).show(ui).clicked() {
        asked.push(Command::Go(Screen::Setup));
        asked.push(Command::Setup(Setup::Page(SetupPage::Start)));
    }
    if Button::plain(tell!("Open a yard…")).width(132.0).show(ui).clicked() {
        asked.push(Command::ChooseYardFolder);
    }
}

/// The field for a path, and what can be done with one.
fn path(ui: &mut Ui, width: f32, asked: &mut Vec<Command>) {
    let state = Id::unique("typed yard folder");
    let mut typed: String = ui.data(|data| data.get_temp(state)).unwrap_or_default();
    let id = Id::unique("typed yard folder field");
    let edit = TextEdit::singleline(&mut typed)
        .id(id)
        .hint_text(tell!("or type a path"))
        .margin(Margin::symmetric(10, 10))
        .align(egui::Align2::LEFT_CENTER)
        .min_size(vec2(width, theme::TOUCH))
        .desired_width(width);
    let field = ui.name_inputs(language::told(NAME), |ui| ui.add(edit));
    ui.ctx().accesskit_node_builder(id, |node| node.set_label(language::told(NAME)));
    touch::follow(ui, &field, field.rect);
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    let ready = !typed.trim().is_empty();
    let tapped = Button::plain(tell!("Open")).enabled(ready).width(72.0).show(ui).clicked();
    if ready && (tapped || entered) {
        asked.push(Command::OpenYard(PathBuf::from(typed.trim())));
    }
    let path = ready.then(|| PathBuf::from(typed.trim()));
    if Button::plain(tell!("Import…")).width(86.0).show(ui).clicked() {
        asked.push(Command::ImportTable(path.clone()));
    }
    if Button::plain(tell!("Export…")).width(86.0).show(ui).clicked() {
        asked.push(Command::ExportTables(path));
    }
    ui.data_mut(|data| data.insert_temp(state, typed));
}

fn pos(cell: egui::Rect, below_middle: f32) -> egui::Pos2 {
    egui::pos2(cell.left(), cell.center().y + below_middle)
}
