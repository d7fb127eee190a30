//! What cannot be right is said with a next step, on the screen, in the brief and on a terminal.

use crate::{
    cli::told,
    desk::Desk,
    visit::{Visit, um},
};
use egui::Theme;
use gapwright::{
    brief::{
        Numbers,
        decision::{LineBrief, tell_all},
        plain,
    },
    domain::{
        decide::decide,
        log::{FindingKind, Work},
        machine::{LineId, Shear, ShearId},
        yard::Yard,
    },
    store,
    workbench::{Command, Screen},
};
use std::{fs, path::Path};
use tempfile::TempDir;

/// The well-kept machine alone in a yard, after one more visit.
fn yard_of(visit: Visit) -> Yard {
    let Visit { settings, mut machine, next } = visit;
    machine.add(next);
    Yard { settings, machines: vec![machine] }
}

fn brief_of(yard: &Yard, line: LineId) -> LineBrief {
    let machine = &yard.machines[0];
    let decision = decide(machine, &yard.settings);
    let briefs = tell_all(&decision, &machine.shear, Numbers::default());
    briefs.into_iter().find(|it| it.line == line).unwrap()
}

/// Everything the window says about a line, and what a terminal prints of the yard.
#[track_caller]
fn both_say(yard: &Yard, line: LineId, words: &[&str]) {
    let mut desk = Desk::with(yard, [1280.0, 2000.0], Theme::Light);
    desk.act(Command::ChooseMachine(yard.machines[0].shear.id.clone()));
    desk.act(Command::Go(Screen::Decide));
    desk.act(Command::ChooseLine(line));
    let labels = desk.said();
    let home = TempDir::new().unwrap();
    let printed = told(home.path(), &["decide", desk.root().to_str().unwrap()]).out;
    for words in words {
        assert!(labels.iter().any(|it| it.contains(words)), "the window does not say {words:?}");
        assert!(printed.contains(words), "the terminal does not say {words:?}: {printed}");
    }
}

fn blade_of(
    visit: &mut Visit,
    line: LineId,
    change: impl Fn(&mut gapwright::domain::machine::Blade),
) {
    let id = visit.blade(line);
    let blades = visit.machine.shear.blades.iter_mut();
    blades.filter(|it| it.id == id).for_each(change);
}

const WIDE: [(i64, i64); 4] = [(1_300, 1_350); 4];

#[test]
fn an_empty_shelf_names_what_to_order() {
    let mut visit = Visit::new().line("S", &WIDE);
    visit.settings.shelf.clear();
    let yard = yard_of(visit);
    let brief = brief_of(&yard, LineId::S);
    assert!(brief.headline.starts_with("Order shims: about 0.9"), "{}", brief.headline);
    let reason = brief.reasons.iter().find(|it| it.text.contains("The shelf has no shims"));
    assert!(reason.unwrap().text.contains("would do."), "{reason:?}");
    both_say(&yard, LineId::S, &[&brief.headline, &plain(&reason.unwrap().text)]);
}

/// It used to be turned without a word about how it is held.
#[test]
fn a_blade_without_bolts_is_told_to_be_held_by_the_manual() {
    let named = |change: fn(&mut gapwright::domain::machine::Blade)| {
        let mut visit = Visit::new().finding(FindingKind::ChippedEdge, Some("P2"));
        blade_of(&mut visit, LineId::P, change);
        let yard = yard_of(visit);
        let brief = brief_of(&yard, LineId::P);
        assert_eq!((brief.action_word, brief.bolts), ("Rotate", None));
        let says = brief.notes.iter().find(|it| it.contains("names no bolts")).unwrap().clone();
        assert!(says.ends_with("stands in the machine's manual."), "{says}");
        (yard, says)
    };
    named(|blade| blade.bolts.as_mut().unwrap().from_pivot.clear());
    let (yard, says) = named(|blade| blade.bolts = None);
    both_say(&yard, LineId::P, &[&says]);
    let whole = yard_of(Visit::new().finding(FindingKind::ChippedEdge, Some("P2")));
    let brief = brief_of(&whole, LineId::P);
    assert!(!brief.notes.iter().any(|it| it.contains("names no bolts")), "{:?}", brief.notes);
}

