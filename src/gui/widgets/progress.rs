//! How far the walk around the jaw has come: one small sign per station, in walking order.
//!
//! Knows signs and groups. Refuses to be tapped: the drawing is where stations are chosen.

use crate::gui::{marks::VerdictMark, theme};
use egui::{Align2, Rect, Stroke, StrokeKind, Ui, pos2, vec2};

/// One station of the walk.
#[derive(Clone, Copy, Debug)]
pub struct ProgressStep {
    /// Where its reading lies.
    pub mark: VerdictMark,
    /// Whether it is being measured now.
    pub current: bool,
}

/// The stations of one line.
#[derive(Clone, Debug)]
pub struct ProgressGroup<'a> {
    /// The line's letter.
    pub letter: &'a str,
    /// Its stations from the pivot outward.
    pub steps: Vec<ProgressStep>,
}

const PITCH: f32 = 14.0;
const BETWEEN: f32 = 8.0;

/// How wide the strip wants to be.
pub(crate) fn natural_width(groups: &[ProgressGroup<'_>]) -> f32 {
    groups.iter().map(|group| group.steps.len() as f32 * PITCH + BETWEEN).sum::<f32>() - BETWEEN
}

/// Paints the strip into `rect`: letters along its top, signs below; narrower steps if it must.
pub(crate) fn paint(ui: &Ui, rect: Rect, groups: &[ProgressGroup<'_>]) {
    let t = theme::tokens(ui);
    let painter = ui.painter();
    let scale = (rect.width() / natural_width(groups).max(1.0)).min(1.0);
    let mut x = rect.left();
    for group in groups {
        let at = pos2(x, rect.top());
        painter.text(at, Align2::LEFT_TOP, group.letter, theme::caption_bold(), t.ink2);
        for step in &group.steps {
            let cell = Rect::from_min_max(
                pos2(x, rect.bottom() - 16.0),
                pos2(x + (PITCH - 2.0) * scale, rect.bottom()),
            );
            match step.mark {
                _ if step.current => {
                    painter.rect_filled(cell.expand2(vec2(1.0, 2.0)), 0.0, t.accent);
                }
                VerdictMark::SetRange | VerdictMark::Working => {
                    painter.rect_filled(cell, 0.0, t.ok);
                }
                VerdictMark::NotMeasured => {
                    let edge = Stroke::new(1.0, t.edge);
                    painter.rect_stroke(cell, 0.0, edge, StrokeKind::Inside);
                }
                mark => mark.paint(painter, cell.center(), 13.0 * scale.max(0.7), t),
            }
            x += PITCH * scale;
        }
        x += BETWEEN * scale;
    }
}
