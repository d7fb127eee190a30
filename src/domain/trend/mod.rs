//! How fast gaps grow and when they meet a limit.
//!
//! A straight line per stretch between interventions, its uncertainty, and the hours until its
//! mean meets a limit; whether readings still keep to their lines; whether sets grow alike. Knows
//! hours and what leaves said of millimetres, and which readings stand between which
//! interventions. Does not know temperatures (a closure refers readings to 20 °C), verdicts
//! or what to do about it. Statistics are floats here; nothing in this room decides a limit.

#[cfg(test)]
mod alarms;
mod bootstrap;
mod change;
mod chart;
mod compare;
mod fit;
mod forecast;
mod likelihood;
mod line;
mod mark;
mod observation;
mod profile;
mod question;
mod robust;
mod segments;
mod spans;
mod station;

pub use bootstrap::Bootstrap;
pub use change::{Change, ChangeKind, Partition, Piece, partitions};
pub use chart::{
    Chart, ChartPoint, Individuals, RUN, Signal, SignalKind, WEIGHT, WIDTH, Weighted,
    settled_deviation,
};
pub use compare::{Answer, Comparison, Set, SetRate, Test};
pub use fit::{CONFIDENCE, Fit, HoursTo, PlainErrors, Segment, Which};
pub use forecast::{Bounded, Crossing, Mean, Reach};
pub use likelihood::Region;
pub use mark::{MarkTrend, worn};
pub use observation::{Observation, WhyNot};
pub use profile::{Profile, with_profile};
pub use question::{Alike, Question, SetOf};
pub use robust::{SecondOpinion, TheilSen};
pub use segments::{Model, SegmentMean, Segmented, Tried};
pub use spans::Axis;
pub use station::{Point, StationTrend};

use crate::domain::quantity::float;
use change::unrecorded;
use likelihood::behind;
use spans::Spans;

/// A count as a float.
fn count(n: usize) -> f64 {
    float(i64::try_from(n).unwrap_or(i64::MAX))
}
