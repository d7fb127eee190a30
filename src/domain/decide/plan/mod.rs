//! What to do now, what to leave to the next planned shutdown, and what waiting costs.
//!
//! Each line is weighed by itself from look to look (see [`course`]); lines meet where one stop
//! serves several of them, which is settled for the stop of now and bounded for those to come.
//! What a decision demands is never put off for its cost. Does not know words.

mod course;
mod line;
mod overrule;

#[cfg(test)]
mod tests;

use crate::domain::{
    decide::{Action, Job, LineDecision, MachineDecision},
    log::History,
    machine::{BladeId, LineId, Shear, ShearId, Toward},
    quantity::{Hours, whole},
    yard::{Machine, Settings, WorkTimes},
};
use course::Calendar;
use line::Weighed;
pub use overrule::Choice;

/// The work a line will want.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    /// Measure it.
    Measure,
    /// Change the pack.
    Shim,
    /// Turn a blade to a fresh edge.
    Turn,
    /// Fit a new blade.
    Replace,
    /// Tighten bolts again.
    Retighten,
    /// A qualified welder.
    Weld,
    /// Find a cause, for which nobody can plan.
    Find,
}

/// When it is best done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Moment {
    /// Before the machine cuts on.
    Now,
    /// At a planned shutdown, in so many service hours.
    Shutdown(f64),
    /// At a look between shutdowns, in so many service hours.
    Look(f64),
    /// When the gap meets its limit, because somebody chose so.
    Limit,
    /// Not before the horizon, unless the gap runs ahead of its trend.
    Later,
}

/// Why a line is to be worked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Advice {
    /// The decision demands it; cost has no say.
    Demanded,
    /// It loses the fewest hours.
    Cheapest,
    /// Somebody overruled the plan.
    Chosen,
}

/// Why nobody can plan a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoPlan {
    /// It must be measured first.
    MeasureFirst,
    /// Nobody knows how long it takes: a welder's work, or a cause to be found.
    NotOurs,
    /// No trend yet of the gap that is there now, or none that runs towards the upper limit.
    NoTrend,
}

/// The expected loss of each choice over the horizon, in hours.
#[expect(clippy::struct_field_names, reason = "every quantity's name ends in its unit")]
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Costs {
    /// Working at it now.
    pub now_h: f64,
    /// Leaving it now and working at it at planned shutdowns only, unless it must be; `None` where
    /// it must not be left.
    pub shutdown_h: Option<f64>,
    /// Running it to its limit; `None` where it must not be left.
    pub limit_h: Option<f64>,
    /// Leaving it now and doing what is best from then on; `None` where the decision asks for work.
    pub later_h: Option<f64>,
    /// What is added if a part that is not on hand is not ordered today.
    pub late_order_h: f64,
}

/// The plan for one line.
#[derive(Clone, Debug, PartialEq)]
pub struct LinePlan {
    /// The line.
    pub line: LineId,
    /// What will have to be done.
    pub task: Task,
    /// When.
    pub when: Moment,
    /// When by the plan, whatever somebody chose.
    pub planned: Moment,
    /// Why then.
    pub advice: Advice,
    /// Hours of the whole crew for the task itself.
    pub work_h: f64,
    /// What the choices cost, or why nobody knows.
    pub costs: Result<Costs, NoPlan>,
    /// How sure the readings are that the gap passes its working limit before the next planned
    /// shutdown; `None` without a trend.
    pub before_shutdown: Option<f64>,
    /// How many more hours are lost by what somebody chose than by the plan; zero as planned.
    pub overruled_h: f64,
}

/// The plan for one machine.
#[derive(Clone, Debug, PartialEq)]
pub struct MachinePlan {
    /// The machine.
    pub shear: ShearId,
    /// Service hours planned over.
    pub horizon_h: f64,
    /// Service hours to the next planned shutdown.
    pub shutdown_h: f64,
    /// The times it was planned with.
    pub times: WorkTimes,
    /// Hours the stop of now takes before and after the work; zero at a planned shutdown.
    pub set_up_h: f64,
    /// Every line, in the order of the decision.
    pub lines: Vec<LinePlan>,
    /// Expected loss over the horizon: lines worked at in one stop now share it, later ones do not.
    pub expected_h: f64,
    /// However lines are brought together at later stops, the loss is no less.
    pub at_least_h: f64,
    /// Service hours since the last build-up weld; `None` if none was ever logged.
    pub welded_h: Option<f64>,
}

impl MachinePlan {
    /// Lines to work at now.
    pub fn now(&self) -> impl Iterator<Item = &LinePlan> {
        self.lines.iter().filter(|line| line.when == Moment::Now)
    }

    /// Hours of the whole crew for all work of now: one stop, the tasks, measuring once.
    pub fn now_h(&self) -> f64 {
        let tasks: f64 = self.now().map(|line| line.work_h).sum();
        if self.now().next().is_none() {
            return 0.0;
        }
        // Whoever measures first is counted with the lines.
        let measured = self.now().any(|line| line.task == Task::Measure);
        let measure = if measured { 0.0 } else { self.times.crew_h(self.times.measure_min) };
        self.set_up_h + tasks + measure
    }

