//! One-tap records without a walk along the stations: a jam in mid-shift, work done.

use crate::{
    domain::{
        log::{Dated, Finding, FindingKind, Remark, Session, SignFault, Work},
        machine::BladeId,
        quantity::Hours,
    },
    workbench::{Effect, Screen, Visit, Workbench},
};
use chrono::{DateTime, TimeDelta, Utc};

impl Workbench {
    /// Logs something heard or seen in mid-shift; the machine is then due at once.
    pub(crate) fn report_now(&mut self, kind: FindingKind, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let Some(machine) = self.machine().cloned() else { return Vec::new() };
        let mut session = self.fresh_session(&machine, now);
        let finding = Finding { kind, line: None, station: None, size: None, note: String::new() };
        session.findings.push(finding);
        vec![Effect::Sign(Box::new(session))]
    }

    /// Logs work as done, at the meter of the last session.
    ///
    /// An open visit is signed first, so that its readings stand before the work; if it cannot be
    /// signed yet, it comes to the front and says why, and nothing is logged. A weld moves no gap and
    /// leaves the visit open.
    pub(crate) fn record_work(&mut self, work: Vec<Work>, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let Some(machine) = self.machine().cloned() else { return Vec::new() };
        let open = self.visit().is_some_and(Visit::holds_something);
        let ends = open && !work.iter().all(|it| matches!(it, Work::Welded { .. }));
        let mut effects = if ends { self.sign_off(now, Dated::ByTheClock) } else { Vec::new() };
        if ends && effects.is_empty() {
            self.screen = Screen::Measure;
            return effects;
        }
        let meter = self.visit().filter(|_| open).map(|visit| visit.session.meter);
        let mut session = self.fresh_session(&machine, now);
        session.meter = meter.unwrap_or(session.meter);
        session.work = work;
        effects.push(Effect::Sign(Box::new(session)));
        effects
    }

    /// The initials of whoever is likely to have done the work: those typed last here, or who signed
    /// last; empty if nobody ever did.
    pub fn likely_by(&self) -> &str {
        match self.initials.trim() {
            "" => self.yard.signed_by().first().copied().unwrap_or_default(),
            typed => typed,
        }
    }

    /// The last session of the machine in hand, if all it holds is that two blades changed places.
    pub fn last_swap(&self) -> Option<(&Session, [&BladeId; 2])> {
        let last = self.machine()?.history.last()?;
        let Some(Work::Swapped { blade, with }) = last.work.first() else { return None };
        let rest = last.work.iter().skip(1).all(|it| matches!(it, Work::Tightened { .. }));
        let alone = last.readings.is_empty()
            && last.marks.is_empty()
            && last.findings.is_empty()
            && last.remarks.is_empty();
        (rest && alone).then_some((last, [blade, with]))
    }

    /// Takes back that two blades changed places: a session of the same moment that names the other
    /// stands in for it, and nothing was done.
    pub(crate) fn take_swap_back(&mut self, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let Some(machine) = self.machine().cloned() else { return Vec::new() };
        let Some(swap) = self.last_swap().map(|(swap, _)| swap.clone()) else { return Vec::new() };
        let mut session = self.fresh_session(&machine, now);
        // Of two that stand for one another the later name counts, also where a clock is slow.
        let mut named = now;
        while session.id <= swap.id {
            named += TimeDelta::minutes(1);
            session.id = self.fresh_id(&machine.shear.id, named);
        }
        (session.taken, session.meter) = (swap.taken, swap.meter);
        session.amends = Some(swap.id);
        vec![Effect::Sign(Box::new(session))]
    }

    /// Logs a remark about an earlier session, in a session of its own: nothing signed is edited.
    pub(crate) fn say(&mut self, remark: Remark, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let Some(machine) = self.machine().cloned() else { return Vec::new() };
        let mut session = self.fresh_session(&machine, now);
        session.remarks.push(remark);
        vec![Effect::Sign(Box::new(session))]
    }

    /// Logs that the meter was changed, just before the open visit, whose readings then count on the
    /// new one. A number that cannot be read is named on the sign-off card, like the meter's own.
    pub(crate) fn record_meter_change(
        &mut self,
        old: &str,
        new: &str,
        now: DateTime<Utc>,
    ) -> Vec<Effect> {
        self.revision += 1;
        let Some(machine) = self.machine().cloned() else { return Vec::new() };
        let last_session = machine.history.last();
        let last = last_session.map_or(Hours::ZERO, Session::meter_after);
        let since = last_session.map(|session| session.taken + TimeDelta::seconds(1));
        let id = machine.shear.id.clone();
        let read = |text| Hours::parse(text).map_err(SignFault::Meter);
        let change = read(old).and_then(|old| Ok((old, read(new)?))).and_then(|(old, new)| {
            if old < last {
                return Err(SignFault::MeterBackwards { typed: old, last });
            }
            Ok(Work::MeterChanged { old, new })
        });
        let visit = self.visits.get_mut(&id);
        match change {
            Err(fault) => {
                if let Some(visit) = visit {
                    visit.sign_fault = Some(fault);
                }
                Vec::new()
            }
            Ok(work) => {
                let begun = visit.map_or(now, |visit| {
                    visit.sign_fault = None;
                    visit.session.taken
                });
                let mut session = self.fresh_session(&machine, now);
                // After whatever was logged on the old meter, the visit's own start included.
                let before = begun - TimeDelta::seconds(1);
                let latest = since.map_or(now, |since| since.max(now));
                session.taken = since.map_or(before, |since| since.max(before)).min(latest);
                session.meter = last;
                session.work.push(work);
                vec![Effect::Sign(Box::new(session))]
            }
        }
    }
}
