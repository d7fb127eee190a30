//! How far a wedged tip spreads the lower jaw.

use crate::domain::quantity::Length;

/// The two cheeks of the lower jaw at the tip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cheeks {
    /// Stiffness of the cutting cheek at the tip, in N/mm; above zero.
    pub cutting_n_per_mm: f64,
    /// Stiffness of the guide cheek at the tip, in N/mm; above zero.
    pub guide_n_per_mm: f64,
    /// Distance of the tip from the pivot.
    pub tip: Length,
}

/// How far the cutting cheek moves at a place, in mm, for the tip's two hot gaps.
///
/// Both gaps closed means the tip is wedged: what it overlaps is shared between the cheeks by their
/// stiffness, and the cutting cheek bends like a cantilever loaded at its end, ξ²(3 − ξ)/2 with ξ
/// the distance as a share of the tip's. P and S open by that; it is elastic, and what stays when
/// cold is a bend.
pub fn spread(cheeks: &Cheeks, cutting_hot_mm: f64, guide_hot_mm: f64, at: Length) -> f64 {
    let overlap = (-(cutting_hot_mm + guide_hot_mm)).max(0.0);
    let sum = cheeks.cutting_n_per_mm + cheeks.guide_n_per_mm;
    if !(0.0 < sum && 0.0 < cheeks.tip.mm()) {
        return 0.0;
    }
    let at_tip = overlap * cheeks.guide_n_per_mm / sum;
    let xi = (at.mm() / cheeks.tip.mm()).clamp(0.0, 1.0);
    at_tip * xi * xi * (3.0 - xi) / 2.0
}

#[test]
fn a_wedged_tip_opens_the_outer_blades_most() {
    let cheeks =
        Cheeks { cutting_n_per_mm: 4e5, guide_n_per_mm: 4e5, tip: Length::from_um(1_200_000) };
    let at = |mm: i64| spread(&cheeks, -0.1, -0.3, Length::from_um(mm * 1_000));
    assert!((at(1_200) - 0.2).abs() < 1e-12, "half of the overlap of 0.4 mm");
    assert!((at(600) - 0.2 * 0.25 * 2.5 / 2.0).abs() < 1e-12);
    assert!(at(300) < at(600) && at(600) < at(1_000));
    let open = spread(&cheeks, 0.1, 0.3, Length::from_um(600_000));
    assert!(open.abs() < 1e-12, "an open slot spreads nothing");
}
