//! The command `plan`: what to do now, at the next shutdown, and what to order.

use crate::{
    brief::{Numbers, plain, plan as told},
    cli::{out::Form, parts},
    domain::{
        decide::{
            Advice, LinePlan, MachineDecision, MachinePlan, Moment, Need, Supply, Task, decide,
            plan as plan_machine, supply,
        },
        machine::{Shear, ShearId},
        quantity::Hours,
        yard::{Machine, Yard},
    },
};
use serde_json::{Value, json};

/// The plans of the machines asked for, in words or for another program.
pub(crate) fn plan(
    yard: &Yard,
    only: Option<&ShearId>,
    horizon: Option<Hours>,
    (form, n): (Form, Numbers),
) -> String {
    let decisions: Vec<MachineDecision> =
        yard.machines.iter().map(|machine| decide(machine, &yard.settings)).collect();
    let plans: Vec<(&Machine, MachinePlan)> = yard
        .machines
        .iter()
        .zip(&decisions)
        .filter(|(machine, _)| only.is_none_or(|id| machine.shear.id == *id))
        .map(|(machine, it)| (machine, plan_machine(machine, it, &yard.settings, horizon)))
        .collect();
    let supply = supply(yard, &decisions, yard.settings.upkeep.times().order_ahead(horizon));
    match form {
        Form::Json => format!("{:#}", as_json(yard, &plans, &supply)),
        Form::Text => as_text(yard, &plans, &supply, n),
    }
}

fn as_text(yard: &Yard, plans: &[(&Machine, MachinePlan)], supply: &Supply, n: Numbers) -> String {
    let mut lines = Vec::new();
    for (machine, plan) in plans {
        let shear = &machine.shear;
        let brief = told::tell(plan, supply, shear, yard, n);
        lines.push(shear.name.clone());
        lines.push(format!("  Now: {}.", brief.now));
        lines.push(format!("  Next planned shutdown, {}: {}.", brief.shutdown_in, brief.shutdown));
        lines.push(format!("  Order: {}.", brief.order));
        for line in brief.lines {
            lines.push(format!("  {} {}: {}", line.line, line.place, line.text));
            lines.extend(line.costs.map(|costs| format!("      {}", plain(&costs))));
        }
        lines.extend(brief.weld.map(|weld| format!("  {weld}")));
        lines.push(format!("  {}", brief.total));
        lines.extend(brief.notes.iter().map(|note| format!("  {note}")));
        lines.push(String::new());
    }
    lines.join("\n")
}

fn as_json(yard: &Yard, plans: &[(&Machine, MachinePlan)], supply: &Supply) -> Value {
    let told: Vec<Value> =
        plans.iter().map(|(machine, it)| machine_json(yard, machine, it)).collect();
    let ours = |need: &&Need| plans.iter().any(|(it, _)| need.machines.contains(&it.shear.id));
    json!({ "plans": told, "order": parts::needs(supply.to_order().filter(ours)) })
}

fn machine_json(yard: &Yard, machine: &Machine, plan: &MachinePlan) -> Value {
    let lines: Vec<Value> =
        plan.lines.iter().map(|line| line_json(plan, line, &machine.shear)).collect();
    json!({
        "shear": machine.shear.id.as_str(),
        "horizon_h": plan.horizon_h,
        "next_shutdown_h": plan.shutdown_h,
        "crew": plan.times.crew,
        "work_times": if yard.settings.upkeep.times.is_some() { "yard" } else { "judgement" },
        "set_up_h": plan.set_up_h,
        "now_h": plan.now_h(),
        "expected_lost_h": plan.expected_h,
        "at_least_lost_h": plan.at_least_h,
        "since_weld_h": plan.welded_h,
        "lines": lines,
    })
}

fn line_json(plan: &MachinePlan, line: &LinePlan, shear: &Shear) -> Value {
    let brief = told::tell_line(plan, line, shear);
    let costs = line.costs.ok();
    let (when, in_h) = match line.when {
        Moment::Now => ("now", Some(0.0)),
        Moment::Shutdown(hours) => ("shutdown", Some(hours)),
        Moment::Look(hours) => ("look", Some(hours)),
        Moment::Limit => ("limit", None),
        Moment::Later => ("later", None),
    };
    json!({
        "line": line.line.to_string(),
        "place": brief.place,
        "task": task_key(line.task),
        "when": when,
        "in_h": in_h,
        "demanded": line.advice == Advice::Demanded,
        "work_h": line.work_h,
        "now_lost_h": costs.map(|it| it.now_h),
        "shutdown_lost_h": costs.and_then(|it| it.shutdown_h),
        "limit_lost_h": costs.and_then(|it| it.limit_h),
        "late_order_lost_h": costs.map(|it| it.late_order_h),
        "p_limit_before_shutdown": line.before_shutdown,
        "text": plain(&brief.text),
    })
}

const fn task_key(task: Task) -> &'static str {
    match task {
        Task::Measure => "measure",
        Task::Shim => "shim",
        Task::Turn => "turn",
        Task::Replace => "replace",
        Task::Retighten => "retighten",
        Task::Weld => "weld",
        Task::Find => "find_cause",
    }
}
