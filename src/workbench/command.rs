//! Everything a person can ask for, and everything the outside must then do.

use crate::{
    domain::{
        gauge::{Repeatability, study::StudyReading},
        log::{Counted, FindingKind, MarkKind, Remark, Session, SessionId, Work},
        machine::{BladeId, LineId, Shear, ShearId, StationId},
        quantity::{Length, LengthUnit, Temperature},
        trend::Axis,
        yard::Settings,
    },
    workbench::{Arrival, Decide, Heat, Notice, Setup, StudyStep},
};
use chrono::{DateTime, Utc};
use std::path::PathBuf;

/// A room of the window.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Screen {
    /// All machines, most urgent first.
    #[default]
    Yard,
    /// The drawing of the jaw and the leaf in hand.
    Measure,
    /// What to do with each blade.
    Decide,
    /// Gaps over the hours.
    Trend,
    /// A crew that checks its own measuring; not on the rail, reached from Measure.
    Study,
    /// What heat does to the gaps in a shift.
    Heat,
    /// The yard and its machines, described.
    Setup,
}

impl Screen {
    /// In the order of the rail.
    pub const ALL: [Self; 6] =
        [Self::Yard, Self::Measure, Self::Decide, Self::Trend, Self::Heat, Self::Setup];
}

/// How far back a trend is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Span {
    /// Since the last work on the line.
    ThisEdge,
    /// The last 550 service hours: about three blade lives of a busy machine.
    #[default]
    Recent,
    /// Everything.
    All,
}

/// What the Trend screen shows of a line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum TrendView {
    /// How fast gaps grow and when each will be out.
    #[default]
    Growth,
    /// Whether readings still keep to their lines.
    Signals,
    /// Whether others grow alike.
    Compare(Kin),
}

/// Who is compared with whom.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Kin {
    /// The stations of the line.
    #[default]
    Stations,
    /// One station before and after each work.
    Times,
    /// The lines of the machine.
    Lines,
    /// The line on every machine.
    Machines,
}

/// Everything a person can ask for.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Bring a room to the front.
    Go(Screen),
    /// Take a machine in hand.
    ChooseMachine(ShearId),
    /// Look at one line on Decide and Trend.
    ChooseLine(LineId),
    /// Show or hide a station on Trend.
    ToggleTrendStation(StationId),
    /// How far back Trend looks.
    SetSpan(Span),
    /// What Trend counts growth against.
    SetAxis(Axis),
    /// What Trend shows.
    SetTrendView(TrendView),
    /// Read one reading on Trend off; `None` puts it away.
    PickReading(Option<(StationId, SessionId)>),
    /// Something on the Decide screen.
    Decide(Decide),
    /// Something on the Heat screen.
    Heat(Heat),
    /// Keep a page of the lesson in hand under this name.
    SaveLesson(String),
    /// Keep a picture of the screen under this name.
    SavePicture(String),
    /// Keep what the screen shows as a drawing under this name.
    SaveDrawing(String),
    /// Keep the growth of the machine in hand as a table under this name.
    SaveTable(String),
    /// Put the job sheet of the machine in hand on paper.
    MakeSheet,
    /// Read millimetres or inches.
    SetUnit(LengthUnit),

    /// Go to a station without saving what is in hand.
    ChooseStation(StationId),
    /// Go to the next station in walking order, keeping what is in hand for later.
    NextStation,
    /// Go back to the one before.
    PreviousStation,
    /// Go to the signature past whatever is not measured.
    GoToSignature,
    /// The text of the entry field changed.
    Type(String),
    /// A leaf was tapped into or out of the stack in hand.
    TapLeaf(Length),
    /// The stack in hand goes in.
    Goes,
    /// The stack in hand does not go.
    DoesNotGo,
    /// Take what was said about this station back, without saving.
    ClearEntry,
    /// Take everything at this station back, what is saved too; undo brings it again.
    StartOver,
    /// Enter: say the obvious next thing, and save the reading once both stacks are known.
    Confirm,
    /// Blade temperature here.
    SetBladeTemp(Option<Temperature>),
    /// Temperature of the jaws' bodies, for the whole visit.
    SetJawTemp(Option<Temperature>),
    /// Temperature of the air, for the whole visit.
    SetAirTemp(Option<Temperature>),
    /// Something seen at this station, or no longer.
    ToggleFinding(FindingKind),
    /// A wear mark of a blade, or none after all.
    SetMark(BladeId, MarkKind, Option<Length>),
    /// People are clear, the jaw was moved, it is locked and blocked again.
    PositionReached,
    /// The text of the hour meter field changed.
    TypeMeter(String),
    /// The text of a counter's field changed.
    TypeCounter(Counted, String),
    /// The text of the initials field changed.
    TypeInitials(String),
    /// The text of the note changed.
    TypeNote(String),
    /// Take back the last confirmed step of this visit.
    Undo,
    /// Do it again.
    Redo,
    /// Throw the open visit away.
    DiscardVisit,
    /// Sign the visit off: write it once and for good.
    SignOff,
    /// Sign the visit although the last session is dated after now: this clock is right.
    SignAfterTheLast,
    /// Sign the visit although this counter shows less than last time: it is a new one, or was set
    /// back, and goes on from where the old one stood.
    SignWithNew(Counted),

    /// Log a jam or chatter in mid-shift, without readings; the machine is due at once.
    ReportNow(FindingKind),
    /// Log work as done.
    RecordWork(Vec<Work>),
    /// Log work as done by somebody, by their initials.
    RecordWorkBy(Vec<Work>, String),
    /// Take back that two blades changed places, if nothing was logged after it.
    TakeSwapBack,
    /// Say something about an earlier session.
    Say(Remark),
    /// The hour meter was changed before this visit: the last reading of the old one, as typed, and
    /// the first of the new one.
    MeterWasChanged {
        /// The old meter's last reading.
        old: String,
        /// The new meter's first reading.
        new: String,
    },

    /// Something in a study of the crew's own measuring.
    Study(StudyStep),
    /// Something on the Setup screen.
    Setup(Setup),

    /// Ask for another yard's folder.
    ChooseYardFolder,
    /// Open the yard in this folder.
    OpenYard(PathBuf),
    /// Look what a table of readings would change; without a file, ask for one.
    ImportTable(Option<PathBuf>),
    /// Take the table in that was looked at.
    TakeTableIn,
    /// Leave the table that was looked at.
    LeaveTable,
    /// Write the yard as tables into a folder; without one, ask for it.
    ExportTables(Option<PathBuf>),
    /// A notice was read.
    DismissNotice,

    /// The shell has something to tell.
    Tell(Notice),
    /// What the shell told holds no more.
    Untell(Notice),
    /// The shell has written a draft.
    DraftSaved(DateTime<Utc>),
    /// The shell has written a draft together with what another window wrote of it.
    DraftKept(Box<Session>),
    /// The shell has found what others put into the yard.
    Arrived(Box<Arrival>),
    /// The shell has written a signed session.
    Signed(Box<Session>),
    /// The shell has written what belongs to the yard as a whole.
    SettingsSaved(Box<Settings>),
    /// The shell has written a machine's description.
    ShearSaved(Box<Shear>),
}

