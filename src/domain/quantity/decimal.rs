//! Decimal text to whole units, without passing through a float.
//!
//! Knows digits, signs, a decimal point and a decimal comma. Does not know units.

/// Why a typed number cannot be taken.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NumberError {
    /// Nothing was typed.
    #[error("nothing typed yet")]
    Empty,
    /// The text is not a number with a known unit.
    #[error("“{0}” is not a number")]
    NotANumber(String),
    /// A sign stands where only a positive number makes sense.
    #[error("“{0}” is negative")]
    Negative(String),
    /// More digits than the unit can hold, or out of its range.
    #[error("“{0}” has more digits than can be kept")]
    OutOfRange(String),
}

/// The whole number nearest to `value` that is exact as a float in statistics.
///
/// This is the one door from whole units to floats. Whole numbers beyond 2⁵³ lose their last
/// digits; as nanometres that is nine kilometres, as thousandths of an hour a million years.
#[expect(clippy::as_conversions, reason = "the one named door from whole numbers to floats")]
pub fn float(whole: i64) -> f64 {
    whole as f64
}

/// The whole number nearest to a float; `None` for NaN, infinities and values beyond 2⁵³.
#[expect(clippy::as_conversions, reason = "the one named door from floats to whole numbers")]
#[expect(clippy::cast_possible_truncation, reason = "the range is checked in the line before")]
pub(crate) fn whole(value: f64) -> Option<i64> {
    const EXACT: f64 = 9_007_199_254_740_992.0; // 2⁵³
    (value.is_finite() && value.abs() < EXACT).then(|| value.round() as i64)
}

/// Reads `text` as a decimal number times `10^scale`, exactly.
///
/// A point or a comma may separate the decimals, spaces around are ignored.
///
/// # Errors
///
/// [`NumberError`] if the text is empty, not a number, or has digits below `10^-scale`.
pub(crate) fn parse(text: &str, scale: u32) -> Result<i64, NumberError> {
    let typed = text.trim();
    if typed.is_empty() {
        return Err(NumberError::Empty);
    }
    let not_a_number = || NumberError::NotANumber(typed.to_owned());
    let out_of_range = || NumberError::OutOfRange(typed.to_owned());
    let (negative, digits) = match typed.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest),
        None => (false, typed.strip_prefix('+').unwrap_or(typed)),
    };
    let (units, fraction) = digits.split_once(['.', ',']).unwrap_or((digits, ""));
    let all_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if (units.is_empty() && fraction.is_empty()) || !all_digits(units) || !all_digits(fraction) {
        return Err(not_a_number());
    }
    let fraction = fraction.trim_end_matches('0');
    let places = u32::try_from(fraction.len()).map_err(|_too_long| out_of_range())?;
    let spare = scale.checked_sub(places).ok_or_else(out_of_range)?;
    let joined = format!("{units}{fraction}");
    let mantissa: i64 =
        if joined.is_empty() { 0 } else { joined.parse().map_err(|_too_long| out_of_range())? };
    let magnitude = 10_i64
        .checked_pow(spare)
        .and_then(|ten| mantissa.checked_mul(ten))
        .ok_or_else(out_of_range)?;
    Ok(if negative { -magnitude } else { magnitude })
}

#[test]
fn decimals_are_read_exactly() {
    #[track_caller]
    fn check<E: Into<Result<i64, NumberError>>>(text: &str, expected: E) {
        assert_eq!(parse(text, 6), expected.into(), "{text:?}");
    }
    check("0.45", Ok(450_000));
    check("0,45", Ok(450_000));
    check(" .45 ", Ok(450_000));
    check("45.", Ok(45_000_000));
    check("0.000001", Ok(1));
    check("1.20000000000", Ok(1_200_000));
    check("-0.5", Ok(-500_000));
    check("", Err(NumberError::Empty));
    check("abc", Err(NumberError::NotANumber("abc".into())));
    check("1.2.3", Err(NumberError::NotANumber("1.2.3".into())));
    check(".", Err(NumberError::NotANumber(".".into())));
    check("0.0000001", Err(NumberError::OutOfRange("0.0000001".into())));
    check("99999999999999999999", Err(NumberError::OutOfRange("99999999999999999999".into())));
}

#[test]
fn floats_come_back_only_when_they_are_numbers() {
    assert_eq!(whole(549_999.999_999_9), Some(550_000));
    assert_eq!(whole(f64::NAN), None);
    assert_eq!(whole(f64::INFINITY), None);
    assert_eq!(whole(1e17), None);
}
