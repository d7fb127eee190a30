//! The number under the hand, large enough to read at arm's length.
//!
//! Knows a real text field with a caption and a unit. Refuses to read the number: whatever is typed
//! stays as it is typed.

use crate::{
    gui::{fonts, paint, theme, widgets::touch},
    language::{self, sentence},
};
use egui::{
    FontId, Frame, Id, Margin, Rect, Response, Sense, Stroke, StrokeKind, TextEdit, Ui, Vec2, pos2,
    vec2,
};

/// A large entry field.
#[derive(Clone, Copy, Debug)]
pub struct Entry<'a> {
    /// The small line on top.
    pub caption: &'a str,
    /// The unit at the right.
    pub unit: &'a str,
    /// What a screen reader and a test call it.
    pub name: &'a str,
    /// What to show while nothing is typed.
    pub hint: &'a str,
    /// Whether the text cannot be read; the sentence that says why stands elsewhere.
    pub wrong: bool,
}

impl Entry<'_> {
    /// The id of the field, to ask for the keyboard.
    pub fn id(&self) -> Id {
        Id::unique(("entry", self.name))
    }

    /// Shows the field at exactly `size`; the answer is that of the text field inside.
    pub fn show(self, ui: &mut Ui, text: &mut String, size: Vec2) -> Response {
        let t = theme::tokens(ui);
        // The field takes the keyboard, not what lies around it.
        let (rect, ground) = ui.allocate_exact_size(size, Sense::CLICK);
        let id = self.id();
        let focused = ui.memory(|memory| memory.has_focus(id));
        let stroke = match (self.wrong, focused) {
            (true, _) => Stroke::new(3.0, t.stop),
            (false, true) => Stroke::new(3.0, t.accent),
            (false, false) => Stroke::new(1.0, t.edge),
        };
        ui.painter().rect(rect, 5.0, t.field, stroke, StrokeKind::Inside);
        let room = rect.width() - 24.0;
        let caption =
            paint::fitted(ui.painter(), language::known(self.caption), theme::chip(), t.ink3, room);
        paint::place(ui.painter(), rect.min + vec2(15.0, 16.0), egui::Align2::LEFT_TOP, caption);
        let unit = ui.painter().text(
            rect.right_bottom() - vec2(14.0, 20.0),
            egui::Align2::RIGHT_BOTTOM,
            self.unit,
            FontId::new(14.0, fonts::regular()),
            t.ink2,
        );
        let room = Rect::from_min_max(
            pos2(rect.left() + 13.0, rect.top() + 32.0),
            pos2(unit.left() - 6.0, rect.bottom() - 8.0),
        );
        let font = fitting_font(ui, text, room.size());
        let field = TextEdit::singleline(text)
            .id(id)
            .font(font)
            .frame(Frame::NONE)
            .margin(Margin::ZERO)
            .align(egui::Align2::LEFT_CENTER)
            .hint_text(egui::RichText::new(self.hint).font(fitting_font(
                ui,
                self.hint,
                room.size(),
            )))
            .text_color(t.ink)
            .min_size(room.size())
            .desired_width(room.width());
        let name = language::known(self.name);
        let response = ui.name_inputs(name, |ui| ui.place(room, field));
        ui.ctx().accesskit_node_builder(id, |node| node.set_label(name));
        // A gloved finger may hit the caption: the whole box leads into the field.
        if ground.clicked() {
            response.request_focus();
        }
        touch::follow(ui, &response, rect);
        response
    }
}

/// Whether the keyboard is in the one field for a stack, where no words are typed.
pub(crate) fn stack_has_keyboard(ui: &Ui) -> bool {
    ui.memory(|memory| memory.has_focus(Id::unique(("entry", STACK))))
}

/// The name of the field for the stack in the gap.
pub const STACK: &str = sentence!("stack in the gap");

/// The large number, or smaller if a long one would not fit.
fn fitting_font(ui: &Ui, text: &str, room: Vec2) -> FontId {
    let full = theme::number_large();
    let ink = theme::tokens(ui).ink;
    let width = ui.painter().layout_no_wrap(text.to_owned(), full.clone(), ink).size().x;
    let by_width = (room.x - 4.0) / width.max(1.0);
    let by_height = room.y / (full.size * 1.2);
    FontId::new((full.size * by_width.min(by_height).min(1.0)).max(14.0).floor(), full.family)
}
