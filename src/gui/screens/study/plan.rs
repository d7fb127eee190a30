//! The plan of a study: which stations, which people, how many times.

use crate::{
    brief::{
        study::walk::{self, BLIND, CHOOSE, WHY},
        words,
    },
    gui::{
        marks::Icon,
        screens::study::{Desk, step},
        theme,
        widgets::{
            Button, ChipState, heading, paragraph, scrolls, section, segmented, toggle_chip, touch,
        },
    },
    language::{self, sentence, tell},
    workbench::{Command, StudyStep, TRIALS},
};
use egui::{Id, Key, Margin, ScrollArea, TextEdit, Ui, vec2};

const FIELD: &str = sentence!("initials of somebody who measures");

/// Everything that can be chosen.
pub(super) fn choices(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    scrolls(ui, ScrollArea::vertical(), |ui| {
        ui.spacing_mut().item_spacing.y = 8.0;
        heading(ui, tell!("Which stations"), tell!("by jaw position"));
        stations(ui, desk, asked);
        ui.add_space(10.0);
        heading(ui, tell!("Who measures"), tell!("initials"));
        people(ui, desk, asked);
        ui.add_space(10.0);
        heading(ui, tell!("How many times each"), "");
        let words = TRIALS.map(|trials| trials.to_string());
        let words = words.each_ref().map(String::as_str);
        let on = TRIALS.iter().position(|trials| *trials == desk.study.trials).unwrap_or(0);
        let tapped = segmented(ui, tell!("times"), &words, on);
        if let Some(trials) = tapped.and_then(|place| TRIALS.get(place)) {
            asked.push(step(StudyStep::SetTrials(*trials)));
        }
    });
}

fn stations(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    let mut lines: Vec<_> = desk.shear.lines.iter().collect();
    lines.sort_by_key(|line| line.position);
    for line in lines {
        section(ui, &words::line(line), "");
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = 8.0;
            for station in &line.stations {
                let chosen = desk.study.stations.contains(&station.id);
                let state = if chosen { ChipState::Leading } else { ChipState::Off };
                if toggle_chip(ui, &station.id.to_string(), state).clicked() {
                    asked.push(step(StudyStep::ToggleStation(station.id)));
                }
            }
        });
    }
}

fn people(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    let yard = desk.view.bench.yard();
    let mut known: Vec<&str> = desk.study.people.iter().map(String::as_str).collect();
    known.extend(yard.signed_by().into_iter().take(6));
    let mut shown: Vec<&str> = Vec::new();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        for initials in known {
            if shown.contains(&initials) {
                continue;
            }
            shown.push(initials);
            let chosen = desk.study.people.iter().any(|it| it == initials);
            let state = if chosen { ChipState::Leading } else { ChipState::Off };
            if toggle_chip(ui, initials, state).clicked() {
                asked.push(step(StudyStep::TogglePerson(initials.to_owned())));
            }
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        let id = Id::unique(FIELD);
        let mut typed = desk.study.person_text.clone();
        let edit = TextEdit::singleline(&mut typed)
            .id(id)
            .hint_text(tell!("somebody else"))
            .margin(Margin::symmetric(10, 10))
            .align(egui::Align2::LEFT_CENTER)
            .min_size(vec2(180.0, theme::TOUCH))
            .desired_width(180.0);
        let field = ui.name_inputs(language::told(FIELD), |ui| ui.add(edit));
        ui.ctx().accesskit_node_builder(id, |node| node.set_label(language::told(FIELD)));
        touch::follow(ui, &field, field.rect);
        if field.changed() {
            asked.push(step(StudyStep::TypePerson(typed)));
        }
        let ready = !desk.study.person_text.trim().is_empty();
        let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        let tapped = Button::plain(tell!("Add")).enabled(ready).width(72.0).show(ui).clicked();
        if ready && (tapped || entered) {
            asked.push(step(StudyStep::TogglePerson(desk.study.person_text.clone())));
            field.request_focus();
        }
    });
}

/// Why, and how much.
pub(super) fn card(on: &mut Ui, desk: &Desk<'_>) {
    heading(on, tell!("How good is our measuring?"), "");
    for text in [language::told(WHY), language::told(CHOOSE), language::told(BLIND)] {
        paragraph(on, text);
    }
    on.add_space(8.0);
    let (stations, people) = (desk.study.stations.len(), desk.study.people.len());
    paragraph(on, &walk::plan(stations, people, desk.study.trials));
    if let Some(scatter) = &desk.view.bench.yard().settings.repeatability {
        on.add_space(8.0);
        paragraph(on, &walk::in_use(scatter, desk.view.numbers));
    }
}

/// The button that begins.
pub(super) fn buttons(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    let (stations, people) = (desk.study.stations.len(), desk.study.people.len());
    let width = ui.available_width();
    let lacks = walk::lacks(stations, people);
    let begin = Button::primary(tell!("Begin")).detail(lacks).after(Icon::Forward);
    if begin.enabled(desk.study.is_planned()).width(width).show(ui).clicked() {
        asked.push(step(StudyStep::Start));
    }
}
