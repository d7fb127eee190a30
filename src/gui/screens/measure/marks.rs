//! Wear marks of the two blades at the station in hand: edge radius, thickness, tip wear.
//!
//! Knows where a first tap starts and how far one goes, and takes a typed value in the unit that
//! people read, or in the one that is typed after it. Nobody has to take them; what was taken is
//! kept with the visit.

use crate::{
    brief::{marks as told, words},
    domain::{
        decide::mark_limit,
        log::{MARK_STEP, Mark, MarkKind},
        machine::{Blade, Shear, Toward},
        quantity::{Length, LengthUnit},
    },
    gui::{
        screens::measure::{field, hand::Hand},
        theme,
        widgets::{Button, Step, Stepper, heading, paragraph, scrolls, section},
    },
    language::{self, tell},
    workbench::Command,
};
use egui::{Id, ScrollArea, Ui};

/// How far one tap goes: as finely as marks are read, or near it in round inches.
const fn tap(unit: LengthUnit) -> Length {
    match unit {
        LengthUnit::Millimetre => MARK_STEP,
        LengthUnit::Inch => Length::from_um(127),
    }
}

fn page() -> Id {
    Id::unique("wear marks")
}

/// Whether the page of wear marks is in front.
pub(super) fn is_open(ui: &Ui) -> bool {
    ui.data(|data| data.get_temp(page())).unwrap_or(false)
}

/// The button that opens the page.
pub(super) fn button(ui: &mut Ui, width: f32) {
    if Button::plain(tell!("Wear marks…")).width(width).show(ui).clicked() {
        ui.data_mut(|data| data.insert_temp(page(), true));
    }
}

/// The page: each blade with its steppers.
pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    heading(ui, &tell!("Wear marks, {place}", place = language::known(&hand.line.place)), "");
    let tall = (ui.available_height() - theme::TOUCH - 12.0).max(theme::TOUCH);
    let area = ScrollArea::vertical().id_salt("wear marks").auto_shrink([false, true]);
    scrolls(ui, area.max_height(tall), |ui| blades(ui, hand, asked));
    let width = ui.available_width();
    let escape = ui.input(|input| input.key_pressed(egui::Key::Escape));
    if Button::plain(tell!("Back to the findings")).width(width).show(ui).clicked() || escape {
        ui.data_mut(|data| data.remove::<bool>(page()));
    }
}

/// Each blade with its steppers and fields.
fn blades(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let blades = [&hand.line.fixed, &hand.line.moving];
    for blade in blades.into_iter().filter_map(|id| hand.shear.blade(id)) {
        section(ui, &words::capital(language::known(&blade.name)), "");
        let kinds: Vec<MarkKind> =
            MarkKind::ALL.into_iter().filter(|kind| is_taken(hand.shear, blade, *kind)).collect();
        ui.columns(kinds.len().max(1), |columns| {
            for (ui, kind) in columns.iter_mut().zip(kinds) {
                one(ui, hand, (blade, kind), asked);
            }
        });
    }
    paragraph(
        ui,
        &tell!(
            "Only what you measured. A tap is {unit}; a finger that stays steps on. Or type the value \
             and press Enter.",
            unit = hand.view.numbers.length_unit(tap(hand.view.numbers.unit))
        ),
    );
}

/// Whether it is a tip: only that has a template to be laid on.
pub(super) fn has_template(shear: &Shear, blade: &Blade) -> bool {
    let guide = shear.lines.iter().find(|line| line.toward == Toward::Guide);
    let tip = guide.is_some_and(|guide| guide.moving == blade.id);
    tip || blade.wear.tip_wear_max.is_some()
}

fn is_taken(shear: &Shear, blade: &Blade, kind: MarkKind) -> bool {
    kind != MarkKind::TipWear || has_template(shear, blade)
}

fn title(kind: MarkKind) -> &'static str {
    match kind {
        MarkKind::EdgeRadius => tell!("Edge radius"),
        MarkKind::Thickness => tell!("Thickness"),
        MarkKind::TipWear => tell!("Template wear"),
    }
}

fn one(ui: &mut Ui, hand: &Hand<'_>, (blade, kind): (&Blade, MarkKind), asked: &mut Vec<Command>) {
    let n = hand.view.numbers;
    let mine = |mark: &&Mark| mark.blade == blade.id && mark.kind == kind;
    let marks = hand.visit.map_or(&[][..], |visit| &visit.session.marks);
    let taken = marks.iter().find(mine).map(|mark| mark.value);
    let last = hand.machine.history.marks_of(&blade.id, kind).last().map(|mark| mark.value);
    let limit = mark_limit(&blade.wear, kind).map_or_else(String::new, |limit| {
        let side = if kind == MarkKind::Thickness { tell!("least") } else { tell!("most") };
        format!("{side} **{}**", n.length(limit))
    });
    section(ui, title(kind), &limit);
    let value = taken.map_or("—".to_owned(), |value| n.length_unit(value));
    let named = |does: &str| {
        format!("{does}, {} {}", language::known(&blade.name), words::within(title(kind)))
    };
    let (less, more, clear) = (named("less"), named("more"), named(tell!("not taken")));
    let stepper = Stepper { value: &value, less: &less, more: &more };
    let (step, gone) = stepper.show_clearing(ui, taken.map(|_| clear.as_str()));
    let set = |value| Command::SetMark(blade.id.clone(), kind, value);
    let tap = tap(n.unit);
    asked.extend(typed(ui, hand, (blade, kind)).map(|value| set(Some(value))));
    match (step, taken) {
        // The first tap starts where the last visit was, or at a new blade.
        (Some(_), None) => asked.push(set(Some(last.unwrap_or(match kind {
            MarkKind::Thickness => blade.depth,
            MarkKind::EdgeRadius | MarkKind::TipWear => tap,
        })))),
        (Some(Step::Less), Some(now)) => asked.push(set(Some((now - tap).max(tap)))),
        (Some(Step::More), Some(now)) => asked.push(set(Some(now + tap))),
        (None, _) if gone => asked.push(set(None)),
        (None, _) => {}
    }
}

/// The field under the steppers: the value that Enter takes. What cannot be read is named there,
/// and nothing is taken.
fn typed(ui: &mut Ui, hand: &Hand<'_>, (blade, kind): (&Blade, MarkKind)) -> Option<Length> {
    let n = hand.view.numbers;
    let name = tell!(
        "{blade} {mark}, typed",
        blade = language::known(&blade.name),
        mark = words::within(title(kind))
    );
    let id = Id::unique(("mark typed", &name));
    let (mut text, mut wrong): (String, Option<String>) =
        ui.data(|data| data.get_temp(id)).unwrap_or_default();
    let before = text.clone();
    let response = field::show(ui, &name, n.unit_name(), &mut text);
    if text != before {
        wrong = None;
    }
    let mut taken = None;
    if response.lost_focus() && !text.trim().is_empty() {
        match Mark::read(&text, n.unit, blade.depth) {
            Ok(value) => {
                taken = Some(value);
                text.clear();
            }
            Err(fault) => wrong = Some(told::fault(&fault, n)),
        }
    }
    if let Some(wrong) = &wrong {
        paragraph(ui, wrong);
    }
    ui.data_mut(|data| data.insert_temp(id, (text, wrong)));
    taken
}
