//! A yard as columns, for engines that ask thousands of yards at once.
//!
//! Three tables in Parquet files, partitioned by machine and year the way Hive does it:
//!
//! ```text
//! fleet/readings/shear=heron/year=2026/part-1a2b3c4d-0001.parquet
//! fleet/sessions/shear=heron/year=2026/part-1a2b3c4d-0001.parquet
//! fleet/work_done/shear=heron/year=2026/part-1a2b3c4d-0001.parquet
//! ```
//!
//! The eight digits tell yards apart (the CRC-32 of the yard's name, which must differ), the four
//! count exports. Files are only ever added. Every name ends in its unit; what is absent is null;
//! times are UTC.
//!
//! - `readings`, one row a reading: `yard`, `session`, `station`, `line`, `place`, `taken`,
//!   `meter_h`, `service_h` (hours that never run backwards by a change of meter), `segment` (how
//!   often work had moved this line's gaps before), `go_mm` (null: not even the thinnest leaf went),
//!   `no_go_mm` (null: all leaves went), `blade_temp_c`, `jaw_temp_c`, `air_temp_c`, `set_aside` (why
//!   it does not count for growth), and the limits of the line at export: `working_min_mm`,
//!   `working_max_mm`, `stop_min_mm`, `stop_max_mm`, `limits_source`.
//! - `sessions`, one row a visit: `yard`, `session`, `family` (the first of the visits that correct
//!   one another; of each family the newest by name counts), `amends`, `taken`, `meter_h`,
//!   `service_h`, `by`, `air_temp_c`, `jaw_temp_c`, `tonnage_t`, `cuts`, `readings`, `work`,
//!   `findings`, `note`.
//! - `work_done`, one row a piece of work: `yard`, `session`, `number`, `at`, `meter_h`, `service_h`,
//!   `kind`, `blade`, `lines`, `put_in_mm`, `take_out_mm`, `pack_mm`, `edge`, `torque_nm`.
//!
//! Visits that a correction stands in for stay in the tables, without `service_h` and `segment`,
//! since a file that was written may have been read. What follows from the whole log (`service_h`,
//! `segment`, limits) is as of the export that wrote the row; a folder exported anew has all of it
//! as of today. Letters of lines are ours: match a manual by `place`, not by letter.
//!
//! Makes bytes; does not know which visits were exported before, nor where files go.

mod columns;
mod rows;

pub use columns::Unwritable;
pub use rows::{Part, parts};
