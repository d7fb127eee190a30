//! From facts in the log to an action with its reasons: each of the five, and what stands between.

use crate::visit::{Visit, um};
use gapwright::brief::{Numbers, blade, decision::tell_line};
use gapwright::domain::{
    decide::{Action, Due, Job, LastLook, Reason},
    log::{BoltSpan, FindingKind, Work},
    machine::LineId,
    quantity::Length,
    shims::Shortfall,
    verdict::Way,
};

/// Gaps along S that no one pack brings into range: 0.40 apart.
const TAPERED: [(i64, i64); 4] = [(900, 950), (1_000, 1_050), (1_150, 1_200), (1_300, 1_350)];

#[test]
fn a_tapered_blade_is_shimmed_at_its_bolts_where_the_machine_file_allows_steps() {
    let decision = Visit::new().line("S", &TAPERED).decide(LineId::S);
    assert!(!matches!(decision.job, Job::StepPack { .. }), "full-length packs only");
    let mut visit = Visit::new().line("S", &TAPERED);
    let id = visit.blade(LineId::S);
    let blade = visit.machine.shear.blades.iter_mut().find(|it| it.id == id).unwrap();
    blade.pack.as_mut().unwrap().step = Some(um(150));
    let shear = visit.machine.shear.clone();
    let decision = visit.clone_at(8).decide(LineId::S);
    let mut visit = visit.then();
    let Job::StepPack { parts, .. } = &decision.job else { panic!("{:?}", decision.job) };
    assert!(2 <= parts.len(), "{parts:?}");
    let set = shear.line(LineId::S).unwrap().limits.set();
    let after: Vec<Length> = decision.stations.iter().map(|it| it.after.unwrap()).collect();
    assert!(after.iter().all(|gap| set.holds(*gap)), "{after:?}");
    let told = tell_line(&decision, &shear, Numbers::default());
    assert!(told.headline.contains("at bolt\u{a0}1"), "{}", told.headline);
    let why = told.reasons.iter().any(|it| it.text.contains("No one pack"));
    assert!(why, "{:?}", told.reasons);
    let packs =
        blade::packs(&shear, &visit.machine.history, &id, &decision.job, Numbers::default());
    assert!(2 <= packs.len() && packs.iter().all(|it| it.title.contains("at bolt")), "{packs:?}");
    // Done and written down, each bolt has the pack of the recipe.
    for work in decision.as_work(&shear) {
        visit = visit.work(work);
    }
    let visit = visit.then();
    let state = &visit.machine.history.blades[&id];
    let thick = |bolt| -> Length { state.pack_at(bolt).into_iter().sum() };
    let bolts = u8::try_from(shear.blade(&id).unwrap().bolts.as_ref().unwrap().from_pivot.len());
    let bolts = bolts.unwrap();
    let steps = (2..=bolts).map(|bolt| thick(bolt) - thick(bolt - 1));
    assert!(steps.clone().all(|step| step.abs() <= um(150)), "{state:?}");
    assert!(steps.clone().any(|step| step != um(0)), "{state:?}");
    assert_eq!(state.pack_total(), (1..=bolts).map(thick).max().unwrap());
    assert_eq!(state.pack_least(bolts), (1..=bolts).map(thick).min().unwrap());
    // A fresh edge goes back to base, so every shim at a bolt comes out.
    let turned = visit.work(Work::Turned { blade: id.clone(), edge: 2, pack: vec![] }).then();
    assert_eq!(turned.machine.history.blades[&id].every_shim(), []);
}

/// They used to be overlooked, and the log was said to know of no shim.
#[test]
fn shims_at_the_bolts_come_out_of_a_line_that_is_too_tight() {
    let mut visit = Visit::first();
    let id = visit.blade(LineId::S);
    let blade = visit.machine.shear.blades.iter_mut().find(|it| it.id == id).unwrap();
    blade.pack.as_mut().unwrap().step = Some(um(150));
    for bolt in 1..=4 {
        let bolts = Some(BoltSpan { first: bolt, last: bolt });
        let (blade, put_in) = (id.clone(), vec![um(300)]);
        visit = visit.work(Work::Shims { blade, bolts, put_in, take_out: vec![] });
    }
    let decision = visit.then().line("S", &[(120, 170); 4]).decide(LineId::S);
    let Job::StepPack { parts, .. } = &decision.job else { panic!("{:?}", decision.job) };
    assert_eq!(parts.len(), 4);
    assert!(parts.iter().all(|it| it.take_out == [um(300)]), "{parts:?}");
    assert!(decision.stations.iter().all(|it| um(300) <= it.after.unwrap()));
}

