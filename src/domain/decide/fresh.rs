//! A fresh edge or a new blade, with the packs that go with it.
//!
//! Shims were put in to follow wear. A fresh edge on the old pack makes the blades meet, whichever
//! of the two blades the shims stand behind. So packs go back to what the log proves to be wide
//! enough, or every shim comes out. Knows packs and past readings; does not know why the edge is
//! worn.

use crate::domain::{
    decide::{
        Job, NewPack,
        facts::{AllStates, states_of},
        machine::Context,
        recipe::all_bolts,
    },
    log::{BladeState, Cut, EffectOnLine},
    machine::{Blade, BladeId, Line},
    quantity::{Length, less},
    trend::Point,
};

/// Even without a shim a fresh edge would leave less than the working minimum.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct TooTight {
    /// The blade with the fresh edge.
    pub(crate) blade: BladeId,
    /// The gap to expect.
    pub(crate) gap: Length,
    /// The working minimum.
    pub(crate) limit: Length,
}

/// Turning a blade to its next fresh edge, or fitting a new one if none is left.
pub(crate) fn fresh_edge(
    context: &Context<'_>,
    blade: &Blade,
    all: &AllStates,
) -> Result<Job, TooTight> {
    let edges = context.history.blades.get(&blade.id).map(|state| state.fresh_edges(blade));
    match edges.unwrap_or_default().first() {
        Some(edge) => {
            let pack = packs(context, blade, all)?;
            Ok(Job::Turn { blade: blade.id.clone(), edge: *edge, pack })
        }
        None => new_blade(context, blade, all),
    }
}

/// Fitting a new blade.
pub(crate) fn new_blade(
    context: &Context<'_>,
    blade: &Blade,
    all: &AllStates,
) -> Result<Job, TooTight> {
    Ok(Job::Fit { blade: blade.id.clone(), pack: packs(context, blade, all)? })
}

/// The blade's own pack, then the packs of the blades it faces.
///
/// No such recipe leaves an expected gap under the working minimum. What to expect is the gap felt
/// when a fresh edge was last set, brought to the packs of the recipe. Where that is too tight, or
/// is not known, every shim comes out.
fn packs(context: &Context<'_>, blade: &Blade, all: &AllStates) -> Result<NewPack, TooTight> {
    let faced: Vec<&Line> = context
        .shear
        .lines
        .iter()
        .filter(|line| line.fixed == blade.id || line.moving == blade.id)
        .collect();
    let state = context.history.blades.get(&blade.id);
    let base = state.and_then(|state| state.base_pack.as_deref());
    let wide_enough = |pack: &[Length]| {
        faced.iter().all(|line| {
            let opened = opening(context, &blade.id, pack);
            // The other blade's pack can still come out where it is not.
            let most = opened + opening(context, opposite(line, &blade.id), &[]);
            expected(context, line, &blade.id, all)
                .is_some_and(|gap| line.limits.working().min <= gap + most)
        })
    };
    let known = base.filter(|base| wide_enough(base));
    let mut own = new_pack(context, blade, known);
    let opened = opening(context, &blade.id, &own.pack);
    for line in faced {
        let limit = line.limits.working().min;
        let gap = expected(context, line, &blade.id, all).map(|gap| gap + opened);
        if gap.is_some_and(|gap| limit <= gap) {
            continue;
        }
        let Some(other) = context.shear.blade(opposite(line, &blade.id)) else { continue };
        let enough = |pack: &[Length]| {
            gap.is_some_and(|gap| limit <= gap + opening(context, &other.id, pack))
        };
        let state = context.history.blades.get(&other.id);
        let base = state.and_then(|state| state.base_pack.as_deref()).filter(|it| enough(it));
        let pack = new_pack(context, other, base);
        let gap = gap.map(|gap| gap + opening(context, &other.id, &pack.pack));
        if let Some(gap) = gap.filter(|gap| *gap < limit) {
            return Err(TooTight { blade: blade.id.clone(), gap, limit });
        }
        if !(pack.take_out.is_empty() && pack.put_in.is_empty()) {
            own.facing.push((other.id.clone(), pack));
        }
    }
    Ok(own)
}

