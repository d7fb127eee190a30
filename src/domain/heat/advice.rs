//! The lowest cold gap that stays cool enough and open.

use crate::domain::{
    heat::{Duty, Network, NetworkFault, run},
    machine::{Line, LineId},
};

/// What a gap must achieve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// The line whose gap is asked for.
    pub line: LineId,
    /// Both faces stay below this, in °C.
    pub face_c: f64,
    /// At least this much is left open when hot, in mm.
    pub open_mm: f64,
    /// The widest gap worth considering, in mm.
    pub most_mm: f64,
}

/// Faces that stay below this stay bare, in °C: the palest straw begins here.
pub const BARE_C: f64 = 200.0;
/// Wider than this no gap is set, in mm.
const WIDEST_MM: f64 = 3.0;

impl Aim {
    /// Bare faces, and open by the line's hot minimum.
    pub fn bare(line: &Line) -> Self {
        let open_mm = line.limits.hot_min().mm();
        Self { line: line.id, face_c: BARE_C, open_mm, most_mm: WIDEST_MM }
    }
}

/// The lowest cold gap at a line that keeps its face below a temperature and open all shift, with
/// everything else as it is.
///
/// `None` if even the widest does not. To a hundredth of a millimetre, rounded up.
/// Bisection: on one line a tighter gap is never cooler and never more open.
///
/// # Errors
///
/// [`NetworkFault`] for a network or a duty that cannot be calculated.
pub fn lowest_gap_mm(
    network: &Network,
    duty: &Duty,
    aim: &Aim,
) -> Result<Option<f64>, NetworkFault> {
    let holds = |gap_mm: f64| -> Result<bool, NetworkFault> {
        let mut network = network.clone();
        for contact in network.contacts.iter_mut().filter(|it| it.station.line == aim.line) {
            contact.cold_gap_mm = gap_mm;
        }
        let shift = run(&network, duty, (duty.hours / 32.0).max(0.01))?;
        let at_line = |it: &&crate::domain::heat::AtContact| it.station.line == aim.line;
        Ok(shift.samples.iter().all(|sample| {
            sample
                .contacts
                .iter()
                .filter(at_line)
                .all(|it| it.hottest_c() < aim.face_c && aim.open_mm <= it.gap_mm)
        }))
    };
    if !holds(aim.most_mm)? {
        return Ok(None);
    }
    let (mut low, mut high) = (0.0, aim.most_mm);
    if holds(low)? {
        return Ok(Some(0.0));
    }
    while 0.002 < high - low {
        let middle = f64::midpoint(low, high);
        if holds(middle)? { high = middle } else { low = middle }
    }
    Ok(Some((high * 100.0 - 1e-9).ceil() / 100.0))
}
