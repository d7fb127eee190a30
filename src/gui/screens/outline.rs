//! The jaw of a machine as the mouth view takes it, wherever it is drawn.
//!
//! Knows which blades are parts of their own. Does not know what is written at them.

use crate::{
    brief::words,
    domain::{
        machine::{Blade, Shear, Side, Toward},
        quantity::Length,
    },
    gui::{
        paint,
        widgets::{Face, Jaw, JawPart},
    },
    language,
};

/// The jaw itself.
pub(super) fn jaw(shear: &Shear) -> Jaw {
    let it = &shear.geometry;
    Jaw {
        reach: mm(it.reach),
        mouth: mm(it.mouth),
        cheek: mm(it.cheek),
        upper: mm(it.upper_jaw),
        pivot: mm(it.pivot),
    }
}

/// The names of a machine's blades, in their order, to be borrowed by [`parts`].
pub(super) fn names(shear: &Shear) -> Vec<String> {
    shear.blades.iter().map(|blade| words::capital(language::known(&blade.name))).collect()
}

/// Every blade that stands in the jaw as a part of its own.
pub(super) fn parts<'n>(shear: &Shear, names: &'n [String]) -> Vec<JawPart<'n>> {
    // The side plate of the upper jaw runs on the pads; it is part of the jaw's own outline.
    let slides = |blade: &Blade| {
        shear.lines.iter().any(|line| line.toward == Toward::Pads && line.moving == blade.id)
    };
    let blades = shear.blades.iter().zip(names);
    blades.filter(|(blade, _)| !slides(blade)).map(|(blade, name)| part(blade, name)).collect()
}

fn part<'n>(blade: &Blade, name: &'n str) -> JawPart<'n> {
    let bolts = blade.bolts.as_ref().map_or(&[][..], |bolts| &bolts.from_pivot);
    JawPart {
        face: face(blade.side),
        name,
        near: mm(blade.near),
        far: mm(blade.far),
        depth: mm(blade.depth),
        bolts: bolts.iter().map(|at| mm(*at)).collect(),
    }
}

/// The face of the drawing that a side is.
pub(super) const fn face(side: Side) -> Face {
    match side {
        Side::Moving => Face::Moving,
        Side::Cutting => Face::Cutting,
        Side::Guide => Face::Guide,
        Side::Front => Face::Front,
    }
}

/// Millimetres for drawing.
pub(super) fn mm(length: Length) -> f32 {
    paint::screen(length.mm())
}
