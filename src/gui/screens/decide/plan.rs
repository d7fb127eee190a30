//! The plan of the next shutdown: now, then, what to order, and what other times would cost.
//!
//! A tap on another time overrules the plan for that line; the job sheet says so.

use crate::{
    brief::plan::{ChoiceBrief, LinePlanBrief, PlanBrief},
    domain::decide::LineDecision,
    gui::{
        meaning::job_mark,
        paint,
        screens::decide::{Scene, sheet::fine_print, within},
        theme,
        widgets::{
            focus_ring, paragraph, rich_text,
            touch::{self, Spoken},
        },
    },
    language::tell,
    workbench::{Command, Decide},
};
use egui::{Align2, Rect, Sense, Stroke, StrokeKind, Ui, pos2, text::TextWrapping, vec2};

/// Where the words of a row begin: right of its mark.
const WORDS: f32 = 58.0;

/// Shows the plan over the width at hand.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, plan: &PlanBrief) -> Vec<Command> {
    let mut asked = Vec::new();
    summary(ui, plan);
    for line in &plan.lines {
        let Some(decision) = scene.decision.line(line.line) else { continue };
        asked.extend(row(ui, scene, decision, line));
    }
    let edge = Stroke::new(1.0, theme::tokens(ui).line);
    let width = ui.available_width();
    let (rule, _) = ui.allocate_exact_size(vec2(width, 10.0), Sense::hover());
    paint::level(ui.painter(), rule.left()..=rule.right(), rule.top(), edge);
    within(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 5.0;
        for words in plan.weld.iter().chain([&plan.total]) {
            paragraph(ui, words);
        }
        fine_print(ui, &plan.notes.join(" "));
        ui.add_space(8.0);
    });
    asked
}

/// Now, the next planned shutdown and the order, side by side.
fn summary(ui: &mut Ui, plan: &PlanBrief) {
    let t = theme::tokens(ui);
    let room = ui.available_width();
    let shutdown = tell!("Next shutdown, {shutdown_in}", shutdown_in = plan.shutdown_in);
    let order = plan
        .short
        .map_or_else(|| tell!("Order").to_owned(), |short| tell!("Order · {short}", short));
    let cells =
        [(tell!("Now"), &plan.now), (shutdown.as_str(), &plan.shutdown), (&order, &plan.order)];
    let each = room / 3.0;
    let laid: Vec<_> = cells
        .iter()
        .map(|(caption, words)| {
            let caption =
                paint::fitted(ui.painter(), *caption, theme::caption(), t.ink3, each - 24.0);
            let mut job = rich_text(&format!("**{words}**"), theme::section().size, t.ink2, t.ink);
            job.wrap = TextWrapping::wrap_at_width(each - 28.0);
            (caption, ui.painter().layout_job(job))
        })
        .collect();
    let tall = laid.iter().map(|(_, words)| words.size().y).fold(20.0, f32::max) + 42.0;
    let (rect, _) = ui.allocate_exact_size(vec2(room, tall), Sense::hover());
    for (((caption, words), (name, said)), place) in laid.into_iter().zip(&cells).zip(0_u8..) {
        let left = rect.left() + each * f32::from(place);
        let cell = Rect::from_min_size(pos2(left, rect.top()), vec2(each, tall));
        let painter = ui.painter();
        if 0 < place {
            let edge = Stroke::new(1.0, t.line);
            paint::upright(painter, left, rect.top() + 10.0..=rect.bottom() - 10.0, edge);
        }
        let at = cell.min + vec2(16.0, 12.0);
        painter.galley(at, caption, t.ink3);
        painter.galley(at + vec2(0.0, 18.0), words, t.ink);
        touch::say(ui, cell, ("plan", place), &format!("{name}: {said}"));
    }
}

