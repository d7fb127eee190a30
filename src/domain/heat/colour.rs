//! What a temper colour tells.
//!
//! Thin oxide films on clean steel show colours that published tables assign to temperatures, and
//! disagree about by 20 °C and more. Time at heat and alloy shift them further: steel held long
//! colours as if it had been hotter, alloyed steel as if it had been cooler. So a colour is a band,
//! never a number.

/// A temper colour, coolest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Colour {
    /// Pale to dark straw.
    Straw,
    /// Brown.
    Brown,
    /// Purple.
    Purple,
    /// Dark to pale blue.
    Blue,
    /// Grey-blue and grey.
    Grey,
}

/// The temperatures that published tables give for a colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColourBand {
    /// The colour.
    pub colour: Colour,
    /// The lowest of them, or 20 °C under their middle if they agree better than that, in °C.
    pub low_c: f64,
    /// The highest of them, in °C; grey has no upper end.
    pub high_c: Option<f64>,
}

/// One published value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Published {
    /// The table it stands in.
    pub source: &'static str,
    /// The colour as we sort it.
    pub colour: Colour,
    /// In °C.
    pub c: f64,
}

const fn published(source: &'static str, colour: Colour, c: f64) -> Published {
    Published { source, colour, c }
}

const COLVIN: &str = "Colvin and Juthe, The Working of Steel, average of five tables";
const DOOLEY: &str = "Dooley, Applied Science for Metal Workers";
const CHART: &str = "a gauge-plate supplier's chart";
const WIKI: &str = "Wikipedia, Tempering, read in a mirror";
const TOOL: &str = "a reproduced tool-steel chart";

/// Values as published, read second-hand.
pub const PUBLISHED: [Published; 32] = [
    published(COLVIN, Colour::Straw, 221.1),
    published(COLVIN, Colour::Straw, 236.7),
    published(COLVIN, Colour::Straw, 247.8),
    published(COLVIN, Colour::Purple, 272.8),
    published(COLVIN, Colour::Purple, 288.3),
    published(COLVIN, Colour::Blue, 300.0),
    published(COLVIN, Colour::Grey, 317.2),
    published(DOOLEY, Colour::Straw, 221.1),
    published(DOOLEY, Colour::Straw, 248.9),
    published(DOOLEY, Colour::Brown, 260.0),
    published(DOOLEY, Colour::Purple, 271.1),
    published(DOOLEY, Colour::Purple, 287.8),
    published(DOOLEY, Colour::Blue, 298.9),
    published(DOOLEY, Colour::Blue, 321.1),
    published(CHART, Colour::Straw, 210.0),
    published(CHART, Colour::Straw, 237.8),
    published(CHART, Colour::Brown, 248.9),
    published(CHART, Colour::Brown, 260.0),
    published(CHART, Colour::Purple, 271.1),
    published(CHART, Colour::Blue, 287.8),
    published(CHART, Colour::Blue, 310.0),
    published(CHART, Colour::Grey, 321.1),
    published(WIKI, Colour::Straw, 205.0),
    published(WIKI, Colour::Straw, 226.1),
    published(WIKI, Colour::Brown, 260.0),
    published(WIKI, Colour::Purple, 282.2),
    published(WIKI, Colour::Blue, 310.0),
    published(WIKI, Colour::Grey, 371.1),
    published(TOOL, Colour::Straw, 229.4),
    published(TOOL, Colour::Brown, 248.9),
    published(TOOL, Colour::Purple, 282.2),
    published(TOOL, Colour::Blue, 301.7),
];

/// Bands drawn to enclose the published values; a proposal of ours, not a standard.
pub const BANDS: [ColourBand; 5] = [
    ColourBand { colour: Colour::Straw, low_c: 200.0, high_c: Some(250.0) },
    ColourBand { colour: Colour::Brown, low_c: 240.0, high_c: Some(280.0) },
    ColourBand { colour: Colour::Purple, low_c: 260.0, high_c: Some(300.0) },
    ColourBand { colour: Colour::Blue, low_c: 285.0, high_c: Some(340.0) },
    ColourBand { colour: Colour::Grey, low_c: 315.0, high_c: None },
];

impl Colour {
    /// Every colour, coolest first.
    pub const ALL: [Self; 5] = [Self::Straw, Self::Brown, Self::Purple, Self::Blue, Self::Grey];

    /// The temperature from which a face is painted this colour, in °C: one scale without overlap
    /// for drawing and for events; what a seen colour tells is its band.
    pub const fn starts_c(self) -> f64 {
        match self {
            Self::Straw => 205.0,
            Self::Brown => 248.0,
            Self::Purple => 265.0,
            Self::Blue => 285.0,
            Self::Grey => 325.0,
        }
    }

    /// What seeing this colour tells about the face's temperature.
    pub fn band(self) -> ColourBand {
        let found = BANDS.into_iter().find(|band| band.colour == self);
        found.unwrap_or(ColourBand { colour: self, low_c: self.starts_c(), high_c: None })
    }
}

/// The colour a face at this temperature is painted; `None` while it is bare.
pub fn colour_at(c: f64) -> Option<Colour> {
    Colour::ALL.into_iter().rev().find(|colour| colour.starts_c() <= c)
}

#[test]
fn bands_enclose_the_published_values_and_are_wide() {
    for value in PUBLISHED {
        let band = value.colour.band();
        assert!(band.low_c <= value.c, "{value:?}");
        assert!(band.high_c.is_none_or(|high| value.c <= high), "{value:?}");
    }
    for band in BANDS {
        assert!(band.high_c.is_none_or(|high| 40.0 <= high - band.low_c), "{band:?} is ±20 °C");
    }
    assert_eq!(colour_at(150.0), None);
    assert_eq!(colour_at(300.0), Some(Colour::Blue));
}
