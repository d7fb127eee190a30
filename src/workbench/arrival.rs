//! What others put into the yard while this window is open, and what of this window's own visit
//! another window kept.
//!
//! Nothing here overrules what is in hand: an open visit is brought together with what arrived, and
//! if it was signed elsewhere, what that does not hold goes on as a visit of its own.

use crate::{
    domain::{
        log::{Session, SessionId},
        machine::Shear,
        yard::{Machine, Settings},
    },
    workbench::{Effect, Workbench},
};
use chrono::{DateTime, Utc};
use std::collections::BTreeSet;

/// What has arrived.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Arrival {
    /// Signed sessions.
    pub sessions: Vec<Session>,
    /// Drafts.
    pub drafts: Vec<Session>,
    /// Descriptions of machines.
    pub shears: Vec<Shear>,
    /// What belongs to the yard as a whole.
    pub settings: Option<Settings>,
}

impl Workbench {
    /// Takes in what has arrived; what is known already changes nothing.
    pub(crate) fn arrived(&mut self, arrival: Arrival, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let described = arrival.settings.is_some() || !arrival.shears.is_empty();
        if let Some(settings) = arrival.settings {
            self.yard.settings = settings;
        }
        for shear in arrival.shears {
            self.described(shear);
        }
        if described && let Some(desk) = &mut self.setup {
            desk.found(&self.yard);
        }
        let mut new: Vec<&Session> = Vec::new();
        for machine in &mut self.yard.machines {
            let lacking = machine.lacks(&arrival.sessions);
            if lacking.is_empty() {
                continue;
            }
            let names: BTreeSet<&SessionId> = lacking.iter().map(|it| &it.id).collect();
            let mut all = std::mem::take(&mut machine.sessions);
            all.retain(|known| !names.contains(&known.id));
            all.extend(lacking.iter().copied().cloned());
            *machine = Machine::new(machine.shear.clone(), all);
            new.extend(lacking);
        }
        let mut effects = Vec::new();
        for session in new {
            effects.extend(self.signed_elsewhere(session, now));
        }
        for draft in arrival.drafts {
            effects.extend(self.drafted_elsewhere(draft));
        }
        effects
    }

    pub(crate) fn described(&mut self, shear: Shear) {
        match self.yard.machine_mut(&shear.id) {
            Some(machine) if machine.shear == shear => {}
            Some(machine) => *machine = Machine::new(shear, std::mem::take(&mut machine.sessions)),
            None => {
                self.yard.machines.push(Machine::new(shear, Vec::new()));
                self.yard.machines.sort_by(|a, b| a.shear.id.cmp(&b.shear.id));
            }
        }
    }

    /// The open visit was signed in another window: it is over, unless it holds more.
    fn signed_elsewhere(&mut self, signed: &Session, now: DateTime<Utc>) -> Vec<Effect> {
        self.waiting.retain(|draft| draft.id != signed.id || draft.shear != signed.shear);
        let open = self.visits.get(&signed.shear).filter(|visit| visit.session.id == signed.id);
        let Some(whole) = open.map(|visit| visit.session.clone()) else { return Vec::new() };
        let mut rest = whole.clone();
        rest.readings.retain(|it| !signed.readings.contains(it));
        rest.marks.retain(|it| !signed.marks.contains(it));
        rest.findings.retain(|it| !signed.findings.contains(it));
        rest.work.retain(|it| !signed.work.contains(it));
        rest.remarks.retain(|it| !signed.remarks.contains(it));
        if rest.note == signed.note {
            rest.note.clear();
        }
        if !holds_something(&rest) {
            self.finish(&signed.shear);
            return Vec::new();
        }
        rest.id = self.fresh_id(&signed.shear, now);
        if let Some(visit) = self.visits.get_mut(&signed.shear) {
            visit.become_session(rest.clone());
        }
        vec![Effect::MoveDraft { from: Box::new(whole), to: Box::new(rest) }]
    }

    fn drafted_elsewhere(&mut self, draft: Session) -> Option<Effect> {
        let machine = self.yard.machine(&draft.shear)?;
        if machine.sessions.iter().any(|it| it.id == draft.id) {
            return None;
        }
        let visit = self.visits.get(&draft.shear);
        match visit {
            Some(visit) if visit.session.id == draft.id => {
                // The disk holds what both know once this is saved together with it.
                let ours = &visit.session;
                (*ours != draft).then(|| Effect::SaveDraft(Box::new(ours.clone())))
            }
            Some(visit) if !visit.holds_something() && visit.entries.is_empty() => {
                self.visits.remove(&draft.shear);
                self.resume(draft);
                None
            }
            _ => {
                let waiting = self.waiting.iter_mut().find(|it| it.id == draft.id);
                match waiting {
                    Some(known) => *known = draft,
                    None => self.resume(draft),
                }
                None
            }
        }
    }

    /// The draft on the disk holds more than this window's visit: another window wrote it too.
    pub(crate) fn draft_kept(&mut self, draft: Session, at: DateTime<Utc>) {
        self.revision += 1;
        let visit = self.visits.get_mut(&draft.shear);
        if let Some(visit) = visit.filter(|visit| visit.session.id == draft.id) {
            visit.saved = Some(at);
            if visit.session != draft {
                visit.become_session(draft);
            }
        }
    }
}

/// Whether a session says anything of its machine.
pub(crate) const fn holds_something(it: &Session) -> bool {
    !(it.readings.is_empty()
        && it.marks.is_empty()
        && it.findings.is_empty()
        && it.work.is_empty()
        && it.remarks.is_empty()
        && it.note.is_empty())
}
