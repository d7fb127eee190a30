//! Wear marks: other lengths of a blade than the gap in front of it.
//!
//! An edge's radius goes with the edge, a thickness with the blade, a tip's wear with its shape. So
//! a turned blade starts a new radius, a new blade starts all, and a weld at a tip starts the wear
//! of that tip anew; a weld anywhere else starts nothing. Does not know limits.

use crate::domain::{
    log::{History, Session, WeldPart, Work},
    machine::BladeId,
    quantity::{Hours, Length, LengthUnit, NumberError},
};
use chrono::{DateTime, Utc};

/// How finely a wear mark is read: a tenth of a millimetre.
///
/// A radius gauge, a caliper or leaves under a template tell no less of a worn edge, and it is not
/// touched at the same spot twice. So a value stands for everything within half of this on either
/// side, evenly, as for a scale that is read to its nearest line (GUM, JCGM 100:2008, 4.3.7). The
/// step itself is a judgement; no published source.
pub const MARK_STEP: Length = Length::from_um(100);

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

    /// Its word in tables and for other programs.
    pub const fn key(self) -> &'static str {
        match self {
            Self::EdgeRadius => "edge_radius",
            Self::Thickness => "thickness",
            Self::TipWear => "tip_wear",
        }
    }
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

/// Why what was typed is no wear mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MarkFault {
    /// It is no length.
    Number(NumberError),
    /// It is nothing.
    Nothing,
    /// It is more than the blade is thick when new, by more than a millimetre.
    TooMuch {
        /// What was typed.
        typed: Length,
        /// The thickness of the new blade.
        depth: Length,
    },
}

/// A new blade may be so much thicker than its file says.
const THICKER: Length = Length::from_um(1_000);

impl Mark {
    /// Reads what a person types, in `unit` unless another one stands after the number, for a blade
    /// so thick when new.
    ///
    /// # Errors
    ///
    /// [`MarkFault`] for text that is no length, for nothing, and for more than a blade can have.
    pub fn read(text: &str, unit: LengthUnit, depth: Length) -> Result<Length, MarkFault> {
        let typed = Length::parse(text, unit).map_err(MarkFault::Number)?;
        if typed <= Length::ZERO {
            return Err(MarkFault::Nothing);
        }
        if depth + THICKER < typed {
            return Err(MarkFault::TooMuch { typed, depth });
        }
        Ok(typed)
    }
}

/// A wear mark with when it was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MarkSeen {
    /// Service hours.
    pub at: Hours,
    /// When.
    pub taken: DateTime<Utc>,
    /// How much.
    pub value: Length,
    /// How often the edge, the blade or the shape had been renewed by then.
    pub renewed: usize,
}

/// The marks of one kind on one blade.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MarkLog {
    /// Oldest first.
    pub seen: Vec<MarkSeen>,
    /// How often the edge, the blade or the shape was renewed since the first of them.
    pub renewed: usize,
}

impl MarkLog {
    /// Those of the edge, the blade or the shape in use.
    fn in_use(&self) -> &[MarkSeen] {
        let first = self.seen.partition_point(|it| it.renewed < self.renewed);
        self.seen.get(first..).unwrap_or_default()
    }
}

impl History {
    /// The wear marks of a blade as it stands now, oldest first.
    pub fn marks_of(&self, blade: &BladeId, kind: MarkKind) -> &[MarkSeen] {
        self.marks.get(&(blade.clone(), kind)).map_or(&[], MarkLog::in_use)
    }

    pub(crate) fn take_marks(&mut self, session: &Session, at: Hours) {
        for Mark { blade, kind, value } in &session.marks {
            let log = self.marks.entry((blade.clone(), *kind)).or_default();
            let (taken, renewed) = (session.taken, log.renewed);
            log.seen.push(MarkSeen { at, taken, value: *value, renewed });
        }
    }

    /// Starts anew what work has made a thing of the past.
    pub(crate) fn marks_after(&mut self, work: &Work) {
        match work {
            Work::Turned { blade, .. } => self.renew(blade, MarkKind::EdgeRadius),
            Work::Replaced { blade, .. } => {
                for kind in MarkKind::ALL {
                    self.renew(blade, kind);
                }
            }
            Work::Welded { part: WeldPart::Tip(blade), .. } => self.renew(blade, MarkKind::TipWear),
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
            | Work::Welded { .. }
            | Work::Lubricated
            | Work::MeterChanged { .. } => {}
        }
    }

    fn renew(&mut self, blade: &BladeId, kind: MarkKind) {
        if let Some(log) = self.marks.get_mut(&(blade.clone(), kind)) {
            log.renewed += 1;
        }
    }
}
