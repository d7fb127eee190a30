//! Facts behind an action, as sentences with their numbers and their source.
//!
//! Long because every kind of reason has its sentence here.

use crate::{
    brief::{Numbers, edges, joint, marks, numbers, pads, shortfall, words},
    domain::{
        decide::{Reason, Spread, StreakHeat},
        gauge::Bracket,
        log::FindingKind,
        machine::{BladeId, Line, LineId, Shear, StationId},
        quantity::{Hours, Length},
        shims::Shortfall,
        trend::HoursTo,
        verdict::Way,
    },
};
use chrono::{DateTime, Utc};

/// What a gap that shrinks with the hours means.
pub(crate) const NEVER_WEAR: &str = "That is never wear: look for a burr, a loose or lifted guide \
     blade, dirt in the pack, or worn pads.";

const STALE: &str = "Work has moved this gap since it was measured. Measure every station again.";

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
    let teller = Teller { shear, line, n };
    match reason {
        Reason::BeyondStop { station, cold, limit, way, sure } => {
            let verb = if *sure { surely(*way) } else { maybe(*way) };
            teller.beyond(*station, *cold, verb, "stop limit", *limit)
        }
        Reason::BeyondWorking { station, cold, limit, way, sure } => {
            let verb = if *sure { surely(*way) } else { maybe(*way) };
            teller.beyond(*station, *cold, verb, "working limit", *limit)
        }
        Reason::Soon { station, cold, limit, rate_mm_per_h, hours } => {
            teller.soon(*station, *cold, *limit, *rate_mm_per_h, hours)
        }
        Reason::HotContact { station, hot_mm } => teller.hot_contact(*station, *hot_mm),
        Reason::HotTight { station, hot_mm, limit } => teller.hot_tight(*station, *hot_mm, *limit),
        Reason::Cracks { taken, somewhere: true, .. } => teller.cracks_somewhere(*taken),
        Reason::Cracks { station, taken, .. } => teller.cracks(*station, *taken),
        Reason::Chipped { station, size } => teller.chipped(*station, *size),
        Reason::EdgeWorn { blade, hours, table, at_least } => {
            let least = if *at_least { "at least " } else { "" };
            teller.edge_worn(blade, *hours, *table, least)
        }
        Reason::FacingWorn { blade, hours, table, at_least, edge } => {
            let least = if *at_least { "at least " } else { "" };
            let text = edges::facing_worn(blade_name(shear, blade), (*hours, *table), least, *edge);
            Told::rule(text, "Edge hours, from the log · common practice, no published source")
        }
        Reason::WearMark { blade, kind, value, limit } => {
            let text = marks::beyond(blade_name(shear, blade), *kind, (*value, *limit), n);
            teller.wear(blade, text, (*value, *limit))
        }
        Reason::WearSoon { blade, kind, value, limit, hours } => {
            let text = marks::soon(blade_name(shear, blade), *kind, (*value, *limit), hours, n);
            teller.wear(blade, text, (*value, *limit))
        }
        Reason::NoFreshEdge { blade } => teller.no_fresh_edge(blade),
        Reason::CannotShim { blade, why, apart } => teller.cannot_shim(blade, *why, *apart),
        Reason::FreshTooTight { blade, gap, limit } => teller.fresh_too_tight(blade, *gap, *limit),
        Reason::NoPack { blade } => teller.no_pack(blade),
        Reason::Taper { by, limit } => teller.taper(*by, *limit),
        Reason::JointStep { inner, outer, by, limit } => {
            teller.joint_step((*inner, *outer), None, (*by, *limit))
        }
        Reason::JointStepAfter { changes, inner, outer, by, limit } => {
            teller.joint_step((*inner, *outer), Some(*changes), (*by, *limit))
        }
        Reason::SidePlay { station, play, against, gap } => {
            teller.side_play(*station, *play, *against, *gap)
        }
        Reason::Shrinks { station, rate_mm_per_h } => teller.shrinks(*station, *rate_mm_per_h),
        Reason::Streak { kind, station, heat } => teller.streak(kind, *station, heat.as_ref()),
        Reason::Trouble { kind, somewhere: true, .. } => {
            teller.trouble(kind, ", nobody noted where")
        }
        Reason::Trouble { kind, station, .. } => teller.trouble(kind, &teller.at(*station)),
        Reason::JawSpread(spread) => teller.jaw_spread(spread),
        Reason::RetorqueDue { blade, hours, interval } => {
            teller.retorque_due(blade, *hours, *interval)
        }
        Reason::PadsMove { opens, then, pads } => {
            let (text, ends, source) = pads::tell(*opens, *then, *pads, line, n);
            let (value_mm, limit_mm) = ends.map(|(gap, limit)| (gap.mm(), limit.mm())).unzip();
            Told { text, value_mm, limit_mm, source }
        }
        Reason::SharedShelf { with, served, proven } => Told::rule(
            shortfall::shared_shelf(shear, with, (*served, *proven)),
            "Shim search over packs and shelf",
        ),
        Reason::Stale => Told::rule(STALE.to_owned(), "Log"),
        Reason::NotMeasured(stations) => Told::rule(not_measured(stations), "Log"),
        Reason::Within { least, most, in_set_range } => {
            let named = if *in_set_range {
                (line.limits.set(), "the set range")
            } else {
                (line.limits.working(), "the working limits")
            };
            teller.within(*least, *most, named)
        }
    }
}

