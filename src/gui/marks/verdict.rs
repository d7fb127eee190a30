//! Where a reading lies, as a sign.
//!
//! Knows the shapes: round is good, triangles point the way the gap went wrong, an octagon stops.
//! Refuses to know numbers and limits.

use crate::gui::{marks::pen::Pen, paint, theme::Tokens};
use egui::{Color32, Painter, Pos2};
use std::f32::consts::{FRAC_PI_2, PI};

/// What one reading says about its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum VerdictMark {
    /// As left after work: a filled disc.
    SetRange,
    /// Inside the working limits: a ring.
    Working,
    /// Will be too wide soon: outlined triangles pointing apart.
    SoonTooWide,
    /// Will be too tight soon: outlined triangles pointing together.
    SoonTooTight,
    /// Past the upper working limit: filled triangles pointing apart.
    TooWide,
    /// Past the lower working limit: filled triangles pointing together.
    TooTight,
    /// Past the upper stop limit: an octagon holding the pair that points apart.
    StopTooWide,
    /// Past the lower stop limit: an octagon holding the pair that points together.
    StopTooTight,
    /// The leaves straddle a limit: a ring half filled.
    Undecided,
    /// Nothing measured yet: a dashed ring.
    NotMeasured,
}

/// Which way the two faces went, as seen by the pair of triangles.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pair {
    Apart,
    Together,
}

impl VerdictMark {
    /// Every mark, in the order of a legend.
    pub const ALL: [Self; 10] = [
        Self::SetRange,
        Self::Working,
        Self::SoonTooWide,
        Self::SoonTooTight,
        Self::TooWide,
        Self::TooTight,
        Self::StopTooWide,
        Self::StopTooTight,
        Self::Undecided,
        Self::NotMeasured,
    ];

    /// The colour that supports the shape, for a line or a number beside it.
    pub fn colour(self, t: &Tokens) -> Color32 {
        match self {
            Self::SetRange | Self::Working => t.ok,
            Self::SoonTooWide | Self::SoonTooTight | Self::TooWide | Self::TooTight => t.watch,
            Self::StopTooWide | Self::StopTooTight => t.stop,
            Self::Undecided => t.ink2,
            Self::NotMeasured => t.ink3,
        }
    }

    /// The tint that goes behind a verdict of this kind.
    pub fn tint(self, t: &Tokens) -> Color32 {
        match self {
            Self::SetRange | Self::Working => t.ok_tint,
            Self::SoonTooWide | Self::SoonTooTight | Self::TooWide | Self::TooTight => t.watch_tint,
            Self::StopTooWide | Self::StopTooTight => t.stop_tint,
            Self::Undecided | Self::NotMeasured => t.rail,
        }
    }

    /// Is this a stop?
    pub fn is_stop(self) -> bool {
        matches!(self, Self::StopTooWide | Self::StopTooTight)
    }

    /// Does this ask for attention, stop included?
    pub fn is_watch(self) -> bool {
        matches!(self, Self::SoonTooWide | Self::SoonTooTight | Self::TooWide | Self::TooTight)
            || self.is_stop()
    }

    /// Paints the mark into a square of `size` points around `centre`.
    pub fn paint(self, painter: &Painter, centre: Pos2, size: f32, t: &Tokens) {
        let pen = Pen::new(painter, centre, size);
        let colour = self.colour(t);
        match self {
            Self::SetRange => pen.disc((0.0, 0.0), 0.74, colour),
            Self::Working => pen.ring((0.0, 0.0), 0.62, pen.stroke(0.25, colour)),
            Self::SoonTooWide => pair(&pen, Pair::Apart, 0.84, Fill::Outline(colour)),
            Self::SoonTooTight => pair(&pen, Pair::Together, 0.84, Fill::Outline(colour)),
            Self::TooWide => pair(&pen, Pair::Apart, 0.84, Fill::Solid(colour)),
            Self::TooTight => pair(&pen, Pair::Together, 0.84, Fill::Solid(colour)),
            Self::StopTooWide => {
                pen.octagon(0.98, colour);
                pair(&pen, Pair::Apart, 0.56, Fill::Solid(t.on_stop));
            }
            Self::StopTooTight => {
                pen.octagon(0.98, colour);
                pair(&pen, Pair::Together, 0.56, Fill::Solid(t.on_stop));
            }
            Self::Undecided => {
                pen.ring((0.0, 0.0), 0.66, pen.stroke(0.18, colour));
                let half = paint::arc(centre, pen.points(0.66), FRAC_PI_2, FRAC_PI_2 + PI);
                painter.add(egui::Shape::convex_polygon(half, colour, egui::Stroke::NONE));
            }
            Self::NotMeasured => {
                let stroke = pen.stroke(0.18, colour);
                paint::dashed_circle(painter, centre, pen.points(0.66), stroke, 8);
            }
        }
    }
}

#[derive(Clone, Copy)]
enum Fill {
    Solid(Color32),
    Outline(Color32),
}

/// Two triangles over each other, with a slit of about two points between them.
///
/// The ones that point together are cut flat where they meet, so that they read as two faces and
/// not as an hourglass.
fn pair(pen: &Pen<'_>, pair: Pair, reach: f32, fill: Fill) {
    let slit = (1.0 / pen.points(1.0)).max(0.12);
    let (wide, flat) = (reach, reach * 0.24);
    for up in [-1.0, 1.0] {
        let (far, near) = (up * reach, up * slit);
        let corners = match pair {
            Pair::Apart => [(-wide, near), (wide, near), (0.0, far), (0.0, far)],
            Pair::Together => [(-wide, far), (wide, far), (flat, near), (-flat, near)],
        };
        let corners = if pair == Pair::Apart { &corners[..3] } else { &corners[..] };
        match fill {
            Fill::Solid(colour) => pen.fill(corners, colour),
            Fill::Outline(colour) => {
                let stroke = pen.stroke(0.16, colour);
                // Keep the outline inside the room of the solid one.
                let inset = stroke.width / 2.0 / pen.points(1.0);
                let middle = f32::midpoint(far, near);
                let shrink = 1.0 - 2.0 * inset / (reach - slit);
                let inner: Vec<_> = corners
                    .iter()
                    .map(|&(x, y)| (x * (1.0 - inset), middle + (y - middle) * shrink))
                    .collect();
                pen.closed(&inner, stroke);
            }
        }
    }
}