    /// The plan for a line.
    pub fn line(&self, id: LineId) -> Option<&LinePlan> {
        self.lines.iter().find(|line| line.line == id)
    }
}

/// The farthest that can be planned, in looks.
const LOOKS_MOST: usize = 120;

/// Plans a machine over `horizon`, or over two planned shutdowns.
pub fn plan(
    machine: &Machine,
    decision: &MachineDecision,
    settings: &Settings,
    horizon: Option<Hours>,
) -> MachinePlan {
    let times = settings.upkeep.times();
    let to_shutdown = times.next_shutdown(decision.meter);
    let horizon = horizon.unwrap_or(to_shutdown + times.shutdown_every);
    let look = settings.intervals_of(&machine.shear).look;
    let calendar = calendar(&times, look, to_shutdown, horizon);
    let scene = Scene { machine, settings, times, calendar, look_h: look.h().max(0.5) };
    let weighed: Vec<Option<Weighed>> =
        decision.lines.iter().map(|it| line::weigh(&scene, it, to_shutdown.h())).collect();
    let now = chosen_now(&scene, &decision.lines, &weighed);
    let mut lines: Vec<LinePlan> = decision
        .lines
        .iter()
        .zip(&weighed)
        .map(|(it, weighed)| line_plan(&scene, it, weighed.as_ref(), &now, to_shutdown.h()))
        .collect();
    once(&mut lines, Task::Weld);
    once(&mut lines, Task::Measure);
    let unweighed = lines.iter().zip(&weighed).filter(|(_, weighed)| weighed.is_none());
    let unweighed_h: f64 = unweighed.map(|(line, _)| line.work_h).sum();
    let stop_h = if now.lines.is_empty() { 0.0 } else { scene.set_up_now_h() };
    let loss = |(it, weighed): (&LineDecision, &Option<Weighed>)| {
        let weighed = weighed.as_ref()?;
        Some(if now.lines.contains(&it.line) { weighed.now_h } else { weighed.leave_h? })
    };
    let losses = decision.lines.iter().zip(&weighed).filter_map(loss);
    MachinePlan {
        shear: machine.shear.id.clone(),
        horizon_h: horizon.h(),
        shutdown_h: to_shutdown.h(),
        times,
        set_up_h: scene.set_up_now_h(),
        lines,
        expected_h: stop_h + unweighed_h + losses.sum::<f64>(),
        welded_h: machine.history.last_weld().map(|at| (machine.history.service_now() - at).h()),
        at_least_h: unweighed_h + line::at_least(&scene, &decision.lines, to_shutdown.h()),
    }
}

/// One weld at the jaw cures all lines that call for it, and one walk measures them all.
fn once(lines: &mut [LinePlan], task: Task) {
    for line in lines.iter_mut().filter(|line| line.task == task).skip(1) {
        line.work_h = 0.0;
    }
}

/// What every line's plan draws on.
struct Scene<'a> {
    machine: &'a Machine,
    settings: &'a Settings,
    times: WorkTimes,
    calendar: Calendar,
    look_h: f64,
}

impl Scene<'_> {
    fn set_up_now_h(&self) -> f64 {
        let shutdown = self.calendar.shutdown.first() == Some(&true);
        if shutdown { 0.0 } else { self.calendar.set_up_h }
    }

    fn shear(&self) -> &Shear {
        &self.machine.shear
    }

    fn history(&self) -> &History {
        &self.machine.history
    }
}

/// Looks from now on; a planned shutdown is taken with the first look at or after it.
fn calendar(times: &WorkTimes, look: Hours, to_shutdown: Hours, horizon: Hours) -> Calendar {
    let look = look.thousandths().max(500);
    let looks = usize::try_from(horizon.thousandths().div_euclid(look)).unwrap_or(0) + 1;
    let (first, every) = (to_shutdown.thousandths(), times.shutdown_every.thousandths().max(1));
    let falls_between = |after: i64, until: i64| {
        let count = ((after - first).div_euclid(every) + 1).max(0);
        first + count * every <= until
    };
    let places = (0..).take(looks.min(LOOKS_MOST));
    Calendar {
        shutdown: places.map(|it: i64| falls_between(look * (it - 1), look * it)).collect(),
        set_up_h: times.crew_h(times.set_up_min),
        unplanned_h: times.unplanned_stop.h(),
    }
}

/// Whether the decision asks for work before the machine cuts on.
fn demands(decision: &LineDecision) -> bool {
    decision.action != Action::Leave || matches!(decision.job, Job::Measure | Job::Retorque { .. })
}

/// Whether waiting is a choice at all, be it a dear one: to stop, turn or replace never waits.
fn may_wait(decision: &LineDecision) -> bool {
    !demands(decision) || (decision.action, task_of(&decision.job)) == (Action::Shim, Task::Shim)
}