#[test]
fn a_blue_streak_is_evidence_that_the_gap_there_is_tight_hot() {
    let seen = Visit::new().finding(FindingKind::BlueStreak, Some("G2"));
    let decision = seen.decide(LineId::G);
    let streak = |reason: &Reason| match reason {
        Reason::Streak { station: Some(2), heat, .. } => *heat,
        _ => None,
    };
    let heat = decision.reasons.iter().find_map(streak).unwrap();
    assert_eq!((heat.band.low_c, heat.band.high_c), (285.0, Some(340.0)));
    let (least, most) = heat.closed_mm;
    assert!(0.05 < least && least < most && most < 1.0, "{heat:?}");
    let bare = Visit::new().decide(LineId::G);
    assert!(!bare.reasons.iter().any(|it| matches!(it, Reason::Streak { .. })));
    let other = Visit::new().finding(FindingKind::BlueStreak, Some("G2")).decide(LineId::S);
    assert!(!other.reasons.iter().any(|it| matches!(it, Reason::Streak { .. })), "its own line");
}

#[test]
fn cracks_and_chips_outlive_shims_and_readings() {
    let visit = Visit::new()
        .finding(FindingKind::SurfaceCracks, Some("S2"))
        .finding(FindingKind::ChippedEdge, Some("S3"))
        .finding(FindingKind::BlueStreak, Some("S3"))
        .then()
        .shims(LineId::S, &[100], &[])
        .then()
        .line("S", &[(400, 450); 4])
        .then();
    assert_eq!(visit.open(LineId::S).len(), 3, "moving the gap mends no blade");
    let blade = visit.blade(LineId::S);
    let edge = visit.machine.history.blades[&blade].edge + 1;
    let visit = visit.work(Work::Turned { blade: blade.clone(), edge, pack: vec![] }).then();
    assert_eq!(visit.open(LineId::S), [FindingKind::SurfaceCracks], "turned, it is still cracked");
    let visit = visit.work(Work::Replaced { blade, pack: vec![] }).then();
    assert_eq!(visit.open(LineId::S), []);
}

#[test]
fn trouble_is_over_once_somebody_has_looked_at_that_line() {
    let mut visit = Visit::new()
        .finding(FindingKind::Jam, Some("S4"))
        .finding(FindingKind::LooseBolt, Some("P1"))
        .then();
    assert_eq!(visit.open(LineId::S), [FindingKind::Jam], "found during the look, not before it");
    let all = visit.next.readings.clone();
    visit.next.readings.retain(|reading| reading.station.line == LineId::J);
    let mut visit = visit.then();
    assert_eq!(visit.open(LineId::S), [FindingKind::Jam], "somebody looked elsewhere");
    visit.next.readings = all;
    visit.next.readings.retain(|reading| reading.station.line == LineId::S);
    let visit = visit.then();
    assert_eq!(visit.open(LineId::S), []);
    let blade = visit.blade(LineId::P);
    let torque = visit.machine.shear.blade(&blade).unwrap().bolts.clone().unwrap().torque.unwrap();
    let visit = visit.work(Work::Tightened { blade, torque }).then();
    assert_eq!(visit.open(LineId::P), [], "a loose bolt is over once it was tightened");
}

#[test]
fn gaps_in_their_limits_are_left_alone() {
    let decision = Visit::new().decide(LineId::S);
    assert_eq!((decision.action, decision.job), (Action::Leave, Job::Nothing));
    assert!(matches!(decision.reasons.as_slice(), [Reason::Within { .. }]));
}

#[test]
fn a_gap_over_the_working_limit_is_shimmed_into_the_set_range() {
    let wide = [(1_100, 1_150), (1_150, 1_200), (1_200, 1_250), (1_260, 1_300)];
    let decision = Visit::new().line("S", &wide).decide(LineId::S);
    assert_eq!(decision.action, Action::Shim);
    let Job::ChangePack { plan, .. } = &decision.job else { panic!("{:?}", decision.job) };
    assert!(!plan.put_in.is_empty());
    let set = Visit::new().machine.shear.line(LineId::S).unwrap().limits.set();
    for state in &decision.stations {
        assert!(set.holds(state.after.unwrap()), "{state:?}");
    }
}

#[test]
fn a_limit_inside_the_reading_is_acted_on_at_its_worse_end_and_said_so() {
    let decision = Visit::new().reading("S4", 1_200, 1_300).decide(LineId::S);
    let open = decision.reasons.iter().find_map(|reason| match reason {
        Reason::BeyondWorking { sure, way: Way::Wide, .. } => Some(*sure),
        _ => None,
    });
    assert_eq!(open, Some(false));
}

