//! One machine: what to do, why, and when to look again.

use crate::{
    brief::{along, yard::MachineBrief},
    domain::{decide::Due, log::FindingKind, machine::ShearId},
    gui::{
        fonts,
        meaning::action_mark,
        paint,
        screens::{View, yard::open},
        theme,
        widgets::{Spoken, focus_ring, rich_text, tap},
    },
    language::tell,
    workbench::{Command, Screen},
};
use egui::{
    Align2, FontId, Id, Rect, Sense, Stroke, StrokeKind, Ui,
    accesskit::Role,
    text::{LayoutJob, TextWrapping},
    vec2,
};

const HEIGHT: f32 = 124.0;
/// Two small buttons beside each other at the right.
const BUTTONS: f32 = 184.0;

/// The row of a machine, to ask for the keyboard.
pub(super) fn id(shear: &ShearId) -> Id {
    Id::unique(("machine", shear.as_str()))
}

pub(super) fn show(
    ui: &mut Ui,
    view: &View<'_>,
    machine: &MachineBrief<'_>,
    asked: &mut Vec<Command>,
) {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), HEIGHT), Sense::hover());
    let rect = rect.shrink2(vec2(3.0, 0.0));
    let id = id(&machine.standing.shear);
    let detail = format!(
        "{}: {}. {}",
        machine.standing.action_word(),
        machine.standing.headline(),
        machine.due_words
    );
    let detail = match &machine.standing.parts {
        Some(parts) => format!("{detail} {parts}."),
        None => detail,
    };
    let response = tap(
        ui,
        rect,
        id,
        &Spoken { role: Role::Button, ..Spoken::button(&machine.standing.name) }.with(&detail),
    );
    let in_hand = view.bench.machine().is_some_and(|it| it.shear.id == machine.standing.shear);
    let edge = if response.hovered() { t.ink2 } else { t.edge };
    ui.painter().rect(rect, theme::RADIUS, t.field, Stroke::new(1.0, edge), StrokeKind::Inside);
    if in_hand {
        let bar = Rect::from_min_size(rect.min, vec2(5.0, rect.height()));
        ui.painter().rect_filled(bar, theme::RADIUS, t.accent);
    }
    let told = rect.with_max_x(rect.right() - BUTTONS - 12.0);
    words(ui, view, machine, told);
    buttons(ui, machine, rect, asked);
    focus_ring(ui, &response, rect, 4.0);
    if response.clicked() {
        open(machine, Screen::Measure, asked);
    }
}

fn words(ui: &Ui, view: &View<'_>, machine: &MachineBrief<'_>, rect: Rect) {
    let t = theme::tokens(ui);
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let narrow = rect.width() < 620.0;
    let line = |text: &str, font: FontId, ink, at: egui::Pos2, room: f32| {
        let galley = paint::shrunk(&painter, text, &font, ink, room);
        paint::place(&painter, at, Align2::LEFT_CENTER, galley)
    };
    let mark = action_mark(machine.standing.action());
    let centre = egui::pos2(rect.left() + 50.0, rect.top() + 44.0);
    mark.paint(&painter, centre, 34.0, t, t.field);
    let word =
        paint::fitted(&painter, machine.standing.action_word(), theme::row_action(), t.ink, 84.0);
    paint::place(&painter, egui::pos2(centre.x, rect.top() + 84.0), Align2::CENTER_CENTER, word);

    let x = rect.left() + 102.0;
    let wide = if narrow { 132.0 } else { 176.0 };
    let name = FontId::new(18.0, fonts::bold());
    line(&machine.standing.name, name, t.ink, egui::pos2(x, rect.top() + 26.0), wide);
    line(&machine.standing.carrier, theme::chip(), t.ink2, egui::pos2(x, rect.top() + 50.0), wide);
    line(
        &machine.standing.meter,
        theme::chip_bold(),
        t.ink,
        egui::pos2(x, rect.top() + 72.0),
        wide,
    );
    line(&machine.measured, theme::caption(), t.ink3, egui::pos2(x, rect.top() + 93.0), wide);

    let hours_wide = 104.0;
    let x = x + wide + 14.0;
    let room = rect.right() - x - hours_wide - 14.0;
    let wrapped = |mut job: LayoutJob, max_rows: usize| {
        job.wrap = TextWrapping { max_width: room, max_rows, ..TextWrapping::default() };
        painter.layout_job(job)
    };
    let head =
        LayoutJob::simple(machine.standing.headline().to_owned(), theme::section(), t.ink, room);
    let head = wrapped(head, 2);
    let reason = rich_text(&machine.standing.reason, theme::body().size, t.ink2, t.ink);
    let reason = wrapped(reason, 2);
    let top = rect.top() + 12.0;
    let below = top + head.size().y + 3.0;
    painter.galley(egui::pos2(x, top), head, t.ink);
    painter.galley(egui::pos2(x, below), reason, t.ink2);
    let (last, ink) = draft(view, machine).map_or_else(
        || {
            let urgent = matches!(machine.due, Due::AtOnce | Due::ClockWrong);
            (machine.due_words.clone(), if urgent { t.stop } else { t.ink2 })
        },
        |draft| (draft, t.accent),
    );
    let wide = if machine.standing.parts.is_some() { room } else { room + hours_wide };
    line(&last, theme::chip_bold(), ink, egui::pos2(x, rect.bottom() - 20.0), wide);

    let x = rect.right() - hours_wide;
    let (large, quiet) = &machine.standing.hours;
    line(large, theme::row_action(), t.ink, egui::pos2(x, rect.top() + 34.0), hours_wide);
    line(quiet, theme::chip(), t.ink2, egui::pos2(x, rect.top() + 57.0), hours_wide);
    let to = if along::is_behind(large) { tell!("a working limit") } else { tell!("to a limit") };
    line(to, theme::caption(), t.ink3, egui::pos2(x, rect.top() + 76.0), hours_wide);
    if let Some(parts) = &machine.standing.parts {
        line(parts, theme::chip_bold(), t.ink, egui::pos2(x, rect.bottom() - 20.0), hours_wide);
    }
}

