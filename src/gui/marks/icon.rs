//! Every other sign: screens, findings, cautions, and the strokes on buttons.
//!
//! Knows line drawings on a square. Refuses to know when they are shown.

use crate::gui::{marks::pen::Pen, paint, theme::Tokens};
use egui::{Color32, Painter, Pos2, Stroke};
use std::f32::consts::{PI, TAU};

/// The temper colour a streak on a face has run to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Streak {
    /// About 220 °C.
    Straw,
    /// About 255 °C.
    Brown,
    /// About 280 °C.
    Purple,
    /// About 295 °C.
    Blue,
}

/// A sign that is neither a verdict nor an action.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Icon {
    /// Two blades and the cut between them.
    Logo,
    /// The machines somebody looks after.
    Yard,
    /// Two blades with a leaf between them.
    Measure,
    /// One way in, two ways out.
    Decide,
    /// A line that climbs and falls back.
    Trend,
    /// Three sliders: what is set.
    Setup,
    /// Goes in; saved; done.
    Check,
    /// Does not go; close.
    Cross,
    /// To the previous one.
    Back,
    /// To the next one.
    Forward,
    /// One less.
    Minus,
    /// One more.
    Plus,
    /// Lock out.
    Lock,
    /// Block the jaw.
    Prop,
    /// Hot faces.
    Hot,
    /// Hydraulic pressure.
    Pressure,
    /// Eye protection.
    Goggles,
    /// People clear of the jaw.
    PeopleClear,
    /// The jaw is moved to its next position.
    MoveJaw,
    /// Where a number comes from.
    Source,
    /// A sheet of paper.
    Printer,
    /// Light or dark.
    Contrast,
    /// Help.
    Question,
    /// Nothing seen.
    Nothing,
    /// A coloured streak on a face.
    Streak(Streak),
    /// Surface cracks.
    Cracks,
    /// A chipped edge.
    Chipped,
    /// Stock jammed between the blades.
    Jam,
    /// Chatter heard.
    Chatter,
    /// A loose bolt.
    LooseBolt,
    /// Stock caught in the slot beside the guide blade.
    StockCaught,
    /// A finding this yard added itself.
    Other,
}

impl Icon {
    /// Every sign, for a sample sheet.
    pub const ALL: [Self; 35] = [
        Self::Logo,
        Self::Yard,
        Self::Measure,
        Self::Decide,
        Self::Trend,
        Self::Setup,
        Self::Check,
        Self::Cross,
        Self::Back,
        Self::Forward,
        Self::Minus,
        Self::Plus,
        Self::Lock,
        Self::Prop,
        Self::Hot,
        Self::Pressure,
        Self::Goggles,
        Self::PeopleClear,
        Self::MoveJaw,
        Self::Source,
        Self::Printer,
        Self::Contrast,
        Self::Question,
        Self::Nothing,
        Self::Streak(Streak::Straw),
        Self::Streak(Streak::Brown),
        Self::Streak(Streak::Purple),
        Self::Streak(Streak::Blue),
        Self::Cracks,
        Self::Chipped,
        Self::Jam,
        Self::Chatter,
        Self::LooseBolt,
        Self::StockCaught,
        Self::Other,
    ];

    /// Paints the sign in `ink` into a square of `size` points around `centre`.
    pub fn paint(self, painter: &Painter, centre: Pos2, size: f32, ink: Color32, t: &Tokens) {
        let pen = Pen::new(painter, centre, size);
        let thin = pen.stroke(0.14, ink);
        match self {
            Self::Logo | Self::Yard | Self::Measure | Self::Decide | Self::Trend | Self::Setup => {
                screen(self, &pen, thin, t);
            }
            Self::Lock
            | Self::Prop
            | Self::Hot
            | Self::Pressure
            | Self::Goggles
            | Self::PeopleClear
            | Self::MoveJaw => {
                caution(self, &pen, ink);
            }
            Self::Check
            | Self::Cross
            | Self::Back
            | Self::Forward
            | Self::Minus
            | Self::Plus
            | Self::Source
            | Self::Printer
            | Self::Contrast
            | Self::Question => stroke_sign(self, &pen, ink),
            Self::Nothing
            | Self::Streak(_)
            | Self::Cracks
            | Self::Chipped
            | Self::Jam
            | Self::Chatter
            | Self::LooseBolt
            | Self::StockCaught
            | Self::Other => finding(self, &pen, thin, t),
        }
    }
}

