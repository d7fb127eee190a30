//! From a colour on a face back to the gap: how far it had closed.
//!
//! A colour is a band of face temperatures, so what it tells of the gap lies between two bounds:
//! the parts only as warm as the model has them when the face reaches the band, and both parts as
//! hot right through as the face. Knows one line of one machine; refuses to say who saw it.

use crate::domain::{
    heat::{Colour, ColourBand, Model, Shift},
    machine::{Line, PartTemperatures},
    quantity::Temperature,
};

/// What a seen colour tells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// The face's temperature.
    pub band: ColourBand,
    /// How far the gap had closed, in mm: at least and at most.
    pub closed_mm: (f64, f64),
}

/// Reads a colour on a face of a line, whose parts were at `least` when it appeared.
pub fn seen(line: &Line, colour: Colour, least: &PartTemperatures) -> Option<Seen> {
    let band = colour.band();
    let face = Temperature::from_c(band.high_c.unwrap_or(band.low_c))?;
    let most = PartTemperatures { moving: face, fixed: face, ..*least };
    let closed = |parts: &PartTemperatures| (-line.chain.opening_mm(parts)).max(0.0);
    let (low, high) = (closed(least), closed(&most));
    Some(Seen { band, closed_mm: (low.min(high), low.max(high)) })
}

impl Model {
    /// The temperatures of a contact's parts when its face first reaches `face_c`, or at the end of
    /// the shift.
    pub fn parts_when(
        &self,
        shift: &Shift,
        contact: usize,
        face_c: f64,
        line: &Line,
    ) -> Option<PartTemperatures> {
        let hot = |sample: &&crate::domain::heat::Sample| {
            sample.contacts.get(contact).is_some_and(|at| face_c <= at.hottest_c())
        };
        let sample = shift.samples.iter().find(hot).or(shift.samples.last())?;
        let faces = self.network.contacts.get(contact)?;
        let part = |at: usize| Temperature::from_c(*sample.parts_c.get(at)?);
        let (upper, lower) = self.jaws_c(sample);
        Some(PartTemperatures {
            moving: part(faces.moving)?,
            fixed: part(faces.fixed)?,
            upper_jaw: upper.and_then(Temperature::from_c).unwrap_or(line.working.upper_jaw),
            lower_jaw: lower.and_then(Temperature::from_c).unwrap_or(line.working.lower_jaw),
        })
    }
}
