//! Jaws, air and blades: taken by a hand in gloves, kept with the session, and said.

use crate::measure::Bench;
use egui::{Event, Key, Modifiers, PointerButton, Theme};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use gapwright::{
    domain::{log::Session, machine::ShearId, quantity::Temperature},
    workbench::{Command, Screen},
};

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
    bench.click("Locked and blocked");
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

/// The longest verdicts there are end above the buttons, in the smallest windows as well.
#[test]
fn a_verdict_never_runs_under_the_buttons() {
    for size in [[1024.0, 768.0], [1280.0, 800.0], [1600.0, 1000.0]] {
        let mut bench = Bench::open(size, Theme::Light, 3);
        for (machine, station, readings) in [
            ("wren", "P3", ["0.55-0.60", "1.20-1.25", "1.20-1.30", "0.20-0.25"]),
            ("heron", "G2", ["0.10-0.15", "0.30-0.35", "0.25-0.35", "1.15-1.25"]),
            ("heron", "S4", ["1.20-1.30", "1.25-1.30", "0.10-0.15", ">1.20"]),
        ] {
            bench.act(Command::ChooseMachine(ShearId::new(machine).unwrap()));
            bench.act(Command::Go(Screen::Measure));
            for reading in readings {
                bench.act(Command::ChooseStation(station.parse().unwrap()));
                bench.act(Command::PositionReached);
                bench.type_text(reading);
                let save = bench.harness.get_by_label("Save and next").rect();
                let verdict = bench.harness.get_all_by_role(egui::accesskit::Role::Label);
                let back = bench.harness.get_by_label("Back").rect();
                let words = verdict.map(|it| it.rect()).filter(|it| back.left() <= it.left());
                let lowest = words.map(|it| it.bottom()).fold(0.0, f32::max);
                assert!(
                    lowest + 6.0 <= save.top(),
                    "{size:?} {station} {reading}: {lowest} {save:?}"
                );
                bench.press(Key::Escape);
            }
        }
    }
}
