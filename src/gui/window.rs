//! The real window, and what to say when there is none.

use crate::{
    gui::{App, Clock, theme},
    store::Opened,
};
use chrono::{Local, Offset as _};
use std::{cell::Cell, path::PathBuf, thread, time::Duration};

/// A colleague's session shows up while one fetches a leaf.
const LOOK_EVERY: Duration = Duration::from_secs(2);

/// Why there is no window: a fact and, where one is known, a next step.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct NoWindow(String);

/// What kept the window from opening.
#[derive(Debug)]
pub enum Unopened<E> {
    /// The yard: what `open` said.
    Yard(E),
    /// The window.
    Window(NoWindow),
}

/// Opens the yard and the window, and stays until it is closed.
///
/// `open` runs beside the display, which takes its time to get a window ready.
///
/// # Errors
///
/// [`Unopened::Yard`] with the error of `open`; [`Unopened::Window`] if there is no display, or none
/// that this program can paint on.
pub fn run<E: Send>(
    open: impl FnOnce() -> Result<(Opened, PathBuf), E> + Send,
    clock: Clock,
) -> Result<(), Unopened<E>> {
    if !has_display() {
        return Err(Unopened::Window(NoWindow("there is no display".to_owned())));
    }
    let viewport = egui::ViewportBuilder::default()
        .with_title("Gapwright")
        .with_app_id("gapwright")
        .with_inner_size([1280.0, 800.0])
        .with_min_inner_size([960.0, 640.0]);
    let options = eframe::NativeOptions { viewport, ..eframe::NativeOptions::default() };
    let zone = clock().with_timezone(&Local).offset().fix();
    let tail = tail(clock);
    let wrong_yard = Cell::new(None);
    let shown = thread::scope(|scope| {
        let app = scope.spawn(move || {
            open().map(|(opened, root)| {
                App::new(opened, root, clock, zone, tail).watching(LOOK_EVERY)
            })
        });
        let with_app: eframe::AppCreator<'_> = Box::new(|made| {
            // Typefaces given in a frame are there in the next; given here, the first has its words.
            theme::install(&made.egui_ctx);
            match app.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)) {
                Ok(app) => Ok(Box::new(app)),
                Err(err) => {
                    wrong_yard.set(Some(err));
                    Err("the yard did not open".into())
                }
            }
        });
        eframe::run_native("gapwright", options, with_app)
    });
    match (wrong_yard.take(), shown) {
        (Some(err), _) => Err(Unopened::Yard(err)),
        (None, shown) => shown.map_err(|err| Unopened::Window(explained(&err))),
    }
}

/// Some display errors say what is missing only in their debug form.
fn explained(err: &eframe::Error) -> NoWindow {
    let hint = if std::env::var_os("WAYLAND_DISPLAY").is_some() {
        "; if Wayland is not running, start with “env -u WAYLAND_DISPLAY gapwright”"
    } else {
        ""
    };
    NoWindow(format!("{err} ({err:?}){hint}"))
}

fn has_display() -> bool {
    ["WAYLAND_DISPLAY", "WAYLAND_SOCKET", "DISPLAY"]
        .iter()
        .any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}

/// Tells the sessions of windows apart that start on different tablets in one minute: the process
/// and the fraction of a second at which it started.
fn tail(clock: Clock) -> u16 {
    let mixed = u64::from(std::process::id()) ^ u64::from(clock().timestamp_subsec_micros());
    u16::try_from(mixed % 65_536).unwrap_or_default()
}
