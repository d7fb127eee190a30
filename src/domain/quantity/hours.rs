//! Operating hours, as an hour meter shows them.

use crate::domain::quantity::decimal::{self, NumberError};
use std::ops::{Add, Neg, Sub};

/// Operating hours or a span of them, in whole thousandths of an hour; a span may be negative.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hours(i64);

impl Hours {
    /// No hours.
    pub const ZERO: Self = Self(0);

    /// From whole hours.
    pub const fn from_whole(h: i32) -> Self {
        #[expect(
            clippy::as_conversions,
            reason = "widening in a const fn, where From is not const"
        )]
        Self(h as i64 * 1_000)
    }

    /// From hours as a float, rounded to the nearest thousandth; `None` for NaN and infinities.
    pub fn from_h(h: f64) -> Option<Self> {
        decimal::whole(h * 1e3).map(Self)
    }

    /// In hours, for statistics and drawing.
    pub fn h(self) -> f64 {
        decimal::float(self.0) / 1e3
    }

    /// From whole thousandths of an hour.
    pub const fn from_thousandths(thousandths: i64) -> Self {
        Self(thousandths)
    }

    /// In whole thousandths of an hour.
    pub const fn thousandths(self) -> i64 {
        self.0
    }

    /// Reads what a person types: `4812`, `4812.5`, `4 812,5 h`.
    ///
    /// # Errors
    ///
    /// [`NumberError`] for text that is no number, a negative one, or more than three decimals.
    pub fn parse(text: &str) -> Result<Self, NumberError> {
        let number: String =
            text.trim().trim_end_matches('h').chars().filter(|c| !c.is_whitespace()).collect();
        let thousandths = decimal::parse(&number, 3)?;
        if thousandths < 0 {
            return Err(NumberError::Negative(text.trim().to_owned()));
        }
        Ok(Self(thousandths))
    }
}

impl Add for Hours {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Hours {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Hours {
    type Output = Self;

    fn neg(self) -> Self {
        Self(-self.0)
    }
}

#[test]
fn hour_meters_are_read_as_people_write_them() {
    assert_eq!(Hours::parse("4 812,5 h"), Ok(Hours(4_812_500)));
    assert_eq!(Hours::parse("4812"), Ok(Hours::from_whole(4_812)));
    assert_eq!(Hours::parse("-1"), Err(NumberError::Negative("-1".into())));
    assert_eq!(Hours::from_h(8.0), Some(Hours::from_whole(8)));
}
