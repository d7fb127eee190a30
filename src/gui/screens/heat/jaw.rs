//! The jaw from above, its faces in the colours of the hour.

use crate::{
    brief::{heat as told, words},
    domain::{
        heat::colour_at,
        machine::{Blade, Side, StationId, Toward},
        quantity::Length,
    },
    gui::{
        marks::VerdictMark,
        paint,
        screens::heat::Scene,
        theme,
        widgets::{
            Along, Face, HotFace, Jaw, JawPart, MouthStation, MouthView, MouthWords, Warning,
        },
    },
    workbench::{Command, Heat},
};
use egui::{Color32, Ui};

/// The texts of one chip.
struct Told {
    station: StationId,
    name: String,
    label: String,
    value: String,
    detail: String,
    gap: f32,
    colour: Color32,
    word: &'static str,
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let shear = &scene.machine.shear;
    let geometry = &shear.geometry;
    let names: Vec<String> = shear.blades.iter().map(|it| words::capital(&it.name)).collect();
    let slides = |blade: &Blade| {
        shear.lines.iter().any(|line| line.toward == Toward::Pads && line.moving == blade.id)
    };
    let parts: Vec<JawPart<'_>> = shear
        .blades
        .iter()
        .zip(&names)
        .filter(|(blade, _)| !slides(blade))
        .map(|(blade, name)| part(blade, name))
        .collect();
    let texts = texts(scene);
    let faces: Vec<HotFace<'_>> =
        texts.iter().map(|told| HotFace { colour: told.colour, word: told.word }).collect();
    let stations: Vec<MouthStation<'_>> = texts
        .iter()
        .filter_map(|told| {
            let line = shear.line(told.station.line)?;
            let station = shear.station(told.station)?;
            Some(MouthStation {
                name: &told.name,
                face: face(shear.blade(&line.fixed)?.side),
                from_pivot: mm(station.from_pivot),
                across: station.across.map(mm),
                gap: told.gap,
                value: &told.value,
                mark: VerdictMark::Working,
                label: &told.label,
                detail: &told.detail,
            })
        })
        .collect();
    let title = format!("Face colours at {}", told::hour(scene.hour));
    let touch = touching(scene);
    let view = MouthView {
        jaw: Jaw {
            reach: mm(geometry.reach),
            mouth: mm(geometry.mouth),
            cheek: mm(geometry.cheek),
            upper: mm(geometry.upper_jaw),
            pivot: mm(geometry.pivot),
        },
        parts: &parts,
        stations: &stations,
        current: texts.iter().position(|told| told.station == scene.runs.ask.station),
        words: MouthWords {
            title: &title,
            note: "from above into the lower jaw · gaps drawn {}× larger",
            pivot: "Pivot",
            cutting: "Cutting side",
            guide: "Guide side",
            upper: "Upper jaw",
        },
        legend: &[],
        warning: touch.as_ref().map(|[fact, more]| Warning {
            mark: VerdictMark::StopTooTight,
            headline: fact,
            text: more,
        }),
    };
    let rect = ui.available_rect_before_wrap();
    let along = Along::fit(rect.left(), rect.right(), mm(geometry.reach));
    let tapped = view.show_hot(ui, along, rect.height(), &faces);
    if let Some(told) = tapped.and_then(|index| texts.get(index)) {
        asked.push(Command::Heat(Heat::Station(told.station)));
    }
}

fn texts(scene: &Scene<'_>) -> Vec<Told> {
    let Some(sample) = scene.now() else { return Vec::new() };
    let walk = scene.machine.shear.walk();
    walk.into_iter()
        .filter_map(|station| {
            let place = scene.case.model.contact(station)?;
            let at = sample.contacts.get(place)?;
            let colour = told::colour(colour_at(at.face_c));
            let hot = scene.case.model.hot_gap_mm(sample, place);
            let gap = scene.view.numbers.estimate(hot);
            Some(Told {
                station,
                name: station.to_string(),
                label: format!("{station}, {}", words::station(&scene.machine.shear, station)),
                value: told::celsius(at.face_c),
                detail: format!("{}, {colour}, hot gap {gap}", told::celsius(at.face_c)),
                gap: paint::screen(hot).max(0.0),
                colour: theme::temper(at.face_c),
                word: if colour_at(at.face_c).is_none() { "bare" } else { colour },
            })
        })
        .collect()
}

/// The station looked at, if its faces touch at this hour.
fn touching(scene: &Scene<'_>) -> Option<[String; 2]> {
    use crate::domain::heat::EventKind;
    let station = scene.runs.ask.station;
    let sample = scene.now()?;
    let closed = scene.case.model.hot_gap_mm(sample, scene.case.contact) <= 0.0;
    let event = scene
        .case
        .shift
        .events
        .iter()
        .find(|it| it.station == station && it.kind == EventKind::Touching)?;
    closed.then(|| {
        let since = told::hour(event.hour);
        [format!("At {station} the faces touch"), format!("since {since}, and rub on every cut")]
    })
}

fn part<'n>(blade: &Blade, name: &'n str) -> JawPart<'n> {
    let bolts = blade.bolts.as_ref().map_or(&[][..], |bolts| &bolts.from_pivot);
    JawPart {
        face: face(blade.side),
        name,
        near: mm(blade.near),
        far: mm(blade.far),
        depth: mm(blade.depth),
        bolts: bolts.iter().map(|at| mm(*at)).collect(),
    }
}

const fn face(side: Side) -> Face {
    match side {
        Side::Moving => Face::Moving,
        Side::Cutting => Face::Cutting,
        Side::Guide => Face::Guide,
        Side::Front => Face::Front,
    }
}

fn mm(length: Length) -> f32 {
    paint::screen(length.mm())
}
