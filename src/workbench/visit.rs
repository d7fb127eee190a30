//! An open visit: a session that is being written, station by station.
//!
//! Long because a visit is walked, written, taken back and resumed by one set of commands.

use crate::{
    domain::{
        gauge::Bracket,
        log::{
            Counted, Counters, Finding, FindingKind, Mark, MarkKind, Reading, Session, SessionId,
            SignFault,
        },
        machine::{BladeId, Shear, ShearId, StationId},
        quantity::{Hours, Length, LengthUnit, Temperature},
        yard::Machine,
    },
    workbench::{Command, CounterTexts, Effect, Entry, Workbench, arrival, hand},
};
use chrono::{DateTime, TimeDelta, Utc};
use std::{collections::BTreeMap, sync::Arc};

/// Along the walk, or along the undo list.
#[derive(Clone, Copy, Debug)]
enum Along {
    Back,
    Forward,
}

/// What was taken back, so that it can be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TakenBack {
    /// The reading of the station that is in hand now.
    Reading(Bracket),
    /// A finding, a wear mark, or a reading that came back.
    Other,
}

/// A session that is being written.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// Everything confirmed so far; this is what the draft on disk holds.
    pub session: Session,
    /// The station in hand.
    pub at: StationId,
    /// What is in hand at each station that is not saved yet.
    pub entries: BTreeMap<StationId, Entry>,
    /// Blade temperature carried from station to station until it is changed.
    pub blade_temp: Option<Temperature>,
    /// The jaw position that was reached and made safe.
    pub position: Option<usize>,
    /// The hour meter as typed.
    pub meter_text: String,
    /// The counters beside it as typed.
    pub counters: CounterTexts,
    /// Why the visit cannot be signed yet, after somebody tried.
    pub sign_fault: Option<SignFault>,
    /// When the draft was last written.
    pub saved: Option<DateTime<Utc>>,
    /// Whether all stations are done and the sign-off card is in front.
    pub signing: bool,
    /// What the last command took back, if it did.
    pub taken_back: Option<TakenBack>,
    undo: Vec<Step>,
    redo: Vec<Step>,
}

/// What a confirmed step may change, and undo brings back. Notes, initials and the meter are
/// written in fields of their own and stay.
#[derive(Clone, Debug, PartialEq)]
struct Step {
    readings: Vec<Reading>,
    marks: Vec<Mark>,
    findings: Vec<Finding>,
}

impl Visit {
    fn new(machine: &Machine, session: Session) -> Option<Self> {
        let walk = machine.shear.walk();
        let measured =
            |station: &StationId| session.readings.iter().any(|it| it.station == *station);
        let at = walk.iter().find(|station| !measured(station)).or(walk.first()).copied()?;
        Some(Self {
            at,
            entries: BTreeMap::new(),
            blade_temp: session.readings.last().and_then(|reading| reading.blade_temp),
            position: None,
            meter_text: String::new(),
            counters: CounterTexts::of(session.counters),
            sign_fault: None,
            saved: None,
            signing: false,
            taken_back: None,
            session,
            undo: Vec::new(),
            redo: Vec::new(),
        })
    }

    /// Whether anything was measured, seen, done or noted.
    pub const fn holds_something(&self) -> bool {
        arrival::holds_something(&self.session)
    }

    /// The first station in walking order with something in hand that is not saved.
    pub fn unfinished(&self, shear: &Shear) -> Option<StationId> {
        let in_hand = |at: &StationId| self.entries.get(at).is_some_and(|it| !it.is_blank());
        shear.walk().into_iter().find(in_hand)
    }

    /// What is in hand at the station in hand.
    pub fn entry(&self) -> Entry {
        self.entries.get(&self.at).cloned().unwrap_or_default()
    }

    /// The confirmed reading of a station.
    pub fn reading(&self, station: StationId) -> Option<&Reading> {
        // Of two windows' readings of one station the last is this window's.
        self.session.readings.iter().rfind(|reading| reading.station == station)
    }

    /// Whether the station in hand needs the jaw in another position than the one reached.
    pub fn must_move(&self, shear: &Shear) -> bool {
        let wanted = shear.position_of(self.at);
        wanted.is_some() && wanted != self.position
    }

    /// Whether there is a confirmed step to take back.
    pub const fn can_undo(&self) -> bool {
        !self.undo.is_empty()
    }

