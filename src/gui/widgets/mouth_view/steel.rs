//! The steel: cheeks cut and hatched, blades, packs, bolts, the upper jaw, the pivot.
//!
//! Knows line weights. Refuses to know gaps: outlines come from the plan.

use crate::{
    gui::{
        paint,
        theme::{self, Tokens},
        widgets::mouth_view::{
            Face, MouthView, Warning,
            plan::{PACK, PlacedPart, Plan, height_at},
        },
    },
    language,
};
use egui::{Align2, Color32, Mesh, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, pos2, vec2};

/// Paints everything under the leaders.
pub(super) fn paint(painter: &Painter, t: &Tokens, view: &MouthView<'_>, plan: &Plan<'_>) {
    lower_jaw(painter, t, plan);
    for placed in &plan.fixed {
        fixed_part(painter, t, placed, plan);
    }
    upper_jaw(painter, t, plan);
    pivot(painter, t, view, plan);
}

fn lower_jaw(painter: &Painter, t: &Tokens, plan: &Plan<'_>) {
    let (outer, mouth) = (plan.outer, plan.mouth);
    let nose = (outer.width() * 0.06).min(outer.height() * 0.2);
    let outline = [
        outer.left_top(),
        pos2(outer.right() - nose, outer.top()),
        pos2(outer.right(), outer.top() + nose * 0.44),
        pos2(outer.right(), outer.bottom() - nose * 0.44),
        pos2(outer.right() - nose, outer.bottom()),
        outer.left_bottom(),
    ];
    painter.add(Shape::convex_polygon(outline.to_vec(), t.steel, Stroke::NONE));
    let thin = Stroke::new(1.0, t.hatch);
    paint::hatch(painter, &outline, 11.3, thin, paint::Lean::Rising);
    painter.rect_filled(mouth, 0.0, t.field);
    painter.line(outline.to_vec(), Stroke::new(1.8, t.ink));
    let inside =
        vec![mouth.left_top(), mouth.right_top(), mouth.right_bottom(), mouth.left_bottom()];
    painter.line(inside, Stroke::new(1.4, t.ink));
    for (from, to) in [(outer.top(), mouth.top()), (mouth.bottom(), outer.bottom())] {
        broken_end(painter, t, outer.left(), from - 4.0, to + 4.0);
    }
}

/// The zigzag of a part that goes on beyond the drawing.
fn broken_end(painter: &Painter, t: &Tokens, x: f32, from: f32, to: f32) {
    let middle = f32::midpoint(from, to);
    let points = [
        (0.0, from),
        (0.0, middle - 6.0),
        (-6.0, middle - 2.0),
        (6.0, middle + 2.0),
        (0.0, middle + 6.0),
        (0.0, to),
    ];
    let points = points.map(|(dx, y)| pos2(x + dx, y)).to_vec();
    painter.line(points, Stroke::new(1.2, t.ink));
}

fn fixed_part(painter: &Painter, t: &Tokens, placed: &PlacedPart<'_>, plan: &Plan<'_>) {
    let rect = placed.rect;
    painter.rect(rect, 0.0, t.blade, Stroke::new(1.4, t.ink), StrokeKind::Middle);
    if placed.part.bolts.is_empty() {
        return;
    }
    let (seat, outside, away) = match placed.part.face {
        Face::Guide => (rect.bottom(), plan.outer.bottom(), 1.0),
        Face::Cutting => (rect.top(), plan.outer.top(), -1.0),
        Face::Moving | Face::Front => return,
    };
    let thin = Stroke::new(0.9, t.ink);
    for plate in [0.25, 0.75] {
        paint::level(painter, rect.left()..=rect.right(), seat + away * PACK * plate, thin);
    }
    let depth = rect.height() * 0.55;
    for bolt in &placed.part.bolts {
        let x = plan.along.x(*bolt);
        let head = Rect::from_two_pos(pos2(x - 7.0, outside), pos2(x + 7.0, outside + away * 5.0));
        painter.rect(head, 0.0, t.paper, Stroke::new(1.2, t.ink), StrokeKind::Middle);
        for side in [-4.5, 4.5] {
            let line = [pos2(x + side, outside), pos2(x + side, seat - away * depth)];
            paint::dashed(painter, &line, Stroke::new(1.0, t.ink3), paint::HIDDEN);
        }
    }
}

