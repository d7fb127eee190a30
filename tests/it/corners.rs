//! Where facts meet: two stops at once, gaps half known, work in between, one shelf for all.

use crate::visit::{Visit, station, um};
use gapwright::domain::{
    decide::{Action, Job, Reason, When},
    log::{FindingKind, WeldPart, Work},
    machine::{BladeId, LineId},
    quantity::{Hours, Length, Temperature},
    shims::Shortfall,
    yard::ShelfItem,
};

#[test]
fn cracks_stop_the_machine_though_work_has_moved_the_gap() {
    let cracked = FindingKind::SurfaceCracks;
    let decision =
        Visit::new().finding(cracked, Some("S2")).shims(LineId::S, &[100], &[]).decide(LineId::S);
    assert_eq!(decision.action, Action::Stop);
    assert!(matches!(decision.job, Job::Fit { .. }));
    assert!(decision.reasons.contains(&Reason::Stale), "and it must be measured as well");
}

#[test]
fn cracks_that_nobody_gave_a_place_stop_every_line() {
    let decision = Visit::new().finding(FindingKind::SurfaceCracks, None).decide_all();
    for line in &decision.lines {
        assert_eq!((line.action, &line.job), (Action::Stop, &Job::FindCause), "{}", line.line);
    }
}

/// Any weld that was logged used to pass for one at the jaw, then any whose words named it:
/// "beside the lower jaw" cleared a spread.
#[test]
fn only_a_weld_at_the_jaw_itself_clears_a_spread() {
    let spread_after = |part, place: &str| {
        let weld = Work::Welded {
            part,
            place: place.to_owned(),
            consumable: "basic electrode".to_owned(),
            cooled_slowly: true,
            template_checked: true,
        };
        let decision = Visit::to("wren").work(weld).decide(LineId::T);
        decision.reasons.iter().any(|it| matches!(it, Reason::JawSpread(_)))
    };
    let tip = Visit::to("wren").machine.shear.line(LineId::T).unwrap().moving.clone();
    for elsewhere in [WeldPart::Tip(tip), WeldPart::UpperJaw, WeldPart::Elsewhere] {
        for words in ["lower jaw", "beside the lower jaw", "cutting cheek", ""] {
            assert!(spread_after(elsewhere.clone(), words), "{elsewhere:?} “{words}”");
        }
    }
    assert!(!spread_after(WeldPart::LowerJaw, ""));
}

#[test]
fn a_spread_jaw_is_not_cured_by_shims() {
    let visit = Visit::to("wren").shims(LineId::T, &[100], &[]);
    let decision = visit.decide(LineId::T);
    assert_eq!((decision.action, decision.job), (Action::Stop, Job::CallWelder));
}

#[test]
fn a_station_measured_after_work_counts_while_its_neighbours_wait() {
    let mut visit = Visit::new().shims(LineId::S, &[500], &[]).then();
    visit.next.readings.clear();
    let decision = visit.reading("S1", 50, 100).decide(LineId::S);
    assert_eq!((decision.action, decision.job), (Action::Stop, Job::Measure));
    assert_eq!(decision.when, When::First);
}

#[test]
fn a_gap_without_a_ceiling_asks_for_a_thicker_stack_before_any_shim() {
    let decision = Visit::new().open_reading("S4", 1_000).decide(LineId::S);
    assert_eq!((decision.action, decision.job), (Action::Leave, Job::Measure));
    assert_eq!(decision.when, When::BeforeCuttingOn);
    let first = decision.reasons.first();
    assert!(matches!(first, Some(Reason::BeyondWorking { sure: false, .. })), "{first:?}");
}

#[test]
fn what_is_left_of_a_gap_without_a_ceiling_is_no_number() {
    let visit = Visit::new().line("S", &[(1_300, 1_350); 3]).open_reading("S4", 1_300);
    let decision = visit.decide(LineId::S);
    assert!(matches!(decision.job, Job::ChangePack { .. }), "surely too wide: shim it");
    let after: Vec<bool> = decision.stations.iter().map(|it| it.after.is_some()).collect();
    assert_eq!(after, [true, true, true, false]);
}

