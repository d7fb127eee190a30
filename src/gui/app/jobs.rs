//! What takes a while: opening another yard, taking a table in, writing tables out.
//!
//! One at a time, beside the frames; the strip above the screen says how far it is and stops it.

use crate::{
    brief::{study::counted, words::capital},
    domain::log::Session,
    exchange::visits::{Fate, Table},
    gui::{
        App, Surroundings,
        effects::{self, Chosen},
        long_job::{LongJob, State, strip},
        tables::{self, Looked, Taken},
        theme,
    },
    language::{self, sentence, tell},
    store::{FileIssue, Progress, StoreError},
    workbench::{Arrival, Command, Notice},
};
use egui::{RichText, Ui};
use std::path::PathBuf;

/// What a job answers.
#[derive(Debug)]
pub(super) enum Answer {
    Opened(Box<App>),
    Looked(Looked),
    Taken(Taken),
    Exported(Vec<PathBuf>),
    NoDialog,
    Stopped,
    Wrong(FileIssue),
}

/// The job that runs, and the table that waits for a word.
#[derive(Debug, Default)]
pub(super) struct Jobs {
    running: Option<LongJob<Answer>>,
    offer: Option<Looked>,
}

const OPENING: &str = sentence!("Reading the yard");

/// Opens a yard on the thread of a job.
fn opened(root: PathBuf, around: Surroundings, progress: &Progress) -> Answer {
    match App::read(root, around, progress) {
        Ok(app) => Answer::Opened(Box::new(app)),
        Err(StoreError::Cancelled) => Answer::Stopped,
        Err(err) => Answer::Wrong(err.into_issue()),
    }
}

impl Jobs {
    /// Whether nothing runs.
    pub(super) const fn idle(&self) -> bool {
        self.running.is_none()
    }
}

/// So many visits of an offer are named; the rest is counted.
const ROWS_SHOWN: usize = 5;

impl App {
    /// Whether something runs beside the frames.
    pub const fn is_busy(&self) -> bool {
        self.jobs.running.is_some() || self.judging.is_some() || self.closer.is_some()
    }

    /// Opens another yard, and goes on with it once it is open.
    pub(super) fn start_opening(&mut self, ctx: &egui::Context, path: PathBuf) {
        let around = self.around.clone();
        self.start(ctx, language::told(OPENING), move |progress| {
            Some(opened(path, around, progress))
        });
    }

    /// Reads the sessions of this yard, of which only the overview is there.
    pub(super) fn start_reading(&mut self) {
        let (root, around) = (self.root.clone(), self.around.clone());
        let act = move |progress: &Progress| Some(opened(root, around, progress));
        self.jobs.running = Some(LongJob::start(language::told(OPENING), act));
    }

    /// Works out what a table would change.
    pub(super) fn start_import(&mut self, ctx: &egui::Context, file: Option<PathBuf>) {
        let yard = self.bench.yard().clone();
        self.start(ctx, tell!("Looking at the table"), move |progress| {
            let file = match tables::chosen_table(file) {
                Chosen::This(file) => file,
                Chosen::Nothing => return None,
                Chosen::NoDialog => return Some(Answer::NoDialog),
            };
            Some(match tables::look(&yard, file, progress) {
                _ if progress.is_cancelled() => Answer::Stopped,
                Ok(looked) => Answer::Looked(looked),
                Err(issue) => Answer::Wrong(issue),
            })
        });
    }

    /// Takes the table in that was offered.
    pub(super) fn start_taking_in(&mut self, ctx: &egui::Context) {
        let Some(Looked { plan, .. }) = self.jobs.offer.take() else { return };
        let root = self.root.clone();
        self.start(ctx, tell!("Taking visits in"), move |progress| {
            Some(Answer::Taken(tables::take_in(&root, plan, progress)))
        });
    }

    /// Leaves the table as it is.
    pub(super) fn leave_table(&mut self) {
        self.jobs.offer = None;
    }

