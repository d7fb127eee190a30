//! A shift's heat in words: temperatures, colours, what closes and when.
//!
//! Everything here is an estimate and says so. Temperatures are whole degrees, times are to the
//! minute.

use crate::{
    brief::{Numbers, words},
    domain::{
        heat::{Colour, ColourBand, Event, EventKind, Loop, Model, NetworkFault, Shift},
        machine::{LineId, Shear, StationId},
    },
};

/// Why a number from the model is not a measurement.
pub const ESTIMATE: &str =
    "An estimate from a simple model: friction, cooling and expansion are known poorly.";

/// What a seen colour tells, and does not.
pub const COLOUR_CAVEAT: &str = "Tables of temper colours disagree by 20 °C and more. Steel held \
     hot for long colours as if it had been hotter, alloyed steel as if it had been cooler.";

/// A temper colour.
pub const fn colour(colour: Option<Colour>) -> &'static str {
    match colour {
        None => "no colour",
        Some(Colour::Straw) => "straw",
        Some(Colour::Brown) => "brown",
        Some(Colour::Purple) => "purple",
        Some(Colour::Blue) => "blue",
        Some(Colour::Grey) => "grey",
    }
}

/// What a seen colour tells about a face: `Blue is about 285–340 °C.`
pub fn band(band: &ColourBand) -> String {
    let name = words::capital(colour(Some(band.colour)));
    match band.high_c {
        Some(high) => format!("{name} is about **{}–{}**.", degrees(band.low_c), celsius(high)),
        None => format!("{name} is about **{}** or more.", celsius(band.low_c)),
    }
}

/// What the hot gap then was, from the two bounds of how far it had closed.
pub fn left(cold: f64, (low, high): (f64, f64)) -> &'static str {
    match (cold <= low, cold <= high) {
        (true, _) => "the faces touched, this gap is too tight hot",
        (false, true) => "the faces may have touched, evidence for too tight a hot gap",
        (false, false) => "it stayed open, so look for another cause of the heat as well",
    }
}

/// A calculated temperature without its unit: `306`.
pub fn degrees(c: f64) -> String {
    let text = format!("{:.0}", c.abs());
    if c < 0.0 && text != "0" { format!("−{text}") } else { text }
}

/// A calculated temperature: `306 °C`.
pub fn celsius(c: f64) -> String {
    format!("{}\u{a0}°C", degrees(c))
}

/// A time of the shift: `2 h 40`.
pub fn hour(hour: f64) -> String {
    let minutes = (hour * 60.0).round().max(0.0);
    let (hours, minutes) = ((minutes / 60.0).floor(), minutes.rem_euclid(60.0));
    format!("{hours:.0}\u{a0}h\u{a0}{minutes:02.0}")
}

/// What happened, as a phrase: `faces touch`.
pub fn event(kind: EventKind) -> String {
    match kind {
        EventKind::Loaded => "faces rub".to_owned(),
        EventKind::Touching => "faces touch".to_owned(),
        EventKind::Coloured(it) => colour(Some(it)).to_owned(),
        EventKind::Passed(c) => format!("past {}", celsius(c)),
    }
}

/// Why a network cannot be calculated, as a sentence.
pub fn fault(fault: &NetworkFault) -> String {
    let text = words::capital(&fault.to_string());
    if text.ends_with('.') { text } else { text + "." }
}

/// Whether the loop of gap, force and heat settles.
pub fn settles(gain: Loop, shift: &Shift) -> String {
    if gain.settles() {
        return format!(
            "The loop of gap, force and heat settles: gain {:.2}, headroom {:.2}.",
            gain.beta,
            gain.headroom()
        );
    }
    let passed = shift.events.iter().find(|it| matches!(it.kind, EventKind::Passed(_)));
    match passed {
        Some(Event { hour: at, station, kind: EventKind::Passed(c) }) => format!(
            "It never settles (gain {:.2}): at {station} the face passes {} after {}.",
            gain.beta,
            celsius(*c),
            hour(*at)
        ),
        _ => format!(
            "It never settles (gain {:.2}): while the faces are loaded they grow hotter without \
             end; this shift is over before they pass 600\u{a0}°C.",
            gain.beta
        ),
    }
}

/// One line of a summary: where it is hottest at the end of the shift.
#[derive(Clone, Debug, PartialEq)]
pub struct LineHeat {
    /// The line.
    pub line: LineId,
    /// Its hottest station.
    pub station: StationId,
    /// The sentence.
    pub text: String,
}

/// Each line's hottest station in a shift, hottest line first.
pub fn lines(shear: &Shear, model: &Model, shift: &Shift, n: Numbers) -> Vec<LineHeat> {
    let mut told: Vec<(f64, LineHeat)> = shear
        .lines
        .iter()
        .filter_map(|line| {
            let (hottest, station) = shift
                .samples
                .iter()
                .flat_map(|sample| &sample.contacts)
                .filter(|at| at.station.line == line.id)
                .map(|at| (at.face_c, at.station))
                .max_by(|a, b| a.0.total_cmp(&b.0))?;
            let contact = model.contact(station)?;
            let cold = model.network.contacts.get(contact)?.cold_gap_mm;
            let least = shift
                .samples
                .iter()
                .map(|sample| model.hot_gap_mm(sample, contact))
                .fold(f64::INFINITY, f64::min);
            let text = format!(
                "{station} {}: cold gap {}, face up to {} ({}), hot gap down to {} {}.{}",
                line.place,
                n.estimate(cold),
                celsius(hottest),
                colour(crate::domain::heat::colour_at(hottest)),
                n.estimate(least),
                n.unit_name(),
                story(shift, station)
            );
            Some((hottest, LineHeat { line: line.id, station, text }))
        })
        .collect();
    told.sort_by(|a, b| b.0.total_cmp(&a.0));
    told.into_iter().map(|(_, it)| it).collect()
}

/// ` Faces rub from 0 h 00, straw after 1 h 10, …`, or nothing.
fn story(shift: &Shift, station: StationId) -> String {
    let events: Vec<String> = shift
        .events
        .iter()
        .filter(|it| it.station == station)
        .map(|it| format!("{} from {}", event(it.kind), hour(it.hour)))
        .collect();
    if events.is_empty() {
        String::new()
    } else {
        format!(" {}.", words::capital(&events.join(", ")))
    }
}

/// The advice of a lowest cold gap.
pub fn lowest_gap(
    line: LineId,
    place: &str,
    lowest: Option<f64>,
    face_c: f64,
    n: Numbers,
) -> String {
    match lowest {
        Some(mm) => format!(
            "Set at least {} {} at {line} ({place}) for this work: the faces then stay below {} \
             and the gap stays open hot.",
            n.estimate(mm),
            n.unit_name(),
            celsius(face_c)
        ),
        None => format!(
            "For this work no gap at {line} ({place}) keeps the faces below {} and open hot.",
            celsius(face_c)
        ),
    }
}

/// Where the cold gaps come from.
pub fn gaps_from(assumed: &[StationId]) -> String {
    if assumed.is_empty() {
        return "Cold gaps as measured last.".to_owned();
    }
    let list = assumed.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    format!("Cold gaps as measured last; not known, so the middle of the set range: {list}.")
}

#[test]
fn times_and_temperatures_are_written_for_the_eye() {
    assert_eq!(hour(2.666_7), "2\u{a0}h\u{a0}40");
    assert_eq!(hour(0.999_9), "1\u{a0}h\u{a0}00");
    assert_eq!(celsius(-0.4), "0\u{a0}°C");
    assert_eq!(celsius(-12.3), "−12\u{a0}°C");
}
