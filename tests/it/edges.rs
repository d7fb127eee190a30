//! What every edge has behind it, on the sample machines and after work.

use crate::{cli, desk::Desk, visit::Visit};
use egui::Theme;
use egui_kittest::kittest::Queryable as _;
use gapwright::{
    brief::{Numbers, decision::tell_all, plain},
    domain::{
        decide::{BladeEdges, EdgeUse, Job, LineDecision, Reason},
        log::{EffectOnLine, FindingKind, Work},
        machine::{BladeId, LineId, ShearId},
        quantity::Hours,
    },
    workbench::{Command, Screen},
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

/// Swapped in the window and taken back: edges, hours and packs, on the disk as on the screen.
#[test]
fn blades_are_swapped_in_the_window_and_the_swap_is_taken_back() {
    let mut desk = Desk::open([1280.0, 1900.0], Theme::Light);
    desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
    desk.act(Command::Go(Screen::Decide));
    desk.act(Command::ChooseLine(LineId::P));
    let line = desk.machine("heron").0.shear.line(LineId::P).unwrap().clone();
    let (lower, upper) = (line.fixed, line.moving);
    // Both have cut alike so far.
    let turned = Work::Turned { blade: lower.clone(), edge: 3, pack: vec![] };
    desk.act(Command::RecordWork(vec![turned]));
    let (before, _) = desk.machine("heron");
    let told = |desk: &Desk, blade: &BladeId| {
        let history = desk.machine("heron").0.history;
        let state = &history.blades[blade];
        (state.edge, state.edges_used.clone(), history.hours_on_edge(blade).unwrap())
    };
    let state = |desk: &Desk| [told(desk, &lower), told(desk, &upper)];
    let [was_lower, was_upper] = state(&desk);
    assert!(was_lower.0 != was_upper.0 && was_lower.2 != was_upper.2, "else nobody sees it");

    desk.tap("Blades swapped…");
    desk.tap("Lower primary blade");
    desk.tap("Record the swap");
    desk.window.get_by_label("Which two changed places");
    desk.tap("Upper primary blade");
    desk.tap("Record the swap");
    let which = "Have the lower primary blade and the upper primary blade changed places?";
    assert_eq!(desk.window.query_all_by_label(which).count(), 1);
    desk.names_are_unique();
    desk.tap("Not yet swapped");
    assert_eq!(desk.on_disk().machine(&before.shear.id).unwrap().sessions, before.sessions);
    desk.tap("Record the swap");
    desk.tap("Yes, swapped");

    assert_eq!(state(&desk), [was_upper.clone(), was_lower.clone()], "edges travel with the blade");
    let disk = desk.on_disk();
    let written = disk.machine(&before.shear.id).unwrap().history.last().unwrap().work.clone();
    assert_eq!(written[0], Work::Swapped { blade: lower.clone(), with: upper.clone() });
    assert_eq!(written.len(), 3, "the bolts of both were tightened: {written:?}");
    assert_eq!(desk.machine("heron").1.line(LineId::P).unwrap().job, Job::Measure);

    desk.tap("Take the swap back");
    assert_eq!(state(&desk), [was_lower, was_upper]);
    let after = desk.on_disk().machine(&before.shear.id).unwrap().history.clone();
    assert_eq!(after.blades, before.history.blades, "packs and base packs too");
    assert!(desk.window.query_by_label("Take the swap back").is_none());
}
