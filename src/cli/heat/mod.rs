//! The command `heat`: a shift followed through, as a summary, as CSV or as JSON.
//!
//! Knows the forms. The sums are the domain's, the sentences `brief`'s.

mod json;
mod table;

use crate::{
    brief::{self, Numbers},
    cli::{WrongData, args::HeatArgs},
    domain::{
        decide::{ColdGaps, cold_gaps, decide},
        heat::{
            Aim, BARE_C, Band, Loop, Model, NetworkFault, Shift, ShiftWork, lowest_gap_mm,
            stability,
        },
        machine::{LineId, Shear, Thermal},
        yard::{Machine, Settings},
    },
    language,
};
/// Time between two rows.
const EVERY_H: f64 = 0.1;
/// Runs behind the low and high case.
const DRAWS: u32 = 200;

/// A shift as it was asked for.
struct Asked<'a> {
    shear: &'a Shear,
    thermal: &'a Thermal,
    line: Option<LineId>,
    work: ShiftWork,
    gaps: ColdGaps,
    given: bool,
    model: Model,
    shift: Shift,
    gain: Loop,
    band: Band,
}

/// What the command prints.
///
/// # Errors
///
/// [`WrongData`] with a sentence for a machine or a shift that cannot be calculated.
pub(crate) fn told(
    machine: &Machine,
    settings: &Settings,
    args: &HeatArgs,
) -> anyhow::Result<String> {
    let n = Numbers { unit: settings.unit, ..Numbers::default() };
    let asked = ask(machine, settings, args)?;
    Ok(if args.csv {
        table::csv(&asked)
    } else if args.json {
        serde_json::to_string_pretty(&json::as_json(&asked).map_err(|fault| wrong_data(&fault))?)?
            + "\n"
    } else {
        text(&asked, n).map_err(|fault| wrong_data(&fault))?
    })
}

fn wrong_data(fault: &NetworkFault) -> WrongData {
    WrongData(brief::heat::fault(fault))
}

fn ask<'a>(
    machine: &'a Machine,
    settings: &Settings,
    args: &HeatArgs,
) -> Result<Asked<'a>, WrongData> {
    let shear = &machine.shear;
    let thermal = shear.thermal.as_ref().ok_or_else(|| wrong_data(&NetworkFault::NoThermal))?;
    let line = args.line.as_deref().map(|text| line_named(shear, text)).transpose()?;
    let mut work = ShiftWork::usual(thermal);
    if let Some(cuts) = args.cuts_per_minute {
        work.duty.cuts_per_minute = cuts;
    }
    if let Some(hours) = args.hours {
        work.duty.hours = hours;
    }
    if let Some(share) = args.working_share {
        work.duty.working_share = share;
    }
    if !args.break_h.is_empty() {
        work.duty.breaks.clone_from(&args.break_h);
    }
    if let Some(plate_mm) = args.plate_mm {
        work.plate_mm = plate_mm;
    }
    if let Some(air_c) = args.air_c {
        (work.duty.air_c, work.start_c) = (air_c, air_c);
    }
    if let Some(start_c) = args.start_c {
        work.start_c = start_c;
    }
    let mut gaps = cold_gaps(shear, &decide(machine, settings));
    if let Some(mm) = args.cold_gap_mm {
        if !(mm.is_finite() && (-10.0..=50.0).contains(&mm)) {
            return Err(WrongData(format!(
                "A cold gap of {mm} mm cannot be; write one such as 0.45."
            )));
        }
        for (station, gap) in &mut gaps.gaps {
            if line.is_none_or(|line| line == station.line) {
                *gap = mm;
            }
        }
        gaps.assumed.retain(|station| line.is_some_and(|line| line != station.line));
    }
    if let Some(line) = line {
        gaps.gaps.retain(|(station, _)| station.line == line);
        gaps.assumed.retain(|station| station.line == line);
    }
    let model = Model::of(shear, &gaps.gaps, &work, line).map_err(|fault| wrong_data(&fault))?;
    let shift = model.run(EVERY_H).map_err(|fault| wrong_data(&fault))?;
    let start = vec![work.start_c; model.network.parts.len()];
    let gain =
        stability(&model.network, &model.duty, &start).map_err(|fault| wrong_data(&fault))?;
    let band = model.band(DRAWS, EVERY_H).map_err(|fault| wrong_data(&fault))?;
    let given = args.cold_gap_mm.is_some();
    Ok(Asked { shear, thermal, line, work, gaps, given, model, shift, gain, band })
}

