//! Hours to a limit with their interval, on a scale that a whole list shares.
//!
//! Knows a bar, a middle and the next shutdown. Refuses to forecast, and never hides an interval:
//! one that is open at its end runs off the scale with an arrow.

use crate::gui::{
    marks::VerdictMark,
    paint, theme,
    widgets::{rich_text, touch},
};
use egui::{Align2, Rect, Sense, Stroke, Ui, pos2, text::LayoutJob, vec2};

/// A scale of hours from zero.
#[derive(Clone, Copy, Debug)]
pub struct HoursScale<'a> {
    /// Where it ends.
    pub span: f32,
    /// Its marks.
    pub ticks: &'a [(f32, &'a str)],
}

impl HoursScale<'_> {
    /// Shows the marks over `width`; put the bars below with the same width.
    pub fn show(self, ui: &mut Ui, width: f32) {
        let t = theme::tokens(ui);
        let (rect, _) = ui.allocate_exact_size(vec2(width, 24.0), Sense::hover());
        for (hours, text) in self.ticks {
            let x = rect.left() + hours / self.span.max(1.0) * rect.width();
            let (anchor, at) = match hours {
                _ if *hours <= 0.0 => (Align2::LEFT_CENTER, x),
                _ if self.span <= *hours => (Align2::RIGHT_CENTER, x),
                _ => (Align2::CENTER_CENTER, x),
            };
            let font = theme::caption();
            ui.painter().text(pos2(at, rect.top() + 8.0), anchor, text, font, t.ink2);
            let y = rect.bottom() - 6.0..=rect.bottom();
            paint::upright(ui.painter(), x, y, Stroke::new(1.0, t.line));
        }
    }
}

/// Hours to a limit.
#[derive(Clone, Copy, Debug)]
pub struct HoursBar<'a> {
    /// The scale's end.
    pub span: f32,
    /// The middle estimate, if there is one.
    pub estimate: Option<f32>,
    /// The interval; `None` at the end: no upper bound.
    pub interval: Option<(f32, Option<f32>)>,
    /// Hours to the next shutdown: a thin accent line.
    pub shutdown: Option<f32>,
    /// A mark at zero for a limit that is past.
    pub past: Option<VerdictMark>,
    /// The hours in words with bold numbers, over the bar; empty for the bar alone.
    pub text: &'a str,
    /// A remark behind the bar, in accent, such as "next shutdown 8 h"; may be empty.
    pub remark: &'a str,
}

impl HoursBar<'_> {
    /// Shows the bar over `width`: 56 high with its text, 24 without.
    pub fn show(self, ui: &mut Ui, width: f32) {
        let t = theme::tokens(ui);
        let tall = if self.text.is_empty() { 24.0 } else { 56.0 };
        let (rect, _) = ui.allocate_exact_size(vec2(width, tall), Sense::hover());
        let painter = ui.painter().with_clip_rect(rect.expand(2.0).intersect(ui.clip_rect()));
        if !self.text.is_empty() {
            let strong = self.past.map_or(t.ink, |mark| mark.colour(t));
            let room = rect.right().min(ui.clip_rect().right()) - rect.left() - 8.0;
            // Smaller, and then on two lines, rather than cut: the end of the text is the interval.
            let job = |size| rich_text(self.text, size, t.ink2, strong);
            let lay = |size| painter.layout_job(job(size));
            let fits = |galley: &std::sync::Arc<egui::Galley>| galley.size().x <= room;
            let sizes = [16.0, 14.0].into_iter();
            let galley = sizes.map(lay).find(fits).unwrap_or_else(|| {
                let text = self.text.replacen("   ", "\n", 1);
                let job = rich_text(&text, 12.5, t.ink2, strong);
                let wrap = egui::text::TextWrapping { max_width: room, ..Default::default() };
                painter.layout_job(LayoutJob { wrap, ..job })
            });
            let at = pos2(rect.left() + 8.0, rect.top() + 12.0);
            paint::place(&painter, at, Align2::LEFT_CENTER, galley);
            touch::say(ui, rect, ("hours", self.text), &self.text.replace("**", ""));
        }
        let middle = rect.bottom() - 12.0;
        let x =
            |hours: f32| rect.left() + (hours / self.span.max(1.0)).clamp(0.0, 1.0) * rect.width();
        let mut end = rect.left();
        if let Some((low, high)) = self.interval {
            let off = high.is_none_or(|high| self.span < high);
            let right = high.map_or(rect.right(), x);
            if self.span <= low {
                let y = [pos2(rect.left() + 4.0, middle), pos2(rect.right() - 10.0, middle)];
                paint::dashed(&painter, &y, Stroke::new(2.0, t.ink3), [2.0, 5.0]);
            } else {
                let bar = Rect::from_x_y_ranges(x(low)..=right, middle - 7.0..=middle + 7.0);
                painter.rect_filled(bar, 0.0, t.line);
            }
            if off {
                let tip = pos2(rect.right(), middle);
                let stroke = Stroke::new(1.2, t.ink2);
                paint::arrow(&painter, tip - vec2(10.0, 0.0), tip, 9.0, stroke);
            }
            end = right;
        }
        if let Some(estimate) = self.estimate.filter(|estimate| *estimate < self.span) {
            let bar = Rect::from_center_size(pos2(x(estimate), middle), vec2(4.0, 22.0));
            painter.rect_filled(bar, 0.0, t.ink);
            end = end.max(bar.right());
        }
        if let Some(mark) = self.past {
            mark.paint(&painter, pos2(rect.left() + 22.0, middle), 18.0, t);
            end = end.max(rect.left() + 32.0);
        }
        if let Some(shutdown) = self.shutdown.filter(|hours| *hours <= self.span) {
            let y = middle - 13.0..=middle + 13.0;
            paint::upright(&painter, x(shutdown), y, Stroke::new(1.6, t.accent));
            end = end.max(x(shutdown));
        }
        if !self.remark.is_empty() {
            let room = rect.right() - end - 10.0;
            let remark = paint::fitted(&painter, self.remark, theme::caption(), t.accent, room);
            if !remark.elided {
                paint::place(&painter, pos2(end + 10.0, middle), Align2::LEFT_CENTER, remark);
            }
        }
    }
}
