//! Who grows like whom: stations of a line, lines, machines, before and after work.

use crate::{
    brief::{Numbers, alike, signal},
    cli::out::{Form, say},
    domain::{
        trend::{Alike, Answer, Comparison, Question, SetOf},
        yard::{Machine, Yard},
    },
};
use anyhow::Result;
use serde_json::{Value, json};

/// Prints whether stations, lines, machines and times of one machine grow alike.
pub(crate) fn compare(yard: &Yard, machine: &Machine, form: Form) -> Result<()> {
    let n = Numbers { unit: yard.settings.unit, ..Numbers::default() };
    let told: Vec<(Question, Comparison)> = questions(yard, machine)
        .into_iter()
        .filter_map(|question| question.ask().map(|it| (question, it)))
        .collect();
    if form == Form::Json {
        let all: Vec<Value> =
            told.iter().map(|(question, it)| value(machine, question, it, n)).collect();
        let value = json!({ "shear": machine.shear.id.as_str(), "comparisons": all });
        say(serde_json::to_string_pretty(&value)?)?;
    } else {
        for (question, it) in &told {
            say(alike::comparison(&signal::asked(&machine.shear, &question.alike), it, n))?;
        }
    }
    Ok(())
}

fn value(machine: &Machine, question: &Question, it: &Comparison, n: Numbers) -> Value {
    let sets: Vec<Value> = question
        .sets
        .iter()
        .zip(&it.sets)
        .map(|((set, _), rate)| {
            let told = rate.as_ref().ok();
            json!({
                "set": set_key(set),
                "rate_mm_per_h": told.map(|it| it.rate),
                "rate_se_mm_per_h": told.map(|it| it.rate_se),
                "exact_low_mm_per_h": told.and_then(|it| it.exact).map(|(low, _)| low),
                "exact_high_mm_per_h": told.and_then(|it| it.exact).map(|(_, high)| high),
                "tested": told.is_some_and(|it| it.exact.is_none()),
                "readings": told.map(|it| it.n),
                "why_not": rate.as_ref().err().map(ToString::to_string),
            })
        })
        .collect();
    let (key, line) = match question.alike {
        Alike::Stations(line) => ("stations", Some(line)),
        Alike::Times(station) => ("segments", Some(station.line)),
        Alike::Lines => ("lines", None),
        Alike::Machines(line) => ("shears", Some(line)),
    };
    let test = match it.answer {
        Answer::Tested(test) => Some(test),
        Answer::Overlap(_) | Answer::Apart => None,
    };
    json!({
        "what": key,
        "line": line.map(|it| it.to_string()),
        "sets": sets,
        "answer": match it.answer {
            Answer::Tested(_) => "tested",
            Answer::Overlap(_) => "overlap",
            Answer::Apart => "apart",
        },
        "common_rate_mm_per_h": match it.answer {
            Answer::Tested(test) => Some(test.common_rate),
            Answer::Overlap(rate) => Some(rate),
            Answer::Apart => None,
        },
        "statistic": test.map(|it| it.statistic),
        "degrees_of_freedom": test.map(|it| it.dof),
        "p": test.map(|it| it.p),
        "text": alike::comparison(&signal::asked(&machine.shear, &question.alike), it, n),
    })
}

fn set_key(set: &SetOf) -> String {
    match set {
        SetOf::Station(station) => station.to_string(),
        SetOf::Span([from, to]) => format!("{from}–{to} h"),
        SetOf::Line(line) => line.to_string(),
        SetOf::Machine(shear) => shear.as_str().to_owned(),
    }
}

fn questions(yard: &Yard, machine: &Machine) -> Vec<Question> {
    let settings = &yard.settings;
    let lines = || machine.shear.lines.iter().map(|line| line.id);
    let mut all = Vec::new();
    for line in lines() {
        all.push(Question::stations(machine, settings, line));
        let stations = machine.shear.walk().into_iter().filter(|it| it.line == line);
        all.extend(stations.map(|it| Question::times(machine, settings, it)));
    }
    all.push(Question::lines(machine, settings));
    all.extend(lines().map(|line| Question::machines(yard, line)));
    all
}
