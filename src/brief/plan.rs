//! The plan of the next shutdown, told: now, then, and what the choices cost.

use crate::{
    brief::{Numbers, decision::LineBrief, numbers, parts, words},
    domain::{
        decide::{Advice, Choice, Costs, LinePlan, MachinePlan, Moment, NoPlan, Supply, Task},
        machine::{LineId, Shear},
        yard::{Upkeep, Yard},
    },
    language::tell,
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
    /// `about 35 min`: the task alone; nothing where there is none to plan, or where
    /// another line's work does it too.
    pub work: Option<String>,
    /// `at the planned shutdown in 36 h, chosen here`; nothing where the plan stands as it is.
    pub chosen: Option<String>,
    /// Every time at which it can be done, with what that loses; none where there is no choice.
    pub choices: Vec<ChoiceBrief>,
}

/// A time at which the work on a line can be done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChoiceBrief {
    /// Which; `None` for the plan's own time if it is none of those that can be chosen.
    pub choice: Option<Choice>,
    /// `next shutdown`.
    pub words: String,
    /// `4.6 h`: what it loses.
    pub lost: String,
    /// Whether it is the one that is taken.
    pub taken: bool,
    /// Whether it is the plan's own.
    pub planned: bool,
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
    /// `1 front blade for Heron`, or that nothing is to be ordered.
    pub order: String,
    /// `Parts short`, if a job of today cannot be done with what is on hand.
    pub short: Option<&'static str>,
    /// Every line.
    pub lines: Vec<LinePlanBrief>,
    /// What is lost over the horizon, and how much less it can be at most.
    pub total: String,
    /// When the next build-up weld is due, if welds are logged.
    pub weld: Option<String>,
    /// What the numbers rest on.
    pub notes: Vec<String>,
}

impl PlanBrief {
    /// Says of jobs that somebody put off or brought forward when they are done now.
    pub fn retime(&self, briefs: &mut [LineBrief]) {
        for brief in briefs {
            let planned = self.lines.iter().find(|it| it.line == brief.line);
            if let Some(chosen) = planned.and_then(|it| it.chosen.as_ref()) {
                brief.when.clone_from(chosen);
            }
        }
    }
}

/// Tells a plan, with what is to be ordered for its machine.
pub fn tell(
    plan: &MachinePlan,
    supply: &Supply,
    shear: &Shear,
    yard: &Yard,
    n: Numbers,
) -> PlanBrief {
    let order = parts::shopping_for(supply, &shear.id, yard, n);
    let letters = |lines: &mut dyn Iterator<Item = &LinePlan>| -> Vec<String> {
        lines.map(|it| it.line.to_string()).collect()
    };
    let now = letters(&mut plan.now());
    let then = letters(&mut plan.lines.iter().filter(|it| at_next_shutdown(plan, it)));
    let people = match plan.times.crew {
        1 => tell!("1 person").to_owned(),
        crew => tell!("{crew} people", crew),
    };
    let time = numbers::duration(plan.now_h());
    PlanBrief {
        now: if now.is_empty() {
            tell!("nothing").to_owned()
        } else {
            tell!("{now}, about {time} for {people}", now = and(&now), time, people)
        },
        now_time: (!now.is_empty()).then(|| tell!("about {time}", time)),
        shutdown_in: match plan.shutdown_h {
            hours if hours < 10.0 => tell!("in {left}", left = numbers::duration(hours)),
            hours => tell!("in {left}", left = numbers::whole_hours(hours)),
        },
        shutdown: if then.is_empty() { tell!("nothing more").to_owned() } else { and(&then) },
        short: parts::short_for(supply, &shear.id),
        order: order.unwrap_or_else(|| tell!("nothing").to_owned()),
        lines: plan.lines.iter().map(|line| tell_line(plan, line, shear)).collect(),
        total: total(plan),
        weld: plan.welded_h.map(|since| weld(since, plan.times.weld_every.h())),
        notes: notes(plan, &yard.settings.upkeep),
    }
}

