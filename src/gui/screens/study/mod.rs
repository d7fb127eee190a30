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
        screens::{View, measure::child},
        theme,
        widgets::{Button, Panel, TitleCell, paragraph, title_block},
    },
    language::tell,
    workbench::{Cell, Command, Screen, StudyBench, StudyStep},
};
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
            card::show(ui, &desk, &mut asked);
        });
    } else {
        Panel::paper().show_at(ui, left, |ui| plan::choices(ui, &desk, &mut asked));
        Panel::paper().accent().margin(margin).show_at(ui, right, |ui| {
            plan::card(ui, &desk, &mut asked);
        });
    }
    asked
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
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        let back = Button::plain(tell!("Back to Measure")).before(Icon::Back);
        if back.width(174.0).height(60.0).show(ui).clicked() {
            asked.push(Command::Go(Screen::Measure));
        }
        ui.scope(|ui| title_block(ui, &cells));
    });
}

/// A step of the study, as a command.
const fn step(step: StudyStep) -> Command {
    Command::Study(step)
}
