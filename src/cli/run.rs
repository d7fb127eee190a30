//! The commands as meant.

use crate::{
    brief::{Numbers, leaves},
    cli::{
        Exit, Job, WrongData,
        data::{cause_table, machine_named},
        due, export, heat, import, json, open_or_sample,
        out::{Form, say, told},
        pack, parts, plan, reading, sheet, study, text, torque, trend,
    },
    domain::{
        decide::{MachineDecision, decide, explain},
        log::Session,
        machine::Shear,
        quantity::Hours,
        yard::{Machine, Yard},
    },
    sample, store,
};
use anyhow::Result;
use chrono::{DateTime, DurationRound as _, FixedOffset, Local, Offset as _, TimeDelta, Utc};
use std::path::Path;

/// Runs a command at time `now` and prints what it found.
///
/// # Errors
///
/// [`WrongData`] with a fact and a next step; anything else the system refused.
pub fn run(job: &Job, now: DateTime<Utc>) -> Result<Exit> {
    match job {
        Job::Decide { yard, shear, at, json } => {
            let form = if *json { Form::Json } else { Form::Text };
            decide_all(yard.as_deref(), shear.as_deref(), *at, now, form)
        }
        Job::Trend {
            yard,
            shear,
            station,
            limit_mm,
            confidence,
            per,
            with_reading_u,
            bootstrap,
            compare,
            marks,
            json,
        } => {
            let (opened, _) = open_or_sample(yard.as_deref())?;
            let machine = machine_named(&opened.yard, shear)?;
            if *compare {
                let form = if *json { Form::Json } else { Form::Text };
                trend::compare(&opened.yard, machine, form)?;
            } else {
                let asked = trend::Asked {
                    station: station.as_deref(),
                    marks: *marks,
                    limit_mm: *limit_mm,
                    confidence: *confidence,
                    per: (*per).into(),
                    with_reading_u: *with_reading_u,
                    draws: bootstrap.map(usize::try_from).transpose()?,
                    json: *json,
                };
                trend::trend(machine, &opened.yard.settings, &asked)?;
            }
            Ok(told(&opened.issues))
        }
        Job::Study { file, in_yard, json } => study::study(&study::Asked {
            file,
            yard: in_yard.as_deref(),
            json: *json,
            today: now.with_timezone(&local_zone(now)).date_naive(),
        }),
        Job::Heat(args) => {
            let (opened, _) = open_or_sample(args.yard.as_deref())?;
            let machine = machine_named(&opened.yard, &args.shear)?;
            say(heat::told(machine, &opened.yard.settings, args)?)?;
            Ok(told(&opened.issues))
        }
        Job::Reading(args) => {
            say(reading::reading(args)?)?;
            Ok(Exit::Done)
        }
        Job::Pack { file, json } => {
            pack::pack(file, if *json { Form::Json } else { Form::Text })?;
            Ok(Exit::Done)
        }
        Job::Due { .. } | Job::Parts { .. } | Job::Plan { .. } => upkeep(job, now),
        Job::Torque(args) => {
            say(torque::torque(args)?)?;
            Ok(Exit::Done)
        }
        Job::Sheet(args) => {
            let (opened, _) = open_or_sample(args.yard.as_deref())?;
            let machine = machine_named(&opened.yard, &args.shear)?;
            let table = cause_table(&opened)?;
            say(sheet::sheet((&opened.yard, machine), &table, args, local_zone(now))?)?;
            Ok(told(&opened.issues))
        }
        Job::Check { yard } => check(yard),
        Job::Import(args) => import::import(args),
        Job::Export(args) => export::export(args),
        Job::Sample { dir, shears, sessions, seed } => {
            write_sample(dir, usize::try_from(*shears)?, usize::try_from(*sessions)?, *seed, now)
        }
    }
}

/// Prints the decisions for a yard, for a place without a display.
///
/// # Errors
///
/// As [`run`].
pub fn print_decisions(yard: Option<&Path>, now: DateTime<Utc>) -> Result<Exit> {
    decide_all(yard, None, None, now, Form::Text)
}

