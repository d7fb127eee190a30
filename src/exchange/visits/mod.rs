//! Visits as tables: one row per reading, per piece of work, per wear mark, per finding.
//!
//! Readings: `shear,station,taken,meter_h,go_mm,no_go_mm,blade_temp_c`. Work:
//! `shear,line,at,meter_h,kind,put_in_mm,take_out_mm,edge`. Wear marks:
//! `shear,blade,kind,taken,meter_h,value_mm`, the kind one of `edge_radius`, `thickness`,
//! `tip_wear`. A header is required, columns come in
//! any order, further columns are passed over; what we write has more of them, so that what we
//! write can be read back whole:
//!
//! | column | in | says |
//! | --- | --- | --- |
//! | `session` | all | the name of the visit; without it one is made from machine and time |
//! | `by`, `note` | all | initials and a note of the visit |
//! | `air_temp_c`, `jaw_temp_c` | readings | of the visit |
//! | `tonnage_t`, `cuts` | readings | the machine's other counters |
//! | `set_aside` | readings | why it does not count for growth; only written |
//! | `leaves` | readings | the leaf set by its name; none for the yard's usual one |
//! | `place` | readings | what the letter means here; only written, since letters are ours |
//! | `blade` | work | which blade; without it the fixed one of the line, where shims stand |
//! | `first_bolt`, `last_bolt` | work | the bolts that shims reach; none for the full length |
//! | `pack_mm` | work | the pack behind a blade that was turned or replaced |
//! | `with_blade` | work | the blade that another one changed places with (`swapped`) |
//! | `torque_nm` | work | of bolts that were tightened |
//! | `old_h`, `new_h` | work | the last reading of the old meter, the first of the new one |
//! | `part` | work | what was welded: `tip` (its `blade`), `upper_jaw`, `lower_jaw`, or nothing |
//! | `place`, `consumable`, `cooled_slowly`, `template_checked` | work | of a weld |
//! | `limit_mm`, `name` | marks | the limit and the blade's name as they are now; only written |
//!
//! An empty `go_mm` says that not even the thinnest leaf went, an empty `no_go_mm` that all did,
//! equal ones are an exact reading. Findings are only written
//! (`shear,line,station,taken,meter_h,finding,size_mm,note,place,session,by`): a finding says that a
//! machine must be looked at now, and that is said at the machine and not by a table. Several shims in one cell stand apart by spaces. Rows of one
//! machine and one time (or one `session`) are one visit. Knows nothing of files and folders, and
//! writes nothing: a [`Plan`] says what would change.

mod columns;
mod plan;
mod read;
mod work;
mod write;

pub use plan::{Change, Create, Fate, Plan, Tables, plan, plan_while};
pub(crate) use work::kind_of;
pub use write::{findings_table, marks_table, readings_table, work_table};
pub(crate) use write::{lines_of, seen_as, shims_text};

use crate::exchange::LineIssue;

/// Asked before each row of a table with the rows that are read and those there are; with a no, the
/// rest of the table is not read.
pub type GoesOn<'a> = &'a dyn Fn(usize, usize) -> bool;

/// Which of the tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Table {
    /// One row per reading.
    Readings,
    /// One row per piece of work.
    Work,
    /// One row per wear mark.
    Marks,
}

/// Something wrong in one of the tables.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableIssue {
    /// Which table.
    pub table: Table,
    /// What and where.
    pub issue: LineIssue,
}
