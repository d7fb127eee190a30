//! A trend as JSON: part of the contract other tools rely on.
//!
//! Keys carry units like the files do. Full precision, no rounding; absent is `null`, never NaN.

use crate::{
    brief::{Numbers, signal},
    cli::trend::{ToLimit, Told},
    domain::{
        log::{MARK_STEP, SessionId},
        quantity::Length,
        trend::{
            Axis, Bounded, Crossing, Fit, HoursTo, MarkTrend, Model, Point, Profile, Region,
            SecondOpinion, Segment, StationTrend, Which, worn,
        },
        yard::Machine,
    },
};
use serde_json::{Map, Value, json};

/// The trend of one station.
pub(crate) fn station(machine: &Machine, told: &Told, confidence: f64, n: Numbers) -> Value {
    let Told { trend, hours } = told;
    let fit = trend.fit.as_ref().ok();
    let newest = fit.and_then(|fit| fit.segments.last());
    let inside = fit.and_then(Fit::inside);
    let rates = inside.map(Region::rates).or_else(|| fit?.rate_interval(confidence));
    let profile = trend.profiled(|it| it.rate(confidence)).flatten();
    json!({
        "shear": machine.shear.id.as_str(),
        "station": trend.station.to_string(),
        "observations": trend.observations.len(),
        "left_out_open": trend.left_out_open,
        "left_out_unreferred": trend.left_out_unreferred,
        "left_out_uncounted": trend.left_out_uncounted,
        "set_aside": trend.set_aside().map(set_aside).collect::<Vec<_>>(),
        "meter_backwards": machine.history.backwards.iter().map(SessionId::as_str).collect::<Vec<_>>(),
        "superseded": trend.superseded,
        "model": fit.map(|fit| model_key(fit.model)),
        "models": fit.map(models),
        "why_not": trend.fit.as_ref().err().map(ToString::to_string),
        "rate_readings": fit.map(Fit::rate_readings),
        "rate_through_break_h": fit.and_then(|fit| fit.through_break_h),
        "degenerate": fit.map(|_| inside.is_some()),
        "rate_mm_per_h": fit.map(Fit::rate),
        "rate_se_mm_per_h": newest.and_then(|it| it.plain).map(|it| it.rate),
        "rate_low_mm_per_h": rates.map(|(low, _)| low),
        "rate_high_mm_per_h": rates.map(|(_, high)| high),
        "rate_method": fit.map(|_| if inside.is_some() { "exact_range" } else { "student" }),
        "rate_confidence": fit.filter(|_| inside.is_none()).map(|_| confidence),
        "rate_profile_low_mm_per_h": profile.map(|(low, _)| low),
        "rate_profile_high_mm_per_h": profile.map(|(_, high)| high),
        "confidence": confidence,
        "sigma_mm": fit.map(|fit| fit.sigma_mm),
        "sigma_se_mm": fit.and_then(|fit| fit.sigma_se_mm),
        "spread_mm": fit.map(|fit| fit.spread_mm),
        "degrees_of_freedom": fit.map(|fit| fit.dof),
        "log_likelihood": fit.and_then(|fit| fit.log_likelihood),
        "break_in_mm": fit.and_then(|fit| fit.break_in_mm),
        "segments": fit.map(|fit| fit.segments.iter().map(segment).collect::<Vec<_>>()).unwrap_or_default(),
        "hours_to": hours.iter().map(|it| hours_to(trend, it)).collect::<Vec<_>>(),
        "signals": signals(trend, n),
        "second_opinion": trend.second_opinion().map(|it| second_opinion(trend, &it, n)),
    })
}

