//! What every edge has behind it, on the sample machines and after work.

use crate::{cli, visit::Visit};
use gapwright::{
    brief::{Numbers, decision::tell_all, plain},
    domain::{
        decide::{BladeEdges, EdgeUse, LineDecision, Reason},
        log::{EffectOnLine, FindingKind, Work},
        machine::LineId,
        quantity::Hours,
    },
};

fn edges(decision: &LineDecision) -> &BladeEdges {
    &decision.edges[0]
}

#[test]
fn an_edge_keeps_its_hours_and_what_was_seen_while_it_cut() {
    let visit = Visit::new().finding(FindingKind::ChippedEdge, Some("P2"));
    let blade = visit.blade(LineId::P);
    let before = visit.machine.history.hours_on_edge(&blade).unwrap().0;
    let visit = visit
        .finding(FindingKind::Jam, Some("P2"))
        .work(Work::Turned { blade: blade.clone(), edge: 2, pack: vec![] })
        .then()
        .finding(FindingKind::BlueStreak, Some("P1"));
    let decision = visit.decide(LineId::P);
    let told = edges(&decision);
    assert_eq!((&told.blade, told.next), (&blade, Some(3)));
    let [first, second, third, _] = told.edges.as_slice() else { panic!("{told:?}") };
    assert_eq!(first.state, EdgeUse::Used);
    assert!(before < first.hours.unwrap());
    // A jam leaves no mark on an edge.
    assert_eq!(first.seen, [FindingKind::ChippedEdge]);
    assert_eq!((second.state, &second.seen), (EdgeUse::InUse, &vec![FindingKind::BlueStreak]));
    assert_eq!((third.state, third.hours, third.seen.len()), (EdgeUse::Fresh, None, 0));
}

#[test]
fn swapped_blades_are_told_and_a_worn_one_that_faces_a_fresh_edge_is_named() {
    let visit = Visit::new();
    let line = visit.machine.shear.line(LineId::P).unwrap().clone();
    let swapped = Work::Swapped { blade: line.fixed.clone(), with: line.moving.clone() };
    let visit = visit.work(swapped).then().line("P", &[(400, 450); 4]);
    let last = visit.machine.history.cuts_on(LineId::P).last().unwrap();
    assert_eq!(last.effect, EffectOnLine::Swapped { blade: line.fixed.clone() });
    let shear = visit.machine.shear.clone();
    let decision = visit.decide_all();
    let brief = &tell_all(&decision, &shear, Numbers::default());
    let told = brief.iter().find(|it| it.line == LineId::P).unwrap();
    let came = told.edges[0].came_from.as_deref();
    assert_eq!(came, Some("It has cut as the upper primary blade before."));

    // A chip turns the lower blade; the upper one has cut most of its hours.
    let tired = |hours| {
        let mut visit = Visit::new();
        for blade in &mut visit.machine.shear.blades {
            blade.hours_per_edge = hours;
        }
        visit.finding(FindingKind::ChippedEdge, Some("P2")).decide(LineId::P)
    };
    let cut = Visit::new().machine.history.hours_on_edge(&line.moving).unwrap().0;
    let facing = |decision: &LineDecision| {
        decision.reasons.iter().any(|it| matches!(it, Reason::FacingWorn { .. }))
    };
    let cut = cut + Hours::from_whole(8);
    assert!(facing(&tired(cut + cut)), "half through its hours");
    assert!(!facing(&tired(cut + cut + cut)), "a third");
    assert!(!facing(&tired(cut)), "past its hours it has its own reason");
}

#[test]
fn screen_terminal_and_json_tell_the_same_edges() {
    let home = tempfile::tempdir().unwrap();
    let yard = cli::sample();
    let yard = yard.to_str().unwrap();
    let text = cli::told(home.path(), &["decide", yard, "--shear", "heron"]).out;
    let Visit { machine, settings, .. } = Visit::to("heron");
    let decision = gapwright::domain::decide::decide(&machine, &settings);
    for brief in tell_all(&decision, &machine.shear, Numbers::default()) {
        for line in brief.edge_lines() {
            assert!(text.contains(&plain(&line)), "{line}\n{text}");
        }
    }
    assert!(text.contains("Lower primary blade: edge\u{a0}1, used"), "{text}");
    let json = cli::told(home.path(), &["decide", yard, "--shear", "heron", "--json"]).out;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let lines = json["shears"][0]["lines"].as_array().unwrap();
    let primary = lines.iter().find(|it| it["line"] == "P").unwrap();
    let lower = &primary["edges"][0];
    assert_eq!((&lower["blade"], &lower["next_edge"]), (&"lower-primary".into(), &3.into()));
    assert_eq!(lower["edges"][0]["state"], "used");
    assert!(lower["edges"][0]["hours_h"].as_f64().unwrap() < lower["table_h"].as_f64().unwrap());
    assert_eq!(lower["edges"][1]["seen"][0], "Chipped edge");
    assert!(lower["edges"][3]["hours_h"].is_null());
}
