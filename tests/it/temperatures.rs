//! Jaws, air and blades: taken by a hand in gloves, kept with the session, and said.

use crate::measure::Bench;
use egui::{Event, Modifiers, PointerButton, Theme};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use gapwright::domain::{log::Session, quantity::Temperature};

fn session(bench: &Bench) -> Session {
    bench.harness.state().bench().visit().unwrap().session.clone()
}

/// What stands at the right of a heading.
fn beside(bench: &Bench, heading: &str) -> String {
    bench.harness.get_by_label(heading).accesskit_node().description().unwrap_or_default()
}

#[test]
fn jaws_and_air_are_asked_for_before_the_first_station_and_what_nobody_took_is_said() {
    let mut bench = Bench::open([1024.0, 768.0], Theme::Light, 1);
    bench.click("Heron");
    bench.click("air colder");
    let air = session(&bench).air_temp.unwrap();
    bench.click("air colder");
    let colder = session(&bench).air_temp.unwrap();
    assert!((air.above(colder).k() - 1.0).abs() < 1e-9);
    bench.click("Clear, moved, locked, blocked");
    bench.click("blade warmer");
    for leaf in ["leaf 0.05", "leaf 0.40", "Goes in", "leaf 0.50", "Does not go"] {
        bench.click(leaf);
    }
    assert!(beside(&bench, "Between").contains("jaws assumed"));
    bench.click("uncertainty of this reading");
    assert!(bench.shows("halfway between air and blades"));
    bench.click("jaws warmer");
    assert!(!bench.shows("halfway between air and blades"));
    assert!(bench.shows("thermometer on the jaws"), "it is a term of the budget now");
    bench.click("Back to the leaves");
    let taken = beside(&bench, "Between");
    assert!(taken.contains("jaws") && !taken.contains("assumed"), "{taken}");
    bench.click("Save and next");
    let kept = session(&bench);
    assert_eq!(kept.air_temp, Some(colder));
    assert!(kept.jaw_temp.is_some());
    bench.click("Back");
    bench.click("uncertainty of this reading");
    bench.click("jaw temperature not taken");
    assert_eq!(session(&bench).jaw_temp, None);
}

#[test]
fn a_finger_that_stays_steps_on_and_stops_when_it_leaves() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.click("Heron");
    bench.click("jaws warmer");
    let before: Temperature = session(&bench).jaw_temp.unwrap();
    let pos = bench.harness.get_by_label("jaws warmer").rect().center();
    let button = |pressed| Event::PointerButton {
        pos,
        button: PointerButton::Primary,
        pressed,
        modifiers: Modifiers::NONE,
    };
    bench.harness.event(Event::PointerMoved(pos));
    bench.harness.event(button(true));
    bench.harness.run_steps(8);
    let held = session(&bench).jaw_temp.unwrap().above(before).k();
    assert!((3.0..=8.0).contains(&held), "{held} K in two seconds");
    bench.harness.event(button(false));
    bench.harness.run_steps(8);
    let after = session(&bench).jaw_temp.unwrap().above(before).k();
    assert!((after - held).abs() <= 1.0, "no step after the finger left");
}