/// The same with keys that say what growth is counted against.
pub(crate) fn along(value: Value, per: Axis) -> Value {
    let unit = match per {
        Axis::Hours => return value,
        Axis::Tonnes => "_t",
        Axis::Cuts => "_cuts",
    };
    match value {
        Value::Array(all) => all.into_iter().map(|it| along(it, per)).collect(),
        Value::Object(all) => {
            let renamed = |key: String| match key.strip_suffix("_h") {
                Some(stem) => format!("{stem}{unit}"),
                None => key,
            };
            let pairs = all.into_iter().map(|(key, it)| (renamed(key), along(it, per)));
            Value::Object(pairs.collect())
        }
        other => other,
    }
}

fn set_aside(point: &Point) -> Value {
    json!({
        "at_h": point.at_h,
        "session": point.session.as_str(),
        "reason": point.set_aside,
    })
}

/// What the charts say and where breaks are that nobody recorded, oldest first.
fn signals(trend: &StationTrend, n: Numbers) -> Vec<Value> {
    let charts = trend.chart().map_or_else(Vec::new, |it| it.signals);
    let charts = charts.iter().map(|it| {
        let value = json!({
            "key": signal::key(it.kind),
            "at_h": it.at_h,
            "rule": signal::rule(it.kind),
            "text": signal::signal(trend.station, it, n),
        });
        (it.at_h, value)
    });
    let breaks = trend.changes.iter().map(|it| {
        let (before, after) = it.between_h;
        let value = json!({
            "key": signal::change_key(it.kind),
            "at_h": after,
            "not_before_h": before,
            "step_mm": it.step_mm,
            "rate_before_mm_per_h": it.rate_before,
            "rate_after_mm_per_h": it.rate_after,
            "rule": "two lines fit far better than one and no work is recorded between them",
            "text": signal::change(trend.station, it, n),
        });
        (after, value)
    });
    let mut all: Vec<(f64, Value)> = charts.chain(breaks).collect();
    all.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    all.into_iter().map(|(_, value)| value).collect()
}

fn second_opinion(trend: &StationTrend, it: &SecondOpinion, n: Numbers) -> Value {
    let at_h = |&place: &usize| trend.observations.get(place).map(|point| point.at_h);
    json!({
        "method": "theil_sen",
        "rate_mm_per_h": it.line.rate,
        "rate_low_mm_per_h": it.line.low,
        "rate_high_mm_per_h": it.line.high,
        "confidence": it.line.confidence,
        "agrees": it.agrees,
        "readings_apart_h": it.apart.iter().filter_map(at_h).collect::<Vec<_>>(),
        "text": signal::second_opinion(trend, it, n),
    })
}

fn models(fit: &Fit) -> Vec<Value> {
    let chosen = |model| model == fit.model;
    fit.tried
        .iter()
        .map(|it| {
            json!({
                "model": model_key(it.model),
                "parameters": it.parameters,
                "log_likelihood": it.log_likelihood,
                "aicc": it.aicc,
                "chosen": chosen(it.model),
            })
        })
        .collect()
}

fn segment(it: &Segment) -> Value {
    let levels = it.told.inside.as_ref().map(|inside| inside.levels(0.0));
    json!({
        "from_h": it.from_h,
        "to_h": it.to_h,
        "readings": it.n,
        "intercept_mm": it.intercept_mm,
        "intercept_se_mm": it.plain.map(|plain| plain.intercept_mm),
        "intercept_low_mm": levels.map(|(low, _)| low),
        "intercept_high_mm": levels.map(|(_, high)| high),
        "rate_mm_per_h": it.rate,
        "rate_se_mm_per_h": it.plain.map(|plain| plain.rate),
    })
}

fn hours_to(trend: &StationTrend, told: &ToLimit) -> Value {
    let ToLimit { to: hours, chance, drawn } = told;
    let profile = profile(trend, hours);
    let last_h = trend.fit.as_ref().map_or(0.0, |fit| fit.last_h);
    let ahead = |at: Option<f64>| at.map(|at| at - last_h);
    let more = json!({
        "profile_low_h": ahead(profile.and_then(|it| it.low)),
        "profile_high_h": ahead(profile.and_then(|it| it.high)),
        "chance_passed_at_next_look": chance,
        "bootstrap": drawn.as_ref().map(|it| json!({
            "low_h": it.low_h,
            "high_h": it.high_h,
            "draws": it.draws,
            "never": it.never,
        })),
    });
    let mut all = limit(hours, hours.which.key());
    all.extend(more.as_object().cloned().unwrap_or_default());
    Value::Object(all)
}

