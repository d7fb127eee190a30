//! The workbench on its own: commands in, effects carried out on a disk made of maps.

use crate::visit::{station, um};
use chrono::{DateTime, TimeDelta, TimeZone as _, Utc};
use gapwright::{
    domain::{
        gauge::{Bracket, EntryFault, LeafSet},
        log::{FindingKind, Session, SessionId, SignFault, Work},
        machine::{BladeId, LineId, ShearId},
        quantity::{Hours, Length, LengthUnit},
        yard::Yard,
    },
    sample,
    workbench::{Command, Effect, Screen, Visit, Workbench},
};
use std::collections::BTreeMap;

fn end() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 11, 24, 14, 40, 0).unwrap()
}

/// A window, its clock, and the disk behind it.
struct Desk {
    bench: Workbench,
    now: DateTime<Utc>,
    drafts: BTreeMap<SessionId, Session>,
    signed: Vec<Session>,
}

impl Desk {
    fn new() -> Self {
        Self::on(sample::yard(1, 2, 12, end()))
    }

    fn on(yard: Yard) -> Self {
        let (drafts, now) = (BTreeMap::new(), end() + TimeDelta::hours(17));
        Self { bench: Workbench::new(yard, vec![], 7), now, drafts, signed: vec![] }
    }

    fn act(&mut self, command: Command) {
        let mut pending = vec![command];
        while let Some(command) = pending.pop() {
            for effect in self.bench.apply(command, self.now) {
                match effect {
                    Effect::SaveDraft(draft) => {
                        self.drafts.insert(draft.id.clone(), *draft);
                        pending.push(Command::DraftSaved(self.now));
                    }
                    Effect::DropDraft(draft) => drop(self.drafts.remove(&draft.id)),
                    Effect::MoveDraft { from, to } => {
                        self.drafts.remove(&from.id);
                        self.drafts.insert(to.id.clone(), *to);
                        pending.push(Command::DraftSaved(self.now));
                    }
                    Effect::Sign(session) => {
                        assert!(self.signed.iter().all(|it| it.id != session.id), "written once");
                        self.drafts.remove(&session.id);
                        self.signed.push((*session).clone());
                        pending.push(Command::Signed(session));
                    }
                    Effect::FindStudy(_)
                    | Effect::KeepStudy { .. }
                    | Effect::UseScatter(_)
                    | Effect::PickYardFolder
                    | Effect::OpenYard(_)
                    | Effect::ImportTable(_)
                    | Effect::TakeTableIn
                    | Effect::LeaveTable
                    | Effect::ExportTables(_)
                    | Effect::TakePicture(_)
                    | Effect::TakeLesson(_)
                    | Effect::TakeDrawing(_)
                    | Effect::MakeSheet(_)
                    | Effect::KeepTable(..)
                    | Effect::SaveSettings { .. }
                    | Effect::SaveShear { .. }
                    | Effect::ReadShear(..)
                    | Effect::ReadSettings(_)
                    | Effect::PickNewFolder
                    | Effect::MakeYard { .. } => {}
                }
            }
        }
    }

    /// Types and presses Enter.
    fn enter(&mut self, text: &str) {
        self.act(Command::Type(text.into()));
        self.act(Command::Confirm);
    }

    fn go_to(&mut self, at: &str) {
        self.act(Command::ChooseStation(station(at)));
    }

    fn later(&mut self, minutes: i64) {
        self.now += TimeDelta::minutes(minutes);
    }

    fn sign(&mut self, hours: i32) {
        let last = self.bench.machine().unwrap().history.last().unwrap().meter_after();
        let meter = last + Hours::from_whole(hours);
        self.act(Command::TypeMeter(meter.h().to_string()));
        self.act(Command::TypeInitials("QX".into()));
        self.act(Command::SignOff);
    }

    fn visit(&self) -> &Visit {
        self.bench.visit().unwrap()
    }

    fn fault(&self) -> Option<EntryFault> {
        self.visit().entry().fault
    }

    fn felt(&self, at: &str) -> Option<Bracket> {
        self.visit().reading(station(at)).map(|reading| reading.bracket)
    }

    fn choose(&mut self, name: &str) {
        self.act(Command::ChooseMachine(ShearId::new(name).unwrap()));
    }

    /// The power goes: only the disk is left.
    fn crash(self) -> Self {
        let Self { now, drafts, signed, .. } = self;
        let mut yard: Yard = sample::yard(1, 2, 12, end());
        for session in &signed {
            yard.machine_mut(&session.shear).unwrap().add(session.clone());
        }
        let bench = Workbench::new(yard, drafts.values().cloned().collect(), 7);
        Self { bench, now, drafts, signed }
    }
}

