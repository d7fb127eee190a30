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
        let rows = self.rows.iter().map(|row| {
            let parts = [row.edge.as_str(), &row.hours, &row.seen];
            let said: Vec<&str> = parts.into_iter().filter(|it| !it.is_empty()).collect();
            crate::brief::plain(&said.join(", ")).to_lowercase()
        });
        format!("{}: {}.", self.name, rows.collect::<Vec<_>>().join("; "))
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
