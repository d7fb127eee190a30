//! Length as a whole number of nanometres.
//!
//! One nanometre divides every leaf, shim and limit a person can write down: 0.01 mm is
//! 10 000 nm and 0.0001 in is 2 540 nm, both exact. Knows millimetres, inches and thousandths of
//! an inch; does not know how many digits a reading deserves.

use crate::domain::quantity::decimal::{self, NumberError};
use std::{
    iter::Sum,
    ops::{Add, Neg, Sub},
};

/// A length or a difference of lengths, in whole nanometres; may be negative.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// The unit in which lengths are typed and shown. Files are always metric.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches, as decimals.
    Inch,
}

const NM_PER_UM: i64 = 1_000;
const NM_PER_MM: i64 = 1_000_000;
/// More decimals of an inch than this are finer than a micrometre, and nobody types them.
const INCH_PLACES: u32 = 5;
/// 1 in = 25.4 mm exactly (international inch, 1959 agreement; ISO 31 and BIPM use the same).
const NM_PER_INCH: i64 = 25_400_000;

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);

    /// From whole nanometres.
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// From whole micrometres.
    pub const fn from_um(um: i64) -> Self {
        Self(um * NM_PER_UM)
    }

    /// From millimetres as a float, rounded to the nearest nanometre.
    ///
    /// `None` for NaN, an infinity, or more than nine kilometres.
    pub fn from_mm(mm: f64) -> Option<Self> {
        decimal::whole(mm * 1e6).map(Self)
    }

    /// In whole nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// In millimetres, for statistics and drawing.
    pub fn mm(self) -> f64 {
        decimal::float(self.0) / 1e6
    }

    /// In inches, for showing.
    pub fn inches(self) -> f64 {
        decimal::float(self.0) / decimal::float(NM_PER_INCH)
    }

    /// Without its sign.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Half of it, rounded towards zero by at most half a nanometre.
    pub const fn half(self) -> Self {
        Self(self.0 / 2)
    }

    /// `count` of them on top of each other.
    pub const fn times(self, count: i64) -> Self {
        Self(self.0 * count)
    }

    /// Reads what a person types: `0.45`, `0,45 mm`, `.018in`, `.018"`, `18 thou`.
    ///
    /// A number without a unit is taken in `unit`.
    ///
    /// # Errors
    ///
    /// [`NumberError`] for text that is no number with one of these units, for a negative one, and
    /// for more than six decimals of a millimetre or an inch.
    pub fn parse(text: &str, unit: LengthUnit) -> Result<Self, NumberError> {
        let typed = text.trim().to_lowercase();
        let (number, nm_per_unit) = if let Some(number) = typed.strip_suffix("mm") {
            (number, NM_PER_MM)
        } else if let Some(number) = typed.strip_suffix("thou") {
            (number, NM_PER_INCH / 1_000)
        } else if let Some(number) = typed.strip_suffix("in").or(typed.strip_suffix(['"', '″'])) {
            (number, NM_PER_INCH)
        } else {
            match unit {
                LengthUnit::Millimetre => (typed.as_str(), NM_PER_MM),
                LengthUnit::Inch => (typed.as_str(), NM_PER_INCH),
            }
        };
        let millionths = decimal::parse(number, 6).map_err(|err| match err {
            NumberError::NotANumber(_) => NumberError::NotANumber(text.trim().to_owned()),
            other => other,
        })?;
        if millionths < 0 {
            return Err(NumberError::Negative(text.trim().to_owned()));
        }
        let out_of_range = || NumberError::OutOfRange(text.trim().to_owned());
        let scaled = millionths.checked_mul(nm_per_unit).ok_or_else(out_of_range)?;
        // Exact down to 0.00001 in; a sixth decimal of an inch rounds to the nearest nanometre.
        Ok(Self((scaled + 500_000) / 1_000_000))
    }

    /// As a person would type it in `unit`, without the unit: `0.3`, `0.0118`.
    ///
    /// Exact in millimetres. In inches exact where five decimals can be, and otherwise the shortest
    /// number as near as its size deserves: half a micrometre for what leaves measure, a thousandth
    /// of a millimetre or a hundred-thousandth of it for a size of the machine.
    pub fn typed(self, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Millimetre => decimals(self.0, 6),
            LengthUnit::Inch => {
                let inches = (0..=INCH_PLACES).map(|places| self.inches_to(places));
                let least = |most: i64| inches.clone().find(|(_, _, off)| *off <= most);
                let whole = least(0).or_else(|| least(self.worth_writing()));
                whole.map_or_else(String::new, |(number, places, _)| decimals(number, places))
            }
        }
    }

    /// How far a number that stands for it may be off, in nanometres.
    const fn worth_writing(self) -> i64 {
        /// Four decimals of an inch are never further off.
        const FOUR_PLACES: i64 = 1_270;
        let fine = self.0.abs() < 5 * NM_PER_MM;
        let share = self.0.abs() / 100_000;
        if fine {
            NM_PER_UM / 2
        } else if FOUR_PLACES < share {
            share
        } else {
            FOUR_PLACES
        }
    }

    /// The nearest number of inches with so many decimals, without its point, and how many
    /// nanometres it is off, rounded up.
    const fn inches_to(self, places: u32) -> (i64, u32, i64) {
        let scale = 10_i64.pow(places);
        let scaled = self.0 * scale;
        let number = (scaled + NM_PER_INCH.div_euclid(2)).div_euclid(NM_PER_INCH);
        let off = (number * NM_PER_INCH - scaled).abs();
        (number, places, (off + scale - 1) / scale)
    }
}

