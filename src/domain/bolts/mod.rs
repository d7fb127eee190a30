//! How hard a bolt is tightened.
//!
//! Knows threads, strength classes and friction, and turns them into a clamp force and a torque.
//! Does not know which blade a bolt holds, nor the machine's file: where that names a torque it is
//! the one to use, and `brief` says which of the two was.

mod grade;
mod thread;
mod tighten;

pub use grade::{Grade, NotAGrade};
pub use thread::{NotAThread, Pitch, Thread};
pub use tighten::{
    Aim, Bolt, BoltFault, DEFAULT_FRICTION, DEFAULT_NUT_FACTOR, DEFAULT_PROOF_SHARE,
    DEFAULT_YIELD_SHARE, Friction, Tightened, Turning, tighten,
};
