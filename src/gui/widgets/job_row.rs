//! One job in the list: what to do, with the numbers behind it.
//!
//! Knows the row's columns and how they give way: first the small ribbon, then the hours move under
//! the words. Refuses to word the job.

use crate::gui::{
    fonts,
    marks::{ActionMark, Icon},
    paint, theme,
    widgets::{
        HoursBar, MiniRibbon, rich_text,
        touch::{self, Spoken},
    },
};
use egui::{
    Align, Align2, FontId, Galley, Rect, Response, Sense, Stroke, Ui, UiBuilder, pos2,
    text::{LayoutJob, TextWrapping},
    vec2,
};
use std::sync::Arc;

/// One job.
#[derive(Clone, Copy, Debug)]
pub struct JobRow<'a> {
    /// What to do.
    pub action: ActionMark,
    /// The action's word.
    pub word: &'a str,
    /// When, under the word, such as "before cutting on".
    pub when: &'a str,
    /// The line's letter and place, such as "**S**  Secondary blades".
    pub place: &'a str,
    /// The job, such as "Add 0.50 + 0.25 behind the lower secondary blade, bolts 1–4".
    pub headline: &'a str,
    /// Reasons with bold numbers, one line each.
    pub reasons: &'a [&'a str],
    /// Where the numbers come from.
    pub source: &'a str,
    /// The gaps now and after; left out where it is too narrow.
    pub ribbon: Option<MiniRibbon<'a>>,
    /// Hours to the working limit.
    pub hours: Option<HoursBar<'a>>,
    /// Whether its details are shown.
    pub chosen: bool,
}

/// Where the columns of a list of jobs stand in a given width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JobColumns {
    /// The words, from their left edge to their right edge.
    pub words: [f32; 2],
    /// The small ribbon; `None` where there is no room.
    pub ribbon: Option<[f32; 2]>,
    /// The hours.
    pub hours: [f32; 2],
    /// Whether they stand under the words.
    pub under: bool,
}

/// The height of the hours under the words.
const UNDER: f32 = 64.0;

impl JobColumns {
    /// The columns for rows of this width, counted from the row's left edge.
    pub fn of(width: f32) -> Self {
        let hours = match width {
            _ if width < 640.0 => 130.0,
            _ if width < 900.0 => 152.0,
            _ => 170.0,
        };
        let hours = [width - hours - 16.0, width - 18.0];
        let (gap, wide) = if width < 900.0 { (24.0, 128.0) } else { (36.0, 172.0) };
        let ribbon = (760.0 <= width).then(|| [hours[0] - gap - wide, hours[0] - gap]);
        let left = if width < 640.0 { 122.0 } else { 154.0 };
        let right = ribbon.map_or(hours[0] - 18.0, |ribbon| ribbon[0] - 22.0);
        Self { words: [left, right], ribbon, hours, under: false }
    }

    /// The same where the hours stand under the words, which then have the whole width.
    pub const fn under(width: f32) -> Self {
        let (left, right) = (110.0, width - 16.0);
        Self { words: [left, right], ribbon: None, hours: [left, right], under: true }
    }
}

