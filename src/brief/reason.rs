//! Facts behind an action, as sentences with their numbers and their source.

use crate::{
    brief::{Numbers, numbers, words},
    domain::{
        decide::Reason,
        machine::{BladeId, Line, LineId, Shear, StationId},
        quantity::Length,
        shims::Shortfall,
        verdict::Way,
    },
};

/// One reason, told.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// The sentence, weighty numbers between double asterisks.
    pub text: String,
    /// The value it rests on, in mm, if it is a length.
    pub value_mm: Option<f64>,
    /// The limit it is held against, in mm.
    pub limit_mm: Option<f64>,
    /// The table or rule it comes from.
    pub source: String,
}

/// Tells a reason.
pub fn tell(reason: &Reason, shear: &Shear, line: &Line, n: Numbers) -> Told {
    let limits = || format!("Limits table, row {} · {}", words::line(line), line.limits.source());
    let at = |station: &Option<u8>| place_of(line.id, *station);
    let mm = |length: Length| Some(length.mm());
    let told = |text: String, value_mm, limit_mm, source: String| Told {
        text,
        value_mm,
        limit_mm,
        source,
    };
    match reason {
        Reason::BeyondStop { station, cold, limit, way, sure } => {
            let verb = beyond(*way, *sure);
            let text = format!(
                "{station} **{}** {verb} the stop limit **{}**.",
                n.range(*cold),
                n.length(*limit)
            );
            told(text, mm(cold.middle().unwrap_or_else(|| cold.go())), mm(*limit), limits())
        }
        Reason::BeyondWorking { station, cold, limit, way, sure } => {
            let verb = beyond(*way, *sure);
            let text = format!(
                "{station} **{}** {verb} the working limit **{}**.",
                n.range(*cold),
                n.length(*limit)
            );
            told(text, mm(cold.middle().unwrap_or_else(|| cold.go())), mm(*limit), limits())
        }
        Reason::HotContact { station, hot_mm } => told(
            format!(
                "Hot gap at {station} about **{}**: at working temperature the faces touch.",
                n.estimate(*hot_mm)
            ),
            Some(*hot_mm),
            Some(0.0),
            "Expansion chain at the working temperatures in the machine's file".to_owned(),
        ),
        Reason::HotTight { station, hot_mm, limit } => told(
            format!(
                "Hot gap at {station} about **{}**, under the smallest hot gap **{}**.",
                n.estimate(*hot_mm),
                n.length(*limit)
            ),
            Some(*hot_mm),
            mm(*limit),
            limits(),
        ),
        Reason::Soon { station, cold, limit, rate_mm_per_h, hours } => {
            let (large, quiet) = numbers::hours_to(Some(hours));
            let text = format!(
                "{station} **{}** nears the working limit **{}**: grows **{}**, about **{large}** \
                 left ({quiet}).",
                n.range(*cold),
                n.length(*limit),
                n.rate(*rate_mm_per_h)
            );
            let source = format!("{} · trend, 80 % interval", limits());
            told(text, mm(cold.middle().unwrap_or_else(|| cold.go())), mm(*limit), source)
        }
        Reason::Cracks { station, at: hours } => told(
            format!(
                "Surface cracks seen{} at {}. A cracked blade can break in pieces.",
                at(station),
                numbers::meter(*hours)
            ),
            None,
            None,
            "Finding · rule: cracks stop the machine".to_owned(),
        ),
        Reason::Chipped { station, size } => {
            let size_text =
                size.map_or(String::new(), |size| format!(", **{}** long", n.dimension(size)));
            told(
                format!("Chipped edge{}{size_text}.", at(station)),
                size.map(Length::mm),
                None,
                "Finding · rule: a chipped edge is turned away".to_owned(),
            )
        }
        Reason::EdgeWorn { blade, hours, table, at_least } => {
            let at_least = if *at_least { "at least " } else { "" };
            told(
                format!(
                    "The edge in use on the {} has done {at_least}**{}** of {}.",
                    blade_name(shear, blade),
                    numbers::whole_hours(hours.h()),
                    numbers::whole_hours(table.h())
                ),
                None,
                None,
                "Edge hours in the machine's file".to_owned(),
            )
        }
        other => tell_more(other, shear, line, n),
    }
}

