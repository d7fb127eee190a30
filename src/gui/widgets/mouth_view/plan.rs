//! From millimetres to points on screen.
//!
//! Knows where every outline of the drawing runs. Refuses to paint.

use crate::gui::widgets::mouth_view::{Along, Face, JawPart, MouthStation, MouthView};
use egui::{Pos2, Rect, pos2};

/// The widest gap on the drawing in points, which sets the exaggeration.
const WIDEST: f32 = 17.0;
/// Across the jaw the scale may stretch so much to use the height; never to deform.
pub(super) const STRETCH: f32 = 1.35;
/// The pack behind a blade, drawn as two thin plates.
pub(super) const PACK: f32 = 4.0;

/// A fixed or moving part on screen.
pub(super) struct PlacedPart<'a> {
    pub(super) part: &'a JawPart<'a>,
    /// From seat to face for fixed parts; from the deepest face to the back for moving ones.
    pub(super) rect: Rect,
}

/// The drawing on screen.
pub(super) struct Plan<'a> {
    pub(super) along: Along,
    /// Outside of the lower jaw, from the break line to the tip.
    pub(super) outer: Rect,
    /// The mouth between the cheeks, from the break line to the inside of the front.
    pub(super) mouth: Rect,
    /// By how much gaps are drawn larger than everything else.
    pub(super) factor: u32,
    pub(super) fixed: Vec<PlacedPart<'a>>,
    pub(super) moving: Vec<PlacedPart<'a>>,
    /// The upper jaw's edges from left to right, and its end at the front.
    pub(super) upper_top: Vec<Pos2>,
    pub(super) upper_bottom: Vec<Pos2>,
    /// The middle of each station's gap.
    pub(super) dots: Vec<Pos2>,
    /// Points across the jaw per millimetre.
    pub(super) per_mm_across: f32,
}

impl<'a> Plan<'a> {
    pub(super) fn new(view: &MouthView<'a>, along: Along, room: Rect) -> Self {
        let jaw = view.jaw;
        let total = (jaw.mouth + 2.0 * jaw.cheek).max(1.0);
        let per_mm_across = (room.height() / total).min(along.per_mm * STRETCH);
        let top = room.center().y - total * per_mm_across / 2.0;
        let left = room.left().max(along.pivot_x - 46.0) + 6.0;
        let outer = Rect::from_min_max(
            pos2(left, top),
            pos2(along.x(jaw.reach), top + total * per_mm_across),
        );
        let cheek = jaw.cheek * per_mm_across;
        let mouth = Rect::from_min_max(
            pos2(left, top + cheek),
            pos2(along.x(jaw.reach - jaw.cheek), outer.bottom() - cheek),
        );
        let widest = view.stations.iter().map(|station| station.gap).fold(0.2, f32::max);
        let factor = (1..=60_u8)
            .rev()
            .find(|factor| widest * along.per_mm * f32::from(*factor) <= WIDEST)
            .unwrap_or(1);
        let per_gap = along.per_mm * f32::from(factor);

        let mut plan = Self {
            along,
            outer,
            mouth,
            factor: factor.into(),
            fixed: Vec::new(),
            moving: Vec::new(),
            upper_top: Vec::new(),
            upper_bottom: Vec::new(),
            dots: Vec::new(),
            per_mm_across,
        };
        plan.place_fixed(view.parts);
        plan.place_dots(view.stations, per_gap);
        plan.run_edges(view, per_gap);
        plan
    }

    /// The station whose dot is nearest to `at`, if one is within reach of a finger.
    pub(super) fn nearest_dot(&self, at: Pos2, reach: f32) -> Option<usize> {
        let near = self.dots.iter().map(|dot| dot.distance(at)).enumerate();
        let (index, distance) = near.min_by(|a, b| a.1.total_cmp(&b.1))?;
        (distance <= reach).then_some(index)
    }

