//! A value with one less and one more beside it.
//!
//! Knows the two taps, and the finger that stays: it steps on and on, so that nobody taps thirty
//! times in gloves. Refuses to know the value's kind: it is text.

use crate::gui::{
    marks::Icon,
    paint, theme,
    widgets::touch::{self, Spoken},
};
use egui::{Align2, Rect, Response, Sense, Stroke, StrokeKind, Ui, vec2};

/// Which way a stepper was tapped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// One less.
    Less,
    /// One more.
    More,
}

/// A value that goes up and down in steps.
#[derive(Clone, Copy, Debug)]
pub struct Stepper<'a> {
    /// The value, such as `41 °C`.
    pub value: &'a str,
    /// What the left half does, such as "blade colder".
    pub less: &'a str,
    /// What the right half does, such as "blade warmer".
    pub more: &'a str,
}

impl Stepper<'_> {
    /// Shows the stepper, 50 high, at the width at hand but no wider than 180.
    pub fn show(self, ui: &mut Ui) -> Option<Step> {
        self.show_clearing(ui, None).0
    }

    /// The same with a value that can be tapped away: true if it was. `clear` says what that does.
    pub fn show_clearing(self, ui: &mut Ui, clear: Option<&str>) -> (Option<Step>, bool) {
        let t = theme::tokens(ui);
        let width = ui.available_width().min(178.0);
        let (rect, _) = ui.allocate_exact_size(vec2(width, 50.0), Sense::hover());
        ui.painter().rect(rect, 5.0, t.field, Stroke::new(1.0, t.edge), StrokeKind::Inside);
        let side = 48.0;
        let less = rect.with_max_x(rect.left() + side);
        let more = rect.with_min_x(rect.right() - side);
        for x in [less.right(), more.left()] {
            let thin = Stroke::new(1.0, t.edge);
            paint::upright(ui.painter(), x, rect.top() + 0.5..=rect.bottom() - 0.5, thin);
        }
        let font = egui::FontId::new(17.0, crate::gui::fonts::bold());
        let room = width - 2.0 * side - 6.0;
        let value = paint::shrunk(ui.painter(), self.value, &font, t.ink, room);
        paint::place(ui.painter(), rect.center(), Align2::CENTER_CENTER, value);
        touch::say(ui, rect.shrink2(vec2(side, 0.0)), ("stepper", self.less), self.value);
        let middle = rect.shrink2(vec2(side, 0.0));
        let gone = clear.is_some_and(|clear| {
            let id = ui.make_persistent_id(("step", clear));
            let response = touch::tap(ui, middle, id, &Spoken::button(clear));
            touch::focus_ring(ui, &response, middle.shrink(3.0), 3.0);
            response.clicked()
        });
        let down = half_clicked(ui, less, self.less, Icon::Minus);
        let up = half_clicked(ui, more, self.more, Icon::Plus);
        let step = if down { Some(Step::Less) } else { up.then_some(Step::More) };
        (step, gone)
    }

    /// The same as a tile, 44 high at the width at hand, with what is counted over the value.
    pub fn show_counting(self, ui: &mut Ui, what: &str) -> Option<Step> {
        let t = theme::tokens(ui);
        let size = vec2(ui.available_width(), theme::TOUCH);
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        ui.painter().rect(rect, 5.0, t.field, Stroke::new(1.0, t.edge), StrokeKind::Inside);
        let middle = rect.shrink2(vec2(theme::TOUCH, 0.0));
        let over = paint::fitted(ui.painter(), what, theme::caption(), t.ink2, middle.width());
        let at = middle.center_top() + vec2(0.0, 13.0);
        paint::place(ui.painter(), at, Align2::CENTER_CENTER, over);
        let ink = if self.value == "0" { t.ink3 } else { t.ink };
        let font = egui::FontId::new(
            if self.value.len() < 4 { 16.0 } else { 13.0 },
            crate::gui::fonts::bold(),
        );
        let value = paint::shrunk(ui.painter(), self.value, &font, ink, middle.width());
        let at = middle.center_bottom() - vec2(0.0, 14.0);
        paint::place(ui.painter(), at, Align2::CENTER_CENTER, value);
        let said = format!("{what}: {}", self.value);
        touch::say(ui, middle, ("stepper", self.less), &said);
        let less = rect.with_max_x(middle.left());
        let down = half_clicked(ui, less, self.less, Icon::Minus);
        let up = half_clicked(ui, rect.with_min_x(middle.right()), self.more, Icon::Plus);
        if down { Some(Step::Less) } else { up.then_some(Step::More) }
    }
}

fn half_clicked(ui: &Ui, rect: Rect, name: &str, icon: Icon) -> bool {
    let t = theme::tokens(ui);
    let id = ui.make_persistent_id(("step", name));
    // What stays is no click any more; egui lets go of those after a while.
    let held = ui.interact(rect, id.with("held"), Sense::DRAG);
    let response = touch::tap(ui, rect, id, &Spoken::button(name));
    if response.is_pointer_button_down_on() {
        ui.painter().rect_filled(rect.shrink(2.0), 3.0, t.accent_tint);
    }
    icon.paint(ui.painter(), rect.center(), 20.0, t.ink, t);
    touch::focus_ring(ui, &response, rect.shrink(3.0), 3.0);
    response.clicked() | steps_on(ui, &held)
}

/// Seconds until a finger that stays begins to step; longer than the longest tap.
const STAYS: f64 = 0.85;
/// Seconds from one such step to the next.
const PACE: f64 = 0.1;

/// Whether a finger that stays is due for another step.
fn steps_on(ui: &Ui, response: &Response) -> bool {
    let counted = response.id.with("steps");
    let pressed = ui.input(|input| input.pointer.press_start_time());
    let Some(pressed) = pressed.filter(|_| response.is_pointer_button_down_on()) else {
        ui.data_mut(|data| data.remove::<f64>(counted));
        return false;
    };
    ui.ctx().request_repaint_after_secs(0.05);
    let held = ui.input(|input| input.time) - pressed - STAYS;
    let due = (held / PACE).floor() + 1.0;
    let done = ui.data(|data| data.get_temp::<f64>(counted)).unwrap_or(0.0);
    if 0.0 <= held && done < due {
        ui.data_mut(|data| data.insert_temp(counted, due));
        true
    } else {
        false
    }
}
