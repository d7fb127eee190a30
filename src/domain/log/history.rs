//! A shear's past and present, as folded from its sessions, and the questions put to it.

use crate::domain::{
    gauge::Bracket,
    log::{BoltSpan, Counters, Finding, MarkKind, MarkLog, Session, SessionId, Work},
    machine::{Blade, BladeId, LineId, StationId},
    quantity::{Hours, Length, Temperature, Torque},
};
use chrono::{DateTime, Utc};
use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
};

/// A stretch of cutting that one edge of a blade has behind it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stint {
    /// The edge.
    pub edge: u8,
    /// The place the blade stood at.
    pub place: BladeId,
    /// Service hours when it began there.
    pub from: Hours,
    /// Service hours when it ended.
    pub to: Hours,
    /// Whether it had cut there before the first session, so that its hours are a minimum.
    pub at_least: bool,
}

/// One blade as it stands now.
#[derive(Clone, Debug, PartialEq)]
pub struct BladeState {
    /// The edge in use, counted from 1.
    pub edge: u8,
    /// Service hours when this edge came into use here; `None` if it was there before the first
    /// session.
    pub edge_since: Option<Hours>,
    /// What its edges have behind them, oldest first; the edge in use goes on after it.
    pub stints: Vec<Stint>,
    /// Edges that were in use before on this blade.
    pub edges_used: BTreeSet<u8>,
    /// Full-length shims behind it, thick ones next to the seat.
    pub pack: Vec<Length>,
    /// Shims that reach only some of its bolts.
    pub at_bolts: Vec<(BoltSpan, Length)>,
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
    /// The session that settled it; `None` while it is open.
    pub settled: Option<SessionId>,
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
    /// The leaf set it was read with, if not the usual one.
    pub leaves: Option<Arc<str>>,
    /// In which session.
    pub session: SessionId,
    /// What the machine's other counters had come to.
    pub counters: Counters,
    /// Why it does not count for growth, if somebody set it aside.
    pub set_aside: Option<String>,
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
        /// The bolts they reach; `None` means the full length.
        bolts: Option<BoltSpan>,
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
    /// A blade from another place came here, and this one went there.
    Swapped {
        /// The place.
        blade: BladeId,
    },
    /// Work at the guide pads moved the whole upper jaw.
    PadsMoved,
    /// The gap moved and nobody wrote down why; what is supposed.
    Moved(String),
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
    /// What the machine's other counters had come to.
    pub counters: Counters,
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
    /// Wear marks of the blades, those of edges and shapes that are gone among them.
    pub marks: BTreeMap<(BladeId, MarkKind), MarkLog>,
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

    /// Service hours since the newest session with readings; `None` before the first one.
    pub fn worked_since_measured(&self) -> Option<Hours> {
        let place = self.sessions.iter().rposition(|session| !session.readings.is_empty())?;
        Some(self.service_now() - *self.service.get(place)?)
    }

    /// Whether any visit read the counter that `read` asks for.
    pub fn counted(&self, read: impl Fn(Counters) -> Option<u64>) -> bool {
        self.sessions.iter().any(|session| read(session.counters).is_some())
    }

    /// The session after one, of any kind.
    pub fn after(&self, session: &SessionId) -> Option<&Session> {
        let place = self.sessions.iter().position(|it| it.id == *session)?;
        self.sessions.get(place + 1)
    }

    /// The newest session of any kind.
    pub fn last(&self) -> Option<&Session> {
        self.sessions.last()
    }

    /// Service hours now, as of the newest session.
    pub fn service_now(&self) -> Hours {
        self.service.last().copied().unwrap_or(Hours::ZERO)
    }

    /// Service hours of the newest build-up or hard-facing weld.
    pub fn last_weld(&self) -> Option<Hours> {
        let welded =
            |session: &Session| session.work.iter().any(|work| matches!(work, Work::Welded { .. }));
        let place = self.sessions.iter().rposition(welded)?;
        self.service.get(place).copied()
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
            .any(|cut| (latest.taken, &latest.session) <= (cut.taken, &cut.session))
    }

    /// Hours on the edge in use, wherever it ran them, and whether that is only a lower bound
    /// because the edge was there before the first session.
    pub fn hours_on_edge(&self, blade: &BladeId) -> Option<(Hours, bool)> {
        let edge = self.blades.get(blade)?.edge;
        let stints = self.stints_of(blade);
        let mine = || stints.iter().filter(|stint| stint.edge == edge);
        mine().next()?;
        let hours = mine().fold(Hours::ZERO, |sum, stint| sum + (stint.to - stint.from));
        Some((hours, mine().any(|stint| stint.at_least)))
    }

    /// Everything the edges of a blade have behind them until now, oldest first; nothing before
    /// the first session.
    pub fn stints_of(&self, blade: &BladeId) -> Vec<Stint> {
        let (Some(state), Some(first)) = (self.blades.get(blade), self.service.first()) else {
            return Vec::new();
        };
        let now = state.stint(blade, *first, self.service_now());
        state.stints.iter().cloned().chain(std::iter::once(now)).collect()
    }

