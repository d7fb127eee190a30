//! The machine that the keyboard is on, or the most urgent one: what to do with each line.

use crate::{
    brief::{
        service as service_brief, words,
        yard::{LineRow, MachineBrief},
    },
    domain::{decide::service, machine::Shear},
    gui::{
        marks::Icon,
        meaning::row_mark,
        paint,
        screens::{View, yard::open},
        theme,
        widgets::{Button, divider, heading, say, section},
    },
    language::{self, tell},
    workbench::{Command, Screen},
};
use egui::{Align2, RichText, Sense, Ui, pos2, vec2};

pub(super) fn show(
    ui: &mut Ui,
    view: &View<'_>,
    machine: Option<&MachineBrief<'_>>,
    asked: &mut Vec<Command>,
) {
    let told = machine.and_then(|machine| {
        Some((machine, &view.bench.yard().machine(&machine.standing.shear)?.shear))
    });
    let Some((machine, shear)) = told else {
        let none = view.bench.yard().machines.is_empty();
        heading(ui, if none { tell!("Nothing to do yet") } else { tell!("Not read yet") }, "");
        return;
    };
    let name = &machine.standing.name;
    let t = theme::tokens(ui);
    heading(ui, &tell!("What to do with {name}", name), "");
    divider(ui);
    for row in &machine.standing.lines {
        line(ui, row);
    }
    divider(ui);
    due(ui, view, shear);
    let source = shear.lines.first().map_or("", |line| language::known(line.limits.source()));
    for text in
        [tell!("Limits: {source}.", source), language::told(words::MATCH_BY_PLACE).to_owned()]
    {
        ui.label(RichText::new(text).font(theme::caption()).color(t.ink3));
    }
    let bottom = ui.max_rect().bottom() - theme::PRIMARY;
    let rest = bottom - ui.next_widget_position().y;
    ui.add_space(rest.max(0.0));
    measure(ui, machine, asked);
}

/// The way to the machine, in reach of a thumb.
pub(super) fn measure(ui: &mut Ui, machine: &MachineBrief<'_>, asked: &mut Vec<Command>) {
    let width = ui.available_width();
    let word = tell!("Measure {name}", name = machine.standing.name);
    let button = Button::primary(&word).detail(&machine.due_words).after(Icon::Forward);
    if button.width(width).show(ui).clicked() {
        open(machine, Screen::Measure, asked);
    }
}

/// So many items of the due list are shown at most.
const DUE_MOST: usize = 4;
/// One of them, and what stands around them: a heading, a divider, two notes.
const DUE_ROW: f32 = 28.0;
const AROUND: f32 = 136.0;

/// What service asks for beside the gaps, once the log is read.
fn due(ui: &mut Ui, view: &View<'_>, shear: &Shear) {
    let yard = view.bench.yard();
    let Some(machine) = yard.machine(&shear.id).filter(|it| !it.sessions.is_empty()) else {
        return;
    };
    let items = service(machine, &yard.settings, view.now);
    let told = service_brief::tell(&items, shear, &yard.settings);
    let t = theme::tokens(ui);
    let room = ui.max_rect().bottom() - theme::PRIMARY - ui.next_widget_position().y - AROUND;
    let fits = |count: &usize| *count as f32 * DUE_ROW <= room;
    let Some(shown) = (1..=DUE_MOST).rev().find(fits) else { return };
    section(ui, tell!("Service"), "");
    for item in told.iter().take(shown) {
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 20.0), Sense::hover());
        let (ink, font) =
            if item.due { (t.ink, theme::body_bold()) } else { (t.ink2, theme::body()) };
        let painter = ui.painter();
        let when = painter.layout_no_wrap(item.when.clone(), font.clone(), ink);
        let room = rect.width() - when.size().x - 12.0;
        let task = paint::fitted(painter, item.task.as_str(), font, ink, room);
        paint::place(painter, rect.left_center(), Align2::LEFT_CENTER, task);
        paint::place(painter, rect.right_center(), Align2::RIGHT_CENTER, when);
        let spoken = format!("{}: {}. {}", item.task, item.when, item.why);
        say(ui, rect, ("service", &item.task), &spoken);
    }
    divider(ui);
}

/// Where the words stand beside the mark.
const LEFT: f32 = 40.0;

fn line(ui: &mut Ui, brief: &LineRow) {
    let t = theme::tokens(ui);
    let width = ui.available_width();
    let interval = ui.painter().layout_no_wrap(brief.interval.clone(), theme::caption(), t.ink3);
    let room = width - LEFT - interval.size().x - 14.0;
    let head = ui.painter().layout(brief.headline.clone(), theme::chip(), t.ink2, room);
    let tall = (31.0 + head.size().y).max(48.0);
    let (rect, _) = ui.allocate_exact_size(vec2(width, tall), Sense::hover());
    let painter = ui.painter();
    row_mark(brief).paint(painter, pos2(rect.left() + 14.0, rect.center().y), 22.0, t, t.field);
    let x = rect.left() + LEFT;
    let hours = painter.layout_no_wrap(brief.hours.clone(), theme::value(), t.ink);
    let room = rect.right() - x - hours.size().x - 14.0;
    let title = format!("{}: {}", brief.place, words::within(&brief.action_word));
    let title = paint::shrunk(painter, &title, &theme::body_bold(), t.ink, room);
    let [first, second] = [14.0, 34.0].map(|down| rect.top() + down);
    paint::place(painter, pos2(x, first), Align2::LEFT_CENTER, title);
    let top = second - head.rows.first().map_or(0.0, |it| it.height() / 2.0);
    paint::place(painter, pos2(x, top), Align2::LEFT_TOP, head);
    let at = pos2(rect.right(), first + 1.0);
    paint::place(painter, at, Align2::RIGHT_CENTER, hours);
    let at = pos2(rect.right(), second);
    paint::place(painter, at, Align2::RIGHT_CENTER, interval);
    let spoken = format!("{}: {}. {}", brief.place, brief.action_word, brief.headline);
    say(ui, rect, ("line", brief.line.letter()), &spoken);
}
