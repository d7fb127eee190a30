//! The app: one frame, from what is true to what was asked for.
//!
//! Owns the workbench, the yard's folder and the clock. Each frame paints the screen in front from
//! borrowed state, then applies the commands it returned and carries out their effects.

mod disk;
mod jobs;
mod keep;

use crate::{
    brief::Numbers,
    domain::{
        decide::{CauseTable, MachineDecision, decide, explain},
        gauge::Repeatability,
        heat::Lesson,
        trend::Axis,
    },
    gui::{
        arrivals::Arrivals,
        effects::{self, Drafts, FolderPicked},
        heat_runs::{Ask, HeatRuns},
        in_turn,
        insight::Insight,
        marks::{Icon, VerdictMark},
        picture,
        screens::{self, View},
        shell,
        widgets::{RailItem, rail},
    },
    store::{Opened, Watch},
    workbench::{Command, Effect, Heat, Screen, TrendView, Workbench},
};
use chrono::{DateTime, FixedOffset, Utc};
use egui::{CentralPanel, Frame, Key, KeyboardShortcut, Modifiers, Panel, Theme};
use std::{
    path::{Path, PathBuf},
    time::Duration,
};

/// Where the time comes from; tests bring their own.
pub type Clock = fn() -> DateTime<Utc>;

/// One window onto one yard.
pub struct App {
    bench: Workbench,
    root: PathBuf,
    clock: Clock,
    zone: FixedOffset,
    tail: u16,
    decisions: Vec<MachineDecision>,
    decided_at: Option<u64>,
    sessions_seen: usize,
    scatter_seen: Option<Repeatability>,
    insight: Option<Insight>,
    /// The machine in hand with growth counted against something else than hours.
    along: Option<(Axis, MachineDecision)>,
    folder: Option<FolderPicked>,
    lessons: Vec<Lesson>,
    causes: CauseTable,
    heat: Option<HeatRuns>,
    projected: bool,
    picture: Option<picture::Asked>,
    drawing: Option<String>,
    drafts: Drafts,
    watch: Option<(Watch, Duration)>,
    arrivals: Option<Arrivals>,
    jobs: jobs::Jobs,
    dressed: bool,
}

impl std::fmt::Debug for App {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("App").field("root", &self.root).finish_non_exhaustive()
    }
}

impl App {
    /// A window onto a yard that was opened from `root`.
    ///
    /// `zone` is the reader's offset from UTC; `tail` tells this window's sessions from those of another tablet.
    pub fn new(opened: Opened, root: PathBuf, clock: Clock, zone: FixedOffset, tail: u16) -> Self {
        let (mut lessons, mut issues) = effects::shipped_lessons();
        lessons.extend(opened.lessons);
        issues.extend(opened.issues);
        let causes = opened.causes.map_or_else(effects::shipped_causes, Ok);
        let causes = causes.unwrap_or_else(|issue| {
            issues.push(issue);
            CauseTable::default()
        });
        let taken_up = effects::taken_up(&opened.drafts, &opened.yard);
        let drafts = effects::found(&opened.drafts);
        let mut app = Self {
            bench: Workbench::new(opened.yard, opened.drafts, tail),
            root,
            clock,
            zone,
            tail,
            decisions: Vec::new(),
            decided_at: None,
            sessions_seen: 0,
            scatter_seen: None,
            insight: None,
            along: None,
            folder: None,
            lessons,
            causes,
            heat: None,
            projected: false,
            picture: None,
            drawing: None,
            drafts,
            watch: None,
            arrivals: None,
            jobs: jobs::Jobs::default(),
            dressed: false,
        };
        app.refresh();
        app.take_the_most_urgent();
        for notice in taken_up.into_iter().chain(effects::damaged_files(&issues)) {
            app.bench.apply(Command::Tell(notice), clock());
        }
        app
    }

    /// The state of the window.
    pub const fn bench(&self) -> &Workbench {
        &self.bench
    }

    /// The yard's folder.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// Applies a command as if a person had asked for it, and everything that follows from it.
    pub fn act(&mut self, ctx: &egui::Context, command: Command) {
        let now = (self.clock)();
        let mut pending = vec![command];
        while let Some(command) = pending.pop() {
            for effect in self.bench.apply(command, now) {
                match effect {
                    Effect::PickYardFolder => self.folder = Some(effects::pick_folder(ctx)),
                    Effect::OpenYard(path) => self.start_opening(ctx, path),
                    Effect::ImportTable(file) => self.start_import(ctx, file),
                    Effect::TakeTableIn => self.start_taking_in(ctx),
                    Effect::LeaveTable => self.leave_table(),
                    Effect::ExportTables(folder) => self.start_export(ctx, folder),
                    Effect::TakePicture(name) => self.picture = Some(picture::ask(ctx, name)),
                    Effect::TakeDrawing(name) => self.drawing = Some(name),
                    Effect::KeepTable(shear, name) => {
                        pending.extend(self.keep_table(&shear, &name));
                    }
                    Effect::MakeSheet(shear) => pending.extend(self.make_sheet(&shear)),
                    effect => pending.extend(effects::carry_out(
                        &self.root,
                        &mut self.drafts,
                        &effect,
                        now,
                    )),
                }
            }
        }
    }

