//! The pages over a screen: help, keys, the palette, settings, about.
//!
//! A page borrows what is true and returns what was asked for, like a screen. While one is in front
//! the screen behind it neither shows nor hears keys. Changes nothing.

mod about;
mod help;
mod keys;
mod palette;
mod settings;

pub(crate) use settings::language_of;

pub(crate) use palette::forget;

use crate::{
    gui::{
        commands::{self, Deed, Name, Page},
        screens::Arrangement,
        theme,
        widgets::{Button, Panel},
    },
    language::tell,
    store::Look,
    workbench::Workbench,
};
use egui::{Align, Layout, Margin, RichText, ScrollArea, Ui};

/// What a page may look at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sight<'a> {
    /// How the parts of a page stand.
    pub(crate) arranged: Arrangement,
    /// The state of the window.
    pub(crate) bench: &'a Workbench,
    /// How the window looks.
    pub(crate) look: Look,
    /// Where that is kept, if this system names a folder for it.
    pub(crate) kept: Option<&'a std::path::Path>,
}

/// Paints a page into the space at hand.
#[must_use]
pub(crate) fn show(ui: &mut Ui, page: Page, sight: &Sight<'_>) -> Vec<Deed> {
    let mut asked = Vec::new();
    if commands::pressed(ui, Name::ClosePage) {
        asked.push(Deed::Close);
    }
    let whole = ui.available_rect_before_wrap();
    let margin = Margin { top: 14, ..Margin::same(16) };
    Panel::paper().accent().margin(margin).show_at(ui, whole, |ui| {
        head(ui, page, sight, &mut asked);
        if page == Page::Palette {
            palette::show(ui, sight, &mut asked);
            return;
        }
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            // Lines longer than this are hard to follow back; the ring around a control needs room.
            ui.set_max_width(ui.available_width().min(760.0) - 8.0);
            ui.add_space(4.0);
            match page {
                Page::Help(screen) => help::show(ui, screen, &mut asked),
                Page::Keys => keys::show(ui),
                Page::Settings => settings::show(ui, sight, &mut asked),
                Page::About => about::show(ui),
                Page::Palette => {}
            }
            ui.add_space(16.0);
        });
    });
    asked
}

/// The page's name, and the way back.
fn head(ui: &mut Ui, page: Page, sight: &Sight<'_>, asked: &mut Vec<Deed>) {
    let t = theme::tokens(ui);
    let title = match page {
        Page::Help(screen) => tell!("Help: {screen}", screen = commands::title(screen)),
        Page::Keys => tell!("All keys").to_owned(),
        Page::Palette => tell!("Find a command").to_owned(),
        Page::Settings => tell!("Settings of this window").to_owned(),
        Page::About => tell!("About this program").to_owned(),
    };
    let to = commands::title(sight.bench.screen());
    let back = tell!("Back to {to}", to);
    let mut back = |ui: &mut Ui| {
        if Button::plain(&back).show(ui).clicked() {
            asked.push(Deed::Close);
        }
    };
    let title = RichText::new(title).font(theme::action()).color(t.ink);
    match sight.arranged {
        Arrangement::Wide => {
            ui.horizontal(|ui| {
                ui.heading(title);
                ui.with_layout(Layout::right_to_left(Align::Center), back);
            });
        }
        Arrangement::Stacked => {
            ui.heading(title);
            back(ui);
        }
    }
    ui.add_space(8.0);
}
