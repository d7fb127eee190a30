//! What to make safe before reaching in.
//!
//! Knows a tinted tile with a sign. Refuses to authorise anything: it reminds.

use crate::gui::{fonts, marks::Icon, theme, widgets::touch};
use egui::{Align, CornerRadius, FontId, Galley, Rect, Sense, Ui, Vec2, text::LayoutJob, vec2};
use std::sync::Arc;

/// One caution.
#[derive(Clone, Copy, Debug)]
pub struct CautionTile<'a> {
    /// Its sign.
    pub icon: Icon,
    /// What to do, such as "Lock out".
    pub words: &'a str,
    /// How, such as "key with you".
    pub detail: &'a str,
}

/// The height of a tile whose words need one line each.
const TALL: f32 = 96.0;
/// Where the words begin, and what stays free below them.
const WORDS: f32 = 53.0;

impl CautionTile<'_> {
    /// Shows the tile at `width`, 96 high or as high as its words need.
    pub fn show(self, ui: &mut Ui, width: f32) {
        let words = lay_all(&[self], ui, width);
        for words in words {
            self.paint(ui, vec2(width, height(&words)), words);
        }
    }

    /// Shows tiles beside each other over the width at hand, as high as the tallest needs.
    pub fn show_row(tiles: &[Self], ui: &mut Ui) {
        let gap = 8.0;
        let count = tiles.len().max(1) as f32;
        let width = (ui.available_width() - gap * (count - 1.0)) / count;
        let words = lay_all(tiles, ui, width);
        let tall = words.iter().map(height).fold(TALL, f32::max);
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = gap;
            for (tile, words) in tiles.iter().zip(words) {
                tile.paint(ui, vec2(width, tall), words);
            }
        });
    }

    /// What to do and how, each in the middle, in letters by so much smaller.
    fn lay(&self, ui: &Ui, width: f32, less: f32) -> [Arc<Galley>; 2] {
        let t = theme::tokens(ui);
        let line = |text: &str, family, size, ink| {
            let font = FontId::new(size - less, family);
            let mut job = LayoutJob::simple(text.to_owned(), font, ink, width - 8.0);
            job.halign = Align::Center;
            ui.painter().layout_job(job)
        };
        [
            line(self.words, fonts::bold(), 13.5, t.ink),
            line(self.detail, fonts::regular(), 12.0, t.ink2),
        ]
    }

    fn paint(&self, ui: &mut Ui, size: Vec2, words: [Arc<Galley>; 2]) {
        let t = theme::tokens(ui);
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        let painter = ui.painter();
        painter.rect_filled(rect, theme::RADIUS, t.watch_tint);
        let bar = Rect::from_min_size(rect.min, vec2(rect.width(), 4.0));
        painter.rect_filled(bar, CornerRadius { nw: 3, ne: 3, sw: 0, se: 0 }, t.watch);
        self.icon.paint(painter, rect.center_top() + vec2(0.0, 31.0), 26.0, t.ink, t);
        let mut at = rect.center_top() + vec2(0.0, WORDS);
        for galley in words {
            let tall = galley.size().y;
            painter.galley(at, galley, t.ink);
            at.y += tall + 2.0;
        }
        touch::say(ui, rect, ("caution", self.words), &format!("{}: {}", self.words, self.detail));
    }
}

/// The words of tiles that stand together, all in smaller letters before any of them takes a second
/// line, and in more lines before anything is cut off.
fn lay_all(tiles: &[CautionTile<'_>], ui: &Ui, width: f32) -> Vec<[Arc<Galley>; 2]> {
    let lay = |less| -> Vec<_> { tiles.iter().map(|tile| tile.lay(ui, width, less)).collect() };
    let large: Vec<[Arc<Galley>; 2]> = lay(0.0);
    let fits = large.iter().flatten().all(|it| it.rows.len() == 1);
    if fits { large } else { lay(1.0) }
}

fn height(words: &[Arc<Galley>; 2]) -> f32 {
    let tall: f32 = words.iter().map(|it| it.size().y + 2.0).sum();
    (WORDS + tall + 6.0).max(TALL)
}
