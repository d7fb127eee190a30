//! A yard and a machine while somebody describes them.
//!
//! A description has a few hundred numbers; each is a [`Field`] with a text that can be read into a
//! [`Draft`]. A draft may stand in any state between two sound ones, such as a minimum typed before
//! its maximum; [`Draft::finish`] asks the types that it is made of whether it holds together, and
//! names what does not by its field. Knows no rule of its own about limits or blades, no words for
//! a field, and no files.

mod check;
mod consequences;
mod draft;
mod field;
mod fields;
mod merge;
mod shape;
mod slot;

pub use check::{Finished, Flaw, SetupIssue};
pub use consequences::{Consequences, LineChange, StationChange, consequences};
pub use draft::{Draft, LimitsDraft, SetDraft};
pub use field::{
    Field, OfBlade, OfContact, OfHeat, OfJoint, OfLeaf, OfLimits, OfLine, OfLink, OfMachine,
    OfPart, OfSet, OfShelf, OfStation, OfYard,
};
pub use merge::Elsewhere;
pub use shape::{Change, hand_step};
