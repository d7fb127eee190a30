//! The ways from screen to screen: the rail at the left, and the keys.
//!
//! Knows the order of the screens and their words; changes nothing.

use crate::{
    gui::{
        marks::{Icon, VerdictMark},
        screens::View,
        widgets::{RailItem, rail},
    },
    workbench::{Command, Screen},
};
use egui::{Frame, Key, KeyboardShortcut, Modifiers, Panel, Theme};

/// The rail, and where it leads.
pub(super) fn rail_command(ui: &mut egui::Ui, view: &View<'_>) -> Option<Command> {
    let shown = Panel::left("rail")
        .exact_size(crate::gui::widgets::RAIL_WIDTH)
        .frame(Frame::NONE)
        .resizable(false)
        .show(ui, |ui| rail(ui, &rail_items(view, ui.theme())));
    let screen = Screen::ALL.get(shown.inner?).copied();
    if screen.is_none() {
        ui.ctx().set_theme(other(ui.theme()));
    }
    screen.map(Command::Go)
}

const fn other(theme: Theme) -> Theme {
    match theme {
        Theme::Light => Theme::Dark,
        Theme::Dark => Theme::Light,
    }
}

/// The screens, and at the foot the way to the other theme. A stop stays in view on every screen
/// until it is cleared.
fn rail_items(view: &View<'_>, theme: Theme) -> Vec<RailItem<'static>> {
    use crate::domain::decide::Action;
    let stop = view.decision.is_some_and(|decision| decision.worst() == Action::Stop);
    Screen::ALL
        .into_iter()
        .map(|screen| {
            let (icon, word) = match screen {
                Screen::Yard => (Icon::Yard, "Yard"),
                Screen::Measure | Screen::Study => (Icon::Measure, "Measure"),
                Screen::Decide => (Icon::Decide, "Decide"),
                Screen::Trend => (Icon::Trend, "Trend"),
                Screen::Heat => (Icon::Hot, "Heat"),
                Screen::Setup => (Icon::Setup, "Setup"),
            };
            let alarmed = stop && screen == Screen::Decide;
            RailItem {
                icon,
                word,
                detail: if alarmed { "a stop is not cleared" } else { "" },
                current: on_rail(view.bench.screen()) == screen,
                at_foot: false,
                badge: alarmed.then_some(VerdictMark::StopTooTight),
            }
        })
        .chain(std::iter::once(RailItem {
            icon: Icon::Contrast,
            word: match other(theme) {
                Theme::Light => "Light",
                Theme::Dark => "Dark",
            },
            detail: "change the colours of the window",
            current: false,
            at_foot: true,
            badge: None,
        }))
        .collect()
}

/// Checking the crew's measuring is a part of Measure.
const fn on_rail(screen: Screen) -> Screen {
    match screen {
        Screen::Study => Screen::Measure,
        other => other,
    }
}

/// `Ctrl` and the number of a screen; `Ctrl+Z` and `Ctrl+Y` wherever no text has them.
pub(super) fn shortcuts(ui: &egui::Ui) -> Vec<Command> {
    let mut asked = Vec::new();
    let keys = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6];
    ui.input_mut(|input| {
        for (key, screen) in keys.into_iter().zip(Screen::ALL) {
            if input.consume_shortcut(&KeyboardShortcut::new(Modifiers::COMMAND, key)) {
                asked.push(Command::Go(screen));
            }
        }
    });
    asked
}
