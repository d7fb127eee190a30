//! Sessions in, present state out.
//!
//! Sessions may arrive in any order; they are sorted by time and name, amended ones give way to
//! the newest that names them, and the meter is unrolled into service hours that never run
//! backwards by a change of meter.

use crate::domain::{
    log::{
        BladeState, Counters, Cut, EffectOnLine, History, Observed, Seen, Session, SessionId, Work,
        remark::Remarks,
    },
    machine::{BladeId, Line, LineId, Shear, Toward},
    quantity::{Hours, Length},
};
use std::collections::{BTreeMap, BTreeSet};

/// Folds sessions into history and present state.
///
/// The result does not depend on the order of `sessions`. A session amended by another gives way
/// to it; of several that amend one, the newest counts.
pub fn fold(shear: &Shear, sessions: &[Session]) -> History {
    let mut history = History {
        blades: shear.blades.iter().map(|blade| (blade.id.clone(), BladeState::new())).collect(),
        ..History::default()
    };
    let mut offset = Hours::ZERO;
    let mut last_meter: Option<Hours> = None;
    let sessions = in_order(sessions);
    let remarks = Remarks::of(&sessions);
    let (mut tonnes, mut cuts) = (Counter::default(), Counter::default());
    let mut before: Option<&Session> = None;
    for session in &sessions {
        if last_meter.is_some_and(|last| session.meter < last) {
            history.runs_backwards(session);
        }
        let at = session.meter + offset;
        let at = history.service.last().map_or(at, |last| at.max(*last));
        let since = history.service.last().copied();
        history.service.push(at);
        last_meter = Some(session.meter);
        let now = Counters {
            tonnes: tonnes.read(session.counters.tonnes),
            cuts: cuts.read(session.counters.cuts),
        };
        if let (Some(before), Some(since)) = (before, since) {
            let half = Hours::from_h(f64::midpoint(since.h(), at.h())).unwrap_or(at);
            history.cut_moved(before, remarks.moved(&session.id), (half, now));
        }
        before = Some(session);
        history.take_readings(session, (at, now), &remarks);
        history.take_marks(session, at);
        for work in &session.work {
            let so_far = Counters { tonnes: tonnes.now(), cuts: cuts.now() };
            history.take_work(shear, session, work, (at, so_far));
            if let Work::MeterChanged { old, new } = work {
                // The old meter cannot have read less when it went than when it was last read.
                if last_meter.is_some_and(|last| *old < last) {
                    history.runs_backwards(session);
                }
                let lost = last_meter.map_or(Hours::ZERO, |last| (last - *old).max(Hours::ZERO));
                offset = offset + *old + lost - *new;
                last_meter = Some(*new);
            }
        }
    }
    history.sessions = sessions;
    history
}

/// A counter that only runs on. Where it stands lower than before it was changed or set back, and
/// goes on from where it stood.
#[derive(Default)]
struct Counter {
    last: Option<u64>,
    before: u64,
}

impl Counter {
    /// What it has come to at a visit; `None` if nobody read it then.
    fn read(&mut self, stands: Option<u64>) -> Option<u64> {
        let stands = stands?;
        if let Some(last) = self.last.filter(|last| stands < *last) {
            self.before = self.before.saturating_add(last);
        }
        self.last = Some(stands);
        self.now()
    }

    /// What it had come to when it was last read.
    fn now(&self) -> Option<u64> {
        self.last.map(|last| self.before.saturating_add(last))
    }
}

/// Sorted by time and name, without amended ones and duplicates.
///
/// Sessions that correct one another form a family with one root; its newest member by name, and
/// names sort by the time of signing, stands for all of it.
fn in_order(sessions: &[Session]) -> Vec<Session> {
    let families = families(sessions);
    let mut newest: BTreeMap<&SessionId, &Session> = BTreeMap::new();
    for session in sessions {
        let root = families.get(&session.id).copied().unwrap_or(&session.id);
        let kept = newest.entry(root).or_insert(session);
        if kept.id < session.id || (kept.id == session.id && reads_later(kept, session)) {
            *kept = session;
        }
    }
    let mut sorted: Vec<Session> = newest.into_values().cloned().collect();
    sorted.sort_by(|a, b| (a.taken, &a.id).cmp(&(b.taken, &b.id)));
    sorted
}