fn between(go: i64, no_go: i64) -> Option<Bracket> {
    Bracket::new(um(go), Some(um(no_go))).ok()
}

#[test]
fn what_a_hand_says_at_a_station_becomes_its_reading() {
    let mut desk = Desk::new();
    let thinnest = desk.bench.yard().settings.leaf_sets[0].leaves()[0].thickness;
    let thickest = desk.bench.yard().settings.leaf_sets[0].stacks().next_back().unwrap();
    desk.go_to("P1");
    desk.enter("0.55");
    assert_eq!((desk.felt("P1"), desk.fault()), (None, None), "now the stack that does not go");
    desk.enter("0.60");
    assert_eq!(desk.felt("P1"), between(550, 600));
    assert_eq!(desk.visit().at, station("P2"), "and the next station comes up");

    // The stack that stuck first, from leaves in the hand.
    desk.act(Command::TapLeaf(um(500)));
    desk.act(Command::TapLeaf(um(150)));
    desk.act(Command::DoesNotGo);
    desk.enter("0.60");
    assert_eq!(desk.felt("P2"), between(600, 650));

    desk.act(Command::TapLeaf(thinnest));
    desk.act(Command::DoesNotGo);
    desk.act(Command::Confirm);
    assert_eq!(desk.felt("P3"), Bracket::new(Length::ZERO, Some(thinnest)).ok());
    desk.act(Command::Type((thickest.mm()).to_string()));
    desk.act(Command::Goes);
    desk.act(Command::Confirm);
    assert_eq!(desk.felt("P4"), Bracket::new(thickest, None).ok());
    desk.go_to("S1");
    desk.act(Command::Type("0.30-0.35".into()));
    desk.act(Command::Goes);
    assert_eq!(desk.fault(), None, "both were typed: nothing is missing");
    desk.act(Command::Confirm);
    assert_eq!(desk.felt("S1"), between(300, 350));
    let draft = desk.drafts.values().next().unwrap();
    assert_eq!((desk.drafts.len(), draft.readings.len()), (1, 5), "what is confirmed is on disk");
}

/// The leaf stamped 0.50 was found to be 0.47.
#[test]
fn a_worn_leaf_is_said_by_its_stamp_and_kept_as_it_is() {
    let mut yard: Yard = sample::yard(1, 2, 12, end());
    let usual = &yard.settings.leaf_sets[0];
    let mut leaves = usual.leaves().to_vec();
    leaves.iter_mut().find(|it| it.thickness == um(500)).unwrap().measured = Some(um(470));
    yard.settings.leaf_sets[0] = LeafSet::new(usual.name().to_owned(), leaves).unwrap();
    let mut desk = Desk::on(yard);
    desk.go_to("P1");
    desk.act(Command::TapLeaf(um(500)));
    desk.act(Command::TapLeaf(um(50)));
    desk.act(Command::Goes);
    assert_eq!(desk.visit().entry().go, Some(um(550)), "said by their stamps");
    desk.enter("0.60");
    assert_eq!(desk.felt("P1"), between(520, 570));
    desk.enter("0.50/0.55");
    assert_eq!(desk.felt("P2"), between(470, 520));
    desk.enter("=0.50");
    assert_eq!(desk.felt("P3"), between(500, 500), "another instrument has no leaves");
    // By their stamps 0.48 could go and 0.50 not.
    desk.go_to("P4");
    desk.enter("0.48/0.50");
    assert!(matches!(desk.fault(), Some(EntryFault::Reversed { .. })), "{:?}", desk.fault());
}

#[test]
fn one_stack_cannot_go_and_not_go() {
    let mut desk = Desk::new();
    desk.go_to("P1");
    desk.enter("0.55");
    for stuck in ["0.55", "0.50"] {
        desk.enter(stuck);
        assert!(matches!(desk.fault(), Some(EntryFault::Reversed { .. })), "{stuck}");
        assert_eq!((desk.felt("P1"), desk.visit().entry().text.as_str()), (None, stuck));
    }
    desk.act(Command::ClearEntry);
    desk.enter("0.55-0.55");
    assert!(matches!(desk.fault(), Some(EntryFault::Reversed { .. })));
    desk.enter("=0.55");
    assert_eq!(desk.felt("P1"), between(550, 550), "another instrument may say it exactly");
}

#[test]
fn enter_on_an_empty_field_names_the_stack_that_is_missing() {
    let mut desk = Desk::new();
    desk.go_to("P1");
    desk.act(Command::Confirm);
    assert_eq!(desk.fault(), Some(EntryFault::Nothing));
    desk.enter("0.55");
    desk.act(Command::Confirm);
    assert_eq!(desk.fault(), Some(EntryFault::OtherMissing { go: Some(um(550)), no_go: None }));
    desk.enter("45");
    assert!(matches!(desk.fault(), Some(EntryFault::TooThick { .. })));
    assert_eq!(desk.visit().entry().text, "45", "a fault never clears what was typed");
    assert!(desk.drafts.is_empty());
}

