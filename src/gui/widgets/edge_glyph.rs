//! A blade's section with its edges: which are fresh, which one cuts, which are worn.
//!
//! Knows a square with up to four corners, numbered clockwise from the top left. Refuses to know
//! hours. The bolt is seen from the side, as two hidden lines from face to seat.

use crate::gui::{fonts, paint, theme, theme::Tokens, widgets::touch};
use egui::{
    Align2, Color32, FontId, Painter, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, Ui, pos2, vec2,
};

/// The state of one edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeState {
    /// Sharp and unused.
    Fresh,
    /// Cutting now.
    InUse,
    /// Used up.
    Worn,
}

/// The size of the section.
const SIDE: f32 = 60.0;
/// How far a worn or used corner reaches along its sides.
const CUT: f32 = 14.0;

/// A blade's section.
#[derive(Clone, Copy, Debug)]
pub struct EdgeGlyph<'a> {
    /// Its edges from number 1, clockwise from the top left; one to four.
    pub edges: &'a [EdgeState],
    /// What a screen reader says, such as "lower blade, edge 2 in use".
    pub name: &'a str,
}

impl EdgeGlyph<'_> {
    /// Shows the section with its numbers, 92 × 76.
    pub fn show(self, ui: &mut Ui) {
        let t = theme::tokens(ui);
        let (area, _) = ui.allocate_exact_size(vec2(92.0, 76.0), Sense::hover());
        touch::say(ui, area, ("edges", self.name), self.name);
        let painter = ui.painter();
        let rect = Rect::from_center_size(area.center(), vec2(SIDE, SIDE));
        painter.rect(rect, 0.0, t.blade, Stroke::new(1.8, t.ink), StrokeKind::Middle);
        for x in [-6.5, 6.5] {
            let line = [rect.center_top() + vec2(x, 0.0), rect.center_bottom() + vec2(x, 0.0)];
            paint::dashed(painter, &line, Stroke::new(1.0, t.ink3), paint::HIDDEN);
        }
        // The bolt's own axis.
        let axis = [rect.center_top() - vec2(0.0, 5.0), rect.center_bottom() + vec2(0.0, 5.0)];
        paint::centre_line(painter, axis, Stroke::new(0.9, t.ink3));
        for (index, state) in self.edges.iter().take(4).enumerate() {
            corner(painter, t, rect, index, *state);
        }
    }
}

/// The outer corner and the directions of its two sides, clockwise from the top left.
fn corner_of(rect: Rect, index: usize) -> (Pos2, f32, f32) {
    match index {
        0 => (rect.left_top(), 1.0, 1.0),
        1 => (rect.right_top(), -1.0, 1.0),
        2 => (rect.right_bottom(), -1.0, -1.0),
        _ => (rect.left_bottom(), 1.0, -1.0),
    }
}

fn corner(painter: &Painter, t: &Tokens, rect: Rect, index: usize, state: EdgeState) {
    let (tip, right, down) = corner_of(rect, index);
    let triangle = [tip, tip + vec2(CUT * right, 0.0), tip + vec2(0.0, CUT * down)];
    let (ink, family) = match state {
        EdgeState::Fresh => (t.ink, fonts::bold()),
        EdgeState::InUse => {
            painter.add(Shape::convex_polygon(triangle.to_vec(), t.accent, Stroke::NONE));
            (t.accent, fonts::bold())
        }
        EdgeState::Worn => {
            worn(painter, t, triangle);
            (t.ink3, fonts::regular())
        }
    };
    let at = tip + vec2(-9.0 * right, 7.0 * down);
    let number = (index + 1).to_string();
    painter.text(at, Align2::CENTER_CENTER, number, FontId::new(13.0, family), ink);
}

/// A corner cut away: the ground shows through, hatched, and the outline follows the cut.
fn worn(painter: &Painter, t: &Tokens, [tip, a, b]: [Pos2; 3]) {
    let out = |p: Pos2| p + (tip - f32_mid(a, b)).normalized() * 1.2;
    let cut = vec![out(tip), out(a), out(b)];
    painter.add(Shape::convex_polygon(cut, t.field, Stroke::NONE));
    paint::hatch(painter, &[tip, a, b], 4.5, Stroke::new(1.0, t.ink3), paint::Lean::Rising);
    painter.add(Shape::closed_line(vec![tip, a, b], Stroke::new(1.0, t.ink3)));
    painter.line_segment([a, b], Stroke::new(1.8, t.ink));
}

fn f32_mid(a: Pos2, b: Pos2) -> Pos2 {
    pos2(f32::midpoint(a.x, b.x), f32::midpoint(a.y, b.y))
}

/// Explains the corners: worn, in use, fresh; from the right edge of the width at hand.
pub fn edge_legend(ui: &mut Ui, words: [&str; 3]) {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 18.0), Sense::hover());
    let painter = ui.painter();
    let mut right = rect.right();
    let looks: [(&str, Option<Color32>); 3] =
        [(words[2], None), (words[1], Some(t.accent)), (words[0], None)];
    for (index, (word, fill)) in looks.into_iter().enumerate() {
        let galley = painter.layout_no_wrap(word.to_owned(), theme::chip(), t.ink2);
        let left = right - galley.size().x;
        paint::place(painter, pos2(left, rect.center().y), Align2::LEFT_CENTER, galley);
        let foot = pos2(left - 17.0, rect.center().y + 5.0);
        let triangle = vec![foot, foot + vec2(11.0, 0.0), foot - vec2(0.0, 11.0)];
        if index == 2 {
            paint::hatch(painter, &triangle, 4.5, Stroke::new(1.0, t.ink3), paint::Lean::Falling);
            painter.add(Shape::closed_line(triangle, Stroke::new(1.0, t.ink3)));
        } else if let Some(fill) = fill {
            painter.add(Shape::convex_polygon(triangle, fill, Stroke::NONE));
        } else {
            painter.add(Shape::closed_line(triangle, Stroke::new(1.6, t.ink)));
        }
        right = left - 28.0;
    }
}