/// A whole number with a point before its last `places` digits, and no zeros behind that say
/// nothing.
fn decimals(number: i64, places: u32) -> String {
    let (sign, scale) = (if number < 0 { "-" } else { "" }, 10_i64.pow(places));
    let (whole, rest) = (number.abs() / scale, number.abs() % scale);
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    let width = usize::try_from(places).unwrap_or_default();
    let rest = format!("{rest:0width$}");
    format!("{sign}{whole}.{}", rest.trim_end_matches('0'))
}

impl Add for Length {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;

    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(parts: I) -> Self {
        parts.fold(Self::ZERO, Self::add)
    }
}

/// What one list of lengths has more than another, longest first; a length counts as often as it
/// stands there.
pub fn less(from: &[Length], other: &[Length]) -> Vec<Length> {
    let mut rest = other.to_vec();
    let mut more: Vec<Length> = from
        .iter()
        .copied()
        .filter(|shim| match rest.iter().position(|it| it == shim) {
            Some(place) => {
                rest.remove(place);
                false
            }
            None => true,
        })
        .collect();
    more.sort_by_key(|shim| std::cmp::Reverse(*shim));
    more
}

#[test]
fn typed_lengths_are_exact() {
    #[track_caller]
    fn check(text: &str, nm: i64) {
        assert_eq!(
            Length::parse(text, LengthUnit::Millimetre),
            Ok(Length::from_nm(nm)),
            "{text:?}"
        );
    }
    check("0.45", 450_000);
    check("0,45", 450_000);
    check("0.45 mm", 450_000);
    check(".018in", 457_200);
    check(".018 \"", 457_200);
    check("18 thou", 457_200);
    check("1 in", 25_400_000); // 1 in = 25.4 mm exactly
    assert_eq!(Length::parse(".018", LengthUnit::Inch), Ok(Length::from_nm(457_200)));
    assert_eq!(
        Length::parse("-0.45", LengthUnit::Millimetre),
        Err(NumberError::Negative("-0.45".into()))
    );
    assert_eq!(
        Length::parse("wide", LengthUnit::Millimetre),
        Err(NumberError::NotANumber("wide".into()))
    );
}

#[test]
fn a_length_is_written_as_a_person_would_type_it() {
    use LengthUnit::{Inch, Millimetre};
    for (nm, mm, inches) in [
        (300_000, "0.3", "0.0118"),
        (550_000, "0.55", "0.02165"),
        (457_200, "0.4572", "0.018"),
        (299_974, "0.299974", "0.01181"),
        (55_000_000, "55", "2.1654"),
        (1_360_000_000, "1360", "53.543"),
        (25_400_000, "25.4", "1"),
        (0, "0", "0"),
        (-254_000, "-0.254", "-0.01"),
    ] {
        let length = Length::from_nm(nm);
        assert_eq!([length.typed(Millimetre), length.typed(Inch)], [mm, inches]);
    }
    for nm in (0..100_000_000_000).step_by(7_919_111) {
        let length = Length::from_nm(nm);
        let read = |unit| Length::parse(&length.typed(unit), unit).unwrap();
        assert_eq!(read(Millimetre), length);
        assert!((read(Inch) - length).abs().nm() <= length.worth_writing(), "{nm}");
    }
    // Whatever somebody types in inches is what stands there afterwards.
    for tenths_of_thou in 0..3_000 {
        let length = Length::from_nm(tenths_of_thou * 2_540);
        assert_eq!(Length::parse(&length.typed(Inch), Inch), Ok(length));
    }
}

#[test]
fn millimetres_as_floats_round_to_whole_nanometres() {
    for nm in [0, 1, 549_999, 550_000, 1_250_001, 25_400_000] {
        let length = Length::from_nm(nm);
        assert_eq!(Length::from_mm(length.mm()), Some(length));
    }
    assert_eq!(Length::from_mm(f64::NAN), None);
}
