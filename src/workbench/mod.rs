//! What happens when somebody acts: commands in, state and effects out.
//!
//! The workbench does not save, read the clock or draw. It changes its state and asks for effects;
//! the shell carries them out and reports back with another command. One function per noun: the
//! visit and its entry live in their own files.

mod arrival;
mod command;
mod counters;
mod decide;
mod entry;
mod hand;
mod heat;
mod report;
mod setup;
mod sign;
mod study;
mod visit;

pub use arrival::Arrival;
pub use command::{Command, Effect, Kin, Screen, Span, TrendView};
pub use counters::CounterTexts;
pub use decide::{Decide, DecideDesk, DecideView};
pub use entry::Entry;
pub use heat::{Heat, HeatDesk, Tried};
pub use setup::{Setup, SetupDesk, SetupPage, TextOf};
pub use study::{Cell, PEOPLE_MOST, StudyBench, StudyStep, TRIALS};
pub use visit::{TakenBack, Visit};

use crate::domain::{
    log::{Dated, Session, SessionId},
    machine::{LineId, ShearId, StationId},
    quantity::LengthUnit,
    trend::Axis,
    yard::{Machine, Yard},
};
use chrono::{DateTime, Utc};
use std::collections::{BTreeMap, BTreeSet};

/// Something the person must be told, until it is read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// What happened, in a sentence.
    pub fact: String,
    /// What to do next.
    pub next: String,
    /// Whether something went wrong, as opposed to something good to know.
    pub grave: bool,
}

/// The state of one window.
#[derive(Clone, Debug)]
pub struct Workbench {
    yard: Yard,
    screen: Screen,
    machine: Option<ShearId>,
    visits: BTreeMap<ShearId, Visit>,
    /// Drafts of machines that have an open visit already; they come up when that one is over.
    waiting: Vec<Session>,
    studies: BTreeMap<ShearId, StudyBench>,
    line: Option<LineId>,
    trend_stations: BTreeSet<StationId>,
    span: Span,
    trend_view: TrendView,
    decide: DecideDesk,
    axis: Axis,
    picked: Option<(StationId, SessionId)>,
    heat: HeatDesk,
    setup: Option<SetupDesk>,
    unit: LengthUnit,
    notices: Vec<Notice>,
    initials: String,
    revision: u64,
    tail: u16,
}

impl Workbench {
    /// A window onto a yard. `tail` tells this window's sessions from another tablet's.
    pub fn new(yard: Yard, drafts: Vec<Session>, tail: u16) -> Self {
        let unit = yard.settings.unit;
        let mut bench = Self {
            machine: yard.machines.first().map(|machine| machine.shear.id.clone()),
            yard,
            screen: Screen::Yard,
            visits: BTreeMap::new(),
            waiting: Vec::new(),
            studies: BTreeMap::new(),
            line: None,
            trend_stations: BTreeSet::new(),
            span: Span::default(),
            trend_view: TrendView::default(),
            decide: DecideDesk::default(),
            axis: Axis::default(),
            picked: None,
            heat: HeatDesk::default(),
            setup: None,
            unit,
            notices: Vec::new(),
            initials: String::new(),
            revision: 0,
            tail,
        };
        for draft in drafts {
            bench.resume(draft);
        }
        bench
    }

