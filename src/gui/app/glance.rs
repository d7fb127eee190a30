//! The overview before the sessions are read, and what is kept for the next time.
//!
//! A yard shows at once what was last told of its machines, if their files are still what it was
//! told from; a thread reads the sessions behind it, and what they say replaces it. Until then
//! nothing can be measured or recorded: what is asked for is done once the log is there.

use crate::{
    brief::yard::{LineRow, Standing},
    domain::{
        decide::{Action, LastLook},
        machine::{LineId, Shear, ShearId},
        yard::Machine,
    },
    gui::{App, Surroundings, app::judge::decide_opened},
    language::{self, tell},
    store::{self, KeptLine, KeptRow, Progress, Stamps, StoreError, Watch},
    workbench::{Command, Screen, Workbench},
};
use chrono::DateTime;
use std::{
    collections::{BTreeMap, BTreeSet},
    path::PathBuf,
    sync::{
        Arc, Mutex, MutexGuard,
        atomic::{AtomicU64, Ordering},
    },
    thread,
};

/// The files this yard was read from.
#[derive(Debug)]
pub(super) struct ReadFrom {
    stamps: Stamps,
    /// Session files that are there and were not read, by machine.
    unread: BTreeMap<ShearId, BTreeSet<String>>,
}

impl ReadFrom {
    /// Of the files there were before the first was read, those that left nothing are unread.
    fn new(stamps: Stamps, machines: &[Machine]) -> Self {
        let left = |machine: &Machine| -> BTreeSet<String> {
            let held: BTreeSet<&str> = machine.sessions.iter().map(|it| it.id.as_str()).collect();
            let names = stamps.sessions(&machine.shear.id);
            names.difference(&held).map(|it| (*it).to_owned()).collect()
        };
        let unread = machines.iter().map(|it| (it.shear.id.clone(), left(it))).collect();
        Self { stamps, unread }
    }
}

/// Overviews are kept in turn, and one that a newer one has overtaken is not kept at all.
#[derive(Clone, Debug, Default)]
pub(super) struct Keeping(Arc<(AtomicU64, Mutex<()>)>);

impl Keeping {
    fn next(&self) -> u64 {
        self.0.0.fetch_add(1, Ordering::SeqCst) + 1
    }

    fn begin(&self, turn: u64) -> Option<MutexGuard<'_, ()>> {
        let held = self.0.1.lock().ok()?;
        (self.0.0.load(Ordering::SeqCst) == turn).then_some(held)
    }
}

/// What somebody asked for before the sessions are read.
#[derive(Debug, Default)]
pub(super) struct Glance {
    machine: Option<ShearId>,
    screen: Option<Screen>,
    /// The first frame that was shown, by the toolkit's count.
    first: Option<u64>,
    /// Whether reading was begun; a person may have stopped it since.
    begun: bool,
}

impl App {
    /// A window onto the yard in `root` that shows what was last told of it, and once that is on the
    /// screen reads its sessions on a thread of its own.
    ///
    /// # Errors
    ///
    /// [`StoreError::Unusable`] if the folder cannot be read or is no yard.
    pub fn opening(root: PathBuf, around: Surroundings) -> Result<Self, StoreError> {
        let yard = store::described(&root)?;
        let kept = around
            .cache
            .as_ref()
            .map_or_else(Vec::new, |cache| Stamps::of(&root).still_true(cache, &teller(&around)));
        let shear = |row: &KeptRow| ShearId::new(&row.shear).and_then(|id| yard.machine(&id));
        let standing = |row: &KeptRow| standing(row, &shear(row)?.shear);
        let standings = kept.iter().filter_map(standing).collect();
        let bench = Workbench::new(yard, Vec::new(), around.tail);
        let glance = Some(Glance::default());
        let mut app = Self { glance, standings, ..Self::bare(bench, root, around) };
        app.take_the_most_urgent();
        Ok(app)
    }

    /// Reads the sessions once the first frame is on the screen. Before, reading would take the
    /// processors from the window that is being made: on two it came up half as late again.
    pub(super) fn read_behind(&mut self, ctx: &egui::Context) {
        let Some(glance) = self.glance.as_mut().filter(|it| !it.begun) else { return };
        let frame = ctx.cumulative_frame_nr();
        if *glance.first.get_or_insert(frame) == frame {
            ctx.request_repaint();
            return;
        }
        glance.begun = true;
        if self.jobs.idle() {
            self.start_reading();
        }
    }

    /// Reads a whole yard and decides its machines.
    pub(super) fn read(
        root: PathBuf,
        around: Surroundings,
        progress: &Progress,
    ) -> Result<Self, StoreError> {
        // Both before the first file is read, so that nothing slips in between unseen.
        let watch = around.look_every.map(|every| (Watch::start(&root), every));
        let stamps = around.cache.as_ref().map(|_| Stamps::of(&root));
        let mut opened = store::open_with(&root, progress)?;
        let decisions = decide_opened(&mut opened, progress);
        if progress.is_cancelled() {
            return Err(StoreError::Cancelled);
        }
        let app = Self::decided(opened, decisions, root, around);
        let mut app = Self { watch, ..app };
        if let (Some(stamps), Some(cache)) = (stamps, &app.around.cache) {
            let rows = app.standings.iter().map(kept_row).collect();
            // Without it the next start shows its overview a moment later.
            stamps.keep(cache, &teller(&app.around), rows).ok();
            app.read_from = Some(ReadFrom::new(stamps, &app.bench.yard().machines).into());
        }
        Ok(app)
    }

    /// Whether only the overview is there.
    pub const fn is_glance(&self) -> bool {
        self.glance.is_some()
    }

