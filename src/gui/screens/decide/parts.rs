//! The drawings on the sheet of a job: edges, pack and bolts.

use crate::{
    brief::{
        blade::{self, Edge, EdgesBrief, Fate, PackBrief, ShimBrief},
        bolts::BoltBrief,
        edges::BladeEdgesBrief,
    },
    gui::{
        paint, theme,
        widgets::{
            EdgeGlyph, EdgeState, Shim, ShimFate, ShimStack, StripBolt, bolt_strip, divider,
            edge_legend, paragraph, section, shim_change,
        },
    },
    language::tell,
};
use egui::{Color32, FontId, Rect, RichText, Sense, Ui, UiBuilder, pos2, vec2};

/// Both blades of a line with their edges.
pub(super) fn edges(ui: &mut Ui, blades: &[EdgesBrief]) {
    let head = section(ui, tell!("Blade edges"), "").rect;
    let legend = head.with_min_x(head.left() + 110.0);
    let mut child = ui.new_child(UiBuilder::new().max_rect(legend).id_salt("legend"));
    edge_legend(&mut child, [tell!("worn"), tell!("in use"), tell!("fresh")]);
    // Side by side while the words beside each drawing have room.
    let columns = if 380.0 <= ui.available_width() { blades.len().max(1) } else { 1 };
    for row in blades.chunks(columns) {
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 82.0), Sense::hover());
        let width = rect.width() / columns as f32;
        let mut left = rect.left();
        for blade in row {
            let cell = Rect::from_min_size(pos2(left, rect.top()), vec2(width, rect.height()));
            one_blade(ui, cell, blade);
            left += width;
        }
    }
}

/// What each edge has behind it: a small table for each blade with more than one edge.
pub(super) fn edge_rows(ui: &mut Ui, blades: &[BladeEdgesBrief]) {
    for blade in blades.iter().filter(|blade| 1 < blade.rows.len()) {
        divider(ui);
        section(ui, &tell!("{blade}, edge by edge", blade = blade.name), tell!("seen on the line"));
        for row in &blade.rows {
            paragraph(ui, &row.line());
        }
        if let Some(came_from) = &blade.came_from {
            paragraph(ui, came_from);
        }
    }
}

fn one_blade(ui: &mut Ui, cell: Rect, blade: &EdgesBrief) {
    let t = theme::tokens(ui);
    let edges: Vec<EdgeState> = blade
        .edges
        .iter()
        .map(|edge| match edge {
            Edge::Fresh => EdgeState::Fresh,
            Edge::InUse => EdgeState::InUse,
            Edge::Worn => EdgeState::Worn,
        })
        .collect();
    let name = format!("{}, {}, {}", blade.name, blade.in_use, blade.hours);
    let glyph = Rect::from_min_size(cell.min + vec2(-8.0, 3.0), vec2(92.0, 76.0));
    let mut child = ui.new_child(UiBuilder::new().max_rect(glyph).id_salt(&name));
    EdgeGlyph { edges: &edges, name: &name }.show(&mut child);
    let painter = ui.painter();
    let room = cell.right() - glyph.right() - 16.0;
    let lay =
        |text: &str, font: FontId, ink: Color32| painter.layout(text.to_owned(), font, ink, room);
    let lines = [
        lay(&blade.name, theme::body_bold(), t.ink),
        lay(&blade.in_use, theme::chip(), t.ink2),
        lay(&blade.hours, theme::chip(), t.ink2),
    ];
    let tall: f32 = lines.iter().map(|line| line.size().y + 2.0).sum();
    let mut y = cell.center().y - tall / 2.0;
    for line in lines {
        let next = y + line.size().y + 2.0;
        painter.galley(pos2(glyph.right() + 6.0, y), line, t.ink);
        y = next;
    }
}

/// The pack now and after, or in a line if nothing changes.
pub(super) fn pack(ui: &mut Ui, pack: &PackBrief) {
    let wide = |text: &str| {
        let text = crate::brief::plain(text);
        ui.painter().layout_no_wrap(text, theme::body_bold(), Color32::PLACEHOLDER).size().x
    };
    let fits = wide(&pack.title) + wide(&pack.remark) + 16.0 <= ui.available_width();
    let words = if pack.after.is_some() { &pack.after_words } else { &pack.now_words };
    section(ui, &pack.title, if fits { &pack.remark } else { words });
    let Some(after) = &pack.after else { return };
    let (now, after) = (plates(&pack.now), plates(after));
    let now = ShimStack { shims: &now, caption: &pack.now_words };
    let after = ShimStack { shims: &after, caption: &pack.after_words };
    shim_change(ui, tell!("blade"), &now, &after);
}

fn plates(pack: &[ShimBrief]) -> Vec<Shim<'_>> {
    pack.iter()
        .map(|it| Shim {
            thickness: paint::screen(it.thickness.mm()),
            text: &it.text,
            fate: match it.fate {
                Fate::Stays => ShimFate::Stays,
                Fate::GoesIn => ShimFate::GoesIn,
                Fate::ComesOut => ShimFate::ComesOut,
            },
        })
        .collect()
}

/// Bolts with the order they are tightened in, and their torque in words.
pub(super) fn bolts(ui: &mut Ui, bolts: &BoltBrief, again: &str) {
    let t = theme::tokens(ui);
    let order: Vec<String> = bolts.order.iter().map(ToString::to_string).collect();
    section(ui, tell!("Bolts, tighten in this order"), &format!("**{}**", order.join(" – ")));
    ui.add_space(2.0);
    let words: Vec<(String, String, bool)> = (1..=bolts.count)
        .map(|number| {
            let turn = bolts.order.iter().position(|it| *it == number).unwrap_or(0);
            (number.to_string(), blade::ordinal(turn, bolts.count), turn == 0)
        })
        .collect();
    let strip: Vec<StripBolt<'_>> = words
        .iter()
        .map(|(number, order, first)| StripBolt { number, order, first: *first })
        .collect();
    bolt_strip(ui, &strip, &tell!("tighten in the order {order}", order = order.join(", ")));
    paragraph(ui, &format!("{} {again}", bolts.torque));
    for words in std::iter::once(&bolts.source).chain(&bolts.notes) {
        let words = RichText::new(words).font(theme::caption()).color(t.ink3);
        ui.add(egui::Label::new(words).wrap());
    }
}
