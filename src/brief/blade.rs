//! Blades, told: which edges are left, and what stands behind them now and after a job.

use crate::{
    brief::{Numbers, numbers, words},
    domain::{
        decide::Job,
        log::{BladeState, BoltSpan, History},
        machine::{BladeId, Shear},
        quantity::{Hours, Length, less},
    },
    language::{self, sentence, tell},
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
        0 => tell!("none left").to_owned(),
        fresh => tell!("{fresh} left", fresh),
    };
    let hours = history.hours_on_edge(id).map_or_else(
        || left.clone(),
        |(hours, at_least)| {
            let least = if at_least { tell!("at least ") } else { "" };
            format!("{least}{}, {left}", numbers::whole_hours(hours.h()))
        },
    );
    Some(EdgesBrief {
        name: words::capital(language::known(&blade.name)),
        edges,
        in_use: tell!("edge {edge} in use", edge = state.edge),
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

/// Tells the packs that a job changes, or those behind `fixed` if it changes none; none for a blade
/// that cannot be shimmed.
///
/// A pack of the same shims over the full length is told once; where it differs from bolt to bolt,
/// once for each group of bolts.
pub fn packs(
    shear: &Shear,
    history: &History,
    fixed: &BladeId,
    job: &Job,
    n: Numbers,
) -> Vec<PackBrief> {
    let id = match job {
        Job::ChangePack { blade, .. }
        | Job::StepPack { blade, .. }
        | Job::Turn { blade, .. }
        | Job::Fit { blade, .. } => blade,
        Job::Nothing
        | Job::Measure
        | Job::OrderShims { .. }
        | Job::Retorque { .. }
        | Job::CallWelder
        | Job::FindCause => fixed,
    };
    let (Some(blade), Some(now)) = (shear.blade(id), history.blades.get(id)) else {
        return Vec::new();
    };
    let Some(rules) = blade.pack else { return Vec::new() };
    let mut after = now.clone();
    carry_out(&mut after, job);
    let last = blade.bolts.as_ref().map_or(1, |bolts| bolts.from_pivot.len());
    let mut groups: Vec<(BoltSpan, Vec<Length>, Vec<Length>)> = Vec::new();
    for bolt in 1..=u8::try_from(last).unwrap_or(u8::MAX) {
        let (now, after) = (now.pack_at(bolt), after.pack_at(bolt));
        match groups.last_mut().filter(|(_, was, then)| (was, then) == (&now, &after)) {
            Some((span, ..)) => span.last = bolt,
            None => groups.push((BoltSpan { first: bolt, last: bolt }, now, after)),
        }
    }
    let alone = groups.len() == 1;
    let tell = |(span, now, after): &(BoltSpan, Vec<Length>, Vec<Length>)| {
        let place =
            if alone { String::new() } else { tell!(" at {span}", span = words::bolts(*span)) };
        one_pack(
            tell!("Shim pack{place}, {blade}", place, blade = language::known(&blade.name)),
            (now, after),
            rules.thickest,
            n,
        )
    };
    groups.iter().map(tell).collect()
}

/// What a job does to the pack of its blade.
fn carry_out(state: &mut BladeState, job: &Job) {
    match job {
        Job::ChangePack { plan, .. } => state.change_pack(&plan.put_in, &plan.take_out, None),
        Job::StepPack { parts, .. } => {
            for part in parts {
                state.change_pack(&part.put_in, &part.take_out, part.bolts);
            }
        }
        Job::Turn { pack, .. } | Job::Fit { pack, .. } => {
            state.at_bolts.clear();
            state.pack.clone_from(&pack.pack);
        }
        Job::Nothing
        | Job::Measure
        | Job::OrderShims { .. }
        | Job::Retorque { .. }
        | Job::CallWelder
        | Job::FindCause => {}
    }
}

/// One pack now and after, each thick shims first, next to the seat.
fn one_pack(
    title: String,
    (now, after): (&[Length], &[Length]),
    thickest: Length,
    n: Numbers,
) -> PackBrief {
    let total = |pack: &[Length]| n.length(pack.iter().copied().sum());
    let most = tell!("at most {thickest}", thickest = n.length(thickest));
    let changed = now != after;
    // The shims of one list; those without a like in the other have this fate.
    let beside = |list: &[Length], other: &[Length], fate| -> Vec<ShimBrief> {
        let mut odd = less(list, other);
        let shim = |thickness: &Length| {
            let place = odd.iter().position(|it| it == thickness);
            let fate = place.map_or(Fate::Stays, |place| {
                odd.remove(place);
                fate
            });
            ShimBrief { thickness: *thickness, text: n.length(*thickness), fate }
        };
        list.iter().map(shim).collect()
    };
    PackBrief {
        title,
        remark: if changed {
            tell!("**{after}** after, {most}", after = total(after), most)
        } else {
            tell!("**{now}** now, {most}", now = total(now), most)
        },
        now_words: tell!("now **{now}**", now = total(now)),
        after_words: if changed {
            tell!("after **{after}**", after = total(after))
        } else {
            String::new()
        },
        now: beside(now, after, Fate::ComesOut),
        after: changed.then(|| beside(after, now, Fate::GoesIn)),
    }
}

/// `first`, `second` … `last`: when the bolt at this place of the order is tightened.
pub fn ordinal(place: usize, count: usize) -> String {
    const WORDS: [&str; 8] = [
        sentence!("first"),
        sentence!("second"),
        sentence!("third"),
        sentence!("fourth"),
        sentence!("fifth"),
        sentence!("sixth"),
        sentence!("seventh"),
        sentence!("eighth"),
    ];
    match WORDS.get(place) {
        _ if 0 < place && place + 1 == count => tell!("last").to_owned(),
        Some(word) => language::told(word).to_owned(),
        None => tell!("{place}th", place = place + 1),
    }
}

/// The check that follows work on bolts.
pub fn check_bolts_again(after: Hours) -> String {
    tell!("Check them again after **{after}** of cutting.", after = numbers::whole_hours(after.h()))
}

#[test]
fn bolts_are_counted_as_people_do() {
    let words = |count| (0..count).map(|place| ordinal(place, count)).collect::<Vec<_>>();
    assert_eq!(words(1), ["first"]);
    assert_eq!(words(4), ["first", "second", "third", "last"]);
    assert_eq!(ordinal(8, 12), "9th");
}
