//! What is told while a machine is measured: chips, the line in hand, what stands in the way.
//!
//! Knows the open visit over the log; a confirmed reading of the visit counts before the newest
//! one of the log. Does not know what is drawn where.

mod head;
mod live;

pub use head::{Head, head, saved, summary};
pub use live::{Live, Strip};

use crate::{
    brief::{Numbers, decision::tell_line, words},
    domain::{
        decide::{Action, LineDecision, MachineDecision, Reason, StationState},
        gauge::{Bracket, LeafSet},
        log::{Counters, Observed, Session},
        machine::{LineId, Shear, Side, StationId},
        quantity::Temperature,
        verdict::{Cold, Verdict, VerdictKind, Way, Zone, cold, weigh},
        yard::Settings,
    },
    language::tell,
};
use std::sync::Arc;

/// Everything that is told from: the machine, its log, the open visit, the leaves.
#[derive(Clone, Copy, Debug)]
pub struct Telling<'a> {
    /// The machine.
    pub shear: &'a Shear,
    /// What its log says.
    pub decision: Option<&'a MachineDecision>,
    /// The open visit.
    pub session: Option<&'a Session>,
    /// What readings are made with and how sure a verdict must be.
    pub settings: &'a Settings,
    /// The leaves in the hand.
    pub leaves: Option<&'a LeafSet>,
    /// How numbers are written.
    pub numbers: Numbers,
}

/// One gap, referred to 20 °C and judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// At 20 °C.
    pub cold: Cold,
    /// Against the limits of its line.
    pub verdict: Verdict,
    /// At working temperature in mm; `None` while the reading is open.
    pub hot_mm: Option<f64>,
}

/// A station as its chip shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Chip {
    /// Which.
    pub station: StationId,
    /// Its gap, if it is measured in this visit or in hand.
    pub gap: Option<Gap>,
    /// `0.57–0.62` or `not yet`.
    pub text: String,
    /// For a screen reader: `between 0.57 and 0.62 mm, working`.
    pub spoken: String,
}

