//! The real window, and what to say when there is none.

use crate::{
    gui::{App, Clock, Surroundings, pages::language_of},
    language::{self, Language, tell},
    store::{Look, StoreError},
};
use chrono::{Local, Offset as _};
use egui::{Context, RawInput, Rect, Vec2, vec2};
use std::{cell::Cell, num::NonZeroUsize, path::PathBuf, thread, time::Duration};

/// What the window has inside when it opens.
const SIZE: Vec2 = vec2(1280.0, 800.0);

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
        .with_inner_size(SIZE)
        .with_min_inner_size([960.0, 640.0]);
    let options = eframe::NativeOptions {
        viewport,
        // Colours lie flat here, and a dither costs a computer without a graphics card for each pixel.
        dithering: false,
        // All letters are embedded, and a search for others would undo what is laid out beforehand.
        system_font_fallback: false,
        ..Default::default()
    };
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
    let ctx = context();
    let shown = thread::scope(|scope| {
        let rehearsed = ctx.clone();
        let open = move || {
            let app = App::opening(find()?, around)?.looking(folders.config).dressed(&rehearsed);
            rehearse(&rehearsed, &app);
            Ok(app)
        };
        let app = scope.spawn(language::carried(open));
        let with_app: eframe::AppCreator<'_> = Box::new(|_| {
            match app.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)) {
                Ok(app) => Ok(Box::new(app)),
                Err(err) => {
                    wrong_yard.set(Some(err));
                    Err(tell!("the yard did not open").into())
                }
            }
        });
        eframe::run_native_ext("gapwright", options, Some(ctx), with_app)
    });
    match (wrong_yard.take(), shown) {
        (Some(err), _) => Err(Unopened::Yard(err)),
        (None, shown) => shown.map_err(|err| Unopened::Window(explained(&err))),
    }
}

/// What the toolkit makes for itself where it is given nothing.
fn context() -> Context {
    let ctx = Context::default();
    ctx.set_embed_viewports(false);
    ctx.options_mut(|it| it.max_passes = const { NonZeroUsize::new(2).expect("not zero") });
    ctx
}

/// The widest picture that a painter without a graphics card holds. Letters that were drawn for
/// another width are drawn again.
const WIDEST_PICTURE: usize = 16_384;

/// Lays the first frame out beside the display that makes its window, so that its letters are drawn
/// when the display is ready. What it differs in from the real one, such as a finer display, is
/// done again there.
fn rehearse(ctx: &Context, app: &App) {
    let input = RawInput {
        screen_rect: Some(Rect::from_min_size(egui::Pos2::ZERO, SIZE / ctx.zoom_factor())),
        max_texture_side: Some(WIDEST_PICTURE),
        time: Some(0.0),
        ..RawInput::default()
    };
    let mut laid_out = ctx.run_ui(input, |ui| app.rehearse(ui));
    // Nobody has painted it: the letters go to whoever paints next.
    let pictures = ctx.tex_manager();
    std::mem::take(&mut laid_out.textures_delta.set)
        .into_iter()
        .flat_map(|(id, deltas)| deltas.into_iter().map(move |delta| (id, delta)))
        .for_each(|(id, delta)| pictures.write().set(id, delta));
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

/// A painter that starts after the rehearsal gets all letters, and paints what it would have
/// painted without one; no letter is drawn a second time.
#[test]
fn a_rehearsed_first_frame_is_the_first_frame() {
    use crate::{sample, store};
    use chrono::{DateTime, TimeDelta};
    use egui::epaint::{Mesh, Primitive};
    let folder = tempfile::tempdir().unwrap();
    let end = DateTime::UNIX_EPOCH + TimeDelta::days(20_000);
    store::create_yard(folder.path(), &sample::yard(1, 2, 3, end)).unwrap();
    let clock: Clock = || DateTime::UNIX_EPOCH + TimeDelta::days(20_000);
    let first_frame = |rehearsing: bool, widest: usize| {
        let ctx = context();
        let around = Surroundings::alone(clock, chrono::Utc.fix(), 0);
        let mut app = App::opening(folder.path().to_owned(), around).unwrap().dressed(&ctx);
        if rehearsing {
            rehearse(&ctx, &app);
        }
        let input = || RawInput {
            screen_rect: Some(Rect::from_min_size(egui::Pos2::ZERO, SIZE)),
            max_texture_side: Some(widest),
            ..RawInput::default()
        };
        let mut frame = ctx.run_ui(input(), |ui| app.draw(ui));
        let letters: Vec<_> =
            std::mem::take(&mut frame.textures_delta.set).into_values().flatten().collect();
        let painted = ctx.tessellate(frame.shapes, 1.0).into_iter().map(|it| it.primitive);
        let meshes: Vec<_> = painted
            .map(|it| match it {
                Primitive::Mesh(mesh) => mesh,
                Primitive::Callback(_) => Mesh::default(),
            })
            .collect();
        (meshes, letters)
    };
    let (plain, drawn) = first_frame(false, WIDEST_PICTURE);
    let (rehearsed, handed_on) = first_frame(true, WIDEST_PICTURE);
    assert!(plain == rehearsed, "the same picture");
    assert!(drawn == handed_on, "the same letters, whole, and none of them later");
    // An old tablet holds no picture that wide, and must not be given one.
    let (_, narrow) = first_frame(true, 2_048);
    assert!(!narrow.is_empty() && narrow.iter().all(|it| it.image.width() <= 2_048));
    assert!(
        1_000 < plain.iter().map(|it| it.vertices.len()).sum::<usize>(),
        "a picture with words"
    );
}
