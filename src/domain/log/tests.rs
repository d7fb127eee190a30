//! Built logs, and what they fold to.

use crate::domain::{
    gauge::Bracket,
    log::{
        Counters, EffectOnLine, Finding, FindingKind, Reading, Remark, Session, SessionId, Work,
        fold,
    },
    machine::{
        Band, Blade, BladeId, Chain, Geometry, Limits, Line, LineId, OwnIntervals,
        PartTemperatures, Shear, ShearId, Side, StationId, Toward, WearLimits,
    },
    quantity::{Hours, Length, Temperature, Torque},
};
use chrono::{DateTime, TimeDelta};

/// A shear with two blades of four edges each, and no lines.
fn shear() -> Shear {
    let um = Length::from_um;
    let blade = |id: &str| Blade {
        id: BladeId(id.into()),
        name: id.into(),
        side: Side::Cutting,
        near: um(100_000),
        far: um(500_000),
        depth: um(60_000),
        edges: 4,
        hours_per_edge: Hours::from_whole(400),
        bolts: None,
        pack: None,
        face_angle_deg: 0.0,
        wear: WearLimits::default(),
    };
    Shear {
        id: ShearId::new("dunlin").unwrap(),
        name: "Dunlin".into(),
        carrier: String::new(),
        geometry: Geometry {
            reach: um(1),
            mouth: um(1),
            cheek: um(1),
            upper_jaw: um(1),
            pivot: um(1),
            pads: um(1),
        },
        positions: vec![],
        lines: vec![],
        blades: vec![blade("lower"), blade("upper")],
        joint_step_max: um(300),
        intervals: OwnIntervals::default(),
        thermal: None,
    }
}

/// The two blades facing each other.
fn line_of(id: LineId) -> Line {
    let band = Band::from_um(100, 900);
    let zero = Length::ZERO;
    Line {
        id,
        place: "blades".into(),
        moving: BladeId("upper".into()),
        fixed: lower(),
        toward: Toward::Cutting,
        stations: vec![],
        position: 0,
        limits: Limits::new(band, band, band, zero, zero, "test".into()).unwrap(),
        chain: Chain::default(),
        working: PartTemperatures::even(Temperature::REFERENCE),
    }
}

fn session(hour: i64, meter: i32, work: Vec<Work>) -> Session {
    let taken = DateTime::UNIX_EPOCH + TimeDelta::hours(hour);
    Session {
        id: SessionId::new(taken, 1),
        shear: ShearId::new("dunlin").unwrap(),
        taken,
        meter: Hours::from_whole(meter),
        by: "MR".into(),
        air_temp: None,
        jaw_temp: None,
        readings: vec![],
        findings: vec![],
        work,
        counters: Counters::default(),
        marks: vec![],
        remarks: vec![],
        note: String::new(),
        amends: None,
    }
}

fn lower() -> BladeId {
    BladeId("lower".into())
}

fn um(um: i64) -> Length {
    Length::from_um(um)
}

#[test]
fn a_blade_is_what_its_log_made_of_it() {
    let shims = |put_in: &[i64], take_out: &[i64]| Work::Shims {
        blade: lower(),
        bolts: None,
        put_in: put_in.iter().map(|it| um(*it)).collect(),
        take_out: take_out.iter().map(|it| um(*it)).collect(),
    };
    let torque = Torque::from_newton_metres(640.0).unwrap();
    let sessions = [
        session(0, 100, vec![]),
        session(8, 108, vec![Work::Turned { blade: lower(), edge: 2, pack: vec![um(250)] }]),
        session(16, 116, vec![shims(&[250, 500], &[])]),
        session(24, 124, vec![shims(&[], &[250]), Work::Tightened { blade: lower(), torque }]),
        session(32, 132, vec![]),
    ];
    let history = fold(&shear(), &sessions);
    let state = &history.blades[&lower()];
    assert_eq!((state.edge, state.fresh_edges(&shear().blades[0])), (2, vec![3, 4]));
    assert_eq!(state.pack, [um(500), um(250)], "thick next to the seat, one 0.25 came out");
    assert_eq!(state.base_pack.as_deref(), Some([um(250)].as_slice()));
    assert_eq!(state.tightened, Some((torque, Hours::from_whole(124))));
    assert_eq!(history.hours_on_edge(&lower()), Some((Hours::from_whole(24), false)));
    let upper = BladeId("upper".into());
    assert_eq!(history.hours_on_edge(&upper), Some((Hours::from_whole(32), true)));
}