impl JobRow<'_> {
    /// Shows the row over the width at hand; the whole row can be tapped.
    pub fn show(&self, ui: &mut Ui) -> Response {
        self.show_in(ui, JobColumns::of(ui.available_width()))
    }

    /// The same in columns for that width.
    pub fn show_in(&self, ui: &mut Ui, columns: JobColumns) -> Response {
        let t = theme::tokens(ui);
        let width = ui.available_width();
        let texts = self.lay(ui, columns.words[1] - columns.words[0]);
        let words_height: f32 = texts.iter().map(|text| text.size().y + 3.0).sum();
        let least = if self.ribbon.is_some() { 118.0 } else { 96.0 };
        let below = if columns.under && self.hours.is_some() { UNDER } else { 0.0 };
        let height = (words_height + 28.0).max(least) + below;
        let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());

        let id = ui.make_persistent_id(("job", self.place));
        // Two lines can need the same job, so the place belongs to the name.
        let place = self.place.replace("**", "").replace("  ", " ");
        let label = format!("{place}, {}: {}", self.word, self.headline);
        let said = self.hours.map_or_else(String::new, |it| it.text.replace("**", ""));
        let response = touch::tap(ui, rect, id, &Spoken::one_of(&label, self.chosen).with(&said));
        let painter = ui.painter();
        if self.chosen {
            painter.rect_filled(rect, 0.0, t.field);
            painter.rect_filled(rect.with_max_x(rect.left() + 6.0), 0.0, t.accent);
        } else if response.hovered() {
            painter.rect_filled(rect, 0.0, t.field.gamma_multiply(0.5));
        }
        paint::level(painter, rect.left()..=rect.right(), rect.top(), Stroke::new(1.0, t.line));
        self.badge(ui, rect.with_max_x(rect.left() + columns.words[0]));

        let mut y = rect.center().y - f32::midpoint(words_height, below);
        let last = texts.len().saturating_sub(1);
        for (index, text) in texts.into_iter().enumerate() {
            let mut x = rect.left() + columns.words[0];
            if index == last && !self.source.is_empty() {
                let at = pos2(x + 5.0, y + text.size().y / text.rows.len().max(1) as f32 / 2.0);
                Icon::Source.paint(painter, at, 12.0, t.ink3, t);
                x += 16.0;
            }
            let tall = text.size().y;
            painter.galley(pos2(x, y), text, t.ink);
            y += tall + 3.0;
        }
        if let (Some(ribbon), Some([left, right])) = (self.ribbon, columns.ribbon) {
            let tall = (height - 36.0).min(104.0);
            let at = pos2(rect.left() + left, rect.center().y - tall / 2.0);
            let size = vec2(right - left, tall);
            ribbon.show(&mut beside(ui, Rect::from_min_size(at, size), self.place), size);
        }
        if let Some(hours) = self.hours {
            let [left, right] = columns.hours;
            let x = rect.left() + left;
            let (from, middle) = if columns.under {
                (rect.bottom() - UNDER, rect.bottom() - UNDER / 2.0)
            } else {
                (rect.top() + 14.0, rect.center().y - 4.0)
            };
            let axis = Stroke::new(1.0, t.line);
            paint::upright(ui.painter(), x, from..=rect.bottom() - 14.0, axis);
            let room = Rect::from_min_size(pos2(x, middle - 30.0), vec2(right - left, 60.0));
            hours.show(&mut beside(ui, room, self.headline), right - left);
        }
        touch::focus_ring(ui, &response, rect.shrink(4.0), 3.0);
        response
    }

    fn lay(&self, ui: &Ui, width: f32) -> Vec<Arc<Galley>> {
        let t = theme::tokens(ui);
        let mut texts = Vec::with_capacity(self.reasons.len() + 3);
        let mut add = |text: &str, size, quiet, strong, rows, room| {
            if !text.is_empty() {
                let mut job = rich_text(text, size, quiet, strong);
                job.wrap = TextWrapping { max_width: room, max_rows: rows, ..Default::default() };
                texts.push(ui.painter().layout_job(job));
            }
        };
        add(self.place, 13.0, t.ink2, t.ink, 1, width);
        let headline = format!("**{}**", self.headline);
        add(&headline, theme::panel_title().size, t.ink, t.ink, 3, width);
        for reason in self.reasons {
            add(reason, theme::body().size, t.ink2, t.ink, 3, width);
        }
        add(self.source, theme::caption().size, t.ink3, t.ink3, 3, width - 16.0);
        texts
    }

    fn badge(&self, ui: &Ui, room: Rect) {
        let t = theme::tokens(ui);
        let painter = ui.painter();
        let ground = if self.chosen { t.field } else { t.paper };
        let middle = room.center() + vec2(3.0, -22.0);
        self.action.paint(painter, middle, 46.0, t, ground);
        let ink = if self.action == ActionMark::Shim
            || self.action == ActionMark::Rotate
            || self.action == ActionMark::Replace
        {
            t.ink
        } else {
            self.action.colour(t)
        };
        let at = middle + vec2(0.0, 42.0);
        painter.text(at, Align2::CENTER_CENTER, self.word, theme::row_action(), ink);
        let font = FontId::new(theme::caption().size, fonts::regular());
        let mut job = LayoutJob::simple(self.when.to_owned(), font, t.ink2, room.width() - 6.0);
        job.halign = Align::Center;
        painter.galley(middle + vec2(0.0, 54.0), painter.layout_job(job), t.ink2);
    }
}

/// A place inside the row that does not move the list's cursor.
fn beside(ui: &mut Ui, rect: Rect, salt: &str) -> Ui {
    ui.new_child(UiBuilder::new().max_rect(rect).id_salt(salt))
}

#[test]
fn columns_never_overlap_at_any_width() {
    for width in [430.0, 560.0, 640.0, 760.0, 1036.0, 1400.0] {
        let JobColumns { words, ribbon, hours, .. } = JobColumns::of(width);
        assert!(words[0] + 120.0 < words[1], "no room for words at {width}");
        let left_of_hours = ribbon.map_or(words[1], |ribbon| ribbon[1]);
        assert!(words[1] <= ribbon.map_or(hours[0], |ribbon| ribbon[0]), "{width}");
        assert!(left_of_hours < hours[0] && hours[1] < width, "{width}");
    }
}
