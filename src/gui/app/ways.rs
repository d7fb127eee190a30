//! The rail at the left: the way to each screen, to help and to settings.
//!
//! Knows the order of the screens and their signs; changes nothing.

use crate::{
    gui::{
        commands::{self, Deed, Page},
        marks::{Icon, VerdictMark},
        screens::View,
        widgets::{RailItem, rail},
    },
    language::tell,
    workbench::{Command, Screen},
};

/// The rail, and what was asked for on it.
pub(super) fn rail_deed(ui: &mut egui::Ui, view: &View<'_>, page: Option<Page>) -> Option<Deed> {
    let tapped = rail(ui, &rail_items(view, page))?;
    Some(match Screen::ALL.get(tapped) {
        Some(screen) => Deed::Ask(Command::Go(*screen)),
        None if tapped == Screen::ALL.len() => Deed::Open(Page::Settings),
        None => Deed::Open(Page::Help(view.bench.screen())),
    })
}

/// The screens, and at the foot help and settings. A stop stays in view on every screen until it is
/// cleared.
fn rail_items(view: &View<'_>, page: Option<Page>) -> Vec<RailItem<'static>> {
    use crate::domain::decide::Action;
    let stop = view.decision.is_some_and(|decision| decision.worst() == Action::Stop);
    let screens = Screen::ALL.into_iter().map(|screen| {
        let icon = match screen {
            Screen::Yard => Icon::Yard,
            Screen::Measure | Screen::Study => Icon::Measure,
            Screen::Decide => Icon::Decide,
            Screen::Trend => Icon::Trend,
            Screen::Heat => Icon::Hot,
            Screen::Setup => Icon::Setup,
        };
        let alarmed = stop && screen == Screen::Decide;
        RailItem {
            icon,
            word: commands::title(screen),
            detail: if alarmed { tell!("a stop is not cleared") } else { "" },
            current: page.is_none() && on_rail(view.bench.screen()) == screen,
            at_foot: false,
            badge: alarmed.then_some(VerdictMark::StopTooTight),
        }
    });
    let foot = |icon, word, detail, current| RailItem {
        icon,
        word,
        detail,
        current,
        at_foot: true,
        badge: None,
    };
    let settings = page == Some(Page::Settings);
    let helps = page.is_some() && !settings;
    screens
        .chain([
            foot(
                Icon::Contrast,
                tell!("Settings"),
                tell!("text, colours, contrast, motion"),
                settings,
            ),
            foot(Icon::Question, tell!("Help"), tell!("for this screen"), helps),
        ])
        .collect()
}

/// Checking the crew's measuring is a part of Measure.
const fn on_rail(screen: Screen) -> Screen {
    match screen {
        Screen::Study => Screen::Measure,
        other => other,
    }
}