#[test]
fn a_gap_surely_over_one_limit_is_not_only_perhaps_over_it() {
    let decision = Visit::new().line("S", &[(1_550, 1_650); 4]).decide(LineId::S);
    assert_eq!(decision.action, Action::Stop, "it may be over the stop limit");
    let over = |sure_stop, sure| {
        decision.reasons.iter().any(|it| match it {
            Reason::BeyondStop { sure, .. } => *sure == sure_stop,
            _ => false,
        }) && decision.reasons.iter().any(|it| match it {
            Reason::BeyondWorking { sure: it, .. } => *it == sure,
            _ => false,
        })
    };
    assert!(over(false, true), "{:?}", decision.reasons);
}

#[test]
fn nobody_closes_a_gap_on_the_word_of_its_neighbours() {
    let decision = Visit::first().reading("S4", 1_300, 1_350).decide(LineId::S);
    assert_eq!((decision.action, decision.job), (Action::Shim, Job::Measure));
    let missing = Reason::NotMeasured(vec![station("S1"), station("S2"), station("S3")]);
    assert!(decision.reasons.contains(&missing));
}

#[test]
fn too_tight_with_no_shim_to_take_out_asks_for_the_cause() {
    let decision = Visit::first().line("S", &[(120, 170); 4]).decide(LineId::S);
    assert_eq!((decision.action, &decision.job), (Action::Shim, &Job::FindCause));
    let named =
        |reason: &Reason| matches!(reason, Reason::CannotShim { why: Shortfall::PackEmpty, .. });
    assert!(decision.reasons.iter().any(named));
    let stop = Visit::first().line("S", &[(50, 90); 4]).decide(LineId::S);
    assert_eq!((stop.action, stop.job), (Action::Stop, Job::FindCause));
}

#[test]
fn a_pack_of_one_thick_shim_wants_thinner_ones() {
    let mut visit = Visit::first().line("S", &[(150, 190); 4]).shims(LineId::S, &[2_000], &[]);
    visit.settings.shelf.clear();
    let decision = visit.then().line("S", &[(120, 170); 4]).decide(LineId::S);
    let Job::OrderShims { wanted, .. } = decision.job else { panic!("{:?}", decision.job) };
    assert!(wanted < Length::ZERO, "{wanted:?}");
}

#[test]
fn faces_that_touch_when_hot_stop_a_gap_that_is_fine_when_cold() {
    let mut visit = Visit::first().line("G", &[(400, 450); 3]).shims(LineId::G, &[500], &[]).then();
    let line = visit.machine.shear.lines.iter_mut().find(|line| line.id == LineId::G).unwrap();
    line.working.moving = Temperature::from_whole_c(420);
    let hot = visit.line("G", &[(400, 450); 3]);
    let set = hot.machine.shear.line(LineId::G).unwrap().limits.clone();
    let decision = hot.decide(LineId::G);
    assert_eq!(decision.action, Action::Stop);
    assert!(matches!(decision.reasons.first(), Some(Reason::HotContact { .. })));
    match &decision.job {
        Job::ChangePack { .. } => {
            assert!(decision.stations.iter().all(|it| set.set().holds(it.after.unwrap())));
        }
        job => {
            assert_eq!(*job, Job::FindCause);
            let named = |it: &Reason| {
                matches!(it, Reason::CannotShim { why: Shortfall::HotAboveSet { .. }, .. })
            };
            assert!(decision.reasons.iter().any(named), "{:?}", decision.reasons);
        }
    }
}

#[test]
fn side_play_that_may_reach_a_blade_gap_stops_the_machine() {
    let may = Visit::new().line("J", &[(400, 450); 2]).reading("P1", 430, 480);
    let decision = may.decide(LineId::J);
    assert_eq!(decision.action, Action::Stop, "0.45 of play against 0.43");
    assert_eq!(decision.job, Job::FindCause, "the pads themselves are in their set range");
    let clear = Visit::new().line("J", &[(350, 400); 2]).reading("P1", 400, 450);
    assert_eq!(clear.decide(LineId::J).action, Action::Leave, "a stack of 0.40 stuck at the pads");
}

