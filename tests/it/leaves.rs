//! Which leaf set is in the hand, and that each reading is as sure as the leaves it was read with.

use crate::measure::Bench;
use egui::{Key, Theme};
use egui_kittest::kittest::Queryable as _;
use gapwright::{
    domain::{
        decide::decide,
        gauge::{Leaf, LeafSet, Term},
        log::Session,
        quantity::{Length, LengthUnit},
        yard::{Machine, Settings},
    },
    workbench::Command,
};

#[test]
fn whoever_reads_inches_has_the_inch_leaves_in_hand_and_the_reading_notes_them() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    bench.press(Key::Enter);
    bench.type_text("0.45-0.50");
    bench.press(Key::Enter);
    bench.act(Command::SetUnit(LengthUnit::Inch));
    let set = settings(&bench).leaves_in(LengthUnit::Inch).unwrap().clone();
    assert_eq!(set.unit(), LengthUnit::Inch);
    let cells = bench.harness.query_all_by_label_contains("leaf ").count();
    assert_eq!(cells, set.leaves().len());
    bench.type_text("0.018-0.020");
    bench.press(Key::Enter);

    let session = &bench.harness.state().bench().visit().unwrap().session;
    let noted: Vec<Option<&str>> = session.readings.iter().map(|it| it.leaves.as_deref()).collect();
    assert_eq!(noted, [None, Some(set.name())], "the usual set needs no note");
}

/// The same gap by two sets: each reading is blurred by its own leaves, now and when it is judged
/// from the log.
#[test]
fn each_reading_is_as_sure_as_the_leaves_it_was_read_with() {
    let bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    let mut settings = settings(&bench);
    let usual = settings.leaf_sets[0].clone();
    let coarse = usual
        .leaves()
        .iter()
        .map(|leaf| Leaf { tolerance: leaf.tolerance + Length::from_um(20), ..*leaf });
    settings.leaf_sets.push(LeafSet::new("Old leaves".into(), coarse.collect()).unwrap());
    let machine = bench.on_disk();
    let mut session = machine.sessions.last().unwrap().clone();
    let at = session.readings[0].station;
    let blur = |leaves: Option<&str>, session: &mut Session| {
        session.readings[0].leaves = leaves.map(Into::into);
        let mut sessions = machine.sessions.clone();
        *sessions.last_mut().unwrap() = session.clone();
        let machine = Machine::new(machine.shear.clone(), sessions);
        let decision = decide(&machine, &settings);
        let line = decision.line(at.line).unwrap();
        let state = line.stations.iter().find(|it| it.station == at).unwrap();
        let terms = state.cold.unwrap().budget;
        terms.terms().iter().find(|it| it.name == Term::Leaves).map_or(0.0, |it| it.u)
    };
    let (fine, wide) = (blur(None, &mut session), blur(Some("Old leaves"), &mut session));
    // A stack more: 20 µm either side of each of its leaves, as a rectangle.
    assert!(fine + 0.02 / 3.0_f64.sqrt() - 1e-9 <= wide, "{fine} {wide}");
    assert!((blur(Some("lost"), &mut session) - fine).abs() < 1e-12, "an unknown set is the usual");
}

fn settings(bench: &Bench) -> Settings {
    bench.harness.state().bench().yard().settings.clone()
}
