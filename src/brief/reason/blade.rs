//! Reasons about a blade: its edges, its wear, its pack and its bolts.

use crate::{
    brief::{
        edges, numbers,
        reason::{Teller, blade_name},
        shortfall,
        told::{Basis, Told, band_words},
        words,
    },
    domain::{
        machine::{BladeId, StationId},
        quantity::{Hours, Length},
        shims::Shortfall,
    },
    language::{self, sentence, tell},
};

impl Teller<'_> {
    pub(super) fn facing_worn(
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

    pub(super) fn fresh_too_tight(&self, blade: &BladeId, gap: Length, limit: Length) -> Told {
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

    pub(super) fn edge_worn(
        &self,
        blade: &BladeId,
        (hours, table, at_least): (Hours, Hours, bool),
    ) -> Told {
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

    pub(super) fn edge_hours(
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

    pub(super) fn wear(
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

    pub(super) fn no_pack(&self, blade: &BladeId) -> Told {
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

    pub(super) fn pack_over(
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

    pub(super) fn no_fresh_edge(&self, blade: &BladeId) -> Told {
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

    pub(super) fn retorque_due(&self, blade: &BladeId, hours: Hours, interval: Hours) -> Told {
        let [value, limit] = [hours, interval].map(|it| numbers::whole_hours(it.h()));
        Told::new(
            tell!(
                "The bolts of the {blade} have cut **{value}** since they were tightened after \
                 work; they settle, and are tightened again after {limit}.",
                blade = blade_name(self.shear, blade),
                value,
                limit
            ),
            Basis {
                value,
                limit,
                row: match self.shear.intervals.retorque {
                    Some(_) => tell!("This machine's intervals, row tighten again").to_owned(),
                    None => tell!("Yard's intervals, row tighten again").to_owned(),
                },
                rule: tell!("bolts that have settled are tightened again before cutting on"),
            },
        )
        .from("log")
    }

    pub(super) fn cannot_shim(
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

/// There is no published source for it.
const FACING_WORN: &str = sentence!(
    "an edge half through its hours is planned after the one it faces \
     (common practice, no published source)"
);
