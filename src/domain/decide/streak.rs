//! What a coloured streak tells about the gap behind it.
//!
//! A colour is a band of face temperatures. How far the gap had closed then lies between two
//! bounds: the parts only as warm as the model has them when the face reaches the band, and both
//! parts as hot right through as the face. So it is evidence for a tight hot gap, never a number.

use crate::domain::{
    decide::StationState,
    heat::{Colour, ColourBand, Model, Seen, ShiftWork, seen},
    log::FindingKind,
    machine::{Line, LineId, PartTemperatures, Shear, StationId},
};

/// What a streak tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StreakHeat {
    /// The face's temperature.
    pub band: ColourBand,
    /// How far the gap had closed, in mm: at least and at most.
    pub closed_mm: (f64, f64),
    /// The tightest cold gap there, in mm, if it is known.
    pub cold_mm: Option<f64>,
}

/// The colour of a finding, if it is a streak.
pub(crate) const fn colour(kind: &FindingKind) -> Option<Colour> {
    match kind {
        FindingKind::StrawStreak => Some(Colour::Straw),
        FindingKind::BrownStreak => Some(Colour::Brown),
        FindingKind::PurpleStreak => Some(Colour::Purple),
        FindingKind::BlueStreak => Some(Colour::Blue),
        _ => None,
    }
}

/// Reads a streak on a line, at the station with this number or, if nobody said where, at its
/// tightest one.
pub(crate) fn read(
    shear: &Shear,
    line: &Line,
    kind: &FindingKind,
    station: Option<u8>,
    all: &[(LineId, Vec<StationState>)],
) -> Option<StreakHeat> {
    let colour = colour(kind)?;
    let gap = |state: &StationState| state.expected().map(|gap| (state.station, gap));
    let states = all.iter().find(|(id, _)| *id == line.id).map_or(&[][..], |(_, it)| it);
    let here = states
        .iter()
        .filter(|state| station.is_none_or(|number| state.station.number == number))
        .filter_map(gap)
        .min_by_key(|(_, gap)| *gap);
    let least = parts_at(shear, line, here.map(|(station, _)| station), colour.band().low_c, all)
        .unwrap_or(line.working);
    let Seen { band, closed_mm } = seen(line, colour, &least)?;
    Some(StreakHeat { band, closed_mm, cold_mm: here.map(|(_, gap)| gap.mm()) })
}

/// The parts' temperatures in the machine's usual shift when the face at a station first reaches
/// `face_c`, or at its end.
fn parts_at(
    shear: &Shear,
    line: &Line,
    station: Option<StationId>,
    face_c: f64,
    all: &[(LineId, Vec<StationState>)],
) -> Option<PartTemperatures> {
    let work = ShiftWork::usual(shear.thermal.as_ref()?);
    let gaps: Vec<(StationId, f64)> = all
        .iter()
        .flat_map(|(_, states)| states)
        .filter_map(|state| Some((state.station, state.expected()?.mm())))
        .collect();
    let model = Model::of(shear, &gaps, &work, None).ok()?;
    let place = model.contact(station?)?;
    let shift = model.run(0.25).ok()?;
    model.parts_when(&shift, place, face_c, line)
}
