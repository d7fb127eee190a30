//! Work on a machine.

use crate::domain::{
    machine::BladeId,
    quantity::{Hours, Length, Torque},
};

/// Bolts from `first` to `last`, counted from 1 at the pivot end, both included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoltSpan {
    /// The first bolt.
    pub first: u8,
    /// The last bolt.
    pub last: u8,
}

impl BoltSpan {
    /// Whether it covers a bolt.
    pub fn reaches(self, bolt: u8) -> bool {
        (self.first..=self.last).contains(&bolt)
    }

    /// How many bolts it covers.
    pub const fn count(self) -> u8 {
        self.last.saturating_sub(self.first).saturating_add(1)
    }
}

/// The part of a shear that was welded.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum WeldPart {
    /// A tip, by its blade: its shape is that of the template again.
    Tip(BladeId),
    /// The upper jaw.
    UpperJaw,
    /// The lower jaw itself or one of its cheeks, welded or straightened: a jaw that has spread is
    /// together again.
    LowerJaw,
    /// Another part, or nobody said which; no words about it say more.
    #[default]
    Elsewhere,
}

/// Something done to the machine.
#[derive(Clone, Debug, PartialEq)]
pub enum Work {
    /// Shims put in or taken out behind a blade.
    Shims {
        /// The blade.
        blade: BladeId,
        /// The bolts the shims reach; `None` means the full length.
        bolts: Option<BoltSpan>,
        /// Thickness of each shim put in.
        put_in: Vec<Length>,
        /// Thickness of each shim taken out.
        take_out: Vec<Length>,
    },
    /// A blade turned to another edge, with whatever then stands in its pack.
    Turned {
        /// The blade.
        blade: BladeId,
        /// The edge now in use, counted from 1.
        edge: u8,
        /// The pack behind it afterwards.
        pack: Vec<Length>,
    },
    /// A new blade, on edge 1, with whatever then stands in its pack.
    Replaced {
        /// The blade.
        blade: BladeId,
        /// The pack behind it afterwards.
        pack: Vec<Length>,
    },
    /// Two blades that changed places, each with its edges. Their packs stay where they are.
    Swapped {
        /// The place of one.
        blade: BladeId,
        /// The place of the other.
        with: BladeId,
    },
    /// Bolts tightened to a torque.
    Tightened {
        /// The blade.
        blade: BladeId,
        /// The final torque.
        torque: Torque,
    },
    /// Build-up or hard-facing weld.
    Welded {
        /// The part: what follows from the weld follows from this alone.
        part: WeldPart,
        /// Where, in words.
        place: String,
        /// The consumable.
        consumable: String,
        /// Whether the part was left to cool slowly.
        cooled_slowly: bool,
        /// Whether the template was laid on afterwards.
        template_checked: bool,
    },
    /// Grease and oil.
    Lubricated,
    /// The hour meter changed: the shear moved to another carrier, or got a new meter.
    MeterChanged {
        /// The last reading of the old meter.
        old: Hours,
        /// The first reading of the new one.
        new: Hours,
    },
}

impl Work {
    /// The blade it was done to, if it was one.
    pub const fn blade(&self) -> Option<&BladeId> {
        match self {
            Self::Shims { blade, .. }
            | Self::Turned { blade, .. }
            | Self::Replaced { blade, .. }
            | Self::Swapped { blade, .. }
            | Self::Tightened { blade, .. }
            | Self::Welded { part: WeldPart::Tip(blade), .. } => Some(blade),
            Self::Welded { .. } | Self::Lubricated | Self::MeterChanged { .. } => None,
        }
    }

    /// The other blade, where two changed places.
    pub const fn other_blade(&self) -> Option<&BladeId> {
        match self {
            Self::Swapped { with, .. } => Some(with),
            _ => None,
        }
    }

    /// Whether it is a weld or a straightening at the lower jaw or its cheeks, which brings a jaw that
    /// has spread back together; a weld at a tip or on the upper jaw does not.
    pub const fn mends_jaw(&self) -> bool {
        matches!(self, Self::Welded { part: WeldPart::LowerJaw, .. })
    }

    /// Whether it moves the gap in front of its blade.
    pub const fn moves_gap(&self) -> bool {
        matches!(
            self,
            Self::Shims { .. } | Self::Turned { .. } | Self::Replaced { .. } | Self::Swapped { .. }
        )
    }
}
