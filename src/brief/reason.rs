//! Facts behind an action, as sentences with their numbers and their source.
//!
//! Long because every kind of reason has its sentence here.

use crate::{
    brief::{
        Numbers, edges, joint, marks, numbers, pads, shortfall,
        told::{Basis, Told, band_words, limits_row},
        words,
    },
    domain::{
        decide::{Reason, SPREAD_JUMP_MM, Spread, StreakHeat},
        gauge::Bracket,
        log::FindingKind,
        machine::{Band, BladeId, Line, LineId, Shear, StationId},
        quantity::{Hours, Length},
        shims::Shortfall,
        trend::HoursTo,
        verdict::Way,
    },
    language::{self, sentence, tell},
};
use chrono::{DateTime, Utc};

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
    /// The row of the limits table: `Limits table, row S secondary blades`.
    fn row(&self) -> String {
        limits_row(self.line)
    }

    /// ` at S4`, or nothing if nobody said where.
    fn at(&self, station: Option<u8>) -> String {
        station
            .map_or_else(String::new, |number| tell!(" at {id}{number}", id = self.line.id, number))
    }

    /// A length against one of the line's limits.
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

    /// Something in the log about this line, held against what there should be.
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
        Told::new(text, Basis { value, limit: "once".to_owned(), row, rule })
    }

    fn facing_worn(
        &self,
        blade: &BladeId,
        (hours, table, at_least): (Hours, Hours, bool),
        edge: Option<u8>,
    ) -> Told {
        let (name, hours) = (blade_name(self.shear, blade), (hours, table));
        let least = if at_least { tell!("at least ") } else { "" };
        self.edge_hours(
            blade,
            edges::facing_worn(name, hours, least, edge),
            hours,
            language::told(FACING_WORN),
        )
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
            "{station} **{range}** nears the working limit **{limit_text}**: it {change} **{abs}**, \
             {left}.",
            station,
            range,
            limit_text,
            change,
            abs = self.n.rate(rate_mm_per_h.abs()),
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

    fn cracks(&self, station: Option<u8>, taken: DateTime<Utc>) -> Told {
        let text = tell!(
            "Surface cracks seen{station} on {taken}. Look which blade it is: it can break in pieces.",
            station = self.at(station),
            taken = self.n.day(taken)
        );
        Told::finding(text, &FindingKind::SurfaceCracks, language::told(CRACKS))
    }

    fn cracks_somewhere(&self, taken: DateTime<Utc>) -> Told {
        let text = tell!(
            "Surface cracks seen on {taken}, nobody noted where. A cracked blade can break in pieces: \
             look at every blade.",
            taken = self.n.day(taken)
        );
        Told::finding(text, &FindingKind::SurfaceCracks, language::told(CRACKS))
    }

    #[expect(clippy::unused_self, reason = "a method beside its siblings")]
    fn trouble(&self, kind: &FindingKind, place: &str) -> Told {
        let (text, rule) = match kind {
            FindingKind::LooseBolt => (
                tell!(
                    "A bolt was loose{place}. Tighten all bolts of the blade in their order, and \
                     log it.",
                    place
                ),
                tell!("one loose bolt means that all bolts of its blade are tightened"),
            ),
            FindingKind::StockCaught => (
                tell!(
                    "Stock was caught beside the guide blade{place}. Clear it out, then measure \
                     again.",
                    place
                ),
                tell!("stock that was caught is cleared before a gap is trusted"),
            ),
            kind => (
                tell!("{kind} logged{place}.", kind = words::capital(words::finding(kind)), place),
                tell!("trouble is looked at before cutting on"),
            ),
        };
        Told::finding(text, kind, rule)
    }

    fn fresh_too_tight(&self, blade: &BladeId, gap: Length, limit: Length) -> Told {
        let (left, least) = (self.n.estimate(gap.mm()), self.n.length(limit));
        let text = tell!(
            "Even with every shim out, a fresh edge on the {blade} would leave about **{left}**, under \
             the working limit **{least}**.",
            blade = blade_name(self.shear, blade),
            left,
            least
        );
        let rule = tell!("no recipe leaves less than the working limit");
        self.measured(text, (left, gap.mm()), (least, limit.mm()), rule)
    }

    fn chipped(&self, station: Option<u8>, size: Option<Length>) -> Told {
        let long = size.map(|size| self.n.dimension(size));
        let at = self.at(station);
        let text = tell!(
            "Chipped edge{at}{long}. Look which blade it is.",
            at,
            long = long.as_ref().map_or_else(String::new, |long| tell!(", **{long}** long", long))
        );
        let rule = tell!("a chipped edge is turned away");
        let told = Told::finding(text, &FindingKind::ChippedEdge, rule);
        match (long, size) {
            (Some(value), Some(size)) => Told { value, value_mm: Some(size.mm()), ..told },
            _ => told,
        }
    }

    fn edge_worn(&self, blade: &BladeId, (hours, table, at_least): (Hours, Hours, bool)) -> Told {
        let least = if at_least { tell!("at least ") } else { "" };
        let text = tell!(
            "The edge in use on the {blade} has done {least}**{hours}** of {table}.",
            blade = blade_name(self.shear, blade),
            least,
            hours = numbers::whole_hours(hours.h()),
            table = numbers::whole_hours(table.h())
        );
        self.edge_hours(
            blade,
            text,
            (hours, table),
            tell!("an edge that has done its hours is turned"),
        )
    }

    fn edge_hours(
        &self,
        blade: &BladeId,
        text: String,
        (hours, table): (Hours, Hours),
        rule: &'static str,
    ) -> Told {
        let row = tell!(
            "Edge hours in the machine's file, row {blade}",
            blade = blade_name(self.shear, blade)
        );
        let [value, limit] = [hours, table].map(|it| numbers::whole_hours(it.h()));
        Told::new(text, Basis { value, limit, row, rule })
    }

    fn wear(
        &self,
        blade: &BladeId,
        text: String,
        (value, limit): (Length, Length),
        rule: &'static str,
    ) -> Told {
        let name = blade_name(self.shear, blade);
        let row = tell!("Wear limits in the machine's file, row {name}", name);
        let (value_mm, limit_mm) = (value.mm(), limit.mm());
        let (value, limit) = (self.n.length_unit(value), self.n.length_unit(limit));
        Told::new(text, Basis { value, limit, row, rule }).lengths(value_mm, limit_mm)
    }

    fn no_pack(&self, blade: &BladeId) -> Told {
        let name = blade_name(self.shear, blade);
        Told::new(
            tell!(
                "The {name} cannot be shimmed: the machine's file allows **0** shims there.",
                name
            ),
            Basis {
                value: tell!("cannot be shimmed").to_owned(),
                limit: "0".to_owned(),
                row: tell!("Pack rules in the machine's file, row {name}", name),
                rule: tell!("only a blade with pack rules is shimmed"),
            },
        )
    }

    fn pack_over(
        &self,
        blade: &BladeId,
        (thick, most): (Length, Length),
        (shims, allowed): (usize, usize),
    ) -> Told {
        let name = blade_name(self.shear, blade);
        let row = tell!("Pack rules in the machine's file, row {name}", name);
        let rule = tell!("a pack stays within its maximum");
        if most < thick {
            let (value, limit) = (self.n.length(thick), self.n.length(most));
            let text = tell!(
                "By the log a pack of **{value}** stands behind the {name}, **{limit}** is \
                 allowed. Look what really stands there, and at the next work turn the blade or \
                 take shims out.",
                value,
                name,
                limit
            );
            let (value_mm, limit_mm) = (thick.mm(), most.mm());
            return Told::new(text, Basis { value, limit, row, rule }).lengths(value_mm, limit_mm);
        }
        let (value, limit) = (tell!("{shims} shims", shims), allowed.to_string());
        let text = tell!(
            "By the log **{value}** stand behind the {name}, **{limit}** are allowed. Look what \
             really stands there, and at the next work put fewer and thicker ones in.",
            value,
            name,
            limit
        );
        Told::new(text, Basis { value, limit, row, rule })
    }

    fn no_fresh_edge(&self, blade: &BladeId) -> Told {
        let name = blade_name(self.shear, blade);
        let edges = self.shear.blade(blade).map_or(0, |blade| blade.edges);
        let left = tell!("0 of {edges}", edges);
        Told::new(
            tell!("No fresh edge is left on the {name}: **{left}**.", name, left),
            Basis {
                value: left,
                limit: tell!("at least 1").to_owned(),
                row: tell!("Edges used, row {name}", name),
                rule: tell!("a turn takes at least 1 fresh edge, else a new blade is fitted"),
            },
        )
    }

    fn retorque_due(&self, blade: &BladeId, hours: Hours, interval: Hours) -> Told {
        let [value, limit] = [hours, interval].map(|it| numbers::whole_hours(it.h()));
        Told::new(
            tell!("The bolts of the {blade} have cut **{value}** since they were tightened after work; \
                 they settle, and are tightened again after {limit}.", blade = blade_name(self.shear, blade), value, limit),
            Basis {
                value,
                limit,
                row: tell!("Yard's intervals, row tighten again").to_owned(),
                rule: tell!("bolts that have settled are tightened again before cutting on"),
            },
        )
        .from("log")
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

    fn streak(&self, kind: &FindingKind, station: Option<u8>, heat: Option<&StreakHeat>) -> Told {
        let text = tell!(
            "{kind} seen{station}: this face has been hot.",
            kind = words::finding(kind),
            station = self.at(station)
        );
        let rule = tell!("a colour is evidence of heat, never a number");
        let Some(heat) = heat else { return Told::finding(text, kind, rule) };
        let (low, high) = heat.closed_mm;
        let closed = format!("{}–{}", self.n.estimate(low), self.n.estimate(high));
        let of = heat.cold_mm.map(|cold| (cold, self.n.estimate(cold)));
        let text = tell!(
            "{text} {band} It had then closed by **{closed}**{high}.",
            text,
            band = crate::brief::heat::band(&heat.band),
            closed,
            high = of.as_ref().map_or_else(String::new, |(cold, words)| {
                let left = crate::brief::heat::left(*cold, (low, high));
                tell!(" of {words} cold: {left}", words, left)
            })
        );
        let told = Told::finding(text, kind, rule).from(tell!(
            "published temper colours, which disagree; parts as warm as the heat model has them, \
             or as hot as the face"
        ));
        match of {
            Some((cold, limit)) => Told { value: closed, limit, ..told }.lengths(high, cold),
            None => Told { value: closed, value_mm: Some(high), ..told },
        }
    }

    fn jaw_spread(&self, spread: &Spread) -> Told {
        let (by, jump) = (self.n.estimate(spread.by_mm), self.n.estimate(SPREAD_JUMP_MM));
        let text = tell!(
            "The lower jaw has spread: the gaps either side of the tip together opened by \
             **{by}** between {from} and {to}, **{jump}** or more over what recorded work explains. \
             Shims cannot cure that; a qualified welder must look at it.",
            by,
            from = self.n.moment(spread.from),
            to = self.n.moment(spread.to),
            jump
        );
        let row = tell!(
            "Sum of two readings, rows {cutting} and {guide}",
            cutting = spread.cutting,
            guide = spread.guide
        );
        let rule = tell!("a jump that no work explains stops the machine");
        Told::new(text, Basis { value: by, limit: jump, row, rule })
            .lengths(spread.by_mm, SPREAD_JUMP_MM)
            .from(tell!("the limit is ours, no published source"))
    }

    fn within(&self, least: Length, most: Length, (band, name): (Band, &str)) -> Told {
        let (low, high) = (self.n.estimate(least.mm()), self.n.estimate(most.mm()));
        let gaps = format!("{low}–{high}");
        let limits = band_words(band, self.n);
        let text = tell!("All gaps **{gaps}**, inside {name} {limits}.", gaps, name, limits);
        let rule = tell!("inside its working limits a line is left alone");
        self.measured(text, (gaps, most.mm()), (limits, band.max.mm()), rule)
    }

    fn cannot_shim(
        &self,
        blade: &BladeId,
        why: Shortfall,
        apart: Option<(StationId, StationId)>,
    ) -> Told {
        let name = blade_name(self.shear, blade);
        let rules = self.shear.blade(blade).and_then(|blade| blade.pack);
        let apart = apart.map(|(wide, tight)| (wide.to_string(), tight.to_string()));
        let told = shortfall::tell(why, name, rules, apart, self.n);
        let set = self.line.limits.set();
        let pack = || tell!("Pack rules in the machine's file, row {name}", name);
        let range =
            || tell!("{row}, set range {set}", row = self.row(), set = band_words(set, self.n));
        let (row, rule) = match why {
            Shortfall::Tapered { .. } => {
                (range(), tell!("one pack brings every station into the set range"))
            }
            Shortfall::HotAboveSet { .. } => {
                (range(), tell!("a shimmed gap ends inside the set range"))
            }
            Shortfall::PackFull { .. } => (pack(), tell!("a pack stays within its maximum")),
            Shortfall::PackEmpty => {
                (pack(), tell!("a gap opens by at least 1 shim that comes out"))
            }
            Shortfall::ShelfCannot { .. } => (
                tell!("Shelf in the yard's file, every row, and the pack behind the {name}", name),
                tell!("every pack that shelf and present pack can make was tried"),
            ),
            Shortfall::NothingToGoBy => (
                tell!("Readings, row {line}", line = words::line(self.line)),
                tell!("a recipe rests on at least 1 reading"),
            ),
        };
        let limit = if let Shortfall::Tapered { .. } = why {
            (band_words(set, self.n), Some(set.max - set.min))
        } else {
            told.limit
        };
        Told {
            value_mm: told.value.1.map(Length::mm),
            limit_mm: limit.1.map(Length::mm),
            ..Told::new(told.text, Basis { value: told.value.0, limit: limit.0, row, rule })
        }
    }
}

const BEYOND_STOP: &str = sentence!("a gap outside its stop limits stops the machine");

const BEYOND_WORKING: &str = sentence!("outside its working limits a gap is put right");

const SOON: &str = sentence!("a gap is put right before it leaves its limits");

const HOT_TIGHT: &str = sentence!("a gap keeps its smallest hot gap");

const WORN: &str = sentence!("a blade beyond a wear limit is turned or replaced");

const WORN_SOON: &str = sentence!("work is planned before a wear limit is reached");

/// There is no published source for it.
const FACING_WORN: &str = sentence!(
    "an edge half through its hours is planned after the one it faces \
     (common practice, no published source)"
);

/// Why cracks stop a machine.
const CRACKS: &str = sentence!("cracks stop the machine");

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