#[test]
fn side_play_is_never_answered_with_more_of_it() {
    let visit = Visit::new().line("J", &[(300, 350); 2]).reading("P1", 300, 350);
    let decision = visit.decide(LineId::J);
    assert_eq!((decision.action, decision.job), (Action::Stop, Job::FindCause));
    let visit = Visit::new().line("J", &[(550, 600); 2]).line("P", &[(500, 550); 4]);
    let decision = visit.decide(LineId::J);
    let Job::ChangePack { plan, .. } = decision.job else { panic!("{:?}", decision.job) };
    assert!(plan.closes(), "less play, inside the set range still");
}

#[test]
fn a_tight_station_on_a_tapered_line_is_opened_and_no_fresh_edge_is_set() {
    let gaps = [(400, 450), (120, 170), (700, 750)];
    let decision = Visit::new().line("G", &gaps).decide(LineId::G);
    assert_eq!(decision.action, Action::Stop);
    let Job::ChangePack { plan, .. } = &decision.job else { panic!("{:?}", decision.job) };
    assert!(!plan.closes());
    let working = Visit::new().machine.shear.line(LineId::G).unwrap().limits.working();
    assert!(decision.stations.iter().all(|it| working.holds(it.after.unwrap())));
    let said =
        |it: &Reason| matches!(it, Reason::CannotShim { why: Shortfall::Tapered { .. }, .. });
    assert!(decision.reasons.iter().any(said), "why it ends outside the set range");
}

#[test]
fn pads_that_nobody_measured_make_no_recipe_provisional() {
    let visit = Visit::first().line("S", &[(1_300, 1_350); 4]);
    let decision = visit.decide(LineId::S);
    assert!(matches!(decision.job, Job::ChangePack { .. }), "{:?}", decision.job);
    assert!(!decision.provisional);
}

#[test]
fn a_loose_bolt_is_tightened_before_cutting_on() {
    let decision = Visit::new().finding(FindingKind::LooseBolt, Some("P2")).decide(LineId::P);
    assert_eq!((decision.action, decision.when), (Action::Leave, When::BeforeCuttingOn));
}

#[test]
fn shims_that_a_worse_line_takes_are_not_promised_to_another() {
    let mut visit = Visit::new().line("S", &[(1_700, 1_750); 4]).line("P", &[(1_300, 1_350); 4]);
    let wanted = |visit: Visit| {
        let decision = visit.decide_all();
        let job = |line| decision.line(line).unwrap().job.clone();
        (job(LineId::S), job(LineId::P), decision.line(LineId::P).unwrap().reasons.clone())
    };
    visit.settings.shelf = [500, 800].map(|it| ShelfItem { thickness: um(it), count: 1 }).to_vec();
    let (worse, other, reasons) = wanted(visit);
    assert!(matches!(worse, Job::ChangePack { .. }), "{worse:?}");
    assert!(matches!(other, Job::OrderShims { .. }), "{other:?}");
    let said = Reason::SharedShelf { with: vec![LineId::S], served: false, proven: true };
    assert!(reasons.contains(&said), "the shims it wants lie on the shelf: {reasons:?}");
}

