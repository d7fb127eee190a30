//! The app: one frame, from what is true to what was asked for.
//!
//! Owns the workbench, the yard's folder and the clock. Each frame paints the screen in front from
//! borrowed state, then applies the commands it returned and carries out their effects.

mod around;
mod disk;
mod foresee;
mod front;
mod glance;
mod jobs;
mod judge;
mod keep;
mod ways;

pub use around::Surroundings;

use crate::{
    brief::{Numbers, yard::Standing},
    domain::{
        decide::{CauseTable, MachineDecision, Supply},
        heat::Lesson,
        log::SessionId,
        machine::ShearId,
        quantity::LengthUnit,
        trend::Axis,
    },
    gui::{
        arrivals::Arrivals,
        commands::{self, Deed},
        effects::{self, Chosen, Drafts, FolderPicked},
        heat_runs::{Ask, HeatRuns},
        in_turn,
        insight::Insight,
        long_job::LongJob,
        picture,
        screens::{Arrangement, View},
        shell, theme,
        widgets::RAIL_WIDTH,
    },
    language::tell,
    store::{Opened, Progress, Watch},
    workbench::{Command, Effect, Heat, Notice, Screen, Setup, TrendView, Workbench},
};
use chrono::{DateTime, FixedOffset, Utc};
use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
    sync::Arc,
    time::Duration,
};

/// Where the time comes from; tests bring their own.
pub type Clock = fn() -> DateTime<Utc>;

/// What a folder is picked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum FolderOf {
    /// A yard to open.
    Yard,
    /// A yard that is not there yet.
    NewYard,
}

/// One window onto one yard.
pub struct App {
    bench: Workbench,
    root: PathBuf,
    around: Surroundings,
    /// Before the sessions are read, what is asked for then.
    glance: Option<glance::Glance>,
    decisions: Vec<MachineDecision>,
    judged: judge::Judged,
    judging: Option<LongJob<Vec<judge::Decided>>>,
    /// What lies ahead of each decided machine.
    ahead: BTreeMap<ShearId, judge::Ahead>,
    /// Parts for the machines that are decided.
    supply: Option<Supply>,
    standings: Vec<Standing>,
    stood_in: LengthUnit,
    looked_at: Option<u64>,
    insight: Option<Insight>,
    closer: Option<LongJob<judge::Closer>>,
    /// The machine in hand with growth counted against something else than hours.
    along: Option<(Axis, MachineDecision)>,
    /// What the files were when they were read.
    read_from: Option<Arc<glance::ReadFrom>>,
    keeping: glance::Keeping,
    folder: Option<(FolderOf, FolderPicked)>,
    lessons: Vec<Lesson>,
    causes: CauseTable,
    heat: Option<HeatRuns>,
    projected: bool,
    picture: Option<picture::Asked>,
    drawing: Option<String>,
    drafts: Drafts,
    /// Drafts that could not be saved, and how that was told.
    unsaved: BTreeMap<(ShearId, SessionId), Notice>,
    watch: Option<(Watch, Duration)>,
    arrivals: Option<Arrivals>,
    jobs: jobs::Jobs,
    foreseen: foresee::Foreseen,
    front: front::Front,
}

impl std::fmt::Debug for App {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("App").field("root", &self.root).finish_non_exhaustive()
    }
}

impl App {
    /// A window onto a yard that was opened from `root`, which does everything in its frames.
    ///
    /// `zone` is the reader's offset from UTC; `tail` tells this window's sessions from those of another tablet.
    pub fn new(opened: Opened, root: PathBuf, clock: Clock, zone: FixedOffset, tail: u16) -> Self {
        let around = Surroundings::alone(clock, zone, tail);
        let mut opened = opened;
        let decided = judge::decide_opened(&mut opened, &Progress::default());
        Self::decided(opened, decided, root, around)
    }

