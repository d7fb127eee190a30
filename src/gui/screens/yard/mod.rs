//! All machines, most urgent first.
//!
//! Each row opens its machine; four small buttons beside it lead elsewhere or log trouble at once.
//! Changes nothing: returns what was asked for.

mod detail;
mod folder;
mod row;

use crate::{
    brief::{
        caution::practice,
        leaves,
        yard::{MachineBrief, tell},
    },
    domain::{decide::Due, machine::ShearId, quantity::LengthUnit},
    gui::{
        commands::{Name, pressed},
        screens::{self, View, column},
        theme,
        widgets::{Button, Panel, TitleCell, heading, paragraph, segmented},
    },
    language::{self, tell},
    workbench::{Command, Screen, Workbench},
};
use egui::{Margin, ScrollArea, Ui, UiBuilder};
use std::collections::BTreeSet;

/// A window narrower than this shows the list alone.
const BESIDE: f32 = 1_040.0;

/// Paints the screen.
pub(crate) fn ui(ui: &mut Ui, view: &View<'_>) -> Vec<Command> {
    let mut asked = Vec::new();
    let look = view.bench.yard().settings.intervals.look;
    let machines = tell(view.standings, look, view.now);
    if view.is_stacked() {
        stacked(ui, view, &machines, &mut asked);
        return asked;
    }
    head(ui, view, &machines, &mut asked);
    ui.add_space(4.0);
    let below = ui.available_rect_before_wrap();
    let foot = below.with_min_y(below.bottom() - folder::HEIGHT);
    let main = below.with_max_y(foot.top() - theme::GAP);
    let beside = BESIDE <= main.width();
    let pane_width = (main.width() * 0.27).clamp(300.0, 440.0);
    let list = if beside {
        main.with_max_x(main.right() - pane_width - theme::GAP)
    } else {
        main.with_max_y(main.bottom() - theme::PRIMARY - theme::GAP)
    };

    let focused = keys(ui, view.bench, &machines, &mut asked);
    Panel::paper().show_at(ui, list, |ui| {
        heading(ui, tell!("Machines"), tell!("most urgent first"));
        ScrollArea::vertical().show(ui, |ui| {
            // Room for the ring around the first row, which stands outside it.
            ui.add_space(4.0);
            rows(ui, view, &machines, &mut asked);
        });
    });
    let shown = shown(view, &machines, focused);
    if beside {
        let pane = main.with_min_x(list.right() + theme::GAP);
        Panel::field().show_at(ui, pane, |ui| detail::show(ui, view, shown, &mut asked));
    } else if let Some(machine) = shown {
        let below = main.with_min_y(list.bottom() + theme::GAP);
        let mut below = ui.new_child(UiBuilder::new().id_salt("measure").max_rect(below));
        detail::measure(&mut below, machine, &mut asked);
    }
    let mut foot = ui.new_child(UiBuilder::new().id_salt("folder").max_rect(foot));
    folder::show(&mut foot, view, &mut asked);
    asked
}

/// The list, and below it where the yard lies; the way to the machine stays in reach.
fn stacked(ui: &mut Ui, view: &View<'_>, machines: &[MachineBrief<'_>], asked: &mut Vec<Command>) {
    let focused = keys(ui, view.bench, machines, asked);
    let shown = shown(view, machines, focused);
    let parts = |ui: &mut Ui, asked: &mut Vec<Command>| {
        head(ui, view, machines, asked);
        Panel::paper().margin(Margin::same(12)).show(ui, |ui| {
            heading(ui, tell!("Machines"), tell!("most urgent first"));
            rows(ui, view, machines, asked);
        });
        folder::stacked(ui, view, asked);
    };
    column(ui, ("yard", theme::PRIMARY), asked, parts, |ui, asked| {
        if let Some(machine) = shown {
            detail::measure(ui, machine, asked);
        }
    });
}

/// The machine that the keyboard is on, the one in hand, or the most urgent.
fn shown<'m>(
    view: &View<'_>,
    machines: &'m [MachineBrief<'m>],
    focused: Option<usize>,
) -> Option<&'m MachineBrief<'m>> {
    let in_hand = view.bench.machine().map(|machine| &machine.shear.id);
    let in_hand = machines.iter().find(|it| Some(&it.standing.shear) == in_hand);
    focused.and_then(|place| machines.get(place)).or(in_hand).or(machines.first())
}

fn head(ui: &mut Ui, view: &View<'_>, machines: &[MachineBrief<'_>], asked: &mut Vec<Command>) {
    let due = machines.iter().filter(|it| !matches!(it.due, Due::Later { .. })).count();
    let jobs: usize = machines.iter().map(|machine| machine.standing.jobs()).sum();
    let bold = |text: &str| format!("**{text}**");
    let name = bold(&view.bench.yard().settings.name);
    let count = view.bench.yard().machines.len();
    let told = machines.len() == count;
    let known = |number: usize| if told { bold(&number.to_string()) } else { "–".to_owned() };
    let [count, due, jobs] = [bold(&count.to_string()), known(due), known(jobs)];
    let cell = |caption, value, quiet| TitleCell { caption, value, quiet, ..TitleCell::default() };
    let cells = [
        cell(tell!("Yard"), &name, ""),
        cell(tell!("Machines"), &count, ""),
        cell(tell!("To look at"), &due, tell!("by the 8-hour rule")),
        cell(tell!("Jobs"), &jobs, tell!("lines that need work")),
    ];
    ui.horizontal(|ui| {
        ui.scope(|ui| {
            ui.set_max_width(ui.available_width() - 124.0);
            screens::head::block(ui, view, &cells);
        });
        ui.add_space(4.0);
        let on = usize::from(view.bench.unit() == LengthUnit::Inch);
        match segmented(ui, tell!("lengths in"), &["mm", "in"], on) {
            Some(0) => asked.push(Command::SetUnit(LengthUnit::Millimetre)),
            Some(_) => asked.push(Command::SetUnit(LengthUnit::Inch)),
            None => {}
        }
    });
}

