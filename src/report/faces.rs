//! The typefaces, embedded so that nothing has to be installed, and how wide words are in them.
//!
//! Two weights of B612, whose digits are equally wide; what it lacks comes from `DejaVu` Sans.

use crate::report::{ReportError, Weight};
use skrifa::{
    FontRef, MetadataProvider as _,
    charmap::Charmap,
    instance::{LocationRef, Size},
    metrics::GlyphMetrics,
};

/// Running text.
pub static REGULAR: &[u8] =
    include_bytes!(concat!(env!("CARGO_MANIFEST_DIR"), "/assets/fonts/B612-Regular.otf"));
/// Values and titles.
pub static BOLD: &[u8] =
    include_bytes!(concat!(env!("CARGO_MANIFEST_DIR"), "/assets/fonts/B612-Bold.otf"));
/// What the other two lack.
pub static FALLBACK: &[u8] =
    include_bytes!(concat!(env!("CARGO_MANIFEST_DIR"), "/assets/fonts/DejaVuSans.ttf"));

/// One typeface, measured.
pub(crate) struct Face {
    chars: Charmap<'static>,
    metrics: GlyphMetrics<'static>,
    units: f32,
}

/// One glyph of a word.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Drawn {
    /// Whether it comes from the fallback.
    pub(crate) fallback: bool,
    /// Its number in the typeface.
    pub(crate) glyph: u32,
    /// Its width at size 1.
    pub(crate) advance: f32,
}

/// The two weights, each with the fallback behind it.
pub(crate) struct Faces {
    regular: Face,
    bold: Face,
    fallback: Face,
}

impl Face {
    fn new(bytes: &'static [u8]) -> Result<Self, ReportError> {
        let font = FontRef::new(bytes).map_err(|_unreadable| ReportError::Typeface)?;
        let units = f32::from(font.metrics(Size::unscaled(), LocationRef::default()).units_per_em);
        let metrics = font.glyph_metrics(Size::unscaled(), LocationRef::default());
        Ok(Self { chars: font.charmap(), metrics, units })
    }

    fn glyph(&self, c: char) -> Option<(u32, f32)> {
        let glyph = self.chars.map(c)?;
        let advance = self.metrics.advance_width(glyph).unwrap_or_default() / self.units;
        Some((glyph.to_u32(), advance))
    }
}

impl Faces {
    pub(crate) fn new() -> Result<Self, ReportError> {
        Ok(Self {
            regular: Face::new(REGULAR)?,
            bold: Face::new(BOLD)?,
            fallback: Face::new(FALLBACK)?,
        })
    }

    /// The glyph of a character; the replacement mark for one that no typeface has.
    pub(crate) fn drawn(&self, c: char, weight: Weight) -> Drawn {
        let face = match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        };
        if let Some((glyph, advance)) = face.glyph(c) {
            return Drawn { fallback: false, glyph, advance };
        }
        let found = self.fallback.glyph(c).or_else(|| self.fallback.glyph('\u{fffd}'));
        let (glyph, advance) = found.unwrap_or_default();
        Drawn { fallback: true, glyph, advance }
    }

    /// How wide words are at this size.
    pub(crate) fn width(&self, words: &str, size: f32, weight: Weight) -> f32 {
        words.chars().map(|c| self.drawn(c, weight).advance * size).sum()
    }
}
