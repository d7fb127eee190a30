//! What a person types about a gap.
//!
//! Knows the shorthand of the entry field and the slips a hand makes; does not know which station
//! is meant. Nothing is guessed: a slip is named, with the value that was probably meant.

use crate::domain::quantity::{Length, LengthUnit, NumberError};

/// No gap of such a machine is thicker; more is a slip of the decimal point.
pub const PLAUSIBLE_MOST: Length = Length::from_um(10_000);

/// What typed text means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typed {
    /// One stack: `0.55`.
    One(Length),
    /// Both stacks: `0.55-0.60`, `0.55 0.60`, `0.55/0.60`.
    Both(Length, Length),
    /// The thickest stack goes: `>1.00`.
    AllGo(Length),
    /// The thinnest leaf does not go: `<0.05`.
    NoneGoes(Length),
    /// Another instrument's exact value: `=0.572`.
    Exact(Length),
}

/// Why something in hand cannot be taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EntryFault {
    /// The text is no length.
    Number(NumberError),
    /// The stack that goes is not thinner than the one that does not.
    Reversed {
        /// Said to go.
        go: Length,
        /// Said not to go.
        no_go: Length,
    },
    /// Thicker than any gap.
    TooThick {
        /// As typed.
        typed: Length,
        /// A hundredth of it, if that would be plausible.
        meant: Option<Length>,
    },
    /// The reading has no upper end, where one is needed to reckon with.
    NoCeiling {
        /// The stack that goes.
        go: Length,
    },
    /// Nothing is in hand to say something about.
    Nothing,
    /// One stack is known, the other is not.
    OtherMissing {
        /// The one that goes, if that is the known one.
        go: Option<Length>,
        /// The one that does not, if that is the known one.
        no_go: Option<Length>,
    },
}

/// Reads the text of the entry field.
///
/// # Errors
///
/// [`EntryFault`] for text that is no length, is negative, or is thicker than any gap.
pub fn read_entry(text: &str, unit: LengthUnit) -> Result<Typed, EntryFault> {
    let typed = text.trim();
    let length = |part: &str| -> Result<Length, EntryFault> {
        let length = Length::parse(part, unit).map_err(EntryFault::Number)?;
        if PLAUSIBLE_MOST < length {
            let meant = Length::from_nm(length.nm() / 100);
            let meant = (meant <= PLAUSIBLE_MOST).then_some(meant);
            return Err(EntryFault::TooThick { typed: length, meant });
        }
        Ok(length)
    };
    if let Some(rest) = typed.strip_prefix('>') {
        return length(rest).map(Typed::AllGo);
    }
    if let Some(rest) = typed.strip_prefix('<') {
        return length(rest).map(Typed::NoneGoes);
    }
    if let Some(rest) = typed.strip_prefix('=') {
        return length(rest).map(Typed::Exact);
    }
    // A sign in front is a negative number, not a separator.
    let body = typed.strip_prefix(['-', '–', '−']).map_or(0, |rest| typed.len() - rest.len());
    let (sign, rest) = typed.split_at(body);
    if sign.is_empty()
        && let Some((go, no_go)) = split_pair(rest)
    {
        let (go, no_go) = (length(go)?, length(no_go)?);
        // One stack cannot go and not go; an exact value has a sign of its own.
        if no_go <= go {
            return Err(EntryFault::Reversed { go, no_go });
        }
        return Ok(Typed::Both(go, no_go));
    }
    length(typed).map(Typed::One)
}

/// The two halves of `0.55-0.60`, `0.55/0.60` or `0.55 0.60`.
fn split_pair(text: &str) -> Option<(&str, &str)> {
    if let Some(pair) = text.split_once(['-', '–', '−', '/']) {
        return Some(pair);
    }
    // A blank separates two numbers, but not a number from its unit.
    let (go, no_go) = text.split_once(' ')?;
    no_go.trim_start().starts_with(|c: char| c.is_ascii_digit() || c == '.').then_some((go, no_go))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn um(um: i64) -> Length {
        Length::from_um(um)
    }

    #[track_caller]
    fn check(text: &str, expected: &Result<Typed, EntryFault>) {
        assert_eq!(&read_entry(text, LengthUnit::Millimetre), expected, "{text:?}");
    }

    #[test]
    fn the_field_takes_what_a_technician_types() {
        check("0.55", &Ok(Typed::One(um(550))));
        check("0,55", &Ok(Typed::One(um(550))));
        check("0.55-0.60", &Ok(Typed::Both(um(550), um(600))));
        check("0.55 0.60", &Ok(Typed::Both(um(550), um(600))));
        check(".55/.6", &Ok(Typed::Both(um(550), um(600))));
        check("0.55 mm", &Ok(Typed::One(um(550))));
        check(">1.00", &Ok(Typed::AllGo(um(1_000))));
        check("<0.05", &Ok(Typed::NoneGoes(um(50))));
        check("=0.572", &Ok(Typed::Exact(um(572))));
        check("18 thou", &Ok(Typed::One(Length::from_nm(457_200))));
    }

    #[test]
    fn slips_are_named_and_nothing_is_guessed() {
        check("wide", &Err(EntryFault::Number(NumberError::NotANumber("wide".into()))));
        check("-0.45", &Err(EntryFault::Number(NumberError::Negative("-0.45".into()))));
        check("", &Err(EntryFault::Number(NumberError::Empty)));
        check("0.60-0.55", &Err(EntryFault::Reversed { go: um(600), no_go: um(550) }));
        check("0.55-0.55", &Err(EntryFault::Reversed { go: um(550), no_go: um(550) }));
        check("45", &Err(EntryFault::TooThick { typed: um(45_000), meant: Some(um(450)) }));
    }
}
