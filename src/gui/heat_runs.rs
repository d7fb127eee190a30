//! The shifts behind the Heat screen, run only when a number has changed.
//!
//! One shift takes about a millisecond and runs at once; the low and high case of many draws runs
//! on threads of its own and appears when it is ready. Knows what to run. Refuses to paint.

use crate::{
    domain::{
        decide::{ColdGaps, MachineDecision, cold_gaps},
        heat::{
            Aim, Band, Lesson, Model, NetworkFault, Setting, Shift, ShiftWork, Spreads, draw,
            lowest_gap_mm, move_blade,
        },
        machine::{Shear, StationId},
    },
    workbench::HeatDesk,
};
use std::sync::{
    Arc,
    atomic::{AtomicBool, Ordering},
    mpsc::{Receiver, TryRecvError, channel},
};

/// Hours between two samples of a shift.
const EVERY_H: f64 = 0.05;
/// The same for the low and high case.
const BAND_EVERY_H: f64 = 0.1;
/// Runs behind the low and high case.
const DRAWS: u32 = 200;
/// Seconds that the numbers stand still before draws begin: while a hand drags a slider, both
/// cores belong to the picture.
const STILL_S: f64 = 0.12;
/// Threads that share them: a tablet has two cores.
const THREADS: u32 = 2;

/// What to run.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Ask {
    pub(crate) shear: Shear,
    pub(crate) station: StationId,
    pub(crate) work: ShiftWork,
    /// Cold gaps of the case, in mm.
    pub(crate) gaps: ColdGaps,
    /// The gap at the station in the case, and in the case it is held against.
    pub(crate) gap_mm: f64,
    pub(crate) set_mm: f64,
}

impl Ask {
    /// What the desk asks of a machine in this lesson; `None` without a station to look at.
    pub(crate) fn of(
        shear: &Shear,
        decision: &MachineDecision,
        lesson: &Lesson,
        desk: &HeatDesk,
    ) -> Option<Self> {
        let thermal = shear.thermal.as_ref()?;
        let own = lesson.station_at(desk.step);
        let wanted = [desk.station, Some(own), Some(lesson.station)];
        let known = wanted.into_iter().flatten().find(|id| shear.station(*id).is_some());
        let station = known.or_else(|| shear.walk().last().copied())?;
        let line = shear.line(station.line)?;
        let tried = desk.tried;
        let by_hand = Setting {
            cuts_per_minute: tried.cuts_per_minute,
            plate_mm: tried.plate_mm,
            air_c: tried.air_c,
            ..Setting::default()
        };
        let setting = by_hand.over(&lesson.setting_at(desk.step));
        let work = setting.work(thermal);
        let mut gaps = cold_gaps(shear, decision);
        setting.move_gaps(&mut gaps.gaps, lesson.station);
        if let Some(to_mm) = tried.gap_mm {
            move_blade(&mut gaps.gaps, station, to_mm);
        }
        let gap_mm = gaps.gaps.iter().find(|it| it.0 == station)?.1;
        let set_mm = line.limits.set().middle().mm();
        Some(Self { shear: shear.clone(), station, work, gaps, gap_mm, set_mm })
    }
}

/// A shift that was run.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    pub(crate) model: Model,
    pub(crate) shift: Shift,
    /// The contact of the station looked at.
    pub(crate) contact: usize,
}

impl Case {
    fn run(ask: &Ask, gaps: &ColdGaps) -> Result<Self, NetworkFault> {
        let model = Model::of(&ask.shear, &gaps.gaps, &ask.work, None)?;
        let shift = model.run(EVERY_H)?;
        let contact = model.contact(ask.station);
        let contact = contact.ok_or(NetworkFault::NoContact(ask.station.line))?;
        Ok(Self { model, shift, contact })
    }
}

/// What to set for this work.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Advice {
    /// The lowest cold gap that stays bare and open; `None` if there is none.
    pub(crate) lowest_mm: Option<f64>,
}

/// Everything the screen shows of one question.
#[derive(Debug)]
pub(crate) struct HeatRuns {
    pub(crate) ask: Ask,
    /// The shift, or why there is none.
    pub(crate) case: Result<Case, NetworkFault>,
    /// The same with the station in the middle of its set range.
    pub(crate) set: Option<Case>,
    /// The low and high case, once it is ready.
    pub(crate) band: Option<Band>,
    /// The lowest cold gap that stays bare and open at the station's line, once it is known; for a
    /// line that carries no thrust there is nothing to say.
    pub(crate) advice: Option<Advice>,
    /// Since when nobody has moved a number, while no thread is at work on this question yet.
    still_since_s: Option<f64>,
    /// What threads are still at work on.
    draws: Vec<Receiver<Vec<Shift>>>,
    drawn: Vec<Shift>,
    looking: Option<Receiver<Advice>>,
    /// Tells the threads that nobody waits any more.
    over: Arc<AtomicBool>,
}

