//! One line weighed: from its outlook to steps of gap, and from the solution back to hours.
//!
//! *Assumes* that the station which meets its limit first speaks for the line, that work leaves it
//! in the middle of the set range, and that growth between two looks is drawn anew each time, so
//! wide that at the next planned shutdown the gap is as uncertain as the trend says. Does not know
//! other lines.

use crate::domain::{
    decide::{
        Job, LineDecision,
        outlook::{Outlook, edge_left_h, fresh_edges},
        plan::{
            Moment, Scene, Task,
            course::{Calendar, Course, Freedom, Solved, Step, solve},
            demands, on_hand, steps_up, task_of, work_h,
        },
    },
    machine::Blade,
    quantity::whole,
    statistics::normal_quantile,
};

/// A step of gap, in mm; larger where a limit lies far away.
const STEP_MM: f64 = 0.02;
/// Steps to the limit, at most.
const STEPS_MOST: f64 = 80.0;
/// Equally likely growths between two looks.
const DRAWS: u8 = 40;
/// A line that passes its limit within the horizon less often than this is not weighed.
const NEVER: f64 = 0.001;

/// What each choice on a line costs, without what the stop of now takes.
pub(super) struct Weighed {
    pub(super) task: Task,
    pub(super) when: Moment,
    pub(super) now_h: f64,
    /// Leaving it now and doing what is best from then on.
    pub(super) leave_h: Option<f64>,
    pub(super) shutdown_h: Option<f64>,
    pub(super) limit_h: Option<f64>,
    pub(super) late_order_h: f64,
}

/// Weighs a line; `None` where nobody can look ahead.
pub(super) fn weigh(
    scene: &Scene<'_>,
    decision: &LineDecision,
    to_shutdown_h: f64,
) -> Option<Weighed> {
    let outlook = ahead(scene, decision)?;
    let next = next_edge(scene, decision, &outlook);
    let fresh_task = if next.fresh { Task::Turn } else { Task::Replace };
    let looks = f64::from(u32::try_from(scene.calendar.shutdown.len()).unwrap_or(u32::MAX));
    let horizon_h = (looks - 1.0) * scene.look_h;
    let dull_within = next.left_h.is_some_and(|left| left <= horizon_h);
    if !demands(decision) && outlook.chance(horizon_h) < NEVER && !dull_within {
        let shimmed = 0.0 < outlook.room_mm;
        let task = if shimmed { Task::Shim } else { fresh_task };
        let now_h = work_h(scene, decision, task);
        let nothing = Some(0.0);
        return Some(Weighed {
            task,
            when: Moment::Later,
            now_h,
            leave_h: nothing,
            shutdown_h: nothing,
            limit_h: nothing,
            late_order_h: 0.0,
        });
    }
    let course = course(scene, decision, &outlook, to_shutdown_h);
    let always = solve(&course, &scene.calendar, Freedom::Always);
    let named = |step: Step| if step == Step::Fresh { fresh_task } else { Task::Shim };
    let (when, step) = moment(scene, &always, to_shutdown_h);
    let demanded = demands(decision);
    let now_h = if demanded {
        // What is demanded is done, whatever else would be cheaper.
        demanded_h(scene, decision, &course, &always)
    } else {
        always.work_h
    };
    let leave_h = always.leave_h.filter(|_| !demanded);
    let of = |freedom| solve(&course, &scene.calendar, freedom).leave_h;
    let late = late(&course, scene.times.delivery.h()).map_or(0.0, |late| {
        let late = solve(&late, &scene.calendar, Freedom::Always);
        let best = |solved: &Solved| solved.leave_h.unwrap_or(solved.work_h).min(solved.work_h);
        (best(&late) - best(&always)).max(0.0)
    });
    Some(Weighed {
        task: named(step.unwrap_or(always.work)),
        when,
        now_h,
        leave_h,
        shutdown_h: of(Freedom::AtShutdowns),
        limit_h: of(Freedom::Never),
        late_order_h: late,
    })
}

/// The chance of passing the working limit within so many hours; `None` without a trend.
pub(super) fn chance(scene: &Scene<'_>, decision: &LineDecision, hours: f64) -> Option<f64> {
    ahead(scene, decision).map(|it| it.chance(hours))
}

