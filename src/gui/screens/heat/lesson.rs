//! The lesson beside the drawing: its steps, the temper scale, why the face is as it is, and the
//! question with its answer.

use crate::{
    brief::{heat as told, why_force, why_hot},
    domain::heat::{BARE_C, Colour, Picture, colour_at, seen},
    gui::{
        fonts,
        marks::Icon,
        paint,
        screens::heat::{Scene, next},
        theme,
        widgets::{
            Button, divider, heading, paragraph, scrolls, section, temper_scale,
            touch::{self, Spoken},
        },
    },
    language::{self, tell},
    workbench::{Command, Heat},
};
use egui::{Align2, FontId, Rect, ScrollArea, Sense, Stroke, Ui, UiBuilder, pos2, vec2};

/// The lesson in a room, over its buttons.
pub(super) fn show_over(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let whole = ui.available_rect_before_wrap();
    let foot = whole.with_min_y(whole.bottom() - theme::PRIMARY);
    let above = whole.with_max_y(foot.top() - 10.0);
    show(&mut ui.new_child(UiBuilder::new().id_salt("over").max_rect(above)), scene, asked);
    buttons(&mut ui.new_child(UiBuilder::new().id_salt("foot").max_rect(foot)), scene, asked);
}

/// Its steps, the question, and the reasons.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let count = scene.lesson.steps.len();
    let top = ui.available_rect_before_wrap();
    heading(
        ui,
        tell!("Lesson steps"),
        &tell!("{step} of {count}", step = scene.desk.step + 1, count),
    );
    projector(ui, scene, top, asked);
    scrolls(ui, ScrollArea::vertical().id_salt("lesson").auto_shrink(false), |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        for (index, step) in scene.lesson.steps.iter().enumerate() {
            asked.extend(row(ui, scene, index, language::known(&step.title)));
        }
        ui.spacing_mut().item_spacing.y = 5.0;
        if let Some(step) = scene.lesson.steps.get(scene.desk.step) {
            ui.add_space(4.0);
            paragraph(ui, &format!("**{}**", language::known(&step.question)));
            if scene.desk.answer {
                paragraph(ui, language::known(&step.answer));
            }
        }
        divider(ui);
        match scene.lesson.picture {
            Picture::Heat => {
                scale(ui, scene, tell!("°C · tap what you see"), asked);
                divider(ui);
                why(ui, scene);
            }
            Picture::Force => why_force(ui, scene),
        }
    });
}

/// The step alone, for a projector.
pub(super) fn show_projected(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let Some(step) = scene.lesson.steps.get(scene.desk.step) else { return };
    let (count, top) = (scene.lesson.steps.len(), ui.available_rect_before_wrap());
    let title = tell!(
        "{title} · {step} of {count}",
        title = language::known(&scene.lesson.title),
        step = scene.desk.step + 1,
        count
    );
    heading(ui, &title, "");
    projector(ui, scene, top, asked);
    let whole = ui.available_rect_before_wrap();
    let foot = whole.with_min_y(whole.bottom() - theme::TOUCH);
    let above = whole.with_max_y(foot.top() - 6.0);
    let mut child = ui.new_child(UiBuilder::new().id_salt("step").max_rect(above));
    ScrollArea::vertical().auto_shrink(false).show(&mut child, |ui| {
        let t = theme::tokens(ui);
        let font = FontId::new(18.0, fonts::bold());
        ui.label(egui::RichText::new(language::known(&step.question)).font(font).color(t.ink));
        if scene.desk.answer {
            ui.add_space(2.0);
            let font = FontId::new(17.0, fonts::regular());
            ui.label(egui::RichText::new(language::known(&step.answer)).font(font).color(t.ink));
        }
    });
    buttons(&mut ui.new_child(UiBuilder::new().id_salt("foot").max_rect(foot)), scene, asked);
}

/// The step with its answer and the reasons, for a page.
pub(super) fn show_on_page(ui: &mut Ui, scene: &Scene<'_>) {
    let Some(step) = scene.lesson.steps.get(scene.desk.step) else { return };
    let count = scene.lesson.steps.len();
    heading(
        ui,
        language::known(&step.title),
        &tell!("step {step} of {count}", step = scene.desk.step + 1, count),
    );
    ui.spacing_mut().item_spacing.y = 5.0;
    paragraph(ui, &format!("**{}**", language::known(&step.question)));
    paragraph(ui, language::known(&step.answer));
    divider(ui);
    match scene.lesson.picture {
        Picture::Heat => {
            scale(ui, scene, "°C", &mut Vec::new());
            divider(ui);
            why(ui, scene);
        }
        Picture::Force => why_force(ui, scene),
    }
}

