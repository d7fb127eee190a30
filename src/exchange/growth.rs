//! How fast gaps grow, as a table that other programs read.
//!
//! One row for each station and stretch between interventions; numbers keep every digit, and what
//! nobody knows is left empty.

use crate::domain::{
    decide::{LineDecision, MachineDecision, StationState},
    machine::Shear,
    trend::{CONFIDENCE, Fit, HoursTo, Segment},
};
use csv::{Writer, WriterBuilder};

const HEAD: [&str; 19] = [
    "shear",
    "line",
    "station",
    "from_h",
    "to_h",
    "readings",
    "rate_mm_per_h",
    "rate_low_mm_per_h",
    "rate_high_mm_per_h",
    "confidence",
    "intercept_mm",
    "sigma_mm",
    "limit",
    "limit_mm",
    "hours_to_limit_h",
    "hours_low_h",
    "hours_high_h",
    "through_break_h",
    "why_not",
];

/// The growth of every station of a machine; hours to a limit stand in the row of the newest
/// stretch.
pub fn growth_table(shear: &Shear, decision: &MachineDecision) -> String {
    let mut rows = WriterBuilder::new().from_writer(Vec::new());
    // Writing to memory cannot fail, and every row has the head's length.
    let _never = rows.write_record(HEAD);
    for line in &decision.lines {
        for state in &line.stations {
            station(&mut rows, shear, (line, state));
        }
    }
    let bytes = rows.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

fn station(
    rows: &mut Writer<Vec<u8>>,
    shear: &Shear,
    (line, state): (&LineDecision, &StationState),
) {
    let names = [shear.id.to_string(), line.line.to_string(), state.station.to_string()];
    let mut put = |values: [String; 16]| {
        let _never = rows.write_record(names.iter().chain(&values));
    };
    let fit = match &state.trend.fit {
        Ok(fit) => fit,
        Err(why) => {
            let mut values: [String; 16] = std::array::from_fn(|_| String::new());
            if let Some(last) = values.last_mut() {
                *last = why.to_string();
            }
            return put(values);
        }
    };
    for (place, segment) in fit.segments.iter().enumerate() {
        let newest = place + 1 == fit.segments.len() && !state.trend.superseded;
        put(stretch(fit, segment, state.hours.as_ref().filter(|_| newest)));
    }
}

fn stretch(fit: &Fit, segment: &Segment, hours: Option<&HoursTo>) -> [String; 16] {
    let number = |value: f64| value.to_string();
    let maybe = |value: Option<f64>| value.map_or_else(String::new, number);
    let ends = fit.factor(CONFIDENCE).map(|factor| segment.told.rates(factor));
    [
        number(segment.from_h),
        number(segment.to_h),
        segment.n.to_string(),
        number(segment.rate),
        maybe(ends.map(|(low, _)| low)),
        maybe(ends.map(|(_, high)| high)),
        number(CONFIDENCE),
        number(segment.intercept_mm),
        number(fit.sigma_mm),
        hours.map_or_else(String::new, |it| it.which.key().to_owned()),
        maybe(hours.map(|it| it.limit_mm)),
        maybe(hours.and_then(|it| it.estimate_h)),
        maybe(hours.and_then(|it| it.low_h)),
        maybe(hours.and_then(|it| it.high_h)),
        maybe(hours.and_then(|it| it.through_break_h)),
        String::new(),
    ]
}