/// An open visit: `7 of 17 measured, not signed: go on`.
fn draft(view: &View<'_>, machine: &MachineBrief<'_>) -> Option<String> {
    let visit = view.bench.visit_to(&machine.standing.shear)?;
    let done = visit.session.readings.len();
    let all = view.bench.yard().machine(&machine.standing.shear)?.shear.walk().len();
    (0 < done).then(|| tell!("{done} of {all} measured, not signed: go on", done, all))
}

fn buttons(ui: &Ui, machine: &MachineBrief<'_>, rect: Rect, asked: &mut Vec<Command>) {
    let name = &machine.standing.name;
    let area = rect.with_min_x(rect.right() - BUTTONS).shrink2(vec2(8.0, 10.0));
    let go = |screen| (Some(screen), None);
    let report = |kind| (None, Some(kind));
    let cells = [
        (tell!("Decide"), go(Screen::Decide), [0.0, 0.0]),
        (tell!("Trend"), go(Screen::Trend), [1.0, 0.0]),
        (tell!("Jam"), report(FindingKind::Jam), [0.0, 1.0]),
        (tell!("Chatter"), report(FindingKind::Chatter), [1.0, 1.0]),
    ];
    for (word, (screen, kind), [column, row]) in cells {
        let size = vec2((area.width() - 8.0) / 2.0, (area.height() - 8.0) / 2.0);
        let cell = Rect::from_min_size(
            area.min + vec2(column * (size.x + 8.0), row * (size.y + 8.0)),
            size,
        );
        if small(ui, cell, word, name) {
            if let Some(screen) = screen {
                open(machine, screen, asked);
            }
            if let Some(kind) = kind {
                asked.push(Command::ChooseMachine(machine.standing.shear.clone()));
                asked.push(Command::ReportNow(kind));
            }
        }
    }
}

fn small(ui: &Ui, rect: Rect, word: &str, machine: &str) -> bool {
    let t = theme::tokens(ui);
    let label = format!("{word}, {machine}");
    let response = tap(ui, rect, ui.make_persistent_id(("row", &label)), &Spoken::button(&label));
    let pressed = response.is_pointer_button_down_on();
    let fill = if pressed { t.accent_tint } else { t.paper };
    let edge = if response.hovered() { Stroke::new(1.5, t.ink2) } else { Stroke::new(1.0, t.edge) };
    ui.painter().rect(rect, theme::RADIUS, fill, edge, StrokeKind::Inside);
    let font = FontId::new(13.0, fonts::bold());
    let galley = paint::shrunk(ui.painter(), word, &font, t.ink, rect.width() - 8.0);
    paint::place(ui.painter(), rect.center(), Align2::CENTER_CENTER, galley);
    focus_ring(ui, &response, rect, 4.0);
    response.clicked()
}
