//! Blades, told: which edges are left, and what stands behind them now and after a job.

use crate::{
    brief::{Numbers, numbers, words},
    domain::{
        decide::Job,
        log::History,
        machine::{BladeId, Shear},
        quantity::{Hours, Length},
    },
};

/// The state of one edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// Sharp and unused.
    Fresh,
    /// Cutting now.
    InUse,
    /// Used up.
    Worn,
}

/// A blade's edges, told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EdgesBrief {
    /// `Lower secondary blade`.
    pub name: String,
    /// From edge 1.
    pub edges: Vec<Edge>,
    /// `edge 2 in use`.
    pub in_use: String,
    /// `148 h, 2 left`: hours on the edge in use, and fresh edges.
    pub hours: String,
}

/// Tells the edges of a blade; `None` if the machine has no such blade.
pub fn edges(shear: &Shear, history: &History, id: &BladeId) -> Option<EdgesBrief> {
    let blade = shear.blade(id)?;
    let state = history.blades.get(id)?;
    let edges: Vec<Edge> = (1..=blade.edges)
        .map(|edge| match edge {
            _ if edge == state.edge => Edge::InUse,
            _ if state.edges_used.contains(&edge) => Edge::Worn,
            _ => Edge::Fresh,
        })
        .collect();
    let left = match edges.iter().filter(|edge| **edge == Edge::Fresh).count() {
        0 => "none left".to_owned(),
        fresh => format!("{fresh} left"),
    };
    let hours = history.hours_on_edge(id).map_or_else(
        || left.clone(),
        |(hours, at_least)| {
            let least = if at_least { "at least " } else { "" };
            format!("{least}{}, {left}", numbers::whole_hours(hours.h()))
        },
    );
    Some(EdgesBrief {
        name: words::capital(&blade.name),
        edges,
        in_use: format!("edge {} in use", state.edge),
        hours,
    })
}

/// What happens to a shim.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// Stays.
    Stays,
    /// Is put in.
    GoesIn,
    /// Is taken out.
    ComesOut,
}

/// One shim of a pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShimBrief {
    /// Its thickness.
    pub thickness: Length,
    /// That as text.
    pub text: String,
    /// What happens to it.
    pub fate: Fate,
}

/// The pack behind a blade, told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackBrief {
    /// `Shim pack, lower secondary blade`.
    pub title: String,
    /// `**1.50** after, at most 3.00`.
    pub remark: String,
    /// From the seat outward.
    pub now: Vec<ShimBrief>,
    /// The same after the job; `None` if the job leaves it alone.
    pub after: Option<Vec<ShimBrief>>,
    /// `now **0.75**`.
    pub now_words: String,
    /// `after **1.50**`; empty without a change.
    pub after_words: String,
}

/// Tells the pack that a job changes, or the one behind `fixed` if it changes none; `None` for a
/// blade that cannot be shimmed.
pub fn pack(
    shear: &Shear,
    history: &History,
    fixed: &BladeId,
    job: &Job,
    n: Numbers,
) -> Option<PackBrief> {
    let (id, take_out, put_in): (&BladeId, &[Length], &[Length]) = match job {
        Job::ChangePack { blade, plan, .. } => (blade, &plan.take_out, &plan.put_in),
        Job::Turn { blade, pack, .. } | Job::Fit { blade, pack } => {
            (blade, &pack.take_out, &pack.put_in)
        }
        Job::Nothing
        | Job::Measure
        | Job::OrderShims { .. }
        | Job::Retorque { .. }
        | Job::CallWelder
        | Job::FindCause => (fixed, &[], &[]),
    };
    let blade = shear.blade(id)?;
    let rules = blade.pack?;
    let state = history.blades.get(id)?;
    let shim = |thickness: Length, fate| ShimBrief { thickness, text: n.length(thickness), fate };
    let mut leaving = take_out.to_vec();
    let now: Vec<ShimBrief> = state
        .pack
        .iter()
        .map(|it| match leaving.iter().position(|out| out == it) {
            Some(place) => {
                leaving.remove(place);
                shim(*it, Fate::ComesOut)
            }
            None => shim(*it, Fate::Stays),
        })
        .collect();
    let changed = !take_out.is_empty() || !put_in.is_empty();
    let after = changed.then(|| {
        let mut after: Vec<ShimBrief> =
            now.iter().filter(|it| it.fate == Fate::Stays).cloned().collect();
        after.extend(put_in.iter().map(|it| shim(*it, Fate::GoesIn)));
        // Thick shims stand next to the seat.
        after.sort_by_key(|it| std::cmp::Reverse(it.thickness));
        after
    });
    let total = |pack: &[ShimBrief]| n.length(pack.iter().map(|it| it.thickness).sum());
    let most = format!("at most {}", n.length(rules.thickest));
    Some(PackBrief {
        title: format!("Shim pack, {}", blade.name),
        remark: match &after {
            Some(after) => format!("**{}** after, {most}", total(after)),
            None => format!("**{}** now, {most}", total(&now)),
        },
        now_words: format!("now **{}**", total(&now)),
        after_words: after
            .as_ref()
            .map_or_else(String::new, |it| format!("after **{}**", total(it))),
        now,
        after,
    })
}

/// `first`, `second` … `last`: when the bolt at this place of the order is tightened.
pub fn ordinal(place: usize, count: usize) -> String {
    const WORDS: [&str; 8] =
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"];
    match WORDS.get(place) {
        Some(first @ &"first") => (*first).to_owned(),
        _ if place + 1 == count => "last".to_owned(),
        Some(word) => (*word).to_owned(),
        None => format!("{}th", place + 1),
    }
}

/// The check that follows work on bolts.
pub fn check_bolts_again(after: Hours) -> String {
    format!("Check them again after **{}** of cutting.", numbers::whole_hours(after.h()))
}

#[test]
fn bolts_are_counted_as_people_do() {
    let words = |count| (0..count).map(|place| ordinal(place, count)).collect::<Vec<_>>();
    assert_eq!(words(1), ["first"]);
    assert_eq!(words(4), ["first", "second", "third", "last"]);
    assert_eq!(ordinal(8, 12), "9th");
}
