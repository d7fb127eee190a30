//! Sessions in, present state out.
//!
//! Sessions may arrive in any order; they are sorted by time and name, amended ones give way to
//! the newest that names them, and the meter is unrolled into service hours that never run
//! backwards by a change of meter.

use crate::domain::{
    gauge::Bracket,
    log::{BoltSpan, Finding, Session, SessionId, Work},
    machine::{Blade, BladeId, Line, LineId, Shear, StationId, Toward},
    quantity::{Hours, Length, Temperature, Torque},
};
use chrono::{DateTime, Utc};
use std::collections::{BTreeMap, BTreeSet};

/// One blade as it stands now.
#[derive(Clone, Debug, PartialEq)]
pub struct BladeState {
    /// The edge in use, counted from 1.
    pub edge: u8,
    /// Service hours when this edge came into use; `None` if it was there before the first session.
    pub edge_since: Option<Hours>,
    /// Edges that were in use before on this blade.
    pub edges_used: BTreeSet<u8>,
    /// Shims behind it, in the order they were put in.
    pub pack: Vec<Length>,
    /// The pack when a fresh edge was last set; `None` if nobody noted it.
    pub base_pack: Option<Vec<Length>>,
    /// The last torque, with the service hours it was put on.
    pub tightened: Option<(Torque, Hours)>,
    /// Service hours of the last work that loosened its bolts.
    pub loosened: Option<Hours>,
}

/// A finding with when it was made.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// What and where.
    pub finding: Finding,
    /// When.
    pub taken: DateTime<Utc>,
    /// Service hours.
    pub at: Hours,
    /// In which session.
    pub session: SessionId,
}

/// One reading with everything a trend needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Observed {
    /// When.
    pub taken: DateTime<Utc>,
    /// Service hours.
    pub at: Hours,
    /// What the hour meter showed.
    pub meter: Hours,
    /// As felt, at the blades' temperature.
    pub bracket: Bracket,
    /// The blades' temperature.
    pub blade_temp: Option<Temperature>,
    /// The jaws' temperature.
    pub jaw_temp: Option<Temperature>,
    /// The air's temperature.
    pub air_temp: Option<Temperature>,
    /// In which session.
    pub session: SessionId,
}

/// What work did to one line.
#[derive(Clone, Debug, PartialEq)]
pub enum EffectOnLine {
    /// Shims: how much the pack grew, summed; negative when shims came out.
    Shimmed {
        /// The blade.
        blade: BladeId,
        /// Grown by.
        by: Length,
    },
    /// A blade was turned.
    Turned {
        /// The blade.
        blade: BladeId,
        /// The edge now in use.
        edge: u8,
    },
    /// A blade was replaced.
    Replaced {
        /// The blade.
        blade: BladeId,
    },
    /// Work at the guide pads moved the whole upper jaw.
    PadsMoved,
}

/// An intervention: where a line's history is cut into segments.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Service hours.
    pub at: Hours,
    /// When.
    pub taken: DateTime<Utc>,
    /// What was done.
    pub effect: EffectOnLine,
    /// The session that records it; readings of this session lie before the cut.
    pub session: SessionId,
}

/// A shear's past and present.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    /// Sessions that count, oldest first.
    pub sessions: Vec<Session>,
    /// Service hours of each session, same order.
    pub service: Vec<Hours>,
    /// Readings of each station, oldest first.
    pub readings: BTreeMap<StationId, Vec<Observed>>,
    /// Interventions on each line, oldest first.
    pub cuts: BTreeMap<LineId, Vec<Cut>>,
    /// Every blade of the shear.
    pub blades: BTreeMap<BladeId, BladeState>,
    /// Findings, oldest first.
    pub seen: Vec<Seen>,
    /// When the machine was last greased, in service hours.
    pub lubricated: Option<Hours>,
    /// Sessions whose meter ran backwards without a change of meter being recorded.
    pub backwards: Vec<SessionId>,
}

impl History {
    /// The newest session with readings.
    pub fn last_measured(&self) -> Option<&Session> {
        self.sessions.iter().rev().find(|session| !session.readings.is_empty())
    }