/// A floor under what all lines lose together, whoever brings them together at one stop.
///
/// A stop that serves several lines costs as much as the dearest of them would alone, hence at
/// least their mean. So no plan for all can lose less than the lines do by themselves when each
/// pays for a stop only its share in equal parts.
pub(super) fn at_least(scene: &Scene<'_>, lines: &[LineDecision], to_shutdown_h: f64) -> f64 {
    let ahead: Vec<(&LineDecision, Outlook<'_>)> =
        lines.iter().filter_map(|it| Some((it, ahead(scene, it)?))).collect();
    let share = f64::from(u32::try_from(ahead.len().max(1)).unwrap_or(u32::MAX));
    let calendar = Calendar {
        set_up_h: scene.calendar.set_up_h / share,
        unplanned_h: scene.calendar.unplanned_h / share,
        ..scene.calendar.clone()
    };
    let least = |(it, outlook): &(&LineDecision, Outlook<'_>)| {
        let course = course(scene, it, outlook, to_shutdown_h);
        let solved = solve(&course, &calendar, Freedom::Always);
        let shutdown = calendar.shutdown.first() == Some(&true);
        let stop = if shutdown { 0.0 } else { calendar.set_up_h };
        if demands(it) {
            return demanded_h(scene, it, &course, &solved) + stop;
        }
        solved.leave_h.unwrap_or(f64::INFINITY).min(solved.work_h + stop)
    };
    ahead.iter().map(least).sum()
}

/// Lines that must be measured first, wait for a welder or a cause, or move the wrong way have no
/// outlook.
fn ahead<'a>(scene: &Scene<'a>, decision: &'a LineDecision) -> Option<Outlook<'a>> {
    if matches!(decision.job, Job::Measure | Job::CallWelder | Job::FindCause) {
        return None;
    }
    Outlook::of(scene.machine, decision)
}

/// The edge that will be set fresh: the one of today's job, else the one that is dull first, else the
/// one with the pack behind it.
struct NextEdge<'a> {
    blade: &'a Blade,
    left_h: Option<f64>,
    fresh: bool,
}

fn next_edge<'a>(
    scene: &'a Scene<'_>,
    decision: &LineDecision,
    outlook: &Outlook<'a>,
) -> NextEdge<'a> {
    let history = scene.history();
    let of = |blade: &'a Blade| NextEdge {
        blade,
        left_h: edge_left_h(history, blade),
        fresh: 0 < fresh_edges(history, blade),
    };
    if let Job::Turn { blade, .. } | Job::Fit { blade, .. } = &decision.job
        && let Some(blade) = scene.shear().blade(blade)
    {
        let fresh = matches!(decision.job, Job::Turn { .. });
        return NextEdge { fresh, ..of(blade) };
    }
    let fixed = of(outlook.blade);
    let moving = scene.shear().blade(&outlook.line.moving).map(of);
    let left = |it: &NextEdge<'_>| it.left_h.unwrap_or(f64::INFINITY);
    match moving {
        Some(moving) if left(&moving) < left(&fixed) => moving,
        _ => fixed,
    }
}

/// The line in whole steps.
fn course(
    scene: &Scene<'_>,
    decision: &LineDecision,
    outlook: &Outlook<'_>,
    to_shutdown_h: f64,
) -> Course {
    let base = outlook.gap_mm.min(outlook.target_mm);
    let step = STEP_MM.max((outlook.limit_mm - base) / STEPS_MOST);
    let nearest = |mm: f64| {
        whole(((mm - base) / step).round()).and_then(|it| usize::try_from(it).ok()).unwrap_or(0)
    };
    let target = nearest(outlook.target_mm);
    let limit = steps_up((outlook.limit_mm - base) / step).max(target + 1);
    let next = next_edge(scene, decision, outlook);
    let task = if next.fresh { Task::Turn } else { Task::Replace };
    let delivery_h = scene.times.delivery.h();
    let missing = task == Task::Replace && !on_hand(scene, &next.blade.id);
    let wait = |place: usize| {
        let after_h = f64::from(u32::try_from(place).unwrap_or(u32::MAX)) * scene.look_h;
        if missing { (delivery_h - after_h).max(0.0) } else { 0.0 }
    };
    let can_shim = 0.0 < outlook.fresh_room_mm || 0.0 < outlook.room_mm;
    Course {
        gap: nearest(outlook.gap_mm),
        limit,
        target,
        room: whole((outlook.room_mm / step).floor())
            .and_then(|it| usize::try_from(it).ok())
            .unwrap_or(0),
        growth: growth(outlook, (step, limit), scene.look_h, to_shutdown_h),
        shim_h: can_shim.then(|| work_h(scene, decision, Task::Shim)),
        fresh_h: work_h(scene, decision, task),
        dull: next.left_h.map(|left| steps_up(left / scene.look_h)),
        wait_h: (0..scene.calendar.shutdown.len()).map(wait).collect(),
    }
}

