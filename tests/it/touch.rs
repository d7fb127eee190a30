//! What a finger, a keyboard and a screen reader can do with the widgets.

use crate::{drawings, picture};
use egui::{Key, Theme, accesskit::Role, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use gapwright::gui::widgets;

#[test]
fn a_station_can_be_tapped_tabbed_to_and_heard() {
    let mut tapped = None;
    let mut harness = picture::builder([1096.0, 880.0], Theme::Light).build_ui_state(
        |ui, tapped: &mut Option<usize>| {
            if let Some(index) = drawings::drawings(ui, 448.0) {
                *tapped = Some(index);
            }
        },
        tapped.take(),
    );
    harness.run();
    let stations = harness.get_all_by_role(Role::RadioButton).count();
    assert_eq!(stations, 17, "every station is in the accessibility tree");

    let name = "P3, primary blades, third from pivot";
    let station = harness.get_by_role_and_label(Role::RadioButton, name);
    let said = station.accesskit_node().data().description().map(str::to_owned);
    assert_eq!(said.as_deref(), Some("between 0.57 and 0.62, working"));
    station.click();
    harness.run();
    assert_eq!(*harness.state(), Some(4));

    harness.get_by_label(name).focus();
    harness.run();
    harness.key_press(Key::Tab);
    harness.run();
    assert!(harness.get_by_label("P4").is_focused(), "Tab walks in walking order");
    harness.key_press(Key::Space);
    harness.run();
    assert_eq!(*harness.state(), Some(5));
}

#[test]
fn every_station_is_large_enough_for_a_glove() {
    for size in [[1096.0, 880.0], [580.0, 700.0]] {
        let mut harness = picture::builder::<()>(size, Theme::Dark).build_ui(|ui| {
            drawings::drawings(ui, size[1] * 0.5);
        });
        harness.run();
        let rects: Vec<_> =
            harness.get_all_by_role(Role::RadioButton).map(|node| node.rect()).collect();
        for (index, rect) in rects.iter().enumerate() {
            assert!(vec2(44.0, 44.0).x <= rect.width() + 0.01, "{rect:?} is too narrow");
            assert!(44.0 <= rect.height() + 0.01, "{rect:?} is too low");
            for other in rects.iter().skip(index + 1) {
                assert!(!rect.shrink(0.1).intersects(*other), "{rect:?} overlaps {other:?}");
            }
        }
    }
}

#[test]
fn what_is_typed_stays_as_it_is_typed() {
    let entry = widgets::Entry {
        caption: "Stack in the gap",
        unit: "mm",
        name: "stack in the gap",
        hint: "",
        wrong: false,
    };
    let mut harness = picture::builder([240.0, 140.0], Theme::Light).build_ui_state(
        |ui, text: &mut String| {
            entry.show(ui, text, vec2(178.0, 110.0));
        },
        String::new(),
    );
    harness.run();
    harness.get_by_label("stack in the gap").focus();
    harness.run();
    harness.get_by_label("stack in the gap").type_text("0,45 mm?");
    harness.run();
    assert_eq!(harness.state(), "0,45 mm?");
}

#[test]
fn leaves_and_answers_say_what_they_are() {
    #[derive(Default)]
    struct Tapped {
        leaf: Option<usize>,
        answer: Option<usize>,
        step: Option<widgets::Step>,
    }
    let leaf =
        |print, name| widgets::Leaf { print, share: 0.2, chosen: false, suggested: false, name };
    let leaves = [leaf("0.10", "leaf 0.10"), leaf("0.15", "leaf 0.15")];
    let mut harness = picture::builder([360.0, 260.0], Theme::Light).build_ui_state(
        |ui, tapped: &mut Tapped| {
            tapped.leaf = widgets::leaf_grid(ui, &leaves, 54.0).or(tapped.leaf);
            let answer = widgets::big_choice(ui, ["Goes in", "Does not go"], None);
            tapped.answer = answer.or(tapped.answer);
            let stepper = widgets::Stepper { value: "41 °C", less: "colder", more: "warmer" };
            tapped.step = stepper.show(ui).or(tapped.step);
        },
        Tapped::default(),
    );
    harness.run();
    for (role, name) in [
        (Role::CheckBox, "leaf 0.15"),
        (Role::RadioButton, "Does not go"),
        (Role::Button, "warmer"),
    ] {
        harness.get_by_role_and_label(role, name).click();
        harness.run();
    }
    let Tapped { leaf, answer, step } = harness.state();
    assert_eq!((*leaf, *answer, *step), (Some(1), Some(1), Some(widgets::Step::More)));
}

#[test]
fn nothing_panics_in_a_window_that_is_far_too_small() {
    for size in [[60.0, 40.0], [150.0, 120.0], [320.0, 240.0]] {
        let pages: [fn(&mut egui::Ui); 4] = [
            |ui| {
                drawings::drawings(ui, 200.0);
            },
            crate::widgets::entry_sheet,
            crate::widgets::frame,
            crate::job_list::list,
        ];
        for page in pages {
            let mut harness = picture::builder::<()>(size, Theme::Light).build_ui(page);
            harness.run();
            harness.render().unwrap();
        }
    }
}

#[test]
fn nothing_panics_with_nothing_to_show() {
    let mut harness = picture::builder::<()>([900.0, 700.0], Theme::Light).build_ui(|ui| {
        let words = widgets::MouthWords {
            title: "Mouth view",
            note: "",
            pivot: "Pivot",
            cutting: "",
            guide: "",
            upper: "",
        };
        let view = widgets::MouthView {
            jaw: widgets::Jaw { reach: 0.0, mouth: 0.0, cheek: 0.0, upper: 0.0, pivot: 0.0 },
            parts: &[],
            stations: &[],
            current: Some(3),
            words,
            legend: &[],
            warning: None,
        };
        let along = widgets::Along::fit(0.0, 900.0, 0.0);
        assert_eq!(view.show(ui, along, 300.0), None);
        let words = widgets::RibbonWords {
            title: "Gap ribbon",
            note: "",
            legend: ["", "", ""],
            stop: "",
            working: "",
            set: "",
            next: "",
            axis: "",
        };
        let empty = widgets::GapRibbon {
            lines: &[],
            readings: &[],
            gap_ticks: &[],
            along_ticks: &[],
            words,
        };
        empty.show(ui, along, 200.0);
        widgets::title_block(ui, &[]);
        assert_eq!(widgets::line_tabs(ui, &[], 0), None);
        assert_eq!(widgets::leaf_grid(ui, &[], 54.0), None);
        assert_eq!(widgets::segmented(ui, "line", &[], 0), None);
        widgets::bolt_strip(ui, &[], "no bolts");
    });
    harness.run();
    harness.render().unwrap();
}
