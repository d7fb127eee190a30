//! One tab per line, with its worst mark and how much of it is measured.
//!
//! Knows tabs that give up their place names when it gets narrow. Refuses to know the lines.

use crate::gui::{
    marks::VerdictMark,
    paint, theme,
    widgets::touch::{self, Spoken},
};
use egui::{Align2, CornerRadius, FontId, Rect, Sense, Stroke, Ui, accesskit::Role, pos2, vec2};

/// One tab.
#[derive(Clone, Copy, Debug)]
pub struct LineTab<'a> {
    /// The worst mark of the line.
    pub mark: VerdictMark,
    /// Its letter.
    pub letter: &'a str,
    /// Its place, such as "Primary blades".
    pub place: &'a str,
    /// How much is measured, such as "2 of 4".
    pub done: &'a str,
}

const HEIGHT: f32 = 50.0;
const GAP: f32 = 6.0;
/// Room for the mark, the letter and the margins.
const BESIDE: f32 = 70.0;

/// Paints the tabs over the width at hand; returns the index of the one that was tapped.
///
/// Put the panel that belongs to the current tab directly below.
pub fn line_tabs(ui: &mut Ui, tabs: &[LineTab<'_>], current: usize) -> Option<usize> {
    let t = theme::tokens(ui);
    let width = ui.available_width();
    let (rect, _) = ui.allocate_exact_size(vec2(width, HEIGHT), Sense::hover());
    let place_width = |tab: &LineTab<'_>| {
        let font = theme::caption_bold();
        BESIDE + ui.painter().layout_no_wrap(tab.place.to_owned(), font, t.ink).size().x
    };
    let gaps = GAP * tabs.len().saturating_sub(1) as f32;
    let natural: f32 = tabs.iter().map(place_width).sum();
    let spare = (width - gaps - natural) / tabs.len().max(1) as f32;
    let widths: Vec<f32> = if 0.0 <= spare {
        tabs.iter().map(|tab| place_width(tab) + spare).collect()
    } else {
        // The current tab keeps its name; the others share what is left.
        let own = tabs.get(current).map_or(0.0, place_width);
        let rest = (width - gaps - own) / tabs.len().saturating_sub(1).max(1) as f32;
        (0..tabs.len()).map(|index| if index == current { own } else { rest }).collect()
    };

    let (mut left, mut tapped) = (rect.left(), None);
    for (index, (tab, width)) in tabs.iter().zip(widths).enumerate() {
        let cell = Rect::from_min_size(pos2(left, rect.top()), vec2(width, HEIGHT));
        if tab_clicked(ui, cell, tab, (index, current)) {
            tapped = Some(index);
        }
        left += width + GAP;
    }
    tapped
}

fn tab_clicked(ui: &Ui, rect: Rect, tab: &LineTab<'_>, (index, current): (usize, usize)) -> bool {
    let current = index == current;
    let t = theme::tokens(ui);
    let painter = ui.painter();
    let id = ui.make_persistent_id(("line", tab.letter));
    let label = format!("{}, {}", tab.letter, tab.place);
    let spoken = Spoken { role: Role::Tab, ..Spoken::one_of(&label, current) };
    let response = touch::tap(ui, rect, id, &spoken.with(tab.done));
    let round = CornerRadius { nw: 4, ne: 4, sw: 0, se: 0 };
    let body = if current { rect } else { rect.with_min_y(rect.top() + 4.0) };
    if current {
        painter.rect_filled(rect, round, t.paper);
        let edge = Stroke::new(1.0, t.soft);
        paint::upright(painter, rect.left(), rect.top()..=rect.bottom(), edge);
        paint::upright(painter, rect.right() - 1.0, rect.top()..=rect.bottom(), edge);
        let bar = Rect::from_min_size(rect.min, vec2(rect.width(), 4.0));
        painter.rect_filled(bar, CornerRadius { nw: 3, ne: 3, sw: 0, se: 0 }, t.accent);
    } else {
        painter.rect_filled(body.with_max_y(rect.bottom() - 4.0), theme::RADIUS, t.rail);
        if response.hovered() {
            let edge = Stroke::new(1.0, t.edge);
            let around = body.with_max_y(rect.bottom() - 4.0);
            painter.rect_stroke(around, theme::RADIUS, edge, egui::StrokeKind::Inside);
        }
    }
    let middle = rect.center().y;
    tab.mark.paint(painter, pos2(rect.left() + 19.0, middle), 17.0, t);
    let letter = FontId::new(17.0, crate::gui::fonts::bold());
    painter.text(pos2(rect.left() + 35.0, middle), Align2::LEFT_CENTER, tab.letter, letter, t.ink);

    let x = rect.left() + 55.0;
    let room = rect.right() - x - 4.0;
    let font = if current { theme::caption_bold() } else { theme::caption() };
    let ink = if current { t.ink } else { t.ink2 };
    let place = painter.layout(tab.place.to_owned(), font, ink, room);
    let done = painter.layout_no_wrap(tab.done.to_owned(), theme::caption(), t.ink3);
    // A name stands whole, on one line or on two, or not at all.
    match (place.size().x <= room, place.rows.len()) {
        (true, 1) => {
            paint::place(painter, pos2(x, middle - 8.0), Align2::LEFT_CENTER, place);
            paint::place(painter, pos2(x, middle + 8.0), Align2::LEFT_CENTER, done);
        }
        (true, 2) => {
            paint::place(painter, pos2(x, middle), Align2::LEFT_CENTER, place);
        }
        _ if done.size().x <= room => {
            paint::place(painter, pos2(x, middle), Align2::LEFT_CENTER, done);
        }
        _ => {}
    }
    touch::focus_ring(ui, &response, body.shrink(3.0), 3.0);
    response.clicked()
}
