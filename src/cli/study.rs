//! The gauge study on the command line: a file in, numbers and a plain conclusion out.

use crate::{
    brief::{
        Numbers, plain,
        study::{StudyBrief, tell},
    },
    cli::{Exit, WrongData, out::say},
    domain::{
        gauge::{
            Repeatability,
            study::{Components, FactorSource, Model, Study, Table, Term},
        },
        quantity::Length,
    },
    exchange::{LineIssue, StudyFile, open_study},
    store,
};
use anyhow::{Context as _, Result};
use chrono::NaiveDate;
use serde_json::{Value, json};
use std::{fmt::Write as _, path::Path};

/// What was asked of a study.
pub(crate) struct Asked<'a> {
    /// The CSV file.
    pub(crate) file: &'a Path,
    /// The yard whose readings shall count with this scatter.
    pub(crate) yard: Option<&'a Path>,
    /// Whether JSON was asked for.
    pub(crate) json: bool,
    /// The reader's day.
    pub(crate) today: NaiveDate,
}

/// Studies a file and prints what it found; faults go to the terminal apart.
pub(crate) fn study(asked: &Asked<'_>) -> Result<Exit> {
    let StudyFile { table, issues } = match open_study(asked.file) {
        Ok(file) => file,
        Err(issues) => {
            complain(asked.file, &issues);
            return Ok(Exit::WrongData);
        }
    };
    let study = Study::of(&table);
    let brief = tell(&study, &table, Numbers::default());
    if asked.json {
        let value = as_json(&study, &table, &brief, &issues);
        say(serde_json::to_string_pretty(&value)?)?;
    } else {
        say(as_text(&brief)?)?;
    }
    complain(asked.file, &issues);
    if let Some(yard) = asked.yard {
        let used = keep(&study, &brief, asked, yard)?;
        if !asked.json {
            say(used)?;
        }
    }
    Ok(if issues.is_empty() { Exit::Done } else { Exit::WrongData })
}

#[expect(clippy::print_stderr, reason = "faults must not mix with what was asked for")]
fn complain(file: &Path, issues: &[LineIssue]) {
    for issue in issues {
        eprintln!("{}:{issue}", file.display());
    }
}

/// Writes the crew's scatter into a yard and says so.
fn keep(study: &Study, brief: &StudyBrief, asked: &Asked<'_>, yard: &Path) -> Result<String> {
    let chosen = study.anova.chosen();
    let sigma = chosen.scatter_mm().and_then(Length::from_mm).ok_or_else(|| {
        let fact = match chosen.components.grr {
            Some(_) => "No two readings differ, so the leaves hide how far the hand scatters",
            None => "This study says nothing about measuring",
        };
        WrongData(format!("{fact}; the yard was left as it is. Study with finer steps."))
    })?;
    let name = asked.file.file_name().unwrap_or(asked.file.as_os_str()).to_string_lossy();
    let from = format!("{name}, {}", brief.size);
    let dof = chosen.grr_dof();
    store::save_repeatability(yard, Repeatability { sigma, dof, from, taken: asked.today })
        .map_err(|err| WrongData(err.into_issue().to_string()))
        .with_context(|| "the scatter was not written into the yard")?;
    let scatter = Numbers::default().fine(sigma.mm());
    Ok(format!("Readings in {} now count with a scatter of {scatter}.", yard.display()))
}

fn as_text(brief: &StudyBrief) -> Result<String> {
    let mut out = String::new();
    writeln!(out, "{}", brief.size)?;
    writeln!(out)?;
    writeln!(out, "{}", plain(&brief.conclusion))?;
    for advice in &brief.advice {
        writeln!(out, "{}", plain(advice))?;
    }
    writeln!(out)?;
    let head = ["averages and ranges", "variances"];
    writeln!(out, "{:<26}{:>20}   {:>20}", "", head[0], head[1])?;
    for row in &brief.rows {
        let name = format!("{:<4} {}", row.symbol, row.name);
        let pair = |(value, share): &(String, String)| format!("{value:>12} {share:>7}");
        writeln!(out, "{name:<26}{}   {}", pair(&row.ranges), pair(&row.anova))?;
    }
    if !brief.notes.is_empty() {
        writeln!(out)?;
    }
    for note in &brief.notes {
        writeln!(out, "{note}")?;
    }
    Ok(out)
}

