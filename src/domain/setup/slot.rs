//! Where the text of a field goes.
//!
//! Knows for each kind of value how it is read and written; lengths are in the unit that people read,
//! and one with a unit of its own is read as on the Measure screen. Does not know which field it
//! serves.

use crate::domain::{
    machine::{BladeId, Follows, Material, Side, Toward},
    quantity::{Hours, Length, LengthUnit, NumberError, Temperature, Torque},
    setup::SetupIssue,
};
use chrono::NaiveDate;

/// A place in a draft.
#[derive(Debug)]
pub(crate) enum Slot<'a> {
    Text(&'a mut String),
    Length(&'a mut Length),
    MaybeLength(&'a mut Option<Length>),
    Lengths(&'a mut Vec<Length>),
    Hours(&'a mut Hours),
    MaybeHours(&'a mut Option<Hours>),
    Unit(&'a mut LengthUnit),
    Temperature(&'a mut Temperature),
    Torque(&'a mut Option<Torque>),
    Float(&'a mut f64),
    Byte(&'a mut u8),
    Count(&'a mut u16),
    Day(&'a mut NaiveDate),
    Material(&'a mut Material),
    Side(&'a mut Side),
    Toward(&'a mut Toward),
    Follows(&'a mut Follows),
    Opens(&'a mut bool),
    /// A blade, of all there are.
    Blade(&'a mut BladeId, Vec<String>),
    /// A place in a list, which counts from 1 for people.
    Place(&'a mut usize, usize),
}

/// What a file takes at most; beyond it is a slip of the hand.
const LENGTH_MOST: Length = Length::from_um(100_000_000);
const HOURS_MOST: Hours = Hours::from_whole(10_000_000);
const CELSIUS_MOST: f64 = 5_000.0;
const FLOAT_MOST: f64 = 1_000_000.0;

fn within<T: PartialOrd>(value: T, most: &T, text: &str) -> Result<T, SetupIssue> {
    if value <= *most { Ok(value) } else { Err(SetupIssue::Beyond(text.trim().to_owned())) }
}

fn length(text: &str, unit: LengthUnit) -> Result<Length, SetupIssue> {
    within(Length::parse(text, unit)?, &LENGTH_MOST, text)
}

fn hours(text: &str) -> Result<Hours, SetupIssue> {
    within(Hours::parse(text)?, &HOURS_MOST, text)
}

fn celsius(text: &str) -> Result<Temperature, SetupIssue> {
    let read = Temperature::parse_c(text)?;
    within(read.c(), &CELSIUS_MOST, text).map(|_c| read)
}

const SIDES: [(Side, &str); 4] = [
    (Side::Moving, "upper jaw"),
    (Side::Cutting, "cutting side"),
    (Side::Guide, "guide side"),
    (Side::Front, "front"),
];
const TOWARD: [(Toward, &str); 4] = [
    (Toward::Cutting, "closes it"),
    (Toward::Guide, "opens it"),
    (Toward::Neither, "does not matter"),
    (Toward::Pads, "is this line"),
];
const FOLLOWS: [(Follows, &str); 4] = [
    (Follows::Moving, "moving part"),
    (Follows::Fixed, "fixed part"),
    (Follows::UpperJaw, "upper jaw"),
    (Follows::LowerJaw, "lower jaw"),
];
const OPENS: [(bool, &str); 2] = [(true, "opens"), (false, "closes")];
const UNITS: [(LengthUnit, &str); 2] =
    [(LengthUnit::Millimetre, "millimetres"), (LengthUnit::Inch, "inches")];
const TE1: &str = "TE-1";
const EN1993: &str = "EN 1993-1-2";
const TABLE: &str = "table in the file";

fn word<T: PartialEq>(of: &T, words: &'static [(T, &'static str)]) -> String {
    words.iter().find(|(it, _)| it == of).map_or("", |(_, word)| word).to_owned()
}

fn meant<T: Copy>(text: &str, words: &'static [(T, &'static str)]) -> Result<T, SetupIssue> {
    let found = words.iter().find(|(_, word)| *word == text.trim());
    found.map(|(it, _)| *it).ok_or_else(|| SetupIssue::NoChoice(text.trim().to_owned()))
}

fn listed<T>(words: &'static [(T, &'static str)]) -> Vec<String> {
    words.iter().map(|(_, word)| (*word).to_owned()).collect()
}

fn float(text: &str) -> Result<f64, SetupIssue> {
    let typed = text.trim();
    if typed.is_empty() {
        return Err(NumberError::Empty.into());
    }
    let read: Result<f64, _> = typed.replace(',', ".").replace('−', "-").parse();
    let finite = read.ok().filter(|it| it.is_finite());
    let finite = finite.ok_or_else(|| NumberError::NotANumber(typed.to_owned()))?;
    within(finite.abs(), &FLOAT_MOST, typed).map(|_size| finite)
}

fn count<T: std::str::FromStr>(text: &str) -> Result<T, SetupIssue> {
    text.trim().parse().map_err(|_none| SetupIssue::NoCount(text.trim().to_owned()))
}

/// Lengths with semicolons or spaces between them. One that nobody touched stays what it `was`, of
/// which an inch may show no more than the nearest number.
fn lengths(text: &str, was: &[Length], unit: LengthUnit) -> Result<Vec<Length>, SetupIssue> {
    let typed = text.split([';', ' ']).filter(|part| !part.trim().is_empty());
    let read = |part: &str| {
        let kept = was.iter().find(|it| it.typed(unit) == part.replace(',', "."));
        kept.map_or_else(|| length(part, unit), |it| Ok(*it))
    };
    typed.map(read).collect()
}

impl Slot<'_> {
    /// What stands there, as a person would type it who reads lengths in `unit`.
    pub(crate) fn text(&self, unit: LengthUnit) -> String {
        match self {
            Self::Text(it) => (*it).clone(),
            Self::Length(it) => it.typed(unit),
            Self::MaybeLength(it) => it.map_or_else(String::new, |length| length.typed(unit)),
            Self::Lengths(it) => it.iter().map(|at| at.typed(unit)).collect::<Vec<_>>().join("; "),
            Self::Hours(it) => it.h().to_string(),
            Self::MaybeHours(it) => it.map_or_else(String::new, |hours| hours.h().to_string()),
            Self::Unit(it) => word(*it, &UNITS),
            Self::Temperature(it) => it.c().to_string(),
            Self::Torque(it) => {
                it.map_or_else(String::new, |torque| torque.newton_metres().to_string())
            }
            Self::Float(it) => it.to_string(),
            Self::Byte(it) => it.to_string(),
            Self::Count(it) => it.to_string(),
            Self::Day(it) => it.to_string(),
            Self::Material(Material::CarbonSteelTe1) => TE1.to_owned(),
            Self::Material(Material::CarbonSteelEn1993) => EN1993.to_owned(),
            Self::Material(Material::Constant { ppm_per_k }) => ppm_per_k.to_string(),
            Self::Material(Material::Table(_)) => TABLE.to_owned(),
            Self::Side(it) => word(*it, &SIDES),
            Self::Toward(it) => word(*it, &TOWARD),
            Self::Follows(it) => word(*it, &FOLLOWS),
            Self::Opens(it) => word(*it, &OPENS),
            Self::Blade(it, _) => it.0.clone(),
            Self::Place(it, _) => it.saturating_add(1).to_string(),
        }
    }

    /// Reads a text into it; on an error nothing has changed.
    pub(crate) fn put(self, text: &str, unit: LengthUnit) -> Result<(), SetupIssue> {
        let length = |text: &str| length(text, unit);
        match self {
            Self::Text(it) => text.clone_into(it),
            Self::Length(it) => *it = length(text)?,
            Self::MaybeLength(it) => {
                *it = if text.trim().is_empty() { None } else { Some(length(text)?) };
            }
            Self::Lengths(it) => *it = lengths(text, it, unit)?,
            Self::Hours(it) => *it = hours(text)?,
            Self::MaybeHours(it) => {
                *it = if text.trim().is_empty() { None } else { Some(hours(text)?) };
            }
            Self::Unit(it) => *it = meant(text, &UNITS)?,
            Self::Temperature(it) => *it = celsius(text)?,
            Self::Torque(it) => {
                *it = match text.trim() {
                    "" => None,
                    typed => {
                        let torque = Torque::from_newton_metres(float(typed)?);
                        Some(torque.ok_or_else(|| NumberError::Negative(typed.to_owned()))?)
                    }
                };
            }
            Self::Float(it) => *it = float(text)?,
            Self::Byte(it) => *it = count(text)?,
            Self::Count(it) => *it = count(text)?,
            Self::Day(it) => {
                let day = NaiveDate::parse_from_str(text.trim(), "%Y-%m-%d");
                *it = day.map_err(|_no_day| SetupIssue::NoDay(text.trim().to_owned()))?;
            }
            Self::Material(it) => match text.trim() {
                TE1 => *it = Material::CarbonSteelTe1,
                EN1993 => *it = Material::CarbonSteelEn1993,
                TABLE if matches!(it, Material::Table(_)) => {}
                typed => *it = Material::Constant { ppm_per_k: float(typed)? },
            },
            Self::Side(it) => *it = meant(text, &SIDES)?,
            Self::Toward(it) => *it = meant(text, &TOWARD)?,
            Self::Follows(it) => *it = meant(text, &FOLLOWS)?,
            Self::Opens(it) => *it = meant(text, &OPENS)?,
            Self::Blade(it, all) => {
                let known = all.into_iter().find(|name| name == text.trim());
                *it = BladeId(known.ok_or_else(|| SetupIssue::NoChoice(text.trim().to_owned()))?);
            }
            Self::Place(it, most) => {
                let place: usize = count(text)?;
                let place = place.checked_sub(1).filter(|place| *place < most);
                *it = place.ok_or_else(|| SetupIssue::NoChoice(text.trim().to_owned()))?;
            }
        }
        Ok(())
    }

    /// Whether lengths stand in it.
    pub(crate) const fn is_length(&self) -> bool {
        matches!(self, Self::Length(_) | Self::MaybeLength(_) | Self::Lengths(_))
    }

    /// The words it can be chosen from; none if it is typed.
    pub(crate) fn choices(self) -> Vec<String> {
        match self {
            Self::Side(_) => listed(&SIDES),
            Self::Toward(_) => listed(&TOWARD),
            Self::Follows(_) => listed(&FOLLOWS),
            Self::Opens(_) => listed(&OPENS),
            Self::Unit(_) => listed(&UNITS),
            Self::Blade(_, all) => all,
            Self::Place(_, most) => (1..=most).map(|place| place.to_string()).collect(),
            _ => Vec::new(),
        }
    }
}

#[test]
fn what_is_written_is_what_is_read() {
    use LengthUnit::{Inch, Millimetre};
    let mut it = Length::ZERO;
    for (typed, unit, shown) in [
        ("0.55", Millimetre, "0.55"),
        ("1 360", Millimetre, "no"),
        ("0,30 mm", Millimetre, "0.3"),
        ("0,022", Inch, "0.022"),
        ("0.3 mm", Inch, "0.0118"),
        ("-0.01", Inch, "no"),
    ] {
        let read = Slot::Length(&mut it).put(typed, unit);
        let said = read.map_or_else(|_| "no".to_owned(), |()| Slot::Length(&mut it).text(unit));
        assert_eq!(said, shown, "{typed}");
    }
    let mut places = Vec::new();
    Slot::Lengths(&mut places).put("170; 290 410.5", Millimetre).unwrap();
    assert_eq!(Slot::Lengths(&mut places).text(Millimetre), "170; 290; 410.5");
    assert_eq!(Slot::Lengths(&mut places).text(Inch), "6.6929; 11.4173; 16.1614");
    Slot::Lengths(&mut places).put("6,6929; 11.5; 16.1614", Inch).unwrap();
    assert_eq!(Slot::Lengths(&mut places).text(Millimetre), "170; 292.1; 410.5");
    let mut side = Side::Front;
    assert!(Slot::Side(&mut side).put("left", Inch).is_err() && side == Side::Front);
}