fn upper_jaw(painter: &Painter, t: &Tokens, plan: &Plan<'_>) {
    fill_between(painter, &plan.upper_top, &plan.upper_bottom, t.steel2);
    for placed in &plan.moving {
        let rect = placed.rect;
        let top: Vec<Pos2> = plan
            .upper_top
            .iter()
            .copied()
            .filter(|point| rect.left() <= point.x && point.x <= rect.right())
            .collect();
        // The first point of a blade may be the step up from the body: start at the face.
        let top: Vec<Pos2> = top
            .iter()
            .enumerate()
            .filter(|(index, point)| {
                let next = top.get(index + 1);
                next.is_none_or(|next| (next.x - point.x).abs() > 0.01)
            })
            .map(|(_, point)| *point)
            .collect();
        let end = top.last().map_or(rect.right(), |point| point.x);
        let level = [pos2(rect.left(), rect.bottom()), pos2(end, rect.bottom())];
        fill_between(painter, &top, &level, t.blade);
        let mut outline = top;
        outline.push(pos2(end, rect.bottom()));
        outline.push(rect.left_bottom());
        painter.add(Shape::closed_line(outline, Stroke::new(1.4, t.ink)));
    }
    let mut edge = plan.upper_top.clone();
    edge.extend(plan.upper_bottom.iter().rev());
    painter.line(edge, Stroke::new(1.6, t.ink));
    if let (Some(top), Some(bottom)) = (plan.upper_top.first(), plan.upper_bottom.first()) {
        broken_end(painter, t, top.x, top.y - 2.0, bottom.y + 2.0);
    }
}

/// Fills between two edges that run from left to right, in upright slices.
fn fill_between(painter: &Painter, top: &[Pos2], bottom: &[Pos2], colour: Color32) {
    let mut cuts: Vec<f32> = top.iter().chain(bottom).map(|point| point.x).collect();
    cuts.sort_by(f32::total_cmp);
    cuts.dedup_by(|a, b| (*a - *b).abs() < 0.01);
    let mut mesh = Mesh::default();
    for (left, right) in cuts.iter().zip(cuts.iter().skip(1)) {
        // Just inside the slice, so that a step belongs to the slice it bounds.
        let (from, to) = (left + 0.005, right - 0.005);
        let corners = [
            pos2(*left, height_at(top, from)),
            pos2(*right, height_at(top, to)),
            pos2(*right, height_at(bottom, to)),
            pos2(*left, height_at(bottom, from)),
        ];
        let Ok(first) = u32::try_from(mesh.vertices.len()) else { return };
        for corner in corners {
            mesh.colored_vertex(corner, colour);
        }
        mesh.add_triangle(first, first + 1, first + 2);
        mesh.add_triangle(first, first + 2, first + 3);
    }
    painter.add(mesh);
}

fn pivot(painter: &Painter, t: &Tokens, view: &MouthView<'_>, plan: &Plan<'_>) {
    let half = (view.jaw.pivot * plan.along.per_mm / 2.0).clamp(9.0, 22.0);
    let x = plan.along.pivot_x;
    let (top, bottom) = (plan.outer.top() - 9.0, plan.outer.bottom() + 9.0);
    let pin = Rect::from_x_y_ranges(x - half..=x + half, top..=bottom);
    painter.rect(pin, 0.0, t.paper, Stroke::new(1.6, t.ink), StrokeKind::Middle);
    for (from, to) in [(top - 6.0, top + 4.0), (bottom - 4.0, bottom + 6.0)] {
        let cap = Rect::from_x_y_ranges(x - half - 6.0..=x + half + 6.0, from..=to);
        painter.rect(cap, 0.0, t.steel2, Stroke::new(1.4, t.ink), StrokeKind::Middle);
    }
    let line = [pos2(x, top - 14.0), pos2(x, bottom + 14.0)];
    paint::centre_line(painter, line, Stroke::new(1.1, t.ink2));
}

/// Writes the names on the parts and the warning into the free space; false if there is a warning
/// and no space for it.
pub(super) fn words(painter: &Painter, t: &Tokens, view: &MouthView<'_>, plan: &Plan<'_>) -> bool {
    let lines = Lines::of(view, plan);
    for placed in plan.fixed.iter().chain(&plan.moving) {
        let lines = match placed.part.face {
            Face::Guide => &lines.guide,
            Face::Moving => &lines.here,
            Face::Cutting | Face::Front => continue,
        };
        write(painter, placed.part.name, placed.rect, lines, (t.ink2, t.blade));
    }
    let (outer, mouth) = (plan.outer, plan.mouth);
    let x = plan.along.pivot_x + 18.0..=outer.right() - outer.width() * 0.07;
    let cutting = Rect::from_x_y_ranges(x.clone(), outer.top()..=mouth.top());
    // Near the pivot, where no bolt stands.
    let near = cutting.with_max_x(cutting.left() + cutting.width() * 0.3);
    write(painter, language::known(view.words.cutting), near, &lines.cutting, (t.ink2, t.steel));
    let guide = Rect::from_x_y_ranges(x, mouth.bottom()..=outer.bottom());
    write(painter, language::known(view.words.guide), guide, &lines.guide, (t.ink2, t.steel));

    let middle = outer.center().x;
    let bottom = height_at(&plan.upper_bottom, middle);
    let top = plan.moving.first().map_or(height_at(&plan.upper_top, middle), |p| p.rect.bottom());
    let body =
        Rect::from_x_y_ranges(plan.along.pivot_x + 30.0..=outer.right() - 90.0, top..=bottom);
    write(painter, language::known(view.words.upper), body, &lines.here, (t.ink2, t.steel2));

    let above = pos2(plan.along.pivot_x, outer.top() - 25.0);
    let (font, ink) = (theme::caption(), t.ink2);
    painter.text(above, Align2::CENTER_BOTTOM, language::known(view.words.pivot), font, ink);
    view.warning.is_none_or(|it| warning(painter, t, it, plan, &lines).is_some())
}

