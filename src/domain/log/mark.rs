//! Wear marks: other lengths of a blade than the gap in front of it.
//!
//! An edge's radius goes with the edge, a thickness with the blade, a tip's wear with its shape. So
//! a turned blade starts a new radius, a new blade starts all, and a build-up weld starts the tip's
//! wear anew. Does not know limits.

use crate::domain::{
    log::{History, Session, Work},
    machine::BladeId,
    quantity::{Hours, Length},
};

/// What was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MarkKind {
    /// The radius of the cutting edge in use.
    EdgeRadius,
    /// The thickness of the blade.
    Thickness,
    /// The gap between the tip and its template.
    TipWear,
}

impl MarkKind {
    /// Every kind.
    pub const ALL: [Self; 3] = [Self::EdgeRadius, Self::Thickness, Self::TipWear];
}

/// One wear mark, measured.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// The blade.
    pub blade: BladeId,
    /// What.
    pub kind: MarkKind,
    /// How much, not below zero.
    pub value: Length,
}

/// A wear mark with when it was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MarkSeen {
    /// Service hours.
    pub at: Hours,
    /// How much.
    pub value: Length,
}

impl History {
    /// The wear marks of a blade as it stands now, oldest first.
    pub fn marks_of(&self, blade: &BladeId, kind: MarkKind) -> &[MarkSeen] {
        self.marks.get(&(blade.clone(), kind)).map_or(&[], Vec::as_slice)
    }

    pub(crate) fn take_marks(&mut self, session: &Session, at: Hours) {
        for Mark { blade, kind, value } in &session.marks {
            let seen = MarkSeen { at, value: *value };
            self.marks.entry((blade.clone(), *kind)).or_default().push(seen);
        }
    }

    /// Forgets what work has made a thing of the past.
    pub(crate) fn marks_after(&mut self, work: &Work) {
        match work {
            Work::Turned { blade, .. } => {
                self.marks.remove(&(blade.clone(), MarkKind::EdgeRadius));
            }
            Work::Replaced { blade, .. } => self.marks.retain(|(of, _), _| of != blade),
            Work::Welded { .. } => self.marks.retain(|(_, kind), _| *kind != MarkKind::TipWear),
            Work::Swapped { blade, with } => {
                for kind in MarkKind::ALL {
                    let here = self.marks.remove(&(blade.clone(), kind));
                    let there = self.marks.remove(&(with.clone(), kind));
                    self.marks.extend(here.map(|it| ((with.clone(), kind), it)));
                    self.marks.extend(there.map(|it| ((blade.clone(), kind), it)));
                }
            }
            Work::Shims { .. }
            | Work::Tightened { .. }
            | Work::Lubricated
            | Work::MeterChanged { .. } => {}
        }
    }
}
