//! What was measured, seen and done, and the present state that follows from it.
//!
//! A session is written once. Which edge is in use, what is in the pack, hours on the edge: all
//! is folded from the sessions in order, so there is no second copy of the truth. Does not know
//! limits, verdicts or files.

mod fold;
mod history;
mod impossible;
mod mark;
mod merge;
mod remark;
mod session;
mod settle;
mod signing;
mod work;

#[cfg(test)]
mod tests;

pub use fold::{families, fold};
pub use history::{BladeState, Cut, EffectOnLine, History, Observed, Seen, Stint};
pub use impossible::{Impossible, impossible};
pub use mark::{MARK_STEP, Mark, MarkFault, MarkKind, MarkLog, MarkSeen};
pub use merge::merge;
pub use remark::Remark;
pub use session::{Counted, Counters, Finding, FindingKind, Reading, Session, SessionId};
pub use signing::{Dated, SignFault, may_sign, read_counter};
pub use work::{BoltSpan, WeldPart, Work};
