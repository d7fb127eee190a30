//! How the parts of a screen stand: beside each other, or one under the other.
//!
//! The window decides once a frame by the room it has, and every screen keeps to it. Knows how a
//! column scrolls over buttons that stay in reach. Does not know what stands in it.

use crate::{
    gui::{screens::measure::child, theme},
    workbench::Command,
};
use egui::{AsIdSalt, ScrollArea, Ui, UiBuilder, Vec2};

/// How the parts of a screen stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Arrangement {
    /// Beside each other, in a room that holds them.
    Wide,
    /// One under the other over the whole width, and only up and down is scrolled: a small window,
    /// or large text (WCAG 2.2, 1.4.10).
    Stacked,
}

/// What a screen needs with its parts beside each other: the smallest window there is, without the
/// rail.
pub(crate) const LEAST: Vec2 = egui::vec2(860.0, 608.0);
/// What a column needs: a window 500 wide. In a narrower one everything scrolls both ways.
const COLUMN: f32 = 400.0;
/// The most of the height that buttons may take from what scrolls above them.
const FOOT_MOST: f32 = 0.4;

impl Arrangement {
    /// For a room so many points wide.
    pub(crate) fn of(width: f32) -> Self {
        if (COLUMN..LEAST.x).contains(&width) { Self::Stacked } else { Self::Wide }
    }
}

/// A column of parts, each as high as it needs, that scrolls up and down over buttons `foot` high, which
/// stay where they are; another `what` begins at its top.
///
/// Where the buttons would leave too little of the parts to be seen they stand at the end of the
/// column.
pub(crate) fn column(
    ui: &mut Ui,
    (what, foot): (impl AsIdSalt, f32),
    asked: &mut Vec<Command>,
    parts: impl FnOnce(&mut Ui, &mut Vec<Command>),
    buttons: impl FnOnce(&mut Ui, &mut Vec<Command>),
) {
    let whole = ui.available_rect_before_wrap();
    let stays = 0.0 < foot && foot + theme::GAP <= whole.height() * FOOT_MOST;
    let below = if stays { foot + theme::GAP } else { 0.0 };
    let mut above = child(ui, whole.with_max_y(whole.bottom() - below), "column");
    let mut buttons = Some(buttons);
    ScrollArea::vertical().id_salt(what).auto_shrink(false).show(&mut above, |ui| {
        let endless = ui.available_rect_before_wrap().with_max_y(f32::INFINITY);
        ui.scope_builder(UiBuilder::new().max_rect(endless), |ui| {
            ui.spacing_mut().item_spacing.y = theme::GAP;
            parts(ui, asked);
            if let Some(buttons) = buttons.take_if(|_| !stays) {
                room_of(ui, foot, |ui| buttons(ui, asked));
            }
            // Room for the ring around the last control.
            ui.add_space(2.0);
        });
    });
    if let Some(buttons) = buttons {
        let foot = whole.with_min_y(whole.bottom() - foot);
        buttons(&mut child(ui, foot, "buttons"), asked);
    }
    ui.advance_cursor_after_rect(whole);
}

/// A room `height` high over the width at hand, for what paints into the room it finds.
pub(crate) fn room_of<R>(ui: &mut Ui, height: f32, add: impl FnOnce(&mut Ui) -> R) -> R {
    let size = egui::vec2(ui.available_width(), height);
    let (rect, _) = ui.allocate_exact_size(size, egui::Sense::hover());
    add(&mut ui.new_child(UiBuilder::new().max_rect(rect)))
}

#[test]
fn a_room_decides_how_the_parts_stand() {
    for (width, stands) in [
        (399.0, Arrangement::Wide),
        (400.0, Arrangement::Stacked),
        (859.0, Arrangement::Stacked),
        (860.0, Arrangement::Wide),
    ] {
        assert_eq!(Arrangement::of(width), stands, "{width}");
    }
}