    /// Writes the yard as tables.
    pub(super) fn start_export(&mut self, ctx: &egui::Context, folder: Option<PathBuf>) {
        let yard = self.bench.yard().clone();
        self.start(ctx, tell!("Writing tables"), move |progress| {
            let folder = match tables::chosen_folder(folder) {
                Chosen::This(folder) => folder,
                Chosen::Nothing => return None,
                Chosen::NoDialog => return Some(Answer::NoDialog),
            };
            let (written, fault) = tables::export(&yard, &folder, progress);
            Some(match fault {
                Some(issue) => Answer::Wrong(issue),
                None if written.is_empty() => Answer::Stopped,
                None => Answer::Exported(written),
            })
        });
    }

    fn start(
        &mut self,
        ctx: &egui::Context,
        words: &'static str,
        act: impl FnOnce(&Progress) -> Option<Answer> + Send + 'static,
    ) {
        if self.jobs.running.is_some() {
            self.tell(
                tell!("Something else is still running."),
                tell!("Wait for it, or stop it first."),
            );
            return;
        }
        let job = LongJob::start(words, act);
        job.wakes(ctx);
        self.jobs.running = Some(job);
    }

    /// Something good to know.
    pub(super) fn tell(&mut self, fact: impl Into<String>, next: &str) {
        self.say(Notice { fact: fact.into(), next: next.to_owned(), grave: false });
    }

    fn say(&mut self, notice: Notice) {
        self.bench.apply(Command::Tell(notice), (self.around.clock)());
    }

    /// Takes the answer of a job that is done.
    pub(super) fn finish_job(&mut self, ctx: &egui::Context) {
        let Some(job) = &self.jobs.running else { return };
        job.wakes(ctx);
        let answer = match job.state() {
            State::Runs => return,
            State::Over => {
                self.jobs.running = None;
                return;
            }
            State::Done(answer) => answer,
        };
        self.jobs.running = None;
        match answer {
            Answer::Opened(app) => self.become_opened(ctx, *app),
            Answer::Looked(looked) => self.offer(looked),
            Answer::Taken(taken) => self.taken(ctx, taken),
            Answer::Exported(written) => {
                let names: Vec<String> = written
                    .iter()
                    .filter_map(|it| Some(it.file_name()?.to_string_lossy().into_owned()))
                    .collect();
                let folder = written.first().and_then(|it| it.parent());
                let folder = folder.map(|it| it.display().to_string()).unwrap_or_default();
                let names = match names.as_slice() {
                    [all @ .., last] if !all.is_empty() => {
                        tell!("{others} and {last}", others = all.join(", "), last)
                    }
                    other => other.concat(),
                };
                self.tell(tell!("Wrote {names} into {folder}.", names, folder), "");
            }
            Answer::NoDialog => self.say(effects::no_dialog()),
            Answer::Stopped if self.is_glance() => {
                self.tell(
                    tell!("Stopped: the log is not read."),
                    tell!("Open a machine to read it."),
                );
            }
            Answer::Stopped => self.tell(tell!("Stopped. Nothing was changed."), ""),
            Answer::Wrong(issue) => self.tell_wrong(&issue, 0),
        }
    }

    fn tell_wrong(&mut self, first: &FileIssue, more: usize) {
        let name = first.path.file_name().unwrap_or(first.path.as_os_str()).to_string_lossy();
        let place = language::understood(&first.place());
        let more = match more {
            0 => String::new(),
            1 => tell!(" One more place has a fault.").to_owned(),
            count => tell!(" {count} more places have faults.", count),
        };
        let fact = format!("{name}{place}: {}.", language::understood(&first.what));
        self.say(Notice {
            fact,
            next: format!("{}.{more}", capital(&language::understood(&first.next))),
            grave: true,
        });
    }

