//! Something that takes a while, on a thread of its own, with how far it is and a way to stop.
//!
//! Knows threads, counts and words. What is done is the caller's business.

use crate::{
    gui::theme,
    language::{self, tell},
    store::Progress,
};
use egui::{Frame, ProgressBar, RichText, Ui};
use std::{
    sync::{
        Arc, OnceLock,
        mpsc::{Receiver, RecvTimeoutError, TryRecvError, channel},
    },
    thread,
    time::Duration,
};

/// How often a strip that counts is painted anew.
const FRAMES_EVERY: Duration = Duration::from_millis(100);

/// A job that runs, and answers once.
#[derive(Debug)]
pub(crate) struct LongJob<A> {
    words: &'static str,
    progress: Arc<Progress>,
    answer: Receiver<A>,
    /// The window that waits for the answer, once there is one.
    window: Arc<OnceLock<egui::Context>>,
}

/// Something that was begun, and perhaps is done already.
#[derive(Debug)]
pub(crate) enum Begun<A> {
    /// It was quick.
    Done(A),
    /// It goes on beside the frames.
    Runs(LongJob<A>),
}

/// What became of a job.
#[derive(Debug)]
pub(crate) enum State<A> {
    /// It still runs.
    Runs,
    /// It is done.
    Done(A),
    /// It ended without an answer: nobody chose a file.
    Over,
}

impl<A: Send + 'static> LongJob<A> {
    /// Starts `act`, which `words` describe, such as "Opening the yard".
    pub(crate) fn start(
        words: &'static str,
        act: impl FnOnce(&Progress) -> Option<A> + Send + 'static,
    ) -> Self {
        let (sender, answer) = channel();
        let progress = Arc::new(Progress::default());
        let window: Arc<OnceLock<egui::Context>> = Arc::default();
        let (waiting, shared) = (Arc::clone(&window), Arc::clone(&progress));
        thread::spawn(language::carried(move || {
            if let Some(answer) = act(&shared) {
                // A send fails only after the window is gone, and then nobody waits for the answer.
                drop(sender.send(answer));
            }
            drop(sender);
            if let Some(ctx) = waiting.get() {
                ctx.request_repaint();
            }
        }));
        Self { words, progress, answer, window }
    }

    /// Starts `act` and waits for it a moment, since what is quick should show in the same frame.
    /// Without a limit to the patience it is done here and now.
    pub(crate) fn begin(
        patience: Option<Duration>,
        words: &'static str,
        act: impl FnOnce(&Progress) -> A + Send + 'static,
    ) -> Begun<A> {
        let Some(patience) = patience else { return Begun::Done(act(&Progress::default())) };
        let job = Self::start(words, |progress| Some(act(progress)));
        match job.answer.recv_timeout(patience) {
            Ok(answer) => Begun::Done(answer),
            Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => Begun::Runs(job),
        }
    }

    /// The window to wake when it is done; an answer that is there already needs none.
    pub(crate) fn wakes(&self, ctx: &egui::Context) {
        self.window.get_or_init(|| ctx.clone());
    }

    /// What became of it.
    pub(crate) fn state(&self) -> State<A> {
        match self.answer.try_recv() {
            Ok(answer) => State::Done(answer),
            Err(TryRecvError::Empty) => State::Runs,
            Err(TryRecvError::Disconnected) => State::Over,
        }
    }

    /// How far it is, and the way to stop it.
    pub(crate) fn strip(&self, ui: &mut Ui) {
        let t = theme::tokens(ui);
        let (done, of) = self.progress.so_far();
        strip(ui, |ui| {
            let stops = self.progress.is_cancelled();
            let words = if stops {
                tell!("{words}: stopping …", words = self.words)
            } else if of == 0 {
                format!("{} …", self.words)
            } else {
                tell!("{words}: {done} of {of}", words = self.words, done, of)
            };
            ui.label(RichText::new(words).font(theme::body_bold()).color(t.ink));
            let share = if of == 0 { 0.0 } else { done as f32 / of as f32 };
            let room = (ui.available_width() - 120.0).max(40.0);
            ui.add(ProgressBar::new(share).desired_width(room).fill(t.ink2));
            if ui.add_enabled(!stops, egui::Button::new(tell!("Stop"))).clicked() {
                self.progress.cancel();
            }
        });
        ui.ctx().request_repaint_after(FRAMES_EVERY);
    }
}

/// A strip above the screen.
pub(crate) fn strip(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let t = theme::tokens(ui);
    Frame::NONE
        .fill(t.watch_tint)
        .stroke(egui::Stroke::new(1.5, t.watch))
        .corner_radius(theme::RADIUS)
        .inner_margin(12)
        .show(ui, |ui| {
            ui.horizontal(|ui| {
                add(ui);
            });
        });
    ui.add_space(8.0);
}