#[test]
fn blades_that_change_places_take_their_edges_along_and_leave_the_packs() {
    let (lower, upper) = (lower(), BladeId("upper".into()));
    let turned = Work::Turned { blade: lower.clone(), edge: 2, pack: vec![um(250)] };
    let swapped = Work::Swapped { blade: lower.clone(), with: upper.clone() };
    let sessions = [
        session(0, 100, vec![]),
        session(10, 110, vec![turned]),
        session(30, 130, vec![swapped.clone()]),
        session(37, 137, vec![]),
    ];
    let history = fold(&shear(), &sessions);
    let whole = Hours::from_whole;
    // The upper blade came down with 30 hours on an edge that was there before the log begins.
    assert_eq!(history.blades[&lower].edge, 1);
    assert_eq!(history.hours_on_edge(&lower), Some((whole(37), true)));
    assert_eq!(history.blades[&lower].pack, [um(250)], "the pack stays at its seat");
    assert_eq!(history.blades[&lower].base_pack, None, "nobody knows if it suits a fresh edge");
    // The lower one went up with edge 2 in use, 20 hours on it, and edge 1 used.
    assert_eq!(history.blades[&upper].fresh_edges(&shear().blades[0]), [3, 4]);
    assert_eq!(history.hours_on_edge(&upper), Some((whole(27), false)));
    let places: Vec<_> = history
        .stints_of(&upper)
        .into_iter()
        .map(|it| (it.edge, it.place, it.to - it.from))
        .collect();
    let stint = |edge, place: &BladeId, hours| (edge, place.clone(), whole(hours));
    assert_eq!(places, [stint(1, &lower, 10), stint(2, &lower, 20), stint(2, &upper, 7)]);
    // Back again, and everything is where it was, with its hours.
    let back =
        [&sessions[..], &[session(40, 140, vec![swapped]), session(45, 145, vec![])]].concat();
    let history = fold(&shear(), &back);
    assert_eq!(history.hours_on_edge(&lower), Some((whole(20 + 10 + 5), false)));
    assert_eq!(history.hours_on_edge(&upper), Some((whole(30 + 10 + 5), true)));
}

#[test]
fn service_hours_run_on_over_a_change_of_meter() {
    let change = Work::MeterChanged { old: Hours::from_whole(4_010), new: Hours::from_whole(12) };
    let sessions = [
        session(0, 4_000, vec![]),
        session(8, 4_008, vec![change]),
        session(16, 18, vec![]),
        session(24, 26, vec![]),
    ];
    let history = fold(&shear(), &sessions);
    let service: Vec<f64> = history.service.iter().map(|hours| hours.h()).collect();
    assert_eq!(service, [4_000.0, 4_008.0, 4_016.0, 4_024.0]);
    assert!(history.backwards.is_empty());
    let slip = fold(&shear(), &[session(0, 4_000, vec![]), session(8, 3_990, vec![])]);
    assert_eq!(slip.backwards.len(), 1);
    assert_eq!(slip.service_now(), Hours::from_whole(4_000), "service never runs backwards");
}

#[test]
fn an_old_meter_that_reads_less_than_before_costs_no_hours_and_is_named() {
    let change = Work::MeterChanged { old: Hours::from_whole(3_900), new: Hours::ZERO };
    let sessions = [session(0, 4_000, vec![change]), session(8, 8, vec![])];
    let history = fold(&shear(), &sessions);
    assert_eq!(history.backwards, [sessions[0].id.clone()]);
    assert_eq!(history.service_now(), Hours::from_whole(4_008), "eight hours were worked");
}

