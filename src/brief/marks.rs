//! Wear marks, told: what was measured, the limit, and how it grows.

use crate::{
    brief::{Numbers, numbers},
    domain::{decide::MarkState, log::MarkKind, machine::Shear, quantity::Length},
};

/// `The lower primary blade: edge radius **2.4 mm**, over **2 mm**.`
pub(crate) fn beyond(
    name: &str,
    kind: MarkKind,
    (value, limit): (Length, Length),
    n: Numbers,
) -> String {
    let (what, side) = match kind {
        MarkKind::EdgeRadius => ("edge radius", "over"),
        MarkKind::Thickness => ("thickness", "under"),
        MarkKind::TipWear => ("wear against the template", "over"),
    };
    format!("The {name}: {what} **{}**, {side} **{}**.", n.length_unit(value), n.length_unit(limit))
}

/// `Edge radius of the lower primary blade **1.4 mm**, at most 2 mm; it grows 12.5 µm/h, about
/// 48 h left.`
pub fn tell(mark: &MarkState, shear: &Shear, n: Numbers) -> String {
    let name = shear.blade(&mark.blade).map_or(mark.blade.0.as_str(), |blade| &blade.name);
    let what = match mark.kind {
        MarkKind::EdgeRadius => "Edge radius of",
        MarkKind::Thickness => "Thickness of",
        MarkKind::TipWear => "Template wear of",
    };
    let side = if mark.kind == MarkKind::Thickness { "at least" } else { "at most" };
    let limit = mark.limit.map_or_else(
        || "no limit is noted in the machine's file".to_owned(),
        |limit| format!("{side} {}", n.length_unit(limit)),
    );
    let rate = mark.rate_mm_per_h.map_or_else(String::new, |rate| {
        let verb = if rate < 0.0 { "loses" } else { "grows" };
        format!("; it {verb} {}", n.rate(rate.abs()))
    });
    let left = mark.hours_to_limit.map_or_else(String::new, |hours| {
        let whole = |h: f64| numbers::whole_hours(h);
        let interval = match (hours.low_h, hours.high_h) {
            (Some(low), Some(high)) => format!(" ({} to {})", whole(low), whole(high)),
            (Some(low), None) => format!(" ({} or more)", whole(low)),
            _ => String::new(),
        };
        format!(", about **{}** left{interval}", whole(hours.estimate_h))
    });
    format!("{what} the {name} **{}**, {limit}{rate}{left}.", n.length_unit(mark.value))
}
