//! A lesson's step on one page: title, jaw, plots, numbers and every sentence, whole.
//!
//! Knows a page of one size, whatever the window's is. Refuses to know files; nothing on it can be
//! moved.

use crate::{
    brief::{heat as told, words},
    domain::heat::Picture,
    gui::{
        screens::{
            View,
            heat::{Arrows, Scene, force, head, hour_of, jaw, lesson, plot},
        },
        theme,
        widgets::{Panel, heading, section},
    },
    language::{self, tell},
    workbench::HeatDesk,
};
use egui::{CentralPanel, Frame, Margin, Rect, Ui, Vec2, pos2, vec2};

/// Its size in points, as wide to high as a sheet of paper on its side.
pub(crate) const LESSON_PAGE: Vec2 = vec2(1_580.0, 1_117.0);

/// Paints it.
pub(crate) fn page(ui: &mut Ui, view: &View<'_>) {
    let (Some(machine), Some(decision)) = (view.bench.machine(), view.decision) else { return };
    // On paper nothing is larger than at the desk, and nothing plays.
    let desk = HeatDesk { large: false, playing: false, ..view.bench.heat().clone() };
    let (Some(lesson), Some(runs)) = (view.lessons.get(desk.lesson), view.heat) else { return };
    let (Ok(case), Some(line)) = (&runs.case, machine.shear.line(runs.ask.station.line)) else {
        return;
    };
    let hour = hour_of(lesson, &desk, case);
    let scene = Scene { view, machine, lesson, desk: &desk, runs, case, line, hour };
    let ground = theme::tokens(ui).ground;
    CentralPanel::default().frame(Frame::NONE.fill(ground).inner_margin(12)).show(ui, |ui| {
        let _no_arrows = head(ui, view, (machine, decision), (lesson, Arrows::Hidden));
        ui.add_space(4.0);
        sheets(ui, &scene);
    });
}

fn sheets(ui: &mut Ui, scene: &Scene<'_>) {
    let whole = ui.available_rect_before_wrap();
    let gap = theme::GAP;
    let left = whole.with_max_x(whole.right() - 420.0 - gap);
    let right = whole.with_min_x(left.right() + gap);
    let jaw = left.with_max_y(left.top() + 470.0);
    let below = left.with_min_y(jaw.bottom() + gap);
    let margin = Margin { top: 12, bottom: 6, left: 14, right: 14 };
    let mut nobody_taps = Vec::new();
    Panel::paper().margin(margin).show_at(ui, jaw, |ui| jaw::show(ui, scene, &mut nobody_taps));
    let margin = Margin { top: 10, bottom: 8, left: 16, right: 16 };
    let numbers = below.with_max_x(below.left() + 290.0);
    Panel::paper().margin(margin).show_at(ui, numbers, |ui| settings(ui, scene));
    let plots = below.with_min_x(numbers.right() + gap);
    Panel::paper().margin(margin).show_at(ui, plots, |ui| match scene.lesson.picture {
        Picture::Heat => plot::show(ui, scene),
        Picture::Force => force::show(ui, scene),
    });
    Panel::paper().accent().show_at(ui, right, |ui| lesson::show_on_page(ui, scene));
    ui.advance_cursor_after_rect(Rect::from_min_max(pos2(whole.left(), whole.top()), whole.max));
}

/// The numbers of the shift, and how often the true case lies in the pale stretch.
fn settings(ui: &mut Ui, scene: &Scene<'_>) {
    heading(ui, tell!("Numbers of this shift"), "");
    ui.add_space(4.0);
    let ask = &scene.runs.ask;
    let here = (ask.station, ask.gap_mm);
    for (name, value) in told::settings(&ask.work, here, scene.view.numbers) {
        section(ui, &name, &format!("**{value}**"));
        ui.add_space(3.0);
    }
    if scene.lesson.picture == Picture::Force {
        return;
    }
    let events = scene.case.shift.events.iter().filter(|it| it.station == ask.station);
    let events: Vec<_> = events.collect();
    if !events.is_empty() {
        ui.add_space(6.0);
        heading(ui, &tell!("What happens at {station}", station = ask.station), "");
        ui.add_space(4.0);
        for event in events {
            let when = format!("**{}**", told::hour(event.hour));
            section(ui, &words::capital(&told::event(event.kind)), &when);
        }
    }
    if scene.runs.band.is_some() {
        let t = theme::tokens(ui);
        ui.add_space(6.0);
        ui.label(
            egui::RichText::new(language::told(told::PALE)).font(theme::caption()).color(t.ink3),
        );
    }
}
