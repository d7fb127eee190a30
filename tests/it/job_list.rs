//! The list of jobs and the sheet of one job, as widgets.

use crate::widgets::{BANDS, check};
use egui::{Rect, Ui, UiBuilder, vec2};
use gapwright::gui::{
    marks::{ActionMark, VerdictMark},
    theme,
    widgets::{self, BeforeAfter, EdgeState, HoursBar, JobRow, MiniRibbon, Panel, Shim, ShimFate},
};

const SPAN: f32 = 240.0;

pub(crate) fn list(ui: &mut Ui) {
    let whole = ui.ctx().content_rect().shrink(12.0);
    Panel::paper().margin(egui::Margin::ZERO).show_at(ui, whole, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let columns = widgets::JobColumns::of(ui.available_width());
        let (head, _) =
            ui.allocate_exact_size(vec2(ui.available_width(), 44.0), egui::Sense::hover());
        let hours = Rect::from_x_y_ranges(
            head.left() + columns.hours[0]..=head.left() + columns.hours[1],
            head.top() + 20.0..=head.bottom(),
        );
        let scale = widgets::HoursScale {
            span: SPAN,
            ticks: &[(0.0, "0"), (80.0, "80"), (160.0, "160"), (240.0, "240")],
        };
        scale.show(&mut ui.new_child(UiBuilder::new().max_rect(hours)), hours.width());
        jobs(ui);
    });
}

#[expect(clippy::too_many_lines, reason = "one page, read from top to bottom")]
fn jobs(ui: &mut Ui) {
    let moved = |low: f32, after: f32| BeforeAfter {
        now: [low, low + 0.05],
        after: Some([after, after + 0.05]),
    };
    let stay = |low: f32| BeforeAfter { now: [low, low + 0.05], after: None };
    let stations = [
        vec![moved(0.37, 0.62), moved(0.12, 0.37), moved(0.22, 0.47)],
        vec![moved(1.07, 0.32), moved(1.07, 0.32), moved(1.12, 0.37), moved(1.17, 0.42)],
        vec![stay(0.52), stay(0.55), stay(0.57), stay(0.62)],
        vec![moved(1.42, 0.42), moved(1.30, 0.40)],
        vec![stay(0.42), stay(0.47)],
    ];
    let ribbon = |index: usize| MiniRibbon {
        bands: BANDS,
        stations: &stations[index],
        name: ["G gaps", "S gaps", "P gaps", "F gaps", "J gaps"][index],
    };
    let hours = |estimate, interval, text| HoursBar {
        span: SPAN,
        estimate,
        interval,
        shutdown: Some(8.0),
        past: None,
        text,
        remark: "",
    };
    let rows = [
        JobRow {
            action: ActionMark::Stop,
            word: "Stop",
            when: "do this first",
            place: "**G**  Guide blade",
            headline: "Take 0.25 out behind the guide blade, bolts 1–3",
            reasons: &[
                "G2 **0.12–0.17** is under the stop limit **0.20**",
                "Hot gap about **−0.14**: the faces touch. Blue streak seen.",
            ],
            source: "Limits table, row G · heat estimate, shift of 4 Nov",
            ribbon: Some(ribbon(0)),
            hours: Some(HoursBar {
                past: Some(VerdictMark::StopTooTight),
                ..hours(None, None, "**passed**   12 h ago")
            }),
            chosen: false,
        },
        JobRow {
            action: ActionMark::Shim,
            word: "Shim",
            when: "before cutting on",
            place: "**S**  Secondary blades",
            headline: "Add 0.50 + 0.25 behind the lower secondary blade, bolts 1–4",
            reasons: &[
                "S4 **1.17–1.22** nears the working limit **1.25**",
                "Grows **5.4 µm/h**. The next shutdown in 8 h may be too late.",
            ],
            source: "Limits table, row S · trend of 18 sessions since 4 664 h",
            ribbon: Some(ribbon(1)),
            hours: Some(HoursBar {
                remark: "next shutdown 8 h",
                ..hours(Some(10.0), Some((5.0, Some(16.0))), "**10 h**   5–16")
            }),
            chosen: true,
        },
        JobRow {
            action: ActionMark::Rotate,
            word: "Rotate",
            when: "before cutting on",
            place: "**P**  Primary blades",
            headline: "Turn the lower primary blade to edge 3",
            reasons: &["Chipped edge at P2. Turn when it is chipped."],
            source: "Edge table, line 2",
            ribbon: Some(ribbon(2)),
            hours: Some(hours(Some(131.0), Some((108.0, Some(158.0))), "**131 h**   108–158")),
            chosen: false,
        },
        JobRow {
            action: ActionMark::Replace,
            word: "Replace",
            when: "within 60 h",
            place: "**F**  Front blade",
            headline: "Order and fit a new tip front plate",
            reasons: &["Shim pack **3.00** of 3.00 allowed: no room left"],
            source: "Shim table, row F",
            ribbon: Some(ribbon(3)),
            hours: Some(hours(Some(180.0), Some((120.0, None)), "**180 h**   120 or more")),
            chosen: false,
        },
        JobRow {
            action: ActionMark::Leave,
            word: "Leave",
            when: "look again in 8 h",
            place: "**J**  Guide pads",
            headline: "Nothing to do on the guide pads",
            reasons: &["J1–J2 **0.42–0.52** inside the set range 0.30–0.60"],
            source: "Limits table, row J",
            ribbon: Some(ribbon(4)),
            hours: Some(hours(None, Some((400.0, None)), "**400 h**   or more")),
            chosen: false,
        },
    ];
    for row in rows {
        row.show(ui);
    }
}

