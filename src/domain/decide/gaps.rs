//! The gaps that a machine starts a shift with.

use crate::domain::{
    decide::MachineDecision,
    machine::{Shear, StationId},
};

/// Cold gaps of every station, and which of them nobody knows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ColdGaps {
    /// Every station's gap at 20 °C, in mm.
    pub gaps: Vec<(StationId, f64)>,
    /// Stations that nobody measured, or that work has moved since: the middle of their set range.
    pub assumed: Vec<StationId>,
}

/// The middle of each reading at 20 °C, or its floor while it is open.
pub fn cold_gaps(shear: &Shear, decision: &MachineDecision) -> ColdGaps {
    let mut found = ColdGaps::default();
    for line in &shear.lines {
        let states = decision.line(line.id).map_or(&[][..], |it| &it.stations);
        for station in &line.stations {
            let state = states.iter().find(|it| it.station == station.id && !it.stale);
            let gap = state.and_then(crate::domain::decide::StationState::expected);
            if gap.is_none() {
                found.assumed.push(station.id);
            }
            let gap = gap.unwrap_or_else(|| line.limits.set().middle());
            found.gaps.push((station.id, gap.mm()));
        }
    }
    found
}
