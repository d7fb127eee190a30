//! The app and the disk: taking in what others put into the yard.

use crate::{
    domain::{log::Session, machine::ShearId},
    gui::{
        App,
        arrivals::{Arrivals, for_workbench},
        effects,
    },
    store::Watch,
    workbench::Command,
};
use std::time::Duration;

impl App {
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
            let known = |session: &Session| {
                yard.machine(&session.shear).is_some_and(|it| it.sessions.contains(session))
            };
            let new: Vec<&Session> = arrived.sessions.iter().filter(|it| !known(it)).collect();
            let told = effects::from_elsewhere(&new, yard);
            let changed = new.iter().map(|it| &it.shear);
            let changed = changed.chain(arrived.shears.iter().map(|it| &it.id)).cloned();
            let changed: Vec<ShearId> = changed.collect();
            let wrong = effects::damaged_files(&arrived.issues);
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