fn rows(ui: &mut Ui, view: &View<'_>, machines: &[MachineBrief<'_>], asked: &mut Vec<Command>) {
    ui.spacing_mut().item_spacing.y = 8.0;
    for machine in machines {
        row::show(ui, view, machine, asked);
    }
    unread(ui, view);
    if view.bench.yard().machines.is_empty() {
        paragraph(
            ui,
            tell!(
                "This yard has **no machine** yet. Set one up: begin with a jaw like yours, then write \
             in the limits, bolts and lengths of the manual for your machine."
            ),
        );
        ui.add_space(6.0);
        if Button::primary(tell!("Set up a machine")).width(260.0).show(ui).clicked() {
            asked.push(Command::Go(Screen::Setup));
        }
        ui.add_space(6.0);
        paragraph(ui, tell!("Or open another yard below: a folder with a file yard.ron."));
        return;
    }
    ui.add_space(6.0);
    let gauges = leaves::due_notices(&view.bench.yard().settings, view.now);
    if !gauges.is_empty() {
        heading(ui, tell!("Gauges"), "");
        for notice in &gauges {
            paragraph(ui, notice);
        }
        ui.add_space(6.0);
    }
    heading(ui, tell!("Good practice"), "");
    for advice in [
        language::told(practice::LOOK),
        language::told(practice::THIN_FIRST),
        language::told(practice::OPENING_FORCE),
    ] {
        paragraph(ui, advice);
    }
    let t = theme::tokens(ui);
    for note in limit_sources(view) {
        ui.label(egui::RichText::new(note).font(theme::caption()).color(t.ink3));
    }
}

/// Machines of which nothing can be said before their log is read.
fn unread(ui: &mut Ui, view: &View<'_>) {
    let told = |id: &ShearId| view.standings.iter().any(|it| it.shear == *id);
    let all = view.bench.yard().machines.iter().map(|machine| &machine.shear);
    let names: Vec<&str> =
        all.filter(|shear| !told(&shear.id)).map(|shear| shear.name.as_str()).collect();
    if !names.is_empty() {
        paragraph(ui, &tell!("Not read yet: **{machines}**.", machines = names.join("**, **")));
    }
}

/// Where the limits of this yard come from, each said once.
fn limit_sources(view: &View<'_>) -> BTreeSet<String> {
    let machines = &view.bench.yard().machines;
    let lines = machines.iter().flat_map(|machine| &machine.shear.lines);
    lines
        .map(|line| tell!("Limits: {source}.", source = language::known(line.limits.source())))
        .collect()
}

/// Up and down between the rows, Enter on the most urgent one; answers the row with the keyboard.
fn keys(
    ui: &Ui,
    bench: &Workbench,
    machines: &[MachineBrief<'_>],
    asked: &mut Vec<Command>,
) -> Option<usize> {
    let focused = ui.memory(egui::Memory::focused);
    let place = machines.iter().position(|it| Some(row::id(&it.standing.shear)) == focused);
    if focused.is_some() && place.is_none() {
        return None;
    }
    if focused.is_none() {
        // The toolkit would send the first arrow key to whatever lies nearest, so the keyboard
        // stands on a row from the start.
        let in_hand = bench
            .machine()
            .and_then(|it| machines.iter().find(|m| m.standing.shear == it.shear.id));
        if let Some(machine) = in_hand.or(machines.first()) {
            ui.memory_mut(|memory| memory.request_focus(row::id(&machine.standing.shear)));
        }
    }
    let to = match (pressed(ui, Name::MachineBelow), pressed(ui, Name::MachineAbove), place) {
        (true, _, Some(place)) => Some(place + 1),
        (_, true, Some(place)) => place.checked_sub(1),
        (true, _, None) | (_, true, None) => Some(0),
        _ => None,
    };
    let to = to.filter(|to| *to < machines.len());
    if let Some(machine) = to.and_then(|to| machines.get(to)) {
        ui.memory_mut(|memory| {
            memory.request_focus(row::id(&machine.standing.shear));
            // Otherwise the same key would lead on to the nearest button.
            memory.move_focus(egui::FocusDirection::None);
        });
    }
    if place.is_none()
        && pressed(ui, Name::MeasureMachine)
        && let Some(first) = machines.first()
    {
        open(first, Screen::Measure, asked);
    }
    to.or(place)
}

/// Takes a machine in hand and brings a screen to the front.
fn open(machine: &MachineBrief<'_>, screen: Screen, asked: &mut Vec<Command>) {
    asked.push(Command::ChooseMachine(machine.standing.shear.clone()));
    asked.push(Command::Go(screen));
}
