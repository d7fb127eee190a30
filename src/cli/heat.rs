//! The command `heat`: a shift followed through, as a summary, as CSV or as JSON.
//!
//! Knows the forms. The sums are the domain's, the sentences `brief`'s.

use crate::{
    brief::{self, Numbers},
    cli::{WrongData, args::HeatArgs},
    domain::{
        decide::{ColdGaps, cold_gaps, decide},
        heat::{
            Aim, Loop, Model, NetworkFault, Sample, Shift, ShiftWork, colour_at, force_along,
            lowest_gap_mm, settled, stability, stock,
        },
        machine::{LineId, Shear, Thermal},
        yard::{Machine, Settings},
    },
};
use serde_json::{Value, json};
use std::fmt::Write as _;

/// Time between two rows.
const EVERY_H: f64 = 0.1;
/// Faces that stay below this stay bare: the palest straw begins here.
const BARE_C: f64 = 200.0;
/// Wider than this no gap is set.
const WIDEST_MM: f64 = 3.0;

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
        csv(&asked)
    } else if args.json {
        serde_json::to_string_pretty(&as_json(&asked).map_err(|fault| wrong_data(&fault))?)? + "\n"
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
    if let Some(air_c) = args.air_c {
        (work.duty.air_c, work.start_c) = (air_c, air_c);
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
    let given = args.cold_gap_mm.is_some();
    Ok(Asked { shear, thermal, line, work, gaps, given, model, shift, gain })
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
            "{} · {} of work, {} cuts a minute, plate {:.0} mm, air {}",
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
        brief::heat::settles(asked.gain, &asked.shift),
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
    for told in brief::heat::lines(shear, model, &asked.shift, n) {
        lines.push(format!("  {}", told.text));
    }
    for (id, lowest) in advice(asked)? {
        let place = shear.line(id).map_or("", |line| &line.place);
        lines.push(brief::heat::lowest_gap(id, place, lowest, BARE_C, n));
    }
    lines.push(brief::heat::COLOUR_CAVEAT.to_owned());
    lines.push(format!("{} Values: {}.", brief::heat::ESTIMATE, asked.thermal.source));
    Ok(lines.join("\n") + "\n")
}

/// The lowest cold gap of each line that rubs.
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
        .filter(rubs)
        .map(|line| {
            let aim = Aim {
                line: line.id,
                face_c: BARE_C,
                open_mm: line.limits.hot_min().mm(),
                most_mm: WIDEST_MM,
            };
            Ok((line.id, lowest_gap_mm(&asked.model.network, &asked.model.duty, &aim)?))
        })
        .collect()
}

fn csv(asked: &Asked<'_>) -> String {
    let mut out = String::from(
        "time_h,station,moving_c,fixed_c,upper_jaw_c,lower_jaw_c,face_c,colour,hot_gap_mm,\
         side_force_kn\n",
    );
    for sample in &asked.shift.samples {
        for row in rows(asked, sample) {
            let cell = |value: Option<f64>| value.map_or_else(String::new, |it| it.to_string());
            // Writing to a text cannot fail.
            let _done = writeln!(
                out,
                "{},{},{},{},{},{},{},{},{},{}",
                sample.hour,
                row.station,
                cell(row.moving_c),
                cell(row.fixed_c),
                cell(row.upper_jaw_c),
                cell(row.lower_jaw_c),
                row.face_c,
                row.colour,
                row.hot_gap_mm,
                row.side_force_kn
            );
        }
    }
    out
}

struct Row {
    station: crate::domain::machine::StationId,
    moving_c: Option<f64>,
    fixed_c: Option<f64>,
    upper_jaw_c: Option<f64>,
    lower_jaw_c: Option<f64>,
    face_c: f64,
    colour: &'static str,
    hot_gap_mm: f64,
    /// Of the whole line: what presses the part against its neighbour.
    side_force_kn: f64,
}

