//! Two blades that changed places: which ones, are you sure, and take it back.
//!
//! Knows the form, and that it asks once more before it writes. What a swap does to edges and gaps
//! follows from the log.

use crate::{
    brief::{done, edges as told, words},
    domain::{
        decide::swap_as_work,
        log::Work,
        machine::{Blade, BladeId, Line, Shear},
    },
    gui::{
        commands::{Name, pressed},
        marks::Icon,
        screens::decide::{Scene, really},
        widgets::{Button, SeenTile, divider, paragraph, section, seen_page},
    },
    language::{self, tell},
    workbench::Command,
};
use egui::{Id, Ui};

/// What was tapped so far.
#[derive(Clone, Debug, Default)]
struct Form {
    /// The machine and the line it was opened for, and how many sessions there were then.
    about: (String, usize),
    chosen: Vec<BladeId>,
    asking: bool,
    /// The bolts were not tightened with it.
    loose: bool,
    /// Whoever did it.
    by: String,
}

fn page() -> Id {
    Id::unique("blades swapped")
}

/// The button, the form or the way back, under the edges of a line's blades.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, line: &Line) -> Option<Command> {
    let shear = &scene.machine.shear;
    if let Some((_, blades)) = scene.view.bench.last_swap() {
        divider(ui);
        paragraph(ui, &told::swapped(shear, blades));
        let width = ui.available_width();
        let back = Button::plain(tell!("Take the swap back")).width(width).show(ui);
        return back.clicked().then_some(Command::TakeSwapBack);
    }
    let fits = candidates(shear, line);
    if fits.is_empty() {
        return None;
    }
    divider(ui);
    let about = really::about(scene, line.id);
    let kept = ui.data(|data| data.get_temp::<Form>(page())).filter(|it| it.about == about);
    let Some(mut form) = kept else {
        let width = ui.available_width();
        if Button::plain(tell!("Blades swapped…")).width(width).show(ui).clicked() {
            let by = scene.view.bench.likely_by().to_owned();
            ui.data_mut(|data| data.insert_temp(page(), Form { about, by, ..Form::default() }));
        }
        return None;
    };
    let (asked, open) = match <[BladeId; 2]>::try_from(form.chosen.clone()) {
        Ok(two) if form.asking => confirm(ui, scene, &two, &mut form),
        _ => (None, fill_in(ui, shear, &fits, &mut form)),
    };
    let open = open && !pressed(ui, Name::NotDone);
    ui.data_mut(|data| {
        if open {
            data.insert_temp(page(), form);
        } else {
            data.remove_temp::<Form>(page());
        }
    });
    asked
}

/// The blades of a line that fit in another's place, and those others.
fn candidates<'a>(shear: &'a Shear, line: &Line) -> Vec<&'a Blade> {
    let here: Vec<&Blade> =
        [&line.fixed, &line.moving].into_iter().filter_map(|id| shear.blade(id)).collect();
    let fits = |blade: &&Blade| here.iter().any(|it| it.fits_in_place_of(blade));
    let others: Vec<&Blade> = shear.blades.iter().filter(fits).collect();
    let alone = |blade: &&&Blade| others.iter().any(|it| it.fits_in_place_of(blade));
    let own = here.iter().filter(alone).filter(|it| others.iter().all(|other| other.id != it.id));
    own.chain(&others).copied().collect()
}

/// Which two; false once it is left.
fn fill_in(ui: &mut Ui, shear: &Shear, fits: &[&Blade], form: &mut Form) -> bool {
    section(ui, tell!("Which two changed places"), "");
    let names: Vec<String> =
        fits.iter().map(|it| words::capital(language::known(&it.name))).collect();
    let tiles: Vec<SeenTile<'_>> = fits
        .iter()
        .zip(&names)
        .map(|(blade, words)| {
            let chosen = form.chosen.contains(&blade.id);
            SeenTile { icon: if chosen { Icon::Check } else { Icon::Cross }, words, chosen }
        })
        .collect();
    if let Some(blade) = seen_page(ui, &tiles).and_then(|place| fits.get(place)) {
        match form.chosen.iter().position(|it| *it == blade.id) {
            Some(place) => drop(form.chosen.remove(place)),
            None => form.chosen.push(blade.id.clone()),
        }
        // A third one takes the place of the first.
        let over = form.chosen.len().saturating_sub(2);
        form.chosen.drain(..over);
    }
    let two: Vec<&Blade> = form.chosen.iter().filter_map(|id| shear.blade(id)).collect();
    let together = match two.as_slice() {
        [one, other] if !one.fits_in_place_of(other) => {
            paragraph(ui, &told::do_not_fit(shear, [&one.id, &other.id]));
            false
        }
        [_, _] => true,
        _ => false,
    };
    let mut open = true;
    ui.horizontal(|ui| {
        let width = ui.available_width();
        open = !Button::plain(tell!("Leave it")).width(width * 0.37).show(ui).clicked();
        let rest = ui.available_width();
        let record = Button::plain(tell!("Record the swap")).width(rest).enabled(together);
        form.asking = record.show(ui).clicked() && together;
    });
    open
}

/// A session is written once; false once it is answered.
fn confirm(
    ui: &mut Ui,
    scene: &Scene<'_>,
    two: &[BladeId; 2],
    form: &mut Form,
) -> (Option<Command>, bool) {
    let shear = &scene.machine.shear;
    let [one, other] = two;
    section(ui, tell!("Are you sure"), "");
    paragraph(ui, &format!("**{}**", told::swap_question(shear, [one, other])));
    paragraph(ui, language::told(told::SWAP));
    let mut work = swap_as_work(shear, two.clone());
    if let Some(words) = done::tightened(&work, shear) {
        let mut on = !form.loose;
        really::tightened(ui, &words, &mut on);
        form.loose = !on;
    }
    if form.loose {
        work.retain(Work::moves_gap);
    }
    really::who(ui, scene, &mut form.by);
    let mut yes = false;
    ui.horizontal(|ui| {
        // Not where the button was that asked: a second tap by mistake must not write.
        let width = ui.available_width();
        yes = Button::plain(tell!("Yes, swapped")).width(width * 0.37).show(ui).clicked();
        let rest = ui.available_width();
        form.asking = !Button::plain(tell!("Not yet swapped")).width(rest).show(ui).clicked();
    });
    let work = yes.then(|| Command::RecordWorkBy(work, form.by.trim().to_owned()));
    (work, !yes)
}