    /// Paints one frame and does what was asked for in it.
    pub fn draw(&mut self, ui: &mut egui::Ui) {
        if !self.dressed {
            crate::gui::theme::install(ui.ctx());
            self.dressed = true;
        }
        if let Some(path) = self.picked() {
            self.act(ui.ctx(), Command::OpenYard(path));
        }
        self.keep_picture(ui.ctx());
        self.finish_job(ui.ctx());
        self.take_arrivals(ui.ctx());
        self.refresh();
        self.refresh_heat(ui.ctx());
        in_turn::keep_in_turn(ui, self.bench.screen());
        let mut asked = shortcuts(ui);
        asked.extend(self.frame(ui));
        asked.extend(self.drawing.take().map(|name| self.draw_screen(ui, &name)));
        let ctx = ui.ctx().clone();
        // The clock of the Heat screen brings its own frames.
        let ticks = |it: &Command| matches!(it, Command::Heat(Heat::Seek(_)));
        let any = asked.iter().any(|it| !ticks(it));
        for command in asked {
            self.act(&ctx, command);
        }
        if any {
            // What was asked for shows at once, not at the next movement of the pointer.
            ctx.request_repaint();
        }
    }

    fn frame(&self, ui: &mut egui::Ui) -> Vec<Command> {
        let mut asked = Vec::new();
        let view = View {
            bench: &self.bench,
            root: &self.root,
            decisions: &self.decisions,
            insight: self.insight.as_ref(),
            decision: self.decision(),
            lessons: &self.lessons,
            heat: self.heat.as_ref(),
            numbers: Numbers { unit: self.bench.unit(), zone: self.zone, per: self.axis() },
            now: (self.clock)(),
        };
        if !self.projected {
            asked.extend(rail_command(ui, &view));
        }
        let ground = crate::gui::theme::tokens(ui).ground;
        CentralPanel::default().frame(Frame::NONE.fill(ground).inner_margin(12)).show(ui, |ui| {
            asked.extend(self.job_strips(ui));
            asked.extend(shell::notice(ui, self.bench.notice()));
            asked.extend(screens::show(ui, &view));
        });
        asked
    }

    /// The machine in hand at the start is the one that most needs somebody.
    fn take_the_most_urgent(&mut self) {
        let now = (self.clock)();
        let n = Numbers { unit: self.bench.unit(), zone: self.zone, per: Axis::Hours };
        let told = crate::brief::yard::tell(self.bench.yard(), &self.decisions, now, n);
        if let Some(first) = told.into_iter().next() {
            self.bench.apply(Command::ChooseMachine(first.shear), now);
        }
    }

