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

fn line(ui: &mut Ui, brief: &LineRow) {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 48.0), Sense::hover());
    let painter = ui.painter();
    row_mark(brief).paint(painter, pos2(rect.left() + 14.0, rect.center().y), 22.0, t, t.field);
    let x = rect.left() + 40.0;
    let hours = painter.layout_no_wrap(brief.hours.clone(), theme::value(), t.ink);
    let interval = paint::fitted(painter, brief.interval.as_str(), theme::caption(), t.ink3, 120.0);
    let beside = |width: f32| rect.right() - x - width - 14.0;
    let room = beside(hours.size().x);
    let title = format!("{}: {}", brief.place, words::within(&brief.action_word));
    let title = paint::fitted(painter, title, theme::body_bold(), t.ink, room);
    paint::place(painter, pos2(x, rect.center().y - 10.0), Align2::LEFT_CENTER, title);
    let head = paint::fitted(
        painter,
        brief.headline.as_str(),
        theme::chip(),
        t.ink2,
        beside(interval.size().x),
    );
    paint::place(painter, pos2(x, rect.center().y + 10.0), Align2::LEFT_CENTER, head);
    let at = pos2(rect.right(), rect.center().y - 9.0);
    paint::place(painter, at, Align2::RIGHT_CENTER, hours);
    let at = pos2(rect.right(), rect.center().y + 10.0);
    paint::place(painter, at, Align2::RIGHT_CENTER, interval);
    let spoken = format!("{}: {}. {}", brief.place, brief.action_word, brief.headline);
    say(ui, rect, ("line", brief.line.letter()), &spoken);
}
