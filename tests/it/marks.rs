//! Wear marks: entered beside the gaps, kept with the visit, judged and followed like a gap.

use crate::{desk::Desk, visit::Visit};
use egui::{Key, Theme};
use gapwright::{
    brief::{Numbers, decision::tell_all, plain},
    domain::{
        decide::{Action, Job, LineDecision, Reason},
        log::{Mark, MarkKind, Work},
        machine::{BladeId, LineId, ShearId, WearLimits},
        quantity::{Hours, Length},
        yard::Machine,
    },
    store,
    workbench::{Command, Screen},
};

fn um(um: i64) -> Length {
    Length::from_um(um)
}

/// A machine whose primary blades may wear so far.
fn limited(limits: WearLimits) -> Visit {
    let mut visit = Visit::new();
    for blade in &mut visit.machine.shear.blades {
        blade.wear = limits;
    }
    let Machine { shear, sessions, .. } = visit.machine;
    visit.machine = Machine::new(shear, sessions);
    visit
}

fn marked(mut visit: Visit, blade: &BladeId, kind: MarkKind, value: i64) -> Visit {
    visit.next.marks = vec![Mark { blade: blade.clone(), kind, value: um(value) }];
    visit
}

#[track_caller]
fn told(decision: &LineDecision, kind: MarkKind) -> bool {
    decision.reasons.iter().any(|it| matches!(it, Reason::WearMark { kind: is, .. } if *is == kind))
}

#[test]
fn a_dull_edge_is_turned_and_a_thin_blade_replaced_and_on_the_limit_is_inside() {
    let limits = WearLimits {
        edge_radius_max: Some(um(2_000)),
        thickness_min: Some(um(36_000)),
        tip_wear_max: Some(um(5_000)),
    };
    let blade = Visit::new().blade(LineId::P);
    let decide = |kind, value| marked(limited(limits), &blade, kind, value).decide(LineId::P);
    for (kind, inside, beyond, action) in [
        (MarkKind::EdgeRadius, 2_000, 2_001, Action::Rotate),
        (MarkKind::Thickness, 36_000, 35_999, Action::Replace),
        (MarkKind::TipWear, 5_000, 5_001, Action::Replace),
    ] {
        let within = decide(kind, inside);
        assert_eq!((within.action, told(&within, kind)), (Action::Leave, false), "{kind:?}");
        let over = decide(kind, beyond);
        assert_eq!((over.action, told(&over, kind)), (action, true), "{kind:?}");
        match &over.job {
            Job::Turn { blade: turned, .. } | Job::Fit { blade: turned, .. } => {
                assert_eq!(turned, &blade);
            }
            other => panic!("{other:?}"),
        }
    }
    // Nobody wrote a limit down: the value is shown and calls for nothing.
    let free = marked(Visit::new(), &blade, MarkKind::Thickness, 1_000).decide(LineId::P);
    assert_eq!((free.action, free.marks[0].limit), (Action::Leave, None));
}

#[test]
fn marks_go_with_edge_and_blade_and_are_followed_to_their_limit() {
    let limits = WearLimits { edge_radius_max: Some(um(2_000)), ..WearLimits::default() };
    let blade = Visit::new().blade(LineId::P);
    let mut visit = limited(limits);
    // Ten micrometres an hour, an hour apart.
    for value in [1_000, 1_010, 1_020, 1_030, 1_040] {
        visit = marked(visit, &blade, MarkKind::EdgeRadius, value).then();
    }
    visit.next.marks.clear();
    let shear = visit.machine.shear.clone();
    let turned =
        visit.clone_at(1).work(Work::Turned { blade: blade.clone(), edge: 2, pack: vec![] });
    let decision = visit.decide(LineId::P);
    let [mark] = decision.marks.as_slice() else { panic!("{:?}", decision.marks) };
    assert!((mark.rate_mm_per_h.unwrap() - 0.01).abs() < 1e-6, "{mark:?}");
    assert!((mark.hours_to_limit.unwrap().estimate_h - 96.0).abs() < 0.1, "{mark:?}");
    let mut all = gapwright::domain::decide::decide(
        &Machine::new(shear.clone(), vec![]),
        &Visit::new().settings,
    );
    all.lines = vec![decision];
    let brief = &tell_all(&all, &shear, Numbers::default())[0];
    let said = plain(&brief.marks[0]).replace('\u{a0}', " ");
    assert!(
        said.starts_with(
            "Edge radius of the lower primary blade 1.04 mm, at most 2.00 mm; it grows 10.0 µm/h, \
             about 96 h left"
        ),
        "{said}"
    );
    // A turned blade has a new radius.
    assert_eq!(turned.decide(LineId::P).marks, []);
}

#[test]
fn marks_are_entered_beside_the_gaps_kept_taken_back_and_signed() {
    let mut desk = Desk::open([1280.0, 800.0], Theme::Light);
    let dunlin = ShearId::new("dunlin").unwrap();
    desk.act(Command::ChooseMachine(dunlin.clone()));
    desk.act(Command::Go(Screen::Measure));
    desk.act(Command::ChooseStation("P2".parse().unwrap()));
    desk.act(Command::PositionReached);
    desk.tap("More…");
    desk.tap("Wear marks…");
    desk.names_are_unique();
    desk.window.snapshot("measure-marks");
    let less = "less, lower primary blade thickness";
    desk.tap("more, lower primary blade edge radius");
    desk.tap("more, lower primary blade edge radius");
    desk.tap(less);
    desk.tap(less);
    let marks = |desk: &Desk| desk.window.state().bench().visit().unwrap().session.marks.clone();
    let depth = desk
        .machine("dunlin")
        .0
        .shear
        .blades
        .iter()
        .find(|it| it.id.0 == "lower-primary")
        .unwrap()
        .depth;
    let mark = |kind, value| Mark { blade: BladeId("lower-primary".into()), kind, value };
    let both = [mark(MarkKind::EdgeRadius, um(200)), mark(MarkKind::Thickness, depth - um(100))];
    assert_eq!(marks(&desk), both);
    // What is on the screen is on the disk, and a step back takes one tap back.
    let drafts = |desk: &Desk| store::open(desk.window.state().root()).unwrap().drafts;
    assert_eq!(drafts(&desk).iter().find(|it| it.shear == dunlin).unwrap().marks, both);
    desk.act(Command::Undo);
    assert_eq!(marks(&desk)[1], mark(MarkKind::Thickness, depth));
    desk.window.key_press(Key::Escape);
    desk.window.run();
    let last = desk.machine("dunlin").0.history.last().unwrap().meter_after();
    desk.act(Command::TypeMeter((last + Hours::from_whole(1)).h().to_string()));
    desk.act(Command::TypeInitials("MR".into()));
    desk.act(Command::SignOff);
    let signed = desk.on_disk().machine(&dunlin).unwrap().history.last().unwrap().clone();
    let depth = mark(MarkKind::Thickness, depth);
    assert_eq!(signed.marks, [mark(MarkKind::EdgeRadius, um(200)), depth]);
}
