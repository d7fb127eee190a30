//! A reading referred to 20 °C.
//!
//! g20 = g − Σ sᵢ·Lᵢ·growthᵢ(Tᵢ). Gaps are compared at 20 °C everywhere (ISO 1), because a gap
//! felt between warm blades is smaller than the same gap next morning. Where nobody took the
//! jaws' temperature it is assumed halfway between air and blade, and the width of that guess goes
//! into the uncertainty.

use crate::domain::{
    gauge::{Bracket, LeafSet},
    log::Observed,
    machine::{Line, PartTemperatures},
    quantity::{Length, Temperature, TemperatureRise},
};

/// A reading at 20 °C with what was assumed on the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cold {
    /// The gap at 20 °C.
    pub bracket: Bracket,
    /// By how much the reading was moved; zero when nothing was warm.
    pub shift: Length,
    /// The blades' temperature used, `None` if nobody took it and 20 °C was taken.
    pub blade_temp: Option<Temperature>,
    /// The jaws' temperature used.
    pub jaw_temp: Temperature,
    /// Whether the jaws' temperature was assumed rather than taken.
    pub jaw_assumed: bool,
    /// Standard uncertainty of the gap at 20 °C in mm; `None` while the bracket is open.
    pub u_mm: Option<f64>,
}

impl Cold {
    /// Its uncertainty without the place in the bracket: leaves and temperatures.
    pub fn u_beside_place_mm(&self) -> Option<f64> {
        let width = (self.bracket.no_go()? - self.bracket.go()).mm();
        Some((self.u_mm?.powi(2) - width * width / 12.0).max(0.0).sqrt())
    }
}

/// Half-width of the usual expansion coefficient: 10 % (design value; published coefficients of
/// blade steels differ by about as much).
const ALPHA_SHARE: f64 = 0.10;
/// Half-width of a contact thermometer's reading on a blade, in kelvin. From memory, not published.
const THERMOMETER_K: f64 = 2.0;

/// Refers a reading to 20 °C.
///
/// Terms of the uncertainty (GUM, JCGM 100, type B): place in the bracket (b − a)²/12; leaf
/// tolerances, fully correlated inside one set, t²/3; expansion coefficient, thermometer and the
/// assumed jaw temperature as rectangular half-widths.
pub fn cold(line: &Line, observed: &Observed, leaves: Option<&LeafSet>) -> Cold {
    let air = observed.air_temp.unwrap_or(Temperature::REFERENCE);
    let blade = observed.blade_temp.unwrap_or(Temperature::REFERENCE);
    let assumed = observed.jaw_temp.is_none();
    let jaw = observed.jaw_temp.unwrap_or_else(|| match observed.blade_temp {
        Some(blade) => blade.midway(air),
        None => Temperature::REFERENCE,
    });
    let opening = |blade, jaw| {
        line.chain.opening_mm(&PartTemperatures {
            moving: blade,
            fixed: blade,
            upper_jaw: jaw,
            lower_jaw: jaw,
        })
    };
    let shift_mm = -opening(blade, jaw);
    let shift = Length::from_mm(shift_mm).unwrap_or(Length::ZERO);
    let warmer = TemperatureRise::from_k(THERMOMETER_K).map_or(blade, |by| blade + by);
    let thermometer = opening(warmer, jaw) - opening(blade, jaw);
    let guess = if assumed && observed.blade_temp.is_some() {
        (opening(blade, blade) - opening(blade, air)) / 2.0
    } else {
        0.0
    };
    let taken = f64::from(u8::from(observed.blade_temp.is_some()));
    let temperature = [ALPHA_SHARE * shift_mm, thermometer * taken, guess];
    let bracket = observed.bracket;
    let u_mm = bracket.no_go().map(|no_go| {
        let width = (no_go - bracket.go()).mm();
        let leaf = leaf_tolerance_mm(bracket, leaves);
        let half_widths: f64 = temperature.iter().map(|half| half * half).sum();
        (width * width / 12.0 + (leaf * leaf + half_widths) / 3.0).sqrt()
    });
    Cold {
        bracket: bracket.shifted(shift),
        shift,
        blade_temp: observed.blade_temp,
        jaw_temp: jaw,
        jaw_assumed: assumed,
        u_mm,
    }
}