fn as_json(study: &Study, table: &Table, brief: &StudyBrief, issues: &[LineIssue]) -> Value {
    let ranges = &study.ranges;
    let anova = &study.anova;
    let factors: Vec<Value> = ["k1", "k2", "k3"]
        .iter()
        .zip(ranges.factors)
        .map(|(name, factor)| {
            json!({
                "name": name,
                "value": factor.map(|it| it.value),
                "source": factor.map(|it| match it.source {
                    FactorSource::Manual => "manual",
                    FactorSource::Range => "range_distribution",
                }),
            })
        })
        .collect();
    let mut by_ranges = components(&ranges.components);
    merge(
        &mut by_ranges,
        &json!({
            "mean_range_mm": ranges.mean_range,
            "people_apart_mm": ranges.people_apart,
            "parts_apart_mm": ranges.parts_apart,
            "factors": factors,
        "av_set_to_zero": ranges.people_set_to_zero,
        }),
    );
    let mut by_variance = model(anova.chosen());
    merge(
        &mut by_variance,
        &json!({
            "pooled": anova.pools(),
            "p_interaction": anova.interaction_test().map(|it| it.p),
            "ev_low": anova.ev_interval.map(|it| it.0),
            "ev_high": anova.ev_interval.map(|it| it.1),
            "if_unpooled": model(&anova.unpooled),
            "if_pooled": anova.pooled.as_ref().map(model),
        }),
    );
    let means = |names: &[String], means: Vec<f64>| -> Vec<Value> {
        let named = names.iter().zip(means);
        named.map(|(name, mean)| json!({ "name": name, "mean_mm": mean })).collect()
    };
    let said = |texts: &[String]| texts.iter().map(|it| plain(it)).collect::<Vec<_>>();
    json!({
        "unit": "mm",
        "parts": table.parts().len(),
        "people": table.people().len(),
        "trials": table.trials().len(),
        "ranges": by_ranges,
        "anova": by_variance,
        "least_change_mm": anova.chosen().components.least_change(),
        "by_part": means(table.parts(), table.part_means()),
        "by_person": means(table.people(), table.person_means()),
        "conclusion": plain(&brief.conclusion),
        "advice": said(&brief.advice),
        "notes": said(&brief.notes),
        "issues": issues.iter().map(|it| json!({
            "line": it.line, "what": it.what, "next": it.next,
        })).collect::<Vec<_>>(),
    })
}

fn components(c: &Components) -> Value {
    json!({
        "ev": c.ev,
        "av": c.av,
        "interaction": c.interaction,
        "grr": c.grr,
        "pv": c.pv,
        "tv": c.tv,
        "ndc": c.ndc(),
        "ndc_exact": c.categories(),
        "share": {
            "ev": c.share(c.ev),
            "av": c.share(c.av),
            "interaction": c.share(c.interaction),
            "grr": c.share(c.grr),
            "pv": c.share(c.pv),
        },
    })
}

fn model(model: &Model) -> Value {
    let mut value = components(&model.components);
    merge(
        &mut value,
        &json!({
            "ev_and_interaction": model.unparted,
            "set_to_zero": model.set_to_zero.iter().map(|it| term(*it)).collect::<Vec<_>>(),
            "sources": model.sources.iter().map(|source| json!({
                "source": term(source.term),
                "dof": source.dof,
                "ss_mm2": source.sum,
                "ms_mm2": source.mean,
                "f": source.test.map(|it| it.f),
                "p": source.test.map(|it| it.p),
            })).collect::<Vec<_>>(),
        }),
    );
    value
}

const fn term(term: Term) -> &'static str {
    match term {
        Term::Part => "part",
        Term::Person => "person",
        Term::Interaction => "interaction",
        Term::Repeatability => "repeatability",
        Term::Rest => "repeatability_and_interaction",
    }
}

/// Adds the keys of one object to another.
fn merge(object: &mut Value, more: &Value) {
    if let (Some(object), Some(more)) = (object.as_object_mut(), more.as_object()) {
        object.extend(more.iter().map(|(key, value)| (key.clone(), value.clone())));
    }
}