#[test]
fn undo_takes_back_a_reading_and_nothing_that_was_written_since() {
    let mut desk = Desk::new();
    desk.go_to("P1");
    desk.enter("0.55-0.60");
    desk.go_to("P1");
    desk.enter("0.45-0.50");
    assert_eq!(desk.felt("P1"), between(450, 500), "the newer reading stands");
    desk.act(Command::ToggleFinding(FindingKind::ChippedEdge));
    desk.act(Command::TypeNote("frost".into()));
    desk.act(Command::TypeInitials("QX".into()));
    desk.act(Command::TypeMeter("5000".into()));
    let on_disk = |desk: &Desk| desk.drafts.values().next().cloned().unwrap();
    desk.act(Command::Undo);
    desk.act(Command::Undo);
    assert_eq!(desk.felt("P1"), between(550, 600));
    assert_eq!(desk.visit().at, station("P1"), "and there is the hand again");
    let draft = on_disk(&desk);
    assert_eq!((draft.note.as_str(), draft.by.as_str()), ("frost", "QX"));
    assert_eq!((draft.meter, draft.findings.len()), (Hours::from_whole(5_000), 0));
    assert_eq!(draft, desk.visit().session, "the disk follows");
    desk.act(Command::Undo);
    assert!(desk.felt("P1").is_none() && !desk.visit().can_undo());
    for _ in 0..4 {
        desk.act(Command::Redo);
    }
    assert_eq!(desk.felt("P1"), between(450, 500));
    assert_eq!(on_disk(&desk).findings.len(), 1);
    desk.go_to("P1");
    desk.enter("0.40-0.45");
    assert!(!desk.visit().can_redo(), "a new step forgets the ones taken back");
}

#[test]
fn nothing_to_undo_opens_no_visit() {
    let mut desk = Desk::new();
    desk.act(Command::Undo);
    desk.act(Command::Redo);
    assert!(desk.bench.visit().is_none());
}

#[test]
fn after_a_crash_the_visit_is_where_it_was() {
    let mut desk = Desk::new();
    desk.go_to("J1");
    desk.act(Command::ToggleFinding(FindingKind::LooseBolt));
    desk.act(Command::TypeNote("bolt 3".into()));
    let mut desk = desk.crash();
    assert_eq!(desk.visit().session.note, "bolt 3", "a note to a finding is worth a draft");
    desk.enter("0.30-0.35");
    desk.act(Command::TypeMeter("5001.5".into()));
    let mut desk = desk.crash();
    assert_eq!((desk.visit().at, desk.felt("J1")), (station("J2"), between(300, 350)));
    assert_eq!(desk.visit().meter_text, "5001.5");
    desk.act(Command::ToggleFinding(FindingKind::LooseBolt));
    desk.go_to("J1");
    desk.act(Command::ToggleFinding(FindingKind::LooseBolt));
    assert_eq!(desk.visit().session.findings.len(), 1, "off at J1, on at J2");
    desk.act(Command::DiscardVisit);
    assert!(desk.bench.visit().is_none() && desk.drafts.is_empty());
    assert!(desk.crash().bench.visit().is_none());
}

#[test]
fn two_machines_have_a_visit_each_and_every_session_a_name_of_its_own() {
    let mut desk = Desk::new();
    desk.choose("heron");
    desk.go_to("P1");
    desk.enter("0.55-0.60");
    desk.act(Command::Type("0.70".into()));
    desk.choose("dunlin");
    desk.go_to("S1");
    desk.enter("0.40-0.45");
    desk.choose("heron");
    assert_eq!(desk.visit().entry().text, "0.70", "what was typed waits");
    assert_eq!((desk.felt("P1"), desk.felt("S1")), (between(550, 600), None));
    for _ in 0..3 {
        desk.act(Command::ReportNow(FindingKind::Jam));
    }
    let mut names: Vec<&SessionId> =
        desk.drafts.keys().chain(desk.signed.iter().map(|it| &it.id)).collect();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), 5, "within one minute");

    // A window that was given the same tail finds the drafts of the first.
    let first = desk.drafts.keys().next().unwrap().clone();
    let mut again = desk.crash();
    again.choose("dunlin");
    again.act(Command::DiscardVisit);
    again.go_to("S1");
    again.enter("0.40-0.45");
    assert!(
        again.drafts.contains_key(&first) && again.drafts.len() == 2,
        "no draft is written over"
    );
}

