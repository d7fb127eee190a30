//! The Decide screen, as somebody who acts on it sees it.

use crate::desk::Desk;
use egui::{Key, Theme};
use egui_kittest::{SnapshotResults, kittest::Queryable as _};
use gapwright::{
    brief::{
        self,
        decision::{LineBrief, tell_all},
        plain,
    },
    domain::{
        decide::{Job, plan, supply},
        log::{FindingKind, Work},
        machine::{BladeId, LineId, ShearId},
        quantity::{Length, LengthUnit},
        yard::Machine,
    },
    workbench::{Command, Decide, DecideView, Screen},
};

fn at_decide(size: [f32; 2], theme: Theme, machine: &str) -> Desk {
    let mut desk = Desk::open(size, theme);
    desk.act(Command::ChooseMachine(ShearId::new(machine).unwrap()));
    desk.act(Command::Go(Screen::Decide));
    desk
}

#[test]
fn the_screen_looks_as_accepted() {
    let mut results = SnapshotResults::new();
    for (name, size, theme, machine, line) in [
        ("decide-light", [1600.0, 1000.0], Theme::Light, "heron", LineId::S),
        ("decide-dark", [1600.0, 1000.0], Theme::Dark, "heron", LineId::P),
        ("decide-1280", [1280.0, 800.0], Theme::Light, "heron", LineId::G),
        ("decide-1024", [1024.0, 768.0], Theme::Dark, "wren", LineId::G),
    ] {
        let mut desk = at_decide(size, theme, machine);
        desk.act(Command::ChooseLine(line));
        desk.names_are_unique();
        desk.window.snapshot(name);
        results.extend_harness(&mut desk.window);
    }
}

#[test]
fn plan_and_parts_look_as_accepted() {
    let mut results = SnapshotResults::new();
    for (name, size, theme, machine, view) in [
        ("plan-light", [1600.0, 1000.0], Theme::Light, "heron", DecideView::Plan),
        ("plan-1280-dark", [1280.0, 800.0], Theme::Dark, "heron", DecideView::Plan),
        ("plan-1024", [1024.0, 768.0], Theme::Light, "wren", DecideView::Plan),
        ("parts-1280", [1280.0, 800.0], Theme::Light, "heron", DecideView::Parts),
        ("parts-1024-dark", [1024.0, 768.0], Theme::Dark, "wren", DecideView::Parts),
    ] {
        let mut desk = at_decide(size, theme, machine);
        desk.act(Command::Decide(Decide::Show(view)));
        desk.names_are_unique();
        desk.window.snapshot(name);
        results.extend_harness(&mut desk.window);
    }
}

#[test]
fn plan_and_parts_say_what_the_brief_says() {
    let mut desk = at_decide([1280.0, 800.0], Theme::Light, "heron");
    let yard = desk.window.state().bench().yard().clone();
    let decisions = desk.window.state().decisions().to_vec();
    let within = yard.settings.upkeep.times().order_ahead(None);
    let supply = supply(&yard, &decisions, within);
    desk.tap("show Plan");
    for (machine, decision) in yard.machines.iter().zip(&decisions) {
        desk.act(Command::ChooseMachine(machine.shear.id.clone()));
        let plan = plan(machine, decision, &yard.settings, None);
        let told = brief::plan::tell(&plan, &supply, &machine.shear, &yard, desk.numbers());
        for line in &told.lines {
            let words = format!("plan {} {}: {}", line.line, line.place, line.text);
            desk.window.get_by_label(&words);
        }
        desk.window.get_by_label(&format!("Now: {}", told.now));
        desk.window.get_by_label(&told.total);
        let short = told.short.map(|it| format!(" · {it}")).unwrap_or_default();
        desk.window.get_by_label(&format!("Order{short}: {}", told.order));
    }
    desk.tap("show Parts");
    let told = brief::parts::tell(&supply, &yard, desk.numbers());
    for part in &told.parts {
        let words = format!("{}: on hand {}, for today", part.name, part.on_hand);
        desk.window.get_by_label_contains(&words);
    }
    let short = |desk: &Desk, id: &str| {
        let standings = desk.window.state().standings();
        standings.iter().find(|it| it.shear.as_str() == id).unwrap().parts.clone()
    };
    assert_eq!(short(&desk, "heron").as_deref(), Some("Parts short"), "no bolts for its blade");
    assert_eq!(short(&desk, "dunlin"), None);
}

