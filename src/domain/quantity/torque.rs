//! Tightening torque.

use crate::domain::quantity::decimal;

/// A torque in whole thousandths of a newton metre.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Torque(i64);

/// 1 lbf·ft = 0.3048 m × 0.45359237 kg × 9.80665 m/s², exact by definition of the foot, the pound
/// and standard gravity.
pub(crate) const NM_PER_LBF_FT: f64 = 0.3048 * 0.453_592_37 * 9.806_65;

impl Torque {
    /// From newton metres, rounded to the nearest thousandth.
    ///
    /// `None` for NaN, infinities and negative values.
    pub fn from_newton_metres(value: f64) -> Option<Self> {
        decimal::whole(value * 1e3).filter(|whole| 0 <= *whole).map(Self)
    }

    /// In newton metres.
    pub fn newton_metres(self) -> f64 {
        decimal::float(self.0) / 1e3
    }

    /// In pound-force feet.
    pub fn lbf_ft(self) -> f64 {
        self.newton_metres() / NM_PER_LBF_FT
    }
}

#[test]
fn torque_converts_by_definition() {
    // 1 lbf·ft = 1.3558179483314004 N·m (exact rational product of the three definitions).
    assert!((NM_PER_LBF_FT / 1.355_817_948_331_400_4 - 1.0).abs() < 1e-14);
    assert_eq!(Torque::from_newton_metres(-1.0), None);
    assert_eq!(Torque::from_newton_metres(640.0).map(Torque::newton_metres), Some(640.0));
}
