//! Who grows like whom: rates side by side, and a test of equal rates in words.

use crate::{
    brief::{alike, signal},
    domain::machine::StationId,
    gui::{
        insight::Compared,
        plots::{RatePlot, RateRow},
        screens::trend::{Scene, within},
        theme,
        widgets::{
            self, paragraph,
            touch::{self, Spoken},
        },
    },
    language::{self, tell},
    workbench::{Command, Kin, TrendView},
};
use egui::{Rect, Sense, Ui, UiBuilder, vec2};

const KINS: [Kin; 4] = [Kin::Stations, Kin::Times, Kin::Lines, Kin::Machines];

fn lead(scene: &Scene<'_>) -> Option<StationId> {
    scene.shown().last().copied()
}

fn compared<'a>(scene: &Scene<'a>, kin: Kin) -> Option<&'a Compared> {
    scene.view.insight?.compared(kin, lead(scene)?)
}

/// Paints the rates of the chosen comparison.
pub(super) fn rates(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, kin: Kin) {
    let Some(it) = compared(scene, kin) else { return };
    let n = scene.view.numbers;
    let mut child = ui.new_child(UiBuilder::new().max_rect(rect.shrink2(vec2(8.0, 12.0))));
    let title = signal::asked(&scene.machine.shear, &it.alike);
    widgets::heading(
        &mut child,
        &tell!("{title}: growth", title),
        tell!("bars are 80 % intervals"),
    );
    child.add_space(6.0);
    let Some(answer) = &it.answer else {
        paragraph(&mut child, language::told(alike::TOO_FEW));
        return;
    };
    paragraph(&mut child, &alike::comparison(&title, answer, n));
    let yard = scene.view.bench.yard();
    let rows: Vec<RateRow> = it
        .sets
        .iter()
        .zip(&answer.sets)
        .map(|(set, rate)| {
            let told = alike::set(yard, &scene.machine.shear, set, rate, n);
            RateRow { name: told.name, rate: told.rate, words: told.words }
        })
        .collect();
    let common = alike::common(answer, n);
    RatePlot {
        rows: &rows,
        common: common.as_ref().map(|(rate, words)| (*rate, words.as_str())),
        unit: n.rate_unit(),
    }
    .show(ui, Rect::from_min_max(child.next_widget_position(), rect.max));
}

/// Every comparison with its answer; the chosen one is drawn.
pub(super) fn list(ui: &mut Ui, scene: &Scene<'_>, chosen: Kin) -> Vec<Command> {
    let mut asked = Vec::new();
    ui.add_space(12.0);
    within(ui, |ui| {
        widgets::heading(ui, tell!("Who grows alike?"), "");
        ui.add_space(6.0);
    });
    for kin in KINS {
        let Some(it) = compared(scene, kin) else { continue };
        let title = signal::asked(&scene.machine.shear, &it.alike);
        let said = it.answer.as_ref().map_or_else(
            || language::told(alike::TOO_FEW).to_owned(),
            |answer| alike::verdict(answer, scene.view.numbers),
        );
        if row(ui, (kin, chosen), [&title, &said]) {
            asked.push(Command::SetTrendView(TrendView::Compare(kin)));
        }
    }
    ui.add_space(10.0);
    within(ui, |ui| {
        paragraph(ui, language::told(alike::HOW_IT_READS));
    });
    asked
}

fn row(ui: &mut Ui, (kin, chosen): (Kin, Kin), [title, said]: [&str; 2]) -> bool {
    let chosen = kin == chosen;
    let t = theme::tokens(ui);
    let width = ui.available_width();
    let room = (width - 32.0).max(60.0);
    let head = ui.painter().layout(title.to_owned(), theme::body_bold(), t.ink, room);
    let body = ui.painter().layout(said.to_owned(), theme::body(), t.ink2, room);
    let tall = head.size().y + body.size().y + 26.0;
    let (rect, _) = ui.allocate_exact_size(vec2(width, tall), Sense::hover());
    let id = ui.make_persistent_id(("kin", title));
    let response = touch::tap(ui, rect, id, &Spoken::one_of(title, chosen).with(said));
    if chosen {
        ui.painter().rect_filled(rect, 0.0, t.field);
        let bar = Rect::from_min_size(rect.min, vec2(5.0, rect.height()));
        ui.painter().rect_filled(bar, 0.0, t.accent);
    }
    let at = rect.min + vec2(16.0, 11.0);
    let below = at + vec2(0.0, head.size().y + 4.0);
    ui.painter().galley(at, head, t.ink);
    ui.painter().galley(below, body, t.ink2);
    let edge = egui::Stroke::new(1.0, t.soft);
    crate::gui::paint::level(ui.painter(), rect.left()..=rect.right(), rect.bottom(), edge);
    touch::focus_ring(ui, &response, rect.shrink(3.0), 3.0);
    response.clicked() && !chosen
}