    /// A window onto a yard whose machines are decided.
    fn decided(
        opened: Opened,
        decided: Vec<judge::Decided>,
        root: PathBuf,
        around: Surroundings,
    ) -> Self {
        let (mut lessons, mut issues) = effects::shipped_lessons();
        lessons.extend(opened.lessons);
        issues.extend(opened.issues);
        let causes = opened.causes.unwrap_or_default();
        let taken_up = effects::taken_up(&opened.drafts, &opened.yard);
        let drafts = effects::found(&opened.drafts);
        let clock = around.clock;
        let judged = judge::Judged::all_of(&opened.yard);
        let bench = Workbench::new(opened.yard, opened.drafts, around.tail);
        let mut app = Self { judged, lessons, causes, drafts, ..Self::bare(bench, root, around) };
        app.take_decisions(decided);
        app.take_the_most_urgent();
        for notice in taken_up.into_iter().chain(effects::damaged_files(&app.root, &issues)) {
            app.bench.apply(Command::Tell(notice), clock());
        }
        app
    }

    /// A window that has nothing yet but its workbench.
    fn bare(bench: Workbench, root: PathBuf, around: Surroundings) -> Self {
        Self {
            stood_in: bench.unit(),
            bench,
            root,
            around,
            glance: None,
            decisions: Vec::new(),
            judged: judge::Judged::default(),
            judging: None,
            ahead: BTreeMap::new(),
            supply: None,
            standings: Vec::new(),
            looked_at: None,
            insight: None,
            closer: None,
            along: None,
            read_from: None,
            keeping: glance::Keeping::default(),
            folder: None,
            lessons: Vec::new(),
            causes: CauseTable::default(),
            heat: None,
            projected: false,
            picture: None,
            drawing: None,
            drafts: Drafts::new(),
            unsaved: BTreeMap::new(),
            watch: None,
            arrivals: None,
            jobs: jobs::Jobs::default(),
            foreseen: foresee::Foreseen::default(),
            front: front::Front::default(),
        }
    }

    /// The state of the window.
    pub const fn bench(&self) -> &Workbench {
        &self.bench
    }

    /// What the overview says of each machine that was read, or was told of before.
    pub fn standings(&self) -> &[Standing] {
        &self.standings
    }

    /// What to do with each machine that is decided.
    pub fn decisions(&self) -> &[MachineDecision] {
        &self.decisions
    }

    /// The yard's folder.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// Applies a command as if a person had asked for it, and everything that follows from it.
    pub fn act(&mut self, ctx: &egui::Context, command: Command) {
        let now = (self.around.clock)();
        let mut pending: Vec<Command> = self.at_a_glance(command).into_iter().collect();
        while let Some(command) = pending.pop() {
            match &command {
                Command::ShearSaved(shear) => self.judge_again(&shear.id),
                Command::Arrived(it) => it.shears.iter().for_each(|it| self.judge_again(&it.id)),
                _ => {}
            }
            for effect in self.bench.apply(command, now) {
                match effect {
                    Effect::PickYardFolder => self.pick_folder(ctx, FolderOf::Yard),
                    Effect::PickNewFolder => self.pick_folder(ctx, FolderOf::NewYard),
                    Effect::OpenYard(path) => self.start_opening(ctx, path),
                    Effect::ImportTable(file) => self.start_import(ctx, file),
                    Effect::TakeTableIn => self.start_taking_in(ctx),
                    Effect::LeaveTable => self.leave_table(),
                    Effect::ExportTables(folder) => self.start_export(ctx, folder),
                    Effect::TakePicture(name) => self.take_picture(ctx, name),
                    Effect::TakeLesson(name) => self.take_lesson(ctx, name),
                    Effect::TakeDrawing(name) => self.drawing = Some(name),
                    Effect::KeepTable(shear, name) => {
                        pending.extend(self.keep_table(&shear, &name));
                    }
                    Effect::MakeSheet(shear) => pending.extend(self.make_sheet(&shear)),
                    effect => pending.extend(self.carry_out(&effect, now)),
                }
            }
        }
    }

