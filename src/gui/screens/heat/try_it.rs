//! The numbers that can be moved.

use crate::{
    brief::heat as told,
    domain::quantity::Length,
    gui::{
        screens::heat::Scene,
        widgets::{Button, SLIDER_HEIGHT, Slider, heading},
    },
    workbench::{Command, Heat, Tried},
};
use egui::Ui;

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let n = scene.view.numbers;
    let tried = scene.desk.tried;
    let moved = tried != Tried::default();
    let top = ui.available_rect_before_wrap();
    heading(ui, "Try it", if moved { "" } else { "as in the lesson" });
    if moved {
        let corner = egui::Rect::from_min_size(
            egui::pos2(top.right() - 130.0, top.top() - 12.0),
            egui::vec2(134.0, 44.0),
        );
        let mut child = ui.new_child(egui::UiBuilder::new().id_salt("back").max_rect(corner));
        if Button::quiet("back to the lesson").width(134.0).show(&mut child).clicked() {
            asked.push(Command::Heat(Heat::Try(Tried::default())));
        }
    }
    ui.add_space(2.0);
    let height = (ui.available_height() / 4.0 - 4.0).clamp(46.0, SLIDER_HEIGHT);
    ui.spacing_mut().item_spacing.y = 4.0;
    let ask = &scene.runs.ask;
    let work = &ask.work;
    let mut next = tried;
    if let Some(gap_mm) = gap(ui, scene, height) {
        next.gap_mm = Some(gap_mm);
    }
    let value = format!("{:.0}", work.duty.cuts_per_minute);
    let cuts = Slider {
        title: "Cuts per minute",
        value: &value,
        at: work.duty.cuts_per_minute,
        span: [1.0, 12.0],
        step: 1.0,
        ends: ["1", "12"],
        good: None,
        accent: false,
    };
    if let Some(cuts) = cuts.show(ui, height) {
        next.cuts_per_minute = Some(cuts);
    }
    let thick = Length::from_mm(work.plate_mm).map_or_else(String::new, |it| n.dimension(it));
    let far = n.dimension(Length::from_um(40_000));
    let plate = Slider {
        title: "Plate thickness",
        value: &thick,
        at: work.plate_mm,
        span: [0.0, 40.0],
        step: 1.0,
        ends: ["0", &far],
        good: None,
        accent: false,
    };
    if let Some(plate_mm) = plate.show(ui, height) {
        next.plate_mm = Some(plate_mm);
    }
    let value = told::celsius(work.duty.air_c);
    let air = Slider {
        title: "Air temperature",
        value: &value,
        at: work.duty.air_c,
        span: [-30.0, 45.0],
        step: 1.0,
        ends: ["−30", "45"],
        good: None,
        accent: false,
    };
    if let Some(air_c) = air.show(ui, height) {
        next.air_c = Some(air_c);
    }
    if next != tried {
        asked.push(Command::Heat(Heat::Try(next)));
    }
}

/// The cold gap at the station, with its set range on the track.
fn gap(ui: &mut Ui, scene: &Scene<'_>, height: f32) -> Option<f64> {
    let (n, ask) = (scene.view.numbers, &scene.runs.ask);
    let set = scene.line.limits.set();
    let title = format!("Cold gap at {}", ask.station);
    let value = format!("{} {}", n.estimate(ask.gap_mm), n.unit_name());
    let most = n.length(Length::from_um(1_000));
    let gap = Slider {
        title: &title,
        value: &value,
        at: ask.gap_mm,
        span: [0.0, 1.0],
        step: 0.01,
        ends: ["0", &most],
        good: Some(([set.min.mm(), set.max.mm()], "set range")),
        accent: true,
    };
    gap.show(ui, height)
}
