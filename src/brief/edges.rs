//! The edges of a blade one by one, told: what each has behind it and which comes next.

use crate::{
    brief::{numbers, words},
    domain::{
        decide::{BladeEdges, EdgeHistory, EdgeUse},
        machine::{BladeId, Shear},
        quantity::Hours,
    },
    language::{self, sentence, tell},
};

/// A blade with its edges, told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BladeEdgesBrief {
    /// `Lower secondary blade`.
    pub name: String,
    /// From edge 1.
    pub rows: Vec<EdgeRow>,
    /// Where else it has stood, as a sentence.
    pub came_from: Option<String>,
}

/// One edge, told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EdgeRow {
    /// `Edge 2, in use`.
    pub edge: String,
    /// `**134 h** of 600 h`.
    pub hours: String,
    /// `chipped edge, blue streak`; empty if nothing was seen.
    pub seen: String,
}

impl BladeEdgesBrief {
    /// `Lower secondary blade: edge 1, used, 466 h, chipped edge; edge 2, in use, …`
    pub fn line(&self) -> String {
        let rows = self.rows.iter().map(|row| words::within(&crate::brief::plain(&row.line())));
        format!("{}: {}.", self.name, rows.collect::<Vec<_>>().join("; "))
    }
}

impl EdgeRow {
    /// `Edge 2, in use, **134 h** of 600 h, chipped edge`.
    pub fn line(&self) -> String {
        let parts = [self.edge.as_str(), &self.hours, &self.seen];
        parts.into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join(", ")
    }
}

/// Tells the edges of a blade.
pub fn tell(edges: &BladeEdges, shear: &Shear) -> BladeEdgesBrief {
    BladeEdgesBrief {
        name: words::capital(name(shear, &edges.blade)),
        rows: edges.edges.iter().map(|edge| row(edge, edges)).collect(),
        came_from: edges
            .came_from
            .as_ref()
            .map(|place| tell!("It has cut as the {place} before.", place = name(shear, place))),
    }
}

/// Asks whether two blades have changed places.
pub fn swap_question(shear: &Shear, [one, other]: [&BladeId; 2]) -> String {
    tell!(
        "Have the {one} and the {other} changed places?",
        one = name(shear, one),
        other = name(shear, other)
    )
}

/// What follows from two blades that change places.
pub const SWAP: &str = sentence!(
    "Each takes its edges along, with their hours and what was seen on them. The packs stay at \
     their seats. Measure the gaps of both again."
);

/// Two blades have changed places, as the last thing that was logged.
pub fn swapped(shear: &Shear, [one, other]: [&BladeId; 2]) -> String {
    tell!(
        "The {one} and the {other} have changed places.",
        one = name(shear, one),
        other = name(shear, other)
    )
}

/// Two blades cannot stand in each other's place.
pub fn do_not_fit(shear: &Shear, [one, other]: [&BladeId; 2]) -> String {
    tell!(
        "By the machine's file the {one} does not fit in the place of the {other}. Choose another one.",
        one = name(shear, one),
        other = name(shear, other)
    )
}

fn row(edge: &EdgeHistory, of: &BladeEdges) -> EdgeRow {
    let state = match edge.state {
        EdgeUse::InUse => tell!("in use"),
        EdgeUse::Used => tell!("used"),
        EdgeUse::Fresh if of.next == Some(edge.edge) => tell!("fresh, turn to it next"),
        EdgeUse::Fresh => tell!("fresh"),
    };
    let least = if edge.at_least { tell!("at least ") } else { "" };
    let whole = |hours: Hours| numbers::whole_hours(hours.h());
    let seen: Vec<String> =
        edge.seen.iter().map(|kind| words::within(words::finding(kind))).collect();
    EdgeRow {
        edge: tell!("Edge\u{a0}{edge}, {state}", edge = edge.edge, state),
        hours: match (edge.hours, edge.state) {
            (Some(hours), EdgeUse::InUse) => {
                tell!(
                    "{least}**{hours}** of {table}",
                    least,
                    hours = whole(hours),
                    table = whole(of.table)
                )
            }
            (Some(hours), _) => format!("{least}**{}**", whole(hours)),
            (None, _) => String::new(),
        },
        seen: seen.join(", "),
    }
}

fn name<'a>(shear: &'a Shear, id: &'a BladeId) -> &'a str {
    shear.blade(id).map_or(id.0.as_str(), |blade| language::known(&blade.name))
}

/// What to know about the blade that faces a fresh edge.
pub(crate) fn facing_worn(
    name: &str,
    (hours, table): (Hours, Hours),
    least: &str,
    edge: Option<u8>,
) -> String {
    let next = edge.map_or_else(
        || tell!("a new one").to_owned(),
        |it| tell!("its edge\u{a0}{edge}", edge = it),
    );
    tell!(
        "It will face the {name}, whose edge has done {least}**{hours}** of {table}. Plan {next} after this \
         gap was measured: each fresh edge closes it.",
        name,
        least,
        hours = numbers::whole_hours(hours.h()),
        table = numbers::whole_hours(table.h()),
        next
    )
}
