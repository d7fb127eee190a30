//! A crew that checks its own measuring: a plan, and then reading after reading.
//!
//! Everybody measures every chosen station, and then again, station by station in one jaw position
//! before the jaw moves. Every confirmed reading is asked to be kept at once. What the readings
//! mean is the domain's business.

use crate::{
    domain::{
        gauge::{
            Bracket, EntryFault, Repeatability,
            study::{Span, Study, StudyReading, Table},
        },
        log::SessionId,
        machine::{Shear, ShearId, StationId},
        quantity::Length,
        yard::Machine,
    },
    workbench::{Effect, Entry, Screen, Workbench, hand},
};
use chrono::{DateTime, FixedOffset, Utc};
use std::collections::{BTreeMap, BTreeSet};

/// The most people in one study; a crew is not larger, and the walk would have no end.
pub const PEOPLE_MOST: usize = 6;
/// How many times everybody measures: once says nothing about the hand.
pub const TRIALS: [u8; 3] = [2, 3, 4];

/// Everything a person can ask for in a study.
#[derive(Clone, Debug, PartialEq)]
pub enum StudyStep {
    /// Bring the study of the machine in hand to the front.
    Open,
    /// Take a station into the plan or out of it.
    ToggleStation(StationId),
    /// The text of the field for initials changed.
    TypePerson(String),
    /// Take these initials into the plan, or out of it if they are there.
    TogglePerson(String),
    /// How many times everybody measures.
    SetTrials(u8),
    /// The shell has found a study that was begun and not finished.
    TakeUp {
        /// The name of its file.
        name: SessionId,
        /// Every planned place in the order of the walk, with what was confirmed.
        readings: Vec<StudyReading>,
        /// When it was last kept.
        kept: DateTime<Utc>,
    },
    /// The plan is made: measure.
    Start,
    /// People are clear, the jaw was moved, it is locked and blocked again.
    PositionReached,
    /// The text of the entry field changed.
    Type(String),
    /// A leaf was tapped into or out of the stack in hand.
    TapLeaf(Length),
    /// The stack in hand goes in.
    Goes,
    /// The stack in hand does not go.
    DoesNotGo,
    /// Take what was said here back.
    Clear,
    /// Enter: say the obvious next thing, and keep the reading once both stacks are known.
    Confirm,
    /// Go to the reading after this one.
    Next,
    /// Go back to the one before.
    Previous,
    /// Count with this scatter for every reading of the yard.
    Use(FixedOffset),
    /// Put this study aside and plan another.
    StartOver,
    /// The shell has kept the study.
    Kept(DateTime<Utc>),
}

/// The place of one reading: who measures what, which time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cell {
    /// The station.
    pub station: StationId,
    /// The person, by number in the plan.
    pub person: usize,
    /// The time, counted from 1.
    pub trial: u8,
}

/// A study in the making.
#[derive(Clone, Debug, PartialEq)]
pub struct StudyBench {
    /// The stations that are measured.
    pub stations: BTreeSet<StationId>,
    /// The initials of those who measure.
    pub people: Vec<String>,
    /// How many times everybody measures.
    pub trials: u8,
    /// Initials as typed, not in the plan yet.
    pub person_text: String,
    /// The name of the file, once the plan is made.
    pub name: Option<SessionId>,
    /// The reading in hand, by number in the walk; behind the last one all is measured.
    pub at: usize,
    /// What is in hand there.
    pub entry: Entry,
    /// Everything confirmed so far.
    pub readings: BTreeMap<Cell, Bracket>,
    /// The jaw position that was reached and made safe.
    pub position: Option<usize>,
    /// When it was last kept.
    pub kept: Option<DateTime<Utc>>,
}

impl StudyBench {
    fn new(person: &str) -> Self {
        Self {
            stations: BTreeSet::new(),
            people: if person.is_empty() { Vec::new() } else { vec![person.to_owned()] },
            trials: 3,
            person_text: String::new(),
            name: None,
            at: 0,
            entry: Entry::default(),
            readings: BTreeMap::new(),
            position: None,
            kept: None,
        }
    }

