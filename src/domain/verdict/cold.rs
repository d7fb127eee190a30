//! A reading referred to 20 °C.
//!
//! g20 = g − Σ sᵢ·Lᵢ·growthᵢ(Tᵢ). Gaps are compared at 20 °C everywhere (ISO 1), because a gap
//! felt between warm blades is smaller than the same gap next morning. Where nobody took the
//! jaws' temperature it is assumed halfway between air and blade, and the width of that guess goes
//! into the uncertainty.

use crate::domain::{
    gauge::{Bracket, Hand, Kit, ReadingBudget, Warmth},
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
    /// What makes the gap at 20 °C uncertain, term by term.
    pub budget: ReadingBudget,
}

impl Cold {
    /// A reading taken with everything at 20 °C, by stacks of these tolerances in mm.
    pub fn taken_cold(felt: Bracket, stacks_mm: [f64; 2], hand: Hand) -> Self {
        Self {
            bracket: felt,
            shift: Length::ZERO,
            blade_temp: Some(Temperature::REFERENCE),
            jaw_temp: Temperature::REFERENCE,
            jaw_assumed: false,
            budget: ReadingBudget::new(felt, stacks_mm, hand, Warmth::default()),
        }
    }

    /// Its uncertainty without the place in the bracket: leaves, hand and temperatures.
    pub fn u_beside_place_mm(&self) -> Option<f64> {
        self.bracket.is_closed().then(|| self.budget.blur_mm())
    }

    /// Standard uncertainty of the gap at 20 °C in mm; `None` while the bracket is open.
    pub fn u_mm(&self) -> Option<f64> {
        self.budget.u_mm()
    }
}

/// Refers a reading to 20 °C.
pub fn cold(line: &Line, observed: &Observed, kit: Kit<'_>) -> Cold {
    let air = observed.air_temp.unwrap_or(Temperature::REFERENCE);
    // Blades that nobody touched are as warm as the jaws around them, if somebody took those.
    let blade = observed.blade_temp.or(observed.jaw_temp).unwrap_or(Temperature::REFERENCE);
    let blade_assumed = observed.blade_temp.is_none() && observed.jaw_temp.is_some();
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
    let here = opening(blade, jaw);
    let shift_mm = -here;
    let shift = Length::from_mm(shift_mm).unwrap_or(Length::ZERO);
    let warmer = |than: Temperature| than + TemperatureRise::KELVIN;
    let assumed_mm = if assumed && observed.blade_temp.is_some() {
        (opening(blade, blade) - opening(blade, air)) / 2.0
    } else if blade_assumed {
        // As far from the jaws as those are from 20 °C, either way.
        (opening(jaw, jaw) - opening(Temperature::REFERENCE, jaw)).abs()
    } else {
        0.0
    };
    let warmth = Warmth {
        shift_mm,
        blade_mm_per_k: observed.blade_temp.map(|it| here - opening(warmer(it), jaw)),
        jaw_mm_per_k: observed.jaw_temp.map(|it| here - opening(blade, warmer(it))),
        assumed_mm,
        blade_assumed,
    };
    let felt = observed.bracket;
    Cold {
        bracket: felt.shifted(shift),
        shift,
        blade_temp: observed.blade_temp,
        jaw_temp: jaw,
        jaw_assumed: assumed,
        budget: ReadingBudget::new(felt, kit.stacks_mm(felt), kit.scatter(), warmth),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        gauge::Term,
        log::{Counters, SessionId},
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
            leaves: None,
            session: SessionId::parse("x").unwrap(),
            counters: Counters::default(),
            set_aside: None,
        }
    }

    /// 100 mm of blades 30 K above the frame, 12e-6/K: 0.036 mm.
    #[test]
    fn warm_blades_in_a_cool_jaw_hide_part_of_the_gap() {
        let it = cold(&line(), &observed(Some(50), Some(20)), Kit::default());
        assert_eq!(it.shift, Length::from_um(36));
        assert_eq!(it.bracket.go(), Length::from_um(586));
        assert!(!it.jaw_assumed);
        let even = cold(&line(), &observed(Some(50), Some(50)), Kit::default());
        assert_eq!(even.shift, Length::ZERO, "everything equally warm changes nothing");
    }

    #[test]
    fn an_assumed_jaw_temperature_is_said_and_widens_the_uncertainty() {
        let taken = cold(&line(), &observed(Some(50), Some(35)), Kit::default());
        let assumed = cold(&line(), &observed(Some(50), None), Kit::default());
        assert_eq!(assumed.jaw_temp, Temperature::from_whole_c(35));
        assert!(assumed.jaw_assumed);
        assert_eq!(assumed.shift, taken.shift);
        assert!(taken.u_mm() < assumed.u_mm());
        let jaws = cold(&line(), &observed(None, Some(40)), Kit::default());
        assert_eq!((jaws.shift, jaws.jaw_assumed), (Length::ZERO, false), "blades like the jaws");
        let (terms, half_mm) = (jaws.budget.terms(), 100.0 * 12e-6 * 20.0);
        let assumed = terms.iter().find(|it| it.name == Term::BladeAssumed).unwrap();
        assert!((assumed.u - half_mm / 3.0_f64.sqrt()).abs() < 1e-12, "{}", assumed.u);
        let bare = cold(&line(), &observed(None, None), Kit::default());
        let expected = 0.05 / 12.0_f64.sqrt();
        assert!((bare.u_mm().unwrap() - expected).abs() < 1e-12, "only the bracket is left");
    }
}