    /// Findings on a line that nothing has settled yet, oldest first.
    ///
    /// Cracks stay until a blade of the line is replaced: turned, it is still cracked. Chips and
    /// streaks stay until a blade of the line is turned or replaced, because the face is still
    /// there. Everything else is settled by the next session with readings on the line, or by work
    /// on one of its blades.
    pub fn open_findings(&self, line: LineId) -> Vec<&Seen> {
        self.open(Some(line))
    }

    /// Findings that nobody gave a place and nothing has settled yet, oldest first.
    pub fn open_somewhere(&self) -> Vec<&Seen> {
        self.open(None)
    }

    fn open(&self, line: Option<LineId>) -> Vec<&Seen> {
        let open = |seen: &&Seen| seen.settled.is_none() && seen.finding.line == line;
        self.seen.iter().filter(open).collect()
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

impl BladeState {
    pub(crate) const fn new() -> Self {
        Self {
            edge: 1,
            edge_since: None,
            stints: Vec::new(),
            edges_used: BTreeSet::new(),
            pack: Vec::new(),
            at_bolts: Vec::new(),
            base_pack: None,
            tightened: None,
            loosened: None,
        }
    }

    /// What the edge in use has behind it since it came into use here.
    pub(crate) fn stint(&self, place: &BladeId, first: Hours, now: Hours) -> Stint {
        Stint {
            edge: self.edge,
            place: place.clone(),
            from: self.edge_since.unwrap_or(first),
            to: now,
            at_least: self.edge_since.is_none(),
        }
    }

    /// Thickness of the pack at its thickest place.
    pub fn pack_total(&self) -> Length {
        let full: Length = self.pack.iter().copied().sum();
        let starts = self.at_bolts.iter().map(|(span, _)| self.extra(span.first));
        full + starts.max().unwrap_or(Length::ZERO)
    }

    /// Thickness of the pack at its thinnest place, behind a blade with so many bolts.
    pub fn pack_least(&self, bolts: u8) -> Length {
        let full: Length = self.pack.iter().copied().sum();
        full + (1..=bolts).map(|bolt| self.extra(bolt)).min().unwrap_or(Length::ZERO)
    }

    /// What stands at one bolt, thick shims next to the seat.
    pub fn pack_at(&self, bolt: u8) -> Vec<Length> {
        let here = self.at_bolts.iter().filter(|(span, _)| span.reaches(bolt));
        let mut pack: Vec<Length> =
            self.pack.iter().copied().chain(here.map(|(_, shim)| *shim)).collect();
        pack.sort_by(|a, b| b.cmp(a));
        pack
    }

    /// Every shim behind it, wherever it reaches, thickest first.
    pub fn every_shim(&self) -> Vec<Length> {
        let mut shims: Vec<Length> =
            self.pack.iter().copied().chain(self.at_bolts.iter().map(|(_, shim)| *shim)).collect();
        shims.sort_by(|a, b| b.cmp(a));
        shims
    }

    /// Takes shims out and puts others in, over the full length or at some bolts.
    ///
    /// A shim is taken from where it is said to stand, or else from wherever there is one like it.
    pub fn change_pack(&mut self, put_in: &[Length], take_out: &[Length], bolts: Option<BoltSpan>) {
        for shim in take_out {
            let full = self.pack.iter().rposition(|it| it == shim);
            let part = |only: Option<BoltSpan>| {
                self.at_bolts
                    .iter()
                    .rposition(|(span, it)| it == shim && only.is_none_or(|only| only == *span))
            };
            let (there, anywhere) = (bolts.and_then(|span| part(Some(span))), part(None));
            match (there, full, anywhere) {
                (Some(place), ..) | (None, None, Some(place)) => drop(self.at_bolts.remove(place)),
                (None, Some(place), _) => drop(self.pack.remove(place)),
                (None, None, None) => {}
            }
        }
        match bolts {
            None => self.pack.extend(put_in),
            Some(span) => self.at_bolts.extend(put_in.iter().map(|shim| (span, *shim))),
        }
        // Thick shims stand next to the seat.
        self.pack.sort_by(|a, b| b.cmp(a));
    }

    /// What stands at one bolt besides the full-length shims.
    fn extra(&self, bolt: u8) -> Length {
        let here = self.at_bolts.iter().filter(|(span, _)| span.reaches(bolt));
        here.map(|(_, shim)| *shim).sum()
    }

    /// Edges that have not been used yet, the one in use not among them.
    pub fn fresh_edges(&self, blade: &Blade) -> Vec<u8> {
        (1..=blade.edges)
            .filter(|edge| *edge != self.edge && !self.edges_used.contains(edge))
            .collect()
    }
}
