//! A reading as a trend sees it, and why there may be no trend.

/// One reading of a trend: what is known of a gap at an hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observation {
    /// Service hours.
    pub x: f64,
    /// The gap is at least this, in mm; `None` if nothing is known below.
    pub low: Option<f64>,
    /// It is at most this; equal to `low` for an exact reading.
    pub high: Option<f64>,
    /// Between which interventions; never falls from one observation to the next.
    pub segment: usize,
    /// Service hours since fresh edges came into use, where the log tells.
    pub edge_age: Option<f64>,
}

/// Why there is no trend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WhyNot {
    /// Nobody measured here yet.
    #[error("nobody has measured this place yet")]
    NoReadings,
    /// Every reading has an open end.
    #[error("{} an open end, so nothing says where the gap is", all(*.0, "has", "have"))]
    AllOpen(usize),
    /// No reading could be referred to 20 °C.
    #[error("{} not be referred to 20 °C", all(*.0, "could", "could"))]
    NoneReferred(usize),
    /// Nobody read the counter that growth shall be counted against.
    #[error("{} from visits that did not read this counter", all(*.0, "comes", "come"))]
    NoneCounted(usize),
    /// Somebody set all of them aside.
    #[error("{} set aside", all(*.0, "is", "are"))]
    AllSetAside(usize),
    /// Not enough for the numbers of a line and its scatter.
    #[error("{} too few for a growth rate, {need} are needed", few(*.have))]
    TooFewReadings {
        /// Readings there are.
        have: usize,
        /// Readings there would have to be.
        need: usize,
    },
    /// All readings between two interventions were taken at one hour.
    #[error("all readings were taken at the same service hour, so nothing could grow")]
    SameHour,
    /// Readings with two ends are too few or too close in time; the open ones leave the rate free.
    #[error("too many readings have an open end to tell how fast the gap grows")]
    TooOpen,
    /// Numbers so large that their squares are lost, or no numbers at all.
    #[error("a reading is too large to calculate with")]
    TooLarge,
}

/// `the only reading has`, `all 6 readings have`.
fn all(count: usize, one: &str, more: &str) -> String {
    if count == 1 {
        format!("the only reading {one}")
    } else {
        format!("all {count} readings {more}")
    }
}

fn few(count: usize) -> String {
    if count == 1 { "1 reading is".to_owned() } else { format!("{count} readings are") }
}

impl Observation {
    /// Both ends are known, or it is exact.
    pub const fn is_closed(&self) -> bool {
        self.low.is_some() && self.high.is_some()
    }

    /// The middle of a closed reading, else the end that is known.
    pub(crate) fn rough(&self) -> Option<f64> {
        match (self.low, self.high) {
            (Some(low), Some(high)) => Some(f64::midpoint(low, high)),
            (one, other) => one.or(other),
        }
    }

    /// The width of a closed reading.
    pub(crate) fn width(&self) -> Option<f64> {
        self.low.zip(self.high).map(|(low, high)| high - low)
    }
}
