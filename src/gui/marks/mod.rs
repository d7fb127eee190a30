//! Small drawn signs that carry meaning beside colour.
//!
//! Knows outlines: [`VerdictMark`] says where a reading lies, [`ActionMark`] what to do, [`Icon`]
//! everything else. Each has its own shape, so that it reads at 16 points and without colour.
//! Refuses to know words: callers put a word beside every mark. No glyph of a typeface is used,
//! because our typeface has none of these.

mod action;
mod icon;
mod pen;
mod verdict;

pub use action::ActionMark;
pub use icon::{Icon, Streak};
pub use verdict::VerdictMark;
