//! Gapwright: blade gaps of hydraulic scrap shears, from feeler leaf to decision.
//!
//! The rooms, in reading order:
//!
//! - [`domain`]: what is true. No files, clock, threads, pixels or serde.
//! - [`workbench`]: what happens when somebody acts: commands in, state and effects out.
//! - [`brief`]: what we tell people: every sentence and every rounding, once.
//! - [`language`]: the words of other languages for the sentences in the code.
//! - [`store`]: the yard on disk.
//! - [`exchange`]: tables that other programs make and read.
//! - [`report`]: a brief on paper; decides nothing.
//! - [`sample`]: an invented yard from a seed.
//! - [`cli`]: headless commands.
//! - [`gui`]: the window.
//!
//! Arrows between them run one way; `tests/it/tidy.rs` holds the table.

pub mod brief;
pub mod cli;
pub mod domain;
pub mod exchange;
pub mod gui;
pub mod language;
pub mod report;
pub mod sample;
pub mod store;
pub mod workbench;
