//! A shift as JSON, with every parameter it was calculated from.
//!
//! Knows keys, which carry their units. Full precision; what is absent is `null`.

use crate::{
    brief::{self, Numbers},
    cli::heat::{Asked, DRAWS, advice},
    domain::{
        heat::{
            BARE_C, EventKind, NetworkFault, Spreads, force_along, settled, stock, stock_places,
        },
        machine::LineId,
    },
};
use serde_json::{Value, json};

/// Everything.
///
/// # Errors
///
/// [`NetworkFault`] for a network that cannot be calculated.
pub(super) fn as_json(asked: &Asked<'_>) -> Result<Value, NetworkFault> {
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
    let stalled = crate::cli::heat::stalled(asked, Numbers::default());
    let passed = shift.events.iter().find(|it| matches!(it.kind, EventKind::Passed(_)));
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
        "steady_gain": finite(asked.gain.steady),
        "headroom": asked.gain.headroom(),
        "swings": asked.gain.swings(),
        "settles": asked.gain.settles(),
        "verdict": stalled.clone().unwrap_or_else(|| brief::heat::settles(asked.gain, shift)),
        "stalled": stalled,
        "passes_600_c_at_h": passed.map(|it| it.hour),
        "events": events(asked),
        "band": band(asked),
        "spread": spreads(asked),
        "lowest_cold_gaps": advice,
        "force_along": force_rows(asked),
        "heat_made_j": shift.made_j,
        "heat_lost_j": shift.lost_j,
        "heat_stored_j": shift.stored_j,
    }))
}

/// JSON knows no infinity.
fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

/// Low and high over the shift, and what was varied for them.
fn band(asked: &Asked<'_>) -> Value {
    let (band, spreads) = (&asked.band, Spreads::default());
    let ends = |of: &[(f64, f64)]| -> [Vec<f64>; 2] { of.iter().copied().unzip().into() };
    let stations: Vec<Value> = asked
        .model
        .network
        .contacts
        .iter()
        .zip(band.face_c.iter().zip(&band.gap_mm))
        .map(|(contact, (face, gap))| {
            let ([face_low, face_high], [gap_low, gap_high]) = (ends(face), ends(gap));
            json!({
                "station": contact.station.to_string(),
                "face_low_c": face_low,
                "face_high_c": face_high,
                "hot_gap_low_mm": gap_low,
                "hot_gap_high_mm": gap_high,
            })
        })
        .collect();
    json!({
        "draws": DRAWS,
        "percentiles": [10, 90],
        "varied": {
            "friction": spreads.friction,
            "partition": spreads.partition,
            "cooling": spreads.cooling,
            "expansion": spreads.expansion,
        },
        "time_h": band.hours,
        "stations": stations,
    })
}

fn parameters(asked: &Asked<'_>) -> Value {
    let (duty, forces) = (&asked.work.duty, &asked.model.forces);
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
        "stalls": forces.stalls(),
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
                    "material": brief::heat::material(&link.material),
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

/// Forces and the thickest stock at each place where stock is cut.
fn force_rows(asked: &Asked<'_>) -> Vec<Value> {
    let (jaw, stock) = (force_along(asked.thermal), stock(asked.thermal));
    stock_places(asked.shear)
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
