//! The drawing of the jaw and the leaf in hand.
//!
//! One station is in hand at a time. The card at the right asks for what is needed next: the jaw
//! in its position, the two stacks, the signature. Typing goes to the entry field wherever the
//! pointer is. Where parts stand one under the other the card comes first: it is what the hand
//! needs. Changes nothing: returns what was asked for.

mod drawing;
mod entry_card;
mod field;
mod hand;
mod head;
mod keys;
mod marks;
mod meter_change;
mod position;
mod seen;
mod signing;
mod temps;
mod uncertainty;
mod weld;

use crate::{
    gui::{
        screens::{View, column},
        theme,
        widgets::{Panel, paragraph},
    },
    language::tell,
    workbench::Command,
};
use egui::{Margin, Rect, Ui, UiBuilder, pos2};
use hand::Hand;

pub(super) use entry_card::{fault_box, leaf_share};
pub(super) use position::tiles;

/// How much room a card has from top to bottom.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Room {
    /// A window 768 high.
    Tight,
    /// A window 800 high and more.
    Middle,
    /// A window 960 high and more.
    Full,
}

impl Room {
    fn of(height: f32) -> Self {
        if height < 700.0 {
            Self::Tight
        } else if height < 860.0 {
            Self::Middle
        } else {
            Self::Full
        }
    }

    const fn pick<T: Copy>(self, [tight, middle, full]: [T; 3]) -> T {
        match self {
            Self::Tight => tight,
            Self::Middle => middle,
            Self::Full => full,
        }
    }
}

/// What the card is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Stage {
    Position,
    Entry,
    Signing,
}

impl Stage {
    const fn of(hand: &Hand<'_>) -> Self {
        if hand.signing {
            Self::Signing
        } else if hand.must_move {
            Self::Position
        } else {
            Self::Entry
        }
    }

    /// The height of its buttons.
    const fn foot(self, room: Room) -> f32 {
        match self {
            Self::Position => 62.0,
            Self::Entry | Self::Signing => room.pick([52.0, 58.0, 62.0]),
        }
    }

    fn body(self, ui: &mut Ui, hand: &Hand<'_>, room: Room, asked: &mut Vec<Command>) {
        ui.spacing_mut().item_spacing.y = room.pick([5.0, 5.0, 8.0]);
        match self {
            Self::Position => position::show(ui, hand, room, asked),
            Self::Entry => entry_card::show(ui, hand, room, asked),
            Self::Signing => signing::show(ui, hand, asked),
        }
    }

    fn buttons(self, ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
        match self {
            Self::Position => position::buttons(ui, hand, asked),
            Self::Entry => entry_card::buttons(ui, hand, asked),
            Self::Signing => signing::buttons(ui, asked),
        }
    }
}

/// Paints the screen.
pub(crate) fn ui(ui: &mut Ui, view: &View<'_>) -> Vec<Command> {
    let Some(hand) = Hand::of(view) else {
        paragraph(ui, tell!("No machine is in hand. Choose one on the Yard screen."));
        return Vec::new();
    };
    let mut asked = Vec::new();
    keys::take(ui, &hand, &mut asked);
    let stage = Stage::of(&hand);
    if view.is_stacked() {
        stacked(ui, &hand, stage, &mut asked);
        return asked;
    }

    let whole = ui.available_rect_before_wrap();
    let top = whole.with_max_y(whole.top() + 60.0);
    let below = whole.with_min_y(top.bottom() + theme::GAP);
    let card_width = (whole.width() * 0.262).clamp(336.0, 393.0);
    let card = below.with_min_x(below.right() - card_width);
    let left = below.with_max_x(card.left() - theme::GAP);

    head::show(&mut child(ui, top, "head"), &hand, &mut asked);
    drawing::show(&mut child(ui, left, "drawing"), &hand, &mut asked);
    let room = Room::of(card.height());
    let margin = Margin { top: room.pick([12, 14, 18]), ..Margin::same(room.pick([12, 14, 16])) };
    Panel::paper().accent().margin(margin).show_at(ui, card, |ui| {
        let (body, bottom) = foot(ui, stage.foot(room));
        stage.body(&mut child(ui, body, stage), &hand, room, &mut asked);
        stage.buttons(&mut child(ui, bottom, ("foot", stage)), &hand, &mut asked);
    });
    asked
}

/// The card over the drawing, and what is read less often below.
fn stacked(ui: &mut Ui, hand: &Hand<'_>, stage: Stage, asked: &mut Vec<Command>) {
    let room = Room::Tight;
    let card = |ui: &mut Ui, asked: &mut Vec<Command>| {
        head::now(ui, hand);
        Panel::paper().accent().margin(Margin::same(12)).show(ui, |ui| {
            ui.push_id(stage, |ui| stage.body(ui, hand, room, asked));
        });
        drawing::stacked(ui, hand, asked);
        head::rest(ui, hand, asked);
    };
    column(ui, (("measure", stage, hand.at), stage.foot(room)), asked, card, |ui, asked| {
        stage.buttons(ui, hand, asked);
    });
}

/// A space of its own for one part of the screen.
pub(super) fn child(ui: &mut Ui, rect: Rect, salt: impl egui::AsIdSalt) -> Ui {
    ui.new_child(UiBuilder::new().id_salt(salt).max_rect(rect))
}

/// The bottom of a card, where the thumb is: what is shown there stays in reach.
pub(super) fn foot(ui: &Ui, height: f32) -> (Rect, Rect) {
    let all = ui.max_rect();
    let split = all.bottom() - height;
    let body = Rect::from_min_max(ui.next_widget_position(), pos2(all.right(), split - 8.0));
    (body, all.with_min_y(split))
}