fn screen(icon: Icon, pen: &Pen<'_>, thin: Stroke, t: &Tokens) {
    match icon {
        Icon::Logo => {
            pen.fill(&[(-1.0, -0.78), (0.3, -0.78), (0.3, -0.2), (-1.0, -0.08)], t.ink);
            pen.fill(&[(-0.3, 0.16), (1.0, 0.04), (1.0, 0.74), (-0.3, 0.74)], t.ink);
            pen.fill(&[(-1.0, 0.06), (1.0, -0.13), (1.0, -0.01), (-1.0, 0.18)], t.accent);
        }
        Icon::Yard => {
            let roof = [
                (-0.92, 0.7),
                (-0.92, -0.22),
                (-0.3, -0.68),
                (-0.3, -0.22),
                (0.32, -0.68),
                (0.32, -0.22),
                (0.92, -0.68),
                (0.92, 0.7),
            ];
            pen.closed(&roof, thin);
            pen.line(&[(-0.2, 0.7), (-0.2, 0.18), (0.22, 0.18), (0.22, 0.7)], thin);
        }
        Icon::Measure => {
            pen.frame([-0.84, -0.74, 0.98, -0.26], thin);
            pen.frame([-0.84, 0.3, 0.98, 0.78], thin);
            let leaf = Stroke::new(thin.width * 1.4, thin.color);
            pen.painter.line_segment([pen.at(-1.0, 0.02), pen.at(0.72, 0.02)], leaf);
        }
        Icon::Decide => {
            pen.line(&[(0.0, -0.72), (0.0, -0.1)], thin);
            pen.line(&[(-0.86, 0.74), (-0.86, 0.2), (0.0, -0.1), (0.86, 0.2), (0.86, 0.74)], thin);
            pen.disc((0.0, -0.1), 0.24, thin.color);
        }
        Icon::Setup => {
            for (y, knob) in [(-0.6, -0.36), (0.0, 0.4), (0.6, -0.1)] {
                pen.line(&[(-0.9, y), (0.94, y)], thin);
                pen.disc((knob, y), 0.24, thin.color);
            }
        }
        _ => {
            pen.line(&[(-0.9, -0.72), (-0.9, 0.72), (0.94, 0.72)], thin);
            pen.line(&[(-0.6, 0.44), (-0.06, -0.16), (-0.06, 0.36), (0.78, -0.6)], thin);
        }
    }
}

fn stroke_sign(icon: Icon, pen: &Pen<'_>, ink: Color32) {
    let bold = pen.stroke(0.24, ink);
    let thin = pen.stroke(0.16, ink);
    match icon {
        Icon::Check => pen.line(&[(-0.72, 0.06), (-0.2, 0.58), (0.76, -0.58)], bold),
        Icon::Cross => {
            pen.line(&[(-0.6, -0.6), (0.6, 0.6)], bold);
            pen.line(&[(-0.6, 0.6), (0.6, -0.6)], bold);
        }
        Icon::Back => pen.line(&[(0.34, -0.7), (-0.36, 0.0), (0.34, 0.7)], bold),
        Icon::Forward => pen.line(&[(-0.34, -0.7), (0.36, 0.0), (-0.34, 0.7)], bold),
        Icon::Minus | Icon::Plus => {
            pen.fill_rect([-0.8, -0.12, 0.8, 0.12], ink);
            if icon == Icon::Plus {
                pen.fill_rect([-0.12, -0.8, 0.12, 0.8], ink);
            }
        }
        Icon::Source => {
            let sheet = [(-0.6, -0.8), (0.2, -0.8), (0.6, -0.4), (0.6, 0.8), (-0.6, 0.8)];
            pen.closed(&sheet, thin);
            pen.line(&[(0.2, -0.8), (0.2, -0.4), (0.6, -0.4)], thin);
        }
        Icon::Printer => {
            pen.line(&[(-0.5, -0.3), (-0.5, -0.82), (0.5, -0.82), (0.5, -0.3)], thin);
            let body =
                [(-0.5, 0.5), (-0.9, 0.5), (-0.9, -0.3), (0.9, -0.3), (0.9, 0.5), (0.5, 0.5)];
            pen.line(&body, thin);
            pen.frame([-0.5, 0.2, 0.5, 0.84], thin);
        }
        Icon::Question => {
            pen.arc((0.0, -0.36), 0.44, [-PI, PI * 0.32], bold);
            pen.line(&[(0.22, 0.0), (0.0, 0.16), (0.0, 0.4)], bold);
            pen.disc((0.0, 0.76), 0.15, ink);
        }
        _ => {
            pen.ring((0.0, 0.0), 0.76, thin);
            let centre = pen.at(0.0, 0.0);
            let half = paint::arc(centre, pen.points(0.76), -PI / 2.0, PI / 2.0);
            pen.painter.add(egui::Shape::convex_polygon(half, ink, Stroke::NONE));
        }
    }
}