    /// Paints one frame and does what was asked for in it.
    pub fn draw(&mut self, ui: &mut egui::Ui) {
        if let Some(command) = self.front.dress(ui.ctx()) {
            self.act(ui.ctx(), command);
        }
        if let Some(command) = self.picked() {
            self.act(ui.ctx(), command);
        }
        self.keep_picture(ui.ctx());
        self.read_behind(ui.ctx());
        self.finish_job(ui.ctx());
        self.take_arrivals(ui.ctx());
        self.refresh();
        self.wake_for_answers(ui.ctx());
        self.refresh_heat(ui.ctx());
        self.foresee(ui.ctx());
        in_turn::keep_in_turn(ui, self.front.page.is_none().then(|| self.bench.screen()));
        let mut asked = commands::of_window(ui, &self.bench);
        asked.extend(self.frame(ui));
        let drawn = self.drawing.take().map(|name| self.draw_screen(ui, &name));
        asked.extend(drawn.map(Deed::Ask));
        let ctx = ui.ctx().clone();
        // The clock of the Heat screen brings its own frames.
        let ticks = |it: &Deed| matches!(it, Deed::Ask(Command::Heat(Heat::Seek(_))));
        let any = asked.iter().any(|it| !ticks(it));
        for deed in asked {
            self.perform(&ctx, deed);
        }
        if any {
            // What was asked for shows at once, not at the next movement of the pointer.
            ctx.request_repaint();
        }
    }

    /// Lays a frame out that nobody sees and that does nothing.
    pub(crate) fn rehearse(&self, ui: &mut egui::Ui) {
        self.frame(ui);
    }