impl Drop for HeatRuns {
    fn drop(&mut self) {
        self.over.store(true, Ordering::Relaxed);
    }
}

impl HeatRuns {
    /// Runs the shifts; draws follow when nothing moves any more.
    pub(crate) fn start(ctx: &egui::Context, ask: Ask) -> Self {
        let case = Case::run(&ask, &ask.gaps);
        let mut gaps = ask.gaps.clone();
        move_blade(&mut gaps.gaps, ask.station, ask.set_mm);
        let set = Case::run(&ask, &gaps).ok();
        Self {
            ask,
            case,
            set,
            band: None,
            advice: None,
            still_since_s: Some(ctx.input(|input| input.time)),
            draws: Vec::new(),
            drawn: Vec::new(),
            looking: None,
            over: Arc::new(AtomicBool::new(false)),
        }
    }

    /// Starts the draws once the numbers stand still, and takes what threads have finished.
    pub(crate) fn collect(&mut self, ctx: &egui::Context) {
        if let Some(since_s) = self.still_since_s {
            let left_s = STILL_S - (ctx.input(|input| input.time) - since_s);
            if 0.0 < left_s {
                ctx.request_repaint_after_secs(crate::gui::paint::screen(left_s));
            } else {
                self.still_since_s = None;
                if let Ok(case) = &self.case {
                    self.draws = draw_all(ctx, &case.model, &self.over);
                    self.looking = advise(ctx, &self.ask, case);
                }
            }
        }
        if let Some(advice) = self.looking.as_ref().and_then(|it| it.try_recv().ok()) {
            self.advice = Some(advice);
            self.looking = None;
        }
        if self.draws.is_empty() {
            return;
        }
        let (draws, drawn) = (&mut self.draws, &mut self.drawn);
        draws.retain(|part| match part.try_recv() {
            Ok(shifts) => {
                drawn.extend(shifts);
                false
            }
            Err(TryRecvError::Empty) => true,
            Err(TryRecvError::Disconnected) => false,
        });
        if self.draws.is_empty() && !self.drawn.is_empty() {
            self.band = self.case.as_ref().ok().map(|case| case.model.band_of(&self.drawn));
            self.drawn.clear();
        }
    }
}

/// Starts the draws. A thread whose question is no longer asked stops at its next draw.
fn draw_all(
    ctx: &egui::Context,
    model: &Model,
    over: &Arc<AtomicBool>,
) -> Vec<Receiver<Vec<Shift>>> {
    (0..THREADS)
        .map(|thread| {
            let (sender, receiver) = channel();
            let (ctx, over) = (ctx.clone(), Arc::clone(over));
            let (network, duty) = (model.network.clone(), model.duty.clone());
            std::thread::spawn(move || {
                let spreads = Spreads::default();
                let shifts = (thread..DRAWS)
                    .step_by(usize::try_from(THREADS).unwrap_or(1))
                    .take_while(|_| !over.load(Ordering::Relaxed))
                    .filter_map(|index| draw(&network, &duty, &spreads, index, BAND_EVERY_H).ok())
                    .collect();
                drop(sender.send(shifts));
                ctx.request_repaint();
            });
            receiver
        })
        .collect()
}

/// Starts to look for the lowest gap at the station's line, if there are cuts and they press it.
fn advise(ctx: &egui::Context, ask: &Ask, case: &Case) -> Option<Receiver<Advice>> {
    let contact = case.model.network.contacts.get(case.contact)?;
    let line = ask.shear.line(ask.station.line)?;
    if contact.thrust_n <= 0.0 || case.model.forces.stalls() {
        return None;
    }
    let aim = Aim::bare(line);
    let (sender, receiver) = channel();
    let ctx = ctx.clone();
    let (network, duty) = (case.model.network.clone(), case.model.duty.clone());
    std::thread::spawn(move || {
        let lowest = lowest_gap_mm(&network, &duty, &aim);
        drop(lowest.map(|lowest_mm| sender.send(Advice { lowest_mm })));
        ctx.request_repaint();
    });
    Some(receiver)
}
