//! One machine: what to do, why, and when to look again.

use crate::{
    brief::{along, yard::MachineBrief},
    domain::{decide::Due, log::FindingKind, machine::ShearId},
    gui::{
        fonts,
        marks::ActionMark,
        meaning::action_mark,
        paint,
        screens::{View, yard::open},
        theme::{self, Tokens},
        widgets::{Spoken, focus_ring, rich_text, tap},
    },
    language::tell,
    workbench::{Command, Screen},
};
use egui::{
    Align2, Color32, FontId, Galley, Id, Painter, Pos2, Rect, Sense, Stroke, StrokeKind, Ui,
    accesskit::Role,
    pos2,
    text::{LayoutJob, TextWrapping},
    vec2,
};
use std::sync::Arc;

const HEIGHT: f32 = 124.0;
/// In a column: where what to do begins, and the height of the buttons below it.
const TOP: f32 = 110.0;
const FOOT: f32 = 60.0;
const MARGIN: f32 = 16.0;
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
    let width = ui.available_width();
    let told = view.is_stacked().then(|| told(ui, view, machine, width - 2.0 * MARGIN));
    let height = told.as_ref().map_or(HEIGHT, |told| TOP + told.tall() + FOOT);
    let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    let rect = rect.shrink2(vec2(3.0, 0.0));
    let id = id(&machine.standing.shear);
    let detail = format!(
        "{}: {}. {}",
        machine.action_word(),
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
    if let Some(told) = told {
        told.paint(ui, machine, rect);
        let foot = rect.with_min_y(rect.bottom() - FOOT).shrink2(vec2(MARGIN - 3.0, 10.0));
        buttons(ui, machine, (foot, 4.0), asked);
    } else {
        words(ui, view, machine, rect.with_max_x(rect.right() - BUTTONS - 12.0));
        let beside = rect.with_min_x(rect.right() - BUTTONS).shrink2(vec2(8.0, 10.0));
        buttons(ui, machine, (beside, 2.0), asked);
    }
    focus_ring(ui, &response, rect, 4.0);
    if response.clicked() {
        open(machine, Screen::Measure, asked);
    }
}

/// Where the words of a machine are written.
struct Page<'p> {
    painter: Painter,
    t: &'static Tokens,
    machine: &'p MachineBrief<'p>,
}

impl<'p> Page<'p> {
    fn new(ui: &Ui, machine: &'p MachineBrief<'p>, rect: Rect) -> Self {
        let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
        Self { painter, t: theme::tokens(ui), machine }
    }

    fn line(&self, text: &str, (font, ink): (FontId, Color32), at: Pos2, room: f32) {
        let galley = paint::shrunk(&self.painter, text, &font, ink, room);
        paint::place(&self.painter, at, Align2::LEFT_CENTER, galley);
    }

    /// What to do, as a mark and a word under it.
    fn sign(&self, corner: Pos2) {
        let (machine, t) = (self.machine, self.t);
        let centre = corner + vec2(50.0, 44.0);
        let mark = if machine.must_measure() {
            ActionMark::Measure
        } else {
            action_mark(machine.standing.action())
        };
        mark.paint(&self.painter, centre, 34.0, t, t.field);
        let word =
            paint::fitted(&self.painter, machine.action_word(), theme::row_action(), t.ink, 84.0);
        paint::place(&self.painter, centre + vec2(0.0, 40.0), Align2::CENTER_CENTER, word);
    }

    /// Which machine, its hours, and when it was measured.
    fn name(&self, corner: Pos2, wide: f32) {
        let (standing, t) = (self.machine.standing, self.t);
        let name = FontId::new(18.0, fonts::bold());
        for (text, look, y) in [
            (&standing.name, (name, t.ink), 26.0),
            (&standing.carrier, (theme::chip(), t.ink2), 50.0),
            (&standing.meter, (theme::chip_bold(), t.ink), 72.0),
            (&self.machine.measured, (theme::caption(), t.ink3), 93.0),
        ] {
            self.line(text, look, corner + vec2(0.0, y), wide);
        }
    }

    /// Hours to a limit.
    fn hours(&self, corner: Pos2, wide: f32) {
        let t = self.t;
        let (large, quiet) = &self.machine.standing.hours;
        let behind = along::is_behind(large);
        let to = if behind { tell!("a working limit") } else { tell!("to a limit") };
        self.line(large, (theme::row_action(), t.ink), corner + vec2(0.0, 34.0), wide);
        self.line(quiet, (theme::chip(), t.ink2), corner + vec2(0.0, 57.0), wide);
        self.line(to, (theme::caption(), t.ink3), corner + vec2(0.0, 76.0), wide);
    }
}

/// What to do and why.
struct Told {
    head: Arc<Galley>,
    reason: Arc<Galley>,
    /// When to look again, or that a visit is open.
    last: (String, Color32),
}

