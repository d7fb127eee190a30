//! The plan of the next shutdown, told: now, then, and what the choices cost.

use crate::{
    brief::{numbers, words},
    domain::{
        decide::{Advice, Costs, LinePlan, MachinePlan, Moment, NoPlan, Task},
        machine::{LineId, Shear},
        yard::Upkeep,
    },
};

/// The plan of one line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LinePlanBrief {
    /// The line.
    pub line: LineId,
    /// Its place with a capital.
    pub place: String,
    /// What, when and why, in a sentence.
    pub text: String,
    /// `now 0.8 h · next shutdown 1.3 h · at the limit 5.1 h`; nothing where nobody knows.
    pub costs: Option<String>,
    /// `about 35 min`: the task alone; nothing where there is none to plan.
    pub work: Option<String>,
}

/// The plan of a machine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanBrief {
    /// `G, F, P and S: about 3 h 10 min for 2 people`, or that nothing is to be done.
    pub now: String,
    /// `about 3 h 10 min`; nothing if nothing is to be done.
    pub now_time: Option<String>,
    /// `in 36 h`.
    pub shutdown_in: String,
    /// `T, cutting side of the tip`, or that nothing waits for it.
    pub shutdown: String,
    /// Every line.
    pub lines: Vec<LinePlanBrief>,
    /// What is lost over the horizon, and how much less it can be at most.
    pub total: String,
    /// When the next build-up weld is due, if welds are logged.
    pub weld: Option<String>,
    /// What the numbers rest on.
    pub notes: Vec<String>,
}

/// Tells a plan.
pub fn tell(plan: &MachinePlan, shear: &Shear, upkeep: &Upkeep) -> PlanBrief {
    let letters = |lines: &mut dyn Iterator<Item = &LinePlan>| -> Vec<String> {
        lines.map(|it| it.line.to_string()).collect()
    };
    let now = letters(&mut plan.now());
    let then = letters(&mut plan.lines.iter().filter(|it| at_next_shutdown(plan, it)));
    let people = match plan.times.crew {
        1 => "1 person".to_owned(),
        crew => format!("{crew} people"),
    };
    let time = numbers::duration(plan.now_h());
    PlanBrief {
        now: if now.is_empty() {
            "nothing".to_owned()
        } else {
            format!("{}, about {time} for {people}", and(&now))
        },
        now_time: (!now.is_empty()).then(|| format!("about {time}")),
        shutdown_in: match plan.shutdown_h {
            hours if hours < 10.0 => format!("in {}", numbers::duration(hours)),
            hours => format!("in {}", numbers::whole_hours(hours)),
        },
        shutdown: if then.is_empty() { "nothing more".to_owned() } else { and(&then) },
        lines: plan.lines.iter().map(|line| tell_line(plan, line, shear)).collect(),
        total: format!(
            "Over {} about {} are lost; bringing later stops together can save at most {}.",
            numbers::whole_hours(plan.horizon_h),
            numbers::lost(plan.expected_h),
            numbers::lost((plan.expected_h - plan.at_least_h).max(0.0))
        ),
        weld: plan.welded_h.map(|since| weld(since, plan.times.weld_every.h())),
        notes: notes(plan, upkeep),
    }
}

/// Welds go by their own interval, to the end of a shift.
fn weld(since_h: f64, every_h: f64) -> String {
    let (since, every) = (numbers::whole_hours(since_h), numbers::whole_hours(every_h));
    if every_h <= since_h {
        format!(
            "Look at what was built up: last weld {since} ago, due every {every}. Weld at the end \
             of a shift, so that the part cools slowly."
        )
    } else {
        let left = numbers::whole_hours(every_h - since_h);
        format!("Look at what was built up in {left}: last weld {since} ago, due every {every}.")
    }
}

fn at_next_shutdown(plan: &MachinePlan, line: &LinePlan) -> bool {
    matches!(line.when, Moment::Shutdown(hours) if hours <= plan.shutdown_h)
}

