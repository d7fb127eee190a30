//! Visits to a machine of the sample yard, told in one breath.
//!
//! Knows how to add readings, findings and work to a log; what follows is said by the tests.

use chrono::TimeDelta;
use gapwright::{
    domain::{
        decide::{LineDecision, MachineDecision, decide},
        gauge::Bracket,
        log::{Finding, FindingKind, Reading, Session, SessionId, Work},
        machine::{BladeId, LineId, StationId},
        quantity::{Hours, Length},
        yard::{Machine, Settings, Yard},
    },
    store,
};
use std::path::Path;

pub(crate) fn um(um: i64) -> Length {
    Length::from_um(um)
}

pub(crate) fn station(text: &str) -> StationId {
    text.parse().unwrap()
}

/// The well-kept machine of the sample yard, and a next visit to it eight hours later.
pub(crate) struct Visit {
    pub(crate) settings: Settings,
    pub(crate) machine: Machine,
    pub(crate) next: Session,
}

impl Visit {
    pub(crate) fn new() -> Self {
        Self::to("dunlin")
    }

    pub(crate) fn to(name: &str) -> Self {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions");
        let Yard { settings, machines } = store::open(&folder).unwrap().yard;
        let machine = machines.into_iter().find(|it| it.shear.id.as_str() == name).unwrap();
        let last = machine.history.last_measured().unwrap().clone();
        let taken = machine.history.last().unwrap().taken + TimeDelta::hours(9);
        let next = Session {
            id: SessionId::new(taken, 1),
            taken,
            meter: last.meter + Hours::from_whole(8),
            findings: vec![],
            work: vec![],
            ..last
        };
        Self { settings, machine, next }
    }

    /// The same machine, of which nobody has logged anything yet.
    pub(crate) fn first() -> Self {
        let mut visit = Self::new();
        visit.machine = Machine::new(visit.machine.shear.clone(), vec![]);
        visit.next.readings.clear();
        visit
    }

    /// The thickest stack goes.
    pub(crate) fn open_reading(mut self, at: &str, go: i64) -> Self {
        self = self.reading(at, go, go);
        self.next.readings.last_mut().unwrap().bracket = Bracket::new(um(go), None).unwrap();
        self
    }

    pub(crate) fn reading(mut self, at: &str, go: i64, no_go: i64) -> Self {
        let bracket = Bracket::new(um(go), Some(um(no_go))).unwrap();
        self.next.readings.retain(|reading| reading.station != station(at));
        self.next.readings.push(Reading {
            station: station(at),
            bracket,
            blade_temp: None,
            leaves: None,
        });
        self
    }

    pub(crate) fn line(mut self, line: &str, gaps: &[(i64, i64)]) -> Self {
        for (number, (go, no_go)) in gaps.iter().enumerate() {
            self = self.reading(&format!("{line}{}", number + 1), *go, *no_go);
        }
        self
    }

    pub(crate) fn finding(mut self, kind: FindingKind, at: Option<&str>) -> Self {
        let at = at.map(station);
        self.next.findings.push(Finding {
            kind,
            line: at.map(|it| it.line),
            station: at.map(|it| it.number),
            size: None,
            note: String::new(),
        });
        self
    }

    pub(crate) fn work(mut self, work: Work) -> Self {
        self.next.work.push(work);
        self
    }

    /// Signs this visit and opens the next, an hour later by clock and meter.
    pub(crate) fn then(mut self) -> Self {
        self.machine.add(self.next.clone());
        self.next.taken += TimeDelta::hours(1);
        self.next.id = SessionId::new(self.next.taken, 1);
        self.next.meter = self.next.meter + Hours::from_whole(1);
        self.next.findings.clear();
        self.next.work.clear();
        self
    }

    /// The same visit, so many hours of cutting after the last one.
    pub(crate) fn clone_at(&self, hours: i32) -> Self {
        let last = self.machine.history.last().unwrap();
        let meter = last.meter + Hours::from_whole(hours);
        let next = Session { meter, ..self.next.clone() };
        Self { settings: self.settings.clone(), machine: self.machine.clone(), next }
    }

    pub(crate) fn decide(mut self, line: LineId) -> LineDecision {
        self.machine.add(self.next);
        decide(&self.machine, &self.settings).line(line).unwrap().clone()
    }

    pub(crate) fn blade(&self, line: LineId) -> BladeId {
        self.machine.shear.line(line).unwrap().fixed.clone()
    }

    pub(crate) fn decide_all(self) -> MachineDecision {
        let mut machine = self.machine;
        machine.add(self.next);
        decide(&machine, &self.settings)
    }

    /// Shims behind the fixed blade of a line.
    pub(crate) fn shims(self, line: LineId, put_in: &[i64], take_out: &[i64]) -> Self {
        let list = |shims: &[i64]| shims.iter().map(|it| um(*it)).collect();
        let blade = self.blade(line);
        let (put_in, take_out) = (list(put_in), list(take_out));
        self.work(Work::Shims { blade, bolts: None, put_in, take_out })
    }

    /// What is seen on a line and not settled yet.
    pub(crate) fn open(&self, line: LineId) -> Vec<FindingKind> {
        let open = self.machine.history.open_findings(line);
        open.into_iter().map(|seen| seen.finding.kind.clone()).collect()
    }
}
