//! A line's trend, told: growth, hours left, what was done when, and what follows from it.
//!
//! Knows words and roundings; the lines themselves are drawn from the domain's own numbers.
//! Long because what a line says of itself is told in one place.

use crate::{
    brief::{
        Numbers, aside,
        decision::tell_line,
        event::{self, EventBrief, EventKind},
        head::Head,
        numbers, outlook, words,
    },
    domain::{
        decide::{Action, Job, LineDecision, MachineDecision, Reason, StationState, When},
        gauge::Bracket,
        log::{History, Observed, SessionId},
        machine::{Limits, LineId, Shear, StationId},
        quantity::Length,
        trend::{Axis, CONFIDENCE, Fit, HoursTo, Point, Reach, StationTrend, Which},
        verdict::VerdictKind,
        yard::Machine,
    },
    language::{self, tell},
};
use chrono::{DateTime, Utc};

/// One line's trend, told.
#[derive(Clone, Debug, PartialEq)]
pub struct TrendBrief {
    /// The line.
    pub line: LineId,
    /// Its place with a capital: `Secondary blades`.
    pub place: String,
    /// What the axis shows: `Cold gap at 20 °C, S secondary blades, mm`.
    pub axis: String,
    /// The head of the column with hours: `hours to 1.25`.
    pub hours_to: String,
    /// Each station, from the pivot outward.
    pub stations: Vec<StationBrief>,
    /// The station that leaves its working limits first, or the first one.
    pub worst: Option<StationId>,
    /// What was done on the line, oldest first.
    pub events: Vec<EventBrief>,
    /// What follows.
    pub advice: Advice,
    /// What is wrong with the hours themselves.
    pub hours_note: Option<String>,
    /// Along the axis in an hour of service; 1 where that is hours.
    pub per_hour: f64,
    /// Service hours now, or what else growth is counted against.
    pub now_h: f64,
    /// Service hours of the next look.
    pub next_look_h: f64,
}

/// One station's row in the table.
#[derive(Clone, Debug, PartialEq)]
pub struct StationBrief {
    /// Which.
    pub station: StationId,
    /// Where its newest reading lies; `None` before the first.
    pub verdict: Option<VerdictKind>,
    /// Growth without its unit: `5.4`.
    pub rate: String,
    /// Hours left, large and quiet: `10 h` and `5–16`.
    pub hours: (String, String),
    /// Service hours at which the limit is met: `4 822`.
    pub passes_at: String,
    /// Why there is no growth rate, or what it leaves out.
    pub note: Option<String>,
    /// The whole row in a sentence.
    pub spoken: String,
}

/// Growth between two interventions.
#[derive(Clone, Debug, PartialEq)]
pub struct SegmentBrief {
    /// `4 384–4 520`.
    pub span: String,
    /// Growth without its unit: `4.6`.
    pub rate: String,
    /// Growth in mm per hour.
    pub rate_mm_per_h: f64,
    /// The interval of it at [`CONFIDENCE`], in mm per hour.
    pub interval: [f64; 2],
}

/// What follows from a line's trend.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// What to do.
    pub action: Action,
    /// `Shim before cutting on`.
    pub title: String,
    /// Why, weighty numbers between double asterisks.
    pub text: String,
}

/// Tells the trend of one line; `None` if the machine has no such line.
pub fn tell(
    machine: &Machine,
    decision: &MachineDecision,
    line: LineId,
    n: Numbers,
) -> Option<TrendBrief> {
    let (shear, history) = (&machine.shear, &machine.history);
    let described = shear.line(line)?;
    let decided = decision.line(line)?;
    let ahead_h = (decision.next_look - decision.meter).h().max(0.0);
    let (now_h, per_hour) = now(history, n.per);
    let next_look_h = now_h + ahead_h * per_hour;
    let worst = decided.hours().map(|(station, _)| station);
    Some(TrendBrief {
        line,
        place: words::place(shear, line),
        axis: tell!(
            "Cold gap at 20 °C, {described}, {unit_name}",
            described = words::line(described),
            unit_name = n.unit_name()
        ),
        hours_to: hours_head(&decided.stations, n),
        stations: decided.stations.iter().map(|state| station(state, n)).collect(),
        worst: worst.or_else(|| decided.stations.first().map(|state| state.station)),
        events: event::events(history.cuts_on(line), shear, n),
        advice: advice(decided, shear, next_look_h, n),
        hours_note: backwards(history, n),
        per_hour,
        now_h,
        next_look_h,
    })
}

