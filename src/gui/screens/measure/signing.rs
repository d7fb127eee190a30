//! Signing off: what is missing, the meter and its counters, the initials, and one button.

use crate::{
    brief::{fault, measure::summary, numbers},
    domain::log::{Counted, SessionId, SignFault},
    gui::{
        marks::Icon,
        screens::measure::{entry_card::fault_box, hand::Hand, meter_change},
        theme,
        widgets::{Button, heading, paragraph, scrolls, section, touch},
    },
    language::{self, sentence, tell},
    workbench::{Command, Visit},
};
use egui::{Id, Key, Margin, Modifiers, ScrollArea, TextEdit, Ui, vec2};

const FIELDS: [&str; 5] = [
    sentence!("hour meter"),
    sentence!("tonnes"),
    sentence!("cuts"),
    sentence!("initials"),
    sentence!("note"),
];
const METER: usize = 0;
const INITIALS: usize = 3;
const NOTE: usize = 4;
/// The counters, each with its place among the fields and its name.
const COUNTERS: [(Counted, usize, &str); 2] = [
    (Counted::Tonnes, 1, sentence!("Tonnes, if counted")),
    (Counted::Cuts, 2, sentence!("Cuts, if counted")),
];

pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let Some(visit) = hand.visit else { return };
    if enter(ui, &visit.session.id) {
        asked.push(Command::SignOff);
    }
    // Where a refusal and a form make the card longer than the window, it scrolls.
    scrolls(ui, ScrollArea::vertical(), |ui| fields(ui, hand, visit, asked));
}

pub(super) fn buttons(ui: &mut Ui, asked: &mut Vec<Command>) {
    let height = ui.available_height();
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 12.0;
        let back = Button::plain(tell!("Back")).detail(tell!("to the stations")).before(Icon::Back);
        if back.width(150.0).height(height).show(ui).clicked() {
            asked.push(Command::PreviousStation);
        }
        let width = ui.available_width();
        let sign = Button::primary(tell!("Sign off")).after(Icon::Check);
        if sign.width(width).height(height).show(ui).clicked() {
            asked.push(Command::SignOff);
        }
    });
}

fn fields(ui: &mut Ui, hand: &Hand<'_>, visit: &Visit, asked: &mut Vec<Command>) {
    heading(ui, tell!("Ready to sign"), tell!("written once, for good"));
    paragraph(ui, &summary(&hand.telling));
    missing(ui, hand, asked);
    if let Some(wrong) = &visit.sign_fault {
        fault_box(ui, &fault::sign(wrong, hand.view.numbers));
        let behind = matches!(wrong, SignFault::ClockBehind { .. });
        if behind && Button::plain(tell!("This clock is right: sign after it")).show(ui).clicked() {
            asked.push(Command::SignAfterTheLast);
        }
        if let SignFault::CounterBackwards { counted, .. } = wrong
            && Button::plain(tell!("It is a new counter: sign with it")).show(ui).clicked()
        {
            asked.push(Command::SignWithNew(*counted));
        }
    }
    meter_change::show(ui, hand, visit, asked);
    let last = hand.machine.history.last();
    let hint = last.map_or(String::new(), |it| {
        tell!("last time {meter_after}", meter_after = numbers::meter(it.meter_after()))
    });
    if let Some(text) = field(ui, METER, (tell!("Hour meter"), &hint), &visit.meter_text) {
        asked.push(Command::TypeMeter(text));
    }
    counters(ui, hand, visit, asked);
    let into = number_in_hand(ui, &visit.session.id);
    let counter = COUNTERS.into_iter().find(|(_, place, _)| *place == into);
    let text = counter.map_or(&*visit.meter_text, |(counted, ..)| visit.counters.get(counted));
    if let Some(text) = keypad(ui, text) {
        asked.push(match counter {
            Some((counted, ..)) => Command::TypeCounter(counted, text),
            None => Command::TypeMeter(text),
        });
    }
    let by = &visit.session.by;
    if let Some(text) = field(ui, INITIALS, (tell!("Your initials"), tell!("who did it")), by) {
        asked.push(Command::TypeInitials(text));
    }
    // Who signed lately: one tap instead of a keyboard.
    let known = hand.view.bench.yard().signed_by();
    ui.horizontal(|ui| {
        for initials in known.into_iter().take(4) {
            if Button::plain(initials).width(62.0).show(ui).clicked() {
                asked.push(Command::TypeInitials(initials.to_owned()));
            }
        }
    });
    let note = (tell!("Note"), tell!("anything else worth keeping"));
    if let Some(text) = field(ui, NOTE, note, &visit.session.note) {
        asked.push(Command::TypeNote(text));
    }
}