#[test]
fn two_sessions_with_one_name_give_one_history() {
    let (one, two) = (session(0, 100, vec![]), session(0, 101, vec![]));
    let both = fold(&shear(), &[one.clone(), two.clone()]);
    assert_eq!(fold(&shear(), &[two, one]), both);
    assert_eq!(both.sessions.len(), 1);
}

#[test]
fn work_at_the_minute_of_a_reading_is_told_apart_by_name() {
    let line = LineId::S;
    let mut shear = shear();
    shear.lines.push(line_of(line));
    let mut look = session(8, 104, vec![]);
    look.readings.push(Reading {
        station: "S1".parse().unwrap(),
        bracket: Bracket::new(um(400), Some(um(450))).unwrap(),
        blade_temp: None,
        leaves: None,
    });
    let shim = Work::Shims { blade: lower(), bolts: None, put_in: vec![um(100)], take_out: vec![] };
    let mut work = session(8, 104, vec![shim]);
    work.id = SessionId::new(work.taken, 2);
    let station = "S1".parse().unwrap();
    assert!(fold(&shear, &[look.clone(), work.clone()]).stale(station));
    work.id = SessionId::new(work.taken, 0);
    assert!(!fold(&shear, &[look, work]).stale(station));
}

#[test]
fn a_correction_stands_in_for_what_it_corrects() {
    let first = session(0, 100, vec![]);
    let mut second = session(0, 101, vec![]);
    second.id = SessionId::new(first.taken + TimeDelta::hours(1), 2);
    second.amends = Some(first.id.clone());
    let mut third = session(0, 102, vec![]);
    third.id = SessionId::new(first.taken + TimeDelta::hours(2), 3);
    third.amends = Some(second.id.clone());
    let history = fold(&shear(), &[third.clone(), first, second]);
    assert_eq!(history.sessions, [third]);
}

#[test]
fn a_jam_is_open_until_somebody_looks() {
    let kind = FindingKind::Jam;
    let mut jam = session(8, 104, vec![]);
    jam.findings.push(Finding { kind, line: None, station: None, size: None, note: String::new() });
    let mut look = session(9, 104, vec![]);
    look.readings.push(Reading {
        station: "S1".parse().unwrap(),
        bracket: Bracket::new(um(400), Some(um(450))).unwrap(),
        blade_temp: None,
        leaves: None,
    });
    assert!(!fold(&shear(), &[look, jam.clone()]).due_at_once());
    assert!(fold(&shear(), &[session(0, 100, vec![]), jam]).due_at_once());
}

mod laws {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Copies of a yard merge by copying files: in whatever order sessions arrive, and
        /// however often, the state is the same.
        #[test]
        fn the_order_of_arrival_does_not_matter(
            steps in proptest::collection::vec((0_i32..12, 0_u8..5, proptest::option::of(0_usize..8)), 1..8),
            shuffle in any::<u64>(),
        ) {
            let mut sessions: Vec<Session> = Vec::new();
            for (place, (hours, what, amends)) in steps.into_iter().enumerate() {
                let work = match what {
                    0 => vec![Work::Turned { blade: lower(), edge: 2, pack: vec![] }],
                    1 => vec![Work::Shims {
                        blade: lower(), bolts: None, put_in: vec![um(100)], take_out: vec![],
                    }],
                    2 => vec![Work::MeterChanged {
                        old: Hours::from_whole(900), new: Hours::ZERO,
                    }],
                    _ => vec![],
                };
                let place_h = i64::try_from(place).unwrap();
                let mut session = session(place_h * 8, 100 + hours, work);
                session.amends =
                    amends.and_then(|it| sessions.get(it)).map(|it: &Session| it.id.clone());
                sessions.push(session);
            }
            let whole = fold(&shear(), &sessions);
            prop_assert!(whole.service.is_sorted(), "service hours never run backwards");
            let mut other = sessions.clone();
            let middle = usize::try_from(shuffle % 8).unwrap() % other.len();
            other.rotate_left(middle);
            other.reverse();
            other.extend(sessions.first().cloned());
            prop_assert_eq!(fold(&shear(), &other), whole);
        }
    }
}

