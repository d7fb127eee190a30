//! What is told about the number under the hand, while it is typed.

use crate::{
    brief::{
        Numbers,
        measure::{Gap, Telling},
        numbers, uncertainty, words,
    },
    domain::{
        decide::StationState,
        gauge::Bracket,
        machine::{Limits, Line, StationId},
        quantity::{Length, Temperature},
        verdict::{Verdict, VerdictKind, Way, next_leaf},
    },
    language::tell,
};

/// A verdict while it can still change.
#[derive(Clone, Debug, PartialEq)]
pub struct Live {
    /// What the reading says; `None` while nothing can be said.
    pub verdict: Option<Verdict>,
    /// What to do.
    pub headline: String,
    /// Why, what matters first, weighty numbers between double asterisks; what follows may be left
    /// out where room is short.
    pub reasons: Vec<String>,
    /// The stack to try next, if one would tell more.
    pub try_next: Option<Length>,
}

/// What two stacks proved, for a strip of three fields.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// `0.55 goes`; empty if none went yet.
    pub goes: String,
    /// `0.60 does not`; empty if none stuck yet.
    pub does_not: String,
    /// For a screen reader.
    pub spoken: String,
    /// The gap at 20 °C and what was assumed for it.
    pub cold: String,
}

impl Telling<'_> {
    /// The verdict on what is in hand at a station: `go` and `no_go` as said so far, `preview` as
    /// if the stack in hand were said too.
    pub fn live(
        &self,
        station: StationId,
        said: (Option<Length>, Option<Length>),
        preview: Option<&(Bracket, Gap)>,
        blade_temp: Option<Temperature>,
    ) -> Live {
        let Some(line) = self.shear.line(station.line) else { return nothing(String::new()) };
        let try_next = self.try_next(station, said, preview, blade_temp);
        let Some((felt, gap)) = preview else {
            return Live { try_next, ..self.not_yet(station, line, try_next) };
        };
        let kind = gap.verdict.kind();
        let half = felt.no_go().is_none() || (felt.go() == Length::ZERO && said.0.is_none());
        if half && kind == VerdictKind::Undecided {
            return self.half(*felt, gap, try_next);
        }
        let headline = match (kind, try_next) {
            (VerdictKind::Undecided, Some(stack)) => {
                tell!("Undecided: try {stack}.", stack = self.numbers.length(stack))
            }
            (VerdictKind::Undecided, None) => tell!("Undecided: no finer leaf decides.").to_owned(),
            _ => headline(kind).to_owned(),
        };
        let chance = format!("**{}**.", words::capital(&uncertainty::chance(gap.verdict.chance)));
        let mut weighty = vec![chance, self.reason(station, line, gap, try_next)];
        weighty.extend(hot_warning(gap, &line.limits, self.numbers));
        let calm = if weighty.len() == 2 { gap.hot_mm } else { None };
        let calm =
            calm.map(|hot| tell!("Hot gap about **{hot}**.", hot = self.numbers.estimate(hot)));
        let reasons = std::iter::once(weighty.join(" ")).chain(calm).collect();
        Live { verdict: Some(gap.verdict), headline, reasons, try_next }
    }

    /// Nothing is in hand yet: what was there last time, and where to start.
    fn not_yet(&self, station: StationId, line: &Line, start: Option<Length>) -> Live {
        let n = self.numbers;
        let known = self.before(station).map_or_else(
            || {
                let set = line.limits.set();
                tell!(
                    "Set range **{min}–{max}**.",
                    min = n.length(set.min),
                    max = n.length(set.max)
                )
            },
            |before| tell!("Last time **{before}**.", before = n.range(before)),
        );
        let start = start
            .map(|stack| tell!("Start with **{stack}**.", stack = self.stack(stack)))
            .unwrap_or_default();
        let text = format!("{known} {start}").trim_end().to_owned();
        nothing(text)
    }

    /// One stack is known or in hand, the other is not.
    fn half(&self, felt: Bracket, gap: &Gap, try_next: Option<Length>) -> Live {
        let n = self.numbers;
        let (headline, other) = match felt.no_go() {
            None => (tell!("{go} or more.", go = n.length(felt.go())), tell!("that does not go")),
            Some(no_go) => (tell!("Under {no_go}.", no_go = n.length(no_go)), tell!("that goes")),
        };
        let next = try_next
            .map_or(String::new(), |stack| tell!(": try **{stack}**", stack = self.stack(stack)));
        let reason = match (felt.no_go(), try_next) {
            (None, None) => tell!("No thicker stack is left: it counts as it is.").to_owned(),
            _ => tell!("Now the stack {other}{next}.", other, next),
        };
        let reasons = vec![reason];
        Live { verdict: Some(gap.verdict), headline, reasons, try_next }
    }

    fn reason(
        &self,
        station: StationId,
        line: &Line,
        gap: &Gap,
        try_next: Option<Length>,
    ) -> String {
        let (n, bracket) = (self.numbers, gap.cold.bracket);
        let (working, stop) = (line.limits.working(), line.limits.stop());
        let beyond = |verb: &str, limit_name: &str, limit: Length| {
            tell!(
                "**{bracket}** {verb} the {limit_name} **{limit}**.",
                bracket = n.range(bracket),
                verb,
                limit_name,
                limit = n.length(limit)
            )
        };
        match gap.verdict.kind() {
            VerdictKind::Stop(Way::Tight) => {
                beyond(tell!("is under"), tell!("stop limit"), stop.min)
            }
            VerdictKind::Stop(Way::Wide) => beyond(tell!("is over"), tell!("stop limit"), stop.max),
            VerdictKind::Too(Way::Tight) => {
                beyond(tell!("is under"), tell!("working limit"), working.min)
            }
            VerdictKind::Too(Way::Wide) => {
                beyond(tell!("is over"), tell!("working limit"), working.max)
            }
            VerdictKind::Undecided => {
                let limit = gap.verdict.undecided_at.map_or(String::new(), |it| n.length(it));
                let next = match try_next {
                    Some(stack) => tell!("{stack} would tell.", stack = self.stack(stack)),
                    None => tell!("The worse of the two ends counts.").to_owned(),
                };
                tell!("The limit **{limit}** lies between the two stacks. {next}", limit, next)
            }
            VerdictKind::Set | VerdictKind::Working | VerdictKind::Soon(_) => {
                self.left(station, line, bracket)
            }
        }
    }

    /// How much is left to the working limit it moves towards, and for how long.
    fn left(&self, station: StationId, line: &Line, bracket: Bracket) -> String {
        let n = self.numbers;
        let working = line.limits.working();
        let rate = self.state(station).and_then(StationState::rate_mm_per_h);
        let middle = bracket.middle().unwrap_or_else(|| bracket.go());
        if let Some(no_go) = bracket.no_go().filter(|no_go| COARSE < *no_go - bracket.go()) {
            let [least, most] = [working.max - no_go, working.max - bracket.go()];
            return tell!(
                "Between **{least}** and **{most}** left to the working limit **{max}**: closer stacks say how \
                 fast it grows.",
                least = n.estimate(least.mm()),
                most = n.estimate(most.mm()),
                max = n.length(working.max)
            );
        }
        let shrinks = rate.is_some_and(|rate| rate < 0.0);
        let (limit, left) = if shrinks {
            (working.min, middle - working.min)
        } else {
            (working.max, working.max - middle)
        };
        let fact = tell!(
            "**{left}** left to the working limit **{limit}**",
            left = n.length_unit(left),
            limit = n.length(limit)
        );
        let hours = rate.filter(|rate| 1e-6 < rate.abs()).and_then(|rate| {
            let hours = left.mm() / rate.abs();
            (hours < numbers::FAR_H).then(|| (numbers::whole_hours(hours), rate.abs(), hours))
        });
        match (hours, rate) {
            (Some((hours, rate, _)), _) => {
                tell!(
                    "{fact}, about **{hours}** at {rate}{left}.",
                    fact,
                    hours,
                    rate = n.rate(rate),
                    left = self.between_h(station, left)
                )
            }
            (None, Some(_)) => {
                tell!(
                    "{fact}, more than {far_h}.",
                    fact,
                    far_h = numbers::whole_hours(numbers::FAR_H)
                )
            }
            (None, None) => tell!("{fact}; no trend yet.", fact),
        }
    }

    /// The interval of those hours, from that of the rate.
    fn between_h(&self, station: StationId, left: Length) -> String {
        let ends = || {
            let fit = self.state(station)?.trend.fit.as_ref().ok()?;
            if let Some(at_h) = fit.through_break_h {
                let at = self.numbers.place(at_h);
                return Some(tell!(" if the change at {at} that is not in the log is none", at));
            }
            let (slow, fast) = fit.rate_interval(crate::domain::trend::CONFIDENCE)?;
            let (slow, fast) = if fit.rate() < 0.0 { (-fast, -slow) } else { (slow, fast) };
            let low = numbers::hours_value(left.mm() / fast);
            let high = left.mm() / slow;
            Some(if 0.0 < slow && high < numbers::FAR_H {
                format!(" ({low}–{})", numbers::hours_value(high))
            } else {
                tell!(" ({low} or more)", low)
            })
        };
        ends().unwrap_or_default()
    }

    /// The stack that settles the verdict soonest; once it is settled by one stack, the neighbour
    /// that makes it a reading, and then none.
    fn try_next(
        &self,
        station: StationId,
        said: (Option<Length>, Option<Length>),
        preview: Option<&(Bracket, Gap)>,
        blade_temp: Option<Temperature>,
    ) -> Option<Length> {
        let leaves = self.leaves?;
        let limits = &self.shear.line(station.line)?.limits;
        let nothing = Bracket::new(Length::ZERO, None).ok()?;
        let (felt, gap) = match preview {
            Some((felt, gap)) => (*felt, Some(*gap)),
            None => (nothing, self.gap(station, nothing, (blade_temp, None))),
        };
        let settled = |gap: &Gap| gap.verdict.kind() != VerdictKind::Undecided;
        if preview.is_some() && gap.as_ref().is_some_and(settled) {
            return match felt.no_go() {
                None => leaves.next_above(felt.go()),
                Some(no_go) if felt.go() == Length::ZERO && said.0.is_none() => {
                    leaves.up_to(no_go - Length::from_nm(1))
                }
                Some(_) => None,
            };
        }
        let meter = self.session.map(|session| session.meter);
        let prior = self.state(station).zip(meter).and_then(|(state, meter)| state.prior(meter));
        let shift = gap.map_or(Length::ZERO, |gap| gap.cold.shift);
        next_leaf(leaves, felt, shift, limits, prior).map(|stack| stack.thickness)
    }

    /// A stack by the stamps of the leaves it is made of: `0.65 (0.15 + 0.50)`.
    fn stack(&self, stack: Length) -> String {
        let n = self.numbers;
        let set = self.leaves;
        let leaves = set.and_then(|set| set.fewest(stack)).unwrap_or_default();
        let stamped: Vec<Length> = leaves.iter().rev().map(|leaf| leaf.thickness).collect();
        match stamped.as_slice() {
            [] => n.length(stack),
            [leaf] => n.length(*leaf),
            several => {
                let parts: Vec<String> = several.iter().map(|leaf| n.length(*leaf)).collect();
                format!("{} ({})", n.length(several.iter().copied().sum()), parts.join(" + "))
            }
        }
    }

    /// The strip under the leaves: what went and what stuck, in hand or said.
    pub fn strip(&self, felt: Option<Bracket>, gap: Option<&Gap>) -> Strip {
        let n = self.numbers;
        let word = |stack: Length, word: &str| format!("{} {word}", n.length(stack));
        let (goes, does_not) = match felt {
            None => (String::new(), String::new()),
            Some(felt) => (
                if felt.go() == Length::ZERO {
                    String::new()
                } else {
                    word(felt.go(), tell!("goes"))
                },
                felt.no_go().map_or(String::new(), |no_go| word(no_go, tell!("does not"))),
            ),
        };
        let spoken =
            felt.map_or_else(|| tell!("no stack said yet").to_owned(), |felt| n.between(felt));
        let cold = felt.zip(gap).map_or(String::new(), |(felt, gap)| cold_words(gap, felt, n));
        Strip { goes, does_not, spoken, cold }
    }
}