/// P used to get its best pack first, and the bolts of S what was left.
#[test]
fn a_tapered_line_and_a_wide_one_share_a_short_shelf_as_well_as_can_be() {
    let tapered = [(900, 950), (1_000, 1_050), (1_150, 1_200), (1_300, 1_350)];
    let visit = || {
        let mut visit = Visit::first().line("P", &[(1_250, 1_300); 4]);
        let id = visit.blade(LineId::S);
        let blade = visit.machine.shear.blades.iter_mut().find(|it| it.id == id).unwrap();
        blade.pack.as_mut().unwrap().step = Some(um(150));
        let shims = [900, 800, 650, 550, 450, 400];
        visit.settings.shelf = shims.map(|it| ShelfItem { thickness: um(it), count: 1 }).to_vec();
        visit
    };
    let alone = visit().decide(LineId::P);
    let Job::ChangePack { plan, .. } = &alone.job else { panic!("{:?}", alone.job) };
    assert_eq!(plan.put_in, [um(900)], "with the shelf to itself");
    let decided = visit().line("S", &tapered).decide_all();
    let after = |line| -> Vec<Length> {
        decided.line(line).unwrap().stations.iter().map(|it| it.after.unwrap()).collect()
    };
    let Job::ChangePack { plan, .. } = &decided.line(LineId::P).unwrap().job else { panic!() };
    assert_eq!(plan.put_in, [um(450), um(400)]);
    for (line, other) in [(LineId::P, LineId::S), (LineId::S, LineId::P)] {
        let said = Reason::SharedShelf { with: vec![other], served: true, proven: true };
        assert!(decided.line(line).unwrap().reasons.contains(&said), "why it is not the 0.90");
    }
    let s4 = *after(LineId::S).last().unwrap();
    assert_eq!(s4, um(1_325 - 900), "the 0.90 does more good here: {:?}", after(LineId::S));
}

/// The step used to be found only at the visit after the one that made it.
#[test]
fn a_step_that_a_recipe_would_leave_at_the_joint_is_told_before_the_work() {
    let step = |p: i64| {
        let visit = Visit::new().line("S", &[(1_300, 1_350); 4]).line("P", &[(p, p + 50); 4]);
        let decided = visit.decide_all();
        let told = |line| {
            let reasons = &decided.line(line).unwrap().reasons;
            reasons.iter().find_map(|it| match it {
                Reason::JointStepAfter { changes, by, .. } => Some((*changes, *by)),
                _ => None,
            })
        };
        assert_eq!(told(LineId::P), told(LineId::S));
        (told(LineId::P), decided.line(LineId::P).unwrap().when)
    };
    let (told, when) = step(1_150);
    let (changes, by) = told.unwrap();
    assert!(changes == LineId::S && um(600) < by && by < um(900), "{by:?}");
    assert_eq!(when, When::BeforeCuttingOn);
    assert_eq!(step(900).0, None, "0.5 is allowed");
}

#[test]
fn of_two_dull_blades_the_one_that_must_be_replaced_counts() {
    let mut visit = Visit::new();
    for blade in &mut visit.machine.shear.blades {
        if ["tip", "tip-cutting"].contains(&blade.id.0.as_str()) {
            blade.hours_per_edge = Hours::from_whole(1);
        }
    }
    let decision = visit.decide(LineId::T);
    assert_eq!(decision.action, Action::Replace);
    let Job::Fit { blade, .. } = decision.job else { panic!("{:?}", decision.job) };
    assert_eq!(blade.0, "tip");
}

#[test]
fn a_new_tip_cuts_the_history_of_every_line_it_faces() {
    let tip = BladeId("tip".into());
    let visit = Visit::new().work(Work::Replaced { blade: tip, pack: vec![] });
    let decision = visit.decide_all();
    for line in [LineId::T, LineId::F, LineId::G] {
        assert_eq!(decision.line(line).unwrap().job, Job::Measure, "line {line}");
    }
    assert_eq!(decision.line(LineId::P).unwrap().job, Job::Nothing);
}

#[test]
fn the_next_look_is_told_on_the_meter_of_now() {
    let visit = Visit::new().then();
    let meter = visit.next.meter;
    let change = Work::MeterChanged { old: meter, new: Hours::from_whole(12) };
    let mut visit = visit.work(change);
    visit.next.readings.clear();
    let decision = visit.decide_all();
    assert_eq!(decision.meter, Hours::from_whole(12));
    assert_eq!(decision.next_look, Hours::from_whole(19), "one of the eight hours was worked");
}
