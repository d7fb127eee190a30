//! The rail on the left: one tab per screen.
//!
//! Knows tabs with an icon and a word. Refuses to know which screens there are.

use crate::gui::{
    marks::{Icon, VerdictMark},
    paint, theme,
    widgets::touch::{self, Spoken},
};
use egui::{Align2, FontId, Rect, Sense, Stroke, Ui, pos2, vec2};

/// The width of the rail.
pub const WIDTH: f32 = 76.0;
const ITEM: f32 = 72.0;
const HEAD: f32 = 88.0;

/// One tab.
#[derive(Clone, Copy, Debug)]
pub struct RailItem<'a> {
    /// Its sign.
    pub icon: Icon,
    /// The word under the sign.
    pub word: &'a str,
    /// Said after the word by a screen reader; may be empty.
    pub detail: &'a str,
    /// Whether this screen is shown.
    pub current: bool,
    /// Whether it stands at the foot: settings, not screens.
    pub at_foot: bool,
    /// A mark in its corner: a stop stays in view on every screen until it is cleared.
    pub badge: Option<VerdictMark>,
}

/// Paints the rail over the full height at hand; returns the index of the tab that was tapped.
pub fn rail(ui: &mut Ui, items: &[RailItem<'_>]) -> Option<usize> {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(WIDTH, ui.available_height()), Sense::hover());
    ui.painter().rect_filled(rect, 0.0, t.rail);
    let edge = Stroke::new(1.0, t.line);
    paint::upright(ui.painter(), rect.right() - 0.5, rect.top()..=rect.bottom(), edge);
    let (head, item_height) = heights(rect.height(), items.len());
    if 0.0 < head {
        Icon::Logo.paint(ui.painter(), rect.center_top() + vec2(0.0, 38.0), 34.0, t.ink, t);
    }
    let (mut next, mut foot) =
        (rect.top() + head, rect.bottom() - if 0.0 < head { 8.0 } else { 0.0 });

    let mut tapped = None;
    for (index, item) in items.iter().enumerate() {
        let top = if item.at_foot {
            foot -= item_height;
            foot
        } else {
            next += item_height;
            next - item_height
        };
        let tab = Rect::from_min_size(pos2(rect.left(), top), vec2(WIDTH, item_height));
        if tab_clicked(ui, tab, item) {
            tapped = Some(index);
        }
    }
    tapped
}

/// The room over the first tab, and the height of each: the head gives way first.
fn heights(room: f32, tabs: usize) -> (f32, f32) {
    let tabs = tabs.max(1) as f32;
    if HEAD + tabs * ITEM + 8.0 <= room {
        return (HEAD, ITEM);
    }
    (0.0, (room / tabs).clamp(theme::TOUCH, ITEM))
}

fn tab_clicked(ui: &Ui, rect: Rect, item: &RailItem<'_>) -> bool {
    let t = theme::tokens(ui);
    let painter = ui.painter();
    let id = ui.make_persistent_id(("rail", item.word));
    let spoken = if item.at_foot {
        Spoken::button(item.word)
    } else {
        Spoken { role: egui::accesskit::Role::Tab, ..Spoken::one_of(item.word, item.current) }
    };
    let response = touch::tap(ui, rect, id, &spoken.with(item.detail));
    if item.current {
        painter.rect_filled(rect, 0.0, t.ground);
        let edge = Stroke::new(1.0, t.line);
        paint::level(painter, rect.left()..=rect.right(), rect.top(), edge);
        paint::level(painter, rect.left()..=rect.right(), rect.bottom() - 1.0, edge);
        let bar = Rect::from_min_size(rect.min, vec2(5.0, rect.height()));
        painter.rect_filled(bar, 0.0, t.accent);
    } else if response.hovered() {
        painter.rect_filled(rect.shrink2(vec2(1.0, 0.0)), 0.0, t.ground.gamma_multiply(0.5));
    }
    let ink = if item.current { t.ink } else { t.ink2 };
    let low = rect.height() < 64.0;
    let (at, size) = if low { (16.0, 20.0) } else { (27.0, 27.0) };
    let at = rect.center_top() + vec2(1.0, at);
    item.icon.paint(painter, at, size, ink, t);
    let family =
        if item.current { crate::gui::fonts::bold() } else { crate::gui::fonts::regular() };
    let font = FontId::new(12.0, family);
    painter.text(
        rect.center_top() + vec2(0.0, if low { 36.0 } else { 55.0 }),
        Align2::CENTER_CENTER,
        item.word,
        font,
        ink,
    );
    if let Some(mark) = item.badge {
        mark.paint(painter, at + vec2(19.0, -13.0), 15.0, t);
    }
    touch::focus_ring(ui, &response, rect.shrink(4.0), 4.0);
    response.clicked()
}
