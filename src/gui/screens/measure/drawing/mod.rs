//! The mouth view, the tabs of the lines, and the gap ribbon: one jaw, one scale.
//!
//! Turns the machine's own geometry into plain millimetres for the two drawings. Decides nothing.

mod mouth;
mod ribbon;

use crate::{
    brief::words,
    gui::{
        meaning::verdict_mark,
        screens::{measure::hand::Hand, outline},
        widgets::{Along, LineTab, Panel, line_tabs},
    },
    language,
    workbench::Command,
};
use egui::{Margin, Rect, Ui};

/// The share of the height that the mouth view takes.
const MOUTH: f32 = 0.51;
const TABS: f32 = 50.0;
/// The height of the ribbon in a column.
const RIBBON: f32 = 220.0;

pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let all = ui.max_rect();
    let small = all.height() < 700.0;
    let gap = if small { 6.0 } else { 8.0 };
    let top = all.with_max_y(all.top() + (all.height() * MOUTH).round());
    let tabs = Rect::from_min_max(
        egui::pos2(all.left(), top.bottom() + gap),
        egui::pos2(all.right(), top.bottom() + gap + TABS),
    );
    let below = all.with_min_y(tabs.bottom());

    let margin = Margin { top: 12, bottom: if small { 6 } else { 8 }, left: 14, right: 14 };
    let inside = top - margin;
    let along = Along::fit(inside.left(), inside.right(), outline::mm(hand.shear.geometry.reach));
    Panel::paper().margin(margin).show_at(ui, top, |ui| {
        mouth::show(ui, hand, along, asked);
    });
    let mut row = ui.new_child(egui::UiBuilder::new().id_salt("tabs").max_rect(tabs));
    line_row(&mut row, hand, asked);
    Panel::paper().margin(margin).show_at(ui, below, |ui| {
        let height = ui.available_height();
        ribbon::show(ui, hand, along, height);
    });
}

/// The same one under the other: the mouth view as high as its scale makes it.
pub(super) fn stacked(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let margin = Margin { top: 12, bottom: 6, left: 14, right: 14 };
    let reach = outline::mm(hand.shear.geometry.reach);
    Panel::paper().margin(margin).show(ui, |ui| {
        let room = ui.available_rect_before_wrap();
        let along = Along::fit(room.left(), room.right(), reach);
        mouth::show(ui, hand, along, asked);
    });
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        line_row(ui, hand, asked);
        Panel::paper().margin(margin).show(ui, |ui| {
            let room = ui.available_rect_before_wrap();
            let along = Along::fit(room.left(), room.right(), reach);
            ribbon::show(ui, hand, along, RIBBON);
        });
    });
}

fn line_row(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let lines = &hand.shear.lines;
    let texts: Vec<[String; 3]> = lines
        .iter()
        .map(|line| {
            [
                line.id.to_string(),
                words::capital(language::known(&line.place)),
                hand.telling.done(line.id),
            ]
        })
        .collect();
    let tabs: Vec<LineTab<'_>> = lines
        .iter()
        .zip(&texts)
        .map(|(line, [letter, place, done])| LineTab {
            mark: verdict_mark(hand.telling.worst(line.id)),
            letter,
            place,
            done,
        })
        .collect();
    let current = lines.iter().position(|line| line.id == hand.at.line).unwrap_or_default();
    if let Some(line) = line_tabs(ui, &tabs, current).and_then(|index| lines.get(index)) {
        let open = line.stations.iter().find(|station| !hand.telling.is_confirmed(station.id));
        let station = open.or(line.stations.first()).map(|station| station.id);
        asked.extend(station.map(Command::ChooseStation));
    }
}
