//! Which shims go behind which blade.
//!
//! Knows the shelf, the packs now, the rules for them and where the gaps should end. A place that
//! takes a pack is a seat: a whole blade, or some of its bolts. Every pack that shelf and present
//! pack can make is looked at, so an answer is the best one and a refusal is a proof. Does not know
//! why a gap is wrong.

mod bed;
mod problem;
mod search;
mod seat;
mod shared;
mod single;
mod sums;

pub use bed::{Bed, BedPlan};
pub use problem::{NamedSeat, PackProblem, ProblemFault};
pub use seat::{Goal, PackPlan, Seat, Shortfall};
pub use shared::{BedsPlan, SharedPlan, Unshared, plan_beds, plan_shared};
pub use single::plan;
