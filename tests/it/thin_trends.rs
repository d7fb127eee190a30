//! Logs that tell little or nothing about growth: each is answered with a sentence, and no number is
//! made up.
//!
//! Each log goes through the text and the JSON of the real program and through the screen.

use crate::{
    cli::{json, told},
    desk::Desk,
    visit::{Visit, station, um},
};
use chrono::{DateTime, TimeDelta};
use egui::{Theme, accesskit::Role};
use egui_kittest::kittest::NodeT as _;
use gapwright::{
    domain::{
        gauge::Bracket,
        log::{Reading, Session, SessionId},
        machine::LineId,
        quantity::Hours,
        yard::{Machine, Yard},
    },
    store,
    workbench::{Command, Screen, Span, TrendView},
};
use serde_json::Value;

/// Meter, the stack that goes and the one that does not, in hours and µm.
type Look = (i32, i64, Option<i64>);

/// A yard with one machine on which only S1 was measured, every eight hours by the clock.
fn yard(looks: &[Look]) -> Yard {
    let Visit { settings, machine, next } = Visit::new();
    let sessions = looks.iter().zip(0_u16..).map(|(&(meter, go, no_go), k)| {
        let taken = DateTime::UNIX_EPOCH + TimeDelta::hours(490_000 + 8 * i64::from(k));
        let bracket = Bracket::new(um(go), no_go.map(um)).unwrap();
        Session {
            id: SessionId::new(taken, k),
            taken,
            meter: Hours::from_whole(meter),
            readings: vec![Reading {
                station: station("S1"),
                bracket,
                blade_temp: None,
                leaves: None,
            }],
            findings: vec![],
            work: vec![],
            ..next.clone()
        }
    });
    let machines = vec![Machine::new(machine.shear, sessions.collect())];
    Yard { settings, machines }
}

/// Every word of the three shapes a trend is told in, after looking for what is no number.
fn words(looks: &[Look]) -> (String, Value, String) {
    let yard = yard(looks);
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("yard");
    store::create_yard(&folder, &yard).unwrap();
    let folder = folder.to_str().unwrap();
    let ask = |more: &[&str]| {
        let args = [&["trend", folder, "--shear", "dunlin", "--station", "S1"], more].concat();
        let told = told(home.path(), &args);
        assert_eq!((told.code, told.err.as_str()), (0, ""));
        told
    };
    let text = ask(&[]).out;
    let value = json(&ask(&["--json"]));
    let mut desk = Desk::with(&yard, [1280.0, 800.0], Theme::Light);
    desk.act(Command::Go(Screen::Trend));
    desk.act(Command::ChooseLine(LineId::S));
    desk.act(Command::ToggleTrendStation(station("S1")));
    let mut screen = String::new();
    for view in [TrendView::Compare(gapwright::workbench::Kin::Times), TrendView::Signals] {
        desk.act(Command::SetTrendView(view));
        screen += &said(&desk);
    }
    desk.act(Command::SetTrendView(TrendView::Growth));
    for span in [Span::ThisEdge, Span::All] {
        desk.act(Command::SetSpan(span));
        screen += &said(&desk);
    }
    for all in [&text, &screen] {
        for wrong in ["NaN", "inf", "null"] {
            assert!(!all.split_whitespace().any(|word| word.contains(wrong)), "{wrong}: {all}");
        }
    }
    (text, value, screen)
}

/// Everything that a screen reader finds.
fn said(desk: &Desk) -> String {
    let mut all = String::new();
    for node in desk.window.root().children_recursive() {
        let node = node.accesskit_node();
        if node.role() != Role::Window {
            for words in [node.label(), node.value(), node.description()].into_iter().flatten() {
                all += &words;
                all.push('\n');
            }
        }
    }
    all
}

/// A log of eight looks, each `step` µm on from the one before.
fn steady(first: i64, step: i64) -> Vec<Look> {
    (0..8)
        .map(|k| {
            let go = first + step * i64::from(k);
            (100 + 8 * k, go, Some(go + 50))
        })
        .collect()
}