/// Large type over the whole screen, and back; in the corner, since it is tapped once.
fn projector(ui: &mut Ui, scene: &Scene<'_>, top: Rect, asked: &mut Vec<Command>) {
    let word = if scene.desk.large { tell!("Desk size") } else { tell!("Projector") };
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
    let label = tell!("step {index}, {title}", index = index + 1, title);
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

fn scale(ui: &mut Ui, scene: &Scene<'_>, note: &str, asked: &mut Vec<Command>) {
    section(ui, tell!("Temper colours"), note);
    let names = Colour::ALL.map(|colour| (colour.starts_c(), told::colour(Some(colour))));
    let face = scene.now().and_then(|it| it.contacts.get(scene.case.contact)).map(|at| at.face_c);
    let name = scene.runs.ask.station.to_string();
    let chosen = scene.desk.seen.and_then(|seen| Colour::ALL.iter().position(|it| *it == seen));
    let tapped = temper_scale(ui, &names, face.map(|c| (c, name.as_str())), chosen);
    if let Some(colour) = tapped.and_then(|index| Colour::ALL.get(index)) {
        let seen = (scene.desk.seen != Some(*colour)).then_some(*colour);
        asked.push(Command::Heat(Heat::Seen(seen)));
    }
    let case = scene.case;
    let read = scene.desk.seen.and_then(|colour| {
        let low_c = colour.band().low_c;
        let least = case.model.parts_when(&case.shift, case.contact, low_c, scene.line)?;
        seen(scene.line, colour, &least)
    });
    if let Some(read) = read {
        let text = told::seen(&read, scene.runs.ask.gap_mm, scene.view.numbers);
        paragraph(
            ui,
            &tell!(
                "If you see it at **{name}**: {text} {colour_caveat}",
                name,
                text,
                colour_caveat = language::told(told::COLOUR_CAVEAT)
            ),
        );
    }
}

fn why(ui: &mut Ui, scene: &Scene<'_>) {
    let t = theme::tokens(ui);
    let Some(sample) = scene.now() else { return };
    let title = tell!("Why here? {station}", station = scene.runs.ask.station);
    heading(ui, &title, "");
    let stalled = scene.machine.shear.thermal.as_ref().and_then(|thermal| {
        let plate = (&scene.case.model, scene.runs.ask.work.plate_mm);
        told::stalled(&scene.machine.shear, thermal, plate, scene.view.numbers)
    });
    if let Some(text) = stalled {
        let title = tell!("The plate stalls the jaw");
        paragraphs(ui, &[why_hot::Paragraph { title, text }]);
    }
    let here = why_hot::Here {
        model: &scene.case.model,
        shift: &scene.case.shift,
        sample,
        contact: scene.case.contact,
        line: scene.line,
        range_c: scene.range_c(),
    };
    paragraphs(ui, &why_hot::tell(&here, scene.view.numbers));
    if let Some(advice) = scene.runs.advice {
        let (line, place) = (scene.line.id, language::known(&scene.line.place));
        let set_min = scene.line.limits.set().min.mm();
        let text =
            told::lowest_gap(line, place, advice.lowest_mm, (BARE_C, set_min), scene.view.numbers);
        ui.label(egui::RichText::new(tell!("For this work")).font(theme::body_bold()).color(t.ink));
        paragraph(ui, &format!("**{text}**"));
        ui.add_space(3.0);
    }
    let coloured = sample
        .contacts
        .get(scene.case.contact)
        .is_some_and(|at| colour_at(at.hottest_so_far_c).is_some());
    let source = scene.machine.shear.thermal.as_ref().map_or("", |it| language::known(&it.source));
    let caveat =
        if coloured { format!("{} ", language::told(told::COLOUR_CAVEAT)) } else { String::new() };
    let small = tell!(
        "{caveat}{estimate} Values: {source}.",
        caveat,
        estimate = language::told(told::ESTIMATE),
        source
    );
    ui.label(egui::RichText::new(small).font(theme::caption()).color(t.ink3));
}

/// The same for the force at the station.
fn why_force(ui: &mut Ui, scene: &Scene<'_>) {
    let station = scene.runs.ask.station;
    let from_pivot = scene.machine.shear.station(station).map(|it| it.from_pivot);
    let thermal = scene.machine.shear.thermal.as_ref();
    let Some((from_pivot, thermal)) = from_pivot.zip(thermal) else { return };
    heading(ui, &tell!("Why here? {station}", station), "");
    let n = scene.view.numbers;
    paragraphs(ui, &why_force::tell(thermal, from_pivot, scene.runs.ask.work.plate_mm, n));
    let small = tell!("Values: {source}.", source = language::known(&thermal.source));
    let t = theme::tokens(ui);
    ui.label(egui::RichText::new(small).font(theme::caption()).color(t.ink3));
}

fn paragraphs(ui: &mut Ui, told: &[why_hot::Paragraph]) {
    let t = theme::tokens(ui);
    ui.spacing_mut().item_spacing.y = 3.0;
    for told in told {
        ui.label(egui::RichText::new(told.title).font(theme::body_bold()).color(t.ink));
        paragraph(ui, &told.text);
        ui.add_space(3.0);
    }
}

/// As high as the room.
pub(super) fn buttons(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let tall = ui.available_height();
    let (step, answer) = (scene.desk.step, scene.desk.answer);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        let wide = ui.available_width();
        let word = if answer { tell!("Hide answer") } else { tell!("Show answer") };
        let show = Button::plain(word).width((wide * 0.41).min(150.0)).height(tall);
        if show.show(ui).clicked() {
            asked.push(Command::Heat(Heat::Answer(!answer)));
        }
        let last = scene.lesson.steps.len() <= step + 1;
        let word = if last { tell!("Next lesson") } else { tell!("Next step") };
        let primary = Button::primary(word).after(Icon::Forward).height(tall);
        if primary.width(ui.available_width()).show(ui).clicked() {
            asked.push(Command::Heat(next(scene)));
        }
    });
}