    /// A study that was kept, ready at the first place that nobody measured; `None` if it is none
    /// of this machine as it is now.
    fn taken_up(shear: &Shear, readings: &[StudyReading]) -> Option<Self> {
        let mut study = Self::new("");
        study.trials = 0;
        for reading in readings {
            let station: StationId = reading.part.parse().ok()?;
            let trial: u8 = reading.trial.parse().ok()?;
            shear.station(station)?;
            let known = study.people.iter().position(|it| *it == reading.person);
            let person = known.unwrap_or(study.people.len());
            if known.is_none() {
                study.people.push(reading.person.clone());
            }
            study.stations.insert(station);
            study.trials = study.trials.max(trial);
            if let Some(value) = reading.value {
                let bracket = Bracket::new(value.low(), Some(value.high())).ok()?;
                study.readings.insert(Cell { station, person, trial }, bracket);
            }
        }
        let walk = study.walk(shear);
        let planned = TRIALS.contains(&study.trials) && study.people.len() <= PEOPLE_MOST;
        study.at = walk.iter().position(|cell| !study.readings.contains_key(cell))?;
        (planned && walk.len() == readings.len()).then_some(study)
    }

    /// Whether the plan is made and people measure.
    pub const fn is_running(&self) -> bool {
        self.name.is_some()
    }

    /// Whether the plan can be measured: something, by somebody.
    pub fn is_planned(&self) -> bool {
        !self.stations.is_empty() && !self.people.is_empty()
    }

    /// Every reading in the order of the walk: one jaw position after the other; there everybody
    /// once along the stations, then everybody again.
    pub fn walk(&self, shear: &Shear) -> Vec<Cell> {
        let mut groups: Vec<(Option<usize>, Vec<StationId>)> = Vec::new();
        for station in shear.walk().into_iter().filter(|it| self.stations.contains(it)) {
            let position = shear.position_of(station);
            match groups.last_mut().filter(|group| group.0 == position) {
                Some(group) => group.1.push(station),
                None => groups.push((position, vec![station])),
            }
        }
        let mut walk = Vec::new();
        for (_, stations) in &groups {
            for trial in 1..=self.trials {
                for person in 0..self.people.len() {
                    walk.extend(stations.iter().map(|it| Cell { station: *it, person, trial }));
                }
            }
        }
        walk
    }

    /// The place of the reading in hand; `None` if all is measured or nothing planned.
    pub fn cell(&self, shear: &Shear) -> Option<Cell> {
        self.walk(shear).get(self.at).copied()
    }

    /// The initials of a person in the plan.
    pub fn initials(&self, person: usize) -> &str {
        self.people.get(person).map_or("", String::as_str)
    }

    /// Whether the reading in hand needs the jaw in another position than the one reached.
    pub fn must_move(&self, shear: &Shear) -> bool {
        let wanted = self.cell(shear).and_then(|cell| shear.position_of(cell.station));
        wanted.is_some() && wanted != self.position
    }

    /// The readings as a study takes them, in the order of the walk.
    pub fn list(&self, shear: &Shear) -> Vec<StudyReading> {
        let mut places = self.places(shear);
        places.retain(|place| place.value.is_some());
        places
    }

    /// Every planned place in the order of the walk, with what was read there.
    fn places(&self, shear: &Shear) -> Vec<StudyReading> {
        let span = |bracket: &Bracket| Span::new(bracket.go(), bracket.no_go()?);
        self.walk(shear)
            .into_iter()
            .map(|cell| StudyReading {
                part: cell.station.to_string(),
                person: self.initials(cell.person).to_owned(),
                trial: cell.trial.to_string(),
                value: self.readings.get(&cell).and_then(span),
            })
            .collect()
    }

    fn plan(&mut self, step: StudyStep, shear: &Shear) {
        match step {
            StudyStep::ToggleStation(station) => {
                let known = shear.station(station).is_some();
                if !self.stations.remove(&station) && known {
                    self.stations.insert(station);
                }
            }
            StudyStep::TypePerson(text) => self.person_text = text,
            StudyStep::TogglePerson(initials) => {
                let initials = initials.trim().to_owned();
                self.person_text.clear();
                if let Some(place) = self.people.iter().position(|it| *it == initials) {
                    self.people.remove(place);
                } else if !initials.is_empty() && self.people.len() < PEOPLE_MOST {
                    self.people.push(initials);
                }
            }
            StudyStep::SetTrials(trials) if TRIALS.contains(&trials) => self.trials = trials,
            _ => {}
        }
    }

    /// Takes the reading of this number in hand; behind the last one all is measured.
    fn go_to(&mut self, number: usize, shear: &Shear) {
        self.at = number.min(self.walk(shear).len());
        self.entry = Entry::default();
    }