#[test]
fn a_chipped_edge_is_turned_away_and_its_pack_goes_back_to_base() {
    let visit = Visit::new();
    let blade = visit.blade(LineId::P);
    let base = vec![um(250)];
    let edge = visit.machine.history.blades[&blade].edge;
    let visit = visit
        .work(Work::Turned { blade: blade.clone(), edge: edge + 1, pack: base })
        .then()
        .line("P", &[(400, 450); 4])
        .work(Work::Shims {
            blade: blade.clone(),
            bolts: None,
            put_in: vec![um(100), um(50)],
            take_out: vec![],
        })
        .then()
        .finding(FindingKind::ChippedEdge, Some("P2"));
    let decision = visit.decide(LineId::P);
    assert_eq!(decision.action, Action::Rotate);
    let Job::Turn { pack, .. } = &decision.job else { panic!("{:?}", decision.job) };
    assert_eq!(pack.take_out, [um(100), um(50)]);
    assert_eq!((pack.pack.as_slice(), pack.base_known), ([um(250)].as_slice(), true));
    assert!(decision.stations.iter().all(|state| state.after.is_none()), "measure first");
}

#[test]
fn a_base_pack_that_was_too_tight_is_not_gone_back_to() {
    let visit = Visit::new();
    let blade = visit.blade(LineId::P);
    let edge = visit.machine.history.blades[&blade].edge;
    let min = visit.machine.shear.line(LineId::P).unwrap().limits.working().min;
    let under = min.nm() / 1_000 - 60;
    let decision = visit
        .work(Work::Turned { blade, edge: edge + 1, pack: vec![um(500)] })
        .then()
        .line("P", &[(under, under + 50); 4])
        .then()
        .line("P", &[(600, 650); 4])
        .finding(FindingKind::ChippedEdge, Some("P2"))
        .decide(LineId::P);
    let Job::Turn { pack, .. } = &decision.job else { panic!("{:?}", decision.job) };
    assert_eq!((pack.pack.as_slice(), pack.base_known), ([].as_slice(), false));
    assert_eq!(pack.take_out, [um(500)], "every shim comes out");
}

#[test]
fn with_no_fresh_edge_left_a_dull_blade_is_replaced() {
    let visit = Visit::new();
    let line = visit.machine.shear.line(LineId::P).unwrap().clone();
    let mut visit = visit;
    for blade in [line.fixed, line.moving] {
        for edge in [2, 3, 4, 1] {
            let work = Work::Turned { blade: blade.clone(), edge, pack: vec![] };
            visit = visit.work(work).then();
        }
    }
    let decision = visit.finding(FindingKind::ChippedEdge, Some("P1")).decide(LineId::P);
    assert_eq!(decision.action, Action::Replace);
    assert!(matches!(decision.job, Job::Fit { .. }));
    assert!(decision.reasons.iter().any(|it| matches!(it, Reason::NoFreshEdge { .. })));
}

#[test]
fn cracks_a_stop_limit_and_clashing_pads_stop_the_machine() {
    let cracked = Visit::new().finding(FindingKind::SurfaceCracks, Some("G1")).decide(LineId::G);
    assert_eq!(cracked.action, Action::Stop);
    assert!(matches!(cracked.job, Job::Fit { .. }));

    let tight = Visit::new().reading("G2", 100, 150).decide(LineId::G);
    assert_eq!(tight.action, Action::Stop);
    assert!(matches!(tight.reasons.first(), Some(Reason::BeyondStop { way: Way::Tight, .. })));

    let loose = Visit::new().reading("J1", 900, 950).decide(LineId::J);
    assert_eq!(loose.action, Action::Stop);
    assert!(loose.reasons.iter().any(|it| matches!(it, Reason::SidePlay { .. })));
}

#[test]
fn a_gap_moved_since_it_was_measured_is_measured_again_before_anything_else() {
    let visit = Visit::new();
    let blade = visit.blade(LineId::S);
    let decision = visit
        .line("S", &[(1_300, 1_350); 4])
        .work(Work::Shims { blade, bolts: None, put_in: vec![um(500)], take_out: vec![] })
        .decide(LineId::S);
    assert_eq!((decision.action, decision.job), (Action::Leave, Job::Measure));
    assert_eq!(decision.reasons.first(), Some(&Reason::Stale));
}

#[test]
fn work_at_the_pads_makes_every_recipe_behind_it_provisional() {
    let visit = Visit::new().reading("J1", 900, 950).line("S", &[(1_300, 1_350); 4]);
    assert!(visit.decide(LineId::S).provisional);
}

