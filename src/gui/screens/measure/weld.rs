//! A build-up or hard-facing weld that was done: what, where, with what, and how it cooled.
//!
//! Knows the form and that it asks once more before it writes. What follows from a weld follows
//! from the part that was tapped and from no words.

use crate::{
    brief::{caution, words},
    domain::{
        log::{WeldPart, Work},
        machine::Shear,
    },
    gui::{
        marks::Icon,
        screens::measure::{field, hand::Hand, marks},
        theme,
        widgets::{Button, SeenTile, heading, paragraph, scrolls, section, seen_grid},
    },
    language::{self, tell},
    workbench::Command,
};
use egui::{Id, RichText, ScrollArea, Ui};

/// What was tapped and typed so far.
#[derive(Clone, Debug, Default)]
struct Form {
    part: usize,
    place: String,
    consumable: String,
    cooled_slowly: bool,
    template_checked: bool,
    asking: bool,
}

fn page() -> Id {
    Id::unique("weld done")
}

/// Whether the page is in front.
pub(super) fn is_open(ui: &Ui) -> bool {
    ui.data(|data| data.get_temp::<Form>(page()).is_some())
}

/// The button that opens the page.
pub(super) fn button(ui: &mut Ui, width: f32) {
    if Button::plain(tell!("Weld…")).width(width).show(ui).clicked() {
        ui.data_mut(|data| data.insert_temp(page(), Form::default()));
    }
}

/// The page: the cautions, the form, and the question whether it is done.
pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let Some(mut form) = ui.data(|data| data.get_temp::<Form>(page())) else { return };
    heading(ui, tell!("Weld done"), "");
    let mut open = true;
    scrolls(ui, ScrollArea::vertical().id_salt("weld").auto_shrink(false), |ui| {
        for caution in caution::WELDING.map(language::told) {
            paragraph(ui, caution);
        }
        if form.asking {
            open = confirm(ui, hand, &mut form, asked);
        } else {
            open = fill_in(ui, hand.shear, &mut form);
        }
    });
    ui.data_mut(|data| {
        if open {
            data.insert_temp(page(), form);
        } else {
            data.remove_temp::<Form>(page());
        }
    });
}

/// Every part that can be told apart, with its word: the tips by their names, then the rest.
fn parts(shear: &Shear) -> Vec<(String, WeldPart)> {
    let tips = shear.blades.iter().filter(|blade| marks::has_template(shear, blade));
    let mut parts: Vec<(String, WeldPart)> =
        tips.map(|tip| (words::capital(&tip.name), WeldPart::Tip(tip.id.clone()))).collect();
    parts.push((tell!("Upper jaw").to_owned(), WeldPart::UpperJaw));
    parts.push((tell!("Lower jaw, cheek").to_owned(), WeldPart::LowerJaw));
    parts.push((tell!("Elsewhere").to_owned(), WeldPart::Elsewhere));
    parts
}

/// The form; false once it is left.
fn fill_in(ui: &mut Ui, shear: &Shear, form: &mut Form) -> bool {
    let parts = parts(shear);
    let tile = |words, chosen| {
        let icon = if chosen { Icon::Check } else { Icon::Cross };
        SeenTile { icon, words, chosen }
    };
    let names: Vec<SeenTile<'_>> = parts
        .iter()
        .enumerate()
        .map(|(place, (name, _))| tile(name.as_str(), place == form.part))
        .collect();
    section(ui, tell!("What was welded"), "");
    if let Some(tapped) = seen_grid(ui, &names) {
        form.part = tapped;
    }
    ui.add_space(6.0);
    field::show(
        ui,
        tell!("place of the weld"),
        tell!("place, such as upper corner"),
        &mut form.place,
    );
    field::show(
        ui,
        tell!("consumable"),
        tell!("consumable, such as basic electrode"),
        &mut form.consumable,
    );
    let tiles = [
        tile(tell!("Cooled slowly"), form.cooled_slowly),
        tile(tell!("Template fits"), form.template_checked),
    ];
    ui.add_space(6.0);
    match seen_grid(ui, &tiles) {
        Some(0) => form.cooled_slowly ^= true,
        Some(_) => form.template_checked ^= true,
        None => {}
    }
    ui.add_space(6.0);
    let mut open = !ui.input(|input| input.key_pressed(egui::Key::Escape));
    ui.horizontal(|ui| {
        let width = ui.available_width();
        open &= !Button::plain(tell!("Leave it")).width(width * 0.4).show(ui).clicked();
        let rest = ui.available_width();
        form.asking = Button::plain(tell!("Record the weld")).width(rest).show(ui).clicked();
    });
    open
}

/// A session is written once and for good; false once it is answered.
fn confirm(ui: &mut Ui, hand: &Hand<'_>, form: &mut Form, asked: &mut Vec<Command>) -> bool {
    let t = theme::tokens(ui);
    let Some((name, part)) = parts(hand.shear).into_iter().nth(form.part) else { return false };
    let place = form.place.trim();
    let place = if place.is_empty() { words::within(&name) } else { place.to_owned() };
    let question = tell!("Is it done? {name}: {place}.", name, place);
    ui.label(RichText::new(question).font(theme::body_bold()).color(t.ink));
    paragraph(ui, tell!("It is written once and cannot be taken back. The open visit stays open."));
    let mut open = true;
    ui.horizontal(|ui| {
        // Not where the button was that asked: a second tap by mistake must not write.
        let width = ui.available_width();
        if Button::plain(tell!("Yes, done")).width(width * 0.4).show(ui).clicked() {
            asked.push(Command::RecordWork(vec![Work::Welded {
                part,
                place,
                consumable: form.consumable.trim().to_owned(),
                cooled_slowly: form.cooled_slowly,
                template_checked: form.template_checked,
            }]));
            open = false;
        }
        let rest = ui.available_width();
        form.asking = !Button::plain(tell!("Not yet")).width(rest).show(ui).clicked();
    });
    open
}