fn decide_all(
    path: Option<&Path>,
    only: Option<&str>,
    at: Option<DateTime<Utc>>,
    now: DateTime<Utc>,
    form: Form,
) -> Result<Exit> {
    let (opened, root) = open_or_sample(path)?;
    let table = cause_table(&opened)?;
    let mut yard = opened.yard;
    if let Some(id) = only {
        let id = machine_named(&yard, id)?.shear.id.clone();
        yard.machines.retain(|machine| machine.shear.id == id);
    }
    if let Some(at) = at {
        for machine in &mut yard.machines {
            let until = |session: &Session| session.taken <= at;
            let sessions = machine.sessions.iter().filter(|it| until(it)).cloned().collect();
            *machine = Machine::new(machine.shear.clone(), sessions);
        }
    }
    let decisions: Vec<(&Shear, MachineDecision)> = yard
        .machines
        .iter()
        .map(|machine| {
            let mut decision = decide(machine, &yard.settings);
            let look = yard.settings.intervals_of(&machine.shear).look;
            explain(&mut decision, machine, look, &table);
            (&machine.shear, decision)
        })
        .collect();
    let notices = leaves::due_notices(&yard.settings, at.unwrap_or(now));
    match form {
        Form::Json => say(serde_json::to_string_pretty(&json::decide(&decisions, &notices))?)?,
        Form::Text => {
            say(text::decide((&yard, &decisions), &root, at.unwrap_or(now), numbers(&yard, now)))?;
        }
    }
    Ok(told(&opened.issues))
}

fn check(path: &Path) -> Result<Exit> {
    let issues = store::check(path);
    for issue in &issues {
        say(issue)?;
    }
    if !issues.is_empty() {
        return Ok(Exit::WrongData);
    }
    say(format_args!("Every file of {} can be read.", path.display()))?;
    Ok(Exit::Done)
}

fn write_sample(
    dir: &Path,
    shears: usize,
    sessions: usize,
    seed: u64,
    now: DateTime<Utc>,
) -> Result<Exit> {
    let end = now.duration_trunc(TimeDelta::minutes(1)).unwrap_or(now);
    let yard = sample::yard(seed, shears, sessions, end);
    store::create_yard(dir, &yard).map_err(|err| WrongData(err.into_issue().to_string()))?;
    say(format_args!(
        "Wrote {} with {} machines and {sessions} sessions each.",
        dir.display(),
        yard.machines.len()
    ))?;
    Ok(Exit::Done)
}

/// What service asks for.
fn due_list(job: &Job, now: DateTime<Utc>) -> Result<Exit> {
    let Job::Due { yard, named, shear, json } = job else { return Ok(Exit::Done) };
    let (opened, _) = open_or_sample(yard.as_deref().or(named.as_deref()))?;
    let only = shear.as_deref().map(|it| machine_named(&opened.yard, it)).transpose()?;
    let form = if *json { Form::Json } else { Form::Text };
    say(due::due(&opened.yard, only.map(|machine| &machine.shear.id), now, form))?;
    Ok(told(&opened.issues))
}

/// Parts and plans.
fn upkeep(job: &Job, now: DateTime<Utc>) -> Result<Exit> {
    let (Job::Parts { yard, json, .. } | Job::Plan { yard, json, .. }) = job else {
        return due_list(job, now);
    };
    let (opened, _) = open_or_sample(yard.as_deref())?;
    let form = if *json { Form::Json } else { Form::Text };
    let n = numbers(&opened.yard, now);
    let hours = |hours: u16| Hours::from_whole(i32::from(hours));
    say(match job {
        Job::Parts { within_h, .. } => parts::parts(&opened.yard, hours(*within_h), form, n),
        Job::Plan { shear, horizon_h, .. } => {
            let named = shear.as_deref().map(|it| machine_named(&opened.yard, it)).transpose()?;
            let only = named.map(|machine| &machine.shear.id);
            plan::plan(&opened.yard, only, horizon_h.map(hours), (form, n))
        }
        _ => String::new(),
    })?;
    Ok(told(&opened.issues))
}

fn numbers(yard: &Yard, now: DateTime<Utc>) -> Numbers {
    Numbers { unit: yard.settings.unit, zone: local_zone(now), ..Numbers::default() }
}

/// This system's offset from UTC at `now`.
fn local_zone(now: DateTime<Utc>) -> FixedOffset {
    now.with_timezone(&Local).offset().fix()
}
