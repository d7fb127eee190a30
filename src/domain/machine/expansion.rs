//! How far warm steel opens or closes a gap.
//!
//! A gap is what is left between a row of parts and the frame that holds them. Each part is a
//! link with a length across the gap; when it warms it grows and closes the gap, the frame opens
//! it. If everything is equally warm the links cancel; differences move the gap. Knows
//! coefficients and lengths; does not know why a part is warm.

use crate::domain::quantity::{Length, Temperature};
use std::sync::Arc;

/// The steel of a link, with its growth from 20 °C.
#[derive(Clone, Debug, PartialEq)]
pub enum Material {
    /// Carbon and low-alloy steel by the mean coefficients of ASME BPVC II-D, Table TE-1, group 1
    /// (metric), linear between the tabulated temperatures. Valid from 20 to 600 °C; outside, the
    /// nearest tabulated coefficient is kept.
    CarbonSteelTe1,
    /// Carbon steel by EN 1993-1-2, 3.4.1.1: Δl/l = 1.2e-5·θ + 0.4e-8·θ² − 2.416e-4. Valid from
    /// 20 to 750 °C; below 20 °C the same curve is continued, above 750 °C it is held.
    CarbonSteelEn1993,
    /// A constant mean coefficient, in parts per million and kelvin.
    Constant {
        /// 1e-6 / K.
        ppm_per_k: f64,
    },
    /// A table that somebody copied from a data sheet; links of one steel may share it.
    Table(Arc<MaterialTable>),
}

/// Mean coefficients of one steel from 20 °C, linear between rows; outside, the nearest is kept.
///
/// Invariant: at least one row, temperatures rise, every coefficient between 0 and 60.
#[derive(Clone, Debug, PartialEq)]
pub struct MaterialTable {
    source: String,
    rows: Vec<(f64, f64)>,
}

/// Why rows are no table.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NoTable {
    /// Nothing to go by.
    #[error("a material table has no rows")]
    Empty,
    /// Not in order.
    #[error("the row at {0} °C of a material table does not lie above the one before")]
    Order(f64),
    /// No steel grows like that.
    #[error("a material table has {0} at {1} °C, which no steel has")]
    Value(f64, f64),
}

impl MaterialTable {
    /// A table of temperatures in °C with mean coefficients from 20 °C in 1e-6/K, and its source.
    ///
    /// # Errors
    ///
    /// [`NoTable`] if the invariant does not hold.
    pub fn new(source: String, rows: Vec<(f64, f64)>) -> Result<Self, NoTable> {
        if rows.is_empty() {
            return Err(NoTable::Empty);
        }
        let mut before = f64::NEG_INFINITY;
        for (c, ppm) in &rows {
            if !(c.is_finite() && before < *c) {
                return Err(NoTable::Order(*c));
            }
            if !(0.0..=60.0).contains(ppm) {
                return Err(NoTable::Value(*ppm, *c));
            }
            before = *c;
        }
        Ok(Self { source, rows })
    }

    /// Where it was copied from.
    pub fn source(&self) -> &str {
        &self.source
    }

    /// Temperatures in °C with coefficients in 1e-6/K.
    pub fn rows(&self) -> &[(f64, f64)] {
        &self.rows
    }
}

/// ASME BPVC Section II Part D (metric), Table TE-1, group 1, column B: mean coefficient from
/// 20 °C in 1e-6/K. Read second-hand from a public retyped copy of the table.
const TE1_GROUP_1: [(f64, f64); 20] = [
    (20.0, 11.5),
    (50.0, 11.8),
    (75.0, 11.9),
    (100.0, 12.1),
    (125.0, 12.3),
    (150.0, 12.4),
    (175.0, 12.6),
    (200.0, 12.7),
    (225.0, 12.9),
    (250.0, 13.0),
    (275.0, 13.2),
    (300.0, 13.3),
    (325.0, 13.4),
    (350.0, 13.6),
    (375.0, 13.7),
    (400.0, 13.8),
    (450.0, 14.1),
    (500.0, 14.4),
    (550.0, 14.6),
    (600.0, 14.8),
];

impl Material {
    /// Growth from 20 °C to `at`, as a share of the length at 20 °C; negative when colder.
    pub fn growth(&self, at: Temperature) -> f64 {
        self.growth_at_c(at.c())
    }

    /// [`Self::growth`] for a temperature in °C that is calculated and not read.
    pub fn growth_at_c(&self, c: f64) -> f64 {
        match self {
            Self::CarbonSteelTe1 => mean(&TE1_GROUP_1, c) * 1e-6 * (c - 20.0),
            Self::CarbonSteelEn1993 => {
                let theta = c.min(750.0);
                1.2e-5 * theta + 0.4e-8 * theta * theta - 2.416e-4
            }
            Self::Constant { ppm_per_k } => ppm_per_k * 1e-6 * (c - 20.0),
            Self::Table(table) => mean(&table.rows, c) * 1e-6 * (c - 20.0),
        }
    }
}

/// Linear between the rows; outside, the nearest row.
fn mean(rows: &[(f64, f64)], c: f64) -> f64 {
    let mut below: Option<(f64, f64)> = None;
    for &(at, ppm) in rows {
        if c < at {
            return below
                .map_or(ppm, |(from, first)| first + (c - from) / (at - from) * (ppm - first));
        }
        below = Some((at, ppm));
    }
    below.map_or(0.0, |(_, ppm)| ppm)
}

/// Which temperature a link follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Follows {
    /// The moving blade or tip.
    Moving,
    /// The fixed blade, guide blade or pad.
    Fixed,
    /// The body of the upper jaw.
    UpperJaw,
    /// The body of the lower jaw.
    LowerJaw,
}