#[test]
fn a_reading_is_set_aside_by_a_later_remark_and_counts_again_by_another() {
    let p1: StationId = "P1".parse().unwrap();
    let bracket = Bracket::new(um(400), Some(um(450))).unwrap();
    let measured = |hour| Session {
        readings: vec![Reading { station: p1, bracket, blade_temp: None, leaves: None }],
        ..session(hour, 100 + i32::try_from(hour).unwrap(), vec![])
    };
    let about = measured(8).id;
    let say = |hour, remark| Session { remarks: vec![remark], ..session(hour, 120, vec![]) };
    let reason = "wrong leaf read".to_owned();
    let aside = Remark::SetAside { session: about.clone(), station: p1, reason: reason.clone() };
    let again = Remark::CountAgain { session: about, station: p1 };
    let mut log = vec![measured(0), measured(8), measured(16), say(30, aside.clone())];
    let said = |log: &[Session]| -> Vec<Option<String>> {
        fold(&shear(), log).readings[&p1].iter().map(|it| it.set_aside.clone()).collect()
    };
    assert_eq!(said(&log), [None, Some(reason), None], "and all three are still there");
    log.push(say(31, again));
    assert_eq!(said(&log), [None, None, None]);
    log.push(say(32, aside));
    log.reverse();
    assert!(said(&log)[1].is_some(), "the newest remark counts, in whatever order files come");
}

#[test]
fn a_line_begins_anew_between_two_visits_when_somebody_says_so() {
    let behind = session(16, 116, vec![]).id;
    let moved = Remark::Moved { session: behind.clone(), line: LineId::P, reason: "?".into() };
    let not = Remark::NotMoved { session: behind, line: LineId::P };
    let say = |hour, remark| Session { remarks: vec![remark], ..session(hour, 124, vec![]) };
    let mut log = vec![
        session(0, 100, vec![]),
        session(8, 108, vec![]),
        session(16, 116, vec![]),
        say(24, moved),
    ];
    let history = fold(&shear(), &log);
    let [cut] = history.cuts_on(LineId::P) else { panic!("one cut") };
    assert_eq!(cut.effect, EffectOnLine::Moved("?".into()));
    assert_eq!((cut.at.h(), &cut.session), (112.0, &log[1].id), "half way, after the visit before");
    assert_eq!(history.after(&cut.session).map(|it| &it.id), Some(&log[2].id));
    log.push(say(25, not));
    assert_eq!(fold(&shear(), &log).cuts_on(LineId::P), []);
}

#[test]
fn a_counter_that_stands_lower_than_before_goes_on_from_where_it_stood() {
    let p1: StationId = "P1".parse().unwrap();
    let bracket = Bracket::new(um(400), Some(um(450))).unwrap();
    let visits = [(0, Some(900)), (8, Some(940)), (16, None), (24, Some(15)), (32, Some(60))];
    let log: Vec<Session> = visits
        .into_iter()
        .map(|(hour, tonnes)| Session {
            counters: Counters { tonnes, cuts: None },
            readings: vec![Reading { station: p1, bracket, blade_temp: None, leaves: None }],
            ..session(hour, 100, vec![])
        })
        .collect();
    let history = fold(&shear(), &log);
    let tonnes: Vec<Option<u64>> =
        history.readings[&p1].iter().map(|it| it.counters.tonnes).collect();
    assert_eq!(tonnes, [Some(900), Some(940), None, Some(955), Some(1_000)]);
}
