//! Blades, their edges, their bolts and the rules for the pack behind them.

use crate::domain::quantity::{Hours, Length, Torque};
use std::fmt;

/// The most cutting edges a blade can have: a square section has four corners.
pub const EDGES_MOST: u8 = 4;

/// The name of a blade inside its shear's file, such as `lower-secondary`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BladeId(pub String);

impl fmt::Display for BladeId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Where a blade sits in the mouth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// On the upper, moving jaw.
    Moving,
    /// On the lower jaw, the cheek the steel is cut against.
    Cutting,
    /// On the lower jaw, the cheek that keeps the upper jaw from leaning away.
    Guide,
    /// Across the tip of the lower jaw.
    Front,
}

/// One exchangeable part: a blade, a tip, a guide blade or a guide pad.
#[derive(Clone, Debug, PartialEq)]
pub struct Blade {
    /// Its name in the file.
    pub id: BladeId,
    /// What a mechanic calls it, such as "lower secondary blade".
    pub name: String,
    /// Where it sits.
    pub side: Side,
    /// Distance from the pivot to its near end.
    pub near: Length,
    /// Distance from the pivot to its far end.
    pub far: Length,
    /// How deep it is across the jaw, from seat to face.
    pub depth: Length,
    /// How many usable cutting edges it has, 1 to [`EDGES_MOST`].
    pub edges: u8,
    /// Hours after which an edge is called dull.
    pub hours_per_edge: Hours,
    /// How its bolts stand and are tightened; `None` for a part that is welded or pinned.
    pub bolts: Option<Bolts>,
    /// What may be put behind it; `None` if it cannot be shimmed.
    pub pack: Option<PackRules>,
    /// Angle between the direction a shim moves the blade and the gap, in degrees, 0 to 60.
    pub face_angle_deg: f64,
    /// How far it may wear.
    pub wear: WearLimits,
}

impl Blade {
    /// Whether the two can change places: as long, as deep, as many edges and as many bolts.
    pub fn fits_in_place_of(&self, other: &Self) -> bool {
        let bolts = |it: &Self| it.bolts.as_ref().map(|bolts| bolts.from_pivot.len());
        let shape = |it: &Self| (it.far - it.near, it.depth, it.edges, bolts(it));
        self.id != other.id && shape(self) == shape(other)
    }
}

/// How far a blade may wear, as the machine's manual says; nothing where nobody wrote it down.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct WearLimits {
    /// The largest radius of a cutting edge.
    pub edge_radius_max: Option<Length>,
    /// The smallest thickness of the blade.
    pub thickness_min: Option<Length>,
    /// The largest gap between the worn tip and its template.
    pub tip_wear_max: Option<Length>,
}

/// The bolts of one blade.
#[derive(Clone, Debug, PartialEq)]
pub struct Bolts {
    /// Distance of each bolt from the pivot, counted from the pivot outward.
    pub from_pivot: Vec<Length>,
    /// Size and pitch as stamped, such as `M24`.
    pub size: String,
    /// Strength class, such as `10.9`.
    pub grade: String,
    /// Final torque from the machine's manual.
    pub torque: Option<Torque>,
    /// First pass, before the final torque.
    pub first_torque: Option<Torque>,
}

/// What may stand behind a blade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PackRules {
    /// The most shims in one pack.
    pub most_shims: u8,
    /// The thickest pack.
    pub thickest: Length,
    /// The most by which packs at neighbouring bolts may differ; `None` for a blade that only
    /// takes shims over its full length. It belongs in the machine's manual: a blade bedded on too
    /// large a step cracks.
    pub step: Option<Length>,
}

/// The order in which `count` bolts are tightened, as places counted from zero at the pivot end.
///
/// From the middle outward, crossing sides, so that the blade beds from its centre and no bow is
/// trapped. Common practice, no published source.
pub fn tightening_order(count: usize) -> Vec<usize> {
    let middle = count.saturating_sub(1) / 2;
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by_key(|&place| (middle.abs_diff(place), place < middle));
    order
}

#[test]
fn bolts_are_tightened_from_the_middle_outward() {
    assert_eq!(tightening_order(0), Vec::<usize>::new());
    assert_eq!(tightening_order(1), [0]);
    assert_eq!(tightening_order(4), [1, 2, 0, 3]);
    assert_eq!(tightening_order(5), [2, 3, 1, 4, 0]);
}
