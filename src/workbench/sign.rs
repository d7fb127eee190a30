//! Signing off: a visit becomes a session that is never edited again.

use crate::{
    domain::{
        log::Session,
        quantity::{Hours, NumberError},
    },
    workbench::{Effect, Screen, Workbench},
};
use chrono::{DateTime, Duration, Utc};

/// Why a visit cannot be signed yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SignFault {
    /// Nothing was measured or seen.
    Empty,
    /// The hour meter was not typed or is no number.
    Meter(NumberError),
    /// The hour meter runs backwards.
    MeterBackwards {
        /// As typed.
        typed: Hours,
        /// In the last session.
        last: Hours,
    },
    /// The hour meter jumps ahead by more than the clock allows.
    MeterLeaps {
        /// As typed.
        typed: Hours,
        /// In the last session.
        last: Hours,
        /// Hours on the clock since then.
        clock_h: i64,
    },
    /// Nobody's initials.
    NoInitials,
    /// The clock stands before the last session: one of the two dates is wrong.
    ClockBehind {
        /// The last session's time.
        last: DateTime<Utc>,
    },
}

impl Workbench {
    /// Signs the open visit, or says on the visit why not.
    pub(crate) fn sign_off(&mut self, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let last = self.machine().and_then(|machine| machine.history.last()).cloned();
        let Some(id) = self.machine.clone() else { return Vec::new() };
        let Some(visit) = self.visits.get_mut(&id) else { return Vec::new() };
        visit.signing = true;
        match check(&visit.session, &visit.meter_text, last.as_ref(), now) {
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
            self.visits.remove(&session.shear);
        }
        if let Some(machine) = self.yard.machine_mut(&session.shear) {
            machine.add(session);
        }
        if over && measured {
            self.screen = Screen::Decide;
        }
    }
}

fn check(
    session: &Session,
    meter_text: &str,
    last: Option<&Session>,
    now: DateTime<Utc>,
) -> Result<Hours, SignFault> {
    if session.readings.is_empty() && session.findings.is_empty() && session.work.is_empty() {
        return Err(SignFault::Empty);
    }
    let meter = Hours::parse(meter_text).map_err(SignFault::Meter)?;
    if let Some(last) = last {
        if now < last.taken {
            return Err(SignFault::ClockBehind { last: last.taken });
        }
        if meter < last.meter {
            return Err(SignFault::MeterBackwards { typed: meter, last: last.meter });
        }
        // An hour of grace for clocks and meters that do not agree.
        let clock_h = now.signed_duration_since(last.taken).num_hours() + 1;
        let leaps = Hours::from_h(crate::domain::quantity::float(clock_h))
            .is_some_and(|most| most < meter - last.meter);
        if leaps {
            return Err(SignFault::MeterLeaps { typed: meter, last: last.meter, clock_h });
        }
    }
    if now + Duration::minutes(5) < session.taken {
        return Err(SignFault::ClockBehind { last: session.taken });
    }
    if session.by.trim().is_empty() {
        return Err(SignFault::NoInitials);
    }
    Ok(meter)
}
