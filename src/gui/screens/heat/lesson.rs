//! The lesson beside the drawing: its steps, the temper scale, why the face is as it is, and the
//! question with its answer.

use crate::{
    brief::{heat as told, why_hot},
    domain::heat::{Colour, colour_at},
    gui::{
        fonts,
        marks::Icon,
        paint,
        screens::heat::Scene,
        theme,
        widgets::{
            Button, divider, heading, paragraph, section, temper_scale,
            touch::{self, Spoken},
        },
    },
    workbench::{Command, Heat},
};
use egui::{Align2, FontId, Rect, ScrollArea, Sense, Stroke, Ui, UiBuilder, pos2, vec2};

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let count = scene.lesson.steps.len();
    let top = ui.available_rect_before_wrap();
    heading(ui, "Lesson steps", &format!("{} of {count}", scene.desk.step + 1));
    projector(ui, scene, top, asked);
    let whole = ui.available_rect_before_wrap();
    let foot = whole.with_min_y(whole.bottom() - theme::PRIMARY);
    let above = whole.with_max_y(foot.top() - 10.0);
    let mut child = ui.new_child(UiBuilder::new().id_salt("lesson").max_rect(above));
    ScrollArea::vertical().auto_shrink(false).show(&mut child, |ui| {
        for (index, step) in scene.lesson.steps.iter().enumerate() {
            asked.extend(row(ui, scene, index, &step.title));
        }
        if let Some(step) = scene.lesson.steps.get(scene.desk.step) {
            ui.add_space(4.0);
            paragraph(ui, &format!("**{}**", step.question));
            if scene.desk.answer {
                paragraph(ui, &step.answer);
            }
        }
        divider(ui);
        scale(ui, scene);
        divider(ui);
        why(ui, scene);
    });
    buttons(ui, scene, foot, asked);
}

/// Large type over the whole screen, and back; in the corner, since it is tapped once.
fn projector(ui: &mut Ui, scene: &Scene<'_>, top: Rect, asked: &mut Vec<Command>) {
    let word = if scene.desk.large { "Desk size" } else { "Projector" };
    let corner =
        Rect::from_min_size(pos2(top.right() - 92.0, top.top() - 12.0), vec2(100.0, theme::TOUCH));
    let mut child = ui.new_child(UiBuilder::new().id_salt("projector").max_rect(corner));
    if Button::quiet(word).width(100.0).show(&mut child).clicked() {
        asked.push(Command::Heat(Heat::Large(!scene.desk.large)));
    }
}

fn row(ui: &mut Ui, scene: &Scene<'_>, index: usize, title: &str) -> Option<Command> {
    let t = theme::tokens(ui);
    let here = index == scene.desk.step;
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 36.0), Sense::hover());
    let id = ui.make_persistent_id(("step", index));
    let label = format!("step {}, {title}", index + 1);
    let response = touch::tap(ui, rect, id, &Spoken::one_of(&label, here));
    let painter = ui.painter();
    if here {
        painter.rect_filled(rect, theme::RADIUS, t.accent_tint);
    }
    let centre = pos2(rect.left() + 18.0, rect.center().y);
    let number = (index + 1).to_string();
    let font = FontId::new(13.0, fonts::bold());
    if index < scene.desk.step {
        painter.circle_filled(centre, 12.0, t.ink);
        Icon::Check.paint(painter, centre, 16.0, t.field, t);
    } else {
        let (fill, ink) = if here { (t.accent, t.on_accent) } else { (t.field, t.ink) };
        let edge = Stroke::new(1.5, if here { t.accent } else { t.ink });
        painter.circle(centre, 12.0, fill, edge);
        painter.text(centre, Align2::CENTER_CENTER, number, font, ink);
    }
    let font = if here { theme::body_bold() } else { theme::body() };
    let ink = if here { t.ink } else { t.ink2 };
    let title = paint::fitted(painter, title, font, ink, rect.width() - 46.0);
    paint::place(painter, pos2(rect.left() + 40.0, centre.y), Align2::LEFT_CENTER, title);
    touch::focus_ring(ui, &response, rect.shrink(2.0), 4.0);
    response.clicked().then_some(Command::Heat(Heat::Step(index)))
}

fn scale(ui: &mut Ui, scene: &Scene<'_>) {
    section(ui, "Temper colours of steel", "°C");
    let names = Colour::ALL.map(|colour| (colour.starts_c(), told::colour(Some(colour))));
    let face = scene.now().and_then(|it| it.contacts.get(scene.case.contact)).map(|at| at.face_c);
    let name = scene.runs.ask.station.to_string();
    temper_scale(ui, &names, face.map(|c| (c, name.as_str())));
}

fn why(ui: &mut Ui, scene: &Scene<'_>) {
    let t = theme::tokens(ui);
    let Some(sample) = scene.now() else { return };
    let title = format!("Why here? {}", scene.runs.ask.station);
    heading(ui, &title, "");
    let here = why_hot::Here {
        model: &scene.case.model,
        shift: &scene.case.shift,
        sample,
        contact: scene.case.contact,
        line: scene.line,
        range_c: scene.range_c(),
    };
    ui.spacing_mut().item_spacing.y = 3.0;
    for told in why_hot::tell(&here, scene.view.numbers) {
        ui.label(egui::RichText::new(told.title).font(theme::body_bold()).color(t.ink));
        paragraph(ui, &told.text);
        ui.add_space(3.0);
    }
    let coloured =
        sample.contacts.get(scene.case.contact).is_some_and(|at| colour_at(at.face_c).is_some());
    let source = scene.machine.shear.thermal.as_ref().map_or("", |it| &it.source);
    let caveat = if coloured { format!("{} ", told::COLOUR_CAVEAT) } else { String::new() };
    let small = format!("{caveat}{} Values: {source}.", told::ESTIMATE);
    ui.label(egui::RichText::new(small).font(theme::caption()).color(t.ink3));
}

fn buttons(ui: &mut Ui, scene: &Scene<'_>, rect: Rect, asked: &mut Vec<Command>) {
    let mut child = ui.new_child(UiBuilder::new().id_salt("foot").max_rect(rect));
    let (step, answer) = (scene.desk.step, scene.desk.answer);
    child.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        let wide = ui.available_width();
        let word = if answer { "Hide answer" } else { "Show answer" };
        if Button::plain(word)
            .width((wide * 0.45).min(150.0))
            .height(theme::PRIMARY)
            .show(ui)
            .clicked()
        {
            asked.push(Command::Heat(Heat::Answer(!answer)));
        }
        let last = scene.lesson.steps.len() <= step + 1;
        let word = if last { "Next lesson" } else { "Next step" };
        let next = Button::primary(word).after(Icon::Forward).width(ui.available_width());
        if next.show(ui).clicked() {
            asked.push(Command::Heat(if last {
                Heat::Lesson((scene.desk.lesson + 1) % scene.view.lessons.len().max(1))
            } else {
                Heat::Step(step + 1)
            }));
        }
    });
}
