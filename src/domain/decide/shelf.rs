//! One shelf for all lines of a machine.
//!
//! Each line is first decided as if the shelf were its own. Lines that want the same shims are
//! planned again together, whether their packs go over the full length or differ from bolt to bolt.
//! Knows which line comes first; does not know how packs are found.

use crate::domain::{
    decide::{Job, LineDecision, Reason, facts::AllStates, line, machine::Context},
    machine::LineId,
    quantity::Length,
    shims::{Bed, BedPlan, BedsPlan, Unshared, plan_beds},
    yard::ShelfItem,
};

/// Plans the packs of lines that want the same shims, so that every recipe can be carried out
/// beside the others and each blade ends as well as one shelf allows.
///
/// Where the shelf cannot serve them all, the more severe line comes first; the others are decided
/// again with what is left.
pub(crate) fn share(context: &Context<'_>, states: &AllStates, lines: &mut [LineDecision]) {
    let mut shelf = context.shelf.to_vec();
    if lines.iter().all(|it| take(&mut shelf, &it.job.takes_from_shelf())) {
        return;
    }
    let Served { lines: served, planned, proven, refused } = serve(context.shelf, lines);
    let mut shelf = context.shelf.to_vec();
    for (id, plan) in served.iter().zip(planned) {
        let Some(decision) = lines.iter_mut().find(|it| it.line == *id) else { continue };
        decision.job.take_over(plan);
        decision.foresee();
        take(&mut shelf, &decision.job.takes_from_shelf());
        let with: Vec<LineId> = served.iter().copied().filter(|it| it != id).collect();
        if !with.is_empty() {
            decision.reasons.push(Reason::SharedShelf { with, served: true, proven });
        }
    }
    for decision in lines {
        let Some(proven) = refused.iter().find(|(id, _)| *id == decision.line).map(|it| it.1)
        else {
            continue;
        };
        let Some(line) = context.shear.line(decision.line) else { continue };
        let context = Context { shelf: &shelf, spread: context.spread.clone(), ..*context };
        let provisional = decision.provisional;
        *decision = line::decide_line(&context, line, states);
        decision.provisional = provisional;
        decision.reasons.push(Reason::SharedShelf { with: served.clone(), served: false, proven });
        take(&mut shelf, &decision.job.takes_from_shelf());
    }
}

/// Which lines one shelf can serve together.
struct Served {
    /// More severe ones first.
    lines: Vec<LineId>,
    /// The packs for each of them.
    planned: Vec<BedPlan>,
    /// Whether every other choice was shown to be no better.
    proven: bool,
    /// The lines it cannot serve beside them, each with whether that is proven.
    refused: Vec<(LineId, bool)>,
}

fn serve(shelf: &[ShelfItem], lines: &[LineDecision]) -> Served {
    let wanted = |decision: &LineDecision| Some((decision.line, decision.job.wanted()?));
    let wanted: Vec<(LineId, Bed)> = lines.iter().filter_map(wanted).collect();
    let (ids, beds): (Vec<LineId>, Vec<Bed>) = wanted.iter().cloned().unzip();
    if let Ok(BedsPlan { beds: planned, proven }) = plan_beds(&beds, shelf) {
        return Served { lines: ids, planned, proven, refused: Vec::new() };
    }
    let mut all =
        Served { lines: Vec::new(), planned: Vec::new(), proven: true, refused: Vec::new() };
    let mut beds = Vec::new();
    for (id, bed) in wanted {
        beds.push(bed);
        match plan_beds(&beds, shelf) {
            Ok(BedsPlan { beds: planned, proven }) => {
                all.lines.push(id);
                (all.planned, all.proven) = (planned, proven);
            }
            Err(why) => {
                beds.pop();
                all.refused.push((id, why != Unshared::Together { proven: false }));
            }
        }
    }
    all
}

/// Takes shims off the shelf; false if one of them is not there.
fn take(shelf: &mut [ShelfItem], shims: &[Length]) -> bool {
    shims.iter().all(|shim| {
        let item = shelf.iter_mut().find(|item| item.thickness == *shim && 0 < item.count);
        item.map(|item| item.count -= 1).is_some()
    })
}

impl Job {
    /// The shims it takes from the shelf. What a fresh edge puts in is what lay behind the blade
    /// before, so it is not counted.
    pub(crate) fn takes_from_shelf(&self) -> Vec<Length> {
        match self {
            Self::ChangePack { plan, .. } => plan.put_in.clone(),
            Self::StepPack { parts, .. } => parts.iter().flat_map(|it| it.put_in.clone()).collect(),
            _ => Vec::new(),
        }
    }

    /// What it wants of the packs behind its blade.
    fn wanted(&self) -> Option<Bed> {
        match self {
            Self::ChangePack { seat, .. } => Some(Bed::from(seat.clone())),
            Self::StepPack { wanted, .. } => Some(wanted.bed.clone()),
            _ => None,
        }
    }

    /// Other packs for what it wants.
    fn take_over(&mut self, planned: BedPlan) {
        match self {
            Self::ChangePack { plan, .. } => {
                if let Some(other) = planned.plans.into_iter().next() {
                    *plan = other;
                }
            }
            Self::StepPack { parts, after, wanted, .. } => {
                (*parts, *after) = wanted.carry(&planned);
            }
            _ => {}
        }
    }
}