/// One line's trend at a glance, beside that of another line.
#[derive(Clone, Debug, PartialEq)]
pub struct Glance {
    /// Its place with a capital: `Secondary blades`.
    pub place: String,
    /// The station that leaves its working limits first, or the first one.
    pub worst: Option<StationId>,
    /// That station's row in a sentence.
    pub spoken: String,
    /// The newest thing that was done: service hours, and what.
    pub event: Option<(f64, EventKind)>,
}

/// Tells a line at a glance; `None` if the machine has no such line.
pub fn glance(
    machine: &Machine,
    decision: &MachineDecision,
    line: LineId,
    n: Numbers,
) -> Option<Glance> {
    let decided = decision.line(line)?;
    let worst = decided.hours().map(|(station, _)| station);
    let worst = worst.or_else(|| decided.stations.first().map(|state| state.station));
    let state = decided.stations.iter().find(|it| Some(it.station) == worst);
    Some(Glance {
        place: words::place(&machine.shear, line),
        worst,
        spoken: state.map_or_else(String::new, |state| {
            format!("{}: {}", state.station, station(state, n).spoken)
        }),
        event: event::newest(machine.history.cuts_on(line), n.per),
    })
}

/// Where the machine is now on the axis, and how much it does in an hour of service.
fn now(history: &History, per: Axis) -> (f64, f64) {
    if per == Axis::Hours {
        return (history.service_now().h(), 1.0);
    }
    let at = |it: &Observed| Some((it.at.h(), per.of(it.at, it.counters)?));
    let read = || history.readings.values().flatten().filter_map(at);
    let first = read().min_by(|a, b| a.0.total_cmp(&b.0));
    let last = read().max_by(|a, b| a.0.total_cmp(&b.0));
    match (first, last) {
        (None, _) | (_, None) => (history.service_now().h(), 1.0),
        (Some((from_h, from)), Some((to_h, to))) if from_h < to_h => {
            (to, (to - from) / (to_h - from_h))
        }
        (_, Some((_, to))) => (to, 0.0),
    }
}

fn hours_head(states: &[StationState], n: Numbers) -> String {
    let mut limits: Vec<f64> =
        states.iter().filter_map(|state| Some(state.hours.as_ref()?.limit_mm)).collect();
    limits.dedup();
    match limits.as_slice() {
        [limit] => tell!(
            "{along_word} to {limit}",
            along_word = n.along_word(),
            limit = n.estimate(*limit)
        ),
        _ => tell!("{along_word} to limit", along_word = n.along_word()),
    }
}

fn station(state: &StationState, n: Numbers) -> StationBrief {
    let trend = &state.trend;
    let rate = trend.fit.as_ref().ok().map(Fit::rate);
    let hours = if trend.superseded {
        ("–".to_owned(), tell!("measure again").to_owned())
    } else {
        n.ahead(state.hours.as_ref())
    };
    let passes_at = passes_at(trend, state.hours.as_ref(), n);
    let rate_said = rate.map_or_else(|| tell!("no growth rate yet").to_owned(), |it| n.rate(it));
    let verdict = state.verdict.map(|verdict| verdict.kind());
    let lies = match (&state.cold, verdict) {
        (Some(cold), Some(kind)) => {
            format!("{}, {}", n.between(cold.bracket), words::verdict(kind))
        }
        _ => tell!("not measured yet").to_owned(),
    };
    StationBrief {
        station: state.station,
        verdict,
        rate: rate.map_or_else(|| "–".to_owned(), |it| n.rate_value(it)),
        spoken: format!("{lies}; {rate_said}; {} {}", hours.0, hours.1).trim_end().to_owned(),
        hours,
        passes_at,
        note: note(trend, n),
    }
}

/// Sessions whose meter ran backwards, as a sentence; `None` if there are none.
pub fn backwards(history: &History, n: Numbers) -> Option<String> {
    let named = |id: &SessionId| history.sessions.iter().find(|it| it.id == *id);
    let days: Vec<String> =
        history.backwards.iter().filter_map(named).map(|it| n.moment(it.taken)).collect();
    let when = match days.as_slice() {
        [] => return None,
        [one] => one.clone(),
        [first, ..] => tell!("{first} and {days} more times", first, days = days.len() - 1),
    };
    Some(tell!(
        "The hour meter stood lower on {when} than at the visit before, and no change of meter is \
         recorded. No hours are counted in between: correct that visit, or write the change down.",
        when
    ))
}

