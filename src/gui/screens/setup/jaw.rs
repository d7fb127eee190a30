//! The mouth view as an editor: stations are dragged along the jaw, or typed below.
//!
//! Every move of the hand asks for one change, so that a drag is one step to take back.

use crate::{
    brief::{numbers, words},
    domain::{
        machine::{Shear, Station, StationId},
        quantity::{Length, LengthUnit},
        setup::{Change, Field, OfStation, hand_step},
    },
    gui::{
        commands::{Name, pressed},
        marks::VerdictMark,
        screens::{
            outline::{self, face, mm},
            setup::{change, step},
        },
        widgets::{Along, MouthStation, MouthView, MouthWords},
    },
    language::{sentence, tell},
    workbench::{Command, Setup, SetupDesk},
};
use egui::Ui;

const WORDS: MouthWords<'static> = MouthWords {
    title: sentence!("Drag a station"),
    note: sentence!("from above into the lower jaw · gaps drawn {}× larger"),
    pivot: sentence!("Pivot"),
    cutting: sentence!("Cutting side"),
    guide: sentence!("Guide side"),
    upper: sentence!("Upper jaw"),
};

/// Paints the drawing over the width at hand.
pub(super) fn show(ui: &mut Ui, desk: &SetupDesk, asked: &mut Vec<Command>) {
    let Some(shear) = &desk.draft().shear else { return };
    let (names, walk) = (outline::names(shear), shear.walk());
    let parts = outline::parts(shear, &names);
    let texts: Vec<[String; 3]> = walk.iter().map(|id| texts(shear, *id, desk.unit())).collect();
    let stations: Vec<MouthStation<'_>> =
        walk.iter().zip(&texts).filter_map(|(id, texts)| station(desk, *id, texts)).collect();
    let current = match &desk.asked {
        Some(Field::Station(id, _)) => walk.iter().position(|it| it == id),
        _ => None,
    };
    let view = MouthView {
        jaw: outline::jaw(shear),
        parts: &parts,
        stations: &stations,
        current,
        words: WORDS,
        legend: &[],
        warning: None,
    };
    let left = ui.next_widget_position().x;
    let along = Along::fit(left, left + ui.available_width(), mm(shear.geometry.reach));
    let room = ui.available_height();
    let height = if room.is_finite() {
        (room * 0.52).clamp(210.0, 380.0)
    } else {
        view.height_in(ui, along)
    };
    let edit = view.show_movable(ui, along, height);
    let at = |place: usize| walk.get(place).copied();
    let touched = edit.tapped.or(edit.dragged.map(|(place, _)| place)).and_then(at);
    if let Some(id) = touched {
        let field = Field::Station(id, OfStation::FromPivot);
        if desk.asked.as_ref() != Some(&field) {
            asked.push(step(Setup::Ask(field)));
        }
    }
    if let Some((place, to)) = edit.dragged
        && let (Some(id), Some(to)) = (at(place), Length::from_mm(f64::from(to)))
        && shear.station(id).is_some_and(|it| it.across.is_none())
    {
        asked.push(change(Change::Move(id, to)));
    }
    if let Some(station) = edit.focused.and_then(at).and_then(|id| shear.station(id)) {
        nudge(ui, station, hand_step(desk.unit()), asked);
    }
}

/// What a drag does, by arrow keys.
fn nudge(ui: &Ui, station: &Station, step: Length, asked: &mut Vec<Command>) {
    let to = match [Name::StationNearer, Name::StationFurther].map(|name| pressed(ui, name)) {
        [true, _] => station.from_pivot - step,
        [_, true] => station.from_pivot + step,
        [false, false] => return,
    };
    if station.across.is_none() && Length::ZERO <= to {
        asked.push(change(Change::Move(station.id, to)));
    }
}

fn texts(shear: &Shear, id: StationId, unit: LengthUnit) -> [String; 3] {
    let at = shear.station(id).map_or(Length::ZERO, |it| it.from_pivot);
    let at = match unit {
        LengthUnit::Millimetre => numbers::fixed(at.mm(), 0),
        LengthUnit::Inch => numbers::fixed(at.inches(), 1),
    };
    let place = format!("{id}, {}", words::station(shear, id));
    [id.to_string(), at, place]
}

fn station<'t>(
    desk: &SetupDesk,
    id: StationId,
    texts: &'t [String; 3],
) -> Option<MouthStation<'t>> {
    let shear = desk.draft().shear.as_ref()?;
    let line = shear.line(id.line)?;
    let station = shear.station(id)?;
    let [name, value, label] = texts;
    Some(MouthStation {
        name,
        face: face(shear.blade(&line.fixed)?.side),
        from_pivot: mm(station.from_pivot),
        across: station.across.map(mm),
        gap: mm(line.limits.set().middle()).clamp(0.1, 2.0),
        value,
        mark: VerdictMark::NotMeasured,
        label,
        detail: match desk.unit() {
            LengthUnit::Millimetre => {
                tell!("millimetres from the pivot; the left and right keys move it")
            }
            LengthUnit::Inch => tell!("inches from the pivot; the left and right keys move it"),
        },
    })
}
