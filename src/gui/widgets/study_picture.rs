//! How readings of the same gaps lie beside each other: bars in groups, with the mean across.
//!
//! Knows columns of bars on one scale. Refuses to know who measured what.

use crate::gui::{
    paint,
    theme::{self, Tokens},
    widgets::touch,
};
use egui::{Align2, Painter, Rect, Sense, Stroke, Ui, Vec2, pos2, vec2};

/// One drawing: columns of bars side by side.
#[derive(Clone, Copy, Debug)]
pub struct StudyPicture<'a> {
    /// What it is.
    pub title: &'a str,
    /// How to read it.
    pub note: &'a str,
    /// The columns from left to right.
    pub columns: &'a [StudyColumn<'a>],
    /// Numbers of the scale from lowest to highest; its ends are the first and the last.
    pub ticks: &'a [(f32, &'a str)],
    /// What a screen reader says.
    pub name: &'a str,
}

/// One column.
#[derive(Clone, Debug)]
pub struct StudyColumn<'a> {
    /// What stands under it.
    pub name: &'a str,
    /// Bars by their lower and upper ends, in groups that belong together.
    pub groups: Vec<Vec<[f32; 2]>>,
    /// Where its mean lies.
    pub mean: f32,
}

/// Room for the scale's numbers, the title and the names.
const LEFT: f32 = 52.0;
const TOP: f32 = 34.0;
const BOTTOM: f32 = 26.0;
/// A bar whose ends are one still shows.
const THIN: f32 = 2.5;
const WIDEST: f32 = 9.0;

impl StudyPicture<'_> {
    /// Shows the drawing at exactly `size`.
    pub fn show(self, ui: &mut Ui, size: Vec2) {
        let (rect, _) = ui.allocate_exact_size(size.max(Vec2::ZERO), Sense::hover());
        touch::say(ui, rect, ("study", self.title), self.name);
        let t = theme::tokens(ui);
        let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
        let title =
            paint::fitted(&painter, self.title, theme::body_bold(), t.ink2, rect.width() * 0.5);
        let at = rect.min + vec2(0.0, 9.0);
        let title = paint::place(&painter, at, Align2::LEFT_CENTER, title);
        let room = (rect.right() - title.right() - 14.0).max(0.0);
        let note = paint::fitted(&painter, self.note, theme::chip(), t.ink3, room);
        paint::place(&painter, pos2(rect.right(), at.y), Align2::RIGHT_CENTER, note);
        let area = Rect::from_min_max(
            rect.min + vec2(LEFT, TOP),
            (rect.max - vec2(2.0, BOTTOM)).max(rect.min + vec2(LEFT + 1.0, TOP + 1.0)),
        );
        let (Some(first), Some(last)) = (self.ticks.first(), self.ticks.last()) else {
            paint::dashed_rect(&painter, area, Stroke::new(1.0, t.edge));
            return;
        };
        let scale = Scale { area, low: first.0, high: last.0 };
        self.scale(&painter, &scale, t);
        self.bars(&painter, &scale, t);
    }

    fn scale(&self, painter: &Painter, scale: &Scale, t: &Tokens) {
        let area = scale.area;
        let mut lowest = f32::INFINITY;
        for (at, number) in self.ticks {
            let y = scale.y(*at);
            let zero = at.abs() < 1e-6;
            let line = if zero { Stroke::new(1.4, t.ink) } else { Stroke::new(1.0, t.soft) };
            paint::level(painter, area.left()..=area.right(), y, line);
            // Numbers keep out of each other's way in a low drawing.
            if 14.0 <= lowest - y {
                lowest = y;
                let left = pos2(area.left() - 6.0, y);
                painter.text(left, Align2::RIGHT_CENTER, *number, theme::caption(), t.ink2);
            }
        }
    }

    fn bars(&self, painter: &Painter, scale: &Scale, t: &Tokens) {
        let area = scale.area;
        let slot = area.width() / self.columns.len().max(1) as f32;
        for (place, column) in self.columns.iter().enumerate() {
            let left = area.left() + slot * place as f32;
            if 0 < place {
                let y = area.top()..=area.bottom();
                paint::upright(painter, left, y, Stroke::new(1.0, t.line));
            }
            let count: usize = column.groups.iter().map(Vec::len).sum();
            // Every bar has its own width and a gap; a group ends with one more of each.
            let cells = count + column.groups.len().saturating_sub(1);
            let step = (slot - 12.0) / cells.max(1) as f32;
            let step = step.clamp(1.0, WIDEST + 3.0);
            let wide = (step * 0.75).max(1.0);
            let mut x = left + (slot - step * cells as f32) / 2.0 + step / 2.0;
            for group in &column.groups {
                for [low, high] in group {
                    let (top, bottom) = (scale.y(*high), scale.y(*low));
                    let tall = (bottom - top).max(THIN);
                    let middle = pos2(x, f32::midpoint(top, bottom));
                    let bar = Rect::from_center_size(middle, vec2(wide, tall));
                    painter.rect_filled(bar, 0.0, t.ink2);
                    x += step;
                }
                x += step;
            }
            let y = scale.y(column.mean);
            let across = left + 5.0..=left + slot - 5.0;
            paint::level(painter, across.clone(), y, Stroke::new(5.0, t.paper));
            paint::level(painter, across, y, Stroke::new(2.5, t.ink));
            let name =
                paint::fitted(painter, column.name, theme::caption_bold(), t.ink2, slot - 4.0);
            let below = pos2(left + slot / 2.0, area.bottom() + 14.0);
            paint::place(painter, below, Align2::CENTER_CENTER, name);
        }
    }
}

/// Values on the height of the drawing.
struct Scale {
    area: Rect,
    low: f32,
    high: f32,
}

impl Scale {
    fn y(&self, value: f32) -> f32 {
        let share = (value - self.low) / (self.high - self.low).max(1e-9);
        self.area.bottom() - share * self.area.height()
    }
}
