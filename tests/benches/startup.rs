//! From start to first picture, beside an empty window of the same toolkit: with the sample yard,
//! and with a yard of 10 000 sessions.
//!
//! All are started in turn under one virtual display, so that whatever else the computer does
//! falls on all alike. The display keeps its picture in a file (`Xvfb -fbdir`), which is read
//! until the window stands in it: no client asks the server, and nothing is added to the program.
//! The first start with a yard, which has nothing kept of it yet, is not counted. Says so on stderr
//! and passes where there is no `Xvfb`. Fails above [`ALLOWED`] and [`ALLOWED_LARGE`].

use anyhow::{Context as _, Result, ensure};
use chrono::{DateTime, TimeDelta};
use gapwright::{sample, store};
use std::{
    env,
    ffi::OsStr,
    fs::{self, DirEntry, File},
    io::{BufRead as _, BufReader, Write as _},
    os::unix::fs::FileExt as _,
    path::Path,
    process::{Child, Command, ExitCode, Stdio},
    thread,
    time::{Duration, Instant},
};

/// How many times the start of an empty window the program may take with the sample yard.
const ALLOWED: f64 = 1.3;
/// And with [`MACHINES`] × [`SESSIONS`] sessions.
const ALLOWED_LARGE: f64 = 2.0;
const MACHINES: usize = 10;
const SESSIONS: usize = 1_000;
/// The longest a first start may take until its overview is kept.
const PATIENCE_S: u32 = 120;
const ROUNDS: usize = 10;
const SCREEN: (usize, usize) = (1280, 800);
const BYTES_PER_PIXEL: usize = 4;
/// Enough rows to tell a window from a mouse pointer, few enough to read in no time.
const ROWS: usize = 16;
/// Changes from pixel to pixel along the rows; a blank window has next to none.
const WITH_WORDS: usize = 200;
const EMPTY_WINDOW: &str = "--empty-window";