/// The first session of each session's family of corrections; its own where it corrects nothing.
pub fn families(sessions: &[Session]) -> BTreeMap<&SessionId, &SessionId> {
    let amends: BTreeMap<&SessionId, Option<&SessionId>> =
        sessions.iter().map(|session| (&session.id, session.amends.as_ref())).collect();
    sessions.iter().map(|session| (&session.id, root_of(&session.id, &amends))).collect()
}

/// Of two sessions with one name, which only copying by hand can make, the same one counts in
/// whatever order they arrive. Which one that is means nothing.
fn reads_later(kept: &Session, other: &Session) -> bool {
    kept != other && format!("{kept:?}") < format!("{other:?}")
}

/// The first session of a family of corrections. A ring of corrections, which only a damaged
/// folder can hold, ends at its smallest name.
fn root_of<'a>(
    id: &'a SessionId,
    amends: &BTreeMap<&'a SessionId, Option<&'a SessionId>>,
) -> &'a SessionId {
    let mut seen = BTreeSet::from([id]);
    let mut root = id;
    while let Some(Some(older)) = amends.get(root) {
        if !seen.insert(older) {
            return seen.into_iter().next().unwrap_or(root);
        }
        root = older;
    }
    root
}

impl History {
    fn runs_backwards(&mut self, session: &Session) {
        if self.backwards.last() != Some(&session.id) {
            self.backwards.push(session.id.clone());
        }
    }

    fn take_readings(
        &mut self,
        session: &Session,
        (at, counters): (Hours, Counters),
        remarks: &Remarks<'_>,
    ) {
        for reading in &session.readings {
            self.readings.entry(reading.station).or_default().push(Observed {
                taken: session.taken,
                at,
                meter: session.meter,
                bracket: reading.bracket,
                blade_temp: reading.blade_temp,
                jaw_temp: session.jaw_temp,
                air_temp: session.air_temp,
                leaves: reading.leaves.clone(),
                session: session.id.clone(),
                counters,
                set_aside: remarks.set_aside(&session.id, reading.station).map(str::to_owned),
            });
        }
        self.settle_by_readings(session);
        for finding in &session.findings {
            self.seen.push(Seen {
                finding: finding.clone(),
                taken: session.taken,
                at,
                session: session.id.clone(),
                settled: None,
            });
        }
    }

    /// What was said afterwards to have moved gaps after the session `before`; its own readings lie
    /// before the cut.
    fn cut_moved(
        &mut self,
        before: &Session,
        moved: Vec<(LineId, &str)>,
        (at, counters): (Hours, Counters),
    ) {
        for (line, reason) in moved {
            self.cuts.entry(line).or_default().push(Cut {
                at,
                taken: before.taken,
                effect: EffectOnLine::Moved(reason.to_owned()),
                session: before.id.clone(),
                counters,
            });
        }
    }

