//! Faces in the colours of hot steel, running from station to station.
//!
//! Knows strips along the gaps. Refuses to know temperatures: colours come ready-made.

use crate::gui::{
    paint,
    theme::{self, Tokens},
    widgets::mouth_view::{
        Face, HotFace, MouthView, StockBar,
        plan::{Plan, height_at},
    },
};
use egui::{Align2, Color32, Mesh, Painter, Pos2, Rect, Stroke, StrokeKind, pos2, vec2};

/// How deep a face is painted into its part.
const DEEP: f32 = 11.0;

/// Paints both faces of every gap that has a colour.
pub(super) fn faces(
    painter: &Painter,
    t: &Tokens,
    view: &MouthView<'_>,
    plan: &Plan<'_>,
    faces: &[HotFace<'_>],
) {
    for placed in &plan.fixed {
        let here = |face: Face| {
            let each = view.stations.iter().zip(&plan.dots).zip(faces);
            each.filter(move |((station, _), _)| {
                let inside =
                    placed.part.near <= station.from_pivot && station.from_pivot <= placed.part.far;
                station.face == face && (inside || face == Face::Front)
            })
            .filter_map(|((_, dot), hot)| Some((*dot, hot.colour?)))
        };
        let mut marks: Vec<(Pos2, Color32)> = here(placed.part.face).collect();
        if marks.is_empty() {
            continue;
        }
        let rect = placed.rect;
        let (edge, side) = match placed.part.face {
            Face::Cutting => (&plan.upper_top, 1.0),
            Face::Guide => (&plan.upper_bottom, -1.0),
            Face::Front => {
                front(painter, t, rect, &mut marks);
                continue;
            }
            Face::Moving => continue,
        };
        marks.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
        let colours: Vec<(f32, Color32)> = marks.iter().map(|(at, it)| (at.x, *it)).collect();
        let end = edge.last().map_or(rect.right(), |point| point.x.min(rect.right()));
        let face = if side > 0.0 { rect.bottom() } else { rect.top() };
        let fixed = |_: f32| [face - side * DEEP, face];
        strip(painter, &colours, (rect.left(), rect.right()), fixed);
        let moving = |x: f32| {
            let at = height_at(edge, x);
            [at, at + side * DEEP]
        };
        strip(painter, &colours, (rect.left(), end), moving);
        let fixed = Rect::from_x_y_ranges(
            rect.x_range(),
            (face - side * DEEP).min(face)..=(face - side * DEEP).max(face),
        );
        painter.rect_stroke(fixed, 0.0, Stroke::new(1.2, t.ink), StrokeKind::Middle);
        let line: Vec<Pos2> =
            edge.iter().copied().filter(|point| rect.left() <= point.x && point.x <= end).collect();
        painter.line(line, Stroke::new(1.6, t.ink));
    }
}

/// Bars across the blades, seen from above, as thick as they can be and to scale.
pub(super) fn bars(painter: &Painter, t: &Tokens, plan: &Plan<'_>, bars: &[StockBar<'_>]) {
    for bar in bars {
        let middle = plan.along.x(bar.from_pivot);
        let half = bar.thick / 2.0 * plan.along.per_mm;
        let y = plan.mouth.top() + 3.0..=plan.mouth.bottom() - 3.0;
        let rect = Rect::from_x_y_ranges(middle - half..=middle + half, y);
        painter.rect_filled(rect, 0.0, t.accent_tint.gamma_multiply(0.82));
        for x in [rect.left(), rect.right()] {
            paint::upright(painter, x, rect.y_range().into(), Stroke::new(1.6, t.accent));
        }
        let ends = [rect.center_top(), rect.center_bottom()];
        paint::centre_line(painter, ends, Stroke::new(1.0, t.accent));
        let at = rect.center_bottom() - vec2(0.0, 16.0);
        let look = (theme::caption_bold(), t.accent, t.paper);
        paint::knocked_out(painter, at, Align2::CENTER_CENTER, bar.word, look);
    }
}

/// The front blade's face, across the jaw.
fn front(painter: &Painter, t: &Tokens, rect: Rect, marks: &mut [(Pos2, Color32)]) {
    marks.sort_by(|a, b| a.0.y.total_cmp(&b.0.y));
    let deep = rect.with_max_x((rect.left() + DEEP * 0.6).min(rect.right()));
    if let (Some((_, first)), Some((_, last))) = (marks.first(), marks.last()) {
        let mut mesh = Mesh::default();
        for (at, colour) in [
            (deep.left_top(), *first),
            (deep.right_top(), *first),
            (deep.right_bottom(), *last),
            (deep.left_bottom(), *last),
        ] {
            mesh.colored_vertex(at, colour);
        }
        mesh.add_triangle(0, 1, 2);
        mesh.add_triangle(0, 2, 3);
        painter.add(mesh);
        painter.rect_stroke(deep, 0.0, Stroke::new(1.0, t.ink), StrokeKind::Middle);
    }
}

/// A strip whose colour runs between marks and is level beyond them, in narrow upright slices.
fn strip(
    painter: &Painter,
    marks: &[(f32, Color32)],
    (left, right): (f32, f32),
    ends: impl Fn(f32) -> [f32; 2],
) {
    const SLICES: u8 = 48;
    let mut mesh = Mesh::default();
    for slice in 0..=SLICES {
        let x = left + (right - left) * f32::from(slice) / f32::from(SLICES);
        let colour = between(marks, x);
        for y in ends(x) {
            mesh.colored_vertex(pos2(x, y), colour);
        }
        if 0 < slice {
            let first = u32::from(slice - 1) * 2;
            mesh.add_triangle(first, first + 1, first + 3);
            mesh.add_triangle(first, first + 3, first + 2);
        }
    }
    painter.add(mesh);
}

fn between(marks: &[(f32, Color32)], x: f32) -> Color32 {
    let mut below: Option<(f32, Color32)> = None;
    for (at, colour) in marks {
        if x <= *at {
            return below.map_or(*colour, |(from, first)| {
                first.lerp_to_gamma(*colour, (x - from) / (at - from).max(0.01))
            });
        }
        below = Some((*at, *colour));
    }
    below.map_or(Color32::TRANSPARENT, |(_, colour)| colour)
}
