//! Every widget, painted alone, in both themes, and found by what a person would call it.

use crate::picture;
use egui::{Rect, Theme, Ui, pos2, vec2};
use egui_kittest::SnapshotResults;
use gapwright::gui::{
    marks::{ActionMark, Icon, Streak, VerdictMark},
    theme,
    widgets::{self, Panel},
};

/// Paints the same page in both themes and compares each with its accepted picture.
#[track_caller]
pub(crate) fn check(name: &str, size: [f32; 2], mut page: impl FnMut(&mut Ui)) {
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
    check("marks", [806.0, 330.0], |ui| {
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
            let at = pos2(28.0 + 46.0 * (k % 17) as f32, 170.0 + 84.0 * (k / 17) as f32);
            icon.paint(painter, at, 30.0, t.ink, t);
            icon.paint(painter, at + vec2(0.0, 34.0), 18.0, t.ink2, t);
        }
    });
}

pub(crate) const BANDS: widgets::Bands =
    widgets::Bands { set: [0.30, 0.50], working: [0.20, 1.25], stop: [0.10, 1.60] };

#[test]
fn the_sheet_of_the_hand() {
    check("entry", [416.0, 930.0], |ui| {
        let whole = ui.ctx().content_rect().shrink(12.0);
        Panel::paper().accent().show_at(ui, whole, entry_sheet);
    });
}

#[expect(clippy::too_many_lines, reason = "one page, read from top to bottom")]
pub(crate) fn entry_sheet(ui: &mut Ui) {
    widgets::heading(ui, "P3", "Primary blades, third from pivot");
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 14.0;
        let entry = widgets::Entry {
            caption: "Stack in the gap",
            unit: "mm",
            name: "stack in the gap",
            hint: "",
            wrong: false,
        };
        entry.show(ui, &mut "0.60".to_owned(), vec2(178.0, 110.0));
        ui.vertical(|ui| widgets::big_choice(ui, ["Goes in", "Does not go"], Some(1)));
    });
    widgets::section(ui, "Feeler leaves", "in the stack: **0.50 + 0.10**");
    let leaves = [0.05, 0.10, 0.15, 0.20, 0.25, 0.30, 0.40, 0.50, 0.75, 1.00_f32];
    let prints = leaves.map(|leaf| format!("{leaf:.2}"));
    let names = prints.clone().map(|print| format!("leaf {print}"));
    let leaves: Vec<_> = leaves
        .iter()
        .enumerate()
        .map(|(index, &share)| widgets::Leaf {
            print: &prints[index],
            share,
            chosen: index == 1 || index == 7,
            suggested: index == 2,
            name: &names[index],
        })
        .collect();
    widgets::leaf_grid(ui, &leaves, 54.0);
    widgets::section(ui, "Between", "cold gap **0.57–0.62**, +0.02 at 41 °C");
    widgets::BracketStrip {
        goes: "0.55 goes",
        does_not: "0.60 does not",
        between: [0.38, 0.5],
        name: "between 0.55 and 0.60",
        opens: None,
    }
    .show(ui);
    ui.columns(2, |columns| {
        widgets::section(&mut columns[0], "Blade temperature", "");
        widgets::Stepper { value: "41 °C", less: "blade colder", more: "blade warmer" }
            .show(&mut columns[0]);
        widgets::section(&mut columns[1], "Last 8 readings", "");
        let low = [0.35, 0.40, 0.40, 0.45, 0.45, 0.50, 0.55, 0.60];
        widgets::Sparkline {
            bars: &low.map(|low| [low, low + 0.05]),
            set: BANDS.set,
            newest: "0.60",
            oldest: "0.35",
            name: "last 8 readings, from 0.35 to 0.60",
        }
        .show(&mut columns[1]);
    });
    widgets::section(ui, "Seen on the faces", "");
    let tiles = [
        (Icon::Nothing, "None"),
        (Icon::Streak(Streak::Blue), "Blue streak"),
        (Icon::Cracks, "Surface cracks"),
        (Icon::Chipped, "Chipped edge"),
    ]
    .map(|(icon, words)| widgets::SeenTile { icon, words, chosen: words == "None" });
    widgets::seen_grid(ui, &tiles);
    widgets::VerdictBox {
        mark: VerdictMark::Working,
        headline: "Working. Leave it.",
        reasons: &["**0.655 mm** left to the working limit 1.25, about **142 h** at 4.6 µm/h. Hot gap about **0.44**."],
        ruler: Some(widgets::LimitRuler {
            bands: BANDS,
            reading: [0.57, 0.62],
            name: "P3",
            labels: ["0.20", "set", "1.25", "1.60"],
        }),
    }
    .show(ui, 120.0);
    ui.horizontal(|ui| {
        widgets::Button::plain("Back").detail("to P4").before(Icon::Back).height(62.0).show(ui);
        let rest = ui.available_width();
        widgets::Button::primary("Save and next")
            .detail("P2, second from pivot")
            .after(Icon::Forward)
            .width(rest)
            .height(62.0)
            .show(ui);
    });
}

#[test]
fn the_frame_around_a_screen() {
    check("frame", [1180.0, 420.0], whole_frame);
}