/// So many stations that are not measured are a tap away; the rest follow as these are measured.
const MISSING_MOST: usize = 5;

/// A button for each station that is not measured, in walking order, which goes there.
fn missing(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let walk = hand.shear.walk();
    let missing = walk.into_iter().filter(|station| !hand.telling.is_confirmed(*station));
    ui.horizontal(|ui| {
        for station in missing.take(MISSING_MOST) {
            if Button::plain(&station.to_string()).width(56.0).show(ui).clicked() {
                asked.push(Command::ChooseStation(station));
            }
        }
    });
}

/// Tonnes and cuts side by side, for machines that count them.
fn counters(ui: &mut Ui, hand: &Hand<'_>, visit: &Visit, asked: &mut Vec<Command>) {
    ui.columns(COUNTERS.len(), |columns| {
        for (ui, (counted, place, title)) in columns.iter_mut().zip(COUNTERS) {
            let mut sessions = hand.machine.history.sessions.iter().rev();
            let last = sessions.find_map(|it| it.counters.of(counted));
            let hint = last
                .map_or(String::new(), |last| tell!("last {count}", count = numbers::count(last)));
            let text = visit.counters.get(counted);
            if let Some(text) = field(ui, place, (language::told(title), &hint), text) {
                asked.push(Command::TypeCounter(counted, text));
            }
        }
    });
}

/// The place of the number field that had the keyboard last: the one a tapped figure goes to.
fn number_in_hand(ui: &Ui, visit: &SessionId) -> usize {
    let key = Id::unique(("number in hand", visit));
    let focused = ui.memory(egui::Memory::focused);
    let place = FIELDS.iter().position(|name| Some(id(name)) == focused);
    ui.data_mut(|data| {
        if let Some(place) = place {
            data.insert_temp(key, if place < INITIALS { place } else { METER });
        }
        data.get_temp(key).unwrap_or(METER)
    })
}

/// Figures for a gloved finger, where no keyboard is at hand; the new text if one was tapped.
fn keypad(ui: &mut Ui, text: &str) -> Option<String> {
    const DELETE: &str = sentence!("Del");
    const KEYS: [&str; 12] = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0", ".", DELETE];
    let gap = 6.0;
    let width = (ui.available_width() - 5.0 * gap) / 6.0;
    let mut typed = None;
    for row in KEYS.chunks(6) {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = gap;
            for key in row {
                if !Button::plain(language::known(key)).width(width).show(ui).clicked() {
                    continue;
                }
                let mut text = text.to_owned();
                if *key == DELETE {
                    text.pop();
                } else {
                    text.push_str(key);
                }
                typed = Some(text);
            }
        });
    }
    typed
}

/// Enter goes from field to field and signs at the end; true if it signs.
fn enter(ui: &Ui, visit: &SessionId) -> bool {
    let focused = ui.memory(egui::Memory::focused);
    let ids = FIELDS.map(id);
    let place = ids.iter().position(|id| Some(*id) == focused);
    if focused.is_none()
        && let Some(number) = ids.get(number_in_hand(ui, visit))
    {
        ui.memory_mut(|memory| memory.request_focus(*number));
    }
    let Some(place) = place else { return false };
    let back = ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::ArrowUp));
    let on = ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::ArrowDown));
    let enter = ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter));
    let to = if back {
        place.checked_sub(1)
    } else if on || enter {
        Some(place + 1)
    } else {
        None
    };
    match to.and_then(|to| ids.get(to)) {
        Some(next) => {
            ui.memory_mut(|memory| memory.request_focus(*next));
            false
        }
        None => enter,
    }
}

fn id(name: &str) -> Id {
    Id::unique(("signing", name))
}

/// One line of text under its name; the new text if it changed.
fn field(ui: &mut Ui, place: usize, (title, hint): (&str, &str), text: &str) -> Option<String> {
    let t = theme::tokens(ui);
    let name = FIELDS.get(place)?;
    let width = ui.available_width();
    section(ui, title, "");
    let mut typed = text.to_owned();
    let id = id(name);
    let edit = TextEdit::singleline(&mut typed)
        .id(id)
        .font(theme::value())
        .hint_text(hint)
        .text_color(t.ink)
        .margin(Margin::symmetric(12, 10))
        .align(egui::Align2::LEFT_CENTER)
        .min_size(vec2(width, theme::TOUCH))
        .desired_width(width);
    let shown = ui.name_inputs(language::told(name), |ui| ui.add(edit));
    touch::follow(ui, &shown, shown.rect);
    ui.ctx().accesskit_node_builder(id, |node| node.set_label(language::told(name)));
    (typed != text).then_some(typed)
}
