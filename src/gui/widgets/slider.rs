//! A number that is moved along a track, large enough for a glove.
//!
//! Knows a span, a value and a stretch of the track that is good. Refuses to know what the number
//! means.

use crate::gui::{paint, theme, widgets::touch};
use egui::{Align2, EventFilter, Key, Rect, Response, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

/// A slider with its title and value above the track and its ends below.
#[derive(Clone, Copy, Debug)]
pub struct Slider<'a> {
    /// What is moved, such as "Cold gap at G2".
    pub title: &'a str,
    /// The value in words, such as "0.15 mm".
    pub value: &'a str,
    /// Where it stands.
    pub at: f64,
    /// From and to.
    pub span: [f64; 2],
    /// The smallest step.
    pub step: f64,
    /// The ends in words.
    pub ends: [&'a str; 2],
    /// A good stretch of the track and its name.
    pub good: Option<([f64; 2], &'a str)>,
    /// Whether it is the one that the screen is about.
    pub accent: bool,
}

/// Height of a slider with everything around it.
pub const SLIDER_HEIGHT: f32 = 78.0;

impl Slider<'_> {
    /// Paints it; returns the new value while it is moved.
    pub fn show(&self, ui: &mut Ui, height: f32) -> Option<f64> {
        let t = theme::tokens(ui);
        let width = ui.available_width();
        let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
        let painter = ui.painter();
        let head = rect.top() + 10.0;
        painter.text(
            pos2(rect.left(), head),
            Align2::LEFT_CENTER,
            self.title,
            theme::body(),
            t.ink2,
        );
        let right = pos2(rect.right(), head);
        painter.text(right, Align2::RIGHT_CENTER, self.value, theme::value(), t.ink);

        let radius = if 60.0 < height { 14.0 } else { 11.0 };
        let middle = rect.top() + 20.0 + (height - 20.0).min(theme::TOUCH) / 2.0;
        let (from, to) = (rect.left() + radius, rect.right() - radius);
        let [low, high] = self.span;
        let x = |value: f64| {
            let share = ((value - low) / (high - low).max(1e-9)).clamp(0.0, 1.0);
            from + (to - from) * paint::screen(share)
        };
        let track = |a: f32, b: f32| Rect::from_x_y_ranges(a..=b, middle - 3.0..=middle + 3.0);
        painter.rect_filled(track(rect.left(), rect.right()), 3.0, t.soft);
        let ink = if self.accent { t.accent } else { t.ink2 };
        painter.rect_filled(track(rect.left(), x(self.at)), 3.0, ink);
        let below = middle + 22.0;
        if let Some(([a, b], word)) = self.good {
            let bar = Rect::from_x_y_ranges(x(a)..=x(b), middle + 9.0..=middle + 12.0);
            painter.rect_filled(bar, 0.0, t.ok);
            let at = pos2(bar.center().x, below);
            if 64.0 < height {
                painter.text(at, Align2::CENTER_CENTER, word, theme::caption_bold(), t.ok);
            }
        }
        if 64.0 < height {
            let font = theme::caption;
            let at = pos2(rect.left(), below);
            painter.text(at, Align2::LEFT_CENTER, self.ends[0], font(), t.ink3);
            let at = pos2(rect.right(), below);
            painter.text(at, Align2::RIGHT_CENTER, self.ends[1], font(), t.ink3);
        }

        let id = ui.make_persistent_id(("slider", self.title));
        let hit = Rect::from_x_y_ranges(
            rect.x_range(),
            middle - theme::TOUCH / 2.0..=middle + theme::TOUCH / 2.0,
        );
        let response = ui.interact(hit, id, Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::slider(true, self.at, self.title));
        ui.ctx().accesskit_node_builder(id, |node| node.set_value(self.value));
        let knob = pos2(x(self.at), middle);
        let stroke = Stroke::new(if response.dragged() { 3.5 } else { 2.5 }, ink);
        painter.circle(knob, radius, t.field, stroke);
        touch::focus_ring(
            ui,
            &response,
            Rect::from_center_size(knob, vec2(radius, radius) * 2.0),
            radius,
        );

        let snap = |value: f64| ((value / self.step).round() * self.step).clamp(low, high);
        let by_key = stepped(ui, &response).map(|steps| self.at + steps * self.step);
        let by_hand = response
            .interact_pointer_pos()
            .map(|at| low + (high - low) * f64::from((at.x - from) / (to - from).max(1.0)));
        let moved = snap(by_key.or(by_hand)?);
        ((moved - self.at).abs() > self.step * 1e-3).then_some(moved)
    }
}

/// How many steps the arrow keys ask for, while a slider has the keyboard: it keeps the arrows that
/// would else lead to its neighbour. Page keys take ten.
pub(crate) fn stepped(ui: &Ui, response: &Response) -> Option<f64> {
    if !response.has_focus() {
        return None;
    }
    let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
    let presses = |key: Key| ui.input(|input| input.num_presses(key)) as f64;
    let far = presses(Key::PageUp) - presses(Key::PageDown);
    let steps = presses(Key::ArrowRight) - presses(Key::ArrowLeft) + 10.0 * far;
    (steps != 0.0).then_some(steps)
}
