//! What charts, breaks and second opinions say, in words.
//!
//! Knows no rule by its number: a signal says its rule.

use crate::{
    brief::{Numbers, numbers, words},
    domain::{
        machine::{LineId, Shear, StationId},
        trend::{
            Alike, Change, ChangeKind, Model, RUN, SecondOpinion, Signal, SignalKind, StationTrend,
            Tried, WIDTH,
        },
    },
    language::{sentence, tell},
};

/// The key of a signal, for other tools.
pub fn key(kind: SignalKind) -> &'static str {
    match kind {
        SignalKind::BeyondLimit => "beyond_limit",
        SignalKind::RangeHigh => "range_high",
        SignalKind::RunAbove => "run_above",
        SignalKind::RunBelow => "run_below",
        SignalKind::AverageHigh => "ewma_high",
        SignalKind::AverageLow => "ewma_low",
    }
}

/// The key of an unrecorded change.
pub fn change_key(kind: ChangeKind) -> &'static str {
    match kind {
        ChangeKind::Fell => "fell_unrecorded",
        ChangeKind::Rose => "rose_unrecorded",
        ChangeKind::Faster => "faster_unrecorded",
        ChangeKind::Slower => "slower_unrecorded",
    }
}

/// The rule behind a signal.
pub fn rule(kind: SignalKind) -> String {
    match kind {
        SignalKind::BeyondLimit => {
            tell!(
                "one reading more than {width} standard deviations from the line",
                width = numbers::fixed(WIDTH, 0)
            )
        }
        SignalKind::RangeHigh => {
            tell!("a step from one reading to the next that chance makes about once in 100")
                .to_owned()
        }
        SignalKind::RunAbove => tell!("{run} readings in a row above the line", run = RUN),
        SignalKind::RunBelow => tell!("{run} readings in a row below the line", run = RUN),
        SignalKind::AverageHigh => {
            tell!("the weighted average of the readings above its limit").to_owned()
        }
        SignalKind::AverageLow => {
            tell!("the weighted average of the readings below its limit").to_owned()
        }
    }
}

/// A signal as a sentence: `P1 at 4 520 h: 9 readings in a row above the line.`
pub fn signal(station: StationId, signal: &Signal, n: Numbers) -> String {
    tell!(
        "{station} at {hour}: {kind}.",
        station,
        hour = n.along(signal.at_h),
        kind = rule(signal.kind)
    )
}

/// An unrecorded change as a sentence.
pub fn change(station: StationId, change: &Change, n: Numbers) -> String {
    let (before, after) = change.between_h;
    let when =
        tell!("between {before} and {after}", before = n.along(before), after = n.along(after));
    let step = format!("{} {}", n.estimate(change.step_mm.abs()), n.unit_name());
    let (was, is) = (n.rate(change.rate_before), n.rate(change.rate_after));
    match change.kind {
        ChangeKind::Fell => {
            tell!(
                "The gap at {station} fell by {step} {when}, and no work is recorded.",
                station,
                step,
                when
            )
        }
        ChangeKind::Rose => {
            tell!(
                "The gap at {station} opened by {step} {when}, and no work is recorded.",
                station,
                step,
                when
            )
        }
        ChangeKind::Faster | ChangeKind::Slower => {
            tell!(
                "Growth at {station} went from {was} to {is} {when}, and no work is recorded.",
                station,
                was,
                is,
                when
            )
        }
    }
}

/// Where there are no charts.
pub const NO_CHART: &str = sentence!(
    "Charts need a growth rate and at least two readings about its line. Measure \
                        this place on a few more visits."
);

/// How to read the charts.
pub const HOW_CHARTS_READ: &str = sentence!(
    "A reading's distance from its line counts in standard deviations of the usual scatter. \
     Limits stand three of them away; about one reading in 400 passes them by chance. The weighted \
     average sees a small shift that single readings hide. Work begins all three anew."
);

/// Whether a station keeps to its lines.
pub fn steady(station: StationId, signals: usize, breaks: usize) -> String {
    match (signals, breaks) {
        (0, 0) => tell!("All readings of {station} keep to their lines.", station),
        (0, _) => tell!("About the lines before and behind it nothing else stands out.").to_owned(),
        (1, _) => tell!("One signal:").to_owned(),
        (count, _) => tell!("{count} signals, newest first:", count),
    }
}

