//! What work at the guide pads does to every other gap.
//!
//! The pads locate the upper jaw sideways, and the jaw turns about its pivot: a shim s behind them
//! moves the jaw towards the cutting side by s·x/xₚ at the distance x, where xₚ is that of the pads.
//! Gaps against the cutting side close by that, those against the guide side open. The jaw is taken
//! as stiff and the pivot as without play, so it is an estimate, and the gaps are measured again.
//! Knows geometry; does not know whether a gap is then still good, only what its limits are.

use crate::domain::{
    decide::{Job, LineDecision, Reason, StationState, When},
    machine::{Line, Shear, Toward},
    quantity::Length,
};

/// Adds to each line what the shims planned behind the pads will do to it.
pub(crate) fn tell_the_others(shear: &Shear, lines: &mut [LineDecision]) {
    let Some(grown) = planned(shear, lines) else { return };
    for decision in lines {
        let Some(line) = shear.line(decision.line) else { continue };
        let Some(reason) = moved(shear, line, &decision.stations, grown) else { continue };
        decision.reasons.push(reason);
        if let When::NextLook(_) = decision.when {
            decision.when = When::BeforeCuttingOn;
        }
    }
}

/// How much nearer the pads come to the upper jaw; `None` if no pack behind them changes.
fn planned(shear: &Shear, lines: &[LineDecision]) -> Option<Length> {
    lines.iter().find_map(|decision| {
        let line = shear.line(decision.line).filter(|line| line.toward == Toward::Pads)?;
        let Job::ChangePack { plan, seat, .. } = &decision.job else { return None };
        let total = |shims: &[Length]| -> Length { shims.iter().copied().sum() };
        let grown = seat.moves(total(&plan.put_in) - total(&plan.take_out));
        (line.toward == Toward::Pads && grown != Length::ZERO).then_some(grown)
    })
}

/// How far a gap at this distance opens when the pads come so much nearer.
fn opens(shear: &Shear, toward: Toward, from_pivot: Length, grown: Length) -> Option<Length> {
    let shift = Length::from_mm(grown.mm() * from_pivot.mm() / shear.geometry.pads.mm())?;
    match toward {
        Toward::Cutting => Some(-shift),
        Toward::Guide => Some(shift),
        Toward::Neither | Toward::Pads => None,
    }
}

fn moved(shear: &Shear, line: &Line, states: &[StationState], grown: Length) -> Option<Reason> {
    let opened: Vec<Length> = line
        .stations
        .iter()
        .filter_map(|station| opens(shear, line.toward, station.from_pivot, grown))
        .collect();
    let (least, most) = (*opened.iter().min()?, *opened.iter().max()?);
    let then = states.iter().filter_map(|state| {
        let at = shear.station(state.station)?.from_pivot;
        Some(state.expected()? + opens(shear, line.toward, at, grown)?)
    });
    let then: Vec<Length> = then.collect();
    Some(Reason::PadsMove {
        opens: (least, most),
        then: then.iter().min().copied().zip(then.iter().max().copied()),
        pads: shear.geometry.pads,
    })
}
