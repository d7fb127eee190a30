//! A trend for a terminal, in the words of `brief`.

use crate::{
    brief::{self, Numbers, signal, words},
    cli::trend::{ToLimit, Told, Worn},
    domain::{
        machine::Shear,
        quantity::Length,
        trend::{Region, Which},
        yard::Machine,
    },
    language,
};
use std::fmt::Write as _;

/// The trend of some stations of one machine.
pub(crate) fn stations(machine: &Machine, told: &[Told], confidence: f64, n: Numbers) -> String {
    let mut out = String::new();
    let shear = &machine.shear;
    let sure = brief::numbers::confidence(confidence);
    put(&mut out, format_args!("{} · growth at 20 °C, {sure} intervals", shear.name));
    if let Some(note) = brief::trend::backwards(&machine.history, n) {
        put(&mut out, format_args!("{note}"));
    }
    for it in told {
        station(&mut out, shear, it, n);
    }
    out
}

/// The trend of every wear mark of one machine.
pub(crate) fn marks(machine: &Machine, all: &[Worn], confidence: f64, n: Numbers) -> String {
    let mut out = String::new();
    let sure = brief::numbers::confidence(confidence);
    put(&mut out, format_args!("{} · growth of wear marks, {sure} intervals", machine.shear.name));
    if all.is_empty() {
        put(&mut out, format_args!("Nobody has measured a wear mark yet."));
    }
    for (trend, limit) in all {
        for line in brief::marks::growth(trend, (*limit, confidence), &machine.shear, n) {
            put(&mut out, format_args!("{line}"));
        }
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
    put(out, format_args!("{name}: {rate} {}", brief::inside::rests_on(trend, fit, n)));
    if let Some((least, largest)) = fit.inside().map(Region::rates) {
        put(out, format_args!("    {}", n.lines_inside(least, largest)));
    }
    for ToLimit { to, drawn, .. } in hours {
        let (large, quiet) = n.ahead(Some(to));
        let limit = Length::from_mm(to.limit_mm).map_or_else(String::new, |it| n.length(it));
        let when = format!("{large} {quiet}");
        put(out, format_args!("    {} {limit}: {}", limit_name(to.which), when.trim_end()));
        if let Some(exact) = to.exact_h.filter(|(first, _)| !to.passed && *first < n.far()) {
            put(out, format_args!("      every such line meets it {}", n.exactly(exact)));
        }
        if let Some(drawn) = drawn {
            put(out, format_args!("      {}", n.drawn_again(drawn)));
        }
    }
    for note in brief::trend::note(trend, n).into_iter().chain(brief::trend::shrinks(trend, n)) {
        put(out, format_args!("    {note}"));
    }
    for change in &trend.changes {
        put(out, format_args!("    {}", signal::change(trend.station, change, n)));
        put(out, format_args!("      {}", language::told(signal::THROUGH_A_BREAK)));
    }
    for it in trend.chart().iter().flat_map(|it| &it.signals) {
        put(out, format_args!("    {}", signal::signal(trend.station, it, n)));
    }
    let second = trend.second_opinion();
    if let Some(words) = second.and_then(|it| signal::second_opinion(trend, &it, n)) {
        put(out, format_args!("    {words}"));
    }
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
