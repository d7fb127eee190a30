//! Facts behind an action, as sentences with their numbers and their source.
//!
//! What is about a blade and what was seen stands in files of its own.

mod blade;
mod seen;

use crate::{
    brief::{
        Numbers, joint, marks, numbers, pads, shortfall,
        told::{Basis, Told, band_words, limits_row},
        words,
    },
    domain::{
        decide::Reason,
        gauge::Bracket,
        machine::{Band, BladeId, Line, LineId, Shear, StationId},
        quantity::Length,
        trend::HoursTo,
        verdict::Way,
    },
    language::{self, sentence, tell},
};

/// What a gap that shrinks with the hours means.
pub(crate) const NEVER_WEAR: &str = sentence!(
    "That is never wear: look for a burr, a loose or lifted guide \
     blade, dirt in the pack, or worn pads."
);

const STALE: &str =
    sentence!("Work has moved this gap since it was measured. Measure every station again.");

/// Tells a reason.
pub fn tell(reason: &Reason, shear: &Shear, line: &Line, n: Numbers) -> Told {
    let teller = Teller { shear, line, n };
    match reason {
        Reason::BeyondStop { station, cold, limit, way, sure } => teller.beyond(
            *station,
            *cold,
            (*way, *sure),
            (tell!("stop limit"), *limit),
            language::told(BEYOND_STOP),
        ),
        Reason::BeyondWorking { station, cold, limit, way, sure } => teller.beyond(
            *station,
            *cold,
            (*way, *sure),
            (tell!("working limit"), *limit),
            language::told(BEYOND_WORKING),
        ),
        Reason::Soon { station, cold, limit, rate_mm_per_h, hours } => {
            teller.soon(*station, *cold, *limit, *rate_mm_per_h, hours)
        }
        Reason::HotContact { station, hot_mm } => teller.hot_contact(*station, *hot_mm),
        Reason::HotTight { station, hot_mm, limit } => teller.hot_tight(*station, *hot_mm, *limit),
        Reason::Cracks { taken, somewhere: true, .. } => teller.cracks_somewhere(*taken),
        Reason::Cracks { station, taken, .. } => teller.cracks(*station, *taken),
        Reason::Chipped { station, size } => teller.chipped(*station, *size),
        Reason::EdgeWorn { blade, hours, table, at_least } => {
            teller.edge_worn(blade, (*hours, *table, *at_least))
        }
        Reason::FacingWorn { blade, hours, table, at_least, edge } => {
            teller.facing_worn(blade, (*hours, *table, *at_least), *edge)
        }
        Reason::WearMark { blade, kind, value, limit } => {
            let text = marks::beyond(blade_name(shear, blade), *kind, (*value, *limit), n);
            teller.wear(blade, text, (*value, *limit), language::told(WORN))
        }
        Reason::WearSoon { blade, kind, value, limit, hours } => {
            let text = marks::soon(blade_name(shear, blade), *kind, (*value, *limit), hours, n);
            teller.wear(blade, text, (*value, *limit), language::told(WORN_SOON))
        }
        Reason::NoFreshEdge { blade } => teller.no_fresh_edge(blade),
        Reason::CannotShim { blade, why, apart } => teller.cannot_shim(blade, *why, *apart),
        Reason::FreshTooTight { blade, gap, limit } => teller.fresh_too_tight(blade, *gap, *limit),
        Reason::NoPack { blade } => teller.no_pack(blade),
        Reason::PackOver { blade, thick, shims } => teller.pack_over(blade, *thick, *shims),
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
            teller.trouble(kind, tell!(", nobody noted where"))
        }
        Reason::Trouble { kind, station, .. } => teller.trouble(kind, &teller.at(*station)),
        Reason::JawSpread(spread) => teller.jaw_spread(spread),
        Reason::RetorqueDue { blade, hours, interval } => {
            teller.retorque_due(blade, *hours, *interval)
        }
        Reason::PadsMove { opens, then, pads } => pads::tell(*opens, *then, *pads, line, n),
        Reason::SharedShelf { with, served, proven } => {
            teller.shared_shelf(with, (*served, *proven))
        }
        Reason::Stale => teller.stale(),
        Reason::NotMeasured(stations) => teller.not_measured(stations),
        Reason::Within { least, most, in_set_range } => {
            let named = if *in_set_range {
                (line.limits.set(), tell!("the set range"))
            } else {
                (line.limits.working(), tell!("the working limits"))
            };
            teller.within(*least, *most, named)
        }
    }
}

