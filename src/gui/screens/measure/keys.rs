//! The keyboard of a walk along the stations.
//!
//! Takes its keys before the entry field sees them, and leaves every other screen part alone while
//! it has the keyboard: Tab, Space and Enter work there as everywhere.

use crate::{
    gui::{
        commands::{self, Name, pressed},
        screens::measure::{
            hand::{Hand, Step},
            marks, seen,
            temps::Part,
            uncertainty, weld,
        },
        widgets::{Entry, STACK, Step as WidgetStep},
    },
    language::sentence,
    workbench::Command,
};
use egui::{Event, Id, Key, Ui};

/// The one field that is typed into while a station is in hand.
pub(super) const FIELD: Entry<'static> = Entry {
    caption: sentence!("Stack in the gap"),
    unit: "mm",
    name: STACK,
    hint: "",
    wrong: false,
};

/// Whether the field had the keyboard in the frame before.
fn came_from_field(ui: &Ui) -> bool {
    ui.data(|data| data.get_temp(Id::unique("keyboard was in the field"))).unwrap_or(true)
}

/// Takes the keys that mean something here.
pub(super) fn take(ui: &Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let focused = ui.memory(egui::Memory::focused);
    if hand.signing {
        // The arrows go from field to field here.
        if commands::only(ui, Name::PreviousStation, Key::PageUp) {
            asked.push(Command::PreviousStation);
        }
        return;
    }
    if marks::is_open(ui) || weld::is_open(ui) {
        // Their fields take digits of their own, and a letter is taken back by the field itself.
        if focused.is_none() {
            walk(ui, hand, asked);
        }
        return;
    }
    walk(ui, hand, asked);
    if hand.must_move {
        if focused.is_none() && pressed(ui, Name::SayNext) {
            asked.push(Command::PositionReached);
        }
        return;
    }
    lead_digits_home(ui, hand, focused, asked);
    beside_the_field(ui, hand, asked);
    if focused.is_none_or(|id| id == FIELD.id()) {
        answers(ui, hand, asked);
        if pressed(ui, Name::SayNext) {
            asked.push(if hand.step() == Step::GoOn {
                Command::NextStation
            } else {
                Command::Confirm
            });
        }
        // Escape takes the keyboard from whatever had it before we are asked; only in the field
        // does it mean to start over.
        if came_from_field(ui) && !seen::is_open(ui) && pressed(ui, Name::ClearEntry) {
            asked.push(Command::ClearEntry);
        }
        if focused.is_none() {
            ui.memory_mut(|memory| memory.request_focus(FIELD.id()));
        }
    }
    let field = focused.is_none_or(|id| id == FIELD.id());
    ui.data_mut(|data| data.insert_temp(Id::unique("keyboard was in the field"), field));
}

fn walk(ui: &Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let field = ui.memory(|memory| memory.focused().is_none_or(|id| id == FIELD.id()));
    // The arrows walk only from the field: elsewhere they belong to what has the keyboard.
    let along = |name, key| {
        if field { pressed(ui, name) } else { commands::only(ui, name, key) }
    };
    if along(Name::NextStation, Key::PageDown) {
        asked.push(Command::NextStation);
    }
    if along(Name::PreviousStation, Key::PageUp) {
        asked.push(Command::PreviousStation);
    }
    if pressed(ui, Name::StartOver) {
        asked.push(Command::StartOver);
    }
    // A number that is being typed is taken back letter by letter, by the field itself.
    if !hand.entry.text.is_empty() {
        return;
    }
    if pressed(ui, Name::Redo) {
        asked.push(Command::Redo);
    }
    if pressed(ui, Name::Undo) {
        asked.push(Command::Undo);
    }
}

/// What is seen, how warm the blades are, how sure the reading is.
fn beside_the_field(ui: &Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    if pressed(ui, Name::Seen) {
        if seen::is_open(ui) { seen::close(ui) } else { seen::open(ui) }
    }
    if pressed(ui, Name::Budget) && hand.felt.is_some() {
        uncertainty::open(ui);
    }
    for (name, way) in
        [(Name::BladeColder, WidgetStep::Less), (Name::BladeWarmer, WidgetStep::More)]
    {
        if pressed(ui, name) {
            asked.push(Part::Blades.stepped(hand, way));
        }
    }
}

/// It goes, or it does not. Only straight after a number or with leaves in hand, so that units and
/// words can be typed like anything else.
fn answers(ui: &Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let text = hand.entry.text.trim_end();
    let number = text.ends_with(|c: char| c.is_ascii_digit() || c == '.' || c == ',');
    if !number && hand.stack().is_none() {
        return;
    }
    for (name, command) in [(Name::Goes, Command::Goes), (Name::DoesNotGo, Command::DoesNotGo)] {
        if pressed(ui, name) {
            asked.push(command);
        }
    }
}

/// A digit typed while a leaf or a button has the keyboard goes to the field all the same.
fn lead_digits_home(ui: &Ui, hand: &Hand<'_>, focused: Option<Id>, asked: &mut Vec<Command>) {
    if focused.is_none_or(|id| id == FIELD.id()) {
        return;
    }
    let digits: String = ui.input(|input| {
        let typed = input.events.iter().filter_map(|event| match event {
            Event::Text(text) => Some(text.as_str()),
            _ => None,
        });
        typed.filter(|text| text.starts_with(|c: char| c.is_ascii_digit() || c == '.')).collect()
    });
    if !digits.is_empty() {
        asked.push(Command::Type(format!("{}{digits}", hand.entry.text)));
        ui.memory_mut(|memory| memory.request_focus(FIELD.id()));
    }
}