#[test]
fn a_visit_is_dated_by_its_first_confirmed_step() {
    let mut desk = Desk::new();
    desk.go_to("P1");
    desk.later(300);
    desk.act(Command::Type("0.55-0.60".into()));
    desk.act(Command::Confirm);
    assert_eq!(desk.visit().session.taken, desk.now, "somebody only looked in this morning");
    let begun = desk.now;
    desk.later(20);
    desk.enter("0.50-0.55");
    desk.sign(5);
    assert_eq!(desk.signed.last().unwrap().taken, begun);
}

#[test]
fn a_stack_that_is_not_saved_keeps_a_visit_from_being_signed() {
    let mut desk = Desk::new();
    desk.go_to("P1");
    desk.enter("0.55-0.60");
    desk.enter("0.60");
    desk.go_to("S1");
    desk.sign(5);
    let fault = Some(SignFault::Unfinished { station: station("P2") });
    assert_eq!((&desk.visit().sign_fault, desk.signed.len()), (&fault, 0));
    desk.go_to("P2");
    desk.enter("0.65");
    desk.sign(5);
    assert_eq!((desk.signed.len(), desk.bench.screen()), (1, Screen::Decide));
    assert!(desk.drafts.is_empty());
}

#[test]
fn a_jam_logged_while_a_visit_is_open_leaves_the_log_in_order() {
    let mut desk = Desk::new();
    desk.go_to("P1");
    desk.enter("0.55-0.60");
    desk.later(30);
    desk.act(Command::ReportNow(FindingKind::Jam));
    assert!(desk.bench.machine().unwrap().history.due_at_once());
    assert_eq!(desk.felt("P1"), between(550, 600), "the visit goes on");
    desk.later(30);
    desk.sign(5);
    let history = &desk.bench.machine().unwrap().history;
    assert_eq!(history.backwards, []);
    assert_eq!(history.last().unwrap().readings.len(), 1);
    assert!(!history.due_at_once(), "somebody has looked");
}

#[test]
fn work_is_logged_after_the_readings_of_the_open_visit() {
    let mut desk = Desk::new();
    let blade = BladeId("lower-primary".into());
    let shims = || Work::Shims {
        blade: blade.clone(),
        bolts: None,
        put_in: vec![um(100)],
        take_out: vec![],
    };
    desk.go_to("P1");
    desk.enter("0.55-0.60");
    desk.later(30);
    desk.act(Command::RecordWork(vec![shims()]));
    assert!(desk.signed.is_empty(), "nobody typed the meter yet");
    assert!(desk.visit().signing && desk.visit().sign_fault.is_some());
    assert_eq!(desk.bench.screen(), Screen::Measure);
    let last = desk.bench.machine().unwrap().history.last().unwrap().meter_after();
    desk.act(Command::TypeMeter((last + Hours::from_whole(5)).h().to_string()));
    desk.act(Command::TypeInitials("QX".into()));
    desk.act(Command::RecordWork(vec![shims()]));
    assert_eq!(desk.signed.len(), 2);
    let history = &desk.bench.machine().unwrap().history;
    assert!(history.stale(station("P1")), "the reading was taken before the work");
    assert_eq!(history.backwards, []);
    assert_eq!(history.cuts_on(LineId::P).last().unwrap().at, history.service_now());
}

#[test]
fn a_changed_meter_comes_after_whatever_was_logged_on_the_old_one() {
    let mut desk = Desk::new();
    let last = desk.bench.machine().unwrap().history.last().unwrap().meter_after();
    let before = desk.bench.machine().unwrap().history.service_now();
    desk.go_to("P1");
    desk.enter("0.55-0.60");
    desk.later(10);
    desk.act(Command::ReportNow(FindingKind::Chatter));
    desk.later(10);
    desk.act(Command::MeterWasChanged { old: last.h().to_string(), new: "12".into() });
    desk.later(10);
    desk.act(Command::TypeMeter("15".into()));
    desk.act(Command::TypeInitials("QX".into()));
    desk.act(Command::SignOff);
    let history = &desk.bench.machine().unwrap().history;
    assert_eq!((desk.signed.len(), history.backwards.len()), (3, 0));
    assert_eq!(history.service_now() - before, Hours::from_whole(3));
}

#[test]
fn inches_are_typed_as_inches() {
    let mut desk = Desk::new();
    desk.act(Command::SetUnit(LengthUnit::Inch));
    desk.go_to("P1");
    desk.enter(".018");
    desk.enter(".020");
    let nm = |nm| Length::from_nm(nm);
    assert_eq!(desk.felt("P1"), Bracket::new(nm(457_200), Some(nm(508_000))).ok());
}