    /// Keeps a reading and goes on to the next that is not measured yet.
    fn keep(&mut self, bracket: Bracket, shear: &Shear) -> bool {
        if !bracket.is_closed() {
            self.entry.fault = Some(EntryFault::NoCeiling { go: bracket.go() });
            return false;
        }
        let walk = self.walk(shear);
        let Some(cell) = walk.get(self.at) else { return false };
        self.readings.insert(*cell, bracket);
        let open = |it: &Cell| !self.readings.contains_key(it);
        let next = walk.iter().skip(self.at).position(open).map(|ahead| self.at + ahead);
        let missed = || walk.iter().position(open);
        self.at = next.or_else(missed).unwrap_or(walk.len());
        self.entry = Entry::default();
        true
    }
}

impl Workbench {
    /// The study of the machine in hand, if somebody began one.
    pub fn study_bench(&self) -> Option<&StudyBench> {
        self.studies.get(self.machine.as_ref()?)
    }

    /// Everything that happens in a study.
    pub(crate) fn study(&mut self, step: StudyStep, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let Some(machine) = self.machine().cloned() else { return Vec::new() };
        let shear = &machine.shear;
        let (id, unit, initials) = (shear.id.clone(), self.unit, self.initials.clone());
        let leaves = self.yard.settings.leaves_in(self.unit).cloned();
        let fresh = || StudyBench::new(&initials);
        let new = !self.studies.contains_key(&id);
        let study = self.studies.entry(id.clone()).or_insert_with(fresh);
        match step {
            StudyStep::Open => {
                self.screen = Screen::Study;
                return if new { vec![Effect::FindStudy(id)] } else { Vec::new() };
            }
            StudyStep::TakeUp { name, readings, kept } if !study.is_running() => {
                if let Some(taken_up) = StudyBench::taken_up(shear, &readings) {
                    *study = StudyBench { name: Some(name), kept: Some(kept), ..taken_up };
                }
            }
            StudyStep::StartOver => *study = fresh(),
            StudyStep::Kept(at) => study.kept = Some(at),
            StudyStep::Use(zone) => return self.use_scatter(&machine, now, zone),
            StudyStep::Start if study.is_planned() && !study.is_running() => {
                self.tail = self.tail.wrapping_add(1);
                study.name = Some(SessionId::new(now, self.tail));
                return self.keep_study(&id).into_iter().collect();
            }
            planning if !study.is_running() => study.plan(planning, shear),
            StudyStep::PositionReached => {
                study.position = study.cell(shear).and_then(|cell| shear.position_of(cell.station));
            }
            StudyStep::Type(text) => {
                study.entry = Entry { text, leaves: Vec::new(), fault: None, ..study.entry.clone() }
            }
            StudyStep::TapLeaf(leaf) => hand::tap_leaf(&mut study.entry, leaf),
            StudyStep::Goes => hand::say(&mut study.entry, unit, Entry::say_goes),
            StudyStep::DoesNotGo => hand::say(&mut study.entry, unit, Entry::say_does_not_go),
            StudyStep::Clear => study.entry = Entry::default(),
            StudyStep::Next => study.go_to(study.at + 1, shear),
            StudyStep::Previous => study.go_to(study.at.saturating_sub(1), shear),
            StudyStep::Confirm => {
                let bracket = hand::enter(&mut study.entry, unit, leaves.as_ref());
                if bracket.is_some_and(|bracket| study.keep(bracket, shear)) {
                    return self.keep_study(&id).into_iter().collect();
                }
            }
            _ => {}
        }
        Vec::new()
    }

    fn keep_study(&self, id: &ShearId) -> Option<Effect> {
        let (study, machine) = (self.studies.get(id)?, self.yard.machine(id)?);
        let readings = study.places(&machine.shear);
        Some(Effect::KeepStudy { name: study.name.clone()?, machine: id.clone(), readings })
    }

    /// All of measuring, with what people differ, is what a reading by anybody scatters.
    fn use_scatter(&self, machine: &Machine, now: DateTime<Utc>, zone: FixedOffset) -> Vec<Effect> {
        let scatter = || {
            let study = self.studies.get(&machine.shear.id)?;
            let (table, _) = Table::balanced(&study.list(&machine.shear));
            let found = Study::of(&table?);
            let chosen = found.anova.chosen();
            Some((chosen.scatter_mm()?, chosen.grr_dof(), study.name.clone()?))
        };
        let Some((sigma, dof, name)) = scatter() else { return Vec::new() };
        let Some(sigma) = Length::from_mm(sigma) else { return Vec::new() };
        let repeatability = Repeatability {
            sigma,
            dof,
            from: format!("studies/{name}.csv, {}", machine.shear.name),
            taken: now.with_timezone(&zone).date_naive(),
        };
        vec![Effect::UseScatter(repeatability)]
    }
}
