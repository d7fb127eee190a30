//! The yard and its machines, described: pages of fields, what each means, and what a change does.
//!
//! Every field says its unit, what is usual and where its number comes from; what does not hold
//! together stands in red beside it, and only then nothing can be saved. Changes nothing: returns
//! what was asked for.

mod cell;
mod jaw;
mod pages;
mod side;
mod start;
mod text;

use crate::{
    domain::setup::Change,
    gui::{
        commands::{Name, pressed},
        paint,
        screens::{self, View, column, nothing, room},
        theme,
        widgets::{Button, Panel, Spoken, TitleCell, focus_ring, heading, scrolls, tap, touch},
    },
    language::tell,
    workbench::{Command, Setup, SetupDesk, SetupPage},
};
use egui::{
    Align2, Margin, Rect, ScrollArea, Sense, Stroke, StrokeKind, Ui, accesskit::Role, pos2, vec2,
};

/// The list of pages, in a window narrower than so much and in a wider one.
const NARROW: f32 = 1_000.0;
const NAV: [f32; 2] = [98.0, 124.0];
const NAV_ITEM: f32 = theme::TOUCH;

/// Paints the screen.
pub(crate) fn ui(ui: &mut Ui, view: &View<'_>) -> Vec<Command> {
    let mut asked = Vec::new();
    let Some(desk) = view.bench.setup() else {
        return nothing(ui, tell!("One moment"), tell!("The files are read."), None);
    };
    keys(ui, &mut asked);
    if view.is_stacked() {
        stacked(ui, view, desk, &mut asked);
        return asked;
    }
    head(ui, view, desk, &mut asked);
    ui.add_space(4.0);
    let below = room(ui);
    let side_width = (below.width() * 0.25).clamp(212.0, 360.0).min(below.width() * 0.23);
    let [narrow, wide] = NAV;
    let nav_width = if below.width() < NARROW { narrow } else { wide };
    nav(ui, desk, below.with_max_x(below.left() + nav_width), &mut asked);
    let main = below
        .with_min_x(below.left() + nav_width + theme::GAP)
        .with_max_x(below.right() - side_width - theme::GAP);
    let side = below.with_min_x(main.right() + theme::GAP);
    Panel::paper().show_at(ui, main, |ui| page(ui, view, desk, &mut asked));
    Panel::field().show_at(ui, side, |ui| side::show(ui, view, desk, &mut asked));
    asked
}

/// The pages, the one in front, and what its fields mean; what saves it stays in reach.
fn stacked(ui: &mut Ui, view: &View<'_>, desk: &SetupDesk, asked: &mut Vec<Command>) {
    let parts = |ui: &mut Ui, asked: &mut Vec<Command>| {
        head(ui, view, desk, asked);
        let told = |ui: &mut Ui| Panel::field().show(ui, |ui| side::told_all(ui, view, desk));
        // What others have changed must be known before anything else.
        let elsewhere = !desk.elsewhere().is_empty();
        if elsewhere {
            told(ui);
        }
        nav_rows(ui, desk, asked);
        Panel::paper().margin(Margin::same(12)).show(ui, |ui| page(ui, view, desk, asked));
        if !elsewhere {
            told(ui);
        }
    };
    column(ui, (("setup", desk.page), side::foot(desk)), asked, parts, |ui, asked| {
        side::buttons(ui, desk, asked);
    });
}

/// The page in front.
fn page(ui: &mut Ui, view: &View<'_>, desk: &SetupDesk, asked: &mut Vec<Command>) {
    if desk.page != SetupPage::Start {
        heading(ui, words(desk.page).1, "");
    }
    match desk.page {
        SetupPage::Start => start::show(ui, view, asked),
        SetupPage::Text => text::show(ui, desk, asked),
        page => {
            if page == SetupPage::Lines {
                jaw::show(ui, desk, asked);
            }
            // Each page scrolls by itself.
            let area = ScrollArea::vertical().id_salt(("page", page)).auto_shrink(false);
            scrolls(ui, area, |ui| pages::show(ui, desk, view.now, asked));
        }
    }
}

fn step(step: Setup) -> Command {
    Command::Setup(step)
}

fn change(change: Change) -> Command {
    step(Setup::Change(change))
}

/// A page's name on the list, and at its head.
fn words(page: SetupPage) -> (&'static str, &'static str) {
    match page {
        SetupPage::Start => (tell!("New…"), tell!("A yard and a machine of your own")),
        SetupPage::Machine => (tell!("Machine"), tell!("The machine")),
        SetupPage::Lines => (tell!("Lines"), tell!("Lines and stations")),
        SetupPage::Limits => (tell!("Limits"), tell!("What each gap may be")),
        SetupPage::Blades => (tell!("Blades"), tell!("Blades, packs and bolts")),
        SetupPage::Expansion => (tell!("Warm gaps"), tell!("What stands across each gap")),
        SetupPage::Heat => (tell!("Heat"), tell!("What heat needs to know")),
        SetupPage::Leaves => (tell!("Leaves"), tell!("Leaf sets")),
        SetupPage::Shelf => (tell!("Shims"), tell!("Shims on the shelf")),
        SetupPage::Service => (tell!("Service"), tell!("The yard, and when something is due")),
        SetupPage::Text => (tell!("As text"), tell!("The files as text")),
    }
}

