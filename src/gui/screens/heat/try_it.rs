//! The numbers that can be moved.

use crate::{
    brief::heat as told,
    domain::{
        heat::{Picture, force_along, stock},
        quantity::Length,
    },
    gui::{
        screens::heat::Scene,
        widgets::{Button, SLIDER_HEIGHT, Slider, heading},
    },
    language::tell,
    workbench::{Command, Heat, Tried},
};
use egui::Ui;

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let tried = scene.desk.tried;
    let moved = tried != Tried::default();
    let top = ui.available_rect_before_wrap();
    heading(ui, tell!("Try it"), if moved { "" } else { tell!("as in the lesson") });
    if moved {
        let corner = egui::Rect::from_min_size(
            egui::pos2(top.right() - 130.0, top.top() - 12.0),
            egui::vec2(134.0, 44.0),
        );
        let mut child = ui.new_child(egui::UiBuilder::new().id_salt("back").max_rect(corner));
        if Button::quiet(tell!("back to the lesson")).width(134.0).show(&mut child).clicked() {
            asked.push(Command::Heat(Heat::Try(Tried::default())));
        }
    }
    ui.add_space(2.0);
    // What the jaw can cut has nothing to do with pace or air.
    let heat = scene.lesson.picture == Picture::Heat;
    let count = if heat { 4.0 } else { 1.0 };
    let height = (ui.available_height() / count - 4.0).clamp(46.0, SLIDER_HEIGHT);
    ui.spacing_mut().item_spacing.y = 4.0;
    let mut next = tried;
    if heat {
        next.gap_mm = gap(ui, scene, height).or(next.gap_mm);
        next.cuts_per_minute = cuts(ui, scene, height).or(next.cuts_per_minute);
    }
    next.plate_mm = plate(ui, scene, height).or(next.plate_mm);
    if heat {
        next.air_c = air(ui, scene, height).or(next.air_c);
    }
    if next != tried {
        asked.push(Command::Heat(Heat::Try(next)));
    }
}

fn cuts(ui: &mut Ui, scene: &Scene<'_>, height: f32) -> Option<f64> {
    let at = scene.runs.ask.work.duty.cuts_per_minute;
    let value = format!("{at:.0}");
    let cuts = Slider {
        title: tell!("Cuts per minute"),
        value: &value,
        at,
        span: [1.0, 12.0],
        step: 1.0,
        ends: ["1", "12"],
        good: None,
        accent: false,
    };
    cuts.show(ui, height)
}

fn plate(ui: &mut Ui, scene: &Scene<'_>, height: f32) -> Option<f64> {
    let heat = scene.lesson.picture == Picture::Heat;
    let (n, at) = (scene.view.numbers, scene.runs.ask.work.plate_mm);
    let value = Length::from_mm(at).map_or_else(String::new, |it| n.dimension(it));
    let far = n.dimension(Length::from_um(40_000));
    // Where the plate of this shift lies; the other picture shows every place.
    let most = scene.machine.shear.thermal.as_ref().filter(|_| heat).map(|thermal| {
        force_along(thermal).thickest_plate_mm(thermal.work.plate.from_pivot, &stock(thermal))
    });
    let plate = Slider {
        title: tell!("Plate thickness"),
        value: &value,
        at,
        span: [0.0, 40.0],
        step: 1.0,
        ends: ["0", &far],
        good: most.map(|mm| ([0.0, mm.min(40.0)], tell!("is cut"))),
        accent: false,
    };
    plate.show(ui, height)
}

fn air(ui: &mut Ui, scene: &Scene<'_>, height: f32) -> Option<f64> {
    let at = scene.runs.ask.work.duty.air_c;
    let value = told::celsius(at);
    let air = Slider {
        title: tell!("Air temperature"),
        value: &value,
        at,
        span: [-30.0, 45.0],
        step: 1.0,
        ends: ["−30", "45"],
        good: None,
        accent: false,
    };
    air.show(ui, height)
}

/// The cold gap at the station, with its set range on the track.
fn gap(ui: &mut Ui, scene: &Scene<'_>, height: f32) -> Option<f64> {
    let (n, ask) = (scene.view.numbers, &scene.runs.ask);
    let set = scene.line.limits.set();
    let title = tell!("Cold gap at {station}", station = ask.station);
    let value = format!("{} {}", n.estimate(ask.gap_mm), n.unit_name());
    let most = n.length(Length::from_um(1_000));
    let gap = Slider {
        title: &title,
        value: &value,
        at: ask.gap_mm,
        span: [0.0, 1.0],
        step: 0.01,
        ends: ["0", &most],
        good: Some(([set.min.mm(), set.max.mm()], tell!("set range"))),
        accent: true,
    };
    gap.show(ui, height)
}
