//! A trend for a terminal, in the words of `brief`.

use crate::{
    brief::{self, Numbers, signal, words},
    cli::trend::{ToLimit, Told},
    domain::{
        machine::Shear,
        quantity::Length,
        trend::{HoursTo, Region, Which},
        yard::Machine,
    },
};
use std::fmt::Write as _;

/// The trend of some stations of one machine.
pub(crate) fn stations(machine: &Machine, told: &[Told], confidence: f64, n: Numbers) -> String {
    let mut out = String::new();
    let shear = &machine.shear;
    let percent = confidence * 100.0;
    put(&mut out, format_args!("{} · growth at 20 °C, {percent:.0} % intervals", shear.name));
    if let Some(note) = brief::trend::backwards(&machine.history, n) {
        put(&mut out, format_args!("{note}"));
    }
    for it in told {
        station(&mut out, shear, it, n);
    }
    out
}

fn station(out: &mut String, shear: &Shear, told: &Told, n: Numbers) {
    let Told { trend, hours } = told;
    let name = format!("{} {}", trend.station, words::station(shear, trend.station));
    let fit = match &trend.fit {
        Ok(fit) => fit,
        Err(why) => return put(out, format_args!("{name}: {why}.")),
    };
    let rate = n.rate(fit.rate());
    let count = trend.observations.len();
    put(out, format_args!("{name}: {rate} from {count} readings"));
    if let Some((least, largest)) = fit.inside().map(Region::rates) {
        let (least, largest) = (n.rate(least), n.rate(largest));
        put(
            out,
            format_args!("    every straight line from {least} to {largest} fits all of them"),
        );
    }
    for ToLimit { to, drawn, .. } in hours {
        let (large, quiet) = n.ahead(Some(to));
        let limit = Length::from_mm(to.limit_mm).map_or_else(String::new, |it| n.length(it));
        let when = format!("{large} {quiet}{}", passed_since(to, n));
        put(out, format_args!("    {} {limit}: {}", limit_name(to.which), when.trim_end()));
        if let Some(exact) = to.exact_h.filter(|_| !to.passed) {
            put(
                out,
                format_args!("      every such line meets it {}", brief::along::between(exact, n)),
            );
        }
        if let Some(drawn) = drawn {
            let end = |h: Option<f64>| h.map_or_else(|| "never".to_owned(), |h| n.along(h));
            let (low, high) = (end(drawn.low_h), end(drawn.high_h));
            put(out, format_args!("      drawn again {} times: {low} to {high}", drawn.draws));
        }
    }
    for note in brief::trend::note(trend, n).into_iter().chain(brief::trend::shrinks(trend, n)) {
        put(out, format_args!("    {note}"));
    }
    for change in trend.unrecorded() {
        put(out, format_args!("    {}", signal::change(trend.station, &change, n)));
        put(out, format_args!("      {}", signal::THROUGH_A_BREAK));
    }
    for it in trend.chart().iter().flat_map(|it| &it.signals) {
        put(out, format_args!("    {}", signal::signal(trend.station, it, n)));
    }
    let second = trend.second_opinion();
    if let Some(words) = second.and_then(|it| signal::second_opinion(trend, &it, n)) {
        put(out, format_args!("    {words}"));
    }
}

/// How long ago the line passed a limit; nothing while it has not, or only just has.
fn passed_since(to: &HoursTo, n: Numbers) -> String {
    let since = to.estimate_h.filter(|estimate| to.passed && *estimate < -0.5);
    since.map_or_else(String::new, |at| format!("; by its line it passed {} ago", n.along(-at)))
}

const fn limit_name(which: Which) -> &'static str {
    match which {
        Which::SetMax => "upper end of the set range",
        Which::WorkingMax => "upper working limit",
        Which::StopMax => "upper stop limit",
        Which::WorkingMin => "lower working limit",
        Which::StopMin => "lower stop limit",
        Which::Asked => "the limit you asked for",
    }
}

fn put(out: &mut String, line: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _never = writeln!(out, "{line}");
}
