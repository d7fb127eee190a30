//! The command `pack`: one shim problem from a file, solved and proven.

use crate::{
    brief::{Numbers, pack as told, plain},
    cli::{
        WrongData,
        out::{Form, say},
    },
    domain::{
        quantity::Length,
        shims::{PackPlan, PackProblem, SharedPlan, Unshared, plan_shared},
    },
    store,
};
use anyhow::Result;
use serde_json::{Value, json};
use std::path::Path;

/// Solves the problem in a file and prints the answer.
///
/// # Errors
///
/// [`WrongData`] for a file that cannot be read, or a problem that contradicts itself.
pub(crate) fn pack(path: &Path, form: Form) -> Result<()> {
    let problem = store::read_problem(path).map_err(|issue| WrongData(issue.to_string()))?;
    let faults = problem.check();
    if !faults.is_empty() {
        let faults: Vec<String> =
            faults.iter().map(|it| format!("{}: {it}", path.display())).collect();
        return Err(WrongData(faults.join("\n")).into());
    }
    let seats: Vec<_> = problem.seats.iter().map(|it| it.seat.clone()).collect();
    let answer = plan_shared(&seats, &problem.shelf);
    say(match form {
        Form::Json => format!("{:#}", as_json(&problem, &answer)),
        Form::Text => plain(&told::tell(&problem, &answer, Numbers::default()).join("\n")),
    })
}

fn as_json(problem: &PackProblem, answer: &Result<SharedPlan, Unshared>) -> Value {
    let told = told::tell(problem, answer, Numbers::default());
    let reason = answer.is_err().then(|| plain(&told.join(" ")));
    let plans: &[PackPlan] = answer.as_ref().map_or(&[], |it| &it.plans);
    let packs: Vec<Value> = problem
        .seats
        .iter()
        .zip(plans)
        .map(|(named, plan)| {
            let seat = &named.seat;
            json!({
                "blade": named.blade,
                "bolts": named.bolts.map(|(first, last)| [first, last]),
                "shims_mm": mm(&told::pack_after(&seat.pack, plan)),
                "put_in_mm": mm(&plan.put_in),
                "take_out_mm": mm(&plan.take_out),
                "stations": named.stations,
                "after_mm": mm(&plan.after),
                "worst_mm": plan.worst.mm(),
            })
        })
        .collect();
    let after: Vec<Length> = plans.iter().flat_map(|plan| plan.after.iter().copied()).collect();
    json!({
        "packs": packs,
        "after_mm": mm(&after),
        "worst_mm": plans.iter().map(|plan| plan.worst).max().map(Length::mm),
        "shims": answer.is_ok().then(|| plans.iter().map(PackPlan::moved).sum::<usize>()),
        "proven": match answer {
            Ok(shared) => shared.proven,
            Err(Unshared::Together { proven }) => *proven,
            Err(Unshared::Alone { .. } | Unshared::Steps { .. }) => true,
        },
        "reason": reason,
    })
}

fn mm(lengths: &[Length]) -> Vec<f64> {
    lengths.iter().map(|length| length.mm()).collect()
}
