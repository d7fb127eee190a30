//! Signing off: a visit becomes a session that is never edited again.

use crate::{
    domain::log::{Session, may_sign},
    workbench::{Effect, Screen, Workbench},
};
use chrono::{DateTime, Utc};

impl Workbench {
    /// Signs the open visit, or says on the visit why not.
    pub(crate) fn sign_off(&mut self, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let last = self.machine().and_then(|machine| machine.history.last()).cloned();
        let Some(id) = self.machine.clone() else { return Vec::new() };
        let Some(visit) = self.visits.get_mut(&id) else { return Vec::new() };
        visit.signing = true;
        match may_sign(&visit.session, &visit.meter_text, last.as_ref(), now) {
            Ok(meter) => {
                visit.session.meter = meter;
                visit.sign_fault = None;
                vec![Effect::Sign(Box::new(visit.session.clone()))]
            }
            Err(fault) => {
                visit.sign_fault = Some(fault);
                Vec::new()
            }
        }
    }

    /// A session is on disk: it joins the log, and its visit is over.
    pub(crate) fn signed(&mut self, session: Session) {
        self.revision += 1;
        let measured = !session.readings.is_empty();
        let over =
            self.visits.get(&session.shear).is_some_and(|visit| visit.session.id == session.id);
        if over {
            self.finish(&session.shear);
        }
        if let Some(machine) = self.yard.machine_mut(&session.shear) {
            machine.add(session);
        }
        if over && measured {
            self.screen = Screen::Decide;
        }
    }
}
