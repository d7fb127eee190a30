//! What the readings say so far: two drawings, one plain conclusion, and the numbers.

use crate::{
    brief::study::{
        StudyBrief, UNKNOWN,
        walk::{BLIND, Panel, picture},
    },
    gui::{
        paint,
        screens::study::Desk,
        theme,
        widgets::{
            StudyColumn, StudyPicture, divider, heading, paragraph, rich_text, say, scrolls,
        },
    },
    language::{self, tell},
    workbench::Cell,
};
use egui::{Align2, Rect, RichText, ScrollArea, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

pub(super) fn show(ui: &mut Ui, desk: &Desk<'_>) {
    let Some(found) = desk.found.as_ref().filter(|_| desk.done() == desk.walk.len()) else {
        blind(ui, desk);
        return;
    };
    let room = ui.available_height();
    let height = if room.is_finite() { (room * 0.46).clamp(180.0, 420.0) } else { 220.0 };
    let told = picture(&found.table, desk.view.numbers);
    let gap = 20.0;
    let width = ((ui.available_width() - gap) / 2.0).max(0.0);
    heading(ui, tell!("What we found"), &found.brief.size);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = gap;
        for panel in [&told.by_part, &told.by_person] {
            draw(ui, panel, vec2(width, height));
        }
    });
    divider(ui);
    scrolls(ui, ScrollArea::vertical().id_salt("numbers"), |ui| {
        words(ui, &found.brief);
        ui.add_space(6.0);
        numbers(ui, &found.brief);
        let t = theme::tokens(ui);
        for note in &found.brief.notes {
            ui.label(RichText::new(note).font(theme::caption()).color(t.ink3));
        }
    });
}

/// Who has measured what, and nothing of what was read: whoever sees another's reading repeats it.
fn blind(ui: &mut Ui, desk: &Desk<'_>) {
    let t = theme::tokens(ui);
    heading(
        ui,
        tell!("Measured so far"),
        &tell!("{done} of {walk}", done = desk.done(), walk = desk.walk.len()),
    );
    paragraph(ui, language::told(BLIND));
    paragraph(ui, tell!("What was found is shown when everything is measured."));
    ui.add_space(6.0);
    scrolls(ui, ScrollArea::vertical().id_salt("so far"), |ui| {
        for station in &desk.study.stations {
            let (rect, _) =
                ui.allocate_exact_size(vec2(ui.available_width(), 34.0), Sense::hover());
            let painter = ui.painter();
            let (mut x, y) = (rect.left(), rect.center().y);
            let name = station.to_string();
            painter.text(pos2(x, y), Align2::LEFT_CENTER, &name, theme::body_bold(), t.ink);
            x += 52.0;
            let mut spoken = vec![name.clone()];
            for (person, initials) in desk.study.people.iter().enumerate() {
                let font = theme::body();
                let said = painter.text(pos2(x, y), Align2::LEFT_CENTER, initials, font, t.ink2);
                x = said.right() + 8.0;
                let mut done = 0;
                for trial in 1..=desk.study.trials {
                    let cell = Cell { station: *station, person, trial };
                    let square = Rect::from_center_size(pos2(x + 8.0, y), vec2(15.0, 15.0));
                    if desk.study.readings.contains_key(&cell) {
                        painter.rect_filled(square, 2.0, t.ok);
                        done += 1;
                    } else {
                        let edge = Stroke::new(1.0, t.edge);
                        painter.rect_stroke(square, 2.0, edge, StrokeKind::Inside);
                    }
                    x += 21.0;
                }
                x += 18.0;
                spoken.push(tell!(
                    "{initials} {done} of {trials}",
                    initials,
                    done,
                    trials = desk.study.trials
                ));
            }
            say(ui, rect, ("so far", &name), &spoken.join(", "));
        }
    });
}

fn words(ui: &mut Ui, brief: &StudyBrief) {
    let t = theme::tokens(ui);
    let large = theme::section().size;
    ui.label(rich_text(&brief.conclusion, large, t.ink, t.ink));
    for advice in &brief.advice {
        paragraph(ui, advice);
    }
}

fn draw(ui: &mut Ui, panel: &Panel, size: egui::Vec2) {
    let columns: Vec<StudyColumn<'_>> = panel
        .columns
        .iter()
        .map(|column| StudyColumn {
            name: &column.name,
            groups: column
                .groups
                .iter()
                .map(|group| group.iter().map(|bar| bar.map(paint::screen)).collect())
                .collect(),
            mean: paint::screen(column.mean),
        })
        .collect();
    let ticks: Vec<(f32, &str)> =
        panel.ticks.iter().map(|(at, number)| (paint::screen(*at), number.as_str())).collect();
    StudyPicture {
        title: panel.title,
        note: &panel.note,
        columns: &columns,
        ticks: &ticks,
        name: &panel.spoken,
    }
    .show(ui, size);
}

/// The rows by variances; the other method is for the command line.
fn numbers(ui: &mut Ui, brief: &StudyBrief) {
    let t = theme::tokens(ui);
    // While the table fills, most of it cannot be said yet.
    for row in brief.rows.iter().filter(|row| row.anova.0 != UNKNOWN) {
        let width = ui.available_width().clamp(0.0, 520.0);
        let (rect, _) = ui.allocate_exact_size(vec2(width, 22.0), Sense::hover());
        let painter = ui.painter();
        let y = rect.center().y;
        let (value, share) = &row.anova;
        painter.text(
            rect.left_center(),
            Align2::LEFT_CENTER,
            row.symbol,
            theme::chip_bold(),
            t.ink2,
        );
        let name = paint::fitted(painter, row.name, theme::body(), t.ink2, width - 250.0);
        paint::place(painter, pos2(rect.left() + 50.0, y), Align2::LEFT_CENTER, name);
        let at = pos2(rect.right() - 80.0, y);
        painter.text(at, Align2::RIGHT_CENTER, value, theme::body_bold(), t.ink);
        painter.text(rect.right_center(), Align2::RIGHT_CENTER, share, theme::body(), t.ink2);
        let spoken = format!("{}: {value} {share}", row.name);
        say(ui, rect, ("study row", row.symbol), spoken.trim_end());
    }
}