/// Everything the outside must then do.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Write the draft beside the sessions, then say [`Command::DraftSaved`], or
    /// [`Command::DraftKept`] if another window wrote it too.
    SaveDraft(Box<Session>),
    /// Remove this draft.
    DropDraft(Box<Session>),
    /// Write a draft as with [`Effect::SaveDraft`], and once it is on the disk remove the one it
    /// comes from.
    MoveDraft {
        /// What is signed in part.
        from: Box<Session>,
        /// The rest, under a name of its own.
        to: Box<Session>,
    },
    /// Write the session once, remove its draft, then say [`Command::Signed`].
    Sign(Box<Session>),
    /// Write a study, in place of what was kept under its name, then say [`StudyStep::Kept`].
    KeepStudy {
        /// The name of its file, without the ending.
        name: SessionId,
        /// The machine it is made on.
        machine: ShearId,
        /// Every planned place, with what was confirmed so far.
        readings: Vec<StudyReading>,
    },
    /// Look for a study of this machine that was begun and not finished, then say
    /// [`StudyStep::TakeUp`].
    FindStudy(ShearId),
    /// Write the crew's scatter into the yard, then say [`Command::SettingsSaved`].
    UseScatter(Repeatability),
    /// Write what belongs to the yard as a whole, then say [`Command::SettingsSaved`]; or
    /// [`Command::Arrived`] if something else stands there than what it was made from.
    SaveSettings {
        /// What it was made from.
        base: Box<Settings>,
        /// What it is to be.
        settings: Box<Settings>,
    },
    /// Write a machine's description, then say [`Command::ShearSaved`]; or [`Command::Arrived`] if
    /// another one stands there than what it was made from.
    SaveShear {
        /// What it was made from; `None` for a machine that is not there yet.
        base: Option<Box<Shear>>,
        /// What it is to be.
        shear: Box<Shear>,
    },
    /// Read a machine's description from its text, then say what came of it.
    ReadShear(ShearId, String),
    /// Read what belongs to the yard from its text, then say what came of it.
    ReadSettings(String),
    /// Let the person pick the folder of a new yard, then say [`Setup::FolderPicked`].
    PickNewFolder,
    /// Make a yard with this name and no machine in a folder, then say [`Command::OpenYard`].
    MakeYard {
        /// The folder.
        folder: PathBuf,
        /// What the yard is called.
        name: String,
    },
    /// Paint a page of the lesson in hand and keep it in the yard under this name.
    TakeLesson(String),
    /// Take a picture of the screen and keep it in the yard under this name.
    TakePicture(String),
    /// Draw what the screen shows and keep it in the yard under this name.
    TakeDrawing(String),
    /// Put the growth of this machine into a table and keep it in the yard under this name.
    KeepTable(ShearId, String),
    /// Write this machine's job sheet into the yard and show it.
    MakeSheet(ShearId),
    /// Let the person pick a folder, then say [`Command::OpenYard`].
    PickYardFolder,
    /// Read another yard and start over with it.
    OpenYard(PathBuf),
    /// Work out what a table would change, and let the person say whether to take it in.
    ImportTable(Option<PathBuf>),
    /// Sign the visits of the table that was offered.
    TakeTableIn,
    /// Forget the table that was offered.
    LeaveTable,
    /// Write the yard as tables into a folder.
    ExportTables(Option<PathBuf>),
}