/// Nobody was told as long as the gaps were good.
#[test]
fn a_pack_over_its_maximum_is_told_though_the_gaps_are_good() {
    let over = |put_in: &[i64]| {
        let visit = Visit::new().shims(LineId::S, put_in, &[]).then();
        let mut visit = visit.line("S", &[(400, 450); 4]);
        blade_of(&mut visit, LineId::S, |blade| blade.pack.as_mut().unwrap().thickest = um(2_000));
        yard_of(visit)
    };
    let said = |yard: &Yard| {
        let reasons = brief_of(yard, LineId::S).reasons;
        reasons.into_iter().find(|it| it.text.contains("By the log")).map(|it| plain(&it.text))
    };
    assert_eq!(said(&over(&[])), None);
    let thick = over(&[2_000]);
    let words = said(&thick).unwrap();
    assert!(words.contains("2.00 is allowed") && words.contains("turn the blade"), "{words}");
    assert_eq!(brief_of(&thick, LineId::S).action_word, "Leave");
    both_say(&thick, LineId::S, &[&words]);
    let many = said(&over(&[50; 9])).unwrap();
    assert!(many.contains("fewer and thicker"), "{many}");
}

#[test]
fn a_pack_over_its_maximum_gets_no_more_shims() {
    let visit = Visit::new().shims(LineId::S, &[2_000], &[]).then();
    let mut visit = visit.line("S", &WIDE);
    blade_of(&mut visit, LineId::S, |blade| blade.pack.as_mut().unwrap().thickest = um(2_000));
    let yard = yard_of(visit);
    let brief = brief_of(&yard, LineId::S);
    let full = brief.reasons.iter().find(|it| it.text.contains("It would take a pack of")).unwrap();
    assert_eq!(full.limit_mm, Some(2.0));
    assert_eq!(brief.action_word, "Rotate", "{}", brief.headline);
    both_say(&yard, LineId::S, &[&brief.headline, &plain(&full.text)]);
}

#[test]
fn an_unknown_thread_is_named_with_those_that_are_known() {
    for torque in [true, false] {
        let mut visit = Visit::new().line("S", &WIDE);
        blade_of(&mut visit, LineId::S, |blade| {
            let bolts = blade.bolts.as_mut().unwrap();
            bolts.size = "M25".to_owned();
            if !torque {
                (bolts.torque, bolts.first_torque) = (None, None);
            }
        });
        let yard = yard_of(visit);
        let bolts = brief_of(&yard, LineId::S).bolts.unwrap();
        assert_eq!(bolts.last.is_some(), torque);
        let said = format!("{} {}", bolts.source, bolts.notes.join(" "));
        assert!(said.contains("“M25” is no thread in the tables; write M24"), "{said}");
        both_say(&yard, LineId::S, &[&bolts.source, bolts.notes.last().unwrap()]);
        let manual = plain(&bolts.torque).contains("see the machine's manual");
        assert_eq!(manual, !torque, "{}", bolts.torque);
    }
}

/// A machine whose limits cannot be is left out, and both say where it is written and what to do.
#[test]
#[expect(clippy::disallowed_methods, reason = "a person writes a file by hand")]
fn contradictory_limits_are_named_with_their_place() {
    let yard = yard_of(Visit::new());
    let other = Shear { id: ShearId::new("wren").unwrap(), ..yard.machines[0].shear.clone() };
    let desk = Desk::with(&yard, [1280.0, 800.0], Theme::Light);
    let folder = desk.root().join("shears/wren");
    fs::create_dir_all(&folder).unwrap();
    let text = fs::read_to_string(desk.root().join("shears/dunlin/shear.ron")).unwrap();
    let text = text.replacen(yard.machines[0].shear.id.as_str(), other.id.as_str(), 1);
    let text = text.replacen("min_mm: 0.3", "min_mm: 0.9", 1);
    fs::write(folder.join("shear.ron"), text).unwrap();
    let desk = desk.again([1280.0, 2000.0], Theme::Light);
    let words = "a minimum stands above its maximum; copy the limits from the manual again";
    let labels = desk.said();
    let shown =
        labels.iter().filter(|it| it.contains("a minimum stands above its maximum")).count();
    let place = Path::new("shears/wren/shear.ron");
    let home = TempDir::new().unwrap();
    let run = told(home.path(), &["decide", desk.root().to_str().unwrap()]);
    assert!(run.err.contains(words) && run.err.contains(place.to_str().unwrap()), "{}", run.err);
    let checked = told(home.path(), &["check", desk.root().to_str().unwrap()]);
    assert_eq!(checked.code, 1);
    assert!(store::open(&desk.root()).unwrap().issues.len() == 1 && 0 < shown, "{labels:?}");
}

/// Work at bolts nobody wrote down is no work that a machine can carry out.
#[test]
fn a_blade_without_bolts_can_be_recorded_as_turned() {
    let mut visit = Visit::new().finding(FindingKind::ChippedEdge, Some("P2"));
    blade_of(&mut visit, LineId::P, |blade| blade.bolts = None);
    let yard = yard_of(visit);
    let machine = &yard.machines[0];
    let decision = decide(machine, &yard.settings);
    let work = decision.line(LineId::P).unwrap().as_work(&machine.shear);
    assert!(matches!(work.as_slice(), [Work::Turned { .. }]), "no torque of no bolt: {work:?}");
}
