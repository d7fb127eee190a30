//! The budget of the reading in hand, term by term, for whoever asks or teaches.

use crate::{
    brief::{
        leaves,
        uncertainty::{self, TermBrief},
        words,
    },
    gui::{
        screens::measure::{hand::Hand, temps},
        theme,
        widgets::{Button, heading, paragraph, say, section},
    },
    workbench::Command,
};
use egui::{Id, Sense, Ui, vec2};

fn page() -> Id {
    Id::unique("uncertainty of the reading in hand")
}

/// Whether the budget is in front.
pub(super) fn is_open(ui: &Ui) -> bool {
    ui.data(|data| data.get_temp(page())).unwrap_or(false)
}

/// Brings the budget to the front.
pub(super) fn open(ui: &Ui) {
    ui.data_mut(|data| data.insert_temp(page(), true));
}

fn close(ui: &Ui) {
    ui.data_mut(|data| data.remove::<bool>(page()));
}

/// Value, interval, every term with its share, and what was assumed.
pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let n = hand.view.numbers;
    heading(ui, &format!("How sure {} is", hand.at), "");
    let gap = hand.felt.map(|(_, gap)| gap);
    match gap.and_then(|gap| Some((gap, uncertainty::tell_budget(&gap.cold, n)?))) {
        Some((gap, told)) => {
            paragraph(ui, &format!("**{}**", words::capital(&told.value)));
            paragraph(ui, &told.interval);
            section(ui, &told.u, "");
            for term in &told.terms {
                row(ui, term);
            }
            paragraph(ui, &format!("{}. Shares are of the squares, as they add.", told.largest));
            paragraph(ui, &uncertainty::hand(&hand.view.bench.yard().settings, n));
            for assumed in &told.assumed {
                paragraph(ui, assumed);
            }
            let tolerance = hand.view.bench.yard().settings.tolerance;
            let chance = words::capital(&uncertainty::chance(gap.verdict.chance));
            let proof = uncertainty::proof(&gap.verdict, tolerance, n);
            paragraph(ui, &format!("**{chance}**. {proof}."));
        }
        None => {
            paragraph(
                ui,
                "Both stacks are needed before anybody can say how sure a reading is: one side is open, and nothing is proven there.",
            );
        }
    }
    temps::show_jaws_and_air(ui, hand, asked);
    let notice = hand.leaves.and_then(|set| leaves::due_notice(set, hand.view.now));
    if let Some(notice) = notice {
        paragraph(ui, &notice);
    }
    let width = ui.available_width();
    let escape = ui.input(|input| input.key_pressed(egui::Key::Escape));
    if Button::plain("Back to the leaves").width(width).show(ui).clicked() || escape {
        close(ui);
    }
}

/// A term with its size, and its share of the whole as a bar.
#[expect(clippy::cast_possible_truncation, reason = "a share, for drawing")]
fn row(ui: &mut Ui, term: &TermBrief) {
    let t = theme::tokens(ui);
    section(ui, term.name, &format!("{}, **{}**", term.u, term.per_cent));
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 6.0), Sense::hover());
    ui.painter().rect_filled(rect, 2.0, t.soft);
    let filled = rect.with_max_x(rect.left() + rect.width() * term.share as f32);
    ui.painter().rect_filled(filled, 2.0, t.ink2);
    let spoken = format!("{}: {}, {} of the whole", term.name, term.u, term.per_cent);
    say(ui, rect, term.name, &spoken);
}