    /// What a table would change is shown; what is wrong with it is told, and then nothing is taken.
    fn offer(&mut self, looked: Looked) {
        let issues = &looked.plan.issues;
        if let Some(first) = issues.first() {
            let file = match first.table {
                Table::Readings => looked.file.clone(),
                Table::Work => looked.file.with_file_name(tell!("the table of work")),
                Table::Marks => looked.file.with_file_name(tell!("the table of wear marks")),
            };
            let issue = tables::as_file_issue(&file, &first.issue);
            let more = issues.len() - 1;
            self.tell_wrong(&issue, more);
            return;
        }
        let new = looked.plan.changes.iter().filter(|it| it.fate == Fate::New).count();
        if new == 0 {
            self.tell(tell!("Every visit of this table is here already."), "");
        } else {
            self.jobs.offer = Some(looked);
        }
    }

    fn taken(&mut self, ctx: &egui::Context, taken: Taken) {
        let count = taken.sessions.len();
        let arrival = Arrival { sessions: taken.sessions, ..Arrival::default() };
        self.act(ctx, Command::Arrived(Box::new(arrival)));
        match count {
            1 if taken.of == 1 => self.tell(tell!("One visit taken in."), ""),
            count if count == taken.of => {
                self.tell(tell!("{count} visits taken in.", count), "");
            }
            count => self.tell(
                tell!("Stopped: {count} of {all} visits taken in.", count, all = taken.of),
                tell!("Import the table again to go on; what is here already stays as it is."),
            ),
        }
        if let Some(issue) = taken.fault {
            self.tell_wrong(&issue, 0);
        }
    }

    /// The job that runs, and the table that waits for a word.
    pub(super) fn job_strips(&self, ui: &mut Ui) -> Option<Command> {
        if let Some(job) = &self.jobs.running {
            job.strip(ui);
        }
        if let Some(job) = &self.judging {
            job.strip(ui);
        }
        let Looked { file, plan } = self.jobs.offer.as_ref()?;
        let t = theme::tokens(ui);
        let mut asked = None;
        strip(ui, |ui| {
            let new: Vec<_> = plan.changes.iter().filter(|it| it.fate == Fate::New).collect();
            let room = ui.available_width() - 260.0;
            ui.vertical(|ui| {
                ui.set_width(room);
                let name = file.file_name().unwrap_or(file.as_os_str()).to_string_lossy();
                let there = plan.changes.len() - new.len();
                let visits = if new.len() == 1 { tell!("visit") } else { tell!("visits") };
                let head = tell!(
                    "{name}: {new} new {visits}, {there} here already",
                    name,
                    new = new.len(),
                    visits,
                    there
                );
                ui.label(RichText::new(head).font(theme::body_bold()).color(t.ink));
                for change in new.iter().take(ROWS_SHOWN) {
                    let row = self.visit_row(&change.session);
                    ui.label(RichText::new(row).font(theme::body()).color(t.ink));
                }
                if ROWS_SHOWN < new.len() {
                    let more = tell!("and {rows_shown} more", rows_shown = new.len() - ROWS_SHOWN);
                    ui.label(RichText::new(more).font(theme::body()).color(t.ink));
                }
            });
            if ui.button(tell!("Take them in")).clicked() {
                asked = Some(Command::TakeTableIn);
            }
            if ui.button(tell!("Leave the table")).clicked() {
                asked = Some(Command::LeaveTable);
            }
        });
        asked
    }

    /// A visit of a table in a line: the machine, when, and how much of what.
    fn visit_row(&self, visit: &Session) -> String {
        let name = self.bench.yard().machine(&visit.shear).map(|it| it.shear.name.as_str());
        let n = self.view().numbers;
        let (day, clock) = (n.day(visit.taken), n.clock(visit.taken));
        let head = format!("{} · {day}, {clock}", name.unwrap_or(visit.shear.as_str()));
        let counts = [
            (visit.readings.len(), "reading", "readings"),
            (visit.work.len(), tell!("piece of work"), tell!("pieces of work")),
            (visit.marks.len(), tell!("wear mark"), tell!("wear marks")),
        ];
        let some = counts.into_iter().filter(|(count, ..)| 0 < *count);
        let rest = some.map(|(count, one, many)| counted(count, one, many));
        [head].into_iter().chain(rest).collect::<Vec<_>>().join(" · ")
    }
}
