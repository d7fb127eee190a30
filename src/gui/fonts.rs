//! The typefaces the window is set in, embedded so that nothing has to be installed.
//!
//! Knows two families: [`regular`] and [`bold`], both B612, whose digits are equally wide in either
//! weight, so columns of figures line up. What B612 lacks falls back to `DejaVu` Sans. Refuses to
//! know sizes: those are text roles in [`crate::gui::theme`].

use crate::report::faces;
use egui::{FontData, FontDefinitions, FontFamily};
use std::{collections::BTreeMap, sync::Arc};

const BOLD: &str = "bold";

/// The family of running text and captions.
pub fn regular() -> FontFamily {
    FontFamily::Proportional
}

/// The family of values, titles and everything that must be found first.
///
/// Only usable after [`definitions`] are installed: egui stops at a family it has never heard of.
pub fn bold() -> FontFamily {
    FontFamily::Name(BOLD.into())
}

/// Both families with their fallback, ready for `Context::set_fonts`.
pub fn definitions() -> FontDefinitions {
    let face = |bytes: &'static [u8]| Arc::new(FontData::from_static(bytes));
    let names = |first: &str| vec![first.to_owned(), "fallback".to_owned()];
    FontDefinitions {
        font_data: BTreeMap::from([
            ("regular".to_owned(), face(faces::REGULAR)),
            (BOLD.to_owned(), face(faces::BOLD)),
            ("fallback".to_owned(), face(faces::FALLBACK)),
        ]),
        families: BTreeMap::from([
            (regular(), names("regular")),
            (bold(), names(BOLD)),
            // Our figures are tabular already, so code and numbers need no third face.
            (FontFamily::Monospace, names("regular")),
        ]),
    }
}