fn total(plan: &MachinePlan) -> String {
    let planned = tell!(
        "Over {horizon_h} about {expected_h} are lost; bringing later stops together can save at most {max}.",
        horizon_h = numbers::whole_hours(plan.horizon_h),
        expected_h = numbers::lost(plan.expected_h),
        max = numbers::lost((plan.expected_h - plan.at_least_h).max(0.0))
    );
    let chosen = plan.lines.iter().any(|line| line.advice == Advice::Chosen);
    if !chosen {
        return planned;
    }
    tell!(
        "{planned} What was chosen here loses {overruled_h} than this.",
        planned,
        overruled_h = than(plan.overruled_h())
    )
}

/// `about 4.0 h more`, `no more`.
fn than(more_h: f64) -> String {
    match more_h {
        more if 0.05 <= more => tell!("about {more} more", more = numbers::lost(more)),
        less if less <= -0.05 => tell!("about {less} less", less = numbers::lost(-less)),
        _ => tell!("no more").to_owned(),
    }
}

/// Welds go by their own interval, to the end of a shift.
fn weld(since_h: f64, every_h: f64) -> String {
    let (since, every) = (numbers::whole_hours(since_h), numbers::whole_hours(every_h));
    if every_h <= since_h {
        tell!(
            "Look at what was built up: last weld {since} ago, due every {every}. Weld at the end \
             of a shift, so that the part cools slowly.",
            since,
            every
        )
    } else {
        let left = numbers::whole_hours(every_h - since_h);
        tell!(
            "Look at what was built up in {left}: last weld {since} ago, due every {every}.",
            left,
            since,
            every
        )
    }
}

fn at_next_shutdown(plan: &MachinePlan, line: &LinePlan) -> bool {
    matches!(line.when, Moment::Shutdown(hours) if hours <= plan.shutdown_h)
}

/// Tells the plan of one line.
pub fn tell_line(plan: &MachinePlan, line: &LinePlan, shear: &Shear) -> LinePlanBrief {
    let text = sentence(plan, line);
    let planned = line.when != Moment::Later && line.task != Task::Find;
    let late = line.costs.ok().map_or(0.0, |it| it.late_order_h);
    let text = if late < 0.05 {
        text
    } else {
        let late = numbers::lost(late);
        tell!(
            "{text} The new part is not on hand: each day without an order may add up to {late}.",
            text,
            late
        )
    };
    LinePlanBrief {
        line: line.line,
        place: words::place(shear, line.line),
        text,
        costs: line.costs.ok().filter(|_| planned).map(|it| costs(&times(plan, line, &it))),
        work: (planned && 0.0 < line.work_h)
            .then(|| tell!("about {work_h}", work_h = numbers::duration(line.work_h))),
        chosen: moment(line.when)
            .filter(|_| line.advice == Advice::Chosen)
            .map(|when| tell!("{when}, chosen here", when)),
        choices: match line.costs {
            Ok(costs) if line.may_be_overruled() => times(plan, line, &costs),
            _ => Vec::new(),
        },
    }
}

/// When; nothing for what is not planned.
fn moment(when: Moment) -> Option<String> {
    Some(match when {
        Moment::Now => tell!("now").to_owned(),
        Moment::Shutdown(hours) => {
            tell!("at the planned shutdown in {hours}", hours = numbers::whole_hours(hours))
        }
        Moment::Look(hours) => {
            tell!("at the look in {hours}, between shutdowns", hours = numbers::whole_hours(hours))
        }
        Moment::Limit => tell!("when the gap meets its limit").to_owned(),
        Moment::Later => return None,
    })
}

/// What is done when, and why then.
fn sentence(plan: &MachinePlan, line: &LinePlan) -> String {
    let task = task(line.task);
    let Some(when) = moment(line.when) else {
        return match line.costs {
            Err(NoPlan::MeasureFirst) => tell!("Measure first.").to_owned(),
            Err(NoPlan::NoTrend | NoPlan::NotOurs) => {
                tell!("No trend runs towards the upper limit, so nothing is planned.").to_owned()
            }
            Ok(_) => tell!(
                "Nothing within {horizon_h}.",
                horizon_h = numbers::whole_hours(plan.horizon_h)
            ),
        };
    };
    let may_wait = line.costs.is_ok_and(|it| it.limit_h.is_some());
    match (line.advice, line.when) {
        (Advice::Demanded, _) if may_wait => tell!("{task} {when}, as decided.", task, when),
        (Advice::Demanded, _) => {
            tell!("{task} {when}: it is demanded, and cost has no say.", task, when)
        }
        (Advice::Cheapest, Moment::Now) => {
            tell!("{task} {when}, which loses the fewest hours.", task, when)
        }
        (Advice::Cheapest, _) => format!("{task} {when}{}", risk(line)),
        (Advice::Chosen, moment) => {
            let than = than(line.overruled_h);
            let risk = if moment == Moment::Now { ".".to_owned() } else { risk(line) };
            tell!(
                "{task} {when}: chosen here, {than} lost than by the plan{risk}",
                task,
                when,
                than,
                risk
            )
        }
    }
}

