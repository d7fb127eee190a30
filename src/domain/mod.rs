//! What is true about gaps, blades and time.
//!
//! Knows lengths, machines, leaves, sessions and what follows from them. Does not know files, the
//! clock, threads, pixels, languages or serde: everything comes in as an argument and goes out as
//! a value. Arrows run down the list of sub-rooms only; `tests/it/tidy.rs` checks it.
#![warn(clippy::as_conversions)]

pub mod statistics;

pub mod quantity;

pub mod machine;

pub mod gauge;

pub mod log;

pub mod yard;

pub mod verdict;

pub mod trend;

pub mod heat;

pub mod shims;

pub mod bolts;

pub mod decide;

pub mod setup;