fn rows(asked: &Asked<'_>, sample: &Sample) -> Vec<Row> {
    let (upper_jaw_c, lower_jaw_c) = asked.model.jaws_c(sample);
    let contacts = &asked.model.network.contacts;
    let force = |line: LineId| {
        let here = sample.contacts.iter().filter(|at| at.station.line == line);
        here.map(|at| at.force_n).sum::<f64>() / 1e3
    };
    let part = |place: usize| sample.parts_c.get(place).copied();
    let row = |(place, (at, contact)): (usize, (&_, &crate::domain::heat::Contact))| {
        let at: &crate::domain::heat::AtContact = at;
        Row {
            station: at.station,
            moving_c: part(contact.moving),
            fixed_c: part(contact.fixed),
            upper_jaw_c,
            lower_jaw_c,
            face_c: at.face_c,
            colour: colour_at(at.face_c).map_or("none", |it| brief::heat::colour(Some(it))),
            hot_gap_mm: asked.model.hot_gap_mm(sample, place),
            side_force_kn: force(at.station.line),
        }
    };
    sample.contacts.iter().zip(contacts).enumerate().map(row).collect()
}

fn as_json(asked: &Asked<'_>) -> Result<Value, NetworkFault> {
    let (model, shift) = (&asked.model, &asked.shift);
    let settled = settled(&model.network, &model.duty)?.filter(|_| asked.gain.settles());
    let parts: Vec<Value> = model
        .network
        .parts
        .iter()
        .enumerate()
        .map(|(place, part)| {
            let last = shift.samples.last().and_then(|it| it.parts_c.get(place)).copied();
            json!({
                "part": part.name,
                "capacity_j_per_k": part.capacity_j_per_k,
                "to_air_w_per_k": part.to_air_w_per_k,
                "start_c": part.start_c,
                "last_c": last,
                "settled_c": settled.as_ref().and_then(|all| all.get(place)).copied(),
            })
        })
        .collect();
    let part_name = |place: usize| model.network.parts.get(place).map(|part| part.name.clone());
    let joints: Vec<Value> = model
        .network
        .joints
        .iter()
        .map(|joint| {
            json!({
                "one": part_name(joint.one),
                "other": part_name(joint.other),
                "conductance_w_per_k": joint.conductance_w_per_k,
            })
        })
        .collect();
    let passed =
        shift.events.iter().find(|it| matches!(it.kind, crate::domain::heat::EventKind::Passed(_)));
    let advice: Vec<Value> = advice(asked)?
        .into_iter()
        .map(|(line, mm)| {
            json!({ "line": line.to_string(), "lowest_cold_gap_mm": mm, "face_below_c": BARE_C })
        })
        .collect();
    Ok(json!({
        "shear": asked.shear.id.as_str(),
        "line": asked.line.map(|line| line.to_string()),
        "source": asked.thermal.source,
        "estimate": true,
        "parameters": parameters(asked),
        "parts": parts,
        "joints": joints,
        "contacts": contacts(asked),
        "beta": asked.gain.beta,
        "headroom": asked.gain.headroom(),
        "settles": asked.gain.settles(),
        "verdict": brief::heat::settles(asked.gain, shift),
        "passes_600_c_at_h": passed.map(|it| it.hour),
        "events": events(asked),
        "spread": spreads(asked),
        "lowest_cold_gaps": advice,
        "force_along": force_rows(asked),
        "heat_made_j": shift.made_j,
        "heat_lost_j": shift.lost_j,
        "heat_stored_j": shift.stored_j,
    }))
}

