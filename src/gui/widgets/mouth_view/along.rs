//! The scale along the jaw: millimetres from the pivot to points across the screen.
//!
//! Knows one straight mapping. Two drawings that use the same one line up under each other.

/// Millimetres from the pivot to points on screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Along {
    /// Where the pivot lies.
    pub pivot_x: f32,
    /// Points per millimetre.
    pub per_mm: f32,
}

/// From the left edge of the drawing to the pivot: room for the jaw's root and for an axis.
const ROOT: f32 = 46.0;
/// From the tip to the right edge: room for the chips of the front stations.
const FRONT: f32 = 84.0;
/// The same in a narrow window, where chips are narrower.
const FRONT_NARROW: f32 = 58.0;
/// Below this width chips are narrow.
pub(super) const NARROW: f32 = 720.0;

impl Along {
    /// The scale for a drawing from `left` to `right` of a jaw of this reach.
    pub fn fit(left: f32, right: f32, reach_mm: f32) -> Self {
        let front = if right - left < NARROW { FRONT_NARROW } else { FRONT };
        let pivot_x = left + ROOT;
        Self { pivot_x, per_mm: ((right - front - pivot_x) / reach_mm.max(1.0)).max(0.01) }
    }

    /// Where a distance from the pivot lies.
    pub fn x(self, from_pivot_mm: f32) -> f32 {
        self.pivot_x + from_pivot_mm * self.per_mm
    }

    /// Which distance from the pivot, in mm, lies at `x`.
    pub fn mm_at(self, x: f32) -> f32 {
        (x - self.pivot_x) / self.per_mm
    }
}

#[test]
fn the_pivot_and_the_tip_land_where_they_should() {
    let along = Along::fit(100.0, 1100.0, 1000.0);
    assert!((along.x(0.0) - 146.0).abs() < 1e-3);
    assert!((along.x(1000.0) - 1016.0).abs() < 1e-3);
}