/// One line: what, when and why, and the times that can be chosen.
fn row(
    ui: &mut Ui,
    scene: &Scene<'_>,
    decision: &LineDecision,
    line: &LinePlanBrief,
) -> Option<Command> {
    let t = theme::tokens(ui);
    let width = ui.available_width();
    let room = width - WORDS - 16.0;
    let lay = |ui: &Ui, text: &str, size: f32, ink, room| {
        let mut job = rich_text(text, size, ink, t.ink);
        job.wrap = TextWrapping::wrap_at_width(room);
        ui.painter().layout_job(job)
    };
    let work = line.work.as_deref().unwrap_or_default();
    let work = lay(ui, work, theme::body().size, t.ink2, room);
    let place = format!("**{}**  **{}**", line.line, line.place);
    let place = lay(ui, &place, theme::section().size, t.ink, room - work.size().x - 12.0);
    let costs = line.costs.as_deref().filter(|_| line.choices.is_empty()).unwrap_or_default();
    let words = format!("{} {costs}", line.text);
    let words = lay(ui, words.trim_end(), theme::body().size, t.ink2, room);
    let chips = if line.choices.is_empty() { 0.0 } else { theme::TOUCH + 8.0 };
    let tall = 24.0 + place.size().y + 4.0 + words.size().y + chips;
    let (rect, _) = ui.allocate_exact_size(vec2(width, tall), Sense::hover());
    let chosen = line.line == scene.chosen;
    let name = tell!(
        "plan {line} {place}: {text}",
        line = line.line,
        place = line.place,
        text = line.text
    );
    let id = ui.make_persistent_id(("plan", line.line));
    let response = touch::tap(ui, rect, id, &Spoken::one_of(&name, chosen));
    let painter = ui.painter();
    if chosen {
        painter.rect_filled(rect, 0.0, t.field);
        painter.rect_filled(rect.with_max_x(rect.left() + 6.0), 0.0, t.accent);
    }
    let edge = Stroke::new(1.0, t.line);
    paint::level(painter, rect.left()..=rect.right(), rect.top(), edge);
    let ground = if chosen { t.field } else { t.paper };
    job_mark(decision).paint(painter, rect.min + vec2(34.0, 26.0), 26.0, t, ground);
    let at = rect.min + vec2(WORDS, 12.0);
    let below = at + vec2(0.0, place.size().y + 4.0);
    paint::place(painter, pos2(rect.right() - 16.0, at.y), Align2::RIGHT_TOP, work);
    painter.galley(at, place, t.ink);
    let foot = below.y + words.size().y + 8.0;
    painter.galley(below, words, t.ink2);
    focus_ring(ui, &response, rect.shrink(4.0), 3.0);
    let area = Rect::from_min_max(pos2(at.x, foot), pos2(rect.right() - 16.0, foot + theme::TOUCH));
    let chip = choices(ui, area, line);
    let tapped = response.clicked() && !chosen && chip.is_none();
    chip.or_else(|| tapped.then_some(Command::ChooseLine(line.line)))
}

/// Every time at which the work can be done, with the hours it loses.
fn choices(ui: &Ui, area: Rect, line: &LinePlanBrief) -> Option<Command> {
    let count = u8::try_from(line.choices.len()).ok().filter(|count| 0 < *count)?;
    let gap = 8.0;
    let each = ((area.width() + gap) / f32::from(count) - gap).min(188.0);
    let mut asked = None;
    for (choice, place) in line.choices.iter().zip(0_u8..) {
        let left = area.left() + f32::from(place) * (each + gap);
        let cell = Rect::from_min_size(pos2(left, area.top()), vec2(each, area.height()));
        if chip(ui, cell, line, choice) && !choice.taken {
            // Back to the plan's own time is no choice of anybody.
            let other = choice.choice.filter(|_| !choice.planned);
            asked = Some(Command::Decide(Decide::Choose(line.line, other)));
        }
    }
    asked
}

fn chip(ui: &Ui, cell: Rect, line: &LinePlanBrief, choice: &ChoiceBrief) -> bool {
    let t = theme::tokens(ui);
    let label = tell!(
        "{line} {choice}, {lost} lost",
        line = line.line,
        choice = choice.words,
        lost = choice.lost
    );
    let spoken = Spoken::one_of(&label, choice.taken);
    let response = touch::tap(ui, cell, ui.make_persistent_id(&label), &spoken);
    let painter = ui.painter();
    let (fill, edge) = if choice.taken {
        (t.accent_tint, Stroke::new(theme::CHOSEN, t.accent))
    } else {
        (t.field, Stroke::new(1.0, t.edge))
    };
    painter.rect(cell, theme::RADIUS, fill, edge, StrokeKind::Inside);
    let room = cell.width() - 16.0;
    let words = if choice.planned {
        tell!("{choice} · the plan", choice = choice.words)
    } else {
        choice.words.clone()
    };
    let words = paint::fitted(painter, words, theme::caption(), t.ink2, room);
    let lost = tell!("{lost} lost", lost = choice.lost);
    let lost = paint::fitted(painter, lost, theme::body_bold(), t.ink, room);
    let middle = cell.center();
    paint::place(painter, middle - vec2(0.0, 9.0), Align2::CENTER_CENTER, words);
    paint::place(painter, middle + vec2(0.0, 9.0), Align2::CENTER_CENTER, lost);
    focus_ring(ui, &response, cell, 4.0);
    response.clicked()
}
