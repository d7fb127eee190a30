//! Leaf sets as shops sell them.
//!
//! Thicknesses are the customary ones. Tolerances are demonstration values, as a careful maker
//! would allow them: the calibration sheet of the set in the toolbox goes before them.

use crate::domain::{
    gauge::{Leaf, LeafSet},
    quantity::Length,
};

/// A usual set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Usual {
    /// Ten leaves from 0.05 to 1.00 mm: a pocket set.
    MetricTen,
    /// Twenty leaves from 0.05 to 1.00 mm, evenly.
    MetricTwenty,
    /// Twenty-six leaves from 0.03 to 1.00 mm, finer at the thin end.
    MetricTwentySix,
    /// Ten leaves from 2 to 40 thousandths of an inch.
    InchTen,
    /// Twenty leaves from 1.5 to 40 thousandths of an inch.
    InchTwenty,
}

/// Thousandths of an inch in halves, so that they are whole.
const HALF_THOU_NM: i64 = 12_700;

impl Usual {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::MetricTen,
        Self::MetricTwenty,
        Self::MetricTwentySix,
        Self::InchTen,
        Self::InchTwenty,
    ];

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::MetricTen => "Metric, ten leaves",
            Self::MetricTwenty => "Metric, twenty leaves",
            Self::MetricTwentySix => "Metric, twenty-six leaves",
            Self::InchTen => "Inch, ten leaves",
            Self::InchTwenty => "Inch, twenty leaves",
        }
    }

    /// The set, as new.
    pub fn set(self) -> Option<LeafSet> {
        let leaves = match self {
            Self::MetricTen => metric(&[50, 100, 150, 200, 250, 300, 400, 500, 750, 1_000]),
            Self::MetricTwenty => metric(&evenly(50, 20)),
            Self::MetricTwentySix => {
                let thin = [30, 40, 50, 60, 70, 80, 90];
                metric(&[&thin[..], &evenly(100, 19)].concat())
            }
            Self::InchTen => inch(&[4, 8, 12, 16, 20, 24, 32, 40, 60, 80]),
            Self::InchTwenty => {
                inch(&[3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 24, 28, 32, 36, 40, 50, 60, 70, 80])
            }
        };
        LeafSet::new(self.name().to_owned(), leaves)
    }
}

/// `count` thicknesses in steps of 0.05 mm.
fn evenly(from_um: i64, count: usize) -> Vec<i64> {
    (0..).map(|step| from_um + 50 * step).take(count).collect()
}

/// Leaves in micrometres; thicker ones are allowed more.
fn metric(thicknesses: &[i64]) -> Vec<Leaf> {
    let allowed = |um: i64| match um {
        ..=100 => 3,
        101..=200 => 4,
        201..=300 => 5,
        301..=500 => 6,
        501..=750 => 8,
        _ => 10,
    };
    let leaf = |um: &i64| Leaf {
        thickness: Length::from_um(*um),
        tolerance: Length::from_um(allowed(*um)),
        measured: None,
    };
    thicknesses.iter().map(leaf).collect()
}

/// Leaves in halves of a thousandth of an inch, ± 0.2 thousandths each.
fn inch(halves: &[i64]) -> Vec<Leaf> {
    let leaf = |half: &i64| Leaf {
        thickness: Length::from_nm(half * HALF_THOU_NM),
        tolerance: Length::from_nm(HALF_THOU_NM * 2 / 5),
        measured: None,
    };
    halves.iter().map(leaf).collect()
}

#[test]
fn usual_sets_are_sets_and_the_finest_makes_2_951_stacks() {
    for usual in Usual::ALL {
        let set = usual.set().unwrap();
        assert_eq!(set.name(), usual.name());
        assert!(set.leaves().iter().all(|leaf| leaf.tolerance < leaf.thickness), "{usual:?}");
    }
    let count = |usual: Usual| usual.set().unwrap().leaves().len();
    assert_eq!(Usual::ALL.map(count), [10, 20, 26, 10, 20]);
    let thinnest = |usual: Usual| usual.set().unwrap().leaves()[0].thickness;
    assert_eq!(thinnest(Usual::InchTwenty), Length::from_nm(38_100), "0.0015 in");
}