/// Where upright lines run that no word may cross.
struct Lines {
    cutting: Vec<f32>,
    guide: Vec<f32>,
    /// The projection of the current station.
    here: Vec<f32>,
}

impl Lines {
    fn of(view: &MouthView<'_>, plan: &Plan<'_>) -> Self {
        let here: Vec<f32> = view
            .current
            .and_then(|index| plan.dots.get(index))
            .map(|dot| dot.x)
            .into_iter()
            .collect();
        let on = |face: Face| {
            let stations = view.stations.iter().filter(move |station| station.face == face);
            let bolts = view.parts.iter().filter(move |part| part.face == face);
            let bolts = bolts.flat_map(|part| &part.bolts).copied();
            let at = stations.map(|station| station.from_pivot).chain(bolts);
            at.map(|mm| plan.along.x(mm)).chain(here.iter().copied()).collect()
        };
        Self { cutting: on(Face::Cutting), guide: on(Face::Guide), here }
    }
}

/// Writes a word as near to the middle of its room as it fits between upright lines.
///
/// Where it fits nowhere it stands in the middle on a patch of its ground; where the room itself is
/// too small it is left out.
fn write(
    painter: &Painter,
    word: &str,
    room: Rect,
    lines: &[f32],
    (ink, ground): (Color32, Color32),
) {
    let galley = painter.layout_no_wrap(word.to_owned(), theme::caption(), ink);
    let size = galley.size();
    if room.width() < size.x + 6.0 || room.height() < size.y {
        return;
    }
    let half = size.x / 2.0 + 8.0;
    let fits = |x: &f32| {
        room.left() + half - 5.0 <= *x
            && *x <= room.right() - half + 5.0
            && lines.iter().all(|line| half <= (line - x).abs())
    };
    let beside = lines.iter().flat_map(|line| [line - half, line + half]);
    let near = |x: &f32| (x - room.center().x).abs();
    let free = std::iter::once(room.center().x)
        .chain(beside)
        .filter(fits)
        .min_by(|a, b| near(a).total_cmp(&near(b)));
    let Some(x) = free.or((26.0 < room.height()).then_some(room.center().x)) else { return };
    let rect = Align2::CENTER_CENTER.anchor_size(pos2(x, room.center().y), size);
    painter.rect_filled(rect.expand2(vec2(4.0, 0.0)), 0.0, ground);
    painter.galley(rect.min, galley, ink);
}

fn warning(
    painter: &Painter,
    t: &Tokens,
    warning: Warning<'_>,
    plan: &Plan<'_>,
    lines: &Lines,
) -> Option<()> {
    let free = free_space(plan, &lines.here)?;
    let room = free.width() - 60.0;
    let colour = warning.mark.colour(t);
    let headline = paint::fitted(painter, warning.headline, theme::section(), colour, room);
    let text = painter.layout(warning.text.to_owned(), theme::chip(), t.ink, room);
    let height = headline.size().y + text.size().y + 2.0;
    if headline.elided || free.height() < height {
        return None;
    }
    let width = headline.size().x.max(text.size().x) + 36.0;
    let left = (free.center().x - width / 2.0).max(free.left() + 12.0);
    let top = free.center().y - height / 2.0;
    let below = top + headline.size().y + 2.0;
    warning.mark.paint(painter, pos2(left + 12.0, free.center().y), 25.0, t);
    painter.galley(pos2(left + 36.0, top), headline, colour);
    painter.galley(pos2(left + 36.0, below), text, t.ink);
    Some(())
}

/// The largest empty part of the mouth: between the pads and the guide blade, under the upper jaw,
/// on the wider side of the current station's projection.
fn free_space(plan: &Plan<'_>, here: &[f32]) -> Option<Rect> {
    let mut guide: Vec<Rect> = plan
        .fixed
        .iter()
        .filter(|placed| placed.part.face == Face::Guide)
        .map(|placed| placed.rect)
        .collect();
    guide.sort_by(|a, b| a.left().total_cmp(&b.left()));
    let (first, last) = (guide.first()?, guide.last()?);
    let (mut left, mut right) = (first.right() + 6.0, last.left() - 30.0);
    for &line in here {
        let inside = left < line && line < right;
        if inside && line - left < right - line {
            left = line + 4.0;
        } else if inside {
            right = line - 4.0;
        }
    }
    if right - left < 80.0 {
        return None;
    }
    let top = height_at(&plan.upper_bottom, f32::midpoint(left, right)) + 4.0;
    let space = Rect::from_min_max(pos2(left, top), pos2(right, plan.mouth.bottom() - 2.0));
    (20.0 < space.height()).then_some(space)
}
