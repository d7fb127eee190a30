//! Temperature and temperature rise: two types that do not mix.
//!
//! A blade at 41 °C is 21 K warmer than one at 20 °C; adding 41 °C to 20 °C means nothing, and no
//! operator here allows it.

use crate::domain::quantity::decimal::{self, NumberError};
use std::ops::{Add, Sub};

/// A temperature in whole thousandths of a degree Celsius, not below −273.15 °C.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Temperature(i64);

/// A difference of two temperatures in whole thousandths of a kelvin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TemperatureRise(i64);

impl Temperature {
    /// 20 °C, the reference temperature of length measurement (ISO 1).
    pub const REFERENCE: Self = Self(20_000);
    const ABSOLUTE_ZERO: i64 = -273_150;

    /// From whole degrees Celsius; clamped at absolute zero.
    pub const fn from_whole_c(c: i32) -> Self {
        #[expect(
            clippy::as_conversions,
            reason = "widening in a const fn, where From is not const"
        )]
        let mdeg = c as i64 * 1_000;
        Self(if mdeg < Self::ABSOLUTE_ZERO { Self::ABSOLUTE_ZERO } else { mdeg })
    }

    /// From degrees Celsius, rounded to the nearest thousandth.
    ///
    /// `None` for NaN, infinities and anything below absolute zero.
    pub fn from_c(c: f64) -> Option<Self> {
        decimal::whole(c * 1e3).filter(|mdeg| Self::ABSOLUTE_ZERO <= *mdeg).map(Self)
    }

    /// In degrees Celsius.
    pub fn c(self) -> f64 {
        decimal::float(self.0) / 1e3
    }

    /// How much warmer this is than `other`.
    pub const fn above(self, other: Self) -> TemperatureRise {
        TemperatureRise(self.0 - other.0)
    }

    /// Halfway between two temperatures.
    pub const fn midway(self, other: Self) -> Self {
        Self(i64::midpoint(self.0, other.0))
    }

    /// Reads what a person types, in degrees Celsius: `41`, `-5`, `41,5 °C`.
    ///
    /// # Errors
    ///
    /// [`NumberError`] for text that is no number, or one below absolute zero.
    pub fn parse_c(text: &str) -> Result<Self, NumberError> {
        let number = text.trim().trim_end_matches(['C', 'c']).trim_end_matches('°');
        let mdeg = decimal::parse(number, 3)?;
        if mdeg < Self::ABSOLUTE_ZERO {
            return Err(NumberError::OutOfRange(text.trim().to_owned()));
        }
        Ok(Self(mdeg))
    }
}

impl TemperatureRise {
    /// One kelvin.
    pub const KELVIN: Self = Self(1_000);

    /// In kelvin.
    pub fn k(self) -> f64 {
        decimal::float(self.0) / 1e3
    }

    /// From kelvin, rounded to the nearest thousandth; `None` for NaN and infinities.
    pub fn from_k(k: f64) -> Option<Self> {
        decimal::whole(k * 1e3).map(Self)
    }
}

impl Sub for Temperature {
    type Output = TemperatureRise;

    fn sub(self, other: Self) -> TemperatureRise {
        self.above(other)
    }
}

impl Add<TemperatureRise> for Temperature {
    type Output = Self;

    fn add(self, rise: TemperatureRise) -> Self {
        Self((self.0 + rise.0).max(Self::ABSOLUTE_ZERO))
    }
}

#[test]
fn a_rise_shifts_a_temperature_and_nothing_else() {
    let warm = Temperature::from_whole_c(41);
    let rise = warm - Temperature::REFERENCE;
    assert_eq!(TemperatureRise::from_k(21.0), Some(rise));
    assert_eq!(Temperature::REFERENCE + rise, warm);
    assert_eq!(Temperature::parse_c("41,5 °C"), Ok(Temperature(41_500)));
    assert_eq!(Temperature::from_c(-300.0), None);
    assert!(Temperature::parse_c("-300").is_err());
}