#[test]
fn too_little_to_tell_growth_is_said_with_what_is_missing() {
    let open = |k| (100 + 8 * k, 400, None);
    let shut = |k| (100 + 8 * k, 0, Some(50));
    let logs: [(Vec<Look>, &str); 4] = [
        (vec![(100, 400, Some(450))], "1 reading is too few for a growth rate, 3 are needed"),
        (
            vec![(100, 400, Some(450)), (100, 450, Some(500))],
            "all readings were taken at the same service hour, so nothing could grow",
        ),
        (
            (0..6).map(open).collect(),
            "all 6 readings have an open end, so nothing says where the gap is",
        ),
        (
            (0..6).map(shut).collect(),
            "all 6 readings have an open end, so nothing says where the gap is",
        ),
    ];
    for (looks, why) in logs {
        let (text, value, screen) = words(&looks);
        assert!(text.contains(why), "{text}");
        assert_eq!((value["why_not"].as_str(), &value["rate_mm_per_h"]), (Some(why), &Value::Null));
        assert_eq!(value["hours_to"].as_array().map(Vec::len), Some(0));
        assert!(screen.contains(why), "{screen}");
    }
}

#[test]
fn a_meter_that_ran_backwards_is_named_and_counts_no_hours() {
    let looks = [
        (100, 400, Some(450)),
        (116, 500, Some(550)),
        (108, 450, Some(500)),
        (124, 500, Some(550)),
        (132, 550, Some(600)),
    ];
    let (text, value, screen) = words(&looks);
    let said = "than at the visit before, and no change of meter is recorded";
    assert!(text.contains(said) && screen.contains(said), "{text}\n{screen}");
    assert_eq!(value["meter_backwards"].as_array().map(Vec::len), Some(1));
    assert!(value["rate_mm_per_h"].as_f64().unwrap().is_finite());
}

#[test]
fn a_gap_that_shrinks_is_never_wear() {
    let (text, value, screen) = words(&steady(800, -50));
    for all in [text, screen] {
        assert!(all.contains("That is never wear"), "{all}");
    }
    assert!(value["rate_mm_per_h"].as_f64().unwrap() < 0.0);
    let upper = &value["hours_to"].as_array().unwrap()[1];
    assert_eq!(
        (upper["limit"].as_str(), &upper["estimate_h"]),
        (Some("working_max"), &Value::Null)
    );
    assert_eq!((upper["bounded"].as_str(), upper["passed"].as_bool()), (Some("none"), Some(false)));
}

#[test]
fn a_limit_that_is_passed_is_said_to_be() {
    let (text, value, screen) = words(&steady(1_200, 50));
    // The line is at 1.25 at about 104 h, and the last reading at 156 h.
    assert!(text.contains("upper working limit 1.25: passed 52\u{a0}h ago, "), "{text}");
    assert!(!text.contains("0\u{a0}h past") && !screen.contains("0\u{a0}h past"), "{text}");
    assert!(screen.contains("has passed 1.25 already"), "{screen}");
    let upper = &value["hours_to"].as_array().unwrap()[1];
    assert_eq!((upper["passed"].as_bool(), upper["limit_mm"].as_f64()), (Some(true), Some(1.25)));
    assert!(upper["estimate_h"].as_f64().unwrap() < 0.0, "it lies in the past");
}

/// Gaps that do not move at all: rounding is no growth, and no limit is met in 10³³ hours.
#[test]
fn a_gap_that_stands_still_grows_by_nothing_and_meets_no_limit() {
    let (text, value, screen) = words(&steady(600, 0));
    assert!(text.contains(" 0.0\u{a0}µm/h from 8 readings"), "{text}");
    assert_eq!(value["rate_mm_per_h"].as_f64(), Some(0.0));
    for to in value["hours_to"].as_array().unwrap() {
        assert_eq!((&to["estimate_h"], &to["high_h"]), (&Value::Null, &Value::Null), "{to}");
        assert!(to["low_h"].as_f64().is_none_or(|hours| hours.abs() < 1e7), "{to}");
        assert_ne!(to["bounded"].as_str(), Some("both"));
    }
    assert!(screen.contains("0.0"), "{screen}");
}

/// Growth that may be none: the limit could be met late or never.
#[test]
fn a_limit_that_may_never_be_met_is_said_so() {
    let gaps = [1_050, 1_150, 1_000, 1_150, 1_050, 1_150, 1_100];
    let looks: Vec<Look> =
        gaps.into_iter().zip(0..).map(|(go, k)| (100 + 8 * k, go, Some(go + 50))).collect();
    let (text, value, screen) = words(&looks);
    assert!(text.contains("or more") || text.contains("could be never"), "{text}");
    assert!(screen.contains("or more") || screen.contains("could be never"), "{screen}");
    let upper = &value["hours_to"].as_array().unwrap()[1];
    assert_eq!(upper["high_h"], Value::Null, "{upper}");
}