#[test]
fn jobs_most_urgent_first() {
    check("jobs", [1060.0, 700.0], list);
}

#[test]
fn jobs_in_a_narrow_window() {
    check("jobs-narrow", [560.0, 700.0], list);
}

#[test]
fn the_sheet_of_one_job() {
    check("job-sheet", [450.0, 560.0], |ui| {
        let whole = ui.ctx().content_rect().shrink(8.0);
        Panel::field().accent().show_at(ui, whole, |ui| {
            let (rect, _) =
                ui.allocate_exact_size(vec2(ui.available_width(), 50.0), egui::Sense::hover());
            let t = theme::tokens(ui);
            ActionMark::Shim.paint(
                ui.painter(),
                rect.left_center() + vec2(24.0, 0.0),
                46.0,
                t,
                t.field,
            );
            widgets::section(ui, "Blade edges", "");
            widgets::edge_legend(ui, ["worn", "in use", "fresh"]);
            ui.horizontal(|ui| {
                use EdgeState::{Fresh, InUse, Worn};
                widgets::EdgeGlyph { edges: &[Worn, InUse, Fresh, Fresh], name: "lower" }.show(ui);
                widgets::EdgeGlyph { edges: &[Worn, Worn, InUse, Fresh], name: "upper" }.show(ui);
                widgets::EdgeGlyph { edges: &[Worn, InUse], name: "tip" }.show(ui);
            });
            widgets::divider(ui);
            widgets::section(ui, "Shim pack, lower blade", "**1.50** after, 3.00 allowed");
            let shim = |thickness, text, fate| Shim { thickness, text, fate };
            let now = widgets::ShimStack {
                shims: &[
                    shim(0.50, "0.50", ShimFate::Stays),
                    shim(0.25, "0.25", ShimFate::ComesOut),
                ],
                caption: "now **0.75**",
            };
            let after = widgets::ShimStack {
                shims: &[
                    shim(0.50, "0.50", ShimFate::Stays),
                    shim(0.50, "0.50", ShimFate::GoesIn),
                    shim(0.25, "0.25", ShimFate::GoesIn),
                ],
                caption: "after **1.25**",
            };
            widgets::shim_change(ui, "blade", &now, &after);
            widgets::divider(ui);
            widgets::section(ui, "Bolts, tighten in this order", "**2 – 3 – 1 – 4**");
            let orders = ["third", "first", "second", "last"];
            let numbers = ["1", "2", "3", "4"];
            let bolts: Vec<_> = orders
                .iter()
                .zip(numbers)
                .map(|(order, number)| widgets::StripBolt {
                    number,
                    order,
                    first: *order == "first",
                })
                .collect();
            widgets::bolt_strip(ui, &bolts, "tighten in the order 2, 3, 1, 4");
        });
    });
}