/// One part of a chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// What it is, such as "tip".
    pub name: String,
    /// Its length across the gap.
    pub length: Length,
    /// Whether its growth opens the gap (the frame) or closes it (what stands in the frame).
    pub opens: bool,
    /// Its steel.
    pub material: Material,
    /// Whose temperature it has.
    pub follows: Follows,
}

/// The temperatures a chain needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PartTemperatures {
    /// Of the moving blade or tip.
    pub moving: Temperature,
    /// Of the fixed blade.
    pub fixed: Temperature,
    /// Of the upper jaw.
    pub upper_jaw: Temperature,
    /// Of the lower jaw.
    pub lower_jaw: Temperature,
}

impl PartTemperatures {
    /// Everything equally warm.
    pub const fn even(at: Temperature) -> Self {
        Self { moving: at, fixed: at, upper_jaw: at, lower_jaw: at }
    }

    const fn of(&self, part: Follows) -> Temperature {
        match part {
            Follows::Moving => self.moving,
            Follows::Fixed => self.fixed,
            Follows::UpperJaw => self.upper_jaw,
            Follows::LowerJaw => self.lower_jaw,
        }
    }
}

/// The parts across one gap, in any order. Empty: temperature does not move this gap.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chain(pub Vec<Link>);

impl Chain {
    /// How much wider the gap is at these temperatures than with everything at 20 °C, in mm.
    ///
    /// Σ sᵢ·Lᵢ·(growth of the link's steel from 20 °C to its temperature), s = +1 for a link that
    /// opens. Assumes each link has one temperature throughout and is free to grow; stops being
    /// valid when faces touch and push each other. Negative: the gap is closer when warm.
    pub fn opening_mm(&self, temperatures: &PartTemperatures) -> f64 {
        self.0
            .iter()
            .map(|link| {
                let grown = link.length.mm() * link.material.growth(temperatures.of(link.follows));
                if link.opens { grown } else { -grown }
            })
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(value: f64, expected: f64, tolerance: f64) {
        assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
    }

    fn at(c: i32) -> Temperature {
        Temperature::from_whole_c(c)
    }

    /// EN 1993-1-2, 3.4.1.1: elongation table recomputed from the formula, which three public
    /// implementations share.
    #[test]
    fn elongation_follows_en_1993_1_2() {
        for (c, per_mille) in
            [(20, 0.0), (50, 0.3684), (100, 0.9984), (200, 2.3184), (300, 3.7184), (500, 6.7584)]
        {
            close(Material::CarbonSteelEn1993.growth(at(c)), per_mille * 1e-3, 1e-12);
        }
    }

    /// ASME II-D TE-1 group 1: growth in mm per metre from the mean coefficients.
    #[test]
    fn growth_follows_asme_te_1() {
        for (c, mm_per_m) in [(50, 0.354), (100, 0.968), (150, 1.612), (300, 3.724), (500, 6.912)] {
            close(Material::CarbonSteelTe1.growth(at(c)) * 1000.0, mm_per_m, 1e-9);
        }
    }

    /// A data sheet for a hot-work tool steel: mean from 20 °C, 10.4 to 93 °C and 11.3 to 204 °C.
    #[test]
    fn a_table_from_a_data_sheet_is_read_between_its_rows() {
        let table = |rows: &[(f64, f64)]| MaterialTable::new("data sheet".into(), rows.to_vec());
        let steel = Material::Table(Arc::new(table(&[(93.0, 10.4), (204.0, 11.3)]).unwrap()));
        close(steel.growth(at(93)) * 1e6, 10.4 * 73.0, 1e-9);
        close(steel.growth(at(50)) * 1e6, 10.4 * 30.0, 1e-9);
        close(steel.growth_at_c(148.5) * 1e6, 10.85 * 128.5, 1e-9);
        close(steel.growth(at(300)) * 1e6, 11.3 * 280.0, 1e-9);
        assert_eq!(table(&[]), Err(NoTable::Empty));
        assert_eq!(table(&[(93.0, 10.4), (93.0, 11.0)]), Err(NoTable::Order(93.0)));
        assert_eq!(table(&[(93.0, -1.0)]), Err(NoTable::Value(-1.0, 93.0)));
        assert!(table(&[(f64::NAN, 11.0)]).is_err());
    }

    /// Bhandari, Design of Machine Elements, example 4.22: a 200 mm steel bar warmed from 25 to
    /// 250 °C with 10.8e-6/K grows 0.486 mm; a gap of 0.15 mm ends 0.336 mm overfull.
    #[test]
    fn a_warm_bar_closes_its_gap_as_in_the_handbook() {
        let bar = Chain(vec![Link {
            name: "bar".into(),
            length: Length::from_um(200_000),
            opens: false,
            material: Material::Constant { ppm_per_k: 10.8 },
            follows: Follows::Moving,
        }]);
        let opening = |c| bar.opening_mm(&PartTemperatures::even(at(c)));
        let change = opening(250) - opening(25);
        close(change, -0.486, 1e-9);
        close(0.15 + change, -0.336, 1e-9);
    }

    #[test]
    fn an_evenly_warm_balanced_chain_does_not_move() {
        let link = |length_mm: i64, opens, follows| Link {
            name: String::new(),
            length: Length::from_um(length_mm * 1000),
            opens,
            material: Material::CarbonSteelTe1,
            follows,
        };
        let chain = Chain(vec![
            link(105, true, Follows::LowerJaw),
            link(50, false, Follows::Fixed),
            link(55, false, Follows::Moving),
        ]);
        close(chain.opening_mm(&PartTemperatures::even(at(180))), 0.0, 1e-12);
        let mut hot_tip = PartTemperatures::even(at(60));
        hot_tip.moving = at(200);
        assert!(chain.opening_mm(&hot_tip) < -0.05, "a hot tip in a cool jaw closes the gap");
    }
}