fn told(ui: &Ui, view: &View<'_>, machine: &MachineBrief<'_>, room: f32) -> Told {
    let t = theme::tokens(ui);
    let wrapped = |mut job: LayoutJob, max_rows: usize| {
        job.wrap = TextWrapping { max_width: room, max_rows, ..TextWrapping::default() };
        ui.painter().layout_job(job)
    };
    let head =
        LayoutJob::simple(machine.standing.headline().to_owned(), theme::section(), t.ink, room);
    let reason = rich_text(&machine.standing.reason, theme::body().size, t.ink2, t.ink);
    let last = draft(view, machine).map_or_else(
        || {
            let urgent = matches!(machine.due, Due::AtOnce | Due::ClockWrong);
            (machine.due_words.clone(), if urgent { t.stop } else { t.ink2 })
        },
        |draft| (draft, t.accent),
    );
    // What to do stands whole; why, on Decide as well.
    let head = wrapped(head, 3);
    let reason = wrapped(reason, if head.rows.len() < 3 { 2 } else { 1 });
    Told { head, reason, last }
}

impl Told {
    /// With the line of when to look again.
    fn tall(&self) -> f32 {
        self.head.size().y + 3.0 + self.reason.size().y + 26.0
    }

    /// Under the sign, the name and the hours, in a column.
    fn paint(self, ui: &Ui, machine: &MachineBrief<'_>, rect: Rect) {
        let page = Page::new(ui, machine, rect);
        let (t, hours) = (page.t, rect.right() - 104.0 - MARGIN);
        page.sign(rect.min);
        let x = rect.left() + 102.0;
        page.name(pos2(x, rect.top()), hours - x - 12.0);
        page.hours(pos2(hours, rect.top()), 104.0);
        let (left, top) = (rect.left() + MARGIN - 3.0, rect.top() + TOP);
        let below = top + self.head.size().y + 3.0;
        let foot = below + self.reason.size().y + 15.0;
        page.painter.galley(pos2(left, top), self.head, t.ink);
        page.painter.galley(pos2(left, below), self.reason, t.ink2);
        let room = rect.right() - left - MARGIN;
        let parts = machine.standing.parts.as_ref();
        let apart = if parts.is_some() { 116.0 } else { 0.0 };
        let (last, ink) = self.last;
        page.line(&last, (theme::chip_bold(), ink), pos2(left, foot), room - apart);
        if let Some(parts) = parts {
            page.line(parts, (theme::chip_bold(), t.ink), pos2(hours, foot), 104.0);
        }
    }
}

/// Beside each other: the sign, the name, what to do, and the hours.
fn words(ui: &Ui, view: &View<'_>, machine: &MachineBrief<'_>, rect: Rect) {
    let page = Page::new(ui, machine, rect);
    let t = page.t;
    let narrow = rect.width() < 620.0;
    page.sign(rect.min);
    let x = rect.left() + 102.0;
    let wide = if narrow { 132.0 } else { 176.0 };
    page.name(pos2(x, rect.top()), wide);

    let hours_wide = 104.0;
    let x = x + wide + 14.0;
    let room = rect.right() - x - hours_wide - 14.0;
    let Told { head, reason, last: (last, ink) } = told(ui, view, machine, room);
    let top = rect.top() + 12.0;
    let below = top + head.size().y + 3.0;
    page.painter.galley(pos2(x, top), head, t.ink);
    page.painter.galley(pos2(x, below), reason, t.ink2);
    let wide = if machine.standing.parts.is_some() { room } else { room + hours_wide };
    page.line(&last, (theme::chip_bold(), ink), pos2(x, rect.bottom() - 20.0), wide);

    let x = rect.right() - hours_wide;
    page.hours(pos2(x, rect.top()), hours_wide);
    if let Some(parts) = &machine.standing.parts {
        page.line(parts, (theme::chip_bold(), t.ink), pos2(x, rect.bottom() - 20.0), hours_wide);
    }
}

/// An open visit: `7 of 17 measured, not signed: go on`.
fn draft(view: &View<'_>, machine: &MachineBrief<'_>) -> Option<String> {
    let visit = view.bench.visit_to(&machine.standing.shear)?;
    let done = visit.session.readings.len();
    let all = view.bench.yard().machine(&machine.standing.shear)?.shear.walk().len();
    (0 < done).then(|| tell!("{done} of {all} measured, not signed: go on", done, all))
}

/// Four small buttons in so many columns.
fn buttons(
    ui: &Ui,
    machine: &MachineBrief<'_>,
    (area, columns): (Rect, f32),
    asked: &mut Vec<Command>,
) {
    let name = &machine.standing.name;
    let rows = 4.0 / columns;
    let go = |screen| (Some(screen), None);
    let report = |kind| (None, Some(kind));
    let cells = [
        (tell!("Decide"), go(Screen::Decide), 0.0),
        (tell!("Trend"), go(Screen::Trend), 1.0),
        (tell!("Jam"), report(FindingKind::Jam), 2.0),
        (tell!("Chatter"), report(FindingKind::Chatter), 3.0),
    ];
    let size = (area.size() + vec2(8.0, 8.0)) / vec2(columns, rows) - vec2(8.0, 8.0);
    for (word, (screen, kind), place) in cells {
        let at = vec2(place % columns, f32::floor(place / columns));
        let cell = Rect::from_min_size(area.min + at * (size + vec2(8.0, 8.0)), size);
        if small(ui, cell, word, name) {
            if let Some(screen) = screen {
                open(machine, screen, asked);
            }
            if let Some(kind) = kind {
                // The machine beside the list is the one the keyboard is on.
                ui.memory_mut(|it| it.request_focus(id(&machine.standing.shear)));
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
