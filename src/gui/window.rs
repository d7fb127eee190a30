//! The real window, and what to say when there is none.

use crate::{
    gui::{App, Clock, Surroundings, pages::language_of},
    language::{self, Language, tell},
    store::{Look, StoreError},
};
use chrono::{Local, Offset as _};
use std::{cell::Cell, path::PathBuf, thread, time::Duration};

/// A colleague's session shows up while one fetches a leaf.
const LOOK_EVERY: Duration = Duration::from_secs(2);

/// What takes longer to be found anew than this does not hold a frame up.
const PATIENCE: Duration = Duration::from_millis(15);

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

/// The folders of the person who uses this computer, where it names them.
#[derive(Clone, Debug, Default)]
pub struct Folders {
    /// Where overviews are kept.
    pub cache: Option<PathBuf>,
    /// Where the look of the window is kept.
    pub config: Option<PathBuf>,
}

/// The picture for the task bar: a leaf between two blades.
fn icon() -> egui::IconData {
    let picture = include_bytes!("../../assets/package/gapwright.png");
    eframe::icon_data::from_png_bytes(picture).unwrap_or_default()
}

/// Opens the yard and the window, and stays until it is closed.
///
/// `find` names the yard's folder; it runs, and the yard is read, beside the display, which takes its
/// time to get a window ready.
///
/// # Errors
///
/// [`Unopened::Yard`] with the error of `find`, or if that folder is no yard; [`Unopened::Window`] if there is no display, or none
/// that this program can paint on.
pub fn run<E: From<StoreError> + Send>(
    find: impl FnOnce() -> Result<PathBuf, E> + Send,
    clock: Clock,
    folders: Folders,
) -> Result<(), Unopened<E>> {
    if !has_display() {
        return Err(Unopened::Window(NoWindow(tell!("there is no display").to_owned())));
    }
    let viewport = egui::ViewportBuilder::default()
        .with_title(tell!("Gapwright"))
        .with_app_id("gapwright")
        .with_icon(icon())
        .with_inner_size([1280.0, 800.0])
        .with_min_inner_size([960.0, 640.0]);
    // Colours lie flat here, and a dither costs a computer without a graphics card for each pixel.
    let options = eframe::NativeOptions { viewport, dithering: false, ..Default::default() };
    let around = Surroundings {
        clock,
        zone: clock().with_timezone(&Local).offset().fix(),
        tail: tail(clock),
        look_every: Some(LOOK_EVERY),
        patience: Some(PATIENCE),
        cache: folders.cache,
        desktop: sys_locale::get_locale()
            .and_then(|it| Language::of_locale(&it))
            .unwrap_or_default(),
    };
    let look = folders.config.as_deref().and_then(|it| Look::read(it).ok()).unwrap_or_default();
    language::speak(language_of(look, around.desktop));
    let wrong_yard = Cell::new(None);
    let shown = thread::scope(|scope| {
        let open = move || Ok(App::opening(find()?, around)?.looking(folders.config));
        let app = scope.spawn(language::carried(open));
        let with_app: eframe::AppCreator<'_> = Box::new(|made| {
            // Typefaces given in a frame are there in the next; given here, the first has its words.
            match app.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)) {
                Ok(app) => Ok(Box::new(app.dressed(&made.egui_ctx))),
                Err(err) => {
                    wrong_yard.set(Some(err));
                    Err(tell!("the yard did not open").into())
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

/// In our words. What the toolkit says is for those who ask for it with `GAPWRIGHT_LOG`.
fn explained(err: &eframe::Error) -> NoWindow {
    let fact = match err {
        eframe::Error::Glutin(_)
        | eframe::Error::NoGlutinConfigs(..)
        | eframe::Error::OpenGL(_) => {
            tell!(
                "this display offers no OpenGL to paint with; install a graphics driver, or Mesa's \
             which needs no graphics card"
            )
        }
        _ if std::env::var_os("WAYLAND_DISPLAY").is_some() => {
            tell!(
                "the display named by WAYLAND_DISPLAY does not answer; if Wayland is not running, \
             start with “env -u WAYLAND_DISPLAY gapwright”"
            )
        }
        _ => tell!("the display named by DISPLAY does not answer, or does not let this program in"),
    };
    let said = std::env::var_os("GAPWRIGHT_LOG").map(|_| format!(" ({err}: {err:?})"));
    NoWindow(format!("{fact}{}", said.unwrap_or_default()))
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