#[test]
fn a_tap_overrules_the_plan_until_more_is_known() {
    let mut desk = at_decide([1280.0, 800.0], Theme::Light, "heron");
    desk.tap("show Plan");
    let now = "S now, 0.6\u{a0}h lost";
    desk.tap("S next shutdown, 4.6\u{a0}h lost");
    let chosen = "chosen here, about 4.0\u{a0}h more lost than by the plan";
    desk.window.get_by_label_contains(chosen);
    desk.window.get_by_label_contains("What was chosen here loses about 4.0\u{a0}h more");
    desk.act(Command::ChooseLine(LineId::S));
    desk.window
        .get_by_label_contains("Shim, at the planned shutdown in 36\u{a0}h, chosen here: S ");
    desk.tap(now);
    assert!(desk.window.query_by_label_contains(chosen).is_none(), "as planned again");
    desk.tap("S next shutdown, 4.6\u{a0}h lost");
    desk.act(Command::ReportNow(FindingKind::Chatter));
    assert!(desk.window.query_by_label_contains(chosen).is_none(), "more is known");
}

#[test]
fn before_and_after_work_is_written_down_it_looks_as_accepted() {
    let mut results = SnapshotResults::new();
    let mut small = at_decide([1024.0, 768.0], Theme::Dark, "heron");
    small.act(Command::ChooseLine(LineId::S));
    small.tap("Record work done");
    small.window.snapshot("decide-sure-1024");
    results.extend_harness(&mut small.window);
    let mut desk = at_decide([1280.0, 800.0], Theme::Light, "heron");
    desk.act(Command::ChooseLine(LineId::S));
    desk.act(Command::SetUnit(LengthUnit::Inch));
    desk.tap("Record work done");
    desk.names_are_unique();
    desk.window.snapshot("decide-sure");
    desk.tap("Yes, done");
    desk.names_are_unique();
    desk.window.snapshot("decide-done");
    results.extend_harness(&mut desk.window);
}

#[test]
fn a_window_that_is_far_too_small_still_stands() {
    for size in [[300.0, 200.0], [520.0, 420.0], [760.0, 560.0]] {
        let mut desk = at_decide(size, Theme::Light, "wren");
        desk.act(Command::Go(Screen::Trend));
        desk.act(Command::SetUnit(LengthUnit::Inch));
    }
}

/// What a screen reader calls a row.
fn row(brief: &LineBrief) -> String {
    let LineBrief { line, place, action_word, headline, .. } = brief;
    format!("{line} {place}, {action_word}: {headline}")
}

#[test]
fn every_row_says_what_the_brief_says_and_opens_its_sheet() {
    let mut desk = at_decide([1600.0, 1000.0], Theme::Light, "heron");
    let (machine, decision) = desk.machine("heron");
    for brief in tell_all(&decision, &machine.shear, desk.numbers()) {
        desk.tap(&row(&brief));
        desk.window.get_by_label(&format!(
            "{}, {}: {} {}",
            brief.action_word, brief.when, brief.line, brief.place
        ));
        let after = brief.gap_after.as_ref().map(|after| format!(", after the work {after}"));
        let gap = format!("gap now {}{}", brief.gap_now, after.unwrap_or_default());
        assert!(desk.window.query_all_by_label_contains(&gap).count() == 1, "{gap}");
        for words in brief.notes.iter().chain(brief.reasons.iter().map(|told| &told.text)) {
            let words = plain(words);
            assert!(desk.window.query_all_by_label(&words).count() == 1, "{words}");
        }
        if let Some(bolts) = &brief.bolts {
            let order: Vec<String> = bolts.order.iter().map(ToString::to_string).collect();
            desk.window.get_by_label(&format!("tighten in the order {}", order.join(", ")));
        }
    }
}

#[test]
fn arrow_keys_walk_along_the_jobs() {
    let mut desk = at_decide([1280.0, 800.0], Theme::Light, "heron");
    let (_, decision) = desk.machine("heron");
    let lines: Vec<LineId> = decision.lines.iter().map(|line| line.line).collect();
    for line in &lines[1..] {
        desk.window.key_press(Key::ArrowDown);
        desk.window.run();
        assert_eq!(desk.window.state().bench().line(), Some(*line));
    }
    desk.window.key_press(Key::ArrowDown);
    desk.window.run();
    assert_eq!(desk.window.state().bench().line(), lines.last().copied(), "the end is the end");
    // With the focus on a row, the focus goes along.
    let (machine, _) = desk.machine("heron");
    let briefs = tell_all(&decision, &machine.shear, desk.numbers());
    desk.window.get_by_label(&row(&briefs[1])).focus();
    desk.window.run();
    desk.window.key_press(Key::ArrowUp);
    desk.window.run();
    assert_eq!(desk.window.state().bench().line(), Some(lines[0]));
    assert!(desk.window.get_by_label(&row(&briefs[0])).is_focused());
}

