//! Tables that other programs make and read: CSV in and out, Parquet out.
//!
//! Knows headers, separators, decimal commas and line numbers, and names every fault by its line.
//! Does not know what numbers mean. Repairs nothing: what cannot be used is left out and said.

mod cell;
pub mod fleet;
mod growth;
mod issue;
mod kept;
mod sheet;
mod study;
pub mod visits;

pub use growth::growth_table;
pub use issue::LineIssue;
pub use kept::{KeptStudy, write_study};
pub use sheet::table_bytes;
pub use study::{StudyFile, open_study, read_study};
