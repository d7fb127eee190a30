//! Growth and hours left on the command line.

mod compare;
mod json;
mod text;

pub(crate) use compare::compare;

use crate::{
    brief::Numbers,
    cli::{WrongData, out::say},
    domain::{
        decide::mark_limit,
        gauge::Kit,
        log::MarkKind,
        machine::{BladeId, Line, NotAStation, Shear, StationId},
        quantity::{Length, float},
        trend::{Axis, Bootstrap, HoursTo, MarkTrend, StationTrend},
        verdict::cold,
        yard::{Machine, Settings},
    },
};
use anyhow::Result;
use serde_json::Value;

/// What was asked of a trend.
pub(crate) struct Asked<'a> {
    /// Only this station.
    pub(crate) station: Option<&'a str>,
    /// Wear marks in place of gaps.
    pub(crate) marks: bool,
    /// A limit somebody wants to know about.
    pub(crate) limit_mm: Option<f64>,
    /// What growth is counted against.
    pub(crate) per: Axis,
    /// How sure intervals shall be.
    pub(crate) confidence: f64,
    /// Whether the readings' own uncertainty counts as scatter.
    pub(crate) with_reading_u: bool,
    /// How many times to draw the readings again.
    pub(crate) draws: Option<usize>,
    /// Whether JSON was asked for.
    pub(crate) json: bool,
}

/// One station's answer.
struct Told {
    trend: StationTrend,
    hours: Vec<ToLimit>,
}

/// What a station's trend says about one limit.
struct ToLimit {
    to: HoursTo,
    /// How sure the readings are that it is passed at the next look.
    chance: Option<f64>,
    /// The same hours by drawing the readings again.
    drawn: Option<Bootstrap>,
}

/// Draws are the same for the same question.
const SEED: u64 = 1;

/// Prints the trend of one station or of all.
pub(crate) fn trend(machine: &Machine, settings: &Settings, asked: &Asked<'_>) -> Result<()> {
    if asked.marks {
        return marks(machine, settings, asked);
    }
    let stations = match asked.station {
        Some(text) => vec![station_named(&machine.shear, text)?],
        None => machine.shear.walk(),
    };
    let told: Vec<Told> =
        stations.into_iter().map(|station| tell(machine, settings, station, asked)).collect();
    if asked.json {
        let n = Numbers { per: asked.per, ..Numbers::default() };
        let values = told.iter().map(|it| json::station(machine, it, asked.confidence, n));
        let mut values: Vec<Value> = values.collect();
        let value = match (asked.station, values.pop()) {
            (Some(_), Some(only)) => only,
            (_, last) => {
                values.extend(last);
                Value::Array(values)
            }
        };
        say(serde_json::to_string_pretty(&json::along(value, asked.per))?)?;
    } else {
        let n = Numbers { unit: settings.unit, per: asked.per, ..Numbers::default() };
        say(text::stations(machine, &told, asked.confidence, n))?;
        if asked.station.is_none() && !machine.history.marks.is_empty() {
            say(text::marks(machine, &worn(machine), asked.confidence, n))?;
        }
    }
    Ok(())
}

/// Prints the trend of every wear mark.
fn marks(machine: &Machine, settings: &Settings, asked: &Asked<'_>) -> Result<()> {
    let all = worn(machine);
    if asked.json {
        let value = |(trend, limit): &Worn| json::mark(machine, trend, *limit, asked.confidence);
        return say(serde_json::to_string_pretty(&all.iter().map(value).collect::<Vec<Value>>())?);
    }
    let n = Numbers { unit: settings.unit, ..Numbers::default() };
    say(text::marks(machine, &all, asked.confidence, n))
}

/// A mark's trend and its limit, if the machine's file has one.
type Worn = (MarkTrend, Option<Length>);

/// Every wear mark that was ever taken, by blade.
fn worn(machine: &Machine) -> Vec<Worn> {
    let trend = |(blade, kind): &(BladeId, MarkKind)| {
        let limit = machine.shear.blade(blade).and_then(|it| mark_limit(&it.wear, *kind));
        Some((MarkTrend::of(&machine.history, blade, *kind)?, limit))
    };
    machine.history.marks.keys().filter_map(trend).collect()
}

fn tell(machine: &Machine, settings: &Settings, station: StationId, asked: &Asked<'_>) -> Told {
    let line = machine.shear.line(station.line);
    let kit = settings.kit();
    let mut trend = StationTrend::along(asked.per, &machine.history, station, |observed| {
        Some(cold(line?, observed, kit).bracket)
    });
    let mut hours = Vec::new();
    if let (Ok(fit), Some(line)) = (&mut trend.fit, line) {
        if asked.with_reading_u {
            let u_mm = reading_u_mm(machine, line, station, kit);
            *fit = fit.clone().with_reading_u(u_mm);
        }
        if let Some(limit) = asked.limit_mm {
            hours.extend(fit.hours_to_length(limit, asked.confidence));
        }
        hours.extend(fit.hours_to_at(&line.limits, asked.confidence));
    }
    // The next look is known by the hour only.
    let look_h = (asked.per == Axis::Hours).then(|| settings.intervals_of(&machine.shear).look.h());
    let told = hours.into_iter().map(|to| {
        let chance = trend.fit.as_ref().ok().zip(look_h).map(|(fit, look_h)| {
            fit.chance_beyond(to.limit_mm, fit.reach(to.which, to.limit_mm), fit.last_h + look_h)
        });
        let drawn = asked.draws.and_then(|draws| trend.bootstrap(&to, draws, SEED));
        ToLimit { to, chance, drawn }
    });
    let hours = told.collect();
    Told { trend, hours }
}

/// Root mean square of what leaves and temperatures do to the readings of a station; how the hand
/// scatters is in the scatter about the line already.
fn reading_u_mm(machine: &Machine, line: &Line, station: StationId, kit: Kit<'_>) -> f64 {
    let kit = Kit { hand: None, ..kit };
    let readings = machine.history.readings.get(&station);
    let squares: Vec<f64> = readings
        .into_iter()
        .flatten()
        .filter_map(|observed| cold(line, observed, kit).u_beside_place_mm())
        .map(|u_mm| u_mm * u_mm)
        .collect();
    let count = float(i64::try_from(squares.len().max(1)).unwrap_or(i64::MAX));
    (squares.iter().sum::<f64>() / count).sqrt()
}

fn station_named(shear: &Shear, text: &str) -> Result<StationId, WrongData> {
    let station: StationId = text.parse().map_err(|err: NotAStation| WrongData(err.to_string()))?;
    if shear.station(station).is_some() {
        return Ok(station);
    }
    let known: Vec<String> = shear.walk().iter().map(ToString::to_string).collect();
    Err(WrongData(format!("{} has no station {station}; it has {}.", shear.name, known.join(", "))))
}