fn tell_more(reason: &Reason, shear: &Shear, line: &Line, n: Numbers) -> Told {
    let limits = || format!("Limits table, row {} · {}", words::line(line), line.limits.source());
    let told = |text: String, value_mm, limit_mm, source: String| Told {
        text,
        value_mm,
        limit_mm,
        source,
    };
    let mm = |length: Length| Some(length.mm());
    match reason {
        Reason::NoFreshEdge { blade } => told(
            format!("No fresh edge is left on the {}.", blade_name(shear, blade)),
            None,
            None,
            "Edges used, from the log".to_owned(),
        ),
        Reason::CannotShim { blade, why } => {
            let (text, value_mm, limit_mm) = shortfall(*why, blade_name(shear, blade), n);
            told(text, value_mm, limit_mm, "Shim search over pack and shelf".to_owned())
        }
        Reason::NoPack { blade } => told(
            format!("The {} cannot be shimmed.", blade_name(shear, blade)),
            None,
            None,
            "Machine's file".to_owned(),
        ),
        Reason::Taper { by, limit } => told(
            format!(
                "The gaps along the line differ by **{}**, more than **{}**: taper. Shims along \
                 the whole blade cannot cure it.",
                n.length(*by),
                n.length(*limit)
            ),
            mm(*by),
            mm(*limit),
            limits(),
        ),
        Reason::JointStep { inner, outer, by, limit } => told(
            format!(
                "Step of **{}** at the joint between {inner} and {outer}, more than **{}**.",
                n.length(*by),
                n.length(*limit)
            ),
            mm(*by),
            mm(*limit),
            "Joint limit in the machine's file".to_owned(),
        ),
        Reason::SidePlay { station, play, against, gap } => told(
            format!(
                "Side play at {station} is **{}** or more, {against} has only **{}**: the blades \
                 can clash.",
                n.length(*play),
                n.length(*gap)
            ),
            mm(*play),
            mm(*gap),
            "Rule: side play at the pads stays below the smallest blade gap".to_owned(),
        ),
        Reason::Shrinks { station, rate_mm_per_h } => told(
            format!(
                "{station} shrinks by **{}**. That is never wear: look for a burr, a loose or \
                 lifted guide blade, dirt in the pack, or worn pads.",
                n.rate(-rate_mm_per_h)
            ),
            None,
            None,
            "Trend".to_owned(),
        ),
        Reason::Streak { kind, station } => told(
            format!(
                "{} seen{}: this face has been hot.",
                words::finding(kind),
                place_of(line.id, *station)
            ),
            None,
            None,
            "Finding".to_owned(),
        ),
        Reason::Trouble { kind, station } => told(
            format!("{} logged{}.", words::finding(kind), place_of(line.id, *station)),
            None,
            None,
            "Finding".to_owned(),
        ),
        Reason::JawSpread(spread) => told(
            format!(
                "The gaps either side of the tip together opened by **{}** between {} and {}, with \
                 no work recorded: the lower jaw has spread. Shims cannot cure that; a qualified \
                 welder must look at it.",
                n.estimate(spread.by_mm),
                numbers::meter(spread.from),
                numbers::meter(spread.to)
            ),
            Some(spread.by_mm),
            None,
            format!("Sum of {} and {}, from the log", spread.cutting, spread.guide),
        ),
        Reason::Stale => told(
            "Work has moved this gap since it was measured. Measure every station again."
                .to_owned(),
            None,
            None,
            "Log".to_owned(),
        ),
        Reason::NotMeasured(stations) => {
            told(format!("Not measured yet: {}.", list(stations)), None, None, "Log".to_owned())
        }
        Reason::Within { least, most, in_set_range } => {
            let (band, name) = if *in_set_range {
                (line.limits.set(), "the set range")
            } else {
                (line.limits.working(), "the working limits")
            };
            told(
                format!(
                    "All gaps **{}–{}**, inside {name} {}–{}.",
                    n.estimate(least.mm()),
                    n.estimate(most.mm()),
                    n.length(band.min),
                    n.length(band.max)
                ),
                mm(*most),
                mm(band.max),
                limits(),
            )
        }
        // Told by `tell`.
        Reason::BeyondStop { .. }
        | Reason::BeyondWorking { .. }
        | Reason::HotContact { .. }
        | Reason::HotTight { .. }
        | Reason::Soon { .. }
        | Reason::Cracks { .. }
        | Reason::Chipped { .. }
        | Reason::EdgeWorn { .. } => told(String::new(), None, None, String::new()),
    }
}

const fn beyond(way: Way, sure: bool) -> &'static str {
    match (way, sure) {
        (Way::Tight, true) => "is under",
        (Way::Tight, false) => "may be under",
        (Way::Wide, true) => "is over",
        (Way::Wide, false) => "may be over",
    }
}

fn place_of(line: LineId, station: Option<u8>) -> String {
    station.map_or_else(String::new, |number| format!(" at {line}{number}"))
}

fn list(stations: &[StationId]) -> String {
    stations.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}

/// A blade as a mechanic calls it.
pub fn blade_name<'a>(shear: &'a Shear, id: &'a BladeId) -> &'a str {
    shear.blade(id).map_or(id.0.as_str(), |blade| &blade.name)
}

fn shortfall(why: Shortfall, blade: &str, n: Numbers) -> (String, Option<f64>, Option<f64>) {
    match why {
        Shortfall::Tapered { by } => (
            format!(
                "No pack brings every station of the {blade} into range: it is tapered by **{}**.",
                n.length(by)
            ),
            Some(by.mm()),
            None,
        ),
        Shortfall::PackFull { needed, allowed } => (
            format!(
                "It would take a pack of **{}** behind the {blade}, **{}** is allowed.",
                n.length(needed),
                n.length(allowed)
            ),
            Some(needed.mm()),
            Some(allowed.mm()),
        ),
        Shortfall::PackEmpty => {
            (format!("No shim is left behind the {blade} to take out."), None, None)
        }
        Shortfall::ShelfCannot { wanted } => (
            format!(
                "The shelf has no shims that make **{}** behind the {blade}.",
                n.length(wanted)
            ),
            Some(wanted.mm()),
            None,
        ),
        Shortfall::NothingToGoBy => {
            (format!("No station in front of the {blade} was measured."), None, None)
        }
    }
}
