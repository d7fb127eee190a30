//! What was done, and what is to come, on top of a plot.

use crate::gui::{
    marks::ActionMark,
    paint,
    plots::Chart,
    theme::{self, Tokens},
};
use egui::{Align2, Color32, Painter, Rect, Stroke, pos2};

/// An intervention.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Event {
    /// Service hours.
    pub(crate) at_h: f64,
    /// What was done.
    pub(crate) mark: ActionMark,
    /// `Shim +0.50`.
    pub(crate) title: String,
    /// `4 520 h`.
    pub(crate) hours: String,
}

/// Events closer than this to each other are drawn as one.
const CROWDED: f32 = 7.0;
/// More events than this in view are a long log, not a record to read off: then no mark covers
/// another one.
const MANY: usize = 40;
/// The patch that a mark stands on.
const PATCH: f32 = 24.0;
/// The height that [`events`] paints into above the chart.
pub(crate) const EVENTS: f32 = 40.0;
/// The height that [`moments`] paints into, directly above the chart.
pub(crate) const MOMENTS: f32 = 19.0;

/// Marks with their words; where they crowd, the newest keep their words and the others their mark.
pub(crate) fn events(painter: &Painter, chart: &Chart, all: &[Event], ground: Color32, t: &Tokens) {
    let top = chart.area.top() - MOMENTS - EVENTS;
    let thin = Stroke::new(1.0, t.ink2);
    let mut free = chart.area.right() + 96.0;
    let mut last = f32::INFINITY;
    let in_view = || all.iter().rev().filter(|event| chart.shows(event.at_h));
    let apart = if MANY < in_view().count() { PATCH } else { CROWDED };
    for event in in_view() {
        let x = chart.x(event.at_h);
        // Where work crowds, one line stands for all of it.
        if last - x < apart {
            continue;
        }
        last = x;
        let line = [pos2(x, top + 28.0), pos2(x, chart.area.bottom())];
        paint::dashed(painter, &line, thin, [3.0, 3.0]);
        let patch = Rect::from_center_size(pos2(x, top + 14.0), egui::Vec2::splat(PATCH));
        painter.rect_filled(patch, 0.0, ground);
        event.mark.paint_in(painter, patch.center(), 21.0, (t.ink, ground));
        let room = free - x - 26.0;
        let lay = |font, room| painter.layout(event.title.clone(), font, t.ink, room);
        let one = lay(theme::chip_bold(), f32::INFINITY);
        // On two lines before it is left out.
        let title = if one.size().x <= room { one } else { lay(theme::caption_bold(), room) };
        if title.size().x <= room && title.rows.len() <= 2 {
            let left = x + 18.0;
            let below = if title.rows.len() == 1 { top + 14.0 } else { top + 28.0 };
            let title_top = below - title.size().y;
            paint::place(painter, pos2(left, title_top), Align2::LEFT_TOP, title);
            let (font, ink) = (theme::caption(), t.ink2);
            painter.text(pos2(left, below), Align2::LEFT_TOP, &event.hours, font, ink);
        }
        free = x - 18.0;
    }
}

/// Today and the next look, as lines with their words above the chart.
pub(crate) fn moments(
    painter: &Painter,
    chart: &Chart,
    (today_h, today): (f64, &str),
    (next_h, next): (f64, &str),
    t: &Tokens,
) {
    let (top, bottom) = (chart.area.top(), chart.area.bottom());
    let middle = top - MOMENTS / 2.0;
    let mut free = f32::INFINITY;
    if chart.shows(next_h) {
        let x = chart.x(next_h);
        let dots = [pos2(x, top - 6.0), pos2(x, bottom)];
        paint::dashed(painter, &dots, Stroke::new(1.8, t.accent), [2.0, 4.0]);
        let words = painter.layout_no_wrap(next.to_owned(), theme::caption_bold(), t.accent);
        let left = (x + 7.0).min(painter.clip_rect().right() - words.size().x);
        paint::place(painter, pos2(left, middle), Align2::LEFT_CENTER, words);
        free = left - 10.0;
    }
    if chart.shows(today_h) {
        let x = chart.x(today_h);
        paint::upright(painter, x, top..=bottom, Stroke::new(1.2, t.ink2));
        let at = pos2((x - 6.0).min(free), middle);
        painter.text(at, Align2::RIGHT_CENTER, today, theme::caption_bold(), t.ink);
    }
}