/// The tolerance of the bracket's middle: half the sum over both stacks, because leaves of one set
/// err together. A stack the set cannot make counts with the set's widest tolerance.
fn leaf_tolerance_mm(bracket: Bracket, leaves: Option<&LeafSet>) -> f64 {
    let Some(set) = leaves else { return 0.0 };
    let Some(no_go) = bracket.no_go().filter(|no_go| bracket.go() < *no_go) else { return 0.0 };
    f64::midpoint(set.stack_tolerance(bracket.go()).mm(), set.stack_tolerance(no_go).mm())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        log::SessionId,
        machine::{Band, BladeId, Chain, Follows, Limits, LineId, Link, Material, Toward},
        quantity::Hours,
    };

    fn line() -> Line {
        let link = |mm: i64, opens, follows| Link {
            name: String::new(),
            length: Length::from_um(mm * 1_000),
            opens,
            material: Material::Constant { ppm_per_k: 12.0 },
            follows,
        };
        Line {
            id: LineId::T,
            place: "tip".into(),
            moving: BladeId("tip".into()),
            fixed: BladeId("plate".into()),
            toward: Toward::Cutting,
            stations: vec![],
            position: 0,
            limits: Limits::new(
                Band::from_um(300, 500),
                Band::from_um(200, 1_250),
                Band::from_um(100, 1_600),
                Length::ZERO,
                Length::ZERO,
                String::new(),
            )
            .unwrap(),
            chain: Chain(vec![
                link(100, true, Follows::LowerJaw),
                link(50, false, Follows::Fixed),
                link(50, false, Follows::Moving),
            ]),
            working: PartTemperatures::even(Temperature::REFERENCE),
        }
    }

    fn observed(blade_c: Option<i32>, jaw_c: Option<i32>) -> Observed {
        Observed {
            taken: chrono::DateTime::UNIX_EPOCH,
            at: Hours::ZERO,
            meter: Hours::ZERO,
            bracket: Bracket::new(Length::from_um(550), Some(Length::from_um(600))).unwrap(),
            blade_temp: blade_c.map(Temperature::from_whole_c),
            jaw_temp: jaw_c.map(Temperature::from_whole_c),
            air_temp: None,
            session: SessionId::parse("x").unwrap(),
        }
    }

    /// 100 mm of blades 30 K above the frame, 12e-6/K: 0.036 mm.
    #[test]
    fn warm_blades_in_a_cool_jaw_hide_part_of_the_gap() {
        let it = cold(&line(), &observed(Some(50), Some(20)), None);
        assert_eq!(it.shift, Length::from_um(36));
        assert_eq!(it.bracket.go(), Length::from_um(586));
        assert!(!it.jaw_assumed);
        let even = cold(&line(), &observed(Some(50), Some(50)), None);
        assert_eq!(even.shift, Length::ZERO, "everything equally warm changes nothing");
    }

    #[test]
    fn an_assumed_jaw_temperature_is_said_and_widens_the_uncertainty() {
        let taken = cold(&line(), &observed(Some(50), Some(35)), None);
        let assumed = cold(&line(), &observed(Some(50), None), None);
        assert_eq!(assumed.jaw_temp, Temperature::from_whole_c(35));
        assert!(assumed.jaw_assumed);
        assert_eq!(assumed.shift, taken.shift);
        assert!(taken.u_mm.unwrap() < assumed.u_mm.unwrap());
        let bare = cold(&line(), &observed(None, None), None);
        let expected = 0.05 / 12.0_f64.sqrt();
        assert!((bare.u_mm.unwrap() - expected).abs() < 1e-12, "only the bracket is left");
    }
}
