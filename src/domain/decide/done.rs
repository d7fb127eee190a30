//! A job that was carried out, as the log writes it down.
//!
//! Knows what a recipe moves, what a pack can give, and the torque in the machine's file; does not
//! know whether the work was done.

use crate::domain::{
    decide::{Job, LineDecision, PackPart},
    log::{History, Work},
    machine::{BladeId, Line, Shear},
    quantity::Length,
};

impl LineDecision {
    /// The log entries that record the job as done, with the torque from the machine's file.
    pub fn as_work(&self, shear: &Shear) -> Vec<Work> {
        let shims = |blade: &BladeId, put_in: &[Length], take_out: &[Length]| Work::Shims {
            blade: blade.clone(),
            bolts: None,
            put_in: put_in.to_vec(),
            take_out: take_out.to_vec(),
        };
        let (first, facing) = match &self.job {
            Job::ChangePack { blade, plan, .. } => {
                (vec![shims(blade, &plan.put_in, &plan.take_out)], &[][..])
            }
            Job::StepPack { blade, parts, .. } => {
                let part = |it: &PackPart| Work::Shims {
                    blade: blade.clone(),
                    bolts: it.bolts,
                    put_in: it.put_in.clone(),
                    take_out: it.take_out.clone(),
                };
                (parts.iter().map(part).collect(), &[][..])
            }
            Job::Turn { blade, edge, pack } => {
                let (blade, edge) = (blade.clone(), *edge);
                let turned = Work::Turned { blade, edge, pack: pack.pack.clone() };
                (vec![turned], pack.facing.as_slice())
            }
            Job::Fit { blade, pack } => {
                let fitted = Work::Replaced { blade: blade.clone(), pack: pack.pack.clone() };
                (vec![fitted], pack.facing.as_slice())
            }
            Job::Retorque { blades } => {
                return blades.iter().filter_map(|id| tightened(shear, id)).collect();
            }
            Job::Nothing
            | Job::Measure
            | Job::OrderShims { .. }
            | Job::CallWelder
            | Job::FindCause => return Vec::new(),
        };
        let faced = facing.iter().map(|(blade, it)| shims(blade, &it.put_in, &it.take_out));
        let work: Vec<Work> = first.into_iter().chain(faced).collect();
        let bolts = tightened_after(shear, &work);
        work.into_iter().chain(bolts).collect()
    }
}

/// The log entries that record the bolts of every blade in `work` as tightened, each to the torque
/// in the machine's file; none for a blade without one.
pub fn tightened_after(shear: &Shear, work: &[Work]) -> Vec<Work> {
    let blades = work.iter().flat_map(|it| [it.blade(), it.other_blade()]).flatten();
    let mut bolts: Vec<Work> = Vec::new();
    for entry in blades.filter_map(|it| tightened(shear, it)) {
        if !bolts.contains(&entry) {
            bolts.push(entry);
        }
    }
    bolts
}

/// The shims that the entry at this place can have taken out: all that stand behind its blade, at
/// whatever bolts, without those that other entries take. None for an entry that takes none.
pub fn may_come_out(history: &History, work: &[Work], place: usize) -> Vec<Length> {
    let Some(Work::Shims { blade: of, .. }) = work.get(place) else { return Vec::new() };
    let Some(state) = history.blades.get(of) else { return Vec::new() };
    let stepped = state.at_bolts.iter().map(|(_, shim)| *shim);
    let mut left: Vec<Length> = state.pack.iter().copied().chain(stepped).collect();
    for (_, other) in work.iter().enumerate().filter(|(other, _)| *other != place) {
        let Work::Shims { blade, take_out, .. } = other else { continue };
        for shim in take_out.iter().filter(|_| blade == of) {
            if let Some(taken) = left.iter().position(|it| it == shim) {
                left.remove(taken);
            }
        }
    }
    left.sort();
    left
}

/// The blades of a line to which an entry may have been done, its own among them, the fixed one
/// first.
pub fn may_be_meant<'a>(shear: &Shear, line: &'a Line, work: &Work) -> Vec<&'a BladeId> {
    let fits = |id: &&BladeId| {
        let Some(blade) = shear.blade(id) else { return false };
        match work {
            Work::Shims { .. } => blade.pack.is_some(),
            Work::Turned { .. } => 1 < blade.edges,
            Work::Replaced { .. } => blade.bolts.is_some(),
            _ => false,
        }
    };
    [&line.fixed, &line.moving].into_iter().filter(fits).collect()
}

/// The same kind of work done to another blade of the line, with nothing but its own pack behind it.
pub fn to_other_blade(shear: &Shear, history: &History, work: &Work, to: &BladeId) -> Work {
    let state = history.blades.get(to);
    let pack = state.map_or_else(Vec::new, |it| it.pack.clone());
    let blade = to.clone();
    match work {
        Work::Turned { .. } => {
            let fresh = state.zip(shear.blade(to)).map(|(state, it)| state.fresh_edges(it));
            let other = if state.is_some_and(|it| it.edge == 1) { 2 } else { 1 };
            let edge = fresh.and_then(|it| it.first().copied()).unwrap_or(other);
            Work::Turned { blade, edge, pack }
        }
        Work::Replaced { .. } => Work::Replaced { blade, pack },
        _ => Work::Shims { blade, bolts: None, put_in: Vec::new(), take_out: Vec::new() },
    }
}

/// The log entries that record two blades as changed places, their bolts tightened to the torque
/// in the machine's file.
pub fn swap_as_work(shear: &Shear, [blade, with]: [BladeId; 2]) -> Vec<Work> {
    let swapped = vec![Work::Swapped { blade, with }];
    let bolts = tightened_after(shear, &swapped);
    swapped.into_iter().chain(bolts).collect()
}

fn tightened(shear: &Shear, blade: &BladeId) -> Option<Work> {
    let torque = shear.blade(blade)?.bolts.as_ref()?.torque?;
    Some(Work::Tightened { blade: blade.clone(), torque })
}