/// Tells the plan of one line.
pub fn tell_line(plan: &MachinePlan, line: &LinePlan, shear: &Shear) -> LinePlanBrief {
    let task = task(line.task);
    let text = match (line.advice, line.when, line.costs) {
        (Advice::Demanded, ..) if line.costs.is_ok_and(|it| it.limit_h.is_some()) => {
            format!("{task} now, as decided.")
        }
        (Advice::Demanded, ..) => format!("{task} now: it is demanded, and cost has no say."),
        (_, Moment::Now, _) => format!("{task} now, which loses the fewest hours."),
        (_, Moment::Shutdown(hours), _) => {
            let hours = numbers::whole_hours(hours);
            format!("{task} at the planned shutdown in {hours}{}", risk(line))
        }
        (_, Moment::Look(hours), _) => {
            let hours = numbers::whole_hours(hours);
            format!("{task} at the look in {hours}, between shutdowns{}", risk(line))
        }
        (_, Moment::Later, Err(NoPlan::MeasureFirst)) => "Measure first.".to_owned(),
        (_, Moment::Later, Err(NoPlan::NoTrend | NoPlan::NotOurs)) => {
            "No trend runs towards the upper limit, so nothing is planned.".to_owned()
        }
        (_, Moment::Later, Ok(_)) => {
            format!("Nothing within {}.", numbers::whole_hours(plan.horizon_h))
        }
    };
    let planned = line.when != Moment::Later && line.task != Task::Find;
    let late = line.costs.ok().map_or(0.0, |it| it.late_order_h);
    let text = if late < 0.05 {
        text
    } else {
        let late = numbers::lost(late);
        format!(
            "{text} The new part is not on hand: each day without an order may add up to {late}."
        )
    };
    LinePlanBrief {
        line: line.line,
        place: words::place(shear, line.line),
        text,
        costs: line.costs.ok().filter(|_| planned).map(|it| costs(&it)),
        work: planned.then(|| format!("about {}", numbers::duration(line.work_h))),
    }
}

/// `: 12 % that the limit comes before the shutdown.`
fn risk(line: &LinePlan) -> String {
    match line.before_shutdown {
        Some(chance) if 0.005 <= chance => {
            format!("; {} that the limit comes before the shutdown.", numbers::percent(chance))
        }
        _ => ".".to_owned(),
    }
}

fn costs(costs: &Costs) -> String {
    let mut parts = vec![format!("now **{}**", numbers::lost(costs.now_h))];
    let other = |words: &str, hours: Option<f64>| {
        hours.map(|it| format!("{words} **{}**", numbers::lost(it)))
    };
    parts.extend(other("next shutdown", costs.shutdown_h));
    parts.extend(other("at the limit", costs.limit_h));
    format!("Hours lost: {}.", parts.join(" · "))
}

const fn task(task: Task) -> &'static str {
    match task {
        Task::Measure => "Measure",
        Task::Shim => "Shim",
        Task::Turn => "Turn to a fresh edge",
        Task::Replace => "Fit a new blade",
        Task::Retighten => "Tighten again",
        Task::Weld => "Have it looked at by a qualified welder",
        Task::Find => "Find the cause",
    }
}

fn notes(plan: &MachinePlan, upkeep: &Upkeep) -> Vec<String> {
    let source = if upkeep.times.is_some() {
        "work times of yard.ron"
    } else {
        "work times: judgement, from memory; write your own into yard.ron under “work_times”"
    };
    vec![
        format!(
            "Planned with {source}: setting up {}, a gap past its limit between two looks {}, \
             delivery {}, a shutdown every {}.",
            numbers::duration(plan.times.crew_h(plan.times.set_up_min)),
            numbers::lost(plan.times.unplanned_stop.h()),
            numbers::whole_hours(plan.times.delivery.h()),
            numbers::whole_hours(plan.times.shutdown_every.h())
        ),
        "Each line is weighed by itself, its widest station for all; lines share the stop of now."
            .to_owned(),
        if upkeep.parts.is_empty() {
            "Parts are taken as on hand, since nobody counted them.".to_owned()
        } else {
            "Parts on hand are those of yard.ron.".to_owned()
        },
    ]
}

/// `G, F and P`.
fn and(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
