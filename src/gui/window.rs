//! The real window, and what to say when there is none.

use crate::{
    gui::{App, Clock},
    store::Opened,
};
use chrono::{Local, Offset as _};
use std::path::PathBuf;

/// Why there is no window: a fact and, where one is known, a next step.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct NoWindow(String);

/// Opens the window and stays until it is closed.
///
/// # Errors
///
/// [`NoWindow`] if there is no display, or none that this program can paint on.
pub fn run(opened: Opened, root: PathBuf, clock: Clock) -> Result<(), NoWindow> {
    if !has_display() {
        return Err(NoWindow("there is no display".to_owned()));
    }
    let viewport = egui::ViewportBuilder::default()
        .with_title("Gapwright")
        .with_app_id("gapwright")
        .with_inner_size([1280.0, 800.0])
        .with_min_inner_size([960.0, 640.0]);
    let options = eframe::NativeOptions { viewport, ..eframe::NativeOptions::default() };
    let zone = clock().with_timezone(&Local).offset().fix();
    let app = App::new(opened, root, clock, zone, tail(clock));
    eframe::run_native("gapwright", options, Box::new(|_| Ok(Box::new(app)))).map_err(|err| {
        // Some display errors say what is missing only in their debug form.
        let hint = if std::env::var_os("WAYLAND_DISPLAY").is_some() {
            "; if Wayland is not running, start with “env -u WAYLAND_DISPLAY gapwright”"
        } else {
            ""
        };
        NoWindow(format!("{err} ({err:?}){hint}"))
    })
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
