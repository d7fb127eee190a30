//! When the typed hours contradict the last session: was the meter changed?
//!
//! Two fields, the old meter's last reading and the new one's first, and one button that records
//! the change, so that no hour is lost and the visit can be signed.

use crate::{
    domain::{
        log::{Session, SignFault},
        quantity::Hours,
    },
    gui::{
        screens::measure::{field, hand::Hand},
        widgets::{Button, paragraph, section},
    },
    language::tell,
    workbench::{Command, Visit},
};
use egui::{Id, Ui};

/// The two readings as typed.
type Typed = (String, String);

/// The question and its form, where the sign-off was refused for the meter's sake.
pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, visit: &Visit, asked: &mut Vec<Command>) {
    let form = Id::unique("meter change");
    let contradicts = matches!(
        visit.sign_fault,
        Some(SignFault::MeterBackwards { .. } | SignFault::MeterLeaps { .. })
    );
    let open: Option<Typed> = ui.data(|data| data.get_temp(form));
    let Some((mut old, mut new)) = open else {
        if contradicts && Button::quiet(tell!("The meter was changed")).show(ui).clicked() {
            let last = hand.machine.history.last().map_or(Hours::ZERO, Session::meter_after);
            let typed: Typed = (format!("{}", last.h()), "0".to_owned());
            ui.data_mut(|data| data.insert_temp(form, typed));
        }
        return;
    };
    paragraph(ui, tell!("The hours so far go on counting; the new meter's are added to them."));
    reading(ui, tell!("Old meter, last reading"), &mut old);
    reading(ui, tell!("New meter, first reading"), &mut new);
    let mut done = false;
    ui.horizontal(|ui| {
        if Button::plain(tell!("Record the change")).show(ui).clicked() {
            asked.push(Command::MeterWasChanged { old: old.clone(), new: new.clone() });
            done = true;
        }
        done |= Button::quiet(tell!("Not changed")).show(ui).clicked();
    });
    ui.data_mut(|data| {
        if done {
            data.remove_temp::<Typed>(form);
        } else {
            data.insert_temp(form, (old, new));
        }
    });
}

fn reading(ui: &mut Ui, name: &str, text: &mut String) {
    section(ui, name, "");
    field::show(ui, name, "", text);
}
