//! Tiles for what was seen or heard.
//!
//! Knows an icon over one or two short lines. Refuses to know the list of findings.

use crate::gui::{
    fonts,
    marks::Icon,
    theme,
    widgets::touch::{self, Spoken},
};
use egui::{FontId, Rect, Sense, StrokeKind, Ui, vec2};

/// One tile.
#[derive(Clone, Copy, Debug)]
pub struct SeenTile<'a> {
    /// Its sign.
    pub icon: Icon,
    /// Its words, such as "Blue streak".
    pub words: &'a str,
    /// Whether it was seen.
    pub chosen: bool,
}

const GAP: f32 = 8.0;

/// Lays the tiles out in rows, at least 54 wide each; returns the index of the one that was tapped.
pub fn seen_grid(ui: &mut Ui, tiles: &[SeenTile<'_>]) -> Option<usize> {
    grid(ui, tiles, 54.0)
}

/// The same with tiles wide enough for long names: a page of its own.
pub fn seen_page(ui: &mut Ui, tiles: &[SeenTile<'_>]) -> Option<usize> {
    grid(ui, tiles, 92.0)
}

fn grid(ui: &mut Ui, tiles: &[SeenTile<'_>], least: f32) -> Option<usize> {
    let width = ui.available_width();
    let height = if theme::is_low(ui.ctx()) { 60.0 } else { 69.0 };
    let columns = touch::columns(width, least, GAP, tiles.len());
    let tile_width = ((width - GAP * (columns - 1) as f32) / columns as f32).min(130.0);
    let rows = tiles.len().div_ceil(columns) as f32;
    let total = (rows * (height + GAP) - GAP).max(0.0);
    let (rect, _) = ui.allocate_exact_size(vec2(width, total), Sense::hover());
    let mut tapped = None;
    for (index, tile) in tiles.iter().enumerate() {
        let step = vec2(
            (index % columns) as f32 * (tile_width + GAP),
            (index / columns) as f32 * (height + GAP),
        );
        let cell = Rect::from_min_size(rect.min + step, vec2(tile_width, height));
        if tile_clicked(ui, cell, tile) {
            tapped = Some(index);
        }
    }
    tapped
}

fn tile_clicked(ui: &Ui, rect: Rect, tile: &SeenTile<'_>) -> bool {
    let t = theme::tokens(ui);
    let id = ui.make_persistent_id(("seen", tile.words));
    let response = touch::tap(ui, rect, id, &Spoken::on_off(tile.words, tile.chosen));
    let fill = if tile.chosen { t.accent_tint } else { t.field };
    let stroke = touch::outline(ui, &response, tile.chosen);
    ui.painter().rect(rect, 5.0, fill, stroke, StrokeKind::Inside);
    tile.icon.paint(
        ui.painter(),
        rect.center_top() + vec2(0.0, rect.height() * 0.28),
        25.0,
        t.ink,
        t,
    );

    let family = if tile.chosen { fonts::bold() } else { fonts::regular() };
    let lay = |size| {
        let (font, room) = (FontId::new(size, family.clone()), rect.width() - 5.0);
        let mut job = egui::text::LayoutJob::simple(tile.words.to_owned(), font, t.ink, room);
        job.halign = egui::Align::Center;
        job.wrap.max_rows = 2;
        ui.painter().layout_job(job)
    };
    let galley = Some(lay(12.0)).filter(|it| !it.elided).unwrap_or_else(|| lay(11.0));
    let at = rect.center_top() + vec2(0.0, rect.height() * 0.72);
    // Centred text hangs around its anchor, so only its height has to be halved.
    let top = at - vec2(0.0, galley.size().y / 2.0);
    ui.painter().galley(top, galley, t.ink);
    touch::focus_ring(ui, &response, rect, 5.0);
    response.clicked()
}