#[test]
fn work_is_written_down_once_and_only_after_a_second_thought() {
    let mut desk = at_decide([1600.0, 1000.0], Theme::Light, "heron");
    desk.act(Command::ChooseLine(LineId::S));
    let (before, decision) = desk.machine("heron");
    let wanted = decision.line(LineId::S).unwrap().as_work(&before.shear);
    assert!(wanted.iter().any(Work::moves_gap));

    desk.tap("Record work done");
    desk.tap("Not yet");
    desk.tap("Record work done");
    desk.window.key_press(Key::Escape);
    desk.window.run();
    assert!(desk.window.query_by_label("Yes, done").is_none());
    assert_eq!(desk.on_disk().machine(&before.shear.id).unwrap().sessions, before.sessions);

    desk.tap("Record work done");
    desk.tap("Yes, done");
    let disk = desk.on_disk();
    let after = disk.machine(&before.shear.id).unwrap();
    assert_eq!(after.sessions.len(), before.sessions.len() + 1);
    let written = after.history.last().unwrap();
    assert_eq!(written.work, wanted);
    assert_eq!(written.readings, []);
    assert!(desk.window.query_by_label("Record work done").is_none(), "it is done");

    // The gap has moved: the next thing is to measure.
    let (_, decision) = desk.machine("heron");
    assert_eq!(decision.line(LineId::S).unwrap().job, Job::Measure);
    let yard = desk.window.state().standings();
    let heron = yard.iter().find(|it| it.shear == before.shear.id).unwrap();
    let to_measure = heron.lines.iter().filter(|it| it.measure).map(|it| it.line);
    assert!(to_measure.clone().any(|it| it == LineId::S), "the yard has the sign for it");
    desk.window.get_by_label_contains("gap before the work ");
    desk.window.get_by_label_contains("S gaps before the work ");
    assert!(!desk.shows("gap now "), "an old gap is not shown as one of now");
    desk.tap("Measure this line");
    assert_eq!(desk.window.state().bench().screen(), Screen::Measure);
}

/// More taps than there can be shims.
fn tap_often(desk: &mut Desk, label: &str) {
    for _ in 0..4 {
        desk.tap(label);
    }
}

#[test]
fn other_shims_than_proposed_are_written_down_as_they_were_used() {
    let mut desk = at_decide([1024.0, 768.0], Theme::Light, "heron");
    desk.act(Command::ChooseLine(LineId::S));
    let (before, decision) = desk.machine("heron");
    let proposed = decision.line(LineId::S).unwrap().as_work(&before.shear);
    let Work::Shims { blade, put_in, take_out, .. } = &proposed[0] else { panic!("{proposed:?}") };
    let pack = before.history.blades[blade].pack.clone();
    assert!(pack.len() < 4 && !pack.is_empty(), "taps enough to ask for more: {pack:?}");
    let (n, other) = (desk.numbers(), Length::from_um(200));
    assert!(!put_in.contains(&other), "{put_in:?}");
    let used = n.length(put_in[0]);

    desk.tap("Record work done");
    let asked = |desk: &Desk, words: &str| {
        assert_eq!(desk.window.query_all_by_label_contains(words).count(), 1, "{words}");
    };
    asked(&desk, "and its bolts tightened to");
    desk.tap(&format!("Put in {used}: one less"));
    desk.tap("Put in 0.20: one more");
    desk.tap("Put in 0.20: one more");
    desk.tap("Put in 0.20: one less");
    let out = n.length(pack[0]);
    tap_often(&mut desk, &format!("Taken out {out}: one more"));
    desk.names_are_unique();
    let by = desk.window.state().bench().yard().signed_by()[1].to_owned();
    assert_ne!(by, desk.window.state().bench().likely_by());
    desk.tap(&format!("done by {by}"));
    let mut put = put_in[1..].to_vec();
    put.push(other);
    let sum = put.iter().map(|it| n.length(*it)).collect::<Vec<_>>().join(" + ");
    asked(&desk, &format!("add {sum} behind the"));
    desk.tap("Yes, done");

    let disk = desk.on_disk();
    let written = disk.machine(&before.shear.id).unwrap().history.last().unwrap();
    assert_eq!(written.by, by);
    let Work::Shims { put_in, take_out: out, .. } = &written.work[0] else { panic!() };
    assert_eq!(put_in, &put);
    let there = pack.iter().filter(|it| **it == pack[0]).count();
    let kept = take_out.iter().filter(|it| **it != pack[0]).count();
    assert_eq!(out.len(), there + kept, "no more than there was");
    let after = &disk.machine(&before.shear.id).unwrap().history.blades[blade].pack;
    assert!(after.contains(&other), "{after:?}");
    assert_eq!(after.len() + out.len(), pack.len() + put.len(), "{after:?}");
}