#[test]
fn the_frame_gives_way_in_a_narrow_window() {
    check("frame-narrow", [700.0, 420.0], whole_frame);
}

fn whole_frame(ui: &mut Ui) {
    let whole = ui.ctx().content_rect();
    frame(&mut ui.new_child(egui::UiBuilder::new().max_rect(whole)));
}

#[expect(clippy::too_many_lines, reason = "one page, read from top to bottom")]
pub(crate) fn frame(ui: &mut Ui) {
    let t = theme::tokens(ui);
    let whole = ui.max_rect();
    ui.painter().rect_filled(whole, 0.0, t.ground);
    let item = |icon, word, current| widgets::RailItem {
        icon,
        word,
        detail: "",
        current,
        at_foot: false,
        badge: None,
    };
    let stop = Some(VerdictMark::StopTooTight);
    let items = [
        item(Icon::Yard, "Yard", false),
        item(Icon::Measure, "Measure", true),
        widgets::RailItem { badge: stop, ..item(Icon::Decide, "Decide", false) },
        widgets::RailItem { at_foot: true, ..item(Icon::Contrast, "Dark", false) },
    ];
    widgets::rail(ui, &items);
    let right = Rect::from_min_max(whole.min + vec2(88.0, 12.0), whole.max - vec2(12.0, 12.0));
    let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(right).id_salt("right"));
    let ui = &mut ui;
    let step = |mark| widgets::ProgressStep { mark, current: false };
    let done = step(VerdictMark::Working);
    let here = widgets::ProgressStep { mark: VerdictMark::NotMeasured, current: true };
    let open = step(VerdictMark::NotMeasured);
    let group = |letter, steps: &[widgets::ProgressStep]| widgets::ProgressGroup {
        letter,
        steps: steps.to_vec(),
    };
    let walk = vec![
        group("J", &[done, done]),
        group("P", &[done, done, done, step(VerdictMark::SoonTooWide)]),
        group("S", &[done, done, here, open]),
        group("T", &[open, open]),
        group("F", &[open, open]),
        group("G", &[step(VerdictMark::TooTight), step(VerdictMark::StopTooTight), open]),
    ];
    let cells = [
        ("Machine", "**Shear 2**", "Quay yard · carrier 07"),
        ("Session 131", "**Tue 4 Nov, 14:40**", "by MR"),
        ("Hour meter", "**4 812.0 h**", "+8.0 h since last"),
    ]
    .map(|(caption, value, quiet)| widgets::TitleCell {
        caption,
        value,
        quiet,
        ..Default::default()
    });
    let mut cells = cells.to_vec();
    cells.push(widgets::TitleCell {
        caption: "Measured",
        value: "**8** of 17",
        walk,
        ..Default::default()
    });
    cells.push(widgets::TitleCell {
        caption: "Saved on this tablet",
        value: "**14:52:08**",
        check: true,
        ..Default::default()
    });
    widgets::title_block(ui, &cells);
    ui.add_space(8.0);
    ui.spacing_mut().item_spacing.y = 0.0;
    let tab = |mark, letter, place, done| widgets::LineTab { mark, letter, place, done };
    let tabs = [
        tab(VerdictMark::Working, "P", "Primary blades", "2 of 4"),
        tab(VerdictMark::SoonTooWide, "S", "Secondary blades", "4 of 4"),
        tab(VerdictMark::Working, "T", "Tip, cutting side", "2 of 2"),
        tab(VerdictMark::Working, "F", "Front blade", "2 of 2"),
        tab(VerdictMark::StopTooTight, "G", "Guide blade", "3 of 3"),
        tab(VerdictMark::SetRange, "J", "Guide pads", "2 of 2"),
    ];
    widgets::line_tabs(ui, &tabs, 0);
    let rest = ui.available_rect_before_wrap();
    Panel::paper().show_at(ui, rest, |ui| {
        widgets::heading(ui, "Gap ribbon", "cold gap at 20 °C, mm, along the cutting side");
        ui.horizontal_wrapped(|ui| {
            widgets::segmented(ui, "line", &["P", "S", "T", "F", "G", "J"], 1);
            for (word, state) in [
                ("S1", widgets::ChipState::Off),
                ("S2", widgets::ChipState::On),
                ("S4", widgets::ChipState::Leading),
            ] {
                widgets::toggle_chip(ui, word, state);
            }
            widgets::segmented(ui, "hours", &["This edge", "550 h", "All"], 1);
            widgets::Button::plain("Job sheet").before(Icon::Printer).show(ui);
            widgets::Button::quiet("Cancel").show(ui);
            widgets::Button::plain("Record").enabled(false).show(ui);
        });
        widgets::divider(ui);
        ui.horizontal(|ui| {
            let width = ((ui.available_width() - 16.0) / 3.0).min(140.0);
            for (icon, words, detail) in [
                (Icon::Lock, "Lock out", "key with you"),
                (Icon::Prop, "Block the jaw", "prop and strap"),
                (Icon::Hot, "Hot faces", "from about 60 °C"),
            ] {
                widgets::CautionTile { icon, words, detail }.show(ui, width);
            }
        });
    });
}
