//! What settles a finding.
//!
//! A crack or a chip does not go away because somebody moved the gap; a jam is over once somebody
//! has looked. Knows which later readings and work answer which finding; does not know what an
//! open one calls for.

use crate::domain::{
    log::{Finding, FindingKind, History, Session, Work},
    machine::Shear,
};

/// How much it takes to settle a finding, least first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Needs {
    /// Readings on its line, or any work on a blade of it.
    Look,
    /// Another face, or a new blade.
    OtherFace,
    /// A new blade: a cracked one is still cracked when it was turned.
    NewBlade,
}

const fn needs(kind: &FindingKind) -> Needs {
    match kind {
        FindingKind::SurfaceCracks => Needs::NewBlade,
        FindingKind::ChippedEdge
        | FindingKind::StrawStreak
        | FindingKind::BrownStreak
        | FindingKind::PurpleStreak
        | FindingKind::BlueStreak => Needs::OtherFace,
        FindingKind::Jam
        | FindingKind::Chatter
        | FindingKind::LooseBolt
        | FindingKind::StockCaught
        | FindingKind::Own(_) => Needs::Look,
    }
}

impl History {
    /// Settles what a look at the line answers. Call it before the session's own findings join: they
    /// were made during the look, not before it.
    pub(crate) fn settle_by_readings(&mut self, session: &Session) {
        self.settle(session, |finding| {
            let mut lines = session.readings.iter().map(|reading| reading.station.line);
            needs(&finding.kind) == Needs::Look
                && lines.any(|read| finding.line.is_none_or(|line| line == read))
        });
    }

    /// Settles what work on a blade puts right on the lines it faces, and what nobody gave a place.
    pub(crate) fn settle_by_work(&mut self, shear: &Shear, session: &Session, work: &Work) {
        let Some(blade) = work.blade() else { return };
        let strength = match work {
            Work::Replaced { .. } => Needs::NewBlade,
            Work::Turned { .. } => Needs::OtherFace,
            _ => Needs::Look,
        };
        self.settle(session, |finding| {
            let faces =
                |id| shear.line(id).is_some_and(|it| it.moving == *blade || it.fixed == *blade);
            needs(&finding.kind) <= strength && finding.line.is_none_or(faces)
        });
    }

    fn settle(&mut self, session: &Session, answers: impl Fn(&Finding) -> bool) {
        for seen in self.seen.iter_mut().filter(|seen| seen.settled.is_none()) {
            if answers(&seen.finding) {
                seen.settled = Some(session.id.clone());
            }
        }
    }
}
