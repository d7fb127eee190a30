//! Buttons: the one primary, plain ones, and quiet ones.
//!
//! Knows a word, a second line, and an icon before or after. Refuses to know what happens next.

use crate::gui::{
    fonts,
    marks::Icon,
    paint,
    theme::{self, Tokens},
    widgets::touch::{self, Spoken},
};
use egui::{
    Align2, Color32, FontId, Galley, Rect, Response, Sense, Stroke, StrokeKind, Ui, pos2,
    text::TextWrapping, vec2,
};
use std::sync::Arc;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Primary,
    Plain,
    Quiet,
}

/// A button.
#[derive(Clone, Copy, Debug)]
#[must_use = "a button appears when it is shown"]
pub struct Button<'a> {
    kind: Kind,
    word: &'a str,
    detail: &'a str,
    before: Option<Icon>,
    after: Option<Icon>,
    enabled: bool,
    width: Option<f32>,
    height: f32,
}

impl<'a> Button<'a> {
    /// The one thing to do next; one per screen, bottom right, in reach of a gloved thumb.
    pub fn primary(word: &'a str) -> Self {
        Self { height: theme::PRIMARY, ..Self::new(Kind::Primary, word) }
    }

    /// Anything else that can be done.
    pub fn plain(word: &'a str) -> Self {
        Self::new(Kind::Plain, word)
    }

    /// Something that is rarely done; no outline until it is pointed at.
    pub fn quiet(word: &'a str) -> Self {
        Self::new(Kind::Quiet, word)
    }

    fn new(kind: Kind, word: &'a str) -> Self {
        Self {
            kind,
            word,
            detail: "",
            before: None,
            after: None,
            enabled: true,
            width: None,
            height: theme::TOUCH,
        }
    }

    /// A second line, such as the name of the next station.
    pub fn detail(self, detail: &'a str) -> Self {
        Self { detail, ..self }
    }

    /// A sign before the word.
    pub fn before(self, icon: Icon) -> Self {
        Self { before: Some(icon), ..self }
    }

    /// A sign at the right edge.
    pub fn after(self, icon: Icon) -> Self {
        Self { after: Some(icon), ..self }
    }

    /// Whether it can be pressed.
    #[expect(clippy::fn_params_excessive_bools, reason = "a builder named after its only flag")]
    pub fn enabled(self, enabled: bool) -> Self {
        Self { enabled, ..self }
    }

    /// A width other than that of its words.
    pub fn width(self, width: f32) -> Self {
        Self { width: Some(width), ..self }
    }

    /// A height other than the usual one; never below glove size.
    pub fn height(self, height: f32) -> Self {
        Self { height: height.max(theme::TOUCH), ..self }
    }

    /// Shows the button.
    pub fn show(self, ui: &mut Ui) -> Response {
        let t = theme::tokens(ui);
        let big = self.kind == Kind::Primary;
        let size = if big { 16.0 } else { theme::button().size };
        let (ink, quiet) = self.inks(t);
        let word = galley(ui, self.word, FontId::new(size, fonts::bold()), ink);
        let detail = galley(ui, self.detail, FontId::new(12.0, fonts::regular()), quiet);
        let signs = [self.before, self.after].iter().flatten().count() as f32 * 28.0;
        let natural = word.size().x.max(detail.size().x) + signs + 36.0;
        let width = self.width.unwrap_or(natural).max(theme::TOUCH);
        let (rect, _) = ui.allocate_exact_size(vec2(width, self.height), Sense::hover());

        let spoken =
            Spoken { enabled: self.enabled, ..Spoken::button(self.word).with(self.detail) };
        let id = ui.make_persistent_id(("button", self.word, self.detail));
        let response = touch::tap(ui, rect, id, &spoken);
        self.ground(ui, rect, &response);
        let words = [word, detail].map(|it| self.within(ui, rect, it));
        self.words(ui, rect, words, ink);
        touch::focus_ring(ui, &response, rect, 4.0);
        response
    }

