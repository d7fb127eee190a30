//! The screens, one file or folder each.
//!
//! A screen borrows what is true and returns what was asked for, in order. It changes nothing: the
//! app hands the commands to the workbench after painting.

mod decide;
mod measure;
mod trend;
mod yard;

use crate::{
    brief::Numbers,
    domain::decide::MachineDecision,
    workbench::{Command, Screen, Workbench},
};
use chrono::{DateTime, Utc};
use std::path::Path;

/// What every screen may look at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct View<'a> {
    /// The state of the window.
    pub(crate) bench: &'a Workbench,
    /// The folder of the yard.
    pub(crate) root: &'a Path,
    /// What to do with every machine.
    pub(crate) decisions: &'a [MachineDecision],
    /// What to do with the machine in hand.
    pub(crate) decision: Option<&'a MachineDecision>,
    /// How numbers are written.
    pub(crate) numbers: Numbers,
    /// The time.
    pub(crate) now: DateTime<Utc>,
}

/// Paints the screen in front into the space at hand.
#[must_use]
pub(crate) fn show(ui: &mut egui::Ui, view: &View<'_>) -> Vec<Command> {
    match view.bench.screen() {
        Screen::Yard => yard::ui(ui, view),
        Screen::Measure => measure::ui(ui, view),
        Screen::Decide => decide::ui(ui, view),
        Screen::Trend => trend::ui(ui, view),
    }
}
