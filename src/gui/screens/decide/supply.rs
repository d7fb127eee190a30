//! Parts for the whole yard: how many there are, will be needed, and to order.

use crate::{
    brief::parts::{PartBrief, PartsBrief},
    gui::{
        paint,
        screens::decide::{sheet::fine_print, within},
        theme,
        widgets::{paragraph, rich_text, section, touch},
    },
    language::{self, sentence, tell},
};
use egui::{Align2, Sense, Stroke, Ui, pos2, text::TextWrapping, vec2};

const ROW: f32 = 40.0;

/// Shows the list over the width at hand.
pub(super) fn show(ui: &mut Ui, parts: &PartsBrief) {
    within(ui, |ui| {
        ui.add_space(10.0);
        let order = parts.shopping.as_deref().unwrap_or(tell!("nothing"));
        section(ui, tell!("To order"), parts.short.unwrap_or_default());
        let t = theme::tokens(ui);
        let mut job = rich_text(&format!("**{order}**"), theme::section().size, t.ink, t.ink);
        job.wrap = TextWrapping::wrap_at_width(ui.available_width());
        ui.label(job);
        ui.add_space(8.0);
    });
    let columns = Columns::of(ui.available_width());
    head(ui, &columns);
    for part in &parts.parts {
        row(ui, &columns, part);
    }
    within(ui, |ui| {
        ui.add_space(10.0);
        ui.spacing_mut().item_spacing.y = 5.0;
        for words in &parts.edges {
            paragraph(ui, words);
        }
        for words in std::iter::once(&parts.title).chain(&parts.notes) {
            fine_print(ui, words);
        }
        ui.add_space(8.0);
    });
}

/// Where the numbers end; the machines give way where it is narrow, and then the name stands over
/// its numbers.
struct Columns {
    ends: [f32; 4],
    machines: Option<f32>,
    /// Where the name ends.
    name: f32,
    /// How far under the name the numbers stand.
    under: f32,
}

impl Columns {
    fn of(width: f32) -> Self {
        let machines = (700.0 <= width).then_some(width - 190.0);
        let end = machines.map_or(width - 16.0, |left| left - 28.0);
        let ends = [end - 244.0, end - 168.0, end - 84.0, end];
        let beside = ends[0] - 84.0 - 16.0;
        let (name, under) = if beside < 150.0 { (width - 32.0, 18.0) } else { (beside, 0.0) };
        Self { ends, machines, name, under }
    }
}

const HEADS: [&str; 4] =
    [sentence!("on hand"), sentence!("for today"), sentence!("needed"), sentence!("order")];

fn head(ui: &mut Ui, columns: &Columns) {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 26.0), Sense::hover());
    let y = rect.center().y;
    let word = |x: f32, anchor: Align2, words: &str| {
        ui.painter().text(pos2(rect.left() + x, y), anchor, words, theme::caption(), t.ink3);
    };
    word(16.0, Align2::LEFT_CENTER, tell!("Part"));
    for (end, words) in columns.ends.iter().zip(HEADS.map(language::told)) {
        word(*end, Align2::RIGHT_CENTER, words);
    }
    if let Some(left) = columns.machines {
        word(left, Align2::LEFT_CENTER, tell!("for"));
    }
}

fn row(ui: &mut Ui, columns: &Columns, part: &PartBrief) {
    let t = theme::tokens(ui);
    let size = vec2(ui.available_width(), ROW + columns.under);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let painter = ui.painter();
    let [over, y] = [-0.5, 0.5].map(|by| rect.center().y + by * columns.under);
    paint::level(painter, rect.left()..=rect.right(), rect.top(), Stroke::new(1.0, t.soft));
    let (font, name) = if part.short {
        (theme::body_bold(), tell!("{part} · short", part = part.name))
    } else {
        (theme::body(), part.name.clone())
    };
    let name = paint::fitted(painter, name, font, t.ink, columns.name);
    paint::place(painter, pos2(rect.left() + 16.0, over), Align2::LEFT_CENTER, name);
    let values = [&part.on_hand, &part.now, &part.needed, &part.order];
    for (place, (end, value)) in columns.ends.iter().zip(values).enumerate() {
        let bold = place == 3 || part.short;
        let font = if bold { theme::body_bold() } else { theme::body() };
        let value = paint::fitted(painter, value.as_str(), font, t.ink, 80.0);
        paint::place(painter, pos2(rect.left() + end, y), Align2::RIGHT_CENTER, value);
    }
    if let Some(left) = columns.machines {
        let room = rect.width() - left - 12.0;
        let words = paint::fitted(painter, part.machines.as_str(), theme::chip(), t.ink2, room);
        paint::place(painter, pos2(rect.left() + left, y), Align2::LEFT_CENTER, words);
    }
    let said: Vec<String> = HEADS
        .map(language::told)
        .iter()
        .zip(values)
        .map(|(head, value)| format!("{head} {value}"))
        .collect();
    touch::say(ui, rect, ("part", &part.name), &format!("{}: {}", part.name, said.join(", ")));
}