/// Signals that have no row of their own.
pub fn older(count: usize) -> String {
    tell!("And {count} older ones, ringed on the charts.", count)
}

/// An unrecorded change beside its mark.
pub fn change_title(kind: ChangeKind) -> &'static str {
    match kind {
        ChangeKind::Fell => tell!("Fell, no work noted"),
        ChangeKind::Rose => tell!("Opened, no work noted"),
        ChangeKind::Faster => tell!("Faster, nothing noted"),
        ChangeKind::Slower => tell!("Slower, nothing noted"),
    }
}

/// What an unrecorded change does to a forecast.
pub const THROUGH_A_BREAK: &str =
    sentence!("Rate and hours run straight through it until the line begins anew there.");

/// What to do about an unrecorded change.
pub fn change_advice(kind: ChangeKind) -> &'static str {
    match kind {
        ChangeKind::Fell => {
            tell!(
                "Ask who was there: shims, a turned blade or a new one belong in the log. If nobody \
             worked, look for a burr, dirt in the pack or a lifted guide blade."
            )
        }
        ChangeKind::Rose => {
            tell!(
                "Ask who was there. If nobody worked, look for a loose bolt, a broken shim or a jaw \
             that has spread."
            )
        }
        ChangeKind::Faster | ChangeKind::Slower => {
            tell!(
                "Ask what changed: other scrap, another crew or set of leaves, lubrication, a bent \
             guide."
            )
        }
    }
}

/// What a second opinion adds, with the readings that may have swayed the line; `None` while it
/// agrees.
pub fn second_opinion(trend: &StationTrend, it: &SecondOpinion, n: Numbers) -> Option<String> {
    if it.agrees {
        return None;
    }
    let station = trend.station;
    let (low, high) = (n.rate(it.line.low), n.rate(it.line.high));
    let apart: Vec<String> = it
        .apart
        .iter()
        .filter_map(|place| trend.observations.get(*place))
        .map(|point| n.along(point.at_h))
        .collect();
    let who = match apart.as_slice() {
        [] => tell!("no single reading stands apart").to_owned(),
        [one] => tell!("the reading at {one} stands apart", one),
        [first, .., last] if 4 < apart.len() => {
            tell!(
                "{apart} readings between {first} and {last} stand apart",
                apart = apart.len(),
                first,
                last
            )
        }
        [most @ .., last] => {
            tell!("the readings at {others} and {last} stand apart", others = most.join(", "), last)
        }
    };
    Some(tell!(
        "A line that a few wild readings cannot sway gives {station} {low} to {high}; {who}.",
        station,
        low,
        high,
        who
    ))
}

/// How lines were chosen, as a row of a table: what the segments share, the numbers it takes, its
/// log-likelihood and its score.
pub fn candidate(it: &Tried) -> [String; 4] {
    let fixed =
        |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |value| numbers::fixed(value, 1));
    [
        model(it.model).to_owned(),
        it.parameters.to_string(),
        fixed(it.log_likelihood),
        fixed(it.aicc),
    ]
}

/// How the score is read.
pub const HOW_CHOSEN: &str = sentence!(
    "The smallest AICc is chosen: the fit (ln L), less what each further \
     number costs."
);

/// What a model's segments share.
pub fn model(model: Model) -> &'static str {
    match model {
        Model::OwnLines => tell!("own growth after each work"),
        Model::SharedRate => tell!("one growth for all"),
        Model::OwnLinesBreakIn => tell!("own growth, fresh edges break in"),
        Model::SharedRateBreakIn => tell!("one growth, fresh edges break in"),
    }
}

/// What a comparison asks about, as a sentence begins.
pub fn asked(shear: &Shear, alike: &Alike) -> String {
    let line = |id: LineId| shear.line(id).map_or_else(|| id.to_string(), words::line);
    match alike {
        Alike::Stations(id) => tell!("The stations of {id}", id = line(*id)),
        Alike::Times(station) => tell!("{station} before and after work", station),
        Alike::Lines => tell!("The lines of {shear}", shear = shear.name),
        Alike::Machines(id) => tell!("{id} of all machines", id = words::capital(&line(*id))),
    }
}