    /// The newest session of any kind.
    pub fn last(&self) -> Option<&Session> {
        self.sessions.last()
    }

    /// Service hours now, as of the newest session.
    pub fn service_now(&self) -> Hours {
        self.service.last().copied().unwrap_or(Hours::ZERO)
    }

    /// The newest reading of a station.
    pub fn latest(&self, station: StationId) -> Option<&Observed> {
        self.readings.get(&station)?.last()
    }

    /// The newest reading of a station before the given session.
    pub fn before(&self, station: StationId, session: &SessionId) -> Option<&Observed> {
        self.readings.get(&station)?.iter().rev().find(|it| it.session != *session)
    }

    /// Interventions on a line.
    pub fn cuts_on(&self, line: LineId) -> &[Cut] {
        self.cuts.get(&line).map_or(&[], Vec::as_slice)
    }

    /// Whether the newest reading of the station is older than work that moved its gap.
    pub fn stale(&self, station: StationId) -> bool {
        let Some(latest) = self.latest(station) else { return false };
        self.cuts_on(station.line)
            .iter()
            .any(|cut| latest.taken < cut.taken || latest.session == cut.session)
    }

    /// Hours on the edge in use, and whether that is only a lower bound because the edge was there
    /// before the first session.
    pub fn hours_on_edge(&self, blade: &BladeId) -> Option<(Hours, bool)> {
        let state = self.blades.get(blade)?;
        let first = self.service.first().copied()?;
        let since = state.edge_since.unwrap_or(first);
        Some((self.service_now() - since, state.edge_since.is_none()))
    }

    /// Findings that nobody has dealt with: made on the line since its last work that moved a gap.
    pub fn open_findings(&self, line: LineId) -> Vec<&Seen> {
        let since = self.cuts_on(line).last().map(|cut| cut.taken);
        self.seen
            .iter()
            .filter(|seen| seen.finding.line == Some(line))
            .filter(|seen| since.is_none_or(|since| since < seen.taken))
            .collect()
    }

    /// Whether a jam or chatter was logged after the last session with readings.
    pub fn due_at_once(&self) -> bool {
        self.sessions
            .iter()
            .rev()
            .take_while(|session| session.readings.is_empty())
            .any(Session::calls_for_a_look)
    }
}

/// Folds sessions into history and present state.
///
/// The result does not depend on the order of `sessions`. A session amended by another gives way
/// to it; of several that amend one, the newest counts.
pub fn fold(shear: &Shear, sessions: &[Session]) -> History {
    let mut history = History {
        sessions: in_order(sessions),
        blades: shear.blades.iter().map(|blade| (blade.id.clone(), BladeState::new())).collect(),
        ..History::default()
    };
    let mut offset = Hours::ZERO;
    let mut last_meter: Option<Hours> = None;
    for session in history.sessions.clone() {
        if last_meter.is_some_and(|last| session.meter < last) {
            history.backwards.push(session.id.clone());
        }
        let at = session.meter + offset;
        let at = history.service.last().map_or(at, |last| at.max(*last));
        history.service.push(at);
        last_meter = Some(session.meter);
        history.take_readings(&session, at);
        for work in &session.work {
            history.take_work(shear, &session, work, at);
            if let Work::MeterChanged { old, new } = work {
                offset = offset + *old - *new;
                last_meter = Some(*new);
            }
        }
    }
    history
}

