//! The step at the joint of the primary and the secondary blades once a recipe is carried out.
//!
//! A pack that brings one line into its set range can leave a step to the other, worn one. Knows the
//! gaps after the work; does not change a recipe for it, and says nothing where a gap is not known.

use crate::domain::{
    decide::{Job, LineDecision, Reason, When},
    machine::{LineId, Shear},
    quantity::Length,
};

/// Adds to both lines the step that a planned pack would leave.
pub(crate) fn tell(shear: &Shear, lines: &mut [LineDecision]) {
    let Some(reason) = step_after(shear, lines) else { return };
    for decision in lines.iter_mut().filter(|it| it.line == LineId::P || it.line == LineId::S) {
        decision.reasons.push(reason.clone());
        if let When::NextLook(_) = decision.when {
            decision.when = When::BeforeCuttingOn;
        }
    }
}

fn step_after(shear: &Shear, lines: &[LineDecision]) -> Option<Reason> {
    let of = |id: LineId| lines.iter().find(|it| it.line == id);
    let (inner, outer) = (of(LineId::P)?, of(LineId::S)?);
    let planned =
        |it: &&&LineDecision| matches!(it.job, Job::ChangePack { .. } | Job::StepPack { .. });
    let changes = [&inner, &outer].into_iter().find(planned)?.line;
    let (last, first) = (inner.stations.last()?, outer.stations.first()?);
    let near = last.after.or_else(|| stays(inner).then(|| last.expected()).flatten())?;
    let far = first.after.or_else(|| stays(outer).then(|| first.expected()).flatten())?;
    let (by, limit): (Length, Length) = ((far - near).abs(), shear.joint_step_max);
    let (inner, outer) = (last.station, first.station);
    (limit < by).then_some(Reason::JointStepAfter { changes, inner, outer, by, limit })
}

/// Whether the gap stays what it was measured to be.
fn stays(decision: &LineDecision) -> bool {
    let untouched = matches!(
        decision.job,
        Job::Nothing | Job::Retorque { .. } | Job::OrderShims { .. } | Job::FindCause
    );
    untouched && decision.stations.iter().all(|state| !state.stale)
}
