//! What saving on the Setup screen would change, worked out beside the frames.
//!
//! One job at a time; an answer to a question that is no longer asked is thrown away.

use crate::{
    domain::setup::{Consequences, Finished, consequences},
    gui::{
        App,
        long_job::{Begun, LongJob, State},
    },
    language::tell,
    store::Progress,
    workbench::Screen,
};

/// What an answer is about: the files as they would be, and how much of a log they were laid on.
type Question = (Finished, usize);

/// The job that runs, and the newest answer, each with its question.
#[derive(Debug, Default)]
pub(super) struct Foreseen {
    running: Option<(Question, LongJob<Consequences>)>,
    there: Option<(Question, Consequences)>,
}

impl App {
    /// What the draft on the Setup screen would change, once that is worked out.
    pub(super) fn foreseen(&self) -> Option<&Consequences> {
        let (question, answer) = self.foreseen.there.as_ref()?;
        (self.question().as_ref() == Some(question)).then_some(answer)
    }

    /// The draft, where it holds together and its machine has a log.
    fn question(&self) -> Option<Question> {
        let changed = self.bench.setup().filter(|it| it.is_changed() && !it.is_new())?;
        let finished = changed.finished().as_ref().ok()?;
        let machine = self.bench.yard().machine(&finished.shear.as_ref()?.id)?;
        Some((finished.clone(), machine.sessions.len()))
    }

    /// Works out what the draft on the Setup screen would change.
    pub(super) fn foresee(&mut self, ctx: &egui::Context) {
        if self.bench.screen() != Screen::Setup || self.is_glance() {
            return;
        }
        if let Some((_, job)) = &self.foreseen.running {
            match job.state() {
                State::Runs => return job.wakes(ctx),
                State::Over => self.foreseen.running = None,
                State::Done(answer) => {
                    let asked = self.foreseen.running.take().map(|(question, _)| question);
                    self.foreseen.there = asked.map(|question| (question, answer));
                }
            }
        }
        let Some(question) = self.question().filter(|_| self.foreseen().is_none()) else { return };
        let yard = self.bench.yard();
        let (Some(shear), would) = (question.0.shear.clone(), question.0.settings.clone()) else {
            return;
        };
        let Some(machine) = yard.machine(&shear.id).cloned() else { return };
        let now = yard.settings.clone();
        let act = move |_progress: &Progress| consequences(&machine, &now, &shear, &would);
        match LongJob::begin(self.around.patience, tell!("Looking ahead"), act) {
            Begun::Done(answer) => self.foreseen.there = Some((question, answer)),
            Begun::Runs(job) => {
                job.wakes(ctx);
                self.foreseen.running = Some((question, job));
            }
        }
    }
}
