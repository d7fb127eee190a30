//! Lines through brackets by maximum likelihood.
//!
//! A reading says that a gap lies between two ends, not where. The most likely lines are those
//! under which readings in just these brackets are most probable. Knows hours, millimetres and
//! stretches between interventions; does not choose between models.

mod crossing;
mod inside;
mod lines;
mod maximise;
mod region;
mod solve;
mod term;
mod typical;

pub(crate) use crossing::{between, beyond};
pub(crate) use inside::{Slopes, Strip};
pub(crate) use lines::{Guess, Held, Lines, Shape, Stretch, behind, centre};
pub(crate) use maximise::{Maximum, Weights};
pub use region::Region;
pub(crate) use typical::Typical;