    fn inks(self, t: &Tokens) -> (Color32, Color32) {
        match self.kind {
            _ if !self.enabled => (t.ink3, t.ink3),
            Kind::Primary => (t.on_accent, t.on_accent),
            Kind::Plain => (t.ink, t.ink2),
            Kind::Quiet => (t.ink2, t.ink3),
        }
    }

    fn ground(self, ui: &Ui, rect: Rect, response: &Response) {
        let t = theme::tokens(ui);
        let pressed = response.is_pointer_button_down_on();
        let outline = touch::outline(ui, response, false);
        let (fill, stroke) = match self.kind {
            _ if !self.enabled => (t.rail, Stroke::new(1.0, t.soft)),
            Kind::Primary if pressed => (t.accent, Stroke::new(3.0, t.ink)),
            Kind::Primary if response.hovered() => (t.accent, Stroke::new(1.5, t.ink)),
            Kind::Primary => (t.accent, Stroke::NONE),
            Kind::Plain if pressed => (t.accent_tint, outline),
            Kind::Plain => (t.field, outline),
            Kind::Quiet if pressed || response.hovered() => (Color32::TRANSPARENT, outline),
            Kind::Quiet => (Color32::TRANSPARENT, Stroke::NONE),
        };
        ui.painter().rect(rect, 5.0, fill, stroke, StrokeKind::Inside);
    }

    /// In smaller letters where a sign or the edge would run into it, then a lone word on two lines.
    fn within(self, ui: &Ui, rect: Rect, galley: Arc<Galley>) -> Arc<Galley> {
        let before = if self.before.is_some() { 26.0 } else { 0.0 };
        let after = if self.after.is_some() { 38.0 } else { 6.0 };
        let left = if !self.detail.is_empty() || self.after.is_some() { 18.0 } else { 6.0 };
        let room = rect.width() - left - before - after;
        if galley.size().x <= room {
            return galley;
        }
        let mut job = (*galley.job).clone();
        let least = paint::lessened(ui.painter(), job.clone(), room);
        if least.size().x <= room {
            return least;
        }
        job = (*least.job).clone();
        let rows = if self.detail.is_empty() && self.after.is_none() { 2 } else { 1 };
        let max_width = room.max(0.0);
        job.wrap = TextWrapping { max_width, max_rows: rows, ..TextWrapping::default() };
        ui.painter().layout_job(job)
    }

    fn words(self, ui: &Ui, rect: Rect, [word, detail]: [Arc<Galley>; 2], ink: Color32) {
        let t = theme::tokens(ui);
        let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
        // Two lines or a sign at the edge read from the left; a lone word stands in the middle.
        let from_left = !self.detail.is_empty() || self.after.is_some();
        let sign = if self.before.is_some() { 26.0 } else { 0.0 };
        let content = sign + word.size().x.max(detail.size().x);
        let left = if from_left { rect.left() + 18.0 } else { rect.center().x - content / 2.0 };
        if let Some(icon) = self.before {
            icon.paint(&painter, pos2(left + 8.0, rect.center().y), 17.0, ink, t);
        }
        if let Some(icon) = self.after {
            icon.paint(&painter, pos2(rect.right() - 22.0, rect.center().y), 18.0, ink, t);
        }
        let x = left + sign;
        if self.detail.is_empty() {
            paint::place(&painter, pos2(x, rect.center().y), Align2::LEFT_CENTER, word);
        } else {
            let middle = rect.center().y;
            paint::place(&painter, pos2(x, middle - 9.0), Align2::LEFT_CENTER, word);
            paint::place(&painter, pos2(x, middle + 12.0), Align2::LEFT_CENTER, detail);
        }
    }
}

fn galley(ui: &Ui, text: &str, font: FontId, ink: Color32) -> Arc<Galley> {
    ui.painter().layout_no_wrap(text.to_owned(), font, ink)
}