impl<'a> Telling<'a> {
    /// What the log says about a station.
    pub fn state(&self, station: StationId) -> Option<&'a StationState> {
        let line = self.decision?.line(station.line)?;
        line.stations.iter().find(|state| state.station == station)
    }

    /// A reading of this visit, judged; the trend's word on the near future comes from the log.
    pub fn gap(
        &self,
        station: StationId,
        felt: Bracket,
        (blade_temp, leaves): (Option<Temperature>, Option<&Arc<str>>),
    ) -> Option<Gap> {
        let (line, session) = (self.shear.line(station.line)?, self.session?);
        let observed = Observed {
            taken: session.taken,
            counters: Counters::default(),
            set_aside: None,
            at: session.meter,
            meter: session.meter,
            bracket: felt,
            blade_temp,
            jaw_temp: session.jaw_temp,
            air_temp: session.air_temp,
            leaves: leaves.cloned(),
            session: session.id.clone(),
        };
        let kit = self.settings.kit_of(observed.leaves.as_deref());
        let cold = cold(line, &observed, kit);
        let state = self.state(station);
        let soon = state.and_then(|state| state.verdict).and_then(|it| it.soon);
        let prior = state.and_then(|state| state.prior(session.meter));
        let middle = cold.bracket.middle();
        Some(Gap {
            cold,
            verdict: weigh(&cold, &line.limits, soon, self.settings.tolerance, prior),
            hot_mm: middle.map(|middle| line.hot_gap_mm(middle.mm())),
        })
    }

    /// The confirmed reading of a station in this visit.
    pub fn confirmed(&self, station: StationId) -> Option<Gap> {
        let reading = self.session?.readings.iter().find(|it| it.station == station)?;
        self.gap(station, reading.bracket, (reading.blade_temp, reading.leaves.as_ref()))
    }

    /// The newest reading of the log at 20 °C: what the session before found.
    pub fn before(&self, station: StationId) -> Option<Bracket> {
        self.state(station)?.cold.map(|cold| cold.bracket)
    }

    /// A station's chip; `hand` is what is in hand there, if anything is.
    pub fn chip(&self, station: StationId, hand: Option<Gap>) -> Chip {
        let gap = hand.or_else(|| self.confirmed(station));
        let (text, spoken) = match &gap {
            Some(gap) => (
                self.numbers.compact_range(gap.cold.bracket),
                format!(
                    "{}, {}",
                    self.numbers.between(gap.cold.bracket),
                    words::verdict(gap.verdict.kind())
                ),
            ),
            None => (tell!("not yet").to_owned(), tell!("not yet measured").to_owned()),
        };
        Chip { station, gap, text, spoken }
    }

    /// The worst verdict among the confirmed readings of a line; `None` before the first.
    pub fn worst(&self, line: LineId) -> Option<Verdict> {
        let stations = &self.shear.line(line)?.stations;
        stations
            .iter()
            .filter_map(|station| self.confirmed(station.id))
            .map(|gap| gap.verdict)
            .max_by_key(|verdict| gravity(verdict.kind(), verdict.worst()))
    }

    /// How many stations of a line are measured: `2 of 4`.
    pub fn done(&self, line: LineId) -> String {
        let stations = self.shear.line(line).map_or(&[][..], |line| &line.stations);
        let done = stations.iter().filter(|it| self.is_confirmed(it.id)).count();
        tell!("{done} of {stations}", done, stations = stations.len())
    }

    /// Whether a station has a confirmed reading in this visit.
    pub fn is_confirmed(&self, station: StationId) -> bool {
        self.session.is_some_and(|session| session.readings.iter().any(|it| it.station == station))
    }

    /// A stop that must stay in view: what is wrong, and what to do about it.
    ///
    /// A stop found in this visit counts first; then a gap of the log that was not measured away;
    /// then whatever else the log says must stop, such as cracks or a spread jaw.
    pub fn stop(&self) -> Option<[String; 2]> {
        let found = self.shear.walk().into_iter().find_map(|station| {
            let gap = self.confirmed(station)?;
            let VerdictKind::Stop(way) = gap.verdict.kind() else { return None };
            Some((station, way))
        });
        let Some((station, way)) = found.or_else(|| self.stop_in_log()) else {
            return self.stop_decided();
        };
        let line = self.shear.line(station.line)?;
        let stop = line.limits.stop();
        let (verb, limit) = match way {
            Way::Tight => (tell!("is under"), stop.min),
            Way::Wide => (tell!("is over"), stop.max),
        };
        let fact = tell!(
            "{station} {verb} the stop limit {limit}",
            station,
            verb,
            limit = self.numbers.length(limit)
        );
        Some([fact, tell!("Do not cut until this is put right.").to_owned()])
    }

    /// A stop for another reason than a gap.
    fn stop_decided(&self) -> Option<[String; 2]> {
        let stopped = |line: &&LineDecision| {
            let gap = |reason: &Reason| matches!(reason, Reason::BeyondStop { .. });
            line.action == Action::Stop && !line.reasons.iter().any(gap)
        };
        let line = self.decision?.lines.iter().find(stopped)?;
        let told = tell_line(line, self.shear, self.numbers);
        Some([tell!("{place}: stop", place = told.place), format!("{}.", told.headline)])
    }

    fn stop_in_log(&self) -> Option<(StationId, Way)> {
        let lines = self.decision?.lines.iter().filter(|line| line.action == Action::Stop);
        lines.flat_map(|line| &line.stations).find_map(|state| {
            let open = !self.is_confirmed(state.station) && !state.stale;
            match state.verdict.filter(|_| open)?.kind() {
                VerdictKind::Stop(way) => Some((state.station, way)),
                _ => None,
            }
        })
    }

    /// Where a line lies: `along the cutting side`.
    pub fn along(&self, line: LineId) -> &'static str {
        let side = self
            .shear
            .line(line)
            .and_then(|line| self.shear.blade(&line.fixed))
            .map(|blade| blade.side);
        match side {
            Some(Side::Front) => tell!("across the tip"),
            Some(Side::Guide) => tell!("along the guide side"),
            _ => tell!("along the cutting side"),
        }
    }
}

/// How bad a verdict is, for choosing the worst of several.
const fn gravity(kind: VerdictKind, worst: Zone) -> u8 {
    match kind {
        VerdictKind::Stop(_) => 6,
        VerdictKind::Too(_) => 5,
        VerdictKind::Undecided => 3 + worst.severity() / 2,
        VerdictKind::Soon(_) => 2,
        VerdictKind::Working => 1,
        VerdictKind::Set => 0,
    }
}

/// A station for a button: `P2, second from the pivot`.
pub fn short(shear: &Shear, station: StationId) -> String {
    let long = words::station(shear, station);
    let place = long.rsplit_once(", ").map_or("", |(_, place)| place);
    format!("{station}, {place}")
}