fn head(ui: &mut Ui, view: &View<'_>, desk: &SetupDesk, asked: &mut Vec<Command>) {
    let bold = |text: &str| format!("**{text}**");
    let name = desk.draft().shear.as_ref().map_or("–", |shear| shear.name.as_str());
    let machine = bold(if name.trim().is_empty() { tell!("New machine") } else { name });
    let yard = bold(&view.bench.yard().settings.name);
    let state = match desk.faults().len() {
        _ if !desk.elsewhere().is_empty() => tell!("changed elsewhere too").to_owned(),
        0 if !desk.is_changed() => tell!("all saved").to_owned(),
        0 => tell!("not saved yet").to_owned(),
        1 => tell!("1 field to mend").to_owned(),
        count => tell!("{count} fields to mend", count),
    };
    let state = bold(&state);
    let cell = |caption, value, quiet| TitleCell { caption, value, quiet, ..TitleCell::default() };
    let quiet = if desk.is_new() { tell!("new") } else { "" };
    let cells = [
        cell(tell!("Machine"), &machine, quiet),
        cell(tell!("Yard"), &yard, ""),
        cell(tell!("Changes"), &state, ""),
    ];
    ui.horizontal(|ui| {
        ui.scope(|ui| {
            ui.set_max_width(ui.available_width() - 196.0);
            screens::head::block(ui, view, &cells);
        });
        ui.add_space(4.0);
        for (word, there, setup) in [
            (tell!("Undo"), desk.can_undo(), Setup::Undo),
            (tell!("Redo"), desk.can_redo(), Setup::Redo),
        ] {
            if Button::plain(word).enabled(there).width(82.0).show(ui).clicked() {
                asked.push(step(setup));
            }
        }
    });
}

/// The pages; those of a machine only where there is one.
fn listed(desk: &SetupDesk) -> impl Iterator<Item = SetupPage> {
    let there = desk.draft().shear.is_some();
    SetupPage::ALL.into_iter().filter(move |page| there || !page.of_machine())
}

/// In a column: side by side, in as many rows as they need.
fn nav_rows(ui: &mut Ui, desk: &SetupDesk, asked: &mut Vec<Command>) {
    let (width, gap) = (ui.available_width(), 4.0);
    let pages: Vec<SetupPage> = listed(desk).collect();
    let most = touch::columns(width, NAV[0], gap, pages.len());
    // Rows are even.
    let columns = pages.len().div_ceil(pages.len().div_ceil(most).max(1)).max(1);
    let each = (width + gap) / columns as f32 - gap;
    for row in pages.chunks(columns) {
        let (rect, _) = ui.allocate_exact_size(vec2(width, NAV_ITEM), Sense::hover());
        for (place, page) in row.iter().enumerate() {
            let left = rect.left() + place as f32 * (each + gap);
            let at = Rect::from_min_size(pos2(left, rect.top()), vec2(each, NAV_ITEM));
            nav_page(ui, desk, at, *page, asked);
        }
        ui.add_space(gap - theme::GAP);
    }
    ui.add_space(theme::GAP - gap);
}

fn nav_page(ui: &Ui, desk: &SetupDesk, at: Rect, page: SetupPage, asked: &mut Vec<Command>) {
    let wrong = desk.faults().iter().any(|(field, _)| pages::page_of(field) == page);
    if nav_item(ui, at, page, [desk.page == page, wrong]) {
        asked.push(step(Setup::Page(page)));
    }
}

fn nav(ui: &mut Ui, desk: &SetupDesk, rect: Rect, asked: &mut Vec<Command>) {
    for (place, page) in listed(desk).enumerate() {
        let top = rect.top() + place as f32 * (NAV_ITEM + 4.0);
        let at = Rect::from_min_size(pos2(rect.left(), top), vec2(rect.width(), NAV_ITEM));
        nav_page(ui, desk, at, page, asked);
    }
    ui.interact(rect, ui.make_persistent_id("pages"), Sense::hover());
}

fn nav_item(ui: &Ui, rect: Rect, page: SetupPage, [current, wrong]: [bool; 2]) -> bool {
    let t = theme::tokens(ui);
    let (word, whole) = words(page);
    let detail = if wrong { tell!("something to mend") } else { "" };
    let spoken = Spoken { role: Role::Tab, ..Spoken::one_of(whole, current) }.with(detail);
    let response = tap(ui, rect, ui.make_persistent_id(("page", whole)), &spoken);
    let fill = if current { t.paper } else { t.rail };
    let edge = if response.hovered() || current { t.edge } else { t.soft };
    let painter = ui.painter();
    painter.rect(rect, theme::RADIUS, fill, Stroke::new(1.0, edge), StrokeKind::Inside);
    if current {
        let bar = Rect::from_min_size(rect.min, vec2(5.0, rect.height()));
        painter.rect_filled(bar, 2.0, t.accent);
    }
    let (font, ink) =
        if current { (theme::section(), t.ink) } else { (theme::body_bold(), t.ink2) };
    let galley = paint::shrunk(painter, word, &font, ink, rect.width() - 22.0);
    let at = pos2(rect.left() + 13.0, rect.center().y);
    paint::place(painter, at, Align2::LEFT_CENTER, galley);
    if wrong {
        let at = pos2(rect.right() - 8.0, rect.center().y);
        painter.text(at, Align2::CENTER_CENTER, "!", theme::section(), t.stop);
    }
    focus_ring(ui, &response, rect, 4.0);
    response.clicked()
}

/// Undo, redo and save, wherever the keyboard is.
fn keys(ui: &Ui, asked: &mut Vec<Command>) {
    if pressed(ui, Name::SetupRedo) {
        asked.push(step(Setup::Redo));
    }
    if pressed(ui, Name::SetupUndo) {
        asked.push(step(Setup::Undo));
    }
    if pressed(ui, Name::SetupSave) {
        asked.push(step(Setup::Save));
    }
}
