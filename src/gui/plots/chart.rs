//! Where an hour and a gap lie on screen.

use crate::gui::paint;
use egui::{Pos2, Rect, pos2};

/// A rectangle that stands for a span of hours and a span of gaps in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Chart {
    /// On screen.
    pub(crate) area: Rect,
    /// Service hours from its left to its right edge.
    pub(crate) hours: [f64; 2],
    /// Millimetres from its lower to its upper edge.
    pub(crate) gaps: [f64; 2],
}

impl Chart {
    /// Where an hour lies.
    pub(crate) fn x(&self, hour: f64) -> f32 {
        let [from, to] = self.hours;
        self.area.left() + share(hour, from, to) * self.area.width()
    }

    /// Where a gap lies.
    pub(crate) fn y(&self, gap: f64) -> f32 {
        let [from, to] = self.gaps;
        self.area.bottom() - share(gap, from, to) * self.area.height()
    }

    /// Where both lie.
    pub(crate) fn at(&self, hour: f64, gap: f64) -> Pos2 {
        pos2(self.x(hour), self.y(gap))
    }

    /// Points on screen to the hour.
    pub(crate) fn per_hour(&self) -> f32 {
        let [from, to] = self.hours;
        self.area.width() / paint::screen((to - from).max(1e-9))
    }

    /// Whether an hour is in view.
    pub(crate) fn shows(&self, hour: f64) -> bool {
        self.hours[0] <= hour && hour <= self.hours[1]
    }
}

/// Far outside is cut off, so that no coordinate loses its digits.
fn share(value: f64, from: f64, to: f64) -> f32 {
    paint::screen(((value - from) / (to - from).max(1e-9)).clamp(-50.0, 50.0))
}