/// What it means that a gap shrinks, as a sentence; `None` unless it surely does.
pub fn shrinks(trend: &StationTrend, n: Numbers) -> Option<String> {
    let fit = trend.fit.as_ref().ok()?;
    let (_, largest) = fit.rate_interval(CONFIDENCE)?;
    (largest < 0.0).then(|| {
        tell!(
            "The gap shrinks by {fit}. {never_wear}",
            fit = n.rate(-fit.rate()),
            never_wear = language::told(crate::brief::reason::NEVER_WEAR)
        )
    })
}

fn passes_at(trend: &StationTrend, hours: Option<&HoursTo>, n: Numbers) -> String {
    let (Ok(fit), Some(hours)) = (&trend.fit, hours) else { return "–".to_owned() };
    match hours.estimate_h {
        _ if hours.passed => tell!("passed").to_owned(),
        Some(ahead) if ahead < n.far() => numbers::hours_value(fit.last_h + ahead),
        _ => "–".to_owned(),
    }
}

/// Why there is no growth rate, or what it leaves out.
pub fn note(trend: &StationTrend, n: Numbers) -> Option<String> {
    let mut notes = Vec::new();
    if let Err(why) = &trend.fit {
        notes.push(tell!("No growth rate: {why}.", why = language::understood(&why.to_string())));
    } else if trend.superseded {
        notes.push(
            tell!("Work has moved this gap since the last reading. The growth is that before the work.")
                .to_owned(),
        );
    }
    if trend.fit.is_ok() && 0 < trend.left_out_open {
        let (readings, ends) =
            readings(trend.left_out_open, tell!("an open end"), tell!("open ends"));
        notes.push(tell!(
            "{readings} with {ends}: drawn, but not used for the line.",
            readings,
            ends
        ));
    }
    notes.extend(aside::note(trend, n));
    if trend.fit.is_ok() && 0 < trend.left_out_uncounted {
        let (readings, _) = readings(trend.left_out_uncounted, "", "");
        let word = n.along_word();
        notes.push(tell!(
            "{readings} of visits that did not read the {word} counter left out.",
            readings,
            word
        ));
    }
    if trend.fit.is_ok() && 0 < trend.left_out_unreferred {
        let (readings, _) = readings(trend.left_out_unreferred, "", "");
        notes.push(tell!("{readings} could not be referred to 20 °C and left out.", readings));
    }
    (!notes.is_empty()).then(|| notes.join(" "))
}

fn readings<'a>(count: usize, one: &'a str, more: &'a str) -> (String, &'a str) {
    if count == 1 {
        (tell!("One reading").to_owned(), one)
    } else {
        (tell!("{count} readings", count), more)
    }
}

/// Growth between interventions, oldest first; of a long log the newest `most`.
pub fn segments(trend: &StationTrend, most: usize, n: Numbers) -> Vec<SegmentBrief> {
    let Ok(fit) = &trend.fit else { return Vec::new() };
    let factor = fit.factor(CONFIDENCE).unwrap_or(0.0);
    let newest = fit.segments.len().saturating_sub(1);
    fit.segments
        .iter()
        .enumerate()
        .skip(fit.segments.len().saturating_sub(most))
        .map(|(place, segment)| {
            let from = numbers::hours_value(segment.from_h);
            let span = if place == newest && !trend.superseded {
                tell!("{from}–now", from)
            } else {
                format!("{from}–{}", numbers::hours_value(segment.to_h))
            };
            let (low, high) = segment.told.rates(factor);
            SegmentBrief {
                span,
                rate: n.rate_value(segment.rate),
                rate_mm_per_h: segment.rate,
                interval: [low, high],
            }
        })
        .collect()
}

fn advice(decision: &LineDecision, shear: &Shear, next_look_h: f64, n: Numbers) -> Advice {
    let brief = tell_line(decision, shear, n);
    let title = match (&decision.job, decision.when) {
        (Job::Measure, _) => brief.headline.clone(),
        (_, When::BeforeCuttingOn) => format!("{} {}", brief.action_word, brief.when),
        _ => format!("{}, {}", brief.action_word, brief.when),
    };
    // What nears its limit is said with its chance; anything else needs its own reason first.
    let first = decision.reasons.first();
    let says_it = matches!(first, Some(Reason::Soon { .. } | Reason::Within { .. }) | None);
    let mut text = Vec::new();
    if !says_it {
        text.extend(brief.reasons.first().map(|told| told.text.clone()));
    }
    text.extend(outlook::tell(&decision.stations, next_look_h, n));
    // A gap that shrinks is never wear; what else it can be belongs beside its line.
    let shrinks = decision.reasons.iter().position(|it| matches!(it, Reason::Shrinks { .. }));
    let told = shrinks.filter(|place| 0 < *place).and_then(|place| brief.reasons.get(place));
    text.extend(told.map(|told| told.text.clone()));
    Advice { action: decision.action, title, text: text.join(" ") }
}

