//! What every tappable thing shares: hit area, keyboard focus, and a name for a screen reader.
//!
//! Knows responses. Refuses to paint anything but the focus ring.

#![expect(clippy::fn_params_excessive_bools, reason = "chosen or not is what egui asks for")]

use crate::gui::theme;
use egui::{
    Id, Rect, Response, Sense, Stroke, StrokeKind, Ui, WidgetInfo,
    accesskit::{Live, Role},
    vec2,
};

/// What a screen reader says about a thing, and what a test finds it by.
pub(crate) struct Spoken<'a> {
    pub(crate) role: Role,
    pub(crate) label: &'a str,
    /// Said after the label, such as "between 0.57 and 0.62, working"; may be empty.
    pub(crate) detail: &'a str,
    /// For things of which one or several can be chosen.
    pub(crate) chosen: Option<bool>,
    pub(crate) enabled: bool,
}

impl<'a> Spoken<'a> {
    pub(crate) fn button(label: &'a str) -> Self {
        Self { role: Role::Button, label, detail: "", chosen: None, enabled: true }
    }

    pub(crate) fn one_of(label: &'a str, chosen: bool) -> Self {
        Self { role: Role::RadioButton, chosen: Some(chosen), ..Self::button(label) }
    }

    pub(crate) fn on_off(label: &'a str, chosen: bool) -> Self {
        Self { role: Role::CheckBox, chosen: Some(chosen), ..Self::button(label) }
    }

    pub(crate) fn with(self, detail: &'a str) -> Self {
        Self { detail, ..self }
    }
}

/// Makes `rect` tappable, focusable and named. The hit area grows to glove size if it is smaller.
pub(crate) fn tap(ui: &Ui, rect: Rect, id: Id, spoken: &Spoken<'_>) -> Response {
    let missing = (vec2(theme::TOUCH, theme::TOUCH) - rect.size()).max(egui::Vec2::ZERO);
    let sense = if spoken.enabled { Sense::click() } else { Sense::hover() };
    let response = ui.interact(rect.expand2(missing / 2.0), id, sense);
    response.widget_info(|| match spoken.chosen {
        Some(chosen) => WidgetInfo::selected(spoken.role, spoken.enabled, chosen, spoken.label),
        None => WidgetInfo::labeled(spoken.role, spoken.enabled, spoken.label),
    });
    if !spoken.detail.is_empty() {
        ui.ctx().accesskit_node_builder(id, |node| {
            node.set_description(spoken.detail);
        });
    }
    response
}

/// The ring that says where the keyboard is. Painted last, over everything else.
pub(crate) fn focus_ring(ui: &Ui, response: &Response, rect: Rect, radius: f32) {
    if response.has_focus() {
        let t = theme::tokens(ui);
        let stroke = Stroke::new(2.0, t.ink);
        ui.painter().rect_stroke(rect.expand(2.0), radius + 2.0, stroke, StrokeKind::Outside);
    }
    follow(ui, response, rect);
}

/// Scrolls to where the keyboard came. Only once: somebody who scrolls on must not be pulled back.
pub(crate) fn follow(ui: &Ui, response: &Response, rect: Rect) {
    if response.gained_focus() {
        ui.scroll_to_rect(rect, None);
    }
}

/// The outline of a plain control: thin, stronger under the pointer, accent while pressed or chosen.
pub(crate) fn outline(ui: &Ui, response: &Response, chosen: bool) -> Stroke {
    let t = theme::tokens(ui);
    if chosen || response.is_pointer_button_down_on() {
        Stroke::new(theme::CHOSEN, t.accent)
    } else if response.hovered() {
        Stroke::new(1.5, t.ink2)
    } else {
        Stroke::new(1.0, t.edge)
    }
}

/// How many cells of at least `cell` fit side by side; one at the least.
pub(crate) fn columns(width: f32, cell: f32, gap: f32, most: usize) -> usize {
    let fits = |count: &usize| *count as f32 * (cell + gap) - gap <= width;
    (1..=most).rev().find(fits).unwrap_or(1)
}

/// Tells a screen reader about text that is painted and not a label of egui's own.
pub fn say(ui: &Ui, rect: Rect, id_salt: impl egui::AsIdSalt, text: &str) {
    let response = ui.interact(rect, ui.make_persistent_id(id_salt), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, text));
}

/// The same for what is wrong, which a screen reader says at once.
pub(crate) fn warn(ui: &Ui, rect: Rect, id_salt: impl egui::AsIdSalt, text: &str) {
    let id = ui.make_persistent_id(id_salt);
    let response = ui.interact(rect, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, text));
    live(ui, id, Live::Assertive);
}

/// The same for what changes while somebody works: a screen reader says it when it does, once the
/// hand rests.
pub(crate) fn announce(ui: &Ui, rect: Rect, id_salt: &str, text: &str) {
    let id = ui.make_persistent_id(("announced", id_salt));
    let response = ui.interact(rect, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Status, true, text));
    live(ui, id, Live::Polite);
}

/// A label that a screen reader says at once: something is wrong.
pub(crate) fn alert(ui: &Ui, label: &Response) {
    live(ui, label.id, Live::Assertive);
}

fn live(ui: &Ui, id: Id, how: Live) {
    ui.ctx().accesskit_node_builder(id, |node| {
        node.set_live(how);
        node.set_live_atomic();
    });
}
