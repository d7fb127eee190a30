//! Signing off: a visit becomes a session that is never edited again.

use crate::{
    domain::log::{Counted, Dated, Session, SignFault, may_sign},
    workbench::{Effect, Screen, Workbench},
};
use chrono::{DateTime, SecondsFormat, TimeDelta, Utc};

impl Workbench {
    /// Signs the open visit, or says on the visit why not.
    pub(crate) fn sign_off(&mut self, now: DateTime<Utc>, dated: Dated) -> Vec<Effect> {
        self.revision += 1;
        let Some(machine) = self.machine() else { return Vec::new() };
        let (id, log) = (machine.shear.id.clone(), machine.history.sessions.clone());
        let unfinished = self.visit().and_then(|visit| visit.unfinished(&machine.shear));
        let Some(visit) = self.visits.get_mut(&id) else { return Vec::new() };
        visit.signing = true;
        let may = match unfinished {
            Some(station) => Err(SignFault::Unfinished { station }),
            None => may_sign(&visit.session, &visit.meter_text, &log, now, dated),
        };
        let may = may.and_then(|meter| visit.counters.check(&log).map(|()| meter));
        match may {
            Ok(meter) => {
                visit.session.meter = meter;
                // Whatever was logged while the visit was open, such as a jam, came before its end.
                if let Some(last) = log.last().filter(|last| visit.session.taken <= last.taken) {
                    visit.session.taken = now.max(last.taken + TimeDelta::seconds(1));
                }
                if now < visit.session.taken && dated == Dated::AfterTheLast {
                    say_when(&mut visit.session.note, now);
                }
                visit.sign_fault = None;
                vec![Effect::Sign(Box::new(visit.session.clone()))]
            }
            Err(fault) => {
                visit.sign_fault = Some(fault);
                Vec::new()
            }
        }
    }

    /// The same with a counter that is a new one, or was set back.
    pub(crate) fn sign_with_new(&mut self, counted: Counted, now: DateTime<Utc>) -> Vec<Effect> {
        let id = self.machine().map(|machine| machine.shear.id.clone());
        if let Some(visit) = id.and_then(|id| self.visits.get_mut(&id)) {
            visit.counters.begins_anew(counted);
        }
        self.sign_off(now, Dated::ByTheClock)
    }

    /// A session is on disk: it joins the log, and its visit is over.
    pub(crate) fn signed(&mut self, session: Session) {
        self.revision += 1;
        let measured = !session.readings.is_empty();
        let (id, shear) = (session.id.clone(), session.shear.clone());
        self.decide.forget(&shear);
        if let Some(machine) = self.yard.machine_mut(&shear) {
            machine.add(session);
        }
        let over = self.visits.get(&shear).is_some_and(|visit| visit.session.id == id);
        if over {
            self.finish(&shear);
        }
        if over && measured {
            self.screen = Screen::Decide;
        }
    }
}

/// A date that is not the clock's says so, and what the clock said.
fn say_when(note: &mut String, now: DateTime<Utc>) {
    let when = now.to_rfc3339_opts(SecondsFormat::Secs, true);
    let words =
        format!("Signed {when} by this clock; dated after a session whose clock ran ahead.");
    *note = if note.is_empty() { words } else { format!("{note} {words}") };
}
