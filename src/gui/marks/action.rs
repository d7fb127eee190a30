//! What to do to a line, as a sign.
//!
//! Knows one outline per action: ring, plates, section with an arrow, two squares, octagon, and two
//! blades with a leaf between for a gap that nobody knows. Refuses
//! to know why the action was chosen.

use crate::gui::{marks::pen::Pen, paint, theme::Tokens};
use egui::{Color32, Painter, Pos2};
use std::f32::consts::PI;

/// What to do to a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ActionMark {
    /// Nothing: a ring with two level bars.
    Leave,
    /// Shims in or out: a thick plate over three thin plates.
    Shim,
    /// A fresh edge: an upright blade section with one dark corner, the turning arrow outside.
    Rotate,
    /// A new part: the hatched old square and the solid new one overlapping it.
    Replace,
    /// Do not cut: a solid octagon with one broad level bar.
    Stop,
    /// Nobody knows: two blades with a leaf between them.
    Measure,
}

impl ActionMark {
    /// Every mark, gentlest first.
    pub const ALL: [Self; 6] =
        [Self::Leave, Self::Measure, Self::Shim, Self::Rotate, Self::Replace, Self::Stop];

    /// The colour that supports the shape.
    pub fn colour(self, t: &Tokens) -> Color32 {
        match self {
            Self::Leave => t.ok,
            Self::Shim | Self::Rotate | Self::Replace => t.watch,
            Self::Stop => t.stop,
            Self::Measure => t.ink2,
        }
    }

    /// Paints the mark in its own colour into a square of `size` points, on `ground`.
    pub fn paint(self, painter: &Painter, centre: Pos2, size: f32, t: &Tokens, ground: Color32) {
        self.paint_in(painter, centre, size, (self.colour(t), ground));
    }

    /// Paints the mark in one given ink, as events on a plot are.
    pub fn paint_in(
        self,
        painter: &Painter,
        centre: Pos2,
        size: f32,
        (ink, ground): (Color32, Color32),
    ) {
        let pen = Pen::new(painter, centre, size);
        match self {
            Self::Leave => {
                pen.ring((0.0, 0.0), 0.86, pen.stroke(0.13, ink));
                let half = 0.085_f32.max(0.75 / pen.points(1.0));
                for y in [-0.21, 0.21] {
                    pen.fill_rect([-0.42, y - half, 0.42, y + half], ink);
                }
            }
            Self::Shim => {
                pen.fill_rect([-0.92, -0.86, 0.92, -0.24], ink);
                for top in [-0.06, 0.29, 0.64] {
                    pen.fill_rect([-0.92, top, 0.92, top + 0.2], ink);
                }
            }
            Self::Rotate => rotate(&pen, ink),
            Self::Replace => {
                let old = [-0.9, -0.9, 0.34, 0.34];
                let thin = egui::Stroke::new(pen.points(0.09).clamp(1.0, 2.0), ink);
                paint::hatch_rect(
                    painter,
                    pen.rect(old),
                    pen.points(0.34).max(3.2),
                    thin,
                    paint::Lean::Rising,
                );
                pen.frame(old, pen.stroke(0.13, ink));
                let gap = 0.13_f32.max(1.2 / pen.points(1.0));
                pen.fill_rect([-0.26 - gap, -0.26 - gap, 0.92, 0.92], ground);
                pen.fill_rect([-0.26, -0.26, 0.92, 0.92], ink);
            }
            Self::Measure => {
                for top in [-0.84, 0.3] {
                    pen.frame([-0.86, top, 0.9, top + 0.54], pen.stroke(0.13, ink));
                }
                let leaf = egui::Stroke::new(pen.points(0.22).max(1.6), ink);
                painter.line_segment([pen.at(-1.0, 0.0), pen.at(0.66, 0.0)], leaf);
            }
            Self::Stop => {
                pen.octagon(0.98, ink);
                pen.fill_rect([-0.56, -0.17, 0.56, 0.17], ground);
            }
        }
    }
}

fn rotate(pen: &Pen<'_>, ink: Color32) {
    let (x, y, half) = (-0.06, 0.22, 0.5);
    let stroke = pen.stroke(0.13, ink);
    pen.frame([x - half, y - half, x + half, y + half], stroke);
    pen.fill(&[(x + half, y - half), (x + half, y + half * 0.2), (x - half * 0.2, y - half)], ink);
    // Over the top, clockwise, ending in an arrow head that points down on the right.
    let radius = 0.92;
    pen.arc((x, y), radius, [-PI * 0.86, -PI * 0.12], stroke);
    let (sin, cos) = (-PI * 0.12).sin_cos();
    let (tip_x, tip_y) = (x + radius * cos, y + radius * sin);
    let head = 0.3;
    pen.fill(
        &[
            (tip_x - head, tip_y - 0.04),
            (tip_x + head * 0.7, tip_y - 0.04),
            (tip_x + 0.02, tip_y + 0.44),
        ],
        ink,
    );
}
