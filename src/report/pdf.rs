//! Placed items to the bytes of a PDF: vectors, and of each typeface only the glyphs in use.

use crate::{
    language::{self, tell},
    report::{
        Item, Paper, Shade, Weight,
        faces::{self, Drawn, Faces},
    },
};
use krilla::{
    Document,
    color::luma,
    geom::{Path, PathBuilder, Point},
    metadata::Metadata,
    num::NormalizedF32,
    page::PageSettings,
    paint::{Fill, Stroke, StrokeDash},
    surface::Surface,
    text::{Font, GlyphId, KrillaGlyph},
};

/// Why there is no sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReportError {
    /// An embedded typeface is damaged.
    #[error("a typeface inside the program is damaged; install it again")]
    Typeface,
    /// The page cannot be written.
    #[error("the sheet cannot be made into a PDF; use the text of `decide` instead")]
    Page,
}

struct Fonts {
    regular: Font,
    bold: Font,
    fallback: Font,
}

fn font(bytes: &'static [u8]) -> Result<Font, ReportError> {
    Font::new(bytes.to_vec().into(), 0).ok_or(ReportError::Typeface)
}

/// The pages as a PDF. No date and no name of this computer goes in, so that the same pages make
/// the same bytes.
pub(crate) fn bytes(
    pages: &[Vec<Item>],
    paper: Paper,
    title: &str,
) -> Result<Vec<u8>, ReportError> {
    let faces = Faces::new()?;
    let fonts = Fonts {
        regular: font(faces::REGULAR)?,
        bold: font(faces::BOLD)?,
        fallback: font(faces::FALLBACK)?,
    };
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new()
            .title(title.to_owned())
            .creator(tell!("Gapwright").to_owned())
            .language(language::spoken().code().to_owned()),
    );
    let (width, height) = paper.size();
    for items in pages {
        let settings = PageSettings::from_wh(width, height).ok_or(ReportError::Page)?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        for item in items {
            draw(&mut surface, item, &faces, &fonts);
        }
        surface.finish();
        page.finish();
    }
    document.finish().map_err(|_refused| ReportError::Page)
}

fn draw(surface: &mut Surface<'_>, item: &Item, faces: &Faces, fonts: &Fonts) {
    match item {
        Item::Text { x, y, size, weight, shade, words } => {
            surface.set_stroke(None);
            surface.set_fill(Some(fill(*shade)));
            let main = match weight {
                Weight::Regular => &fonts.regular,
                Weight::Bold => &fonts.bold,
            };
            let mut x = *x;
            for run in runs(words, *weight, faces) {
                let font = if run.fallback { &fonts.fallback } else { main };
                let at = Point::from_xy(x, *y);
                surface.draw_glyphs(at, &run.glyphs, font.clone(), &run.text, *size, false);
                x += run.width * size;
            }
        }
        Item::Line { points, closed, width, dashed, shade } => {
            let Some(mut path) = along(points) else { return };
            if *closed {
                path.close();
            }
            let Some(path) = path.finish() else { return };
            surface.set_fill(None);
            surface.set_stroke(Some(Stroke {
                paint: grey(*shade).into(),
                width: *width,
                dash: dashed.then(|| StrokeDash { array: vec![3.0, 2.0], offset: 0.0 }),
                ..Stroke::default()
            }));
            surface.draw_path(&path);
        }
        Item::Area { points, shade } => {
            let Some(path) = along(points).and_then(closed) else { return };
            surface.set_stroke(None);
            surface.set_fill(Some(fill(*shade)));
            surface.draw_path(&path);
        }
    }
}

/// Glyphs of one typeface that follow each other.
struct Run {
    fallback: bool,
    text: String,
    glyphs: Vec<KrillaGlyph>,
    width: f32,
}

fn runs(words: &str, weight: Weight, faces: &Faces) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for c in words.chars() {
        let Drawn { fallback, glyph, advance } = faces.drawn(c, weight);
        if runs.last().is_none_or(|run| run.fallback != fallback) {
            runs.push(Run { fallback, text: String::new(), glyphs: Vec::new(), width: 0.0 });
        }
        let Some(run) = runs.last_mut() else { continue };
        let from = run.text.len();
        run.text.push(c);
        let range = from..run.text.len();
        let glyph = GlyphId::new(glyph);
        run.glyphs.push(KrillaGlyph::new(glyph, advance, 0.0, 0.0, 0.0, range, None));
        run.width += advance;
    }
    runs
}

fn along(points: &[(f32, f32)]) -> Option<PathBuilder> {
    let (first, rest) = points.split_first()?;
    let mut builder = PathBuilder::new();
    builder.move_to(first.0, first.1);
    for point in rest {
        builder.line_to(point.0, point.1);
    }
    Some(builder)
}

fn closed(mut path: PathBuilder) -> Option<Path> {
    path.close();
    path.finish()
}

fn fill(shade: Shade) -> Fill {
    Fill { paint: grey(shade).into(), opacity: NormalizedF32::ONE, ..Fill::default() }
}

fn grey(shade: Shade) -> luma::Color {
    luma::Color::new(match shade {
        Shade::Black => 0,
        Shade::Grey => 80,
        Shade::Pale => 228,
        Shade::White => 255,
    })
}