/// A blade as a mechanic calls it.
pub fn blade_name<'a>(shear: &'a Shear, id: &'a BladeId) -> &'a str {
    shear.blade(id).map_or(id.0.as_str(), |blade| language::known(&blade.name))
}

/// What every sentence about a line needs.
struct Teller<'a> {
    shear: &'a Shear,
    line: &'a Line,
    n: Numbers,
}

impl Teller<'_> {
    fn row(&self) -> String {
        limits_row(self.line)
    }

    fn at(&self, station: Option<u8>) -> String {
        station
            .map_or_else(String::new, |number| tell!(" at {id}{number}", id = self.line.id, number))
    }

    fn measured(
        &self,
        text: String,
        (value, value_mm): (String, f64),
        (limit, limit_mm): (String, f64),
        rule: &'static str,
    ) -> Told {
        Told::new(text, Basis { value, limit, row: self.row(), rule })
            .lengths(value_mm, limit_mm)
            .from(language::known(self.line.limits.source()))
    }

    fn log(&self, text: String, value: &str, (limit, rule): (&str, &'static str)) -> Told {
        let row = tell!("Log, row {line}", line = words::line(self.line));
        Told::new(text, Basis { value: value.to_owned(), limit: limit.to_owned(), row, rule })
    }

    fn stale(&self) -> Told {
        let rule = tell!("a recipe rests on a gap with no work since it was measured");
        self.log(
            language::told(STALE).to_owned(),
            tell!("Work has moved this gap"),
            (tell!("no work since"), rule),
        )
    }

    fn not_measured(&self, stations: &[StationId]) -> Told {
        let missing = list(stations);
        let text = tell!("Not measured yet: {missing}.", missing);
        self.log(
            text,
            &missing,
            (tell!("every station"), tell!("every station of a line is measured")),
        )
    }

    fn shared_shelf(&self, with: &[LineId], how: (bool, bool)) -> Told {
        let value = shortfall::others(self.shear, with);
        let text = shortfall::shared_shelf(&value, how);
        let row = tell!("Shelf in the yard's file, every row").to_owned();
        let rule = tell!("each shim on the shelf is used once, for the worst gap first");
        Told::new(text, Basis { value, limit: tell!("once").to_owned(), row, rule })
    }

    fn beyond(
        &self,
        station: StationId,
        cold: Bracket,
        (way, sure): (Way, bool),
        (limit_name, limit): (&str, Length),
        rule: &'static str,
    ) -> Told {
        let verb = if sure { surely(way) } else { maybe(way) };
        let (range, limit_text) = (self.n.against(cold, limit), self.n.length(limit));
        let next = if cold.is_closed() || sure { "" } else { language::told(OPEN_NEXT) };
        let text = tell!(
            "{station} **{range}** {verb} the {limit_name} **{limit_text}**.{next}",
            station,
            range,
            verb,
            limit_name,
            limit_text,
            next
        );
        self.measured(text, (range, value_of(cold)), (limit_text, limit.mm()), rule)
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
            tell!("and its trend is there already").to_owned()
        } else {
            tell!("about **{large}** left ({quiet})", large, quiet)
        };
        let change = if rate_mm_per_h < 0.0 { tell!("shrinks by") } else { tell!("grows") };
        let (range, limit_text) = (self.n.against(cold, limit), self.n.length(limit));
        let text = tell!(
            "{station} **{range}** nears the working limit **{limit_text}**: it {change} **{rate}**, \
             {left}.",
            station,
            range,
            limit_text,
            change,
            rate = self.n.rate(rate_mm_per_h.abs()),
            left
        );
        // Nobody shall take work for settled by a line that the log contradicts.
        let text = match self.n.through(hours) {
            Some(doubt) => format!("{text} {doubt}"),
            None => text,
        };
        self.measured(text, (range, value_of(cold)), (limit_text, limit.mm()), language::told(SOON))
            .from(tell!("trend, 80 % interval"))
    }

    fn hot_contact(&self, station: StationId, hot_mm: f64) -> Told {
        let hot = self.n.estimate(hot_mm);
        let text = tell!(
            "Hot gap at {station} about **{hot}**: at working temperature the faces touch.",
            station,
            hot
        );
        let row = tell!(
            "Working temperatures in the machine's file, row {line}",
            line = words::line(self.line)
        );
        let rule = tell!("a hot gap of 0 or less stops the machine");
        Told::new(text, Basis { value: hot, limit: "0".to_owned(), row, rule })
            .lengths(hot_mm, 0.0)
            .from(tell!("expansion"))
    }

    fn hot_tight(&self, station: StationId, hot_mm: f64, limit: Length) -> Told {
        let (hot, least) = (self.n.estimate(hot_mm), self.n.length(limit));
        let text = tell!(
            "Hot gap at {station} about **{hot}**, under the smallest hot gap **{least}**.",
            station,
            hot,
            least
        );
        self.measured(text, (hot, hot_mm), (least, limit.mm()), language::told(HOT_TIGHT))
    }

    fn taper(&self, by: Length, limit: Length) -> Told {
        let (by_text, most) = (self.n.estimate(by.mm()), self.n.length(limit));
        let text = tell!(
            "The gaps along the line differ by **{by_text}**, more than **{most}**: taper. Shims \
             along the whole blade cannot cure it.",
            by_text,
            most
        );
        let rule = tell!("a line over its taper limit is looked at: seat, bolts and jaw");
        self.measured(text, (by_text, by.mm()), (most, limit.mm()), rule)
    }

    fn joint_step(
        &self,
        at: (StationId, StationId),
        changes: Option<LineId>,
        (by, limit): (Length, Length),
    ) -> Told {
        let (step, most) = (self.n.estimate(by.mm()), self.n.length(limit));
        let text = joint::step(self.shear, at, changes, (step.clone(), most.clone()));
        let row = tell!(
            "Limits in the machine's file, row joint of {line} and {at}",
            line = at.0.line,
            at = at.1.line
        );
        let rule = tell!("blades that meet stay within the joint limit");
        Told::new(text, Basis { value: step, limit: most, row, rule }).lengths(by.mm(), limit.mm())
    }

    fn side_play(
        &self,
        station: StationId,
        play: Bracket,
        against: StationId,
        gap: Bracket,
    ) -> Told {
        let value = self.n.against(play, gap.go());
        let limit = self.n.against(gap, play.go());
        let text = tell!(
            "Side play at {station} is **{value}**, the gap at {against} only **{limit}**: the \
             blades can clash.",
            station,
            value,
            against,
            limit
        );
        let most = play.no_go().unwrap_or_else(|| play.go());
        let row = tell!("Readings, rows {station} and {against}", station, against);
        let rule = tell!("side play at the pads stays below the smallest blade gap");
        Told::new(text, Basis { value, limit, row, rule }).lengths(most.mm(), gap.go().mm())
    }

    fn shrinks(&self, station: StationId, rate_mm_per_h: f64) -> Told {
        let rate = self.n.rate(-rate_mm_per_h);
        Told::new(
            tell!(
                "{station} shrinks by **{rate}**. {never_wear}",
                station,
                rate,
                never_wear = language::told(NEVER_WEAR)
            ),
            Basis {
                value: rate,
                limit: "0".to_owned(),
                row: tell!("Trend, row {station}", station),
                rule: tell!("growth under 0 is never wear"),
            },
        )
    }

    fn within(&self, least: Length, most: Length, (band, name): (Band, &str)) -> Told {
        let (low, high) = (self.n.estimate(least.mm()), self.n.estimate(most.mm()));
        let gaps = format!("{low}–{high}");
        let limits = band_words(band, self.n);
        let text = tell!("All gaps **{gaps}**, inside {name} {limits}.", gaps, name, limits);
        let rule = tell!("inside its working limits a line is left alone");
        self.measured(text, (gaps, most.mm()), (limits, band.max.mm()), rule)
    }
}

const BEYOND_STOP: &str = sentence!("a gap outside its stop limits stops the machine");

const BEYOND_WORKING: &str = sentence!("outside its working limits a gap is put right");

const SOON: &str = sentence!("a gap is put right before it leaves its limits");

const HOT_TIGHT: &str = sentence!("a gap keeps its smallest hot gap");

const WORN: &str = sentence!("a blade beyond a wear limit is turned or replaced");

const WORN_SOON: &str = sentence!("work is planned before a wear limit is reached");

/// What to do about a gap without a ceiling.
const OPEN_NEXT: &str = sentence!(" Try a thicker stack.");

/// The middle of a reading, or its floor while it is open.
fn value_of(cold: Bracket) -> f64 {
    cold.middle().unwrap_or_else(|| cold.go()).mm()
}

fn surely(way: Way) -> &'static str {
    match way {
        Way::Tight => tell!("is under"),
        Way::Wide => tell!("is over"),
    }
}

fn maybe(way: Way) -> &'static str {
    match way {
        Way::Tight => tell!("may be under"),
        Way::Wide => tell!("may be over"),
    }
}

fn list(stations: &[StationId]) -> String {
    stations.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}
