//! A yard and a machine in any state between two sound ones.
//!
//! Every number by itself is sound; whether they hold together is asked when it is finished. Limits
//! and leaf sets lie apart, because their own types refuse what is on the way.

use crate::domain::{
    gauge::{Calibration, Leaf, LeafSet},
    machine::{Band, Limits, LineId, Shear},
    quantity::{Length, LengthUnit},
    setup::{Field, slot::Slot},
    yard::Settings,
};
use std::collections::BTreeMap;

/// The unit in which a length is written to the last digit.
pub(crate) const EXACT: LengthUnit = LengthUnit::Millimetre;

/// The limits of a line, in any order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LimitsDraft {
    /// Where a gap is left after work.
    pub set: Band,
    /// Where the machine may cut.
    pub working: Band,
    /// Where it must stop.
    pub stop: Band,
    /// The smallest gap left at working temperature.
    pub hot_min: Length,
    /// The largest difference along the line.
    pub taper_max: Length,
    /// Where the numbers come from.
    pub source: String,
}

impl From<&Limits> for LimitsDraft {
    fn from(limits: &Limits) -> Self {
        Self {
            set: limits.set(),
            working: limits.working(),
            stop: limits.stop(),
            hot_min: limits.hot_min(),
            taper_max: limits.taper_max(),
            source: limits.source().to_owned(),
        }
    }
}

/// A leaf set, in any order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetDraft {
    /// What it is called.
    pub name: String,
    /// Its leaves.
    pub leaves: Vec<Leaf>,
    /// When its leaves were measured.
    pub calibration: Option<Calibration>,
}

impl From<&LeafSet> for SetDraft {
    fn from(set: &LeafSet) -> Self {
        Self {
            name: set.name().to_owned(),
            leaves: set.leaves().to_vec(),
            calibration: set.calibration(),
        }
    }
}

/// What is being described: the yard, and at most one of its machines.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The yard; its leaf sets are those it began with, see `sets`.
    pub settings: Settings,
    /// The leaf sets.
    pub sets: Vec<SetDraft>,
    /// The machine; the limits of its lines are those it began with, see `limits`.
    pub shear: Option<Shear>,
    /// The limits of its lines.
    pub limits: BTreeMap<LineId, LimitsDraft>,
}

impl Draft {
    /// Of what stands in the files.
    pub fn of(settings: &Settings, shear: Option<&Shear>) -> Self {
        let lines = shear.into_iter().flat_map(|shear| &shear.lines);
        Self {
            settings: settings.clone(),
            sets: settings.leaf_sets.iter().map(SetDraft::from).collect(),
            limits: lines.map(|line| (line.id, LimitsDraft::from(&line.limits))).collect(),
            shear: shear.cloned(),
        }
    }

    /// What a field holds, as a person would type it who reads lengths in `unit`; `None` for a field
    /// that is not there.
    pub fn text(&self, field: &Field, unit: LengthUnit) -> Option<String> {
        // A slot is a way to write; a copy of the draft is what it writes to here.
        self.clone().slot(field).map(|slot| slot.text(unit))
    }

    /// What every field holds, as a person would type it who reads lengths in `unit`.
    pub fn texts(&self, unit: LengthUnit) -> BTreeMap<Field, String> {
        let mut copy = self.clone();
        let text = |field: Field| {
            let text = copy.slot(&field)?.text(unit);
            Some((field, text))
        };
        self.fields().into_iter().filter_map(text).collect()
    }

    /// Whether lengths stand in a field.
    pub fn is_length(&self, field: &Field) -> bool {
        self.clone().slot(field).is_some_and(|slot| slot.is_length())
    }

    /// A field becomes what it is in `other`, to the last digit; nothing changes if either does not
    /// have it.
    pub fn take(&mut self, field: &Field, other: &Self) {
        if let Some(text) = other.text(field, EXACT) {
            self.put_exact(field, &text);
        }
    }

    /// Puts what a slot of the same kind has written; a field that is not there stays away.
    pub(crate) fn put_exact(&mut self, field: &Field, text: &str) {
        if let Some(slot) = self.slot(field) {
            slot.put(text, EXACT).ok();
        }
    }

    /// The words a field can be chosen from; none for one that is typed.
    pub fn choices(&self, field: &Field) -> Vec<String> {
        self.clone().slot(field).map_or_else(Vec::new, Slot::choices)
    }
}