/// The title of a page to be filed: `Heron, carrier 07, quay: growth at S4 (secondary blades)`.
pub fn filed(head: &Head, place: &str, (stations, what): (&str, &str)) -> String {
    let machine = [&head.machine, &head.carrier].map(String::as_str);
    let machine = machine.into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join(", ");
    tell!(
        "{machine}: {what} at {stations} ({place})",
        machine,
        what,
        stations,
        place = words::within(place)
    )
}

/// The line under it: which session it rests on, what the hour meter showed, and when it was made.
pub fn filed_under(head: &Head, now: DateTime<Utc>, n: Numbers) -> String {
    tell!(
        "Up to {session} of {taken}, hour meter {meter}. Made {now} by Gapwright; gaps in {unit_name} at 20 °C.",
        session = words::within(&head.session),
        taken = head.taken,
        meter = head.meter,
        now = n.day(now),
        unit_name = n.unit_name()
    )
}

/// Which way a limit is met.
pub const fn reach_of(which: Which) -> Reach {
    match which {
        Which::WorkingMin | Which::StopMin => Reach::Down,
        Which::SetMax | Which::WorkingMax | Which::StopMax | Which::Asked => Reach::Up,
    }
}

/// Hours to a limit beside its crossing: `in 10 h, 5–16`; `None` once it is passed or out of sight.
pub fn ahead(hours: &HoursTo, n: Numbers) -> Option<String> {
    hours.estimate_h.filter(|_| !hours.passed)?;
    let (large, quiet) = n.ahead(Some(hours));
    Some(tell!("in {large}, {quiet}", large, quiet))
}

/// A reading under the finger: `S4 at 4 760 h: between 1.05 and 1.10 mm`.
pub fn reading(station: StationId, point: &Point, n: Numbers) -> String {
    let at = n.along(point.at_h);
    let said =
        bracket_of(point).map_or_else(|| tell!("too large to show").to_owned(), |it| n.between(it));
    let aside = point.set_aside.as_ref().map_or_else(String::new, |why| aside::words(why));
    tell!("{station} at {at}: {said}{aside}", station, at, said, aside)
}

/// The point's bracket; a reading referred to 20 °C may have a floor below zero.
fn bracket_of(point: &Point) -> Option<Bracket> {
    let go = Length::from_mm(point.go_mm)?;
    let width = match point.no_go_mm {
        Some(no_go) => Some(Length::from_mm(no_go)? - go),
        None => None,
    };
    Some(Bracket::new(Length::ZERO, width).ok()?.shifted(go))
}

/// The limits of a line beside their bands, from the upper stop limit down: `stop 1.60`.
pub fn limit_words(limits: &Limits, n: Numbers) -> [String; 6] {
    let (set, working, stop) = (limits.set(), limits.working(), limits.stop());
    [
        (tell!("stop"), stop.max),
        (tell!("working"), working.max),
        (tell!("set"), set.max),
        (tell!("set"), set.min),
        (tell!("working"), working.min),
        (tell!("stop"), stop.min),
    ]
    .map(|(word, limit)| format!("{word} {}", n.length(limit)))
}

/// Where the limits come from, and how to match them: stands wherever limits are drawn.
pub fn limits_note(limits: &Limits) -> String {
    tell!(
        "Limits – {source}. {by_place}",
        source = language::known(limits.source()).trim_end_matches('.'),
        by_place = language::told(words::MATCH_BY_PLACE)
    )
}

/// The same along another axis, from the readings that lie on it.
pub fn counts_along(states: &[StationState], [from, to]: [f64; 2]) -> (usize, usize) {
    let inside = states.iter().map(|state| {
        let points = &state.trend.observations;
        points.iter().filter(|it| from <= it.at_h && it.at_h <= to).count()
    });
    (inside.clone().sum(), inside.max().unwrap_or(0))
}

/// How many readings of how many sessions lie between two service hours: `216` and `54`.
pub fn counts(history: &History, line: LineId, [from_h, to_h]: [f64; 2]) -> (usize, usize) {
    let from = history.service.partition_point(|it| it.h() < from_h);
    let to = history.service.partition_point(|it| it.h() <= to_h);
    let (mut readings, mut sessions) = (0, 0);
    for session in history.sessions.get(from..to).unwrap_or_default() {
        let here = session.readings.iter().filter(|it| it.station.line == line).count();
        readings += here;
        sessions += usize::from(0 < here);
    }
    (readings, sessions)
}
