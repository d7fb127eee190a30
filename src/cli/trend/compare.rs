//! Who grows like whom: stations of a line, lines, machines, before and after work.

use crate::{
    brief::{Numbers, signal, words},
    cli::out::{Form, say},
    domain::{
        machine::{LineId, StationId},
        trend::{Comparison, Observation, StationTrend},
        verdict::cold,
        yard::{Machine, Settings, Yard},
    },
};
use anyhow::Result;
use serde_json::{Value, json};

/// One question with its sets.
struct Question {
    /// What is compared, for other tools.
    key: &'static str,
    /// The line asked about, if it is about one.
    line: Option<LineId>,
    /// The sets in words, as a sentence begins.
    words: String,
    /// The sets with their names.
    sets: Vec<(String, Vec<Observation>)>,
}

/// Prints whether stations, lines, machines and times of one machine grow alike.
pub(crate) fn compare(yard: &Yard, machine: &Machine, form: Form) -> Result<()> {
    let n = Numbers { unit: yard.settings.unit, ..Numbers::default() };
    let told: Vec<(Question, Comparison)> = questions(yard, machine)
        .into_iter()
        .filter_map(|question| {
            let sets: Vec<Vec<Observation>> =
                question.sets.iter().map(|(_, set)| set.clone()).collect();
            Comparison::of(&sets).map(|it| (question, it))
        })
        .collect();
    if form == Form::Json {
        let all: Vec<Value> = told.iter().map(|(question, it)| value(question, it, n)).collect();
        let value = json!({ "shear": machine.shear.id.as_str(), "comparisons": all });
        say(serde_json::to_string_pretty(&value)?)?;
    } else {
        for (question, it) in &told {
            say(signal::comparison(&question.words, it, n))?;
        }
    }
    Ok(())
}

fn value(question: &Question, it: &Comparison, n: Numbers) -> Value {
    let sets: Vec<Value> = question
        .sets
        .iter()
        .zip(&it.sets)
        .map(|((name, _), rate)| {
            let told = rate.as_ref().ok();
            json!({
                "set": name,
                "rate_mm_per_h": told.map(|it| it.rate),
                "rate_se_mm_per_h": told.map(|it| it.rate_se),
                "why_not": rate.as_ref().err().map(ToString::to_string),
            })
        })
        .collect();
    json!({
        "what": question.key,
        "line": question.line.map(|it| it.to_string()),
        "sets": sets,
        "common_rate_mm_per_h": it.common_rate,
        "statistic": it.statistic,
        "degrees_of_freedom": it.dof,
        "p": it.p,
        "text": signal::comparison(&question.words, it, n),
    })
}

fn questions(yard: &Yard, machine: &Machine) -> Vec<Question> {
    let settings = &yard.settings;
    let mut all = Vec::new();
    let mut by_line = Vec::new();
    for line in &machine.shear.lines {
        let stations = seen(machine, settings, line.id);
        let place = words::line(line);
        all.push(Question {
            key: "stations",
            line: Some(line.id),
            words: format!("The stations of {place}"),
            sets: stations.iter().map(|(at, set)| (at.to_string(), set.clone())).collect(),
        });
        for (station, set) in &stations {
            all.push(Question {
                key: "segments",
                line: Some(line.id),
                words: format!("{station} before and after work"),
                sets: segments(set),
            });
        }
        by_line.push((line.id.to_string(), together(&stations)));
    }
    all.push(Question {
        key: "lines",
        line: None,
        words: format!("The lines of {}", machine.shear.name),
        sets: by_line,
    });
    for line in &machine.shear.lines {
        let sets = yard.machines.iter().map(|other| {
            (other.shear.id.as_str().to_owned(), together(&seen(other, settings, line.id)))
        });
        all.push(Question {
            key: "shears",
            line: Some(line.id),
            words: format!("{} of all machines", words::capital(&words::line(line))),
            sets: sets.collect(),
        });
    }
    all
}

/// The readings of every station of a line, referred to 20 °C.
fn seen(
    machine: &Machine,
    settings: &Settings,
    line: LineId,
) -> Vec<(StationId, Vec<Observation>)> {
    let Some(line) = machine.shear.line(line) else { return Vec::new() };
    let kit = settings.kit();
    let stations = machine.shear.walk().into_iter().filter(|it| it.line == line.id);
    stations
        .map(|station| {
            let trend = StationTrend::of(&machine.history, station, |observed| {
                Some(cold(line, observed, kit).bracket)
            });
            (station, trend.seen())
        })
        .collect()
}

/// Several stations as one set: each keeps its own levels.
fn together(stations: &[(StationId, Vec<Observation>)]) -> Vec<Observation> {
    let mut all: Vec<Observation> = Vec::new();
    for (_, set) in stations {
        let first = all.last().map_or(0, |it| it.segment + 1);
        all.extend(set.iter().map(|it| Observation { segment: it.segment + first, ..*it }));
    }
    all
}

/// Each stretch between interventions as a set of its own, named by its first and last hour.
fn segments(set: &[Observation]) -> Vec<(String, Vec<Observation>)> {
    set.chunk_by(|a, b| a.segment == b.segment)
        .map(|stretch| {
            let end = |it: Option<&Observation>| it.map_or(0.0, |it| it.x);
            (format!("{}–{} h", end(stretch.first()), end(stretch.last())), stretch.to_vec())
        })
        .collect()
}