#[test]
fn somebody_who_never_signed_here_types_who_did_it() {
    let mut desk = at_decide([1024.0, 768.0], Theme::Light, "heron");
    desk.act(Command::ChooseLine(LineId::S));
    desk.tap("Record work done");
    desk.window.get_by_label("initials of whoever did it").scroll_to_me();
    desk.window.run();
    desk.fill("initials of whoever did it", "QX ");
    desk.names_are_unique();
    desk.tap("Yes, done");
    let (machine, _) = desk.machine("heron");
    assert_eq!(machine.history.last().unwrap().by, "QX");
    assert_eq!(desk.on_disk().signed_by()[0], "QX");
}

/// Whoever looks up a part comes back to the job that it was for.
#[test]
fn the_list_keeps_its_place_while_parts_are_looked_at() {
    let mut desk = at_decide([1024.0, 768.0], Theme::Light, "heron");
    let (machine, decision) = desk.machine("heron");
    let last = row(tell_all(&decision, &machine.shear, desk.numbers()).last().unwrap());
    let place = |desk: &Desk| desk.window.get_by_label(&last).rect().top();
    let at_rest = place(&desk);
    desk.window.get_by_label(&last).scroll_to_me();
    desk.window.run();
    let scrolled = place(&desk);
    assert!(scrolled + 100.0 < at_rest, "it scrolls: {scrolled} {at_rest}");
    for other in ["show Parts", "show Plan"] {
        desk.tap(other);
        desk.tap("show Jobs");
        assert!((place(&desk) - scrolled).abs() < 1.0, "after {other}: {}", place(&desk));
    }
}

fn known_name(machine: &Machine, blade: &BladeId) -> String {
    machine.shear.blade(blade).unwrap().name.clone()
}

#[test]
fn bolts_that_were_not_tightened_are_not_written_down_as_tightened() {
    let mut desk = at_decide([1280.0, 800.0], Theme::Light, "heron");
    desk.act(Command::ChooseLine(LineId::S));
    let (before, decision) = desk.machine("heron");
    let proposed = decision.line(LineId::S).unwrap().as_work(&before.shear);
    assert!(proposed.iter().any(|it| matches!(it, Work::Tightened { .. })));
    desk.tap("Record work done");
    let torque = |desk: &Desk| desk.window.query_all_by_label_contains("tightened to").count();
    assert_eq!(torque(&desk), 2, "the switch and the question");
    let words = brief::done::tightened(&proposed, &before.shear).unwrap();
    desk.tap(&brief::words::capital(&words));
    assert_eq!(torque(&desk), 1, "the switch alone");
    desk.tap("Yes, done");
    let disk = desk.on_disk();
    let written = &disk.machine(&before.shear.id).unwrap().history.last().unwrap().work;
    assert!(written.iter().all(Work::moves_gap) && !written.is_empty(), "{written:?}");
    assert_eq!(written[..], proposed[..written.len()]);
}

#[test]
fn a_turn_is_written_down_for_the_blade_and_the_edge_that_were_turned() {
    let mut desk = at_decide([1024.0, 768.0], Theme::Light, "heron");
    let (machine, decision) = desk.machine("heron");
    let mut turns = decision.lines.iter().filter(|it| matches!(it.job, Job::Turn { .. }));
    let Job::Turn { blade, .. } = &turns.clone().next().unwrap().job else { panic!() };
    let line = machine.shear.line(turns.next().unwrap().line).unwrap();
    desk.act(Command::ChooseLine(line.id));
    desk.tap("Record work done");
    desk.names_are_unique();
    let moving = *blade == line.moving;
    desk.tap(if moving { "blade fixed" } else { "blade moving" });
    let other = if moving { &line.fixed } else { &line.moving };
    desk.names_are_unique();
    let here = machine.history.blades[other].edge;
    assert!(desk.window.query_by_label(&format!("edge {here}")).is_none(), "it is there already");
    let edge = (1..=machine.shear.blade(other).unwrap().edges).rfind(|it| *it != here).unwrap();
    desk.tap(&format!("edge {edge}"));
    let named = format!("Turn the {} to edge\u{a0}{edge}", known_name(&machine, other));
    assert_eq!(desk.window.query_all_by_label_contains(&named).count(), 1, "{named}");
    desk.window.snapshot("decide-turned-1024");
    desk.tap("Yes, done");
    let disk = desk.on_disk();
    let after = &disk.machine(&machine.shear.id).unwrap().history.blades;
    assert_eq!(after[other].edge, edge);
    assert_eq!(after[blade].edge, machine.history.blades[blade].edge, "this one stayed");
}

#[test]
fn the_arrows_go_round_the_machines() {
    let mut desk = at_decide([1024.0, 768.0], Theme::Dark, "wren");
    desk.tap("next machine");
    let here = |desk: &Desk| desk.window.state().bench().machine().unwrap().shear.name.clone();
    assert_eq!(here(&desk), "Dunlin");
    desk.tap("previous machine");
    desk.tap("previous machine");
    assert_eq!(here(&desk), "Heron");
}