    /// The sessions of this yard, or those of another, are read.
    pub(super) fn become_opened(&mut self, ctx: &egui::Context, opened: Self) {
        let asked = self.glance.take().filter(|_| self.root == opened.root).unwrap_or_default();
        let unread = self.front.wrong.take().filter(|it| self.bench.notice() == Some(it));
        *self = Self { front: std::mem::take(&mut self.front), ..opened };
        let unread = unread.map(Command::Tell);
        let machine = asked.machine.map(Command::ChooseMachine);
        let screen = asked.screen.map(Command::Go);
        unread.into_iter().chain(machine).chain(screen).for_each(|command| self.act(ctx, command));
    }

    /// Before the sessions are read, what can be done without them; else the command as it is.
    pub(super) fn at_a_glance(&mut self, command: Command) -> Option<Command> {
        let Some(glance) = &mut self.glance else { return Some(command) };
        match &command {
            Command::ChooseMachine(id) => glance.machine = Some(id.clone()),
            Command::Go(Screen::Yard)
            | Command::ChooseYardFolder
            | Command::OpenYard(_)
            | Command::DismissNotice
            | Command::Tell(_) => {}
            _ => {
                if let Command::Go(screen) = command {
                    glance.screen = Some(screen);
                } else {
                    self.tell(tell!("The log is not read yet."), tell!("Do it again in a moment."));
                }
                if self.jobs.idle() {
                    self.start_reading();
                }
                return None;
            }
        }
        Some(command)
    }

    /// Keeps what is told now for the next start, on a thread of its own.
    ///
    /// Only of machines whose every file is read or known not to be, and is what it was when it was
    /// read: what has arrived or was overwritten and is not told yet makes a row stale before it is
    /// written.
    pub(super) fn keep_overview(&self) {
        let (Some(cache), Some(from)) = (self.around.cache.clone(), self.read_from.clone()) else {
            return;
        };
        let (root, told_by) = (self.root.clone(), teller(&self.around));
        let names = |machine: &Machine| -> BTreeSet<String> {
            machine.sessions.iter().map(|it| it.id.as_str().to_owned()).collect()
        };
        let yard = self.bench.yard();
        let row = |it: &Standing| Some((names(yard.machine(&it.shear)?), it.clone()));
        let rows: Vec<(BTreeSet<String>, Standing)> =
            self.standings.iter().filter_map(row).collect();
        let (keeping, turn) = (self.keeping.clone(), self.keeping.next());
        thread::spawn(move || {
            let Some(_held) = keeping.begin(turn) else { return };
            let stamps = Stamps::of(&root);
            let whole = rows.iter().filter(|(read, it)| {
                let unread = from.unread.get(&it.shear).into_iter().flatten();
                let known: BTreeSet<&str> = read.iter().chain(unread).map(String::as_str).collect();
                stamps.sessions(&it.shear) == known && stamps.hold_all_of(&from.stamps, &it.shear)
            });
            let rows = whole.map(|(_, standing)| kept_row(standing)).collect();
            stamps.keep(&cache, &told_by, rows).ok();
        });
    }
}

/// Another program says it in other words, another language too, and another zone at other hours.
fn teller(around: &Surroundings) -> String {
    format!("{} {} {}", env!("CARGO_PKG_VERSION"), around.zone, language::spoken().code())
}

const SEVERITIES: [Action; 5] =
    [Action::Leave, Action::Shim, Action::Rotate, Action::Replace, Action::Stop];

fn kept_row(standing: &Standing) -> KeptRow {
    let Standing { shear, reason, meter, hours, parts, last, lines, .. } = standing;
    let line = |it: &LineRow| KeptLine {
        line: it.line.letter(),
        severity: SEVERITIES.iter().zip(0..).find(|(a, _)| **a == it.action).map_or(0, |(_, n)| n),
        measure: it.measure,
        place: it.place.clone(),
        word: it.action_word.clone(),
        headline: it.headline.clone(),
        hours: it.hours.clone(),
        interval: it.interval.clone(),
    };
    KeptRow {
        shear: shear.as_str().to_owned(),
        reason: reason.clone(),
        meter: meter.clone(),
        hours: hours.clone(),
        parts: parts.clone(),
        measured: last.measured.map(|it| it.timestamp()),
        trouble_since: last.trouble_since,
        lines: lines.iter().map(line).collect(),
    }
}

fn standing(row: &KeptRow, shear: &Shear) -> Option<Standing> {
    let line = |it: &KeptLine| {
        Some(LineRow {
            line: LineId::new(it.line)?,
            place: it.place.clone(),
            action: *SEVERITIES.get(usize::from(it.severity))?,
            measure: it.measure,
            action_word: it.word.clone(),
            headline: it.headline.clone(),
            hours: it.hours.clone(),
            interval: it.interval.clone(),
        })
    };
    let measured = match row.measured {
        Some(seconds) => Some(DateTime::from_timestamp(seconds, 0)?),
        None => None,
    };
    Some(Standing {
        shear: shear.id.clone(),
        name: shear.name.clone(),
        carrier: shear.carrier.clone(),
        reason: row.reason.clone(),
        meter: row.meter.clone(),
        hours: row.hours.clone(),
        parts: row.parts.clone(),
        last: LastLook { measured, trouble_since: row.trouble_since },
        look: shear.intervals.look,
        lines: row.lines.iter().map(line).collect::<Option<_>>()?,
    })
}

#[cfg(test)]
mod tests {
    use crate::gui::app::glance::Keeping;

    #[test]
    fn an_overview_that_was_overtaken_is_not_kept() {
        let keeping = Keeping::default();
        let first = keeping.next();
        let second = keeping.next();
        assert!(keeping.begin(second).is_some());
        assert!(keeping.begin(first).is_none(), "or it would stand over the newer one");
    }
}
