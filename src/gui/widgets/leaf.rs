//! Feeler leaves, as large as a glove needs them.
//!
//! Knows a leaf's print and how thick its bar is drawn. Refuses to know which stacks make sense.

use crate::{
    gui::{
        fonts, paint, theme,
        widgets::touch::{self, Spoken},
    },
    language::tell,
};
use egui::{Align2, CornerRadius, FontId, Rect, Sense, StrokeKind, Ui, pos2, vec2};

/// One leaf.
#[derive(Clone, Copy, Debug)]
pub struct Leaf<'a> {
    /// What is stamped on it, such as `0.10`.
    pub print: &'a str,
    /// Its thickness as a share of the thickest leaf of the set, 0 to 1.
    pub share: f32,
    /// Whether it is in the stack.
    pub chosen: bool,
    /// Whether the tool suggests it next.
    pub suggested: bool,
    /// What a screen reader says, such as "leaf 0.10".
    pub name: &'a str,
}

const GAP: f32 = 8.0;

/// Lays the leaves out in rows; returns the index of the one that was tapped.
///
/// Leaves are at least 52 wide and as high as asked, but never below glove size; rows are even.
pub fn leaf_grid(ui: &mut Ui, leaves: &[Leaf<'_>], height: f32) -> Option<usize> {
    let height = height.max(theme::TOUCH);
    let width = ui.available_width();
    let most = touch::columns(width, 52.0, GAP, leaves.len());
    let columns = leaves.len().div_ceil(leaves.len().div_ceil(most).max(1)).max(1);
    let leaf_width = ((width - GAP * (columns - 1) as f32) / columns as f32).min(84.0);
    let rows = leaves.len().div_ceil(columns);
    let total = rows as f32 * (height + GAP) - GAP;
    let (rect, _) = ui.allocate_exact_size(vec2(width, total.max(0.0)), Sense::hover());
    let mut tapped = None;
    for (index, leaf) in leaves.iter().enumerate() {
        let step = vec2(
            (index % columns) as f32 * (leaf_width + GAP),
            (index / columns) as f32 * (height + GAP),
        );
        let cell = Rect::from_min_size(rect.min + step, vec2(leaf_width, height));
        if leaf_clicked(ui, cell, leaf, index) {
            tapped = Some(index);
        }
    }
    tapped
}

fn leaf_clicked(ui: &Ui, rect: Rect, leaf: &Leaf<'_>, index: usize) -> bool {
    let t = theme::tokens(ui);
    let id = ui.make_persistent_id(("leaf", index));
    let spoken = Spoken::on_off(leaf.name, leaf.chosen);
    let spoken = if leaf.suggested { spoken.with(tell!("try this one next")) } else { spoken };
    let response = touch::tap(ui, rect, id, &spoken);
    let tip = CornerRadius { nw: 4, sw: 4, ne: 20, se: 20 };
    let (fill, ink, bar) =
        if leaf.chosen { (t.accent, t.on_accent, t.on_accent) } else { (t.field, t.ink, t.ink2) };
    let stroke = touch::outline(ui, &response, leaf.chosen);
    ui.painter().rect(rect, tip, fill, stroke, StrokeKind::Inside);
    if leaf.suggested {
        // A bar at its foot: seen when looked for, and nothing like a leaf that is chosen.
        let foot = rect.with_min_y(rect.bottom() - 7.0).shrink2(vec2(10.0, 2.0));
        ui.painter().rect_filled(foot, 1.5, if leaf.chosen { t.on_accent } else { t.accent });
    }
    let thick = (8.5 * leaf.share).clamp(1.4, 8.5);
    let bar_height = (rect.height() - 24.0).max(20.0);
    let bar_rect = Rect::from_min_size(
        pos2(rect.left() + 9.0, rect.center().y - bar_height / 2.0),
        vec2(thick, bar_height),
    );
    ui.painter().rect_filled(bar_rect, 0.0, bar);
    let room = rect.with_min_x(rect.left() + 9.0 + thick);
    let font = FontId::new(15.0, fonts::bold());
    let print = paint::fitted(ui.painter(), leaf.print, font, ink, room.width());
    paint::place(ui.painter(), room.center() + vec2(-1.0, 0.0), Align2::CENTER_CENTER, print);
    touch::focus_ring(ui, &response, rect, 6.0);
    response.clicked()
}