    /// Whether there is a step to do again.
    pub const fn can_redo(&self) -> bool {
        !self.redo.is_empty()
    }

    fn hand(&mut self) -> &mut Entry {
        self.entries.entry(self.at).or_default()
    }

    fn step_now(&self) -> Step {
        let Session { readings, marks, findings, .. } = &self.session;
        Step { readings: readings.clone(), marks: marks.clone(), findings: findings.clone() }
    }

    /// Goes on with another version of the session. Steps back would undo what another window did.
    pub(crate) fn become_session(&mut self, session: Session) {
        if session.counters != self.session.counters {
            self.counters = CounterTexts::of(session.counters);
        }
        self.session = session;
        self.undo.clear();
        self.redo.clear();
    }

    /// Keeps the session as it is, before a confirmed step changes it.
    fn remember(&mut self) {
        self.undo.push(self.step_now());
        self.redo.clear();
    }

    fn save_reading(&mut self, bracket: Bracket, leaves: Option<Arc<str>>) {
        self.remember();
        let station = self.at;
        let blade_temp = self.blade_temp;
        self.session.readings.retain(|reading| reading.station != station);
        self.session.readings.push(Reading { station, bracket, blade_temp, leaves });
        self.entries.remove(&station);
    }

    fn step(&mut self, shear: &Shear, along: Along) {
        let walk = shear.walk();
        let Some(place) = walk.iter().position(|station| *station == self.at) else { return };
        let next = match along {
            Along::Forward => place.checked_add(1),
            Along::Back => place.checked_sub(1),
        };
        match (next.and_then(|next| walk.get(next)), along) {
            (Some(station), _) => self.at = *station,
            (None, Along::Forward) => self.signing = true,
            (None, Along::Back) => {}
        }
    }

    fn walk(&mut self, command: &Command, shear: &Shear) {
        match command {
            Command::ChooseStation(station) if shear.station(*station).is_some() => {
                self.at = *station;
                self.signing = false;
            }
            Command::NextStation => self.step(shear, Along::Forward),
            Command::PreviousStation if self.signing => self.signing = false,
            Command::PreviousStation => self.step(shear, Along::Back),
            Command::PositionReached => self.position = shear.position_of(self.at),
            _ => {}
        }
    }

    fn handle(&mut self, command: Command, unit: LengthUnit) {
        match command {
            Command::GoToSignature => self.signing = true,
            Command::Type(text) => {
                let entry = self.hand();
                entry.text = text;
                entry.leaves.clear();
                entry.fault = None;
            }
            Command::TapLeaf(leaf) => hand::tap_leaf(self.hand(), leaf),
            Command::Goes => hand::say(self.hand(), unit, Entry::say_goes),
            Command::DoesNotGo => hand::say(self.hand(), unit, Entry::say_does_not_go),
            Command::ClearEntry => {
                self.entries.remove(&self.at);
            }
            Command::SetBladeTemp(temp) => self.blade_temp = temp,
            _ => {}
        }
    }

    /// Something was written about the session as a whole; true if a draft is worth keeping.
    fn wrote(&mut self) -> bool {
        self.sign_fault = None;
        self.holds_something()
    }

    fn type_counter(&mut self, counted: Counted, text: String) -> bool {
        let shows = self.counters.type_one(counted, text);
        self.session.counters = self.session.counters.with(counted, shows);
        self.wrote()
    }

    fn toggle_finding(&mut self, kind: FindingKind) {
        self.remember();
        let at = self.at;
        let here =
            |finding: &Finding| finding.line == Some(at.line) && finding.station == Some(at.number);
        let before = self.session.findings.len();
        self.session.findings.retain(|finding| !(here(finding) && finding.kind == kind));
        if self.session.findings.len() == before {
            self.session.findings.push(Finding {
                kind,
                line: Some(at.line),
                station: Some(at.number),
                size: None,
                note: String::new(),
            });
        }
    }

    /// True: it is a confirmed step.
    fn set_mark(&mut self, blade: BladeId, kind: MarkKind, value: Option<Length>) -> bool {
        self.remember();
        self.session.marks.retain(|mark| mark.blade != blade || mark.kind != kind);
        self.session.marks.extend(value.map(|value| Mark { blade, kind, value }));
        true
    }

