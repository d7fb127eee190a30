//! How far readings of one gap by one crew scatter, as a gauge study found it.

use crate::domain::quantity::Length;
use chrono::NaiveDate;

/// The scatter of one reading by anybody of a crew, taken from a gauge study.
///
/// Invariant of use: `sigma` is zero or more; the store refuses a negative one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repeatability {
    /// One standard deviation of a reading, with what different people add to it.
    pub sigma: Length,
    /// From how many degrees of freedom the study found it; `None` if it does not say.
    pub dof: Option<u32>,
    /// The study it comes from, in words a person finds it by.
    pub from: String,
    /// The day of that study.
    pub taken: NaiveDate,
}
