//! Breaks that nobody wrote down, offered where they are.

use crate::{
    brief::{aside, signal},
    domain::{log::Remark, trend::Change},
    gui::{
        screens::trend::Scene,
        theme,
        widgets::{Button, paragraph, touch},
    },
    language::{self, tell},
    workbench::Command,
};
use egui::{CornerRadius, Frame, Margin, Rect, Ui, vec2};

/// Says one break in a box, what to do about it, and offers to begin the line anew there.
pub(super) fn offer(ui: &mut Ui, scene: &Scene<'_>, change: &Change) -> Vec<Command> {
    let mut asked = Vec::new();
    let states = &scene.decided.stations;
    let lead = scene.shown().last().copied();
    let Some(state) = states.iter().find(|it| Some(it.station) == lead) else { return asked };
    let Some(point) = state.trend.observations.get(change.place) else { return asked };
    let (station, session) = (state.station, point.session.clone());
    let t = theme::tokens(ui);
    let said = signal::change(station, change, scene.view.numbers);
    let margin = Margin { left: 18, right: 12, top: 10, bottom: 10 };
    let frame = Frame::NONE.fill(t.watch_tint).corner_radius(theme::RADIUS).inner_margin(margin);
    let shown = frame.show(ui, |ui| {
        ui.take_available_width();
        ui.spacing_mut().item_spacing.y = 4.0;
        paragraph(ui, &format!("**{said}**"));
        paragraph(ui, signal::change_advice(change.kind));
        paragraph(ui, language::told(signal::THROUGH_A_BREAK));
        ui.add_space(2.0);
        let word = tell!("Begin the line anew here");
        let width = ui.available_width().min(230.0);
        if Button::plain(word)
            .width(width)
            .show(ui)
            .on_hover_text(language::told(aside::ANEW_MEANS))
            .clicked()
        {
            asked.extend(scene.stay());
            asked.push(Command::Say(Remark::Moved {
                session,
                line: station.line,
                reason: String::new(),
            }));
        }
    });
    let rect = shown.response.rect;
    let bar = Rect::from_min_size(rect.min, vec2(5.0, rect.height()));
    let round = CornerRadius { nw: 4, sw: 4, ne: 0, se: 0 };
    ui.painter().rect_filled(bar, round, t.watch);
    touch::say(ui, bar, ("break", station.to_string(), change.place), &said);
    asked
}

/// Where growth begins anew without recorded work, each with a way back.
pub(super) fn taken_up(ui: &mut Ui, scene: &Scene<'_>) -> Option<Command> {
    let history = &scene.machine.history;
    let (line, n) = (scene.line.id, scene.view.numbers);
    let mut asked = None;
    for cut in history.cuts_on(line) {
        let Some(said) = aside::moved(cut, n) else { continue };
        let Some(session) = history.after(&cut.session).map(|it| it.id.clone()) else { continue };
        ui.scope(|ui| {
            paragraph(ui, &said);
            let at = n.along(n.per.of(cut.at, cut.counters).unwrap_or_default());
            let word = tell!("Take the break at {at} back", at);
            let width = ui.available_width().min(260.0);
            if Button::plain(&word).width(width).show(ui).clicked() {
                asked = Some(Command::Say(Remark::NotMoved { session, line }));
            }
        });
    }
    asked
}