/// What any forecast says about a limit, under the limit's own key.
fn limit(hours: &HoursTo, key: &str) -> Map<String, Value> {
    let value = json!({
        "limit": key,
        "limit_mm": hours.limit_mm,
        "estimate_h": hours.estimate_h,
        "low_h": hours.low_h,
        "high_h": hours.high_h,
        "confidence": hours.confidence,
        "method": if hours.exact_h.is_some() { "fieller_and_exact_range" } else { "fieller" },
        "bounded": match hours.bounded {
            Bounded::Both => "both",
            Bounded::Low => "low",
            Bounded::None => "none",
        },
        "passed": hours.passed,
        "through_break_h": hours.through_break_h,
        "reading_from_h": hours.reading_h,
        "exact_low_h": hours.exact_h.map(|(first, _)| first),
        "exact_high_h": hours.exact_h.and_then(|(_, last)| last),
    });
    value.as_object().cloned().unwrap_or_default()
}

/// The trend of one wear mark.
pub(crate) fn mark(
    machine: &Machine,
    trend: &MarkTrend,
    most: Option<Length>,
    confidence: f64,
) -> Value {
    let fit = trend.fit.as_ref().ok();
    let newest = fit.and_then(|fit| fit.segments.last());
    let inside = fit.and_then(Fit::inside);
    let rates = inside.map(Region::rates).or_else(|| fit?.rate_interval(confidence));
    let key = if worn(trend.kind) == Which::WorkingMin { "wear_min" } else { "wear_max" };
    let hours = most.and_then(|most| trend.hours_to(most, confidence));
    json!({
        "shear": machine.shear.id.as_str(),
        "blade": trend.blade.0,
        "kind": trend.kind.key(),
        "observations": trend.seen.len(),
        "newest_mm": trend.seen.last().map(|it| it.value.mm()),
        "read_to_mm": MARK_STEP.mm(),
        "superseded": trend.superseded,
        "model": fit.map(|fit| model_key(fit.model)),
        "why_not": trend.fit.as_ref().err().map(ToString::to_string),
        "degenerate": fit.map(|_| inside.is_some()),
        "rate_mm_per_h": fit.map(Fit::rate),
        "rate_se_mm_per_h": newest.and_then(|it| it.plain).map(|it| it.rate),
        "rate_low_mm_per_h": rates.map(|(low, _)| low),
        "rate_high_mm_per_h": rates.map(|(_, high)| high),
        "confidence": confidence,
        "sigma_mm": fit.map(|fit| fit.sigma_mm),
        "log_likelihood": fit.and_then(|fit| fit.log_likelihood),
        "segments": fit.map(|fit| fit.segments.iter().map(segment).collect::<Vec<_>>()).unwrap_or_default(),
        "hours_to": hours.iter().map(|it| Value::Object(limit(it, key))).collect::<Vec<_>>(),
    })
}

fn profile(trend: &StationTrend, hours: &HoursTo) -> Option<Crossing> {
    let fit = trend.fit.as_ref().ok()?;
    let reach = fit.reach(hours.which, hours.limit_mm);
    let ask = |it: &Profile<'_>| it.meets(hours.limit_mm, reach, fit.last_h, hours.confidence);
    trend.profiled(ask).flatten()
}

const fn model_key(model: Model) -> &'static str {
    match model {
        Model::OwnLines => "own_lines",
        Model::SharedRate => "shared_rate",
        Model::OwnLinesBreakIn => "own_lines_break_in",
        Model::SharedRateBreakIn => "shared_rate_break_in",
    }
}
