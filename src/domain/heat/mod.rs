//! Why faces get hot, and what that does to the gaps.
//!
//! A lumped network: every blade, the tip, the pads and both jaws are one temperature each;
//! contacts between facing parts make heat by friction while they are pressed together, and a part
//! that grows closes its gap and is pressed harder. Knows physics and the numbers of one machine;
//! does not know what somebody saw, nor what to do about it. Everything here is an estimate and
//! carries a low and a high case.

mod advice;
mod band;
mod colour;
mod depth;
mod force;
mod lesson;
mod machine;
mod network;
mod outside;
mod seen;
mod shift;
mod spread;
mod stability;
#[cfg(test)]
mod tests;

pub use advice::{Aim, BARE_C, lowest_gap_mm};
pub use band::{Band, Spreads, draw, of_shifts};
pub use colour::{BANDS, Colour, ColourBand, PUBLISHED, Published, colour_at};
pub use depth::Ground;
pub use force::{Cylinder, ForceAlong, Stock};
pub use lesson::{Lesson, Picture, Setting, Step, move_blade};
pub use machine::{CutForces, Model, ShiftWork, fault_of, force_along, stock, stock_places};
pub use network::{Contact, Duty, Joint, Link, Network, NetworkFault, Part, share_by_effusivity};
pub use outside::Outside;
pub use seen::{Seen, seen};
pub use shift::{AtContact, Event, EventKind, Sample, Shift, run};
pub use spread::{Cheeks, spread};
pub use stability::{Loop, settled, stability};
