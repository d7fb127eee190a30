//! Strokes that egui does not bring along: dashes, hatching, knocked-out text.
//!
//! Knows points and strokes. Refuses to know what they mean, and makes no colour: callers hand in
//! those of [`crate::gui::theme`].

use egui::{
    Align2, Color32, FontId, Galley, Painter, Pos2, Rect, Shape, Stroke, Vec2, pos2,
    text::LayoutJob, vec2,
};
use std::sync::Arc;

/// A share or a length for the screen, where seven digits are more than enough.
#[expect(clippy::cast_possible_truncation, reason = "the one door from sums to the screen")]
pub fn screen(value: f64) -> f32 {
    value as f32
}

/// Dashes of hidden lines and of what is not measured yet.
pub const HIDDEN: [f32; 2] = [4.0, 3.0];
/// Dashes of working limits.
pub const LIMIT: [f32; 2] = [9.0, 4.0];
/// Dashes of the estimated hot gap.
pub const HOT: [f32; 2] = [7.0, 5.0];
/// Dots of projections and of events in time.
pub const DOTS: [f32; 2] = [3.0, 5.0];

/// A polyline of dashes `[on, off]`.
pub fn dashed(painter: &Painter, points: &[Pos2], stroke: Stroke, [on, off]: [f32; 2]) {
    painter.extend(Shape::dashed_line(points, stroke, on, off));
}

/// A centre line: long, gap, dot, gap.
pub fn centre_line(painter: &Painter, points: [Pos2; 2], stroke: Stroke) {
    painter.extend(Shape::dashed_line_with_offset(&points, stroke, &[14.0, 3.0], &[3.0, 3.0], 0.0));
}

/// The outline of a rectangle in dashes.
pub fn dashed_rect(painter: &Painter, rect: Rect, stroke: Stroke) {
    let [a, b, c, d] = [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom()];
    dashed(painter, &[a, b, c, d, a], stroke, HIDDEN);
}

/// A ring of dashes.
pub fn dashed_circle(painter: &Painter, centre: Pos2, radius: f32, stroke: Stroke, dashes: u8) {
    let step = std::f32::consts::TAU / f32::from(dashes.max(1));
    for dash in 0..dashes {
        let from = step * f32::from(dash);
        let arc: Vec<_> = (0..=4_u8)
            .map(|k| centre + radius * Vec2::angled(from + step * 0.55 * f32::from(k) / 4.0))
            .collect();
        painter.line(arc, stroke);
    }
}

/// Points on an arc from one angle to another, in radians clockwise from three o'clock.
pub fn arc(centre: Pos2, radius: f32, from: f32, to: f32) -> Vec<Pos2> {
    (0..=24_u8)
        .map(|k| centre + radius * Vec2::angled(from + (to - from) * f32::from(k) / 24.0))
        .collect()
}

/// How hatching leans: `Falling` from top left, `Rising` to top right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lean {
    /// From top left to bottom right, as beyond a limit.
    Falling,
    /// From bottom left to top right, as cut metal.
    Rising,
}

/// Hatches a convex outline with lines `spacing` apart along the horizontal.
pub fn hatch(painter: &Painter, outline: &[Pos2], spacing: f32, stroke: Stroke, lean: Lean) {
    let side = |p: &Pos2| match lean {
        Lean::Falling => p.x - p.y,
        Lean::Rising => p.x + p.y,
    };
    let low = outline.iter().map(side).fold(f32::INFINITY, f32::min);
    let high = outline.iter().map(side).fold(f32::NEG_INFINITY, f32::max);
    if !(low < high && 0.5 < spacing) {
        return;
    }
    let mut at = (low / spacing).ceil() * spacing;
    while at < high {
        let mut hits = outline.iter().zip(outline.iter().cycle().skip(1)).filter_map(|(a, b)| {
            let (from, to) = (side(a) - at, side(b) - at);
            ((from < 0.0) != (to < 0.0)).then(|| *a + (*b - *a) * (from / (from - to)))
        });
        if let (Some(a), Some(b)) = (hits.next(), hits.next()) {
            painter.line_segment([a, b], stroke);
        }
        at += spacing;
    }
}

