//! The pair of answers a leaf can give: goes in, does not go.
//!
//! Knows two big buttons. Refuses to know which leaf was asked.

use crate::gui::{
    marks::Icon,
    paint, theme,
    widgets::touch::{self, Spoken},
};
use egui::{Align2, Rect, Sense, StrokeKind, Ui, pos2, vec2};

/// The height of each answer, where there is room for it.
const HEIGHT: f32 = 52.0;

/// Two answers, the good one first, over or beside each other as the width allows.
///
/// Returns the index of the answer that was tapped; `chosen` is the one that stands.
pub fn big_choice(ui: &mut Ui, words: [&str; 2], chosen: Option<usize>) -> Option<usize> {
    let width = ui.available_width();
    let beside = 300.0 <= width;
    let over = ((ui.available_height() - 6.0) / 2.0).clamp(theme::TOUCH, HEIGHT);
    let size = if beside { vec2(width, HEIGHT) } else { vec2(width, 2.0 * over + 6.0) };
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let cells = if beside {
        let middle = rect.center().x;
        [rect.with_max_x(middle - 4.0), rect.with_min_x(middle + 4.0)]
    } else {
        let middle = rect.center().y;
        [rect.with_max_y(middle - 3.0), rect.with_min_y(middle + 3.0)]
    };
    let mut tapped = None;
    for (index, (word, cell)) in words.into_iter().zip(cells).enumerate() {
        if answer_clicked(ui, cell, word, (index, chosen)) {
            tapped = Some(index);
        }
    }
    tapped
}

fn answer_clicked(
    ui: &Ui,
    rect: Rect,
    word: &str,
    (index, chosen): (usize, Option<usize>),
) -> bool {
    let (good, chosen) = (index == 0, chosen == Some(index));
    let t = theme::tokens(ui);
    let id = ui.make_persistent_id(("answer", word));
    let response = touch::tap(ui, rect, id, &Spoken::one_of(word, chosen));
    let fill = if chosen { t.accent_tint } else { t.field };
    let stroke = touch::outline(ui, &response, chosen);
    ui.painter().rect(rect, 5.0, fill, stroke, StrokeKind::Inside);
    let (icon, ink) = if good { (Icon::Check, t.ok) } else { (Icon::Cross, t.stop) };
    icon.paint(ui.painter(), pos2(rect.left() + 22.0, rect.center().y), 18.0, ink, t);
    let room = rect.width() - 48.0;
    let word = paint::shrunk(ui.painter(), word, &theme::button(), t.ink, room);
    paint::place(ui.painter(), rect.left_center() + vec2(41.0, 0.0), Align2::LEFT_CENTER, word);
    touch::focus_ring(ui, &response, rect, 5.0);
    response.clicked()
}
