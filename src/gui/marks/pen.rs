//! A pen that draws in the square from −1 to 1 around a centre, whatever the size on screen.
//!
//! Knows the mapping and egui's shapes. Refuses to know what is drawn.

use crate::gui::paint;
use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, vec2};

/// Draws one sign.
pub(super) struct Pen<'a> {
    pub(super) painter: &'a Painter,
    centre: Pos2,
    half: f32,
}

impl<'a> Pen<'a> {
    pub(super) fn new(painter: &'a Painter, centre: Pos2, size: f32) -> Self {
        Self { painter, centre, half: size / 2.0 }
    }

    /// A length on the sign in points.
    pub(super) fn points(&self, length: f32) -> f32 {
        length * self.half
    }

    /// A stroke that grows with the sign, but never gets too thin to see.
    pub(super) fn stroke(&self, width: f32, colour: Color32) -> Stroke {
        Stroke::new(self.points(width).max(1.2), colour)
    }

    pub(super) fn at(&self, x: f32, y: f32) -> Pos2 {
        self.centre + vec2(x, y) * self.half
    }

    pub(super) fn rect(&self, [left, top, right, bottom]: [f32; 4]) -> Rect {
        Rect::from_min_max(self.at(left, top), self.at(right, bottom))
    }

    pub(super) fn line(&self, points: &[(f32, f32)], stroke: Stroke) {
        let points: Vec<_> = points.iter().map(|&(x, y)| self.at(x, y)).collect();
        for end in [points.first(), points.last()].into_iter().flatten() {
            self.painter.circle_filled(*end, stroke.width / 2.0, stroke.color);
        }
        self.painter.line(points, stroke);
    }

    pub(super) fn closed(&self, points: &[(f32, f32)], stroke: Stroke) {
        let points = points.iter().map(|&(x, y)| self.at(x, y)).collect();
        self.painter.add(Shape::closed_line(points, stroke));
    }

    /// Fills a convex outline.
    pub(super) fn fill(&self, points: &[(f32, f32)], colour: Color32) {
        let points = points.iter().map(|&(x, y)| self.at(x, y)).collect();
        self.painter.add(Shape::convex_polygon(points, colour, Stroke::NONE));
    }

    pub(super) fn fill_rect(&self, sides: [f32; 4], colour: Color32) {
        self.painter.rect_filled(self.rect(sides), 0.0, colour);
    }

    pub(super) fn frame(&self, sides: [f32; 4], stroke: Stroke) {
        self.painter.rect_stroke(self.rect(sides), 0.0, stroke, egui::StrokeKind::Middle);
    }

    pub(super) fn disc(&self, (x, y): (f32, f32), radius: f32, colour: Color32) {
        self.painter.circle_filled(self.at(x, y), self.points(radius), colour);
    }

    pub(super) fn ring(&self, (x, y): (f32, f32), radius: f32, stroke: Stroke) {
        self.painter.circle_stroke(self.at(x, y), self.points(radius), stroke);
    }

    pub(super) fn arc(&self, (x, y): (f32, f32), radius: f32, angles: [f32; 2], stroke: Stroke) {
        let [from, to] = angles;
        self.painter.line(paint::arc(self.at(x, y), self.points(radius), from, to), stroke);
    }

    /// An octagon standing on a flat side, filled.
    pub(super) fn octagon(&self, half_width: f32, colour: Color32) {
        let (w, k) = (half_width, half_width * 0.414_213_57);
        let corners = [(-k, -w), (k, -w), (w, -k), (w, k), (k, w), (-k, w), (-w, k), (-w, -k)];
        self.fill(&corners, colour);
    }
}
