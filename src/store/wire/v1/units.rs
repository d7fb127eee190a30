//! Numbers, names and times as format 1 writes them.
//!
//! Knows which text or float stands for which quantity, and refuses what is none: NaN, infinities,
//! and sizes that no machine has, so that sums of everything in a file cannot overflow.

use crate::{
    domain::{
        log::SessionId,
        machine::{BladeId, LineId, ShearId, StationId},
        quantity::{Hours, Length, Temperature, Torque},
    },
    store::refusal::{FIELD, Refusal},
};
use chrono::{DateTime, NaiveDate, SecondsFormat, Utc};
use serde::{Deserialize, Serialize};

/// Lengths beyond a hundred metres are typing errors.
const MM_MOST: f64 = 100_000.0;
/// Ten million hours are eleven centuries.
const H_MOST: f64 = 10_000_000.0;
/// No steel is this hot and still a blade.
const C_MOST: f64 = 5_000.0;
const NEWTON_METRES_MOST: f64 = 1_000_000.0;
/// Steep enough for every angle, coefficient and share a shear has.
const PLAIN_MOST: f64 = 1_000_000.0;

fn within<T>(
    value: f64,
    (least, most): (f64, f64),
    expected: &str,
    make: impl FnOnce(f64) -> Option<T>,
) -> Result<T, Refusal> {
    let inside = least <= value && value <= most;
    inside.then(|| make(value)).flatten().ok_or_else(|| {
        let why = if value.is_finite() { "which cannot be" } else { "which is no number" };
        Refusal::new(format!("“{FIELD}” is {value}, {why}"), format!("write {expected}"))
    })
}

/// A quantity written as one float.
macro_rules! float_field {
    ($(#[$doc:meta])* $name:ident($inner:ty), $range:expr, $expected:literal, $make:expr, $show:expr) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Deserialize, Serialize)]
        #[serde(try_from = "f64", into = "f64")]
        pub(crate) struct $name(pub(crate) $inner);

        impl TryFrom<f64> for $name {
            type Error = Refusal;

            fn try_from(value: f64) -> Result<Self, Refusal> {
                within(value, $range, $expected, $make).map(Self)
            }
        }

        impl From<$name> for f64 {
            fn from(field: $name) -> Self {
                $show(field.0)
            }
        }
    };
}

float_field!(
    /// A length in millimetres, of either sign.
    Mm(Length), (-MM_MOST, MM_MOST), "millimetres, at most 100000", Length::from_mm, Length::mm
);
float_field!(
    /// A thickness or size in millimetres, above zero.
    ThickMm(Length),
    (0.0, MM_MOST),
    "millimetres, above zero and at most 100000",
    |mm| Length::from_mm(mm).filter(|length| Length::ZERO < *length),
    Length::mm
);
float_field!(
    /// Hours, not negative.
    H(Hours), (0.0, H_MOST), "hours from 0 to 10000000", Hours::from_h, Hours::h
);
float_field!(
    /// A temperature in degrees Celsius.
    C(Temperature), (-273.15, C_MOST), "degrees Celsius from -273.15 to 5000", Temperature::from_c, Temperature::c
);
float_field!(
    /// A torque in newton metres.
    NewtonMetres(Torque),
    (0.0, NEWTON_METRES_MOST),
    "newton metres from 0 to 1000000",
    Torque::from_newton_metres,
    Torque::newton_metres
);
float_field!(
    /// A plain number, such as an angle or a coefficient; its unit is in the field's name.
    Plain(f64), (-PLAIN_MOST, PLAIN_MOST), "a number, at most 1000000", Some, std::convert::identity
);

/// A name or a time written as text.
macro_rules! text_field {
    ($(#[$doc:meta])* $name:ident($inner:ty), $read:expr, $show:expr) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Deserialize, Serialize)]
        #[serde(try_from = "String", into = "String")]
        pub(crate) struct $name(pub(crate) $inner);

        impl TryFrom<String> for $name {
            type Error = Refusal;

            fn try_from(text: String) -> Result<Self, Refusal> {
                $read(text).map(Self)
            }
        }

        impl From<$name> for String {
            fn from(field: $name) -> Self {
                $show(field.0)
            }
        }
    };
}

text_field!(
    /// A station such as `P1`.
    StationName(StationId),
    |text: String| text.parse().map_err(|_no_station| Refusal::new(
        format!("“{text}” is no station"),
        "write a line letter and a number, such as \"P1\"",
    )),
    |station: StationId| station.to_string()
);
text_field!(
    /// A line's letter.
    LineName(LineId),
    |text: String| {
        let mut letters = text.chars();
        let only = letters.next().filter(|_first| letters.next().is_none());
        only.and_then(LineId::new).ok_or_else(|| Refusal::new(
            format!("“{text}” is no line"),
            "write one letter from A to Z, such as \"P\"",
        ))
    },
    |line: LineId| line.to_string()
);
text_field!(
    /// A blade's name.
    BladeName(BladeId),
    |text: String| if text.trim().is_empty() {
        Err(Refusal::new("a blade has no name", "write one, such as \"lower-secondary\""))
    } else {
        Ok(BladeId(text))
    },
    |blade: BladeId| blade.0
);
text_field!(
    /// A session's name.
    SessionName(SessionId),
    |text: String| SessionId::parse(&text).ok_or_else(|| Refusal::new(
        format!("“{text}” cannot be a session's name"),
        "write the file's name without its ending, such as \"2026-03-14T0705Z-7f3a\"",
    )),
    |session: SessionId| session.as_str().to_owned()
);
text_field!(
    /// A machine's folder.
    ShearName(ShearId),
    |text: String| ShearId::new(&text).ok_or_else(|| Refusal::new(
        format!("“{text}” cannot be a machine's folder"),
        "use lower-case letters, digits and hyphens, such as \"heron\"",
    )),
    |shear: ShearId| shear.as_str().to_owned()
);
text_field!(
    /// A moment, by RFC 3339 in UTC.
    Time(DateTime<Utc>),
    |text: String| match DateTime::parse_from_rfc3339(&text) {
        Ok(time) if time.offset().local_minus_utc() == 0 => Ok(time.to_utc()),
        Ok(_) | Err(_) => Err(Refusal::new(
            format!("“{text}” is no time in UTC"),
            "write it like \"2026-03-14T07:05:00Z\"",
        )),
    },
    |time: DateTime<Utc>| time.to_rfc3339_opts(SecondsFormat::AutoSi, true)
);
text_field!(
    /// A day of the calendar.
    Day(NaiveDate),
    |text: String| NaiveDate::parse_from_str(&text, "%Y-%m-%d").map_err(|_no_day| Refusal::new(
        format!("“{text}” is no day"),
        "write it like \"2026-03-14\"",
    )),
    |day: NaiveDate| day.to_string()
);
