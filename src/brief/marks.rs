//! Wear marks, told: what was measured, the limit, and how it grows.

use crate::{
    brief::{Numbers, fault::number, numbers, words},
    domain::{
        decide::{MarkState, MarkVerdict},
        log::{MARK_STEP, MarkFault, MarkKind},
        machine::Shear,
        quantity::{Length, LengthUnit},
        trend::{HoursTo, MarkTrend},
    },
    language::{self, tell},
};

/// `The lower primary blade: edge radius **2.4 mm**, over **2 mm**.`
pub(crate) fn beyond(
    name: &str,
    kind: MarkKind,
    (value, limit): (Length, Length),
    n: Numbers,
) -> String {
    let (what, side) =
        (name_of(kind), if kind == MarkKind::Thickness { tell!("under") } else { tell!("over") });
    tell!(
        "The {name}: {what} **{value}**, {side} **{limit}**.",
        name,
        what,
        value = n.length_unit(value),
        side,
        limit = n.length_unit(limit)
    )
}

/// `The lower primary blade: edge radius **1.9 mm** nears **2 mm**, about **6 h** left (4 to 9).
/// Plan the work.`
pub(crate) fn soon(
    name: &str,
    kind: MarkKind,
    (value, limit): (Length, Length),
    hours: &HoursTo,
    n: Numbers,
) -> String {
    let what = name_of(kind);
    let (value, limit) = (n.length_unit(value), n.length_unit(limit));
    tell!(
        "The {name}: {what} **{value}** nears **{limit}**{hours}. Plan the work.",
        name,
        what,
        value,
        limit,
        hours = left(hours)
    )
}

/// How finely marks are read, under their plot.
pub fn how_read(n: Numbers) -> String {
    tell!(
        "Limit from the machine's file. A mark is read to {read_to}, a judgement: a bar is what one can mean.",
        read_to = read_to(n)
    )
}

/// A mark's growth and its forecast for a terminal: one line, and one for its limit.
pub fn growth(
    trend: &MarkTrend,
    (limit, confidence): (Option<Length>, f64),
    shear: &Shear,
    n: Numbers,
) -> Vec<String> {
    let name = shear
        .blade(&trend.blade)
        .map_or(trend.blade.0.as_str(), |blade| language::known(&blade.name));
    let name = format!("{}, {}", words::capital(name), name_of(trend.kind));
    let count = match trend.seen.len() {
        1 => tell!("1 mark").to_owned(),
        count => tell!("{count} marks", count),
    };
    let rate = match (&trend.fit, trend.superseded) {
        (Err(why), _) => {
            return vec![format!("{name}: {}.", language::understood(&why.to_string()))];
        }
        (Ok(_), true) => {
            return vec![tell!(
                "{name}: not measured since it was renewed ({count} before).",
                name,
                count
            )];
        }
        (Ok(fit), false) => n.rate(fit.rate()),
    };
    let mut lines = vec![tell!(
        "{name}: {rate} from {count}, each read to {read_to}.",
        name,
        rate,
        count,
        read_to = read_to(n)
    )];
    if let Some((limit, hours)) = limit.zip(limit.and_then(|it| trend.hours_to(it, confidence))) {
        let (large, quiet) = n.ahead(Some(&hours));
        let side =
            if trend.kind == MarkKind::Thickness { tell!("at least") } else { tell!("at most") };
        let when = format!("{large} {quiet}");
        lines.push(format!("    {side} {}: {}", n.length(limit), when.trim_end()));
    }
    lines
}

fn read_to(n: Numbers) -> String {
    n.length_unit(MARK_STEP)
}

/// Why what was typed cannot be taken, and what to do.
pub fn fault(fault: &MarkFault, n: Numbers) -> String {
    match fault {
        MarkFault::Number(err) => {
            let example = match n.unit {
                LengthUnit::Millimetre => "1.4",
                LengthUnit::Inch => ".055",
            };
            number(err, tell!("what you measured"), example)
        }
        MarkFault::Nothing => {
            tell!("Nothing is no wear mark. Leave the field empty instead.").to_owned()
        }
        MarkFault::TooMuch { typed, depth } => tell!(
            "{typed} is more than the blade is thick when new, {depth}. Check the unit and type it again.",
            typed = n.length_unit(*typed),
            depth = n.length_unit(*depth)
        ),
    }
}

/// What a kind of mark is called.
pub fn name_of(kind: MarkKind) -> &'static str {
    match kind {
        MarkKind::EdgeRadius => tell!("edge radius"),
        MarkKind::Thickness => tell!("thickness"),
        MarkKind::TipWear => tell!("wear against the template"),
    }
}

/// `, about **48 h** left (40 to 60)`; nothing where the line does not run towards the limit.
fn left(hours: &HoursTo) -> String {
    let whole = |h: f64| numbers::whole_hours(h.max(0.0));
    if hours.passed {
        return tell!(", and its trend is there already").to_owned();
    }
    let interval = match (hours.low_h, hours.high_h) {
        (Some(low), Some(high)) => {
            tell!(" ({low} to {high})", low = whole(low), high = whole(high))
        }
        (Some(low), None) => tell!(" ({low} or more)", low = whole(low)),
        _ => String::new(),
    };
    match hours.estimate_h {
        Some(estimate) => {
            tell!(", about **{whole}** left{interval}", whole = whole(estimate), interval)
        }
        None => String::new(),
    }
}

/// `Edge radius of the lower primary blade **1.4 mm**, at most 2 mm; it grows 12.5 µm/h, about
/// 48 h left.`
pub fn tell(mark: &MarkState, shear: &Shear, n: Numbers) -> String {
    let name = shear
        .blade(&mark.blade)
        .map_or(mark.blade.0.as_str(), |blade| language::known(&blade.name));
    let what = match mark.kind {
        MarkKind::EdgeRadius => tell!("Edge radius of"),
        MarkKind::Thickness => tell!("Thickness of"),
        MarkKind::TipWear => tell!("Template wear of"),
    };
    let side = if mark.kind == MarkKind::Thickness { tell!("at least") } else { tell!("at most") };
    let limit = mark.limit.map_or_else(
        || tell!("no limit is noted in the machine's file").to_owned(),
        |limit| format!("{side} {}", n.length_unit(limit)),
    );
    let rate = mark.trend.rate_mm_per_h().map_or_else(String::new, |rate| {
        let verb = if rate < 0.0 { tell!("loses") } else { tell!("grows") };
        tell!("; it {verb} {rate}", verb, rate = n.rate(rate.abs()))
    });
    let inside = mark.verdict != Some(MarkVerdict::Beyond);
    let left = mark.hours.filter(|_| inside).map_or_else(String::new, |hours| left(&hours));
    let soon = if mark.verdict == Some(MarkVerdict::Soon) {
        tell!(" Soon there: plan the work.")
    } else {
        ""
    };
    tell!(
        "{what} the {name} **{mark}**, {limit}{rate}{left}.{soon}",
        what,
        name,
        mark = n.length_unit(mark.value),
        limit,
        rate,
        left,
        soon
    )
}
