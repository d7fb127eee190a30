//! A crew checks its own measuring: the plan, reading after reading, and what comes of it.
//!
//! The card at the right asks for what is needed next; the sheet at the left shows what is found
//! while it grows. Changes nothing: returns what was asked for.

mod card;
mod found;
mod plan;

use crate::{
    brief::{
        measure::saved,
        study::{StudyBrief, tell, walk},
    },
    domain::{
        gauge::study::{Study, Table},
        machine::Shear,
    },
    gui::{
        marks::Icon,
        screens::{
            self, View, column,
            measure::{child, foot},
        },
        theme,
        widgets::{Button, Panel, TitleCell, paragraph},
    },
    language::tell,
    workbench::{Cell, Command, Screen, StudyBench, StudyStep},
};
use card::Stage;
use egui::{Margin, Ui};

/// Everything the screen's parts look at.
struct Desk<'a> {
    view: &'a View<'a>,
    shear: &'a Shear,
    study: &'a StudyBench,
    walk: Vec<Cell>,
    cell: Option<Cell>,
    /// The full part of the readings so far, taken apart and told.
    found: Option<Found>,
}

struct Found {
    table: Table,
    study: Study,
    brief: StudyBrief,
}

impl<'a> Desk<'a> {
    fn of(view: &'a View<'a>) -> Option<Self> {
        let shear = &view.bench.machine()?.shear;
        let study = view.bench.study_bench()?;
        let walk = study.walk(shear);
        let (table, _) = Table::balanced(&study.list(shear));
        let found = table.map(|table| {
            let study = Study::of(&table);
            let brief = tell(&study, &table, view.numbers);
            Found { table, study, brief }
        });
        Some(Self { view, shear, study, cell: walk.get(study.at).copied(), walk, found })
    }

    /// How many readings are confirmed.
    fn done(&self) -> usize {
        self.study.readings.len()
    }
}

/// Paints the screen.
pub(crate) fn ui(ui: &mut Ui, view: &View<'_>) -> Vec<Command> {
    let Some(desk) = Desk::of(view) else {
        paragraph(
            ui,
            tell!("No check of your measuring is open. Begin one on the Measure screen."),
        );
        return Vec::new();
    };
    let mut asked = Vec::new();
    if view.is_stacked() {
        stacked(ui, &desk, &mut asked);
        return asked;
    }
    let whole = ui.available_rect_before_wrap();
    let top = whole.with_max_y(whole.top() + 60.0);
    let below = whole.with_min_y(top.bottom() + theme::GAP);
    let card_width = (whole.width() * 0.262).clamp(336.0, 393.0);
    let right = below.with_min_x(below.right() - card_width);
    let left = below.with_max_x(right.left() - theme::GAP);
    head(&mut child(ui, top, "head"), &desk, &mut asked);
    let tight = right.height() < 700.0;
    let margin = if tight { Margin::same(12) } else { Margin { top: 18, ..Margin::same(16) } };
    if desk.study.is_running() {
        Panel::paper().show_at(ui, left, |ui| found::show(ui, &desk));
        Panel::paper().accent().margin(margin).show_at(ui, right, |ui| {
            let (body, bottom) = foot(ui, theme::PRIMARY);
            let stage = Stage::of(&desk);
            card::show(&mut child(ui, body, stage.salt()), &desk, stage, &mut asked);
            card::buttons(&mut child(ui, bottom, ("foot", stage.salt())), &desk, stage, &mut asked);
        });
    } else {
        Panel::paper().show_at(ui, left, |ui| plan::choices(ui, &desk, &mut asked));
        Panel::paper().accent().margin(margin).show_at(ui, right, |ui| {
            let (body, bottom) = foot(ui, theme::PRIMARY);
            plan::card(&mut child(ui, body, "why"), &desk);
            plan::buttons(&mut child(ui, bottom, "begin"), &desk, &mut asked);
        });
    }
    asked
}

/// One under the other: what is asked for first comes first, its button stays in reach.
fn stacked(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    let stage = Stage::of(desk);
    let card = || Panel::paper().accent().margin(Margin::same(12));
    let parts = |ui: &mut Ui, asked: &mut Vec<Command>| {
        if desk.study.is_running() {
            card().show(ui, |ui| {
                ui.push_id(stage.salt(), |ui| card::show(ui, desk, stage, asked));
            });
            Panel::paper().show(ui, |ui| found::show(ui, desk));
        } else {
            Panel::paper().show(ui, |ui| plan::choices(ui, desk, asked));
            card().show(ui, |ui| plan::card(ui, desk));
        }
        head(ui, desk, asked);
    };
    column(ui, (("study", stage.salt()), theme::PRIMARY), asked, parts, |ui, asked| {
        if desk.study.is_running() {
            card::buttons(ui, desk, stage, asked);
        } else {
            plan::buttons(ui, desk, asked);
        }
    });
}

fn head(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    let bold = |text: &str| format!("**{text}**");
    let machine = bold(&desk.shear.name);
    let plan = walk::plan(desk.study.stations.len(), desk.study.people.len(), desk.study.trials);
    let measured = tell!("**{done}** of {walk}", done = desk.done(), walk = desk.walk.len());
    let (caption, at) = saved(desk.study.kept, desk.view.numbers);
    let is_kept = desk.study.kept.is_some();
    let at = if is_kept { bold(&at) } else { at };
    let cell = |caption, value, quiet| TitleCell { caption, value, quiet, ..TitleCell::default() };
    let cells = [
        cell(tell!("Machine"), &machine, ""),
        cell(tell!("Check our measuring"), &plan, ""),
        cell(tell!("Measured"), &measured, ""),
        TitleCell { check: is_kept, ..cell(caption, &at, "") },
    ];
    let back = |ui: &mut Ui, width| {
        let back = Button::plain(tell!("Back to Measure")).before(Icon::Back);
        back.width(width).height(60.0).show(ui).clicked()
    };
    let gone = if desk.view.is_stacked() {
        screens::head::block(ui, desk.view, &cells);
        back(ui, ui.available_width())
    } else {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 8.0;
            let gone = back(ui, 174.0);
            ui.scope(|ui| screens::head::block(ui, desk.view, &cells));
            gone
        })
        .inner
    };
    if gone {
        asked.push(Command::Go(Screen::Measure));
    }
}

/// A step of the study, as a command.
const fn step(step: StudyStep) -> Command {
    Command::Study(step)
}
