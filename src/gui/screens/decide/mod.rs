//! What to do with each blade, most urgent first, and the sheet of the chosen job.
//!
//! Knows the layout of the screen. Every word comes from `brief`.

mod list;
mod parts;
mod record;
mod sheet;

use crate::{
    brief::{
        decision::{LineBrief, tell_all},
        head,
    },
    domain::{
        decide::{LineDecision, MachineDecision},
        machine::LineId,
        yard::Machine,
    },
    gui::{
        screens::{self, View},
        theme,
    },
    workbench::{Command, Screen},
};
use egui::{Rect, Ui, pos2};

/// What the parts of the screen look at.
#[derive(Clone, Copy)]
struct Scene<'a> {
    view: &'a View<'a>,
    machine: &'a Machine,
    decision: &'a MachineDecision,
    briefs: &'a [LineBrief],
    chosen: LineId,
}

impl Scene<'_> {
    /// Hours until the next look.
    fn next_look_h(&self) -> f64 {
        (self.decision.next_look - self.decision.meter).h().max(0.0)
    }
}

/// Paints the screen.
pub(crate) fn ui(ui: &mut Ui, view: &View<'_>) -> Vec<Command> {
    let (Some(machine), Some(decision)) = (view.bench.machine(), view.decision) else {
        return screens::nothing(ui, "No machine in this yard yet", "Open another yard.", None);
    };
    let mut asked = Vec::new();
    let head = head::tell(machine, decision, view.numbers);
    asked.extend(screens::head::show(ui, view, &head, ("Needs work", &head.needs_work)));
    ui.add_space(4.0);
    if decision.measured.is_none() {
        asked.extend(screens::nothing(
            ui,
            "Nothing measured yet",
            "What to do with each blade follows from its gaps. Measure this machine once before \
             it cuts.",
            Some(("Measure this machine", Command::Go(Screen::Measure))),
        ));
        return asked;
    }
    let briefs = tell_all(decision, &machine.shear, view.numbers);
    let kept = view.bench.line().and_then(|line| decision.line(line));
    let Some(chosen) = kept.or_else(|| decision.lines.first()) else { return asked };
    let scene = Scene { view, machine, decision, briefs: &briefs, chosen: chosen.line };
    asked.extend(sheets(ui, &scene, chosen));
    asked
}

/// The list on the left, the sheet of the chosen job on the right.
fn sheets(ui: &mut Ui, scene: &Scene<'_>, chosen: &LineDecision) -> Vec<Command> {
    let whole = screens::room(ui);
    let beside = (whole.width() * 0.3).clamp(330.0, 448.0);
    let split = whole.right() - beside - theme::GAP - 4.0;
    let left = Rect::from_min_max(whole.min, pos2(split, whole.bottom()));
    let right = Rect::from_min_max(pos2(whole.right() - beside, whole.top()), whole.max);
    let mut asked = list::show(ui, left, scene);
    asked.extend(sheet::show(ui, right, scene, chosen));
    ui.advance_cursor_after_rect(whole);
    asked
}
