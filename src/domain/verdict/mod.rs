//! What one reading says about its limits.
//!
//! First the reading is referred to 20 °C ([`cold()`]), then whole numbers answer yes, no or
//! undecided against each limit ([`judge()`]); only what they leave open is weighed ([`weigh()`]).
//! Undecided is an answer: nothing here turns a bracket into a midpoint unless the yard's rule
//! says so. Does not know what to do about a verdict.

mod cold;
mod judge;
mod next_leaf;
mod probability;
mod weigh;

pub use cold::{Cold, cold};
pub use judge::{Verdict, VerdictKind, Way, Zone, judge};
pub use next_leaf::next_leaf;
pub use probability::{Basis, Chance, Law, Prior, expanded_mm};
pub use weigh::weigh;
