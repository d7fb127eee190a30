//! One-tap records without a walk along the stations: a jam in mid-shift, work done.

use crate::{
    domain::log::{Finding, FindingKind, Work},
    workbench::{Effect, Workbench},
};
use chrono::{DateTime, Utc};

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
    pub(crate) fn record_work(&mut self, work: Vec<Work>, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let Some(machine) = self.machine().cloned() else { return Vec::new() };
        let mut session = self.fresh_session(&machine, now);
        session.work = work;
        vec![Effect::Sign(Box::new(session))]
    }
}
