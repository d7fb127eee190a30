//! Growth rates side by side with their intervals, and the one rate that would suit them all.
//!
//! Knows names, rates and intervals. Refuses to know whether they differ: that is said elsewhere.

use crate::{
    gui::{
        paint,
        theme::{self, Tokens},
        widgets::touch,
    },
    language::tell,
};
use egui::{Align2, Painter, Rect, Stroke, Ui, pos2};

/// One set's growth.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct RateRow {
    /// `S4`, `4 384–4 520`.
    pub(crate) name: String,
    /// Its growth and the ends of its interval in the unit of the axis; `None` without a rate.
    pub(crate) rate: Option<[f64; 3]>,
    /// `5.4, 5.1–5.7 from 43 readings`, or why there is no rate.
    pub(crate) words: String,
}

/// Rates on one scale.
pub(crate) struct RatePlot<'a> {
    /// One row each.
    pub(crate) rows: &'a [RateRow],
    /// The rate that suits all best, and in words.
    pub(crate) common: Option<(f64, &'a str)>,
    /// The unit of the axis.
    pub(crate) unit: &'a str,
}

const NAME: f32 = 150.0;
const WORDS: f32 = 220.0;
const ROW: f32 = 60.0;

impl RatePlot<'_> {
    /// Paints the rows into `rect`; those that do not fit are counted below.
    pub(crate) fn show(self, ui: &Ui, rect: Rect) {
        let t = theme::tokens(ui);
        let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
        let ends = self.rows.iter().filter_map(|row| row.rate).flatten();
        let [low, high] = ends
            .chain(self.common.map(|(rate, _)| rate))
            .fold([0.0_f64, 0.0_f64], |[low, high], it| [low.min(it), high.max(it)]);
        let pad = ((high - low) * 0.06).max(1e-6);
        let from = if low < 0.0 { low - pad } else { 0.0 };
        let span = (high + pad - from).max(1e-6);
        let name = NAME.min(rect.width() * 0.22);
        let words = WORDS.min(rect.width() * 0.36);
        let (left, right) = (rect.left() + name, rect.right() - words - 12.0);
        let x = |rate: f64| left + paint::screen((rate - from) / span) * (right - left);
        let top = rect.top() + 34.0;
        let fits = (((rect.bottom() - 44.0 - top) / 26.0).floor()).max(1.0);
        let tall = ((rect.bottom() - 44.0 - top) / self.rows.len().max(1) as f32).clamp(26.0, ROW);
        let (mut bottom, mut hidden) = (top, 0_usize);
        for (row, k) in self.rows.iter().zip(0_u16..) {
            if fits <= f32::from(k) {
                hidden += 1;
                continue;
            }
            let middle = top + tall * (f32::from(k) + 0.5);
            bottom = middle + tall / 2.0;
            let across =
                Rect::from_x_y_ranges(rect.x_range(), middle - tall / 2.0..=middle + tall / 2.0);
            one(ui, &painter, row, (across, [left, right]), &x, t);
        }
        self.scale(&painter, (top, bottom), ([left, right], [from, from + span]), &x, t);
        if 0 < hidden {
            let at = pos2(rect.left(), rect.bottom() - 10.0);
            let words = tell!("and {hidden} more", hidden);
            painter.text(at, Align2::LEFT_CENTER, words, theme::caption(), t.ink3);
        }
    }

    fn scale(
        &self,
        painter: &Painter,
        (top, bottom): (f32, f32),
        ([left, right], [from, to]): ([f32; 2], [f64; 2]),
        x: &dyn Fn(f64) -> f32,
        t: &Tokens,
    ) {
        let axis = crate::gui::plots::Chart {
            area: Rect::from_x_y_ranges(left..=right, top..=bottom),
            hours: [from, to],
            gaps: [0.0, 1.0],
        };
        crate::gui::plots::axis::rates(painter, &axis, 80.0, t);
        let unit = pos2(right + 8.0, bottom + 14.0);
        painter.text(unit, Align2::LEFT_CENTER, self.unit, theme::caption(), t.ink3);
        if from < 0.0 {
            paint::upright(painter, x(0.0), top..=bottom, Stroke::new(1.2, t.ink2));
        }
        let Some((rate, words)) = self.common else { return };
        let at = x(rate);
        let line = [pos2(at, top - 8.0), pos2(at, bottom)];
        paint::dashed(painter, &line, Stroke::new(2.0, t.accent), [8.0, 5.0]);
        let (anchor, dx) = if f32::midpoint(left, right) < at {
            (Align2::RIGHT_CENTER, -8.0)
        } else {
            (Align2::LEFT_CENTER, 8.0)
        };
        let head = pos2(at + dx, top - 16.0);
        let words = painter.layout_no_wrap(words.to_owned(), theme::caption_bold(), t.accent);
        // Moved as far as it would be cut off.
        let (at, clip) = (anchor.anchor_size(head, words.size()), painter.clip_rect());
        let left = at.left().min(clip.right() - at.width()).max(clip.left());
        paint::place(painter, pos2(left, at.top()), Align2::LEFT_TOP, words);
    }
}

fn one(
    ui: &Ui,
    painter: &Painter,
    row: &RateRow,
    (across, [left, right]): (Rect, [f32; 2]),
    x: &dyn Fn(f64) -> f32,
    t: &Tokens,
) {
    let middle = across.center().y;
    let room = left - across.left() - 10.0;
    let name = painter.layout(row.name.clone(), theme::body_bold(), t.ink, room);
    paint::place(painter, pos2(across.left(), middle), Align2::LEFT_CENTER, name);
    paint::level(painter, left..=right, middle, Stroke::new(1.0, t.soft));
    if let Some(ends) = row.rate {
        let [rate, low, high] = ends.map(x);
        let bar = Rect::from_x_y_ranges(low..=high, middle - 5.0..=middle + 5.0);
        painter.rect_filled(bar, 0.0, t.line);
        let tick = Rect::from_center_size(pos2(rate, middle), egui::vec2(3.0, 18.0));
        painter.rect_filled(tick, 0.0, t.ink);
    }
    let room = across.right() - right - 12.0;
    let words = painter.layout(row.words.clone(), theme::chip(), t.ink2, room);
    paint::place(painter, pos2(right + 12.0, middle), Align2::LEFT_CENTER, words);
    touch::say(ui, across, ("rate", &row.name), &format!("{}: {}", row.name, row.words));
}