/// Sorted by time and name, without amended ones and duplicates.
///
/// Sessions that correct one another form a family with one root; its newest member by name, and
/// names sort by the time of signing, stands for all of it.
fn in_order(sessions: &[Session]) -> Vec<Session> {
    let amends: BTreeMap<&SessionId, Option<&SessionId>> =
        sessions.iter().map(|session| (&session.id, session.amends.as_ref())).collect();
    let mut newest: BTreeMap<&SessionId, &Session> = BTreeMap::new();
    for session in sessions {
        let root = root_of(&session.id, &amends);
        let kept = newest.entry(root).or_insert(session);
        if kept.id < session.id {
            *kept = session;
        }
    }
    let mut sorted: Vec<Session> = newest.into_values().cloned().collect();
    sorted.sort_by(|a, b| (a.taken, &a.id).cmp(&(b.taken, &b.id)));
    sorted
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

impl BladeState {
    const fn new() -> Self {
        Self {
            edge: 1,
            edge_since: None,
            edges_used: BTreeSet::new(),
            pack: Vec::new(),
            base_pack: None,
            tightened: None,
            loosened: None,
        }
    }

    /// Thickness of the pack.
    pub fn pack_total(&self) -> Length {
        self.pack.iter().copied().sum()
    }

    /// Edges that have not been used yet, the one in use not among them.
    pub fn fresh_edges(&self, blade: &Blade) -> Vec<u8> {
        (1..=blade.edges)
            .filter(|edge| *edge != self.edge && !self.edges_used.contains(edge))
            .collect()
    }
}

impl History {
    fn take_readings(&mut self, session: &Session, at: Hours) {
        for reading in &session.readings {
            self.readings.entry(reading.station).or_default().push(Observed {
                taken: session.taken,
                at,
                meter: session.meter,
                bracket: reading.bracket,
                blade_temp: reading.blade_temp,
                jaw_temp: session.jaw_temp,
                air_temp: session.air_temp,
                session: session.id.clone(),
            });
        }
        for finding in &session.findings {
            self.seen.push(Seen {
                finding: finding.clone(),
                taken: session.taken,
                at,
                session: session.id.clone(),
            });
        }
    }

    fn take_work(&mut self, shear: &Shear, session: &Session, work: &Work, at: Hours) {
        if let Work::Lubricated = work {
            self.lubricated = Some(at);
        }
        let Some(blade) = work.blade() else { return };
        let Some(state) = self.blades.get_mut(blade) else { return };
        match work {
            Work::Shims { put_in, take_out, bolts, .. } => {
                state.change_pack(put_in, take_out, *bolts);
            }
            Work::Turned { edge, pack, .. } => {
                state.edges_used.insert(state.edge);
                state.edge = *edge;
                state.set_fresh(pack, at);
            }
            Work::Replaced { pack, .. } => {
                state.edges_used.clear();
                state.edge = 1;
                state.set_fresh(pack, at);
            }
            Work::Tightened { torque, .. } => state.tightened = Some((*torque, at)),
            Work::Welded { .. } | Work::Lubricated | Work::MeterChanged { .. } => {}
        }
        if !work.moves_gap() {
            return;
        }
        state.loosened = Some(at);
        self.cut_lines(shear, session, work, at);
    }

    fn cut_lines(&mut self, shear: &Shear, session: &Session, work: &Work, at: Hours) {
        let Some(blade) = work.blade() else { return };
        let touches = |line: &Line| line.moving == *blade || line.fixed == *blade;
        let pads = shear.lines.iter().any(|line| touches(line) && line.toward == Toward::Pads);
        for line in &shear.lines {
            let effect = if touches(line) {
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
            });
        }
    }
}

fn effect_of(work: &Work, blade: &BladeId) -> Option<EffectOnLine> {
    let blade = blade.clone();
    match work {
        Work::Shims { put_in, take_out, .. } => {
            let total = |shims: &[Length]| -> Length { shims.iter().copied().sum() };
            Some(EffectOnLine::Shimmed { blade, by: total(put_in) - total(take_out) })
        }
        Work::Turned { edge, .. } => Some(EffectOnLine::Turned { blade, edge: *edge }),
        Work::Replaced { .. } => Some(EffectOnLine::Replaced { blade }),
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
        self.base_pack = Some(pack.to_vec());
    }

    /// Shims that reach only some bolts count for the pack's thickness like full ones: the pack
    /// is as thick as its thickest place.
    fn change_pack(&mut self, put_in: &[Length], take_out: &[Length], _bolts: Option<BoltSpan>) {
        for shim in take_out {
            if let Some(place) = self.pack.iter().rposition(|it| it == shim) {
                self.pack.remove(place);
            }
        }
        self.pack.extend(put_in);
        // Thick shims stand next to the seat.
        self.pack.sort_by(|a, b| b.cmp(a));
    }
}
