//! The command `due`: what service asks for, machine by machine.

use crate::{
    brief::service::{ServiceTold, tell, title},
    cli::out::Form,
    domain::{
        decide::{ServiceItem, ServiceTask, ServiceTime, service},
        machine::{Shear, ShearId},
        yard::Yard,
    },
};
use chrono::{DateTime, Utc};
use serde_json::{Value, json};

/// The due lists of a yard, or of one machine, in words or for another program.
pub(crate) fn due(yard: &Yard, only: Option<&ShearId>, now: DateTime<Utc>, form: Form) -> String {
    let chosen = yard.machines.iter().filter(|it| only.is_none_or(|id| it.shear.id == *id));
    match form {
        Form::Json => {
            let machines: Vec<Value> = chosen
                .map(|machine| {
                    let items = service(machine, &yard.settings, now);
                    let told = tell(&items, &machine.shear, &yard.settings);
                    let items: Vec<Value> = items
                        .iter()
                        .zip(told)
                        .map(|(item, told)| as_json(item, &machine.shear, &told))
                        .collect();
                    json!({ "shear": machine.shear.id.as_str(), "items": items })
                })
                .collect();
            format!("{:#}", json!({ "machines": machines }))
        }
        Form::Text => {
            let mut lines = Vec::new();
            for machine in chosen {
                lines.push(title(&machine.shear));
                let items = service(machine, &yard.settings, now);
                for told in tell(&items, &machine.shear, &yard.settings) {
                    let mark = if told.due { "!" } else { " " };
                    lines.push(format!("{mark} {}: {}", told.task, told.when));
                    lines.push(format!("    {}", told.why));
                }
            }
            if lines.is_empty() {
                lines.push("This yard has no machine yet.".to_owned());
            }
            lines.join("\n")
        }
    }
}

/// Whose interval an item follows, if it follows one.
const fn from(item: &ServiceItem, shear: &Shear) -> Option<&'static str> {
    let own = match &item.task {
        ServiceTask::Look(_) => shear.intervals.look,
        ServiceTask::Lubricate(_) => shear.intervals.lubricate,
        ServiceTask::Retorque(..) => shear.intervals.retorque,
        ServiceTask::BreakIn(..) => shear.intervals.break_in,
        ServiceTask::Frost(_) | ServiceTask::Weld(_) | ServiceTask::Calibrate(..) => return None,
    };
    Some(if own.is_some() { "machine" } else { "yard" })
}

fn as_json(item: &ServiceItem, shear: &Shear, told: &ServiceTold) -> Value {
    let kind = match &item.task {
        ServiceTask::Look(_) => "look",
        ServiceTask::Lubricate(_) => "lubricate",
        ServiceTask::Retorque(..) => "retorque",
        ServiceTask::BreakIn(..) => "break_in",
        ServiceTask::Frost(_) => "frost",
        ServiceTask::Weld(_) => "weld",
        ServiceTask::Calibrate(..) => "calibrate",
    };
    let blade = match &item.task {
        ServiceTask::Retorque(blade, _) | ServiceTask::BreakIn(blade, _) => Some(blade.0.as_str()),
        _ => None,
    };
    let (left_h, left_days) = match item.time {
        ServiceTime::In(left) | ServiceTime::For(left) => (Some(left.h()), None),
        ServiceTime::Days(left) => (None, Some(left)),
        ServiceTime::AtOnce | ServiceTime::Unknown | ServiceTime::Meanwhile => (None, None),
    };
    json!({
        "kind": kind,
        "blade": blade,
        "due": item.is_due(),
        "left_h": left_h,
        "left_days": left_days,
        "interval_from": from(item, shear),
        "task": told.task,
        "why": told.why,
    })
}
