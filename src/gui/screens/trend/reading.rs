//! The reading that was tapped: which leaves, when, in which visit, and whether it counts.

use crate::{
    brief::{aside, trend},
    domain::{
        log::{Remark, SessionId},
        machine::StationId,
        verdict::{cold, weigh},
    },
    gui::{
        screens::{
            budget,
            trend::{Scene, within},
        },
        theme,
        widgets::{Button, paragraph},
    },
    language::{self, tell},
    workbench::Command,
};
use egui::{Frame, Margin, Stroke, TextEdit, Ui, vec2};

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
            ui.spacing_mut().item_spacing = vec2(8.0, 6.0);
            paragraph(ui, &format!("**{}**", trend::reading(*station, point, n)));
            paragraph(ui, &aside::whence(&scene.machine.history, session, n));
            let half = (ui.available_width() - 8.0) / 2.0;
            let id = ui.make_persistent_id(("why", station.to_string(), session.as_str()));
            let writing = ui.data(|data| data.get_temp::<String>(id));
            ui.horizontal(|ui| {
                if point.set_aside.is_some() {
                    if Button::plain(tell!("Count it again")).width(half).show(ui).clicked() {
                        let (session, station) = (session.clone(), *station);
                        asked.extend(scene.stay());
                        asked.push(Command::Say(Remark::CountAgain { session, station }));
                    }
                } else if writing.is_none()
                    && Button::plain(tell!("Set aside")).width(half).show(ui).clicked()
                {
                    ui.data_mut(|data| data.insert_temp(id, String::new()));
                }
                if Button::plain(tell!("Put away")).width(half).show(ui).clicked() {
                    ui.data_mut(|data| data.remove::<String>(id));
                    asked.push(Command::PickReading(None));
                }
            });
            match writing.filter(|_| point.set_aside.is_none()) {
                Some(words) => {
                    let said = why(ui, id, words, (*station, session));
                    asked.extend(said.is_some().then(|| scene.stay()).flatten());
                    asked.extend(said);
                }
                None => how_sure(ui, scene, (*station, session)),
            }
        });
        ui.add_space(10.0);
    });
    asked
}

/// Its budget, for whoever wants to see it.
fn how_sure(ui: &mut Ui, scene: &Scene<'_>, (station, session): (StationId, &SessionId)) {
    let machine = scene.machine;
    let read = || {
        let observed = machine.history.readings.get(&station)?.iter();
        let observed = observed.rev().find(|it| it.session == *session)?;
        Some((machine.shear.line(station.line)?, observed))
    };
    let Some((line, observed)) = read() else { return };
    let open = ui.make_persistent_id(("how sure", station.to_string(), session.as_str()));
    let is_open = ui.data(|data| data.get_temp(open)).unwrap_or(false);
    let word = if is_open { tell!("Hide how sure it is") } else { tell!("How sure is it?") };
    let width = ui.available_width();
    let button = Button::plain(word).width(width).show(ui);
    let fresh = open.with("fresh");
    if button.clicked() {
        ui.data_mut(|data| {
            data.insert_temp(open, !is_open);
            data.insert_temp(fresh, !is_open);
        });
    } else if ui.data_mut(|data| data.remove_temp::<bool>(fresh)).unwrap_or(false) {
        // Once its rows are there, all that fit come into sight.
        button.scroll_to_me(Some(egui::Align::TOP));
    }
    if is_open {
        let settings = &scene.view.bench.yard().settings;
        let kit = settings.kit_of(observed.leaves.as_deref());
        let cold = cold(line, observed, kit);
        let verdict = weigh(&cold, &line.limits, None, settings.tolerance, None);
        budget::show(ui, scene.view, Some((&cold, &verdict)));
    }
}

/// Asks why a reading shall not count; without a reason it does.
fn why(
    ui: &mut Ui,
    id: egui::Id,
    mut words: String,
    (station, session): (StationId, &SessionId),
) -> Option<Command> {
    let width = ui.available_width();
    let mut chosen = false;
    for reason in aside::WHY_ASIDE {
        if Button::plain(language::told(reason)).width(width).show(ui).clicked() {
            reason.clone_into(&mut words);
            chosen = true;
        }
    }
    let field = TextEdit::singleline(&mut words)
        .hint_text(tell!("or in your own words"))
        .font(theme::body())
        .margin(Margin::symmetric(10, 12))
        .desired_width(width - 22.0);
    let label = ui.add(field);
    label.widget_info(|| {
        egui::WidgetInfo::labeled(
            egui::accesskit::Role::TextInput,
            true,
            tell!("why it is set aside"),
        )
    });
    let reason = words.trim().to_owned();
    ui.data_mut(|data| data.insert_temp(id, words));
    let word = tell!("Set aside for this reason");
    let ready = Button::plain(word).width(width).enabled(!reason.is_empty());
    let ready = ready.show(ui);
    if chosen {
        // The button that comes next may lie below what is in sight.
        ready.scroll_to_me(None);
    }
    let said = ready.clicked();
    paragraph(ui, language::told(aside::ASIDE_MEANS));
    if !said || reason.is_empty() {
        return None;
    }
    ui.data_mut(|data| data.remove::<String>(id));
    Some(Command::Say(Remark::SetAside { session: session.clone(), station, reason }))
}
