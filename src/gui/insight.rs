//! What the Trend screen shows and what costs too much to find anew for each frame.
//!
//! Knows charts, breaks, second opinions and comparisons of one line, and what they were made from.
//! Does not know words or pixels.

use crate::{
    domain::{
        decide::MachineDecision,
        machine::{LineId, ShearId, StationId},
        trend::{Alike, Axis, Change, Chart, Comparison, Question, SecondOpinion, SetOf},
        yard::{Machine, Yard},
    },
    workbench::Kin,
};

/// What one station's readings say beside its growth.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct StationInsight {
    /// Which.
    pub(crate) station: StationId,
    /// Its control charts; `None` without lines or scatter.
    pub(crate) chart: Option<Chart>,
    /// Breaks that no recorded work explains.
    pub(crate) changes: Vec<Change>,
    /// A line that a few wild readings cannot sway.
    pub(crate) second: Option<SecondOpinion>,
}

/// A comparison that was made.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Compared {
    /// What was asked.
    pub(crate) alike: Alike,
    /// What was compared, in the order of the answer.
    pub(crate) sets: Vec<SetOf>,
    /// The answer; `None` if fewer than two have a rate.
    pub(crate) answer: Option<Comparison>,
}

/// Everything about one line of one machine.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Insight {
    shear: ShearId,
    line: LineId,
    axis: Axis,
    /// Every station of the line.
    pub(crate) stations: Vec<StationInsight>,
    compared: Vec<Compared>,
}

impl Insight {
    /// Looks at every station of a line.
    pub(crate) fn of(
        machine: &Machine,
        decision: &MachineDecision,
        line: LineId,
        axis: Axis,
    ) -> Self {
        let decided = decision.line(line).map_or(&[][..], |line| &line.stations);
        let stations = decided.iter().map(|state| StationInsight {
            station: state.station,
            chart: state.trend.chart(),
            changes: state.trend.changes.clone(),
            second: state.trend.second_opinion(),
        });
        Self {
            shear: machine.shear.id.clone(),
            line,
            axis,
            stations: stations.collect(),
            compared: Vec::new(),
        }
    }

    /// Whether it is about this line of this machine.
    pub(crate) fn is_of(&self, machine: &Machine, line: LineId, axis: Axis) -> bool {
        self.shear == machine.shear.id && self.line == line && self.axis == axis
    }

    /// What is known of a station.
    pub(crate) fn station(&self, station: StationId) -> Option<&StationInsight> {
        self.stations.iter().find(|it| it.station == station)
    }

    /// The comparison of this kind; that of one station before and after work is `lead`'s.
    pub(crate) fn compared(&self, kin: Kin, lead: StationId) -> Option<&Compared> {
        self.compared.iter().find(|it| match (&it.alike, kin) {
            (Alike::Times(station), Kin::Times) => *station == lead,
            (Alike::Stations(_), Kin::Stations)
            | (Alike::Lines, Kin::Lines)
            | (Alike::Machines(_), Kin::Machines) => true,
            _ => false,
        })
    }

    /// Whether the comparisons were made.
    pub(crate) const fn has_compared(&self) -> bool {
        !self.compared.is_empty()
    }

    /// Makes the comparisons, once.
    pub(crate) fn compare(&mut self, yard: &Yard) {
        let Some(machine) = yard.machine(&self.shear).filter(|_| self.compared.is_empty()) else {
            return;
        };
        let settings = &yard.settings;
        let stations =
            self.stations.iter().map(|it| Question::times(machine, settings, it.station));
        let questions = [
            Question::stations(machine, settings, self.line),
            Question::lines(machine, settings),
            Question::machines(yard, self.line),
        ];
        self.compared = questions
            .into_iter()
            .chain(stations)
            .map(|question| {
                let answer = question.ask();
                let sets = question.sets.into_iter().map(|(set, _)| set).collect();
                Compared { alike: question.alike, sets, answer }
            })
            .collect();
    }
}