/// Hatches a rectangle.
pub fn hatch_rect(painter: &Painter, rect: Rect, spacing: f32, stroke: Stroke, lean: Lean) {
    let corners = [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom()];
    hatch(painter, &corners, spacing, stroke, lean);
}

/// A horizontal line on whole pixels, so that thin lines stay sharp.
pub fn level(painter: &Painter, x: std::ops::RangeInclusive<f32>, y: f32, stroke: Stroke) {
    let y = crisp(painter, y, stroke.width);
    painter.line_segment([pos2(*x.start(), y), pos2(*x.end(), y)], stroke);
}

/// A vertical line on whole pixels.
pub fn upright(painter: &Painter, x: f32, y: std::ops::RangeInclusive<f32>, stroke: Stroke) {
    let x = crisp(painter, x, stroke.width);
    painter.line_segment([pos2(x, *y.start()), pos2(x, *y.end())], stroke);
}

/// Where the middle of a line of this width must lie to cover whole pixels.
fn crisp(painter: &Painter, at: f32, width: f32) -> f32 {
    let scale = painter.pixels_per_point();
    let odd = (width * scale).round().rem_euclid(2.0) > 0.5;
    if odd { ((at * scale).floor() + 0.5) / scale } else { (at * scale).round() / scale }
}

/// An arrow with a filled head.
pub fn arrow(painter: &Painter, from: Pos2, to: Pos2, head: f32, stroke: Stroke) {
    let along = (to - from).normalized();
    let base = to - along * head;
    painter.line_segment([from, base], stroke);
    let across = along.rot90() * head * 0.62;
    let tip = vec![to, base + across, base - across];
    painter.add(Shape::convex_polygon(tip, stroke.color, Stroke::NONE));
}

/// Text on a patch of the ground colour, so that no leader or hatch runs through it.
pub fn knocked_out(
    painter: &Painter,
    at: Pos2,
    anchor: Align2,
    text: impl Into<String>,
    (font, ink, ground): (FontId, Color32, Color32),
) -> Rect {
    let galley = painter.layout_no_wrap(text.into(), font, ink);
    let rect = anchor.anchor_size(at, galley.size());
    painter.rect_filled(rect.expand2(vec2(4.0, 1.0)), 0.0, ground);
    painter.galley(rect.min, galley, ink);
    rect
}

/// Lays text out on one line and cuts it with an ellipsis where the room ends.
pub fn fitted(
    painter: &Painter,
    text: impl Into<String>,
    font: FontId,
    ink: Color32,
    room: f32,
) -> Arc<Galley> {
    let mut job = LayoutJob::simple_singleline(text.into(), font, ink);
    job.wrap = egui::text::TextWrapping::truncate_at_width(room.max(0.0));
    painter.layout_job(job)
}

/// The smallest letters.
const LEAST: f32 = 11.0;

/// Lays text out in letters up to two points smaller, as far as `room` asks for it.
pub fn lessened(painter: &Painter, mut job: LayoutJob, room: f32) -> Arc<Galley> {
    let mut galley = painter.layout_job(job.clone());
    for _ in 0..4 {
        let mut fonts = job.sections.iter_mut().map(|it| &mut it.format.font_id);
        if galley.size().x <= room || fonts.any(|font| font.size - 0.5 < LEAST) {
            break;
        }
        job.sections.iter_mut().for_each(|it| it.format.font_id.size -= 0.5);
        galley = painter.layout_job(job.clone());
    }
    galley
}

/// As [`fitted`], but in smaller letters before anything is cut off.
pub fn shrunk(
    painter: &Painter,
    text: &str,
    font: &FontId,
    ink: Color32,
    room: f32,
) -> Arc<Galley> {
    let job = LayoutJob::simple_singleline(text.to_owned(), font.clone(), ink);
    let whole = lessened(painter, job, room);
    if whole.size().x <= room { whole } else { fitted(painter, text, font.clone(), ink, room) }
}

/// Paints a laid-out text with `anchor` at `at` and returns what it covers.
pub fn place(painter: &Painter, at: Pos2, anchor: Align2, galley: Arc<Galley>) -> Rect {
    let rect = anchor.anchor_size(at, galley.size());
    painter.galley(rect.min, galley, Color32::PLACEHOLDER);
    rect
}