/// What is worked at now.
struct Chosen {
    lines: Vec<LineId>,
    /// What the stop still costs a line that joins: nothing where another line demands it.
    set_up_h: f64,
}

/// The lines to work at now: all that are demanded, and each whose gain pays for it. Once somebody
/// stops the machine the stop is paid for; until then all gains together must pay it.
fn chosen_now(scene: &Scene<'_>, lines: &[LineDecision], weighed: &[Option<Weighed>]) -> Chosen {
    let set_up_h = if lines.iter().any(demands) { 0.0 } else { scene.set_up_now_h() };
    let gain = |weighed: &Weighed| weighed.leave_h.map(|leave| leave - weighed.now_h);
    let willing: Vec<(LineId, f64)> = lines
        .iter()
        .zip(weighed)
        .filter(|(it, _)| !demands(it))
        .filter_map(|(it, weighed)| Some((it.line, gain(weighed.as_ref()?)?)))
        .filter(|(_, gain)| 1e-9 < *gain)
        .collect();
    let gains: f64 = willing.iter().map(|(_, gain)| gain).sum();
    let asked = lines.iter().filter(|it| demands(it)).map(|it| it.line);
    let joined = willing.into_iter().filter(|_| set_up_h < gains).map(|(line, _)| line);
    Chosen { lines: asked.chain(joined).collect(), set_up_h }
}

fn line_plan(
    scene: &Scene<'_>,
    decision: &LineDecision,
    weighed: Option<&Weighed>,
    now: &Chosen,
    to_shutdown_h: f64,
) -> LinePlan {
    let demanded = demands(decision);
    let task =
        if demanded { task_of(&decision.job) } else { weighed.map_or(Task::Find, |it| it.task) };
    let when = match weighed {
        _ if now.lines.contains(&decision.line) => Moment::Now,
        Some(weighed) => weighed.when,
        None => Moment::Later,
    };
    let costs = weighed.map(|it| Costs {
        now_h: it.now_h + now.set_up_h,
        shutdown_h: it.shutdown_h.filter(|_| may_wait(decision)),
        limit_h: it.limit_h.filter(|_| may_wait(decision)),
        later_h: it.leave_h,
        late_order_h: it.late_order_h,
    });
    let why = match decision.job {
        Job::Measure => NoPlan::MeasureFirst,
        Job::CallWelder | Job::FindCause => NoPlan::NotOurs,
        _ => NoPlan::NoTrend,
    };
    LinePlan {
        line: decision.line,
        task,
        when,
        planned: when,
        advice: if demanded { Advice::Demanded } else { Advice::Cheapest },
        work_h: work_h(scene, decision, task),
        costs: costs.ok_or(why),
        before_shutdown: line::chance(scene, decision, to_shutdown_h),
        overruled_h: 0.0,
    }
}

const fn task_of(job: &Job) -> Task {
    match job {
        Job::Measure => Task::Measure,
        Job::ChangePack { .. } | Job::StepPack { .. } | Job::OrderShims { .. } => Task::Shim,
        Job::Turn { .. } => Task::Turn,
        Job::Fit { .. } => Task::Replace,
        Job::Retorque { .. } => Task::Retighten,
        Job::CallWelder => Task::Weld,
        Job::FindCause | Job::Nothing => Task::Find,
    }
}

/// Hours of the whole crew for a task on a line.
fn work_h(scene: &Scene<'_>, decision: &LineDecision, task: Task) -> f64 {
    let times = &scene.times;
    let pads = scene.shear().line(decision.line).is_some_and(|line| line.toward == Toward::Pads);
    let minutes = match task {
        Task::Measure => times.measure_min,
        Task::Shim | Task::Turn if pads => times.pads_min,
        Task::Shim => times.shim_min,
        Task::Turn => times.turn_min,
        Task::Replace => times.replace_min,
        Task::Retighten => times.retighten_min,
        Task::Weld => times.weld_min,
        Task::Find => 0,
    };
    let facing = match &decision.job {
        Job::Turn { pack, .. } | Job::Fit { pack, .. } => pack.facing.len(),
        _ => 0,
    };
    let facing = u16::try_from(facing).unwrap_or(u16::MAX);
    times.crew_h(minutes.saturating_add(facing.saturating_mul(times.shim_min)))
}

/// Whether a new blade is there; taken as there while nobody counts parts.
fn on_hand(scene: &Scene<'_>, blade: &BladeId) -> bool {
    let parts = &scene.settings.upkeep.parts;
    let shear = &scene.machine.shear.id;
    parts.is_empty()
        || parts.iter().any(|part| {
            part.kind == crate::domain::yard::PartKind::Blade
                && part.name == blade.0
                && part.shear.as_ref().is_none_or(|it| it == shear)
                && 0 < part.count
        })
}

/// So many whole steps, rounded up; none for what is not above zero.
fn steps_up(value: f64) -> usize {
    whole(value.ceil()).and_then(|it| usize::try_from(it).ok()).unwrap_or(0)
}
