//! Force along the jaw: what can be cut where.

use crate::domain::quantity::Length;

/// A double-acting cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    /// Bore.
    pub bore: Length,
    /// Rod.
    pub rod: Length,
    /// Pressure, in bar.
    pub pressure_bar: f64,
}

impl Cylinder {
    /// Force pushing out, in N: p·πD²/4.
    pub fn pushing_n(&self) -> f64 {
        self.pressure_bar * 0.1 * area_mm2(self.bore)
    }

    /// Force pulling in, in N: p·π(D² − d²)/4.
    pub fn pulling_n(&self) -> f64 {
        self.pressure_bar * 0.1 * (area_mm2(self.bore) - area_mm2(self.rod))
    }

    /// Bore area over ring area, φ = D²/(D² − d²): pulling is weaker than pushing by this factor.
    pub fn ratio(&self) -> f64 {
        area_mm2(self.bore) / (area_mm2(self.bore) - area_mm2(self.rod))
    }
}

fn area_mm2(diameter: Length) -> f64 {
    std::f64::consts::PI / 4.0 * diameter.mm() * diameter.mm()
}

/// The jaw's lever: a cylinder on an arm about the pivot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ForceAlong {
    /// The cylinder that closes the jaw by pushing.
    pub cylinder: Cylinder,
    /// Its lever arm about the pivot at the jaw angle in question.
    pub arm: Length,
}

/// What is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// Shear strength, in N/mm²: about 0.7 of the tensile strength.
    pub shear_n_per_mm2: f64,
    /// Length cut at once, in mm: the width of a plate as far as the blades reach.
    pub cut_mm: f64,
}

impl ForceAlong {
    /// Closing force at a distance from the pivot, in N; infinite leverage at the pivot is refused
    /// by taking at least a tenth of the arm.
    pub fn closing_n(&self, at: Length) -> f64 {
        self.cylinder.pushing_n() * self.leverage(at)
    }

    /// Opening force at that distance, in N, by the rod side.
    pub fn opening_n(&self, at: Length) -> f64 {
        self.cylinder.pulling_n() * self.leverage(at)
    }

    fn leverage(&self, at: Length) -> f64 {
        self.arm.mm() / at.mm().max(0.1 * self.arm.mm())
    }

    /// The thickest plate that can be cut there, in mm, by F = τ·L·t.
    pub fn thickest_plate_mm(&self, at: Length, stock: &Stock) -> f64 {
        self.closing_n(at) / (stock.shear_n_per_mm2 * stock.cut_mm)
    }

    /// The thickest round bar, as its diameter in mm, by F = τ·πd²/4.
    pub fn thickest_bar_mm(&self, at: Length, stock: &Stock) -> f64 {
        (4.0 * self.closing_n(at) / (std::f64::consts::PI * stock.shear_n_per_mm2)).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// D = 200, d = 140, 350 bar: 1 099.56 kN out, 560.77 kN in, φ = 1.96078 (recomputed).
    #[test]
    fn a_cylinder_pulls_with_about_half_of_what_it_pushes() {
        let cylinder = Cylinder {
            bore: Length::from_um(200_000),
            rod: Length::from_um(140_000),
            pressure_bar: 350.0,
        };
        assert!((cylinder.pushing_n() / 1_099_557.4 - 1.0).abs() < 1e-6);
        assert!((cylinder.pulling_n() / 560_774.3 - 1.0).abs() < 1e-6);
        assert!((cylinder.ratio() - 1.960_78).abs() < 1e-5);
    }

    /// Esposito, Fluid Power with Applications, example 6-1: bore 2 in, rod 1 in, 1000 lbf both
    /// ways: 318 psi out and 425 psi in, as printed (318.31 and 424.41 exactly).
    #[test]
    fn pressure_for_a_load_as_in_the_handbook() {
        let psi = 6_894.757_293_168_361 / 1e5; // bar
        let at = |pressure_bar| Cylinder {
            bore: Length::from_nm(50_800_000),
            rod: Length::from_nm(25_400_000),
            pressure_bar,
        };
        let lbf = 4.448_221_615_260_5;
        assert!((at(318.31 * psi).pushing_n() / (1_000.0 * lbf) - 1.0).abs() < 1e-4);
        assert!((at(424.41 * psi).pulling_n() / (1_000.0 * lbf) - 1.0).abs() < 1e-4);
    }

    /// Sharma, Production Engineering, example 2.4: 110 mm × 1.5 mm at 450 N/mm² takes 74.25 kN.
    #[test]
    fn a_plate_takes_shear_strength_times_length_times_thickness() {
        let jaw = ForceAlong {
            cylinder: Cylinder {
                bore: Length::from_um(200_000),
                rod: Length::from_um(140_000),
                pressure_bar: 350.0,
            },
            arm: Length::from_um(600_000),
        };
        let stock = Stock { shear_n_per_mm2: 450.0, cut_mm: 110.0 };
        let at = Length::from_um(900_000);
        let thickest = jaw.thickest_plate_mm(at, &stock);
        assert!((jaw.closing_n(at) / (74_250.0 * thickest / 1.5) - 1.0).abs() < 1e-12);
        let deep = jaw.thickest_plate_mm(Length::from_um(300_000), &stock);
        assert!((deep / thickest - 3.0).abs() < 1e-12, "thick stock belongs deep in the throat");
    }

    /// Kalpakjian, Manufacturing Processes, example 16.1: a hole of 1 in through 1/8 in at 0.7 of
    /// 140 000 psi takes 0.171 MN. Esposito, example 9-1: 1000 psi on a ring of 18 in² pulls with
    /// 18 000 lbf; bore 25 in², rod 7 in².
    #[test]
    fn a_jaw_with_that_force_cuts_that_plate() {
        let psi = 6_894.757_293_168_361;
        let diameter = |square_inches: f64| {
            Length::from_mm((4.0 * square_inches / std::f64::consts::PI).sqrt() * 25.4).unwrap()
        };
        let cylinder = Cylinder {
            bore: diameter(25.0),
            rod: diameter(7.0),
            pressure_bar: 1_000.0 * psi / 1e5,
        };
        let lbf = 4.448_221_615_260_5;
        assert!((cylinder.pulling_n() / (18_000.0 * lbf) - 1.0).abs() < 1e-6);
        let arm = Length::from_um(100_000);
        let jaw = ForceAlong { cylinder, arm };
        let stock = Stock {
            shear_n_per_mm2: 0.7 * 140_000.0 * psi / 1e6,
            cut_mm: std::f64::consts::PI * 25.4,
        };
        // Where the jaw closes with the 171 188 N of the example, 1/8 in is the thickest.
        let at = Length::from_mm(arm.mm() * cylinder.pushing_n() / 171_188.0).unwrap();
        assert!((jaw.thickest_plate_mm(at, &stock) / 3.175 - 1.0).abs() < 1e-4);
    }
}
