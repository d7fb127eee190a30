//! How sure a reading is, term by term, for whoever asks or teaches: one in hand, or one of the log.

use crate::{
    brief::{
        uncertainty::{self, TermBrief},
        words,
    },
    domain::{
        verdict::{Cold, Verdict},
        yard::Settings,
    },
    gui::{
        screens::View,
        theme,
        widgets::{paragraph, say, section},
    },
    language::{self, sentence, tell},
};
use egui::{Sense, Ui, vec2};

/// Value, interval, every term with its share, what was assumed, and what it proves.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, read: Option<(&Cold, &Verdict)>) {
    let (n, settings) = (view.numbers, &view.bench.yard().settings);
    let told = read.and_then(|(cold, verdict)| Some((uncertainty::tell_budget(cold, n)?, verdict)));
    let Some((told, verdict)) = told else {
        paragraph(ui, language::told(ONE_SIDE_OPEN));
        return;
    };
    paragraph(ui, &format!("**{}**", words::capital(&told.value)));
    paragraph(ui, &told.interval);
    section(ui, &told.u, "");
    for term in &told.terms {
        row(ui, term);
    }
    paragraph(
        ui,
        &tell!("{largest}. Shares are of the squares, as they add.", largest = told.largest),
    );
    paragraph(ui, &uncertainty::hand(settings, n));
    for assumed in &told.assumed {
        paragraph(ui, assumed);
    }
    paragraph(ui, &proven(verdict, settings, view));
}

const ONE_SIDE_OPEN: &str = sentence!(
    "Both stacks are needed before anybody can say how sure a reading is: one side \
                             is open, and nothing is proven there."
);

fn proven(verdict: &Verdict, settings: &Settings, view: &View<'_>) -> String {
    let chance = words::capital(&uncertainty::chance(verdict.chance));
    let proof = uncertainty::proof(verdict, settings.tolerance, view.numbers);
    format!("**{chance}**. {proof}.")
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
    let spoken = tell!(
        "{term}: {u}, {per_cent} of the whole",
        term = term.name,
        u = term.u,
        per_cent = term.per_cent
    );
    say(ui, rect, term.name, &spoken);
}
