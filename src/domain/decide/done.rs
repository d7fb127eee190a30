//! A job that was carried out, as the log writes it down.
//!
//! Knows what a recipe moves and the torque in the machine's file; does not know whether the work
//! was done.

use crate::domain::{
    decide::{Job, LineDecision, PackPart},
    log::Work,
    machine::{BladeId, Shear},
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
        let blades = work.iter().filter_map(Work::blade);
        let mut tightened: Vec<Work> = blades.filter_map(|it| tightened(shear, it)).collect();
        tightened.dedup();
        work.into_iter().chain(tightened).collect()
    }
}

/// The log entries that record two blades as changed places, their bolts tightened to the torque
/// in the machine's file.
pub fn swap_as_work(shear: &Shear, [blade, with]: [BladeId; 2]) -> Vec<Work> {
    let bolts = [&blade, &with].into_iter().filter_map(|it| tightened(shear, it));
    let bolts: Vec<Work> = bolts.collect();
    std::iter::once(Work::Swapped { blade, with }).chain(bolts).collect()
}

fn tightened(shear: &Shear, blade: &BladeId) -> Option<Work> {
    let torque = shear.blade(blade)?.bolts.as_ref()?.torque?;
    Some(Work::Tightened { blade: blade.clone(), torque })
}