    /// True: it is a confirmed step if a reading went.
    fn start_over(&mut self) -> bool {
        self.entries.remove(&self.at);
        let Some(bracket) = self.reading(self.at).map(|it| it.bracket) else { return false };
        self.remember();
        let at = self.at;
        self.session.readings.retain(|it| it.station != at);
        self.taken_back = Some(TakenBack::Reading(bracket));
        true
    }

    /// Along what was confirmed; true if the session changed.
    fn go_back(&mut self, command: &Command) -> bool {
        match command {
            Command::StartOver => self.start_over(),
            Command::Redo => self.travel(Along::Forward),
            _ => self.take_back(),
        }
    }

    /// Takes back what is in hand, or else the last confirmed step; true if the session changed.
    fn take_back(&mut self) -> bool {
        if self.entry().is_blank() {
            return self.travel(Along::Back);
        }
        self.entries.remove(&self.at);
        false
    }

    fn travel(&mut self, along: Along) -> bool {
        let now = self.step_now();
        let (from, to) = match along {
            Along::Forward => (&mut self.redo, &mut self.undo),
            Along::Back => (&mut self.undo, &mut self.redo),
        };
        let Some(step) = from.pop() else { return false };
        let changed = differs(&now.readings, &step.readings);
        let before = now.readings.clone();
        to.push(now);
        self.session.readings = step.readings;
        self.session.marks = step.marks;
        self.session.findings = step.findings;
        if let Along::Back = along {
            let gone = changed.filter(|at| self.reading(*at).is_none());
            let was = before.iter().find(|it| Some(it.station) == gone);
            self.taken_back =
                Some(was.map_or(TakenBack::Other, |it| TakenBack::Reading(it.bracket)));
            if let Some(station) = changed {
                self.at = station;
                self.signing = false;
            }
        }
        true
    }
}

/// The station whose reading is in one list and not in the other.
fn differs(one: &[Reading], other: &[Reading]) -> Option<StationId> {
    let apart = |from: &[Reading], to: &[Reading]| {
        from.iter().find(|reading| !to.contains(reading)).map(|reading| reading.station)
    };
    apart(one, other).or_else(|| apart(other, one))
}

impl Workbench {
    /// Everything that happens at a station.
    pub(crate) fn measure(&mut self, command: Command, now: DateTime<Utc>) -> Vec<Effect> {
        self.revision += 1;
        let unit = self.unit;
        let Some(machine) = self.machine().cloned() else { return Vec::new() };
        let id = machine.shear.id.clone();
        if let Command::DiscardVisit = command {
            let dropped = self.finish(&id);
            let draft = dropped.filter(|visit| visit.saved.is_some());
            return draft.map(|it| Effect::DropDraft(Box::new(it.session))).into_iter().collect();
        }
        if let Command::DraftSaved(at) = command {
            if let Some(visit) = self.visits.get_mut(&id) {
                visit.saved = Some(at);
            }
            return Vec::new();
        }
        if !self.begin(&machine, &command, now) {
            return Vec::new();
        }
        let initials = &mut self.initials;
        let settings = &self.yard.settings;
        let leaf_set = settings.leaves_in(unit);
        let Some(visit) = self.visits.get_mut(&id) else { return Vec::new() };
        visit.taken_back = None;
        let confirmed = match command {
            Command::TypeInitials(text) => {
                initials.clone_from(&text);
                visit.session.by = text;
                visit.wrote()
            }
            Command::TypeMeter(text) => {
                if let Ok(meter) = Hours::parse(&text) {
                    visit.session.meter = meter;
                }
                visit.meter_text = text;
                visit.wrote()
            }
            Command::TypeCounter(counted, text) => visit.type_counter(counted, text),
            Command::TypeNote(text) => {
                visit.session.note = text;
                visit.wrote()
            }
            Command::SetJawTemp(taken) => {
                visit.session.jaw_temp = taken;
                visit.wrote()
            }
            Command::SetAirTemp(taken) => {
                visit.session.air_temp = taken;
                visit.wrote()
            }
            Command::ToggleFinding(kind) => {
                visit.toggle_finding(kind);
                true
            }
            Command::SetMark(blade, kind, value) => visit.set_mark(blade, kind, value),
            back @ (Command::StartOver | Command::Undo | Command::Redo) => visit.go_back(&back),
            Command::Confirm => {
                let reading = hand::enter(visit.hand(), unit, leaf_set);
                if let Some(bracket) = reading {
                    visit.save_reading(bracket, settings.noted(leaf_set));
                    visit.step(&machine.shear, Along::Forward);
                }
                reading.is_some()
            }
            walking @ (Command::ChooseStation(_)
            | Command::NextStation
            | Command::PreviousStation
            | Command::PositionReached) => {
                visit.walk(&walking, &machine.shear);
                false
            }
            in_hand => {
                visit.handle(in_hand, unit);
                false
            }
        };
        if confirmed {
            vec![Effect::SaveDraft(Box::new(visit.session.clone()))]
        } else {
            Vec::new()
        }
    }

