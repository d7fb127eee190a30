//! The screens, one file or folder each.
//!
//! A screen borrows what is true and returns what was asked for, in order. It changes nothing: the
//! app hands the commands to the workbench after painting.

mod arranged;
mod budget;
mod decide;
mod head;
mod heat;
mod measure;
mod outline;
mod setup;
mod study;
mod trend;
mod yard;

pub(crate) use arranged::{Arrangement, LEAST, column, room_of};
pub(crate) use heat::LESSON_PAGE;
pub(crate) use trend::{TREND_PAGE, hours as trend_hours};

use crate::{
    brief::{Numbers, yard::Standing},
    domain::{
        decide::{MachineDecision, MachinePlan, Supply},
        heat::Lesson,
        setup::Consequences,
    },
    gui::{heat_runs::HeatRuns, insight::Insight},
    workbench::{Command, Screen, Workbench},
};
use chrono::{DateTime, Utc};
use std::path::Path;

/// What every screen may look at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct View<'a> {
    /// How the parts of a screen stand.
    pub(crate) arranged: Arrangement,
    /// The state of the window.
    pub(crate) bench: &'a Workbench,
    /// The folder of the yard.
    pub(crate) root: &'a Path,
    /// What the overview says of every machine that was read, or was told of before.
    pub(crate) standings: &'a [Standing],
    /// What to do with the machine in hand.
    pub(crate) decision: Option<&'a MachineDecision>,
    /// Its plan, before anybody overruled it.
    pub(crate) plan: Option<&'a MachinePlan>,
    /// Parts for the whole yard.
    pub(crate) supply: Option<&'a Supply>,
    /// What the Trend screen shows beside lines.
    pub(crate) insight: Option<&'a Insight>,
    /// Lessons of the Heat screen.
    pub(crate) lessons: &'a [Lesson],
    /// What was run for it.
    pub(crate) heat: Option<&'a HeatRuns>,
    /// What saving on the Setup screen would change, once it is worked out.
    pub(crate) consequences: Option<&'a Consequences>,
    /// How numbers are written.
    pub(crate) numbers: Numbers,
    /// The time.
    pub(crate) now: DateTime<Utc>,
}

impl View<'_> {
    /// Whether parts stand one under the other.
    pub(crate) fn is_stacked(&self) -> bool {
        self.arranged == Arrangement::Stacked
    }
}

/// A page of the lesson in hand, for a file or for paper.
pub(crate) fn lesson_page(ui: &mut egui::Ui, view: &View<'_>) {
    heat::page(ui, view);
}

/// What the Trend screen shows as a page of its own, over the hours that it shows now.
pub(crate) fn trend_page(ui: &mut egui::Ui, view: &View<'_>, hours: Option<[f64; 2]>) {
    trend::page(ui, view, hours);
}

/// Paints the screen in front into the space at hand.
#[must_use]
pub(crate) fn show(ui: &mut egui::Ui, view: &View<'_>) -> Vec<Command> {
    match view.bench.screen() {
        Screen::Yard => yard::ui(ui, view),
        Screen::Measure => measure::ui(ui, view),
        Screen::Decide => decide::ui(ui, view),
        Screen::Trend => trend::ui(ui, view),
        Screen::Study => study::ui(ui, view),
        Screen::Heat => heat::ui(ui, view),
        Screen::Setup => setup::ui(ui, view),
    }
}

/// The room at hand, or more in a window that is far too small: then it is cut, not squeezed.
pub(crate) fn room(ui: &egui::Ui) -> egui::Rect {
    let room = ui.available_rect_before_wrap();
    egui::Rect::from_min_size(room.min, room.size().max(egui::vec2(640.0, 440.0)))
}

/// What stands where there is nothing to show: a fact, what to do, and a button that does it.
#[must_use]
pub(crate) fn nothing(
    ui: &mut egui::Ui,
    fact: &str,
    next: &str,
    button: Option<(&str, Command)>,
) -> Vec<Command> {
    use crate::gui::widgets::{Button, Panel, heading, paragraph};
    let mut asked = Vec::new();
    let rect = ui.available_rect_before_wrap();
    Panel::paper().show_at(ui, rect, |ui| {
        heading(ui, fact, "");
        paragraph(ui, next);
        if let Some((word, command)) = button {
            ui.add_space(8.0);
            if Button::primary(word).width(220.0).show(ui).clicked() {
                asked.push(command);
            }
        }
    });
    asked
}
