//! What feeler leaves prove about a gap.
//!
//! Leaves do not measure a gap, they bracket it: the thickest stack that goes is a floor, the
//! thinnest that does not is a ceiling. Both are kept and no midpoint is invented here. Knows
//! leaves, stacks, brackets and how uncertain they are; does not know limits or what the machine is
//! for.

mod bracket;
mod budget;
mod leaves;
mod reading;
mod repeatability;
pub mod study;
mod typed;
mod usual;

pub use bracket::{Answer, Bracket, BracketError};
pub use budget::{Budget, Input, Product, Share};
pub use leaves::{Calibration, Leaf, LeafSet, STACK_MOST, Stack};
pub use reading::{Hand, Kit, ReadingBudget, Term, Warmth};
pub use repeatability::Repeatability;
pub use typed::{EntryFault, PLAUSIBLE_MOST, Typed, read_entry};
pub use usual::Usual;
