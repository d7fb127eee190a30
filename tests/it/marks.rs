//! Wear marks: entered beside the gaps, kept with the visit, judged and followed like a gap.

use crate::{
    cli,
    desk::{self, Desk},
    visit::Visit,
};
use chrono::TimeDelta;
use egui::{Key, Theme};
use egui_kittest::kittest::Queryable as _;
use gapwright::{
    brief::{Numbers, caution::WELDING, decision::tell_all, marks, plain},
    domain::{
        decide::{Action, Job, LineDecision, MarkVerdict, Reason},
        log::{FindingKind, Mark, MarkFault, MarkKind, WeldPart, Work},
        machine::{BladeId, LineId, ShearId, WearLimits},
        quantity::{Hours, Length, LengthUnit},
        yard::{Machine, Yard},
    },
    sample, store,
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

/// A tenth of a millimetre an hour, an hour apart: five marks that lie on one line.
fn growing(limit: i64) -> (Visit, BladeId) {
    let limits = WearLimits { edge_radius_max: Some(um(limit)), ..WearLimits::default() };
    let blade = Visit::new().blade(LineId::P);
    let mut visit = limited(limits);
    for value in [1_000, 1_100, 1_200, 1_300, 1_400] {
        visit = marked(visit, &blade, MarkKind::EdgeRadius, value).then();
    }
    visit.next.marks.clear();
    (visit, blade)
}

#[test]
fn marks_go_with_edge_and_blade_and_are_followed_to_their_limit() {
    let (visit, blade) = growing(3_000);
    let shear = visit.machine.shear.clone();
    let turned = visit.clone_at(1).work(Work::Turned { blade, edge: 2, pack: vec![] });
    let decision = visit.decide(LineId::P);
    let [mark] = decision.marks.as_slice() else { panic!("{:?}", decision.marks) };
    assert!((mark.trend.rate_mm_per_h().unwrap() - 0.1).abs() < 0.01, "{mark:?}");
    let hours = mark.hours.unwrap();
    assert!((hours.estimate_h.unwrap() - 16.0).abs() < 1.0, "{hours:?}");
    let mut all = gapwright::domain::decide::decide(
        &Machine::new(shear.clone(), vec![]),
        &Visit::new().settings,
    );
    all.lines = vec![decision];
    let brief = &tell_all(&all, &shear, Numbers::default())[0];
    let said = plain(&brief.marks[0]).replace('\u{a0}', " ");
    let start = "Edge radius of the lower primary blade 1.40 mm, at most 3.00 mm; it grows ";
    assert!(said.starts_with(start) && said.contains(", about 16 h left ("), "{said}");
    // A turned blade has a new radius.
    assert_eq!(turned.decide(LineId::P).marks, []);
}

/// Exact values on one line gave a forecast without any uncertainty. A mark is read to a tenth of a
/// millimetre, and lines through everything that five such readings can mean differ by that much.
#[test]
fn marks_on_one_line_still_leave_their_forecast_open() {
    let (visit, _) = growing(3_000);
    let decision = visit.decide(LineId::P);
    let hours = decision.marks[0].hours.unwrap();
    let (low, high) = (hours.low_h.unwrap(), hours.high_h.unwrap());
    // From (0 h, 1.05 mm) to (4 h, 1.35 mm) and from (0 h, 0.95 mm) to (4 h, 1.45 mm).
    assert!(low <= 4.0 * 1.55 / 0.5 + 1e-9 && 4.0 * 1.65 / 0.3 - 1e-9 <= high, "{hours:?}");
}

/// A mark that may be over its limit by the next look, 8 h on, is told and calls for nothing yet.
#[test]
fn a_mark_that_nears_its_limit_is_soon_there() {
    for (limit, verdict) in [
        (1_350, MarkVerdict::Beyond),
        (1_400, MarkVerdict::Soon),
        (2_000, MarkVerdict::Soon),
        (3_000, MarkVerdict::Inside),
    ] {
        let decision = growing(limit).0.decide(LineId::P);
        assert_eq!(decision.marks[0].verdict, Some(verdict), "limit {limit}");
        let soon = decision.reasons.iter().any(|it| matches!(it, Reason::WearSoon { .. }));
        assert_eq!(soon, verdict == MarkVerdict::Soon, "limit {limit}");
        let action = if verdict == MarkVerdict::Beyond { Action::Rotate } else { Action::Leave };
        assert_eq!(decision.action, action, "limit {limit}");
    }
}

/// Any weld anywhere used to start every tip's wear anew.
#[test]
fn only_a_weld_at_that_tip_makes_its_wear_new() {
    let tip = Visit::new().machine.shear.line(LineId::T).unwrap().moving.clone();
    let other = Visit::new().blade(LineId::P);
    let worn = || {
        let visit = marked(Visit::new(), &tip, MarkKind::TipWear, 4_000).then();
        marked(visit, &other, MarkKind::TipWear, 4_000).then()
    };
    let left = |part| {
        let mut visit = worn().work(weld(part));
        visit.next.marks.clear();
        let visit = visit.then();
        let marks = |blade| visit.machine.history.marks_of(blade, MarkKind::TipWear).len();
        (marks(&tip), marks(&other))
    };
    assert_eq!(left(WeldPart::Tip(tip.clone())), (0, 1));
    assert_eq!(left(WeldPart::Tip(other.clone())), (1, 0));
    for elsewhere in [WeldPart::UpperJaw, WeldPart::LowerJaw, WeldPart::Elsewhere] {
        assert_eq!(left(elsewhere.clone()), (1, 1), "{elsewhere:?}");
    }
}

fn weld(part: WeldPart) -> Work {
    Work::Welded {
        part,
        place: "piercing tip, upper corner".to_owned(),
        consumable: "basic electrode".to_owned(),
        cooled_slowly: true,
        template_checked: true,
    }
}

#[test]
fn a_mark_is_typed_in_either_unit_and_what_cannot_be_is_named() {
    let depth = um(40_000);
    let read = |text, unit| Mark::read(text, unit, depth);
    let (mm, inch) = (LengthUnit::Millimetre, LengthUnit::Inch);
    assert_eq!(read("1.4", mm), Ok(um(1_400)));
    assert_eq!(read("1,4", mm), Ok(um(1_400)));
    assert_eq!(read(".055", inch), Ok(um(1_397)));
    assert_eq!(read("0.055 in", mm), Ok(um(1_397)));
    assert_eq!(read("1.4 mm", inch), Ok(um(1_400)));
    // A new blade may be a millimetre thicker than its file says.
    assert_eq!(read("41", mm), Ok(um(41_000)));
    let too_much = MarkFault::TooMuch { typed: um(41_001), depth };
    assert_eq!(read("41.001", mm), Err(too_much.clone()));
    assert_eq!(read("0", mm), Err(MarkFault::Nothing));
    let said = |fault| marks::fault(&fault, Numbers::default()).replace('\u{a0}', " ");
    assert_eq!(
        said(too_much),
        "41.001 mm is more than the blade is thick when new, 40.00 mm. Check the unit and type it \
         again."
    );
    assert_eq!(
        said(read("worn", mm).unwrap_err()),
        "“worn” is not a number. Type what you measured, such as 1.4."
    );
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
    // Typed in inches although the screen shows millimetres.
    desk.window.get_by_label("lower primary blade edge radius, typed").focus();
    desk.window.run();
    desk.window.get_by_label("lower primary blade edge radius, typed").type_text(".0625 in");
    desk.window.run();
    desk.window.key_press(Key::Enter);
    desk.window.run();
    assert_eq!(marks(&desk)[1], mark(MarkKind::EdgeRadius, Length::from_nm(1_587_500)));
    desk.act(Command::Undo);
    assert_eq!(marks(&desk), both);
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

/// The weld is a visit of its own, so the readings of the open one are not cut short.
#[test]
fn a_weld_is_recorded_beside_the_machine_with_its_cautions() {
    let mut desk = Desk::open([1280.0, 800.0], Theme::Light);
    let dunlin = ShearId::new("dunlin").unwrap();
    desk.act(Command::ChooseMachine(dunlin.clone()));
    desk.act(Command::Go(Screen::Measure));
    desk.act(Command::ChooseStation("T1".parse().unwrap()));
    desk.act(Command::PositionReached);
    desk.act(Command::ToggleFinding(FindingKind::ChippedEdge));
    desk.tap("More…");
    desk.tap("Weld…");
    for caution in WELDING {
        desk.window.get_by_label(&plain(caution));
    }
    let typed = |desk: &mut Desk, field: &str, text: &str| {
        desk.window.get_by_label(field).focus();
        desk.window.run();
        desk.window.get_by_label(field).type_text(text);
        desk.window.run();
    };
    typed(&mut desk, "place of the weld", "corner 2");
    typed(&mut desk, "consumable", "E7018");
    desk.tap("Cooled slowly");
    desk.names_are_unique();
    desk.window.snapshot("measure-weld");
    desk.tap("Record the weld");
    desk.tap("Yes, done");
    let tip = desk.machine("dunlin").0.shear.line(LineId::T).unwrap().moving.clone();
    let signed = desk.on_disk().machine(&dunlin).unwrap().history.last().unwrap().clone();
    assert_eq!(
        signed.work,
        [Work::Welded {
            part: WeldPart::Tip(tip),
            place: "corner 2".to_owned(),
            consumable: "E7018".to_owned(),
            cooled_slowly: true,
            template_checked: false,
        }]
    );
    let visit = desk.window.state().bench().visit().unwrap();
    assert_eq!(visit.session.findings.len(), 1, "the open visit stays open");
    assert!(!visit.signing);
}

/// The sample yard, with the edge radius of dunlin's lower primary blade taken on its last eight
/// visits and the thickness on the last two.
fn worn_yard() -> Yard {
    let end = desk::now() - TimeDelta::minutes(30);
    let mut yard = sample::yard(1, sample::SHEARS, sample::SESSIONS, end);
    let dunlin = yard.machines.iter_mut().find(|it| it.shear.id.as_str() == "dunlin").unwrap();
    let (mut shear, mut sessions) = (dunlin.shear.clone(), dunlin.sessions.clone());
    let blade = shear.blades.iter_mut().find(|it| it.id.0 == "lower-primary").unwrap();
    blade.wear = WearLimits {
        edge_radius_max: Some(um(2_500)),
        thickness_min: Some(blade.depth - um(4_000)),
        tip_wear_max: None,
    };
    let (blade, depth) = (blade.id.clone(), blade.depth);
    let mark = |kind, value| Mark { blade: blade.clone(), kind, value };
    sessions.sort_by_key(|it| it.taken);
    let measured = sessions.iter_mut().filter(|it| !it.readings.is_empty());
    for (session, step) in measured.rev().take(8).zip(0_i64..) {
        session.marks.push(mark(MarkKind::EdgeRadius, um(1_700 - 100 * step)));
        if step < 2 {
            session.marks.push(mark(MarkKind::Thickness, depth - um(1_000)));
        }
    }
    *dunlin = Machine::new(shear, sessions);
    yard
}

#[test]
fn the_trend_of_a_mark_is_printed_like_that_of_a_gap() {
    let home = tempfile::tempdir().unwrap();
    let root = home.path().join("yard");
    store::create_yard(&root, &worn_yard()).unwrap();
    let ask = |more: &[&str]| {
        let root = root.to_str().unwrap();
        let told = cli::told(home.path(), &[&["trend", root, "--shear", "dunlin"], more].concat());
        assert_eq!((told.code, told.err.as_str()), (0, ""));
        told
    };
    let value = cli::json(&ask(&["--marks", "--json"]));
    let [radius, thickness] = &value.as_array().unwrap()[..] else { panic!("{value}") };
    assert_eq!(
        (&radius["blade"], &radius["kind"]),
        (&"lower-primary".into(), &"edge_radius".into())
    );
    assert_eq!((&radius["observations"], &radius["newest_mm"]), (&8.into(), &1.7.into()));
    let of = |value: &serde_json::Value, key: &str| value[key].as_f64().unwrap();
    let (low, rate, high) = (
        of(radius, "rate_low_mm_per_h"),
        of(radius, "rate_mm_per_h"),
        of(radius, "rate_high_mm_per_h"),
    );
    assert!(0.0 < low && low < rate && rate < high, "{radius}");
    let to = &radius["hours_to"][0];
    assert_eq!((&to["limit"], &to["limit_mm"]), (&"wear_max".into(), &2.5.into()));
    assert!(
        of(to, "low_h") < of(to, "estimate_h") && of(to, "estimate_h") < of(to, "high_h"),
        "{to}"
    );
    // Two marks tell no growth, and say so.
    assert_eq!(thickness["rate_mm_per_h"], serde_json::Value::Null);
    assert!(thickness["why_not"].as_str().unwrap().contains("too few"), "{thickness}");
    // A person reads them under the stations; other programs read stations alone where they did.
    let text = ask(&[]).out.replace('\u{a0}', " ");
    let start = "Lower primary blade, edge radius: ";
    let line = text.lines().find(|it| it.starts_with(start)).unwrap();
    assert!(line.ends_with(" from 8 marks, each read to 0.10 mm."), "{line}");
    assert!(text.contains("    at most 2.50: "), "{text}");
    let stations = cli::json(&ask(&["--json"]));
    assert!(stations.as_array().unwrap().iter().all(|it| it["station"].is_string()));
}

#[test]
fn a_mark_stands_under_the_stations_and_is_drawn_when_tapped() {
    let mut desk = Desk::with(&worn_yard(), [1280.0, 800.0], Theme::Light);
    desk.act(Command::ChooseMachine(ShearId::new("dunlin").unwrap()));
    desk.act(Command::Go(Screen::Trend));
    desk.act(Command::ChooseLine(LineId::P));
    let row = "Lower primary blade, edge radius growth";
    desk.tap(row);
    desk.names_are_unique();
    desk.window.snapshot("trend-mark");
    desk.window.get_by_label_contains("Edge radius of the lower primary blade 1.70");
    // Another line has other blades; coming back, the gaps are in front.
    desk.tap("Back to the gaps");
    assert!(desk.window.query_by_label("Back to the gaps").is_none());
    desk.tap(row);
    desk.act(Command::ChooseLine(LineId::S));
    assert!(desk.window.query_by_label("Back to the gaps").is_none());
}
