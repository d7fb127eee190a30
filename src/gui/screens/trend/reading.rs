//! The reading that was tapped: which leaves, when, in which visit.

use crate::{
    brief::trend,
    gui::{
        screens::trend::{Scene, within},
        theme,
        widgets::{Button, paragraph},
    },
    workbench::Command,
};
use egui::{Frame, Margin, Stroke, Ui};

/// Shows the reading that is read off, if one is.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let mut asked = Vec::new();
    let Some((station, session)) = scene.view.bench.picked() else { return asked };
    let states = &scene.decided.stations;
    let Some(state) = states.iter().find(|it| it.station == *station) else { return asked };
    let points = &state.trend.observations;
    let Some(point) = points.iter().find(|it| it.session == *session) else { return asked };
    let n = scene.view.numbers;
    let t = theme::tokens(ui);
    within(ui, |ui| {
        let frame = Frame::NONE
            .fill(t.field)
            .stroke(Stroke::new(1.5, t.accent))
            .corner_radius(theme::RADIUS)
            .inner_margin(Margin::symmetric(14, 10));
        frame.show(ui, |ui| {
            ui.take_available_width();
            ui.spacing_mut().item_spacing.y = 6.0;
            paragraph(ui, &format!("**{}**", trend::reading(*station, point, n)));
            paragraph(ui, &trend::whence(&scene.machine.history, session, n));
            let shut = Button::plain("Put away").height(theme::TOUCH).width(110.0);
            if shut.show(ui).clicked() {
                asked.push(Command::PickReading(None));
            }
        });
        ui.add_space(10.0);
    });
    asked
}