    fn take_work(
        &mut self,
        shear: &Shear,
        session: &Session,
        work: &Work,
        (at, counters): (Hours, Counters),
    ) {
        if let Work::Lubricated = work {
            self.lubricated = Some(at);
        }
        self.settle_by_work(shear, session, work);
        self.marks_after(work);
        let Some(blade) = work.blade() else { return };
        let first = self.service.first().copied().unwrap_or(at);
        if let Work::Swapped { with, .. } = work {
            self.swap((blade, with), first, at);
        }
        let Some(state) = self.blades.get_mut(blade) else { return };
        match work {
            Work::Shims { put_in, take_out, bolts, .. } => {
                state.change_pack(put_in, take_out, *bolts);
            }
            Work::Turned { edge, pack, .. } => {
                state.stints.push(state.stint(blade, first, at));
                state.edges_used.insert(state.edge);
                state.edge = *edge;
                state.set_fresh(pack, at);
            }
            Work::Replaced { pack, .. } => {
                state.stints.clear();
                state.edges_used.clear();
                state.edge = 1;
                state.set_fresh(pack, at);
            }
            Work::Tightened { torque, .. } => state.tightened = Some((*torque, at)),
            Work::Swapped { .. }
            | Work::Welded { .. }
            | Work::Lubricated
            | Work::MeterChanged { .. } => {}
        }
        if !work.moves_gap() {
            return;
        }
        state.loosened = Some(at);
        self.cut_lines(shear, session, work, (at, counters));
    }

    /// Two blades change places with their edges and all that these have behind them. Packs stay at
    /// their seats, and nobody knows any more whether they suit a fresh edge.
    fn swap(&mut self, (one, other): (&BladeId, &BladeId), first: Hours, at: Hours) {
        let (Some(mut here), Some(mut there)) =
            (self.blades.get(one).cloned(), self.blades.get(other).cloned())
        else {
            return;
        };
        here.stints.push(here.stint(one, first, at));
        there.stints.push(there.stint(other, first, at));
        std::mem::swap(&mut here.stints, &mut there.stints);
        std::mem::swap(&mut here.edge, &mut there.edge);
        std::mem::swap(&mut here.edges_used, &mut there.edges_used);
        for (place, mut state) in [(one, here), (other, there)] {
            state.edge_since = Some(at);
            state.base_pack = None;
            state.loosened = Some(at);
            self.blades.insert(place.clone(), state);
        }
    }

    fn cut_lines(
        &mut self,
        shear: &Shear,
        session: &Session,
        work: &Work,
        (at, counters): (Hours, Counters),
    ) {
        let blades = || work.blade().into_iter().chain(work.other_blade());
        let touching = |line: &Line| blades().find(|it| line.moving == **it || line.fixed == **it);
        let touches = |line: &Line| touching(line).is_some();
        let pads = shear.lines.iter().any(|line| touches(line) && line.toward == Toward::Pads);
        for line in &shear.lines {
            let effect = if let Some(blade) = touching(line) {
                effect_of(work, blade)
            } else if pads && line.toward != Toward::Neither {
                Some(EffectOnLine::PadsMoved)
            } else {
                None
            };
            let Some(effect) = effect else { continue };
            self.cuts.entry(line.id).or_default().push(Cut {
                at,
                taken: session.taken,
                effect,
                session: session.id.clone(),
                counters,
            });
        }
    }
}

fn effect_of(work: &Work, blade: &BladeId) -> Option<EffectOnLine> {
    let blade = blade.clone();
    match work {
        Work::Shims { put_in, take_out, bolts, .. } => {
            let total = |shims: &[Length]| -> Length { shims.iter().copied().sum() };
            Some(EffectOnLine::Shimmed {
                blade,
                by: total(put_in) - total(take_out),
                bolts: *bolts,
            })
        }
        Work::Turned { edge, .. } => Some(EffectOnLine::Turned { blade, edge: *edge }),
        Work::Replaced { .. } => Some(EffectOnLine::Replaced { blade }),
        Work::Swapped { .. } => Some(EffectOnLine::Swapped { blade }),
        Work::Tightened { .. }
        | Work::Welded { .. }
        | Work::Lubricated
        | Work::MeterChanged { .. } => None,
    }
}

impl BladeState {
    fn set_fresh(&mut self, pack: &[Length], at: Hours) {
        self.edge_since = Some(at);
        self.pack = pack.to_vec();
        self.at_bolts.clear();
        self.base_pack = Some(pack.to_vec());
    }
}