    /// Makes sure that a visit is open, and dated by its first confirmed step: somebody may have
    /// looked in hours before. False if there is none and this command opens none.
    fn begin(&mut self, machine: &Machine, command: &Command, now: DateTime<Utc>) -> bool {
        let id = machine.shear.id.clone();
        if let Some(visit) = self.visits.get(&id) {
            let old = TimeDelta::minutes(1) < (now - visit.session.taken).abs();
            if old && !visit.holds_something() && visit.saved.is_none() {
                let name = self.fresh_id(&id, now);
                if let Some(visit) = self.visits.get_mut(&id) {
                    (visit.session.id, visit.session.taken) = (name, now);
                }
            }
            return true;
        }
        if matches!(command, Command::Undo | Command::Redo | Command::StartOver) {
            return false;
        }
        let session = self.fresh_session(machine, now);
        Visit::new(machine, session).map(|visit| self.visits.insert(id, visit)).is_some()
    }

    /// The visit to a machine is over: drops it, and takes up the next draft of that machine.
    pub(crate) fn finish(&mut self, shear: &ShearId) -> Option<Visit> {
        let over = self.visits.remove(shear);
        let next = self.waiting.iter().position(|draft| draft.shear == *shear);
        if let Some(place) = next {
            let draft = self.waiting.remove(place);
            self.resume(draft);
        }
        over
    }

    /// Takes up a draft that was found on disk; a second one of a machine waits for its turn.
    pub(crate) fn resume(&mut self, draft: Session) {
        let Some(machine) = self.yard.machine(&draft.shear) else { return };
        let id = draft.shear.clone();
        if self.visits.contains_key(&id) {
            self.waiting.push(draft);
            return;
        }
        let last = machine.history.last().map(Session::meter_after);
        let typed = Some(draft.meter) != last;
        let Some(mut visit) = Visit::new(machine, draft) else { return };
        if typed {
            visit.meter_text = format!("{}", visit.session.meter.h());
        }
        visit.saved = Some(visit.session.taken);
        if !visit.session.by.is_empty() {
            self.initials.clone_from(&visit.session.by);
        }
        self.visits.insert(id, visit);
    }

    /// A session with nothing in it yet.
    pub(crate) fn fresh_session(&mut self, machine: &Machine, now: DateTime<Utc>) -> Session {
        let id = self.fresh_id(&machine.shear.id, now);
        Session {
            id,
            shear: machine.shear.id.clone(),
            taken: not_before_the_last(machine, now),
            meter: machine.history.last().map_or(Hours::ZERO, Session::meter_after),
            by: self.initials.clone(),
            air_temp: None,
            jaw_temp: None,
            readings: Vec::new(),
            findings: Vec::new(),
            work: Vec::new(),
            counters: Counters::default(),
            marks: vec![],
            remarks: vec![],
            note: String::new(),
            amends: None,
        }
    }

    /// A name no session or draft of this machine has, even twice in one minute.
    pub(crate) fn fresh_id(&mut self, shear: &ShearId, now: DateTime<Utc>) -> SessionId {
        loop {
            self.tail = self.tail.wrapping_add(1);
            let id = SessionId::new(now, self.tail);
            let signed = self.yard.machine(shear).into_iter().flat_map(|it| &it.sessions);
            let open = self.visits.values().map(|visit| &visit.session).chain(&self.waiting);
            if signed.chain(open).all(|session| session.id != id) {
                return id;
            }
        }
    }
}

/// A session dated after now, by a clock that ran ahead, stays the one before: what happens next
/// stands after it.
fn not_before_the_last(machine: &Machine, now: DateTime<Utc>) -> DateTime<Utc> {
    let last = machine.history.last().filter(|last| now < last.taken);
    last.map_or(now, |last| last.taken + TimeDelta::seconds(1))
}