    /// Carries out one command at time `now` and says what the shell must do.
    pub fn apply(&mut self, command: Command, now: DateTime<Utc>) -> Vec<Effect> {
        match command {
            Command::Go(screen) => self.go(screen),
            Command::ChooseMachine(id) => self.choose_machine(id),
            Command::ChooseLine(line) => self.choose_line(line),
            Command::ToggleTrendStation(station) => self.toggle_trend_station(station),
            Command::SetSpan(span) => self.span = span,
            Command::SetAxis(axis) => self.axis = axis,
            Command::SetTrendView(view) => self.trend_view = view,
            Command::Decide(asked) => self.decide.apply(asked, self.machine.as_ref()),
            Command::PickReading(picked) => self.picked = picked,
            Command::Heat(asked) => self.heat.apply(asked),
            Command::SaveLesson(name) => return vec![Effect::TakeLesson(name)],
            Command::SavePicture(name) => return vec![Effect::TakePicture(name)],
            Command::SaveDrawing(name) => return vec![Effect::TakeDrawing(name)],
            Command::SaveTable(name) => {
                return self
                    .machine
                    .clone()
                    .map(|it| Effect::KeepTable(it, name))
                    .into_iter()
                    .collect();
            }
            Command::MakeSheet => {
                return self.machine.clone().map(Effect::MakeSheet).into_iter().collect();
            }
            Command::SetUnit(unit) => self.read_in(unit),
            Command::DismissNotice => {
                self.notices.pop();
            }
            Command::Tell(notice) => {
                // What is told again is newest, and read once.
                self.notices.retain(|it| *it != notice);
                self.notices.push(notice);
            }
            Command::Untell(notice) => self.notices.retain(|it| *it != notice),
            Command::ReportNow(kind) => return self.report_now(kind, now),
            Command::RecordWork(work) => return self.record_work(work, now),
            Command::RecordWorkBy(work, by) => {
                self.initials = by;
                return self.record_work(work, now);
            }
            Command::TakeSwapBack => return self.take_swap_back(now),
            Command::Say(remark) => return self.say(remark, now),
            Command::MeterWasChanged { old, new } => {
                return self.record_meter_change(&old, &new, now);
            }
            Command::SignOff => return self.sign_off(now, Dated::ByTheClock),
            Command::SignAfterTheLast => return self.sign_off(now, Dated::AfterTheLast),
            Command::SignWithNew(counted) => return self.sign_with_new(counted, now),
            Command::Signed(session) => self.signed(*session),
            Command::Study(step) => return self.study(step, now),
            Command::Setup(step) => return self.set_up(step),
            Command::Arrived(arrival) => return self.arrived(*arrival, now),
            Command::DraftKept(draft) => self.draft_kept(*draft, now),
            Command::SettingsSaved(settings) => self.settings_saved(*settings),
            Command::ShearSaved(shear) => self.shear_saved(*shear),
            Command::ChooseYardFolder => return vec![Effect::PickYardFolder],
            Command::OpenYard(path) => return vec![Effect::OpenYard(path)],
            Command::ImportTable(file) => return vec![Effect::ImportTable(file)],
            Command::TakeTableIn => return vec![Effect::TakeTableIn],
            Command::LeaveTable => return vec![Effect::LeaveTable],
            Command::ExportTables(folder) => return vec![Effect::ExportTables(folder)],
            measuring => return self.measure(measuring, now),
        }
        self.revision += 1;
        Vec::new()
    }

    /// The yard.
    pub const fn yard(&self) -> &Yard {
        &self.yard
    }

    /// The screen in front.
    pub const fn screen(&self) -> Screen {
        self.screen
    }

    /// The machine in hand.
    pub fn machine(&self) -> Option<&Machine> {
        self.yard.machine(self.machine.as_ref()?)
    }

    /// The open visit to the machine in hand.
    pub fn visit(&self) -> Option<&Visit> {
        self.visits.get(self.machine.as_ref()?)
    }

    /// The open visit to any machine.
    pub fn visit_to(&self, shear: &ShearId) -> Option<&Visit> {
        self.visits.get(shear)
    }

    /// The line chosen on the Decide and Trend screens.
    pub const fn line(&self) -> Option<LineId> {
        self.line
    }

    /// Stations shown on the Trend screen; empty means the worst one of the line.
    pub const fn trend_stations(&self) -> &BTreeSet<StationId> {
        &self.trend_stations
    }

    /// How far back the Trend screen looks.
    pub const fn span(&self) -> Span {
        self.span
    }

    /// What Trend counts growth against.
    pub const fn axis(&self) -> Axis {
        self.axis
    }

    /// What Trend shows.
    pub const fn trend_view(&self) -> TrendView {
        self.trend_view
    }

    /// What is looked at on the Decide screen.
    pub const fn decide(&self) -> &DecideDesk {
        &self.decide
    }

    /// The reading on Trend that is read off.
    pub const fn picked(&self) -> Option<&(StationId, SessionId)> {
        self.picked.as_ref()
    }

    /// What is looked at on the Heat screen.
    pub const fn heat(&self) -> &HeatDesk {
        &self.heat
    }

    /// What is described on the Setup screen.
    pub const fn setup(&self) -> Option<&SetupDesk> {
        self.setup.as_ref()
    }

    /// The unit people read.
    pub const fn unit(&self) -> LengthUnit {
        self.unit
    }

    /// The newest notice that nobody has read yet.
    pub fn notice(&self) -> Option<&Notice> {
        self.notices.last()
    }

    /// Goes up whenever something a screen shows may have changed; key for caches.
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    fn choose_machine(&mut self, id: ShearId) {
        if self.yard.machine(&id).is_some() && self.machine.as_ref() != Some(&id) {
            self.machine = Some(id);
            self.heat = HeatDesk { large: self.heat.large, ..HeatDesk::default() };
            self.line = None;
            self.picked = None;
            self.trend_stations.clear();
        }
    }

    fn go(&mut self, screen: Screen) {
        self.screen = screen;
        if screen == Screen::Setup {
            self.open_setup();
        }
    }

    fn choose_line(&mut self, line: LineId) {
        if self.line != Some(line) {
            self.line = Some(line);
            self.picked = None;
            self.trend_stations.clear();
        }
    }

    fn toggle_trend_station(&mut self, station: StationId) {
        self.line = Some(station.line);
        self.trend_stations.retain(|it| it.line == station.line);
        if !self.trend_stations.remove(&station) {
            self.trend_stations.insert(station);
        }
    }
}
