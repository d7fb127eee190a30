//! Looking now and then at what others put into the yard, on a thread of its own.
//!
//! Knows threads and pauses. What arrived is read by `store` and taken in by the workbench.

use crate::{
    store::{Arrived, Watch},
    workbench::Arrival,
};
use std::{
    sync::{
        Arc,
        mpsc::{Receiver, channel},
    },
    thread,
    time::{Duration, Instant},
};

/// A large yard on a slow card is asked more rarely: looking may take this share of the time.
const PAUSES_PER_LOOK: u32 = 50;

/// A watch that runs until this is dropped.
#[derive(Debug)]
pub(crate) struct Arrivals {
    found: Receiver<Arrived>,
    _alive: Arc<()>,
}

impl Arrivals {
    /// Looks at least `every` so often, and asks for a frame when something is there.
    #[expect(clippy::disallowed_methods, reason = "how long a look took is not a time of day")]
    pub(crate) fn look(ctx: &egui::Context, mut watch: Watch, every: Duration) -> Self {
        let (sender, found) = channel();
        let alive = Arc::new(());
        let wanted = Arc::downgrade(&alive);
        let ctx = ctx.clone();
        thread::spawn(move || {
            let mut pause = every;
            loop {
                thread::sleep(pause);
                if wanted.strong_count() == 0 {
                    return;
                }
                let start = Instant::now();
                let arrived = watch.look();
                pause = every.max(start.elapsed() * PAUSES_PER_LOOK);
                if !arrived.is_empty() {
                    if sender.send(arrived).is_err() {
                        return;
                    }
                    ctx.request_repaint();
                }
            }
        });
        Self { found, _alive: alive }
    }

    /// What has arrived and was not taken yet.
    pub(crate) fn next(&self) -> Option<Arrived> {
        self.found.try_recv().ok()
    }
}

/// What of it the workbench takes in.
pub(crate) fn for_workbench(arrived: Arrived) -> Arrival {
    let Arrived { sessions, drafts, shears, settings, .. } = arrived;
    Arrival { sessions, drafts, shears, settings }
}