fn not_measured(stations: &[StationId]) -> String {
    format!("Not measured yet: {}.", list(stations))
}

/// A blade as a mechanic calls it.
pub fn blade_name<'a>(shear: &'a Shear, id: &'a BladeId) -> &'a str {
    shear.blade(id).map_or(id.0.as_str(), |blade| &blade.name)
}

impl Told {
    /// A reason that rests on a rule or the log, not on a length.
    fn rule(text: String, source: &str) -> Self {
        Self { text, value_mm: None, limit_mm: None, source: source.to_owned() }
    }
}

/// What every sentence about a line needs.
struct Teller<'a> {
    shear: &'a Shear,
    line: &'a Line,
    n: Numbers,
}

impl Teller<'_> {
    fn limits(&self) -> String {
        format!("Limits table, row {} · {}", words::line(self.line), self.line.limits.source())
    }

    /// ` at S4`, or nothing if nobody said where.
    fn at(&self, station: Option<u8>) -> String {
        station.map_or_else(String::new, |number| format!(" at {}{number}", self.line.id))
    }

    fn measured(&self, text: String, value_mm: f64, limit: Length) -> Told {
        let source = self.limits();
        Told { text, value_mm: Some(value_mm), limit_mm: Some(limit.mm()), source }
    }

    fn beyond(
        &self,
        station: StationId,
        cold: Bracket,
        verb: &str,
        limit_name: &str,
        limit: Length,
    ) -> Told {
        let (range, limit_text) = (self.n.against(cold, limit), self.n.length(limit));
        let next = if cold.is_closed() || verb.starts_with("is") { "" } else { OPEN_NEXT };
        let text = format!("{station} **{range}** {verb} the {limit_name} **{limit_text}**.{next}");
        self.measured(text, value_of(cold), limit)
    }

    fn soon(
        &self,
        station: StationId,
        cold: Bracket,
        limit: Length,
        rate_mm_per_h: f64,
        hours: &HoursTo,
    ) -> Told {
        let (large, quiet) = numbers::hours_to(Some(hours));
        let left = if hours.passed {
            "and its trend is there already".to_owned()
        } else {
            format!("about **{large}** left ({quiet})")
        };
        let change = if rate_mm_per_h < 0.0 { "shrinks by" } else { "grows" };
        let text = format!(
            "{station} **{}** nears the working limit **{}**: it {change} **{}**, {left}.",
            self.n.against(cold, limit),
            self.n.length(limit),
            self.n.rate(rate_mm_per_h.abs())
        );
        // Nobody shall take work for settled by a line that the log contradicts.
        let text = match self.n.through(hours) {
            Some(doubt) => format!("{text} {doubt}"),
            None => text,
        };
        let mut told = self.measured(text, value_of(cold), limit);
        told.source.push_str(" · trend, 80 % interval");
        told
    }

    fn hot_contact(&self, station: StationId, hot_mm: f64) -> Told {
        let hot = self.n.estimate(hot_mm);
        Told {
            text: format!(
                "Hot gap at {station} about **{hot}**: at working temperature the faces touch."
            ),
            value_mm: Some(hot_mm),
            limit_mm: Some(0.0),
            source: "Expansion at the working temperatures in the machine's file".to_owned(),
        }
    }

    fn hot_tight(&self, station: StationId, hot_mm: f64, limit: Length) -> Told {
        let text = format!(
            "Hot gap at {station} about **{}**, under the smallest hot gap **{}**.",
            self.n.estimate(hot_mm),
            self.n.length(limit)
        );
        self.measured(text, hot_mm, limit)
    }

    fn cracks(&self, station: Option<u8>, taken: DateTime<Utc>) -> Told {
        let text = format!(
            "Surface cracks seen{} on {}. Look which blade it is: it can break in pieces.",
            self.at(station),
            self.n.day(taken)
        );
        Told::rule(text, CRACKS)
    }

    fn cracks_somewhere(&self, taken: DateTime<Utc>) -> Told {
        let text = format!(
            "Surface cracks seen on {}, nobody noted where. A cracked blade can break in pieces: \
             look at every blade.",
            self.n.day(taken)
        );
        Told::rule(text, CRACKS)
    }

    #[expect(clippy::unused_self, reason = "a method beside its siblings")]
    fn trouble(&self, kind: &FindingKind, place: &str) -> Told {
        let text = match kind {
            FindingKind::LooseBolt => format!(
                "A bolt was loose{place}. Tighten all bolts of the blade in their order, and log \
                 it."
            ),
            FindingKind::StockCaught => format!(
                "Stock was caught beside the guide blade{place}. Clear it out, then measure again."
            ),
            kind => format!("{} logged{place}.", words::capital(words::finding(kind))),
        };
        Told::rule(text, "Finding")
    }

    fn fresh_too_tight(&self, blade: &BladeId, gap: Length, limit: Length) -> Told {
        let text = format!(
            "Even with every shim out, a fresh edge on the {} would leave about **{}**, under the \
             working limit **{}**.",
            blade_name(self.shear, blade),
            self.n.estimate(gap.mm()),
            self.n.length(limit)
        );
        self.measured(text, gap.mm(), limit)
    }

    fn chipped(&self, station: Option<u8>, size: Option<Length>) -> Told {
        let long = size.map(|size| format!(", **{}** long", self.n.dimension(size)));
        let (at, long) = (self.at(station), long.unwrap_or_default());
        let text = format!("Chipped edge{at}{long}. Look which blade it is.");
        let told = Told::rule(text, "Finding · rule: a chipped edge is turned away");
        Told { value_mm: size.map(Length::mm), ..told }
    }

    fn edge_worn(&self, blade: &BladeId, hours: Hours, table: Hours, least: &str) -> Told {
        let text = format!(
            "The edge in use on the {} has done {least}**{}** of {}.",
            blade_name(self.shear, blade),
            numbers::whole_hours(hours.h()),
            numbers::whole_hours(table.h())
        );
        Told::rule(text, "Edge hours in the machine's file")
    }

    fn wear(&self, blade: &BladeId, text: String, (value, limit): (Length, Length)) -> Told {
        let name = blade_name(self.shear, blade);
        let source = format!("Wear limits in the machine's file, row {name}");
        Told { source, ..self.measured(text, value.mm(), limit) }
    }

    fn no_pack(&self, blade: &BladeId) -> Told {
        let text = format!("The {} cannot be shimmed.", blade_name(self.shear, blade));
        Told::rule(text, "Machine's file")
    }

    fn no_fresh_edge(&self, blade: &BladeId) -> Told {
        let text = format!("No fresh edge is left on the {}.", blade_name(self.shear, blade));
        Told::rule(text, "Edges used, from the log")
    }

    fn retorque_due(&self, blade: &BladeId, hours: Hours, interval: Hours) -> Told {
        let text = format!(
            "The bolts of the {} have cut **{}** since they were tightened after work; they \
             settle, and are tightened again after {}.",
            blade_name(self.shear, blade),
            numbers::whole_hours(hours.h()),
            numbers::whole_hours(interval.h())
        );
        Told::rule(text, "Yard's intervals · log")
    }

    fn taper(&self, by: Length, limit: Length) -> Told {
        let text = format!(
            "The gaps along the line differ by **{}**, more than **{}**: taper. Shims along the \
             whole blade cannot cure it.",
            self.n.estimate(by.mm()),
            self.n.length(limit)
        );
        self.measured(text, by.mm(), limit)
    }

    fn joint_step(
        &self,
        at: (StationId, StationId),
        changes: Option<LineId>,
        (by, limit): (Length, Length),
    ) -> Told {
        let words = (self.n.estimate(by.mm()), self.n.length(limit));
        let text = joint::step(self.shear, at, changes, words);
        let source = "Joint limit in the machine's file".to_owned();
        Told { source, ..self.measured(text, by.mm(), limit) }
    }

    fn side_play(
        &self,
        station: StationId,
        play: Bracket,
        against: StationId,
        gap: Bracket,
    ) -> Told {
        let text = format!(
            "Side play at {station} is **{}**, the gap at {against} only **{}**: the blades can \
             clash.",
            self.n.against(play, gap.go()),
            self.n.against(gap, play.go())
        );
        let source = "Rule: side play at the pads stays below the smallest blade gap".to_owned();
        let most = play.no_go().unwrap_or_else(|| play.go());
        Told { source, ..self.measured(text, most.mm(), gap.go()) }
    }

    fn shrinks(&self, station: StationId, rate_mm_per_h: f64) -> Told {
        let rate = self.n.rate(-rate_mm_per_h);
        let text = format!("{station} shrinks by **{rate}**. {NEVER_WEAR}");
        Told::rule(text, "Trend")
    }

    fn streak(&self, kind: &FindingKind, station: Option<u8>, heat: Option<&StreakHeat>) -> Told {
        let text =
            format!("{} seen{}: this face has been hot.", words::finding(kind), self.at(station));
        let Some(heat) = heat else { return Told::rule(text, "Finding") };
        let (low, high) = heat.closed_mm;
        let text = format!(
            "{text} {} It had then closed by **{}–{}**{}.",
            crate::brief::heat::band(&heat.band),
            self.n.estimate(low),
            self.n.estimate(high),
            heat.cold_mm.map_or_else(String::new, |cold| {
                format!(
                    " of {} cold: {}",
                    self.n.estimate(cold),
                    crate::brief::heat::left(cold, (low, high))
                )
            })
        );
        let source = "Finding · published temper colours, which disagree; parts as warm as the \
                      heat model has them, or as hot as the face"
            .to_owned();
        Told { text, value_mm: heat.cold_mm.map(|cold| cold - high), limit_mm: Some(0.0), source }
    }

    fn jaw_spread(&self, spread: &Spread) -> Told {
        let text = format!(
            "The gaps either side of the tip together opened by **{}** between {} and {}, more \
             than any recorded work explains: the lower jaw has spread. Shims cannot cure that; a \
             qualified welder must look at it.",
            self.n.estimate(spread.by_mm),
            self.n.moment(spread.from),
            self.n.moment(spread.to)
        );
        let source = format!("Sum of {} and {}, from the log", spread.cutting, spread.guide);
        Told { text, value_mm: Some(spread.by_mm), limit_mm: None, source }
    }

    fn within(
        &self,
        least: Length,
        most: Length,
        (band, name): (crate::domain::machine::Band, &str),
    ) -> Told {
        let text = format!(
            "All gaps **{}–{}**, inside {name} {}–{}.",
            self.n.estimate(least.mm()),
            self.n.estimate(most.mm()),
            self.n.length(band.min),
            self.n.length(band.max)
        );
        self.measured(text, most.mm(), band.max)
    }

    fn cannot_shim(
        &self,
        blade: &BladeId,
        why: Shortfall,
        apart: Option<(StationId, StationId)>,
    ) -> Told {
        let rules = self.shear.blade(blade).and_then(|blade| blade.pack);
        let apart = apart.map(|(wide, tight)| (wide.to_string(), tight.to_string()));
        let told = shortfall::tell(why, blade_name(self.shear, blade), rules, apart, self.n);
        Told {
            text: told.text,
            value_mm: told.value.map(Length::mm),
            limit_mm: told.limit.map(Length::mm),
            source: "Shim search over pack and shelf".to_owned(),
        }
    }
}

/// Why cracks stop a machine.
const CRACKS: &str = "Finding · rule: cracks stop the machine";

/// What to do about a gap without a ceiling.
const OPEN_NEXT: &str = " Try a thicker stack.";

/// The middle of a reading, or its floor while it is open.
fn value_of(cold: Bracket) -> f64 {
    cold.middle().unwrap_or_else(|| cold.go()).mm()
}

const fn surely(way: Way) -> &'static str {
    match way {
        Way::Tight => "is under",
        Way::Wide => "is over",
    }
}

const fn maybe(way: Way) -> &'static str {
    match way {
        Way::Tight => "may be under",
        Way::Wide => "may be over",
    }
}

fn list(stations: &[StationId]) -> String {
    stations.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}