#[test]
fn an_empty_shelf_is_said_with_what_to_order() {
    let mut visit = Visit::new().line("S", &[(1_300, 1_350); 4]);
    visit.settings.shelf.clear();
    let decision = visit.decide(LineId::S);
    let Job::OrderShims { wanted, .. } = decision.job else { panic!("{:?}", decision.job) };
    assert!(um(700) < wanted && wanted < um(1_100), "{wanted:?}");
    let named = |reason: &Reason| {
        matches!(reason, Reason::CannotShim { why: Shortfall::ShelfCannot { .. }, .. })
    };
    assert!(decision.reasons.iter().any(named));
}

#[test]
fn a_jam_in_mid_shift_makes_the_machine_due_at_once() {
    let mut visit = Visit::new();
    let now = visit.next.taken;
    let look = visit.settings.intervals.look;
    assert!(matches!(LastLook::of(&visit.machine.history).due(look, now), Due::Overdue { .. }));
    visit.next.readings.clear();
    let jam = visit.finding(FindingKind::Jam, None).then();
    assert_eq!(LastLook::of(&jam.machine.history).due(look, jam.next.taken), Due::AtOnce);
}

#[test]
fn bolts_that_cut_after_work_are_tightened_again() {
    let line = LineId::S;
    let visit = Visit::new();
    let blade = visit.blade(line);
    let bolts = visit.machine.shear.blade(&blade).unwrap().bolts.clone().unwrap();
    let torque = bolts.torque.unwrap();
    let tightened = || Work::Tightened { blade: blade.clone(), torque };
    let worked = visit.shims(line, &[50], &[]).work(tightened()).then().line("S", &[(350, 400); 4]);
    let hour = worked.clone_at(1).decide(line);
    assert_eq!((hour.action, hour.job), (Action::Leave, Job::Nothing), "they cut for an hour");
    let due = worked.clone_at(2).decide(line);
    assert_eq!(due.job, Job::Retorque { blades: vec![blade.clone()] });
    assert!(due.reasons.iter().any(|it| matches!(it, Reason::RetorqueDue { .. })));
    let work = due.as_work(&worked.machine.shear);
    assert_eq!(work, [tightened()], "one tap writes it down");
    let after = worked.clone_at(2).work(tightened()).decide(line);
    assert_eq!(after.job, Job::Nothing, "tightened again");
}

/// The jaw turns about its pivot, so a shim at the pads is multiplied on the way to the tip.
#[test]
fn shims_behind_the_pads_close_the_cutting_side_and_open_the_guide_side() {
    let decided = Visit::new().line("J", &[(1_300, 1_350); 2]).decide_all();
    let Job::ChangePack { plan, .. } = &decided.line(LineId::J).unwrap().job else {
        panic!("{:?}", decided.line(LineId::J).unwrap().job)
    };
    let total = |shims: &[gapwright::domain::quantity::Length]| -> f64 {
        shims.iter().map(|it| it.mm()).sum()
    };
    let grown = total(&plan.put_in) - total(&plan.take_out);
    assert!(0.0 < grown, "play is taken out");
    let shear = Visit::new().machine.shear;
    let moved = |line| {
        let line: &gapwright::domain::decide::LineDecision = decided.line(line).unwrap();
        line.reasons.iter().find_map(|reason| match reason {
            Reason::PadsMove { opens, .. } => Some(*opens),
            _ => None,
        })
    };
    for (line, sign) in [(LineId::P, -1.0), (LineId::S, -1.0), (LineId::T, -1.0), (LineId::G, 1.0)]
    {
        let (least, most) = moved(line).unwrap();
        let stations = &shear.line(line).unwrap().stations;
        let lever = |at: usize| stations[at].from_pivot.mm() / shear.geometry.pads.mm();
        let (near, far) = (grown * lever(0), grown * lever(stations.len() - 1));
        let ends = if sign < 0.0 { (-far, -near) } else { (near, far) };
        assert!((least.mm() - ends.0).abs() < 2e-6 && (most.mm() - ends.1).abs() < 2e-6, "{line}");
    }
    assert_eq!(moved(LineId::F), None, "side play does not matter there");
    assert_eq!(moved(LineId::J), None);
    let quiet = Visit::new().decide_all();
    let tells = |it: &Reason| matches!(it, Reason::PadsMove { .. });
    assert!(!quiet.lines.iter().any(|line| line.reasons.iter().any(tells)), "no work at the pads");
}
