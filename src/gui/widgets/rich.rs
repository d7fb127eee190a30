//! Text with its numbers in bold.
//!
//! Knows one sign: `**` before and after what is bold. Refuses to know any other markup, and words.

use crate::gui::{fonts, theme};
use egui::{Color32, FontFamily, FontId, Response, TextFormat, Ui, text::LayoutJob};

/// Lays out `text` with its `**bold**` parts in the strong colour and weight.
pub fn rich_text(text: &str, size: f32, quiet: Color32, strong: Color32) -> LayoutJob {
    let mut job = LayoutJob::default();
    for (index, part) in text.split("**").enumerate() {
        if part.is_empty() {
            continue;
        }
        let (family, color): (FontFamily, _) =
            if index % 2 == 0 { (fonts::regular(), quiet) } else { (fonts::bold(), strong) };
        let font_id = FontId::new(size, family);
        job.append(part, 0.0, TextFormat { font_id, color, ..TextFormat::default() });
    }
    job
}

/// A paragraph of body text with bold numbers, wrapped to the width at hand.
pub fn paragraph(ui: &mut Ui, text: &str) -> Response {
    let t = theme::tokens(ui);
    ui.label(rich_text(text, theme::body().size, t.ink2, t.ink))
}

#[test]
fn bold_parts_alternate_and_empty_ones_vanish() {
    let t = theme::Tokens::LIGHT;
    let job = rich_text("**G2** is under **0.20**", 13.0, t.ink2, t.ink);
    assert_eq!(job.text, "G2 is under 0.20");
    let bold: Vec<_> =
        job.sections.iter().map(|s| s.format.font_id.family == fonts::bold()).collect();
    assert_eq!(bold, [true, false, true]);
}