/// Between stacks further apart a middle says nothing.
const COARSE: Length = Length::from_um(100);

/// `cold **0.595 ± 0.026**, jaws assumed 31 °C`; by how much it was moved stands with its budget.
fn cold_words(gap: &Gap, felt: Bracket, n: Numbers) -> String {
    let cold = &gap.cold;
    // A middle above nothing at all would be made up.
    let known = Some(cold).filter(|_| !felt.is_open_below());
    let value = known
        .and_then(|cold| uncertainty::plus_minus(cold, n))
        .unwrap_or_else(|| n.range(cold.bracket));
    if cold.blade_temp.is_none() && cold.jaw_assumed {
        return tell!("cold gap **{value}**, taken as 20 °C", value);
    }
    let jaw = numbers::temperature(cold.jaw_temp);
    if cold.blade_temp.is_none() {
        return tell!("cold **{value}**, blades assumed {jaw}", value, jaw);
    }
    let how = if cold.jaw_assumed { tell!("jaws assumed") } else { tell!("jaws") };
    tell!("cold **{value}**, {how} {jaw}", value, how, jaw)
}

fn headline(kind: VerdictKind) -> &'static str {
    match kind {
        VerdictKind::Set => tell!("In the set range. Leave it."),
        VerdictKind::Working => tell!("Working. Leave it."),
        VerdictKind::Soon(Way::Wide) => tell!("Soon too wide. Plan the work."),
        VerdictKind::Soon(Way::Tight) => tell!("Soon too tight. Plan the work."),
        VerdictKind::Too(Way::Wide) => tell!("Too wide. Work before cutting on."),
        VerdictKind::Too(Way::Tight) => tell!("Too tight. Work before cutting on."),
        VerdictKind::Stop(_) => tell!("Stop. Do not cut with it."),
        VerdictKind::Undecided => tell!("Undecided."),
    }
}

/// What the gap at working temperature warns of, if it is under the smallest allowed.
fn hot_warning(gap: &Gap, limits: &Limits, n: Numbers) -> Option<String> {
    let hot_mm = gap.hot_mm?;
    let value = n.estimate(hot_mm);
    let least = limits.hot_min();
    if hot_mm <= 0.0 {
        Some(tell!("Hot gap about **{value}**: the faces would touch.", value))
    } else if hot_mm < least.mm() {
        Some(tell!(
            "Hot gap about **{value}**, under the smallest **{least}**.",
            value,
            least = n.length(least)
        ))
    } else {
        None
    }
}

fn nothing(text: String) -> Live {
    let headline = tell!("Not measured yet.").to_owned();
    let reasons = if text.is_empty() { Vec::new() } else { vec![text] };
    Live { verdict: None, headline, reasons, try_next: None }
}
