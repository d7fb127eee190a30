//! What is in hand, gathered once a frame from the view.

use crate::{
    brief::measure::{Gap, Live, Telling},
    domain::{
        gauge::{Bracket, LeafSet, Typed, read_entry},
        log::FindingKind,
        machine::{Line, Shear, Station, StationId},
        quantity::{Length, Temperature},
        yard::Machine,
    },
    gui::screens::View,
    workbench::{Entry, Visit},
};

/// Everything the screen's parts look at.
pub(super) struct Hand<'a> {
    pub(super) view: &'a View<'a>,
    pub(super) machine: &'a Machine,
    pub(super) shear: &'a Shear,
    pub(super) visit: Option<&'a Visit>,
    pub(super) telling: Telling<'a>,
    pub(super) leaves: Option<&'a LeafSet>,
    pub(super) line: &'a Line,
    pub(super) station: &'a Station,
    pub(super) at: StationId,
    pub(super) entry: Entry,
    pub(super) blade_temp: Option<Temperature>,
    pub(super) must_move: bool,
    pub(super) signing: bool,
    /// The reading in hand, as if the stack in hand were said too; or the confirmed one.
    pub(super) felt: Option<(Bracket, Gap)>,
    /// Whether that is the confirmed one, with nothing in hand over it.
    pub(super) saved: bool,
}

/// What Enter and the big button do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// The stack in hand goes; the other is asked for then.
    Goes(Length),
    /// The reading is complete: save it and go on.
    Save,
    /// Saved already: go on.
    GoOn,
    /// Something is missing; asking says what.
    Missing,
}

impl<'a> Hand<'a> {
    pub(super) fn of(view: &'a View<'a>) -> Option<Self> {
        let machine = view.bench.machine()?;
        let shear = &machine.shear;
        let visit = view.bench.visit();
        let at = match visit {
            Some(visit) => visit.at,
            None => *shear.walk().first()?,
        };
        let (line, station) = (shear.line(at.line)?, shear.station(at)?);
        let settings = &view.bench.yard().settings;
        let leaves = settings.leaves_in(view.bench.unit());
        let telling = Telling {
            shear,
            decision: view.decision,
            session: visit.map(|visit| &visit.session),
            settings,
            leaves,
            numbers: view.numbers,
        };
        let entry = visit.map(Visit::entry).unwrap_or_default();
        let reading = visit.and_then(|visit| visit.reading(at));
        let blade_temp = visit.and_then(|visit| visit.blade_temp);
        let preview = entry.preview(view.bench.unit(), leaves);
        let saved = reading.is_some() && entry == Entry::default();
        let felt = match (preview, reading) {
            (Some(bracket), _) => {
                let noted = settings.noted(leaves);
                telling.gap(at, bracket, (blade_temp, noted.as_ref())).map(|gap| (bracket, gap))
            }
            (None, Some(reading)) if saved => telling
                .gap(at, reading.bracket, (reading.blade_temp, reading.leaves.as_ref()))
                .map(|gap| (reading.bracket, gap)),
            (None, _) => None,
        };
        Some(Self {
            view,
            machine,
            shear,
            visit,
            telling,
            leaves,
            line,
            station,
            at,
            blade_temp: if saved { reading.and_then(|it| it.blade_temp) } else { blade_temp },
            must_move: visit.is_none_or(|visit| visit.must_move(shear)),
            signing: visit.is_some_and(|visit| visit.signing),
            entry,
            felt,
            saved,
        })
    }

    /// The stack in hand.
    pub(super) fn stack(&self) -> Option<Length> {
        self.entry.stack(self.view.bench.unit())
    }

    /// What is said about the station so far.
    pub(super) const fn said(&self) -> (Option<Length>, Option<Length>) {
        (self.entry.go, self.entry.no_go)
    }

    /// The verdict while it can still change.
    pub(super) fn live(&self) -> Live {
        self.telling.live(self.at, self.said(), self.felt.as_ref(), self.blade_temp)
    }

    /// The gap in hand at a station, if that is the one in hand.
    pub(super) fn gap_at(&self, station: StationId) -> Option<Gap> {
        if station == self.at {
            self.felt.map(|(_, gap)| gap)
        } else {
            self.telling.confirmed(station)
        }
    }

    /// What Enter does now.
    pub(super) fn step(&self) -> Step {
        let typed = read_entry(&self.entry.text, self.view.bench.unit());
        if typed.is_ok_and(|typed| !matches!(typed, Typed::One(_))) {
            return Step::Save;
        }
        if self.saved {
            return Step::GoOn;
        }
        let mut after = self.entry.clone();
        match (self.stack(), after.go) {
            (Some(stack), Some(_)) => after.no_go = Some(stack),
            (Some(stack), None) => after.go = Some(stack),
            (None, _) => {}
        }
        match (after.reading(self.leaves), self.stack()) {
            (Some(_), _) => Step::Save,
            (None, Some(stack)) if self.entry.go.is_none() => Step::Goes(stack),
            (None, _) => Step::Missing,
        }
    }

    /// The station after the one in hand; `None` at the end of the walk.
    pub(super) fn next(&self) -> Option<StationId> {
        let walk = self.shear.walk();
        let place = walk.iter().position(|station| *station == self.at)?;
        walk.get(place + 1).copied()
    }

    /// The station before the one in hand.
    pub(super) fn previous(&self) -> Option<StationId> {
        let walk = self.shear.walk();
        let place = walk.iter().position(|station| *station == self.at)?;
        walk.get(place.checked_sub(1)?).copied()
    }

    /// What was seen at the station in hand.
    pub(super) fn seen(&self) -> Vec<&FindingKind> {
        let findings = self.visit.map_or(&[][..], |visit| &visit.session.findings);
        findings
            .iter()
            .filter(|it| it.line == Some(self.at.line) && it.station == Some(self.at.number))
            .map(|it| &it.kind)
            .collect()
    }
}
