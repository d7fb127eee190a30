//! Who might grow like whom: the sets that comparisons are made of.
//!
//! Knows which stations, lines, machines and times belong side by side, with their readings
//! referred to 20 °C. Does not test them; that is [`Comparison`]'s, and words are `brief`'s.

use crate::domain::{
    machine::{Line, LineId, ShearId, StationId},
    trend::{Comparison, Observation, Segmented, Set, StationTrend},
    verdict::cold,
    yard::{Machine, Settings, Yard},
};

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Alike {
    /// Whether the stations of a line grow alike.
    Stations(LineId),
    /// Whether a station grew alike before and after each work.
    Times(StationId),
    /// Whether the lines of a machine do.
    Lines,
    /// Whether a line of every machine does.
    Machines(LineId),
}

/// What one set holds.
#[derive(Clone, Debug, PartialEq)]
pub enum SetOf {
    /// One station's readings.
    Station(StationId),
    /// One station's readings from the first to the last of these service hours.
    Span([f64; 2]),
    /// All stations of a line.
    Line(LineId),
    /// All stations of a line of one machine.
    Machine(ShearId),
}

/// One question with its sets.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// What is asked.
    pub alike: Alike,
    /// What is compared.
    pub sets: Vec<(SetOf, Set)>,
}

impl Question {
    /// Whether the stations of a line grow alike.
    pub fn stations(machine: &Machine, settings: &Settings, line: LineId) -> Self {
        let sets = seen(machine, settings, line);
        let sets =
            sets.into_iter().map(|(at, set)| (SetOf::Station(at), Set::Station(set))).collect();
        Self { alike: Alike::Stations(line), sets }
    }

    /// Whether a station grew alike between one work and the next.
    pub fn times(machine: &Machine, settings: &Settings, station: StationId) -> Self {
        let line = machine.shear.line(station.line);
        let set = line.map_or_else(Vec::new, |line| readings(machine, settings, line, station));
        let spans = set.chunk_by(|a, b| a.segment == b.segment).map(|stretch| {
            let end = |it: Option<&Observation>| it.map_or(0.0, |it| it.x);
            let span = SetOf::Span([end(stretch.first()), end(stretch.last())]);
            (span, Set::Station(stretch.to_vec()))
        });
        Self { alike: Alike::Times(station), sets: spans.collect() }
    }

    /// Whether the lines of a machine grow alike.
    pub fn lines(machine: &Machine, settings: &Settings) -> Self {
        let lines = machine.shear.lines.iter();
        let sets = lines.map(|line| (SetOf::Line(line.id), together(machine, settings, line.id)));
        Self { alike: Alike::Lines, sets: sets.collect() }
    }

    /// Whether a line grows alike on every machine that has it.
    pub fn machines(yard: &Yard, line: LineId) -> Self {
        let having = yard.machines.iter().filter(|it| it.shear.line(line).is_some());
        let sets = having
            .map(|it| (SetOf::Machine(it.shear.id.clone()), together(it, &yard.settings, line)));
        Self { alike: Alike::Machines(line), sets: sets.collect() }
    }

    /// The test of equal rates; `None` if fewer than two sets have a rate.
    pub fn ask(&self) -> Option<Comparison> {
        let sets: Vec<Set> = self.sets.iter().map(|(_, set)| set.clone()).collect();
        Comparison::of(&sets)
    }
}

/// The readings of every station of a line.
fn seen(
    machine: &Machine,
    settings: &Settings,
    line: LineId,
) -> Vec<(StationId, Vec<Observation>)> {
    let Some(line) = machine.shear.line(line) else { return Vec::new() };
    let stations = machine.shear.walk().into_iter().filter(|it| it.line == line.id);
    stations.map(|station| (station, readings(machine, settings, line, station))).collect()
}

fn readings(
    machine: &Machine,
    settings: &Settings,
    line: &Line,
    station: StationId,
) -> Vec<Observation> {
    let kit = settings.kit();
    let cold = |observed: &_| Some(cold(line, observed, kit).bracket);
    StationTrend::points(&machine.history, station, cold)
}

/// All stations of a line as one set: each keeps its own levels, and counts with the readings that
/// its growth now rests on.
fn together(machine: &Machine, settings: &Settings, line: LineId) -> Set {
    let mut all: Vec<Observation> = Vec::new();
    for (_, set) in seen(machine, settings, line) {
        let first = all.last().map_or(0, |it| it.segment + 1);
        let fit = Segmented::fit(&set).ok().filter(|fit| fit.model.own_rates());
        let only = fit.and_then(|fit| Some(fit.segments.last()?.segment));
        let counts = set.iter().filter(|it| only.is_none_or(|only| only == it.segment));
        all.extend(counts.map(|it| Observation { segment: it.segment + first, ..*it }));
    }
    Set::Stations(all)
}
