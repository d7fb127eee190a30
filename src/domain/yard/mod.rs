//! A yard: the machines somebody looks after, the leaves in the toolbox, the shims on the shelf.
//!
//! Knows what belongs together; does not know where it is stored.

mod tolerance;
mod upkeep;

pub use tolerance::{Rule, Tolerance};
pub use upkeep::{Part, PartKind, Upkeep, WorkTimes};

use crate::domain::{
    gauge::{Kit, LeafSet, Repeatability, Usual},
    log::{History, Session, SessionId, fold},
    machine::{OwnIntervals, Shear, ShearId},
    quantity::{Hours, Length, LengthUnit},
};
use std::{collections::BTreeMap, sync::Arc};

/// Shims of one thickness on the shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ShelfItem {
    /// Thickness of one shim.
    pub thickness: Length,
    /// How many there are.
    pub count: u16,
}

/// How often something is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Intervals {
    /// Hours between two looks at the gaps.
    pub look: Hours,
    /// Hours between two lubrications.
    pub lubricate: Hours,
    /// Hours after work by which bolts are tightened again.
    pub retorque: Hours,
    /// Hours after a fresh edge in which only thin stock is cut.
    pub break_in: Hours,
}

impl Intervals {
    /// What is assumed where nobody has written anything else: common practice, no published
    /// source. The machine's manual comes first.
    pub const USUAL: Self = Self {
        look: Hours::from_whole(8),
        lubricate: Hours::from_whole(40),
        retorque: Hours::from_whole(2),
        break_in: Hours::from_whole(4),
    };

    /// These, but for what a machine says of itself.
    #[must_use]
    pub fn but_for(self, own: OwnIntervals) -> Self {
        Self {
            look: own.look.unwrap_or(self.look),
            lubricate: own.lubricate.unwrap_or(self.lubricate),
            retorque: own.retorque.unwrap_or(self.retorque),
            break_in: own.break_in.unwrap_or(self.break_in),
        }
    }
}

/// What belongs to the yard as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// What the yard is called.
    pub name: String,
    /// Leaf sets, the usual one first.
    pub leaf_sets: Vec<LeafSet>,
    /// Shims on the shelf, thinnest first.
    pub shelf: Vec<ShelfItem>,
    /// How often something is due.
    pub intervals: Intervals,
    /// The yard's own findings.
    pub own_findings: Vec<String>,
    /// The crew's scatter from a gauge study, if it did one.
    pub repeatability: Option<Repeatability>,
    /// How sure a verdict must be.
    pub tolerance: Tolerance,
    /// The unit people read.
    pub unit: LengthUnit,
    /// Spare parts, and how long work takes.
    pub upkeep: Upkeep,
}

impl Settings {
    /// What a yard has before anybody has said anything: a usual leaf set, nothing on the shelf.
    pub fn usual(name: String) -> Self {
        Self {
            name,
            leaf_sets: Usual::MetricTen.set().into_iter().collect(),
            shelf: Vec::new(),
            intervals: Intervals::USUAL,
            own_findings: Vec::new(),
            repeatability: None,
            tolerance: Tolerance::default(),
            unit: LengthUnit::Millimetre,
            upkeep: Upkeep::default(),
        }
    }

    /// How often something is due on a machine of this yard.
    pub fn intervals_of(&self, shear: &Shear) -> Intervals {
        self.intervals.but_for(shear.intervals)
    }

    /// What readings are made with: the usual leaf set and the hand.
    pub fn kit(&self) -> Kit<'_> {
        self.kit_of(None)
    }

    /// What a reading with the leaf set of this name was made with; the usual set for `None`, and
    /// for a set that the yard does not name any more.
    pub fn kit_of(&self, leaves: Option<&str>) -> Kit<'_> {
        let named = leaves.and_then(|name| self.leaf_sets.iter().find(|set| set.name() == name));
        Kit { leaves: named.or(self.leaf_sets.first()), hand: self.repeatability.as_ref() }
    }

    /// The set in the hand of somebody who reads this unit: the first that is stamped in it, or
    /// else the usual one.
    pub fn leaves_in(&self, unit: LengthUnit) -> Option<&LeafSet> {
        let stamped = self.leaf_sets.iter().find(|set| set.unit() == unit);
        stamped.or(self.leaf_sets.first())
    }

    /// What a reading made with `set` notes about it: nothing if it is the usual one.
    pub fn noted(&self, set: Option<&LeafSet>) -> Option<Arc<str>> {
        let usual = self.leaf_sets.first().map(LeafSet::name);
        set.map(LeafSet::name).filter(|name| Some(*name) != usual).map(Arc::from)
    }
}

/// One machine with its log.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    /// Its description.
    pub shear: Shear,
    /// Its sessions, as they were signed.
    pub sessions: Vec<Session>,
    /// Past and present folded from them.
    pub history: History,
}

impl Machine {
    /// A machine with its sessions folded.
    pub fn new(shear: Shear, sessions: Vec<Session>) -> Self {
        let history = fold(&shear, &sessions);
        Self { shear, sessions, history }
    }

    /// Of these sessions, which may be of any machine, those of this one that are not here, or not the
    /// same.
    pub fn lacks<'s>(&self, sessions: &'s [Session]) -> Vec<&'s Session> {
        let here: BTreeMap<&SessionId, &Session> =
            self.sessions.iter().map(|it| (&it.id, it)).collect();
        let mine = sessions.iter().filter(|it| it.shear == self.shear.id);
        mine.filter(|it| here.get(&it.id) != Some(it)).collect()
    }

    /// Adds a signed session.
    pub fn add(&mut self, session: Session) {
        self.sessions.push(session);
        self.history = fold(&self.shear, &self.sessions);
    }
}

/// Everything somebody looks after.
#[derive(Clone, Debug, PartialEq)]
pub struct Yard {
    /// What belongs to all machines.
    pub settings: Settings,
    /// The machines, by folder name.
    pub machines: Vec<Machine>,
}

impl Yard {
    /// The machine in this folder.
    pub fn machine(&self, id: &ShearId) -> Option<&Machine> {
        self.machines.iter().find(|machine| machine.shear.id == *id)
    }

    /// The initials of those who signed here, who signed last first.
    pub fn signed_by(&self) -> Vec<&str> {
        let mut signed: Vec<_> = self
            .machines
            .iter()
            .flat_map(|machine| &machine.history.sessions)
            .map(|session| (session.taken, session.by.trim()))
            .filter(|(_, by)| !by.is_empty())
            .collect();
        signed.sort_by(|a, b| b.cmp(a));
        let mut known: Vec<&str> = Vec::new();
        for (_, by) in signed {
            if !known.contains(&by) {
                known.push(by);
            }
        }
        known
    }

    /// The machine in this folder, to be changed.
    pub fn machine_mut(&mut self, id: &ShearId) -> Option<&mut Machine> {
        self.machines.iter_mut().find(|machine| machine.shear.id == *id)
    }
}
