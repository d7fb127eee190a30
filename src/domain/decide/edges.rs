//! What each edge of a blade has behind it, and which one comes next.
//!
//! A blade's edges follow it from place to place. A finding names a line and not a blade, so it is
//! counted for the edges of both blades that faced each other there. Knows hours and findings; does
//! not know whether an edge is due.

use crate::domain::{
    decide::{Job, Reason, machine::Context},
    log::{FindingKind, History, Stint},
    machine::{Blade, BladeId, Line, Shear},
    quantity::Hours,
};

/// How far an edge is through its life.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeUse {
    /// It has not cut yet.
    Fresh,
    /// It cuts now.
    InUse,
    /// It has cut and was turned away.
    Used,
}

/// One edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EdgeHistory {
    /// Counted from 1.
    pub edge: u8,
    /// Whether it has cut.
    pub state: EdgeUse,
    /// Hours it has cut; `None` if the log does not know, as for one used before it begins.
    pub hours: Option<Hours>,
    /// Whether the hours are a minimum.
    pub at_least: bool,
    /// What was seen on its lines while it cut there, each kind once, first seen first.
    pub seen: Vec<FindingKind>,
}

/// One blade with its edges.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BladeEdges {
    /// The place it stands at.
    pub blade: BladeId,
    /// Hours that an edge may cut.
    pub table: Hours,
    /// From edge 1.
    pub edges: Vec<EdgeHistory>,
    /// The edge to turn to next: the first fresh one.
    pub next: Option<u8>,
    /// Where else the blade has stood.
    pub came_from: Option<BladeId>,
}

/// The edges of both blades of a line, the fixed one first.
pub(crate) fn of_line(context: &Context<'_>, line: &Line) -> Vec<BladeEdges> {
    [&line.fixed, &line.moving]
        .into_iter()
        .filter_map(|id| of_blade(context.shear, context.history, context.shear.blade(id)?))
        .collect()
}

fn of_blade(shear: &Shear, history: &History, blade: &Blade) -> Option<BladeEdges> {
    let state = history.blades.get(&blade.id)?;
    let stints = history.stints_of(&blade.id);
    let fresh = state.fresh_edges(blade);
    let edges = (1..=blade.edges).map(|edge| {
        let mine: Vec<(usize, &Stint)> =
            stints.iter().enumerate().filter(|(_, stint)| stint.edge == edge).collect();
        let hours = mine.iter().fold(Hours::ZERO, |sum, (_, it)| sum + (it.to - it.from));
        let at_least = mine.iter().any(|(_, stint)| stint.at_least);
        let mut seen: Vec<FindingKind> = Vec::new();
        for (place, stint) in &mine {
            for kind in seen_in(shear, history, (*place, stint)) {
                if !seen.contains(kind) {
                    seen.push(kind.clone());
                }
            }
        }
        EdgeHistory {
            edge,
            state: if edge == state.edge {
                EdgeUse::InUse
            } else if fresh.contains(&edge) {
                EdgeUse::Fresh
            } else {
                EdgeUse::Used
            },
            // Turned in the first session of the log: nobody knows.
            hours: Some(hours)
                .filter(|hours| !mine.is_empty() && (!at_least || Hours::ZERO < *hours)),
            at_least,
            seen,
        }
    });
    let elsewhere = stints.iter().rev().find(|stint| stint.place != blade.id);
    Some(BladeEdges {
        blade: blade.id.clone(),
        table: blade.hours_per_edge,
        edges: edges.collect(),
        next: fresh.first().copied(),
        came_from: elsewhere.map(|stint| stint.place.clone()),
    })
}

/// Marks that a face or an edge keeps, seen on a line of the stint's place while it lasted.
///
/// What is seen in the session that ends a stint belongs to it: findings come before work.
fn seen_in<'a>(
    shear: &'a Shear,
    history: &'a History,
    (place, stint): (usize, &'a Stint),
) -> impl Iterator<Item = &'a FindingKind> {
    let faces = move |line| {
        shear.line(line).is_some_and(|line| line.moving == stint.place || line.fixed == stint.place)
    };
    history
        .seen
        .iter()
        .filter(move |seen| {
            let begun = stint.from < seen.at || (place == 0 && stint.from == seen.at);
            begun && seen.at <= stint.to && seen.finding.line.is_some_and(faces)
        })
        .map(|seen| &seen.finding.kind)
        .filter(|kind| stays(kind))
}

const fn stays(kind: &FindingKind) -> bool {
    matches!(
        kind,
        FindingKind::StrawStreak
            | FindingKind::BrownStreak
            | FindingKind::PurpleStreak
            | FindingKind::BlueStreak
            | FindingKind::SurfaceCracks
            | FindingKind::ChippedEdge
    )
}

/// The blade that faces a fresh edge, where its own edge has cut half its hours or more: the two
/// are turned one after the other, so that no fresh edge works against a dull one. Common practice,
/// no published source.
pub(crate) fn facing_worn(context: &Context<'_>, line: &Line, job: &Job) -> Option<Reason> {
    let (Job::Turn { blade, .. } | Job::Fit { blade, .. }) = job else { return None };
    let other = if *blade == line.fixed { &line.moving } else { &line.fixed };
    let other = context.shear.blade(other)?;
    let (hours, at_least) = context.history.hours_on_edge(&other.id)?;
    // Past its hours it is told by its own reason already.
    let half = other.hours_per_edge - hours <= hours && hours < other.hours_per_edge;
    let edge = context.history.blades.get(&other.id)?.fresh_edges(other).first().copied();
    let (blade, table) = (other.id.clone(), other.hours_per_edge);
    half.then_some(Reason::FacingWorn { blade, hours, table, at_least, edge })
}