    fn place_fixed(&mut self, parts: &'a [JawPart<'a>]) {
        let (mouth, across) = (self.mouth, self.per_mm_across);
        for part in parts {
            let x = self.along.x(part.near)..=self.along.x(part.far);
            let depth = (part.depth * across).min(mouth.height() * 0.4);
            let rect = match part.face {
                Face::Moving => continue,
                Face::Cutting => {
                    let seat = mouth.top() + PACK;
                    Rect::from_x_y_ranges(x, seat..=seat + depth)
                }
                Face::Guide => {
                    // A pad is fixed to the cheek itself; only what has bolts stands on a pack.
                    let pack = if part.bolts.is_empty() { 0.0 } else { PACK };
                    let seat = mouth.bottom() - pack;
                    Rect::from_x_y_ranges(x, seat - depth..=seat)
                }
                Face::Front => {
                    let face = self.along.x(part.near).min(mouth.right() - 6.0);
                    Rect::from_x_y_ranges(
                        face..=mouth.right(),
                        mouth.top() + 2.0..=mouth.bottom() - 2.0,
                    )
                }
            };
            self.fixed.push(PlacedPart { part, rect });
        }
    }

    /// The fixed face a station looks at.
    fn face_of(&self, station: &MouthStation<'_>) -> f32 {
        let parts = self.fixed.iter().filter(|placed| placed.part.face == station.face);
        let off = |placed: &&PlacedPart<'_>| {
            let (near, far) = (placed.part.near, placed.part.far);
            (near - station.from_pivot).max(station.from_pivot - far).max(0.0)
        };
        let nearest = parts.min_by(|a, b| off(a).total_cmp(&off(b)));
        match (station.face, nearest.map(|placed| placed.rect)) {
            (Face::Guide, rect) => rect.map_or(self.mouth.bottom(), |rect| rect.top()),
            (Face::Front, rect) => rect.map_or(self.mouth.right(), |rect| rect.left()),
            (Face::Cutting | Face::Moving, rect) => {
                rect.map_or(self.mouth.top(), |rect| rect.bottom())
            }
        }
    }

    fn place_dots(&mut self, stations: &[MouthStation<'_>], per_gap: f32) {
        self.dots = stations
            .iter()
            .map(|station| {
                let (face, half) = (self.face_of(station), station.gap * per_gap / 2.0);
                let x = self.along.x(station.from_pivot);
                match station.face {
                    Face::Guide => pos2(x, face - half),
                    Face::Front => {
                        let across = station.across.unwrap_or(0.0) * self.per_mm_across;
                        pos2(face - half, self.mouth.bottom() - across)
                    }
                    Face::Cutting | Face::Moving => pos2(x, face + half),
                }
            })
            .collect();
    }

    /// The upper jaw's edge over one fixed part: through the gaps measured there, level beyond.
    fn edge_over(
        &self,
        view: &MouthView<'_>,
        span: [f32; 2],
        face: Face,
        per_gap: f32,
    ) -> Vec<Pos2> {
        let sign = if face == Face::Guide { -1.0 } else { 1.0 };
        let [near, far] = span;
        let inside = |station: &&MouthStation<'_>| {
            station.face == face && near <= station.from_pivot && station.from_pivot <= far
        };
        let mut edge: Vec<Pos2> = view
            .stations
            .iter()
            .filter(inside)
            .map(|s| pos2(self.along.x(s.from_pivot), self.face_of(s) + sign * s.gap * per_gap))
            .collect();
        edge.sort_by(|a, b| a.x.total_cmp(&b.x));
        if let (Some(first), Some(last)) = (edge.first().copied(), edge.last().copied()) {
            edge.insert(0, pos2(self.along.x(near), first.y));
            edge.push(pos2(self.along.x(far), last.y));
        }
        edge
    }

    fn run_edges(&mut self, view: &MouthView<'a>, per_gap: f32) {
        let left = self.outer.left() + 10.0;
        let mut moving: Vec<_> =
            view.parts.iter().filter(|part| part.face == Face::Moving).collect();
        moving.sort_by(|a, b| a.near.total_cmp(&b.near));
        let mut top = Vec::new();
        for part in &moving {
            let edge = self.edge_over(view, [part.near, part.far], Face::Cutting, per_gap);
            let deepest = edge.iter().map(|point| point.y).fold(f32::NEG_INFINITY, f32::max);
            if deepest.is_finite() {
                let depth = (part.depth * self.per_mm_across).min(self.mouth.height() * 0.2);
                let x = self.along.x(part.near)..=self.along.x(part.far);
                let rect = Rect::from_x_y_ranges(x, deepest..=deepest + depth);
                self.moving.push(PlacedPart { part, rect });
            }
            top.extend(edge);
        }
        // Blades of one jaw end on one line at the back.
        let back = self.moving.iter().map(|placed| placed.rect.bottom());
        let back = back.fold(self.mouth.top() + 1.0, f32::max);
        let tip = self.tip_x(view, per_gap);
        for placed in &mut self.moving {
            placed.rect.max.y = back;
            placed.rect.max.x = placed.rect.right().min(tip);
        }

        let mut guide: Vec<[f32; 2]> = self
            .fixed
            .iter()
            .filter(|placed| placed.part.face == Face::Guide)
            .map(|placed| [placed.part.near, placed.part.far])
            .collect();
        guide.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let body = (view.jaw.upper * self.per_mm_across).min(self.mouth.height() * 0.7);
        let mut bottom: Vec<Pos2> = Vec::new();
        for span in guide {
            let edge = self.edge_over(view, span, Face::Guide, per_gap);
            if let (Some(last), Some(first)) = (bottom.last().copied(), edge.first()) {
                // The body runs level, then slopes into the tip.
                bottom.push(pos2((first.x - 26.0).max(last.x), last.y));
            }
            bottom.extend(edge);
        }
        self.upper_top = finish(top, left, tip, back - 40.0);
        self.upper_bottom = finish(bottom, left, tip, back - 40.0 + body);
        if let Some(first) = self.upper_top.first_mut() {
            first.y += 4.0;
            let step = pos2(self.moving.first().map_or(left, |placed| placed.rect.left()), first.y);
            self.upper_top.insert(1, step);
        }
    }

    /// Where the upper jaw ends at its top and its bottom, seen from the front stations.
    fn tip_x(&self, view: &MouthView<'_>, per_gap: f32) -> f32 {
        let front = view.stations.iter().filter(|station| station.face == Face::Front);
        let gaps: Vec<f32> = front.map(|station| station.gap).collect();
        let widest = gaps.iter().copied().fold(0.0, f32::max);
        let face = self.fixed.iter().find(|placed| placed.part.face == Face::Front);
        let face = face.map_or(self.mouth.right(), |placed| placed.rect.left());
        if gaps.is_empty() { face - 8.0 } else { face - widest * per_gap }
    }
}

