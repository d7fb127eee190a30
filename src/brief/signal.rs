//! What charts, breaks and second opinions say, in words.
//!
//! Knows no rule by its number: a signal says its rule.

use crate::{
    brief::{Numbers, numbers},
    domain::{
        machine::StationId,
        trend::{Change, ChangeKind, Comparison, RUN, SecondOpinion, Signal, SignalKind, WIDTH},
    },
};

/// The key of a signal, for other tools.
pub const fn key(kind: SignalKind) -> &'static str {
    match kind {
        SignalKind::BeyondLimit => "beyond_limit",
        SignalKind::RunAbove => "run_above",
        SignalKind::RunBelow => "run_below",
        SignalKind::AverageHigh => "ewma_high",
        SignalKind::AverageLow => "ewma_low",
    }
}

/// The key of an unrecorded change.
pub const fn change_key(kind: ChangeKind) -> &'static str {
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
            format!("one reading more than {WIDTH:.0} standard deviations from the line")
        }
        SignalKind::RunAbove => format!("{RUN} readings in a row above the line"),
        SignalKind::RunBelow => format!("{RUN} readings in a row below the line"),
        SignalKind::AverageHigh => {
            "the weighted average of the readings above its limit".to_owned()
        }
        SignalKind::AverageLow => "the weighted average of the readings below its limit".to_owned(),
    }
}

/// A signal as a sentence: `P1 at 4 520 h: 9 readings in a row above the line.`
pub fn signal(station: StationId, signal: &Signal) -> String {
    format!("{station} at {}: {}.", numbers::whole_hours(signal.at_h), rule(signal.kind))
}

/// An unrecorded change as a sentence.
pub fn change(station: StationId, change: &Change, n: Numbers) -> String {
    let (before, after) = change.between_h;
    let when =
        format!("between {} and {}", numbers::whole_hours(before), numbers::whole_hours(after));
    let step = format!("{} {}", n.estimate(change.step_mm.abs()), n.unit_name());
    let (was, is) = (n.rate(change.rate_before), n.rate(change.rate_after));
    match change.kind {
        ChangeKind::Fell => {
            format!("The gap at {station} fell by {step} {when}, and no work is recorded.")
        }
        ChangeKind::Rose => {
            format!("The gap at {station} opened by {step} {when}, and no work is recorded.")
        }
        ChangeKind::Faster | ChangeKind::Slower => {
            format!("Growth at {station} went from {was} to {is} {when}, and no work is recorded.")
        }
    }
}

/// What a second opinion adds; `None` while it agrees.
pub fn second_opinion(station: StationId, it: &SecondOpinion, n: Numbers) -> Option<String> {
    if it.agrees {
        return None;
    }
    let (low, high) = (n.rate(it.line.low), n.rate(it.line.high));
    let who = match it.apart.len() {
        0 => "no single reading stands out".to_owned(),
        1 => "one reading stands apart".to_owned(),
        count => format!("{count} readings stand apart"),
    };
    Some(format!(
        "A line that a few wild readings cannot sway gives {station} {low} to {high}; {who}."
    ))
}

/// Whether sets grow alike, as a sentence.
pub fn comparison(what: &str, it: &Comparison, n: Numbers) -> String {
    if it.p < 1e-4 {
        format!("{what} do not grow alike (a chance under 1 in 10 000 if they did).")
    } else if it.p < 0.05 {
        let word = if it.p < 0.01 { "do not" } else { "may not" };
        format!("{what} {word} grow alike (a chance of 1 in {:.0} if they did).", 1.0 / it.p)
    } else {
        format!("{what} may well grow alike, at {}.", n.rate(it.common_rate))
    }
}
