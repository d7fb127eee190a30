//! Every widget, painted alone, in both themes, and found by what a person would call it.

use crate::picture;
use egui::{Theme, Ui, pos2, vec2};
use egui_kittest::SnapshotResults;
use gapwright::gui::{
    marks::{ActionMark, Icon, VerdictMark},
    theme,
};

/// Paints the same page in both themes and compares each with its accepted picture.
#[track_caller]
fn check(name: &str, size: [f32; 2], mut page: impl FnMut(&mut Ui)) {
    let mut results = SnapshotResults::new();
    for (theme, suffix) in [(Theme::Light, "light"), (Theme::Dark, "dark")] {
        let mut harness = picture::builder(size, theme).build_ui(|ui| {
            let t = theme::tokens(ui);
            ui.painter().rect_filled(ui.ctx().content_rect(), 0.0, t.paper);
            page(ui);
        });
        harness.run();
        harness.snapshot(format!("{name}-{suffix}"));
        results.extend_harness(&mut harness);
    }
}

#[test]
fn marks_read_at_every_size() {
    check("marks", [760.0, 330.0], |ui| {
        let t = theme::tokens(ui);
        let painter = ui.painter();
        for (row, size) in [13.0, 16.0, 24.0].into_iter().enumerate() {
            let y = 24.0 + 32.0 * row as f32;
            for (k, mark) in VerdictMark::ALL.into_iter().enumerate() {
                mark.paint(painter, pos2(24.0 + 36.0 * k as f32, y), size, t);
            }
        }
        for (row, size) in [16.0, 24.0, 46.0].into_iter().enumerate() {
            let y = 24.0 + 44.0 * row as f32;
            for (k, mark) in ActionMark::ALL.into_iter().enumerate() {
                mark.paint(painter, pos2(430.0 + 64.0 * k as f32, y), size, t, t.paper);
            }
        }
        for (k, icon) in Icon::ALL.into_iter().enumerate() {
            let at = pos2(28.0 + 46.0 * (k % 16) as f32, 170.0 + 84.0 * (k / 16) as f32);
            icon.paint(painter, at, 30.0, t.ink, t);
            icon.paint(painter, at + vec2(0.0, 34.0), 18.0, t.ink2, t);
        }
    });
}
