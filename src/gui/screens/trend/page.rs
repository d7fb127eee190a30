//! What the Trend screen shows on one page, to be filed: a picture or a drawing that says by itself
//! which machine it is of, which place, and when.
//!
//! Knows a page of one size, whatever the window's is. Refuses to know files; nothing on it can be
//! moved.

use crate::{
    brief::{head, trend},
    gui::{
        screens::{
            View,
            trend::{Scene, chart, line_of},
        },
        theme,
    },
    language::tell,
    workbench::TrendView,
};
use egui::{CentralPanel, Frame, Label, Margin, RichText, Ui, Vec2, vec2};

/// Its size in points.
pub(crate) const TREND_PAGE: Vec2 = vec2(1_240.0, 780.0);

/// Paints it, over these hours where the growth is shown.
pub(crate) fn page(ui: &mut Ui, view: &View<'_>, hours: Option<[f64; 2]>) {
    let (Some(machine), Some(decision)) = (view.bench.machine(), view.decision) else { return };
    let brief =
        line_of(view, decision).and_then(|line| trend::tell(machine, decision, line, view.numbers));
    let Some(mut scene) = brief.as_ref().and_then(|brief| Scene::of(view, brief)) else { return };
    let zoomed = hours.filter(|_| view.bench.trend_view() == TrendView::Growth);
    scene.hours = zoomed.unwrap_or(scene.hours);
    let t = theme::tokens(ui);
    let frame = Frame::NONE.fill(t.paper).inner_margin(Margin::symmetric(24, 18));
    CentralPanel::default().frame(frame).show(ui, |ui| {
        let head = head::tell(machine, decision, view.numbers);
        let shown: Vec<String> = scene.shown().iter().map(ToString::to_string).collect();
        let what = match view.bench.trend_view() {
            TrendView::Growth => tell!("growth"),
            TrendView::Signals => tell!("control charts"),
            TrendView::Compare(_) => tell!("growth compared"),
        };
        let filed = trend::filed(&head, &scene.brief.place, (&shown.join(", "), what));
        ui.add(Label::new(RichText::new(filed).font(theme::panel_title()).color(t.ink)).truncate());
        let under = trend::filed_under(&head, view.now, view.numbers);
        ui.add(Label::new(RichText::new(under).font(theme::chip()).color(t.ink2)).truncate());
        ui.add_space(10.0);
        // Nothing on paper can be tapped.
        drop(chart(ui, &scene));
    });
}