fn opposite<'a>(line: &'a Line, blade: &BladeId) -> &'a BladeId {
    if line.fixed == *blade { &line.moving } else { &line.fixed }
}

/// The base pack, or every shim out where none will do.
fn new_pack(context: &Context<'_>, blade: &Blade, base: Option<&[Length]>) -> NewPack {
    let pack = base.unwrap_or_default();
    let state = context.history.blades.get(&blade.id);
    let now = &state.map(BladeState::every_shim).unwrap_or_default();
    NewPack {
        bolts: all_bolts(blade),
        take_out: less(now, pack),
        put_in: less(pack, now),
        pack: pack.to_vec(),
        base_known: base.is_some(),
        facing: Vec::new(),
    }
}

/// How much wider the gap gets when this pack takes the place of the one behind the blade now.
fn opening(context: &Context<'_>, blade: &BladeId, pack: &[Length]) -> Length {
    let last = context.shear.blade(blade).and_then(all_bolts).map_or(1, |span| span.last);
    let now = context.history.blades.get(blade).map(|state| state.pack_least(last));
    let after: Length = pack.iter().copied().sum();
    closed_by(context, blade, now.unwrap_or_default() - after)
}

/// How far shims of this thickness close the gap in front of the blade.
fn closed_by(context: &Context<'_>, blade: &BladeId, shims: Length) -> Length {
    let angle = context.shear.blade(blade).map_or(0.0, |blade| blade.face_angle_deg);
    Length::from_mm(shims.mm() * angle.to_radians().cos()).unwrap_or(shims)
}

/// The smallest gap to expect on a line with a fresh edge on this blade and the packs of now.
///
/// It is the tightest gap felt first after a fresh edge was last set on the blade, less what shims
/// have closed since. The other blade has worn since then, which only makes it wider. `None` if
/// the log cannot tell: no fresh edge, no reading before it wore for longer than between two looks,
/// or the other blade's edge or the pads have changed since.
fn expected(
    context: &Context<'_>,
    line: &Line,
    blade: &BladeId,
    all: &AllStates,
) -> Option<Length> {
    let cuts = context.history.cuts_on(line.id);
    let place = cuts.iter().rposition(|cut| fresh_blade(cut) == Some(blade))?;
    let set = cuts.get(place)?;
    let since = cuts.get(place + 1..)?;
    let mut least: Option<Length> = None;
    for state in states_of(all, line.id) {
        let after = |point: &&Point| is_before(set, point);
        let Some(point) = state.trend.observations.iter().find(after) else { continue };
        if context.look.h() < point.at_h - set.at.h() {
            return None;
        }
        let mut gap = Length::from_mm(point.go_mm)?;
        for cut in since.iter().filter(|cut| !is_before(cut, point)) {
            match &cut.effect {
                // Shims at some bolts close the gap there and count everywhere; what came out of some
                // bolts opened it there only and counts nowhere.
                EffectOnLine::Shimmed { blade, by, bolts } => {
                    let by = if bolts.is_some() { (*by).max(Length::ZERO) } else { *by };
                    gap = gap - closed_by(context, blade, by);
                }
                EffectOnLine::Turned { .. }
                | EffectOnLine::Replaced { .. }
                | EffectOnLine::Swapped { .. }
                | EffectOnLine::PadsMoved
                | EffectOnLine::Moved(_) => return None,
            }
        }
        least = Some(least.map_or(gap, |least| least.min(gap)));
    }
    least
}

/// Work comes after the readings of its own session.
fn is_before(cut: &Cut, point: &Point) -> bool {
    (cut.taken, &cut.session) < (point.taken, &point.session)
}

fn fresh_blade(cut: &Cut) -> Option<&BladeId> {
    match &cut.effect {
        EffectOnLine::Turned { blade, .. } | EffectOnLine::Replaced { blade } => Some(blade),
        EffectOnLine::Shimmed { .. }
        | EffectOnLine::Swapped { .. }
        | EffectOnLine::PadsMoved
        | EffectOnLine::Moved(_) => None,
    }
}