/// `: 12 % that the limit comes before the shutdown.`
fn risk(line: &LinePlan) -> String {
    match line.before_shutdown {
        Some(chance) if 0.005 <= chance => {
            tell!(
                "; {chance} that the limit comes before the shutdown.",
                chance = numbers::percent(chance)
            )
        }
        _ => ".".to_owned(),
    }
}

/// Every time at which the work can be done.
fn times(plan: &MachinePlan, line: &LinePlan, costs: &Costs) -> Vec<ChoiceBrief> {
    let next_h = plan.shutdown_h;
    let (planned, taken) = (line.planned.choice(next_h), line.when.choice(next_h));
    let brief = |choice: Option<Choice>, words: String, lost_h: f64| ChoiceBrief {
        choice,
        words,
        lost: numbers::lost(lost_h),
        taken: taken == choice,
        planned: planned == choice,
    };
    let mut times = Vec::new();
    let own = match line.planned {
        Moment::Look(hours) => Some(tell!("look in {hours}", hours = numbers::whole_hours(hours))),
        Moment::Shutdown(hours) if next_h < hours => {
            Some(tell!("shutdown in {hours}", hours = numbers::whole_hours(hours)))
        }
        _ => None,
    };
    times.extend(own.zip(costs.later_h).map(|(words, lost)| brief(None, words, lost)));
    for (choice, words) in [
        (Choice::Now, tell!("now")),
        (Choice::Shutdown, tell!("next shutdown")),
        (Choice::Limit, tell!("at the limit")),
    ] {
        let lost = costs.of(choice);
        times.extend(lost.map(|lost| brief(Some(choice), words.to_owned(), lost)));
    }
    times
}

fn costs(times: &[ChoiceBrief]) -> String {
    let parts: Vec<String> =
        times.iter().map(|it| format!("{} **{}**", it.words, it.lost)).collect();
    tell!("Hours lost: {parts}.", parts = parts.join(" · "))
}

fn task(task: Task) -> &'static str {
    match task {
        Task::Measure => tell!("Measure"),
        Task::Shim => tell!("Shim"),
        Task::Turn => tell!("Turn to a fresh edge"),
        Task::Replace => tell!("Fit a new blade"),
        Task::Retighten => tell!("Tighten again"),
        Task::Weld => tell!("Have it looked at by a qualified welder"),
        Task::Find => tell!("Find the cause"),
    }
}

fn notes(plan: &MachinePlan, upkeep: &Upkeep) -> Vec<String> {
    let source = if upkeep.times.is_some() {
        tell!("work times of yard.ron")
    } else {
        tell!("work times: judgement, from memory; write your own into yard.ron under “work_times”")
    };
    vec![
        tell!("Planned with {source}: setting up {set_up_min}, a gap past its limit between two looks {unplanned_stop}, \
             delivery {delivery}, a shutdown every {shutdown_every}.", source, set_up_min = numbers::duration(plan.times.crew_h(plan.times.set_up_min)), unplanned_stop = numbers::lost(plan.times.unplanned_stop.h()), delivery = numbers::whole_hours(plan.times.delivery.h()), shutdown_every = numbers::whole_hours(plan.times.shutdown_every.h())),
        tell!("Each line is weighed by itself, its widest station for all; lines share the stop of now.")
            .to_owned(),
        if upkeep.parts.is_empty() {
            tell!("Parts are taken as on hand, since nobody counted them.").to_owned()
        } else {
            tell!("Parts on hand are those of yard.ron.").to_owned()
        },
    ]
}

/// `G, F and P`.
fn and(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => tell!("{others} and {last}", others = most.join(", "), last),
    }
}