fn caution(icon: Icon, pen: &Pen<'_>, ink: Color32) {
    let bold = pen.stroke(0.22, ink);
    match icon {
        Icon::Lock => {
            pen.fill_rect([-0.7, -0.12, 0.7, 0.86], ink);
            pen.line(&[(-0.44, -0.1), (-0.44, -0.4)], bold);
            pen.line(&[(0.44, -0.1), (0.44, -0.4)], bold);
            pen.arc((0.0, -0.4), 0.44, [-PI, 0.0], bold);
        }
        Icon::Prop => {
            pen.fill(&[(-0.96, -0.82), (0.96, -0.82), (0.96, -0.46), (-0.96, -0.3)], ink);
            pen.frame([-0.34, -0.26, 0.34, 0.42], bold);
            pen.fill_rect([-0.96, 0.5, 0.96, 0.86], ink);
        }
        Icon::Hot => {
            for x in [-0.58, 0.0, 0.58] {
                let wave: Vec<_> = (0..=20_u8)
                    .map(|k| {
                        let share = f32::from(k) / 20.0;
                        (x + 0.16 * (share * TAU * 1.1).sin(), 0.54 - 1.4 * share)
                    })
                    .collect();
                pen.line(&wave, pen.stroke(0.18, ink));
            }
            pen.fill_rect([-0.96, 0.66, 0.96, 0.88], ink);
        }
        Icon::Pressure => {
            pen.ring((0.0, 0.06), 0.78, bold);
            pen.line(&[(0.0, 0.06), (-0.42, 0.36)], bold);
            pen.disc((0.0, 0.06), 0.16, ink);
            for turn in [-0.85, -0.5, -0.15] {
                let (sin, cos) = (PI * turn).sin_cos();
                let at = |radius: f32| (radius * cos, 0.06 + radius * sin);
                pen.line(&[at(0.5), at(0.72)], pen.stroke(0.12, ink));
            }
        }
        Icon::Goggles => {
            pen.ring((-0.46, 0.08), 0.42, bold);
            pen.ring((0.46, 0.08), 0.42, bold);
            pen.line(&[(-0.08, 0.0), (0.08, 0.0)], bold);
            pen.line(&[(-0.86, -0.04), (-0.98, -0.3)], bold);
            pen.line(&[(0.86, -0.04), (0.98, -0.3)], bold);
        }
        Icon::PeopleClear => {
            pen.disc((-0.3, -0.62), 0.22, ink);
            pen.fill(&[(-0.6, -0.3), (0.0, -0.3), (0.0, 0.24), (-0.6, 0.24)], ink);
            pen.line(&[(-0.44, 0.3), (-0.44, 0.82)], bold);
            pen.line(&[(-0.14, 0.3), (-0.14, 0.82)], bold);
            pen.line(&[(0.34, 0.0), (0.92, 0.0)], bold);
            pen.line(&[(0.66, -0.26), (0.94, 0.0), (0.66, 0.26)], bold);
        }
        _ => {
            pen.fill_rect([-0.96, 0.56, 0.96, 0.84], ink);
            pen.line(&[(-0.9, 0.4), (0.8, -0.14)], bold);
            pen.arc((-0.9, 0.4), 1.5, [-PI * 0.42, -PI * 0.2], pen.stroke(0.16, ink));
            pen.fill(&[(0.52, -0.62), (0.1, -0.6), (0.4, -0.22)], ink);
        }
    }
}

