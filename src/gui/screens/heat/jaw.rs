//! The jaw from above, its faces in the colours of the hour, or the stock it can cut.

use crate::{
    brief::{heat as told, numbers, words},
    domain::{
        heat::{Picture, colour_at, force_along, stock, stock_places},
        machine::{LineId, Station, StationId, Toward},
        quantity::Length,
    },
    gui::{
        marks::VerdictMark,
        paint,
        screens::{
            heat::Scene,
            outline::{self, face, mm},
        },
        theme,
        widgets::{
            Along, HotFace, MouthStation, MouthView, MouthWords, Overlay, StockBar, Warning,
        },
    },
    language::tell,
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
    colour: Option<Color32>,
    word: String,
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let shear = &scene.machine.shear;
    let names = outline::names(shear);
    let parts = outline::parts(shear, &names);
    let texts = texts(scene);
    let faces: Vec<HotFace<'_>> =
        texts.iter().map(|told| HotFace { colour: told.colour, word: &told.word }).collect();
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
    let force = scene.lesson.picture == Picture::Force;
    let (title, note) = heads(scene);
    let bars = if force { bars(scene) } else { Vec::new() };
    let drawn: Vec<StockBar<'_>> = bars.iter().map(Bar::drawn).collect();
    let over = Overlay { faces: &faces, bars: &drawn };
    let touch = if force {
        None
    } else {
        stalling(scene).or_else(|| spreading(scene)).or_else(|| touching(scene))
    };
    let view = MouthView {
        jaw: outline::jaw(shear),
        parts: &parts,
        stations: &stations,
        current: texts.iter().position(|told| told.station == scene.runs.ask.station),
        words: MouthWords {
            title: &title,
            note,
            pivot: tell!("Pivot"),
            cutting: tell!("Cutting side"),
            guide: tell!("Guide side"),
            upper: tell!("Upper jaw"),
        },
        legend: &[],
        warning: touch.as_ref().map(|[fact, more]| Warning {
            mark: VerdictMark::StopTooTight,
            headline: fact,
            text: more,
        }),
    };
    let rect = ui.available_rect_before_wrap();
    let along = Along::fit(rect.left(), rect.right(), mm(shear.geometry.reach));
    let tapped = view.show_over(ui, along, view.height_in(ui, along), over);
    if let Some(told) = tapped.and_then(|index| texts.get(index)) {
        asked.push(Command::Heat(Heat::Station(told.station)));
    }
}

/// The title of the drawing, and a note beside it.
fn heads(scene: &Scene<'_>) -> (String, &'static str) {
    match scene.lesson.picture {
        Picture::Force => (
            tell!("Thickest stock along the jaw").to_owned(),
            tell!("from above into the lower jaw · bars to scale, plate thickness at each station"),
        ),
        Picture::Heat => (
            tell!("Face colours at {hour}", hour = told::hour(scene.hour)),
            tell!("from above into the lower jaw · gaps drawn {}× larger"),
        ),
    }
}

/// A bar across the blades.
struct Bar {
    from_pivot: f32,
    thick: f32,
    word: String,
}

impl Bar {
    fn drawn(&self) -> StockBar<'_> {
        StockBar { from_pivot: self.from_pivot, thick: self.thick, word: &self.word }
    }
}

fn texts(scene: &Scene<'_>) -> Vec<Told> {
    let Some(sample) = scene.now() else { return Vec::new() };
    if scene.lesson.picture == Picture::Force {
        return stock_places(&scene.machine.shear).filter_map(|it| plate(scene, it)).collect();
    }
    let walk = scene.machine.shear.walk();
    walk.into_iter()
        .filter_map(|station| {
            let place = scene.case.model.contact(station)?;
            let at = sample.contacts.get(place)?;
            let film = colour_at(at.hottest_so_far_c);
            let colour = told::colour(film);
            let hot = scene.case.model.hot_gap_mm(sample, place);
            let gap = scene.view.numbers.estimate(hot);
            Some(Told {
                station,
                name: station.to_string(),
                label: format!("{station}, {}", words::station(&scene.machine.shear, station)),
                value: told::celsius(at.face_c),
                detail: tell!(
                    "{face_c}, {colour}, hot gap {gap}",
                    face_c = told::celsius(at.face_c),
                    colour,
                    gap
                ),
                gap: paint::screen(hot).max(0.0),
                colour: Some(theme::temper(at.hottest_so_far_c)),
                word: if film.is_none() { tell!("bare") } else { colour }.to_owned(),
            })
        })
        .collect()
}

