//! Lines and stations: where gaps are measured.

use crate::domain::{
    machine::{BladeId, Chain, Limits, PartTemperatures},
    quantity::Length,
};
use std::{fmt, str::FromStr};

/// The letter of a line, `A` to `Z`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LineId(char);

impl LineId {
    /// The usual jaw's primary blades.
    pub const P: Self = Self('P');
    /// The usual jaw's secondary blades.
    pub const S: Self = Self('S');
    /// The usual jaw's tip against the cutting side.
    pub const T: Self = Self('T');
    /// The usual jaw's tip against the front blade.
    pub const F: Self = Self('F');
    /// The usual jaw's tip against the guide blade.
    pub const G: Self = Self('G');
    /// The usual jaw's guide pads.
    pub const J: Self = Self('J');

    /// From an upper-case letter.
    pub fn new(letter: char) -> Option<Self> {
        letter.is_ascii_uppercase().then_some(Self(letter))
    }

    /// The letter itself.
    pub const fn letter(self) -> char {
        self.0
    }
}

impl fmt::Display for LineId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// A place where a gap is measured: line letter and number from the pivot outward, `P1`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StationId {
    /// Its line.
    pub line: LineId,
    /// Counted from 1 at the pivot.
    pub number: u8,
}

impl fmt::Display for StationId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.line, self.number)
    }
}

/// A station's name that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("“{0}” is no station: write a line letter and a number, such as P1")]
pub struct NotAStation(pub String);

impl FromStr for StationId {
    type Err = NotAStation;

    fn from_str(text: &str) -> Result<Self, NotAStation> {
        let mut letters = text.trim().chars();
        let line = letters.next().map(|letter| letter.to_ascii_uppercase()).and_then(LineId::new);
        let number = letters.as_str().parse().ok().filter(|number| 1 <= *number);
        match (line, number) {
            (Some(line), Some(number)) => Ok(Self { line, number }),
            _ => Err(NotAStation(text.trim().to_owned())),
        }
    }
}

/// One station on its line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Station {
    /// Its name.
    pub id: StationId,
    /// Distance from the pivot. Stations of a cross line share one distance.
    pub from_pivot: Length,
    /// Place across the jaw from the guide cheek; only a cross line needs it.
    pub across: Option<Length>,
}

/// Which way the upper jaw's side play moves a gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Toward {
    /// Taking play out at the pads closes it.
    Cutting,
    /// Taking play out at the pads opens it.
    Guide,
    /// Side play does not matter.
    Neither,
    /// This line is the pads themselves.
    Pads,
}

/// One row of facing blades whose gap matters.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its letter.
    pub id: LineId,
    /// The place as a mechanic says it, such as "secondary blades".
    pub place: String,
    /// The moving part that faces the gap.
    pub moving: BladeId,
    /// The fixed part that faces the gap; shims go behind it.
    pub fixed: BladeId,
    /// Which way side play moves the gap.
    pub toward: Toward,
    /// Where it is measured, from the pivot outward.
    pub stations: Vec<Station>,
    /// The index of the jaw position in which its blades overlap and a leaf can be felt.
    pub position: usize,
    /// What the gap may be.
    pub limits: Limits,
    /// What stands across the gap.
    pub chain: Chain,
    /// Typical temperatures of its parts after some hours of cutting.
    pub working: PartTemperatures,
}

impl Line {
    /// The gap at working temperature for a gap at 20 °C, both in mm.
    pub fn hot_gap_mm(&self, cold_mm: f64) -> f64 {
        cold_mm + self.chain.opening_mm(&self.working)
    }
}

#[test]
fn stations_are_read_as_they_are_written() {
    let read = |text: &str| text.parse::<StationId>().map(|station| station.to_string());
    assert_eq!(read("p1").as_deref(), Ok("P1"));
    assert_eq!(read(" G3 ").as_deref(), Ok("G3"));
    for wrong in ["", "P", "P0", "1P", "P1x", "Ä1"] {
        assert_eq!(read(wrong), Err(NotAStation(wrong.into())));
    }
}