/// A blade face seen from the front, on which most findings are drawn.
const FACE: [f32; 4] = [-0.96, -0.6, 0.96, 0.6];

fn finding(icon: Icon, pen: &Pen<'_>, thin: Stroke, t: &Tokens) {
    let ink = thin.color;
    let hair = pen.stroke(0.11, ink);
    match icon {
        Icon::Nothing => {
            pen.ring((0.0, 0.0), 0.64, thin);
            pen.fill_rect([-0.3, -0.07, 0.3, 0.07], ink);
        }
        Icon::Streak(streak) => {
            let [straw, brown, purple, blue] = t.temper;
            let colour = match streak {
                Streak::Straw => straw,
                Streak::Brown => brown,
                Streak::Purple => purple,
                Streak::Blue => blue,
            };
            pen.fill(&[(-0.78, 0.42), (-0.28, -0.4), (0.28, -0.4), (0.78, 0.42)], colour);
            pen.frame(FACE, thin);
        }
        Icon::Cracks => {
            pen.frame(FACE, thin);
            pen.line(&[(-0.58, -0.6), (-0.42, -0.16), (-0.58, 0.14), (-0.34, 0.6)], hair);
            pen.line(&[(0.1, -0.6), (0.02, -0.1), (0.24, 0.2)], hair);
            pen.line(&[(0.6, 0.6), (0.52, 0.22), (0.68, -0.08)], hair);
        }
        Icon::Chipped => {
            let face = [
                (-0.96, -0.6),
                (-0.22, -0.6),
                (0.0, -0.16),
                (0.3, -0.3),
                (0.44, -0.6),
                (0.96, -0.6),
                (0.96, 0.6),
                (-0.96, 0.6),
            ];
            pen.closed(&face, thin);
        }
        Icon::Jam => {
            pen.frame([-0.96, -0.86, 0.1, -0.12], thin);
            pen.frame([-0.1, 0.12, 0.96, 0.86], thin);
            let sheet = Stroke::new(thin.width * 1.5, ink);
            pen.line(&[(-0.9, 0.36), (-0.2, 0.3), (0.1, -0.3), (0.9, -0.36)], sheet);
        }
        Icon::Chatter => {
            let saw = [
                (-0.96, 0.1),
                (-0.64, -0.5),
                (-0.32, 0.5),
                (0.0, -0.5),
                (0.32, 0.5),
                (0.64, -0.5),
                (0.96, 0.1),
            ];
            pen.line(&saw, thin);
        }
        Icon::LooseBolt => {
            let head: Vec<_> = (0..6_u8)
                .map(|k| {
                    let (sin, cos) = (TAU * f32::from(k) / 6.0).sin_cos();
                    (-0.14 + 0.62 * cos, 0.16 + 0.62 * sin)
                })
                .collect();
            pen.closed(&head, thin);
            pen.ring((-0.14, 0.16), 0.22, hair);
            pen.arc((-0.14, 0.16), 0.96, [-PI * 0.5, -PI * 0.08], thin);
            pen.fill(&[(-0.4, -0.8), (-0.06, -1.04), (-0.04, -0.56)], ink);
        }
        Icon::StockCaught => {
            pen.line(&[(-0.6, -0.86), (-0.6, 0.86)], Stroke::new(thin.width * 1.4, ink));
            pen.line(&[(0.6, -0.86), (0.6, 0.86)], Stroke::new(thin.width * 1.4, ink));
            pen.fill(&[(-0.4, -0.2), (0.2, -0.5), (0.42, 0.1), (-0.2, 0.46)], ink);
        }
        _ => {
            pen.frame(FACE, thin);
            for x in [-0.46, 0.0, 0.46] {
                pen.disc((x, 0.0), 0.13, ink);
            }
        }
    }
}