/// Extends an edge level to both ends; a jaw without stations on this side gets a straight edge.
fn finish(mut edge: Vec<Pos2>, left: f32, right: f32, level: f32) -> Vec<Pos2> {
    let first = edge.first().map_or(level, |point| point.y);
    let last = edge.last().map_or(level, |point| point.y);
    edge.insert(0, pos2(left, first));
    edge.retain(|point| point.x <= right);
    edge.push(pos2(right, last));
    edge
}

/// The height of an edge at `x`, straight between its points.
pub(super) fn height_at(edge: &[Pos2], x: f32) -> f32 {
    let after = edge.iter().position(|point| x <= point.x);
    match after.map(|index| (index.checked_sub(1).and_then(|i| edge.get(i)), edge.get(index))) {
        Some((Some(a), Some(b))) if a.x < b.x => a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x),
        Some((_, Some(point))) => point.y,
        _ => edge.last().map_or(0.0, |point| point.y),
    }
}

#[test]
fn an_edge_is_straight_between_its_points_and_level_beyond() {
    let edge = [pos2(0.0, 4.0), pos2(10.0, 8.0)];
    for (x, y) in [(-5.0, 4.0), (0.0, 4.0), (5.0, 6.0), (10.0, 8.0), (99.0, 8.0)] {
        assert!((height_at(&edge, x) - y).abs() < 1e-4, "at {x}");
    }
}