fn line_named(shear: &Shear, text: &str) -> Result<LineId, WrongData> {
    let known = || {
        let letters: Vec<String> = shear.lines.iter().map(|line| line.id.to_string()).collect();
        letters.join(", ")
    };
    let mut letters = text.trim().chars().map(|letter| letter.to_ascii_uppercase());
    let only = letters.next().filter(|_first| letters.next().is_none());
    only.and_then(LineId::new).filter(|id| shear.line(*id).is_some()).ok_or_else(|| {
        WrongData(format!("{} has no line “{text}”; it has {}.", shear.name, known()))
    })
}

fn text(asked: &Asked<'_>, n: Numbers) -> Result<String, NetworkFault> {
    let (shear, model) = (asked.shear, &asked.model);
    let duty = &model.duty;
    let mut lines = vec![
        format!(
            "{} · {} of work, {} cuts a minute, plate {} mm, air {}",
            shear.name,
            brief::heat::hour(duty.hours),
            duty.cuts_per_minute,
            asked.work.plate_mm,
            brief::heat::celsius(duty.air_c)
        ),
        if asked.given {
            "Cold gap as asked for.".to_owned()
        } else {
            brief::heat::gaps_from(&asked.gaps.assumed)
        },
        stalled(asked, n).unwrap_or_else(|| brief::heat::settles(asked.gain, &asked.shift)),
    ];
    let closed: Vec<String> = asked
        .gaps
        .gaps
        .iter()
        .filter(|(_, gap)| *gap <= 0.0)
        .map(|(station, _)| station.to_string())
        .collect();
    if !closed.is_empty() {
        lines.push(format!("Closed already when cold: {}.", closed.join(", ")));
    }
    for told in brief::heat::lines(shear, (model, &asked.shift), Some(&asked.band), n) {
        lines.push(format!("  {}", told.text));
    }
    for (id, lowest) in advice(asked)? {
        let Some(line) = shear.line(id) else { continue };
        let set_min = line.limits.set().min.mm();
        lines.push(brief::heat::lowest_gap(id, &line.place, lowest, (BARE_C, set_min), n));
    }
    lines.extend(brief::heat::force(shear, asked.thermal, n));
    lines.push(language::told(brief::heat::COLOUR_CAVEAT).to_owned());
    lines.push(format!(
        "{} Values: {}.",
        language::told(brief::heat::ESTIMATE),
        asked.thermal.source
    ));
    Ok(lines.join("\n") + "\n")
}

/// Why nothing is cut, where the plate stalls the jaw.
fn stalled(asked: &Asked<'_>, n: Numbers) -> Option<String> {
    let plate = (&asked.model, asked.work.plate_mm);
    brief::heat::stalled(asked.shear, asked.thermal, plate, n)
}

/// The lowest cold gap of each line that rubs; of none where nothing is cut.
fn advice(asked: &Asked<'_>) -> Result<Vec<(LineId, Option<f64>)>, NetworkFault> {
    let rubs = |line: &&crate::domain::machine::Line| {
        let here = |id: LineId| asked.line.is_none_or(|only| only == id);
        asked
            .thermal
            .contacts
            .iter()
            .any(|it| it.line == line.id && 0.0 < it.thrust_share && here(line.id))
    };
    asked
        .shear
        .lines
        .iter()
        .filter(|_| !asked.model.forces.stalls())
        .filter(rubs)
        .map(|line| {
            let (network, duty) = (&asked.model.network, &asked.model.duty);
            Ok((line.id, lowest_gap_mm(network, duty, &Aim::bare(line))?))
        })
        .collect()
}
