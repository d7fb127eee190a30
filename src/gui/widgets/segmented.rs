//! A switch of which one part is on, and chips and rows that are on or off.
//!
//! Knows words side by side. Refuses to know what they switch.

use crate::gui::{
    fonts,
    marks::Icon,
    paint, theme,
    widgets::touch::{self, Spoken},
};
use egui::{
    Align2, CornerRadius, FontId, Rect, Response, Sense, Stroke, StrokeKind, Ui, pos2, vec2,
};

/// A switch named `name` with one part on; returns the index of the part that was tapped.
///
/// Each part is announced as `name` and its word, such as "line S".
pub fn segmented(ui: &mut Ui, name: &str, parts: &[&str], on: usize) -> Option<usize> {
    let t = theme::tokens(ui);
    let font = |bold| FontId::new(14.0, if bold { fonts::bold() } else { fonts::regular() });
    let width = |word: &&str| {
        let galley = ui.painter().layout_no_wrap((*word).to_owned(), font(true), t.ink);
        (galley.size().x + 28.0).max(theme::TOUCH)
    };
    let natural: f32 = parts.iter().map(width).sum();
    let squeeze = (ui.available_width() / natural.max(1.0)).min(1.0);
    let widths: Vec<f32> = parts.iter().map(|part| width(part) * squeeze).collect();
    let size = vec2(widths.iter().sum(), theme::TOUCH);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let edge = Stroke::new(1.0, t.edge);
    ui.painter().rect(rect, theme::RADIUS, t.field, edge, StrokeKind::Inside);

    let (mut left, mut tapped) = (rect.left(), None);
    for (index, (part, width)) in parts.iter().zip(widths).enumerate() {
        let cell = Rect::from_min_size(pos2(left, rect.top()), vec2(width, rect.height()));
        let label = format!("{name} {part}");
        let id = ui.make_persistent_id(("segment", name, index));
        let response = touch::tap(ui, cell, id, &Spoken::one_of(&label, index == on));
        let chosen = index == on;
        if chosen {
            ui.painter().rect_filled(cell, theme::RADIUS, t.ink);
        } else if 0 < index && index != on + 1 {
            let y = rect.top() + 10.0..=rect.bottom() - 10.0;
            paint::upright(ui.painter(), left, y, Stroke::new(1.0, t.line));
        }
        let ink = if chosen { t.field } else { t.ink };
        let word = paint::shrunk(ui.painter(), part, &font(chosen), ink, width - 6.0);
        paint::place(ui.painter(), cell.center(), Align2::CENTER_CENTER, word);
        touch::focus_ring(ui, &response, cell, 4.0);
        if response.clicked() {
            tapped = Some(index);
        }
        left += width;
    }
    tapped
}

/// How strongly a chip's series is drawn on the plot beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChipState {
    /// Not drawn.
    Off,
    /// Drawn as outlined bars.
    On,
    /// Drawn as solid bars: the one that is read.
    Leading,
}

/// A chip for one series of a plot; tapping it is the caller's to interpret.
pub fn toggle_chip(ui: &mut Ui, word: &str, state: ChipState) -> Response {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(62.0, theme::TOUCH), Sense::hover());
    let id = ui.make_persistent_id(("chip", word));
    let response = touch::tap(ui, rect, id, &Spoken::on_off(word, state != ChipState::Off));
    let leading = state == ChipState::Leading;
    let fill = if leading { t.accent_tint } else { t.field };
    let stroke = touch::outline(ui, &response, leading);
    ui.painter().rect(rect, theme::RADIUS, fill, stroke, StrokeKind::Inside);
    let bar = Rect::from_center_size(rect.left_center() + vec2(14.0, 0.0), vec2(5.0, 13.0));
    match state {
        ChipState::Off => {
            let dash = Stroke::new(1.5, t.ink3);
            paint::level(ui.painter(), bar.left()..=bar.right() + 2.0, bar.center().y, dash);
        }
        ChipState::On => {
            let edge = Stroke::new(1.2, t.ink);
            ui.painter().rect_stroke(bar, CornerRadius::ZERO, edge, StrokeKind::Inside);
        }
        ChipState::Leading => {
            ui.painter().rect_filled(bar, 0.0, t.ink);
        }
    }
    let family = if state == ChipState::Off { fonts::regular() } else { fonts::bold() };
    let ink = if state == ChipState::Off { t.ink2 } else { t.ink };
    let at = rect.left_center() + vec2(24.0, 0.0);
    ui.painter().text(at, Align2::LEFT_CENTER, word, FontId::new(14.0, family), ink);
    touch::focus_ring(ui, &response, rect, 4.0);
    response
}

/// A sentence with a box before it, ticked or not, over the width at hand; true if it was tapped.
#[expect(clippy::fn_params_excessive_bools, reason = "ticked or not is all there is to a box")]
pub fn tick_row(ui: &mut Ui, words: &str, ticked: bool) -> bool {
    let t = theme::tokens(ui);
    let (width, side) = (ui.available_width(), 22.0);
    let room = width - side - 34.0;
    let text = ui.painter().layout(words.to_owned(), theme::body(), t.ink, room);
    let size = vec2(width, (text.size().y + 14.0).max(theme::TOUCH));
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let id = ui.make_persistent_id(("tick", words));
    let response = touch::tap(ui, rect, id, &Spoken::on_off(words, ticked));
    let stroke = touch::outline(ui, &response, false);
    ui.painter().rect(rect, theme::RADIUS, t.field, stroke, StrokeKind::Inside);
    let center = rect.left_center() + vec2(12.0 + side / 2.0, 0.0);
    let tick = Rect::from_center_size(center, vec2(side, side));
    ui.painter().rect_stroke(tick, 3.0, Stroke::new(1.2, t.ink), StrokeKind::Inside);
    if ticked {
        Icon::Check.paint(ui.painter(), center, side - 4.0, t.ink, t);
    }
    let at = pos2(tick.right() + 10.0, rect.center().y);
    paint::place(ui.painter(), at, Align2::LEFT_CENTER, text);
    touch::focus_ring(ui, &response, rect, 4.0);
    response.clicked()
}
