//! Work that cannot have been done as it was written down.
//!
//! Walks the log beside the fold, which takes every session as it stands. Claims nothing it cannot
//! prove: shims that stood behind a blade before the log begins may well come out.

use crate::domain::{
    log::{Session, SessionId, Work},
    machine::{Blade, BladeId, Shear},
    quantity::Length,
};
use std::collections::BTreeMap;

/// What cannot be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Impossible {
    /// A blade was turned to an edge it does not have.
    Edge {
        /// The blade.
        blade: BladeId,
        /// The edge that was written down.
        edge: u8,
        /// How many it has.
        edges: u8,
    },
    /// A shim came out that did not stand in the pack.
    NotInPack {
        /// The blade.
        blade: BladeId,
        /// The shim.
        shim: Length,
    },
    /// Shims reach bolts that the blade does not have.
    Bolt {
        /// The blade.
        blade: BladeId,
        /// The bolt that was written down.
        bolt: u8,
        /// How many it has.
        bolts: usize,
    },
}

/// Everything that cannot be in these sessions, oldest first, each with its session.
pub fn impossible(shear: &Shear, sessions: &[Session]) -> Vec<(SessionId, Impossible)> {
    let mut packs: BTreeMap<&BladeId, Pack> = BTreeMap::new();
    let mut found = Vec::new();
    for session in sessions {
        for work in &session.work {
            let Some(blade) = work.blade().and_then(|id| shear.blade(id)) else { continue };
            let pack = packs.entry(&blade.id).or_default();
            let wrong = pack.take(blade, work);
            found.extend(wrong.into_iter().map(|it| (session.id.clone(), it)));
        }
    }
    found
}

/// What is known to stand behind a blade.
#[derive(Debug, Default)]
struct Pack {
    shims: Vec<Length>,
    /// Whether nothing else can stand there: the pack was written down when an edge was set.
    whole: bool,
}

impl Pack {
    fn take(&mut self, blade: &Blade, work: &Work) -> Vec<Impossible> {
        match work {
            Work::Shims { bolts, put_in, take_out, .. } => {
                let mut wrong = Vec::new();
                let count = blade.bolts.as_ref().map(|it| it.from_pivot.len());
                if let (Some(span), Some(bolts)) = (bolts, count)
                    && bolts < usize::from(span.last)
                {
                    wrong.push(Impossible::Bolt {
                        blade: blade.id.clone(),
                        bolt: span.last,
                        bolts,
                    });
                }
                for shim in take_out {
                    match self.shims.iter().rposition(|it| it == shim) {
                        Some(place) => drop(self.shims.remove(place)),
                        None if self.whole || blade.pack.is_some_and(|it| it.thickest < *shim) => {
                            wrong.push(Impossible::NotInPack {
                                blade: blade.id.clone(),
                                shim: *shim,
                            });
                        }
                        None => {}
                    }
                }
                self.shims.extend(put_in);
                wrong
            }
            Work::Turned { edge, pack, .. } => {
                *self = Self { shims: pack.clone(), whole: true };
                let edges = blade.edges;
                let beyond = edges < *edge;
                let wrong = Impossible::Edge { blade: blade.id.clone(), edge: *edge, edges };
                beyond.then_some(wrong).into_iter().collect()
            }
            Work::Replaced { pack, .. } => {
                *self = Self { shims: pack.clone(), whole: true };
                Vec::new()
            }
            Work::Swapped { .. }
            | Work::Tightened { .. }
            | Work::Welded { .. }
            | Work::Lubricated
            | Work::MeterChanged { .. } => Vec::new(),
        }
    }
}