    /// Decides anew after the log or the crew's scatter has changed; a frame in between costs nothing.
    fn refresh(&mut self) {
        if self.decided_at == Some(self.bench.revision()) {
            return;
        }
        let yard = self.bench.yard();
        let sessions = yard.machines.iter().map(|machine| machine.sessions.len()).sum();
        let scatter = &yard.settings.repeatability;
        if self.decided_at.is_none()
            || sessions != self.sessions_seen
            || *scatter != self.scatter_seen
        {
            let decided = yard.machines.iter().map(|machine| {
                let mut decision = decide(machine, &yard.settings);
                explain(&mut decision, machine, yard.settings.intervals.look, &self.causes);
                decision
            });
            self.decisions = decided.collect();
            self.sessions_seen = sessions;
            self.scatter_seen.clone_from(scatter);
            self.insight = None;
            self.along = None;
        }
        self.look_closer();
        self.decided_at = Some(self.bench.revision());
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

    /// Finds what the Trend screen shows beside lines, once for each line that is looked at.
    fn look_closer(&mut self) {
        if self.bench.screen() != Screen::Trend {
            return;
        }
        let Some(machine) = self.bench.machine() else { return };
        let axis = self.axis();
        let fits = |it: &(Axis, MachineDecision)| it.0 == axis && it.1.shear == machine.shear.id;
        if !self.along.as_ref().is_some_and(fits) {
            let settings = &self.bench.yard().settings;
            let plain = self.decisions.iter().find(|it| it.shear == machine.shear.id);
            let other = plain.filter(|_| axis != Axis::Hours);
            self.along = other.map(|it| (axis, it.along(axis, machine, settings)));
        }
        let Some(decision) = self.decision() else { return };
        let chosen = self.bench.line().filter(|line| decision.line(*line).is_some());
        let first = decision.lines.first().map(|line| line.line);
        let Some(line) = chosen.or(first) else { return };
        if self.insight.as_ref().is_none_or(|it| !it.is_of(machine, line, axis)) {
            self.insight = Some(Insight::of(machine, decision, line, axis));
        }
        if let (TrendView::Compare(_), Some(insight)) =
            (self.bench.trend_view(), self.insight.as_mut())
        {
            insight.compare(self.bench.yard());
        }
    }

    /// Runs the shifts of the Heat screen anew when a number of theirs has changed.
    fn refresh_heat(&mut self, ctx: &egui::Context) {
        let shown = self.bench.screen() == Screen::Heat;
        let large = shown && self.bench.heat().large;
        if large != self.projected {
            self.projected = large;
            ctx.send_viewport_cmd(egui::ViewportCommand::Fullscreen(large));
            ctx.set_zoom_factor(1.0);
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

    fn picked(&mut self) -> Option<PathBuf> {
        let answer = self.folder.as_ref()?.try_recv().ok()?;
        self.folder = None;
        answer
    }
}

/// The rail, and where it leads.
fn rail_command(ui: &mut egui::Ui, view: &View<'_>) -> Option<Command> {
    let shown = Panel::left("rail")
        .exact_size(crate::gui::widgets::RAIL_WIDTH)
        .frame(Frame::NONE)
        .resizable(false)
        .show(ui, |ui| rail(ui, &rail_items(view, ui.theme())));
    let screen = Screen::ALL.get(shown.inner?).copied();
    if screen.is_none() {
        ui.ctx().set_theme(other(ui.theme()));
    }
    screen.map(Command::Go)
}

/// Type as large as the lesson's drawing lets it be on this screen.
fn projector_zoom(ctx: &egui::Context) -> f32 {
    const NEEDS: [f32; 2] = [960.0, 600.0];
    let room = ctx.content_rect().size() * ctx.zoom_factor();
    (room.x / NEEDS[0]).min(room.y / NEEDS[1]).clamp(1.0, 2.0)
}

const fn other(theme: Theme) -> Theme {
    match theme {
        Theme::Light => Theme::Dark,
        Theme::Dark => Theme::Light,
    }
}

/// The screens, and at the foot the way to the other theme. A stop stays in view on every screen
/// until it is cleared.
fn rail_items(view: &View<'_>, theme: Theme) -> Vec<RailItem<'static>> {
    use crate::domain::decide::Action;
    let stop = view.decision.is_some_and(|decision| decision.worst() == Action::Stop);
    Screen::ALL
        .into_iter()
        .map(|screen| {
            let (icon, word) = match screen {
                Screen::Yard => (Icon::Yard, "Yard"),
                Screen::Measure | Screen::Study => (Icon::Measure, "Measure"),
                Screen::Decide => (Icon::Decide, "Decide"),
                Screen::Trend => (Icon::Trend, "Trend"),
                Screen::Heat => (Icon::Hot, "Heat"),
            };
            let alarmed = stop && screen == Screen::Decide;
            RailItem {
                icon,
                word,
                detail: if alarmed { "a stop is not cleared" } else { "" },
                current: on_rail(view.bench.screen()) == screen,
                at_foot: false,
                badge: alarmed.then_some(VerdictMark::StopTooTight),
            }
        })
        .chain(std::iter::once(RailItem {
            icon: Icon::Contrast,
            word: match other(theme) {
                Theme::Light => "Light",
                Theme::Dark => "Dark",
            },
            detail: "change the colours of the window",
            current: false,
            at_foot: true,
            badge: None,
        }))
        .collect()
}

/// Checking the crew's measuring is a part of Measure.
const fn on_rail(screen: Screen) -> Screen {
    match screen {
        Screen::Study => Screen::Measure,
        other => other,
    }
}

/// `Ctrl` and the number of a screen; `Ctrl+Z` and `Ctrl+Y` wherever no text has them.
fn shortcuts(ui: &egui::Ui) -> Vec<Command> {
    let mut asked = Vec::new();
    let keys = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5];
    ui.input_mut(|input| {
        for (key, screen) in keys.into_iter().zip(Screen::ALL) {
            if input.consume_shortcut(&KeyboardShortcut::new(Modifiers::COMMAND, key)) {
                asked.push(Command::Go(screen));
            }
        }
    });
    asked
}

impl eframe::App for App {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.draw(ui);
    }
}
