//! Sheets of paper that the screens are made of, and the lines that head them.
//!
//! Knows fills, outlines and margins. Refuses to know what lies on a sheet.

use crate::gui::{theme, widgets::rich_text};
use egui::{
    Color32, CornerRadius, Frame, InnerResponse, Margin, Rect, Response, ScrollArea, Sense, Stroke,
    StrokeKind, Ui, UiBuilder, vec2,
};

/// A sheet of paper.
#[derive(Clone, Copy, Debug, Default)]
#[must_use = "a panel appears when it is shown"]
pub struct Panel {
    accent: bool,
    field: bool,
    margin: Option<Margin>,
}

/// The height of the accent bar on the sheet of the hand.
const BAR: f32 = 5.0;

impl Panel {
    /// A quiet sheet.
    pub fn paper() -> Self {
        Self::default()
    }

    /// The sheet of the chosen thing, a shade lighter.
    pub fn field() -> Self {
        Self { field: true, ..Self::default() }
    }

    /// With an accent bar along its top: the sheet of the hand, one per screen.
    pub fn accent(self) -> Self {
        Self { accent: true, ..self }
    }

    /// With an inner margin other than the usual one.
    pub fn margin(self, margin: Margin) -> Self {
        Self { margin: Some(margin), ..self }
    }

    /// Shows the sheet as large as its contents, at the width at hand.
    pub fn show<R>(self, ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> InnerResponse<R> {
        let (fill, stroke) = self.colours(ui);
        let frame = Frame::NONE
            .fill(fill)
            .stroke(stroke)
            .corner_radius(theme::RADIUS)
            .inner_margin(self.inner());
        let shown = frame.show(ui, |ui| {
            ui.take_available_width();
            add(ui)
        });
        self.bar(ui, shown.response.rect);
        shown
    }

    /// Shows the sheet exactly at `rect`; contents that do not fit are cut at its edge.
    pub fn show_at<R>(self, ui: &mut Ui, rect: Rect, add: impl FnOnce(&mut Ui) -> R) -> R {
        let (fill, stroke) = self.colours(ui);
        ui.painter().rect(rect, theme::RADIUS, fill, stroke, StrokeKind::Inside);
        self.bar(ui, rect);
        let inside = rect - self.inner();
        let mut child = ui.new_child(UiBuilder::new().id_salt(rect_salt(rect)).max_rect(inside));
        child.set_clip_rect(rect.intersect(ui.clip_rect()));
        add(&mut child)
    }

    fn inner(self) -> Margin {
        self.margin.unwrap_or(Margin { top: if self.accent { 18 } else { 14 }, ..Margin::same(16) })
    }

    fn colours(self, ui: &Ui) -> (Color32, Stroke) {
        let t = theme::tokens(ui);
        (if self.field { t.field } else { t.paper }, Stroke::new(1.0, t.soft))
    }

    fn bar(self, ui: &Ui, rect: Rect) {
        if self.accent {
            let bar = Rect::from_min_size(rect.min, vec2(rect.width(), BAR));
            let top = CornerRadius { nw: 3, ne: 3, sw: 0, se: 0 };
            ui.painter().rect_filled(bar, top, theme::tokens(ui).accent);
        }
    }
}

/// What scrolls in a room of its own, and stands whole in a column that scrolls with all its parts.
pub fn scrolls<R>(ui: &mut Ui, area: ScrollArea, add: impl FnOnce(&mut Ui) -> R) -> R {
    if ui.available_height().is_finite() { area.show(ui, add).inner } else { add(ui) }
}

/// Sheets side by side must not share widget names, and they never start at the same corner.
fn rect_salt(rect: Rect) -> (u32, u32) {
    (rect.min.x.to_bits(), rect.min.y.to_bits())
}

/// The head of a panel: its title, and a quiet note beside it, or under it where there is no room.
pub fn heading(ui: &mut Ui, title: &str, note: &str) -> Response {
    let t = theme::tokens(ui);
    head(ui, title, note, (theme::panel_title(), t.ink), Note::Beside)
}

/// The head of a group inside a panel, with rich text at the right edge.
pub fn section(ui: &mut Ui, title: &str, right: &str) -> Response {
    let t = theme::tokens(ui);
    head(ui, title, right, (theme::body_bold(), t.ink2), Note::AtRight)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Note {
    Beside,
    AtRight,
}

fn head(
    ui: &mut Ui,
    title: &str,
    note: &str,
    (font, ink): (egui::FontId, Color32),
    place: Note,
) -> Response {
    let t = theme::tokens(ui);
    let at_right = place == Note::AtRight;
    let width = ui.available_width();
    let title = ui.painter().layout(title.to_owned(), font, ink, width);
    let job = rich_text(note, 12.0, if at_right { t.ink2 } else { t.ink3 }, t.ink);
    let room = width - title.size().x - if at_right { 10.0 } else { 16.0 };
    let mut shown = crate::gui::paint::lessened(ui.painter(), job, room);
    // A note that does not fit beside its title stands under it.
    let under = room < shown.size().x;
    if under {
        let mut job = (*shown.job).clone();
        job.wrap.max_width = width;
        shown = ui.painter().layout_job(job);
    }
    let tall = title.size().y.max(18.0);
    let below = if under { shown.size().y } else { 0.0 };
    let (whole, response) = ui.allocate_exact_size(vec2(width, tall + below), Sense::hover());
    let rect = whole.with_max_y(whole.top() + tall);
    let text = title.job.text.clone();
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::accesskit::Role::Heading, true, text.as_str())
    });
    if !note.is_empty() {
        ui.ctx().accesskit_node_builder(response.id, |node| {
            node.set_description(note.replace("**", ""));
        });
    }
    let middle = rect.center().y;
    let title_width = title.size().x;
    let at = egui::pos2(rect.left(), middle - title.size().y / 2.0);
    ui.painter().galley(at, title, ink);
    let at = match (under, at_right) {
        (true, _) => egui::pos2(rect.left(), rect.bottom()),
        (false, true) => egui::pos2(rect.right() - shown.size().x, middle - shown.size().y / 2.0),
        (false, false) => {
            egui::pos2(rect.left() + title_width + 16.0, middle - shown.size().y / 2.0 + 1.0)
        }
    };
    ui.painter().galley(at, shown, t.ink3);
    response
}

/// A thin line across, with room above and below.
pub fn divider(ui: &mut Ui) {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 9.0), Sense::hover());
    let stroke = Stroke::new(1.0, t.soft);
    crate::gui::paint::level(ui.painter(), rect.left()..=rect.right(), rect.center().y, stroke);
}