fn parameters(asked: &Asked<'_>) -> Value {
    let (duty, forces) = (&asked.model.duty, &asked.model.forces);
    let plate = &asked.thermal.work.plate;
    let press = &asked.thermal.press;
    json!({
        "hours": duty.hours,
        "cuts_per_minute": duty.cuts_per_minute,
        "working_share": duty.working_share,
        "friction": duty.friction,
        "air_c": duty.air_c,
        "start_c": asked.work.start_c,
        "breaks_h": duty.breaks.iter().map(|(from, to)| [*from, *to]).collect::<Vec<_>>(),
        "plate_mm": asked.work.plate_mm,
        "plate_shear_n_per_mm2": plate.shear_n_per_mm2,
        "plate_cut_mm": plate.cut.mm(),
        "plate_from_pivot_mm": plate.from_pivot.mm(),
        "bore_mm": press.bore.mm(),
        "rod_mm": press.rod.mm(),
        "pressure_bar": press.pressure_bar,
        "arm_mm": press.arm.mm(),
        "side_share": asked.thermal.side_share,
        "cutting_cheek_kn_per_mm": asked.thermal.cutting_cheek_kn_per_mm,
        "guide_cheek_kn_per_mm": asked.thermal.guide_cheek_kn_per_mm,
        "cutting_force_n": forces.cutting_n(),
        "needed_force_n": forces.needed_n,
        "available_force_n": forces.available_n,
        "side_thrust_n": forces.side_n,
        "cutting_work_j": forces.work_j,
        "assumed_gaps": asked.gaps.assumed.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

fn contacts(asked: &Asked<'_>) -> Vec<Value> {
    let part = |place: usize| asked.model.network.parts.get(place).map(|it| it.name.clone());
    asked
        .model
        .network
        .contacts
        .iter()
        .map(|it| {
            json!({
                "station": it.station.to_string(),
                "moving": part(it.moving),
                "fixed": part(it.fixed),
                "cold_gap_mm": it.cold_gap_mm,
                "thrust_n": it.thrust_n,
                "stiffness_n_per_mm": it.stiffness_n_per_mm,
                "to_moving": it.to_moving,
                "cut_heat_j": it.cut_heat_j,
                "area_m2": it.area_m2,
                "slide_m": it.slide_m,
                "press_s": it.press_s,
                "conductivity_w_per_m_k": it.conductivity,
                "diffusivity_m2_per_s": it.diffusivity,
                "chain": it.chain.iter().map(|link| json!({
                    "part": part(link.part),
                    "signed_mm": link.signed_mm,
                    "growth_at_100_c": link.material.growth_at_c(100.0),
                })).collect::<Vec<_>>(),
            })
        })
        .collect()
}

fn events(asked: &Asked<'_>) -> Vec<Value> {
    asked
        .shift
        .events
        .iter()
        .map(|it| {
            json!({
                "time_h": it.hour,
                "station": it.station.to_string(),
                "event": brief::heat::event(it.kind).replace('\u{a0}', " "),
            })
        })
        .collect()
}

/// The most that the jaw is spread at each station that a spread jaw opens.
fn spreads(asked: &Asked<'_>) -> Vec<Value> {
    let model = &asked.model;
    let stations = asked.shear.lines.iter().flat_map(|line| &line.stations);
    stations
        .filter(|it| matches!(it.id.line, LineId::P | LineId::S))
        .map(|station| {
            let most = asked
                .shift
                .samples
                .iter()
                .map(|sample| model.spread_mm(sample, station.from_pivot))
                .fold(0.0, f64::max);
            json!({ "station": station.id.to_string(), "most_mm": most })
        })
        .collect()
}

/// Forces and the thickest stock at each blade station.
fn force_rows(asked: &Asked<'_>) -> Vec<Value> {
    let (jaw, stock) = (force_along(asked.thermal), stock(asked.thermal));
    let stations = asked.shear.lines.iter().flat_map(|line| &line.stations);
    stations
        .filter(|it| it.across.is_none())
        .map(|station| {
            let at = station.from_pivot;
            json!({
                "station": station.id.to_string(),
                "from_pivot_mm": at.mm(),
                "closing_n": jaw.closing_n(at),
                "opening_n": jaw.opening_n(at),
                "thickest_plate_mm": jaw.thickest_plate_mm(at, &stock),
                "thickest_bar_mm": jaw.thickest_bar_mm(at, &stock),
            })
        })
        .collect()
}