/// The same line with nothing ordered today: whoever needs the part waits for it in full.
fn late(course: &Course, delivery_h: f64) -> Option<Course> {
    let missing = course.wait_h.first().is_some_and(|wait| 0.0 < *wait);
    let wait_h = vec![delivery_h; course.wait_h.len()];
    missing.then(|| Course { wait_h, ..course.clone() })
}

/// The chances of growing by whole steps between two looks; the mean is kept, but for what passes
/// the limit from anywhere: that counts as so many steps and no more.
fn growth(
    outlook: &Outlook<'_>,
    (step_mm, limit): (f64, usize),
    look_h: f64,
    to_shutdown_h: f64,
) -> Vec<f64> {
    let looks = (to_shutdown_h / look_h).max(1.0);
    let spread = outlook.se_mm(looks * look_h) / looks.sqrt();
    let mean = outlook.rate() * look_h;
    let mut chances: Vec<f64> = vec![0.0];
    let weight = 1.0 / f64::from(DRAWS);
    for draw in 0..DRAWS {
        let share = (f64::from(draw) + 0.5) * weight;
        let off = normal_quantile(share).unwrap_or(0.0) * spread;
        let steps = ((mean + off) / step_mm).max(0.0);
        let below = whole(steps.floor()).and_then(|it| usize::try_from(it).ok()).unwrap_or(limit);
        let part = if below < limit { steps - steps.floor() } else { 0.0 };
        let below = below.min(limit);
        if chances.len() < below + 2 {
            chances.resize(below + 2, 0.0);
        }
        for (place, chance) in [(below, 1.0 - part), (below + 1, part)] {
            if let Some(here) = chances.get_mut(place) {
                *here += weight * chance;
            }
        }
    }
    while 1 < chances.len() && chances.last() == Some(&0.0) {
        chances.pop();
    }
    chances
}

/// What the demanded work costs now, and what comes after it.
fn demanded_h(scene: &Scene<'_>, decision: &LineDecision, course: &Course, always: &Solved) -> f64 {
    let task = task_of(&decision.job);
    let own = work_h(scene, decision, task);
    let usual = match always.work {
        Step::Fresh => course.fresh_h + course.wait_h.first().copied().unwrap_or(0.0),
        Step::Shim | Step::Leave => course.shim_h.unwrap_or(0.0),
    };
    let wait = match task {
        Task::Replace => course.wait_h.first().copied().unwrap_or(0.0),
        _ => 0.0,
    };
    own + wait + (always.work_h - usual).max(0.0)
}

/// When something is done if the gap grows as it does on average, and what.
///
/// Whether that is now is chosen for all lines together.
fn moment(scene: &Scene<'_>, solved: &Solved, to_shutdown_h: f64) -> (Moment, Option<Step>) {
    let done = solved.on_average.iter().position(|step| *step != Step::Leave);
    let Some(place) = done else { return (Moment::Later, None) };
    let step = solved.on_average.get(place).copied();
    let so_far = scene.calendar.shutdown.iter().take(place + 1);
    let shutdowns = so_far.filter(|it| **it).count().saturating_sub(1);
    let float = |count: usize| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
    if scene.calendar.shutdown.get(place) == Some(&true) {
        let hours = to_shutdown_h + float(shutdowns) * scene.times.shutdown_every.h();
        return (Moment::Shutdown(hours), step);
    }
    (Moment::Look(float(place) * scene.look_h), step)
}
