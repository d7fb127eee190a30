//! The edges of a blade one by one, told: what each has behind it and which comes next.

use crate::{
    brief::{numbers, words},
    domain::{
        decide::{BladeEdges, EdgeHistory, EdgeUse},
        machine::{BladeId, Shear},
        quantity::Hours,
    },
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
        let rows = self.rows.iter().map(|row| crate::brief::plain(&row.line()).to_lowercase());
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
            .map(|place| format!("It has cut as the {} before.", name(shear, place))),
    }
}

/// Asks whether two blades have changed places.
pub fn swap_question(shear: &Shear, [one, other]: [&BladeId; 2]) -> String {
    format!("Have the {} and the {} changed places?", name(shear, one), name(shear, other))
}

/// What follows from two blades that change places.
pub const SWAP: &str = "Each takes its edges along, with their hours and what was seen on them. The packs stay at \
     their seats. Measure the gaps of both again.";

/// Two blades have changed places, as the last thing that was logged.
pub fn swapped(shear: &Shear, [one, other]: [&BladeId; 2]) -> String {
    format!("The {} and the {} have changed places.", name(shear, one), name(shear, other))
}

/// Two blades cannot stand in each other's place.
pub fn do_not_fit(shear: &Shear, [one, other]: [&BladeId; 2]) -> String {
    format!(
        "By the machine's file the {} does not fit in the place of the {}. Choose another one.",
        name(shear, one),
        name(shear, other)
    )
}

fn row(edge: &EdgeHistory, of: &BladeEdges) -> EdgeRow {
    let state = match edge.state {
        EdgeUse::InUse => "in use",
        EdgeUse::Used => "used",
        EdgeUse::Fresh if of.next == Some(edge.edge) => "fresh, turn to it next",
        EdgeUse::Fresh => "fresh",
    };
    let least = if edge.at_least { "at least " } else { "" };
    let whole = |hours: Hours| numbers::whole_hours(hours.h());
    let seen: Vec<String> =
        edge.seen.iter().map(|kind| words::finding(kind).to_lowercase()).collect();
    EdgeRow {
        edge: format!("Edge\u{a0}{}, {state}", edge.edge),
        hours: match (edge.hours, edge.state) {
            (Some(hours), EdgeUse::InUse) => {
                format!("{least}**{}** of {}", whole(hours), whole(of.table))
            }
            (Some(hours), _) => format!("{least}**{}**", whole(hours)),
            (None, _) => String::new(),
        },
        seen: seen.join(", "),
    }
}

fn name<'a>(shear: &'a Shear, id: &'a BladeId) -> &'a str {
    shear.blade(id).map_or(id.0.as_str(), |blade| &blade.name)
}

/// What to know about the blade that faces a fresh edge.
pub(crate) fn facing_worn(
    name: &str,
    (hours, table): (Hours, Hours),
    least: &str,
    edge: Option<u8>,
) -> String {
    let next = edge.map_or_else(|| "a new one".to_owned(), |it| format!("its edge\u{a0}{it}"));
    format!(
        "It will face the {name}, whose edge has done {least}**{}** of {}. Plan {next} after this \
         gap was measured: each fresh edge closes it.",
        numbers::whole_hours(hours.h()),
        numbers::whole_hours(table.h())
    )
}