/// What can be cut at a station, and with what force.
fn plate(scene: &Scene<'_>, station: &Station) -> Option<Told> {
    let shear = &scene.machine.shear;
    let thermal = shear.thermal.as_ref()?;
    let (jaw, plate) = (force_along(thermal), stock(thermal));
    let (station, at) = (station.id, station.from_pivot);
    let n = scene.view.numbers;
    let thick = n.at_most(jaw.thickest_plate_mm(at, &plate));
    let kn = numbers::hours_value(jaw.closing_n(at) / 1e3);
    Some(Told {
        station,
        name: station.to_string(),
        label: format!("{station}, {}", words::station(shear, station)),
        detail: tell!("plate up to {thick}, closing force {kn} kN", thick, kn),
        value: thick,
        gap: 0.5,
        colour: None,
        word: format!("{kn} kN"),
    })
}

/// The thickest bar at some places along the cutting side that do not overlap.
fn bars(scene: &Scene<'_>) -> Vec<Bar> {
    let shear = &scene.machine.shear;
    let Some(thermal) = shear.thermal.as_ref() else { return Vec::new() };
    let (jaw, steel) = (force_along(thermal), stock(thermal));
    let mut bars: Vec<Bar> = Vec::new();
    for station in stock_places(shear) {
        let (at, thick) = (station.from_pivot, jaw.thickest_bar_mm(station.from_pivot, &steel));
        let Some(bar) = Length::from_mm(thick) else { continue };
        let (x, wide) = (mm(at), mm(bar));
        let free = |last: &Bar| last.from_pivot + last.thick / 2.0 + wide < x;
        if bars.last().is_none_or(free) {
            bars.push(Bar { from_pivot: x, thick: wide, word: scene.view.numbers.at_most(thick) });
        }
    }
    bars
}

/// That the plate is too thick for its place, if it is.
fn stalling(scene: &Scene<'_>) -> Option<[String; 2]> {
    scene.case.model.forces.stalls().then(|| {
        let more = tell!("no cut is completed, so no heat is made").to_owned();
        [tell!("The plate stalls the jaw").to_owned(), more]
    })
}

/// How far a wedged tip has spread the lower jaw, if it has.
fn spreading(scene: &Scene<'_>) -> Option<[String; 2]> {
    let sample = scene.now()?;
    let lines = scene.machine.shear.lines.iter();
    let opens = lines.filter(|line| line.toward == Toward::Cutting && line.id != LineId::T);
    let widest = opens
        .flat_map(|line| &line.stations)
        .map(|it| (it.id, scene.case.model.spread_mm(sample, it.from_pivot)))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|(_, mm)| 0.01 <= *mm)?;
    let n = scene.view.numbers;
    Some([
        tell!("The hot tip spreads the jaw").to_owned(),
        tell!(
            "{widest} is {estimate} {unit_name} wider by it",
            widest = widest.0,
            estimate = n.estimate(widest.1),
            unit_name = n.unit_name()
        ),
    ])
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
    let working = sample.contacts.get(scene.case.contact).is_some_and(|at| 0.0 < at.force_n);
    closed.then(|| {
        let since = told::hour(event.hour);
        let and = if working {
            tell!("and rub on every cut")
        } else {
            tell!("and stand against each other")
        };
        [tell!("At {station} the faces touch", station), tell!("since {since}, {and}", since, and)]
    })
}