fn main() -> Result<ExitCode> {
    if env::args().any(|arg| arg == EMPTY_WINDOW) {
        return empty_window();
    }
    let mut say = std::io::stdout().lock();
    let home = tempfile::tempdir()?;
    let Ok(display) = Display::start(home.path()) else {
        writeln!(std::io::stderr(), "startup: not measured, no Xvfb here")?;
        return Ok(ExitCode::SUCCESS);
    };
    let (program, own) = (Path::new(env!("CARGO_BIN_EXE_gapwright")), env::current_exe()?);
    let large = home.path().join("large");
    let end = DateTime::UNIX_EPOCH + TimeDelta::days(20_000);
    store::create_yard(&large, &sample::yard(1, MACHINES, SESSIONS, end))?;
    let large = [large.as_os_str()];
    // The first start copies the sample yard, keeps its overview and warms the disk's cache.
    display.start_until_kept(program, &[], 1)?;
    display.start_until_kept(program, &large, 2)?;
    let nothing = [OsStr::new(EMPTY_WINDOW)];
    display.time(&own, &nothing, 0)?;
    let [mut ours, mut many, mut empty] = [const { Vec::new() }; 3];
    for _ in 0..ROUNDS {
        ours.push(display.time(program, &[], WITH_WORDS)?);
        empty.push(display.time(&own, &nothing, 0)?);
        many.push(display.time(program, &large, WITH_WORDS)?);
    }
    let [ours, many, empty] = [ours, many, empty].map(median);
    let ratio = |took: Duration| took.as_secs_f64() / empty.as_secs_f64();
    let sessions = MACHINES * SESSIONS;
    writeln!(
        say,
        "startup: empty window {empty:.0?}, sample yard {ours:.0?}, ratio {:.2}, \
         {sessions} sessions {many:.0?}, ratio {:.2}",
        ratio(ours),
        ratio(many)
    )?;
    let holds = ratio(ours) <= ALLOWED && ratio(many) <= ALLOWED_LARGE;
    Ok(if holds { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// A virtual display and the file that holds its picture.
struct Display {
    server: Child,
    name: String,
    picture: File,
    home: std::path::PathBuf,
}

impl Display {
    fn start(home: &Path) -> Result<Self> {
        let mut server = Command::new("Xvfb")
            .args(["-displayfd", "1", "-noreset", "-nolisten", "tcp", "-screen", "0"])
            .arg(format!("{}x{}x24", SCREEN.0, SCREEN.1))
            .args([OsStr::new("-fbdir"), home.as_os_str()])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()?;
        let mut number = String::new();
        let stdout = server.stdout.take().context("no stdout")?;
        BufReader::new(stdout).read_line(&mut number)?;
        ensure!(!number.trim().is_empty(), "Xvfb ended at once");
        let name = format!(":{}", number.trim());
        let picture = File::open(home.join("Xvfb_screen0"))?;
        Ok(Self { server, name, picture, home: home.to_owned() })
    }

    /// Starts the program and ends it once so many overviews lie in the cache folder.
    fn start_until_kept(&self, program: &Path, args: &[&OsStr], overviews: usize) -> Result<()> {
        let mut child = self.spawn(program, args)?;
        let cache = self.home.join(".cache/gapwright");
        let kept = || fs::read_dir(&cache).map_or(0, |files| files.flatten().filter(whole).count());
        let whole_after = (0..PATIENCE_S * 20).find(|_| {
            thread::sleep(Duration::from_millis(50));
            overviews <= kept()
        });
        child.kill()?;
        child.wait()?;
        whole_after.map(drop).with_context(|| format!("no overview after {PATIENCE_S} s"))
    }

    /// Starts a program, waits for a picture with at least so many `changes` in it, ends it.
    fn time(&self, program: &Path, args: &[&OsStr], changes: usize) -> Result<Duration> {
        // A mouse pointer may stand there.
        self.wait_until("an empty screen", |seen| seen.covered < 0.01)?;
        #[expect(clippy::disallowed_methods, reason = "a stopwatch reads the clock")]
        let start = Instant::now();
        let mut child = self.spawn(program, args)?;
        let painted =
            self.wait_until("a picture", |seen| 0.5 <= seen.covered && changes <= seen.changes);
        let took = start.elapsed();
        child.kill()?;
        child.wait()?;
        painted.with_context(|| format!("{}", program.display()))?;
        Ok(took)
    }

    fn spawn(&self, program: &Path, args: &[&OsStr]) -> Result<Child> {
        let mut command = Command::new(program);
        command.args(args).env("DISPLAY", &self.name).env("HOME", &self.home);
        command.env("LIBGL_ALWAYS_SOFTWARE", "1").stdout(Stdio::null());
        for name in [
            "WAYLAND_DISPLAY",
            "WAYLAND_SOCKET",
            "XDG_DATA_HOME",
            "XDG_CACHE_HOME",
            "XDG_CONFIG_HOME",
        ] {
            command.env_remove(name);
        }
        Ok(command.spawn()?)
    }

    fn wait_until(&self, what: &str, done: impl Fn(&Seen) -> bool) -> Result<()> {
        for _ in 0..20_000 {
            if done(&self.look()?) {
                return Ok(());
            }
            thread::sleep(Duration::from_millis(1));
        }
        anyhow::bail!("no sign of {what} after 20 s")
    }

    fn look(&self) -> Result<Seen> {
        let row_bytes = SCREEN.0 * BYTES_PER_PIXEL;
        let picture_bytes = row_bytes * SCREEN.1;
        // A header of no interest stands before the pixels.
        let pixels_at = self.picture.metadata()?.len() - u64::try_from(picture_bytes)?;
        let (mut covered, mut changes) = (0, 0);
        for row in 0..ROWS {
            let mut bytes = vec![0; row_bytes];
            let at = row * (SCREEN.1 / ROWS) * row_bytes;
            self.picture.read_exact_at(&mut bytes, pixels_at + u64::try_from(at)?)?;
            let pixels: Vec<&[u8]> = bytes.chunks(BYTES_PER_PIXEL).collect();
            let black = |pixel: &&&[u8]| pixel.iter().take(3).all(|byte| *byte == 0);
            covered += SCREEN.0 - pixels.iter().filter(black).count();
            changes += pixels.windows(2).filter(|pair| pair.first() != pair.last()).count();
        }
        Ok(Seen { covered: covered as f64 / (ROWS * SCREEN.0) as f64, changes })
    }
}

/// What stands on the screen.
struct Seen {
    /// The share of the looked-at pixels that are not the bare, black screen.
    covered: f64,
    /// How often one pixel differs from the next in its row.
    changes: usize,
}

impl Drop for Display {
    fn drop(&mut self) {
        // A server that has ended by itself is as good as one that was ended.
        drop(self.server.kill());
        drop(self.server.wait());
    }
}

/// An overview under its last name; a file that is being written has a hidden one.
fn whole(file: &DirEntry) -> bool {
    file.file_name().to_string_lossy().starts_with("overview-")
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

struct Empty;

impl eframe::App for Empty {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        egui::CentralPanel::default().show(ui, |_| {});
    }
}

fn empty_window() -> Result<ExitCode> {
    let viewport = egui::ViewportBuilder::default().with_inner_size([1280.0, 800.0]);
    let options = eframe::NativeOptions { viewport, ..Default::default() };
    let opened = eframe::run_native("Empty", options, Box::new(|_| Ok(Box::new(Empty))));
    opened.map_err(|error| anyhow::anyhow!("{error}"))?;
    Ok(ExitCode::SUCCESS)
}
