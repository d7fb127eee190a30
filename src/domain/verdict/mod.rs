//! What one reading says about its limits.
//!
//! First the reading is referred to 20 °C ([`cold()`]), then whole numbers answer yes, no or
//! undecided against each limit ([`judge()`]). Undecided is an answer: nothing here turns a bracket
//! into a midpoint. Does not know what to do about a verdict.

mod cold;
mod judge;

pub use cold::{Cold, cold};
pub use judge::{Verdict, VerdictKind, Way, Zone, judge};