    fn view(&self) -> View<'_> {
        View {
            arranged: Arrangement::Wide,
            bench: &self.bench,
            root: &self.root,
            standings: &self.standings,
            insight: self.insight.as_ref(),
            decision: self.decision(),
            plan: self.bench.machine().and_then(|it| Some(&self.ahead.get(&it.shear.id)?.plan)),
            supply: self.supply.as_ref(),
            lessons: &self.lessons,
            heat: self.heat.as_ref(),
            consequences: self.foreseen(),
            numbers: Numbers { unit: self.bench.unit(), zone: self.around.zone, per: self.axis() },
            now: (self.around.clock)(),
        }
    }

    fn frame(&self, ui: &mut egui::Ui) -> Vec<Deed> {
        let view = self.view();
        let whole = ui.available_rect_before_wrap();
        let beside = if self.projected { 0.0 } else { RAIL_WIDTH };
        let main = whole.with_min_x(whole.left() + beside);
        ui.painter().rect_filled(main, 0.0, theme::tokens(ui).ground);
        let mut on = front::child(ui, main.shrink(theme::GAP), "main");
        let mut asked: Vec<Deed> = Vec::new();
        asked.extend(self.job_strips(&mut on).map(Deed::Ask));
        asked.extend(shell::notice(&mut on, self.bench.notice()).map(Deed::Ask));
        match self.page(&mut on) {
            Some(deeds) => asked.extend(deeds),
            None => asked.extend(self.screen(&mut on, &view).into_iter().map(Deed::Ask)),
        }
        // After the screen, so that Tab starts on it and comes to the rail last.
        if !self.projected {
            let mut on = front::child(ui, whole.with_max_x(main.left()), "rail");
            asked.extend(ways::rail_deed(&mut on, &view, self.front.page));
        }
        asked
    }

    /// The machine in hand at the start is the one that most needs somebody.
    fn take_the_most_urgent(&mut self) {
        let now = (self.around.clock)();
        let look = self.bench.yard().settings.intervals.look;
        let told = crate::brief::yard::tell(&self.standings, look, now);
        let first = told.first().map(|first| first.standing.shear.clone());
        if let Some(shear) = first {
            self.bench.apply(Command::ChooseMachine(shear), now);
        }
    }

    /// Finds anew what has changed since the last frame; a frame in between costs nothing.
    fn refresh(&mut self) {
        let seen = Some(self.bench.revision());
        let waits = self.judging.is_some() || self.closer.is_some();
        if self.is_glance() || (self.looked_at == seen && !waits) {
            return;
        }
        self.judge();
        if self.stood_in != self.bench.unit() {
            self.stand();
        }
        self.look_closer();
        self.looked_at = seen;
    }

    /// Who works beside the frames wakes this window when it is done.
    fn wake_for_answers(&self, ctx: &egui::Context) {
        self.judging.iter().for_each(|job| job.wakes(ctx));
        self.closer.iter().for_each(|job| job.wakes(ctx));
    }

    /// What growth is counted against on the screen in front; comparisons are told by the hour.
    fn axis(&self) -> Axis {
        let compares = matches!(self.bench.trend_view(), TrendView::Compare(_));
        if self.bench.screen() != Screen::Trend || compares {
            return Axis::Hours;
        }
        let asked = self.bench.axis();
        let known =
            self.bench.machine().is_some_and(|it| Axis::of_log(&it.history).contains(&asked));
        if known { asked } else { Axis::Hours }
    }

    /// What to do with the machine in hand.
    fn decision(&self) -> Option<&MachineDecision> {
        let machine = self.bench.machine()?;
        let mine = |it: &&MachineDecision| it.shear == machine.shear.id;
        let along = self.along.as_ref().filter(|(axis, _)| *axis == self.axis());
        along.map(|(_, it)| it).filter(mine).or_else(|| self.decisions.iter().find(mine))
    }

    /// Runs the shifts of the Heat screen anew when a number of theirs has changed.
    fn refresh_heat(&mut self, ctx: &egui::Context) {
        let shown = self.bench.screen() == Screen::Heat;
        let large = shown && self.bench.heat().large;
        if large != self.projected {
            self.projected = large;
            ctx.send_viewport_cmd(egui::ViewportCommand::Fullscreen(large));
            ctx.set_zoom_factor(theme::zoom(self.front.look));
        }
        if large {
            ctx.set_zoom_factor(projector_zoom(ctx));
        }
        if !shown {
            return;
        }
        let desk = self.bench.heat();
        let ask = self.bench.machine().and_then(|machine| {
            let decision = self.decisions.iter().find(|it| it.shear == machine.shear.id)?;
            Ask::of(&machine.shear, decision, self.lessons.get(desk.lesson)?, desk)
        });
        match ask {
            Some(ask) if self.heat.as_ref().is_none_or(|runs| runs.ask != ask) => {
                let before = self.heat.take();
                self.heat = Some(HeatRuns::start(ctx, ask));
                drop(before);
            }
            Some(_) => {}
            None => self.heat = None,
        }
        if let Some(runs) = &mut self.heat {
            runs.collect(ctx);
        }
    }

    fn pick_folder(&mut self, ctx: &egui::Context, of: FolderOf) {
        let title = match of {
            FolderOf::Yard => tell!("Open a yard"),
            FolderOf::NewYard => tell!("A folder for the new yard"),
        };
        self.folder = Some((of, effects::pick_folder(ctx, title)));
    }

    fn picked(&mut self) -> Option<Command> {
        let (of, picked) = self.folder.as_ref()?;
        let (of, answer) = (*of, picked.try_recv().ok()?);
        self.folder = None;
        match (answer, of) {
            (Chosen::This(path), FolderOf::Yard) => Some(Command::OpenYard(path)),
            (Chosen::This(path), FolderOf::NewYard) => {
                Some(Command::Setup(Setup::FolderPicked(path)))
            }
            (Chosen::Nothing, _) => None,
            (Chosen::NoDialog, _) => Some(Command::Tell(effects::no_dialog())),
        }
    }
}

/// Type as large as the lesson's drawing lets it be on this screen.
fn projector_zoom(ctx: &egui::Context) -> f32 {
    const NEEDS: [f32; 2] = [960.0, 600.0];
    let room = ctx.content_rect().size() * ctx.zoom_factor();
    (room.x / NEEDS[0]).min(room.y / NEEDS[1]).clamp(1.0, 2.0)
}

impl eframe::App for App {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.draw(ui);
    }
}
