//! Wear marks of the two blades at the station in hand: edge radius, thickness, tip wear.
//!
//! Knows where a first tap starts and how far one goes. Nobody has to take them; what was taken is
//! kept with the visit.

use crate::{
    brief::words,
    domain::{
        decide::mark_limit,
        log::{Mark, MarkKind},
        machine::{Blade, Toward},
        quantity::Length,
    },
    gui::{
        screens::measure::hand::Hand,
        widgets::{Button, Step, Stepper, heading, paragraph, section},
    },
    workbench::Command,
};
use egui::{Id, Ui};

/// How far one tap goes: as fine as a radius gauge or a caliper in gloves.
const TAP: Length = Length::from_um(100);

fn page() -> Id {
    Id::unique("wear marks")
}

/// Whether the page of wear marks is in front.
pub(super) fn is_open(ui: &Ui) -> bool {
    ui.data(|data| data.get_temp(page())).unwrap_or(false)
}

/// The button that opens the page.
pub(super) fn button(ui: &mut Ui, width: f32) {
    if Button::plain("Wear marks…").width(width).show(ui).clicked() {
        ui.data_mut(|data| data.insert_temp(page(), true));
    }
}

/// The page: each blade with its steppers.
pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    heading(ui, &format!("Wear marks, {}", hand.line.place), "");
    let blades = [&hand.line.fixed, &hand.line.moving];
    for blade in blades.into_iter().filter_map(|id| hand.shear.blade(id)) {
        section(ui, &words::capital(&blade.name), "");
        let kinds: Vec<MarkKind> =
            MarkKind::ALL.into_iter().filter(|kind| is_taken(hand, blade, *kind)).collect();
        ui.columns(kinds.len().max(1), |columns| {
            for (ui, kind) in columns.iter_mut().zip(kinds) {
                one(ui, hand, (blade, kind), asked);
            }
        });
    }
    paragraph(
        ui,
        "Only what you measured. A tap is a tenth of a millimetre; a finger that stays steps on.",
    );
    let width = ui.available_width();
    let escape = ui.input(|input| input.key_pressed(egui::Key::Escape));
    if Button::plain("Back to the findings").width(width).show(ui).clicked() || escape {
        ui.data_mut(|data| data.remove::<bool>(page()));
    }
}

/// Only a tip has a template to be laid on.
fn is_taken(hand: &Hand<'_>, blade: &Blade, kind: MarkKind) -> bool {
    let guide = hand.shear.lines.iter().find(|line| line.toward == Toward::Guide);
    let tip = guide.is_some_and(|guide| guide.moving == blade.id);
    kind != MarkKind::TipWear || tip || blade.wear.tip_wear_max.is_some()
}

const fn title(kind: MarkKind) -> &'static str {
    match kind {
        MarkKind::EdgeRadius => "Edge radius",
        MarkKind::Thickness => "Thickness",
        MarkKind::TipWear => "Template wear",
    }
}

fn one(ui: &mut Ui, hand: &Hand<'_>, (blade, kind): (&Blade, MarkKind), asked: &mut Vec<Command>) {
    let n = hand.view.numbers;
    let mine = |mark: &&Mark| mark.blade == blade.id && mark.kind == kind;
    let marks = hand.visit.map_or(&[][..], |visit| &visit.session.marks);
    let taken = marks.iter().find(mine).map(|mark| mark.value);
    let last = hand.machine.history.marks_of(&blade.id, kind).last().map(|mark| mark.value);
    let limit = mark_limit(&blade.wear, kind).map_or_else(String::new, |limit| {
        let side = if kind == MarkKind::Thickness { "least" } else { "most" };
        format!("{side} **{}**", n.length(limit))
    });
    section(ui, title(kind), &limit);
    let value = taken.map_or("—".to_owned(), |value| n.length_unit(value));
    let named = |does: &str| format!("{does}, {} {}", blade.name, title(kind).to_lowercase());
    let (less, more, clear) = (named("less"), named("more"), named("not taken"));
    let stepper = Stepper { value: &value, less: &less, more: &more };
    let (step, gone) = stepper.show_clearing(ui, taken.map(|_| clear.as_str()));
    let set = |value| Command::SetMark(blade.id.clone(), kind, value);
    match (step, taken) {
        // The first tap starts where the last visit was, or at a new blade.
        (Some(_), None) => asked.push(set(Some(last.unwrap_or(match kind {
            MarkKind::Thickness => blade.depth,
            MarkKind::EdgeRadius | MarkKind::TipWear => TAP,
        })))),
        (Some(Step::Less), Some(now)) => asked.push(set(Some((now - TAP).max(TAP)))),
        (Some(Step::More), Some(now)) => asked.push(set(Some(now + TAP))),
        (None, _) if gone => asked.push(set(None)),
        (None, _) => {}
    }
}
