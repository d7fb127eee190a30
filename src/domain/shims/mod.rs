//! Which shims go behind a blade.
//!
//! Knows the shelf, the pack now, the rules for it and where the gaps should end. Searches every
//! full-length pack that the shelf and the present pack can make, so a refusal is a proof. Does not
//! know why the gap is wrong.

mod plan;

pub use plan::{Goal, PackPlan, Problem, Shortfall, plan};
