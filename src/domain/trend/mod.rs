//! How fast gaps grow and when they meet a limit.
//!
//! A straight line per stretch between interventions, its uncertainty, and the hours until its
//! mean meets a limit. Knows pairs of hours and millimetres, and which readings stand between
//! which interventions. Does not know temperatures (a closure refers readings to 20 °C), verdicts
//! or what to do about it. Statistics are floats here; nothing in this room decides a limit.

mod fit;
mod forecast;
mod likelihood;
mod line;
mod observation;
mod profile;
mod segments;
mod station;

pub use fit::{CONFIDENCE, Fit, HoursTo, PlainErrors, Segment, Which};
pub use forecast::{Bounded, Crossing, Mean, Reach};
pub use likelihood::Region;
pub use observation::{Observation, WhyNot};
pub use profile::{Profile, with_profile};
pub use segments::{Model, SegmentMean, Segmented, Tried};
pub use station::{Point, StationTrend};

use crate::domain::quantity::float;

/// A count as a float.
fn count(n: usize) -> f64 {
    float(i64::try_from(n).unwrap_or(i64::MAX))
}
