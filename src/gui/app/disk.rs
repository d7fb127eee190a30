//! The app and the disk: taking in what others put into the yard.

use crate::{
    domain::{log::Session, machine::ShearId},
    gui::{
        App,
        arrivals::{Arrivals, for_workbench},
        effects,
    },
    store::Watch,
    workbench::{Command, Effect},
};
use chrono::{DateTime, Utc};
use std::time::Duration;

impl App {
    /// Carries an effect out on the disk. That a draft was not saved is told until it is saved after
    /// all.
    pub(super) fn carry_out(&mut self, effect: &Effect, now: DateTime<Utc>) -> Vec<Command> {
        let said = effects::carry_out(&self.root, &mut self.drafts, effect, now);
        let draft = match effect {
            Effect::SaveDraft(draft) | Effect::Sign(draft) | Effect::DropDraft(draft) => {
                Some(draft)
            }
            Effect::MoveDraft { to, .. } => Some(to),
            _ => None,
        };
        let told = draft.map(|draft| (draft.shear.clone(), draft.id.clone()));
        let before = told.as_ref().and_then(|of| self.unsaved.remove(of));
        if let (Some(of), Some(Command::Tell(notice))) = (told, &said) {
            self.unsaved.insert(of, notice.clone());
        }
        before.map(Command::Untell).into_iter().chain(said).rev().collect()
    }

    /// Looks at least `every` so often whether others have put something into the yard.
    #[must_use]
    pub fn watching(mut self, every: Duration) -> Self {
        self.watch = Some((Watch::start(&self.root), every));
        self.around.look_every = Some(every);
        self
    }

    /// Takes in what others have put into the yard, and says what is new in it.
    pub(super) fn take_arrivals(&mut self, ctx: &egui::Context) {
        if let (None, Some((watch, every))) = (&self.arrivals, &self.watch) {
            self.arrivals = Some(Arrivals::look(ctx, watch.clone(), *every));
        }
        while let Some(arrived) = self.arrivals.as_ref().and_then(Arrivals::next) {
            let yard = self.bench.yard();
            let is_strange = |it: &Session| yard.machine(&it.shear).is_none();
            let strangers = arrived.sessions.iter().filter(|it| is_strange(it));
            let lacking = yard.machines.iter().flat_map(|it| it.lacks(&arrived.sessions));
            let new: Vec<&Session> = lacking.chain(strangers).collect();
            let told = effects::from_elsewhere(&new, yard);
            let changed = new.iter().map(|it| &it.shear);
            let changed = changed.chain(arrived.shears.iter().map(|it| &it.id)).cloned();
            let changed: Vec<ShearId> = changed.collect();
            let wrong = effects::damaged_files(&self.root, &arrived.issues);
            self.act(ctx, Command::Arrived(Box::new(for_workbench(arrived))));
            for shear in &changed {
                self.judge_again(shear);
            }
            for notice in told.into_iter().chain(wrong) {
                self.act(ctx, Command::Tell(notice));
            }
        }
    }
}
