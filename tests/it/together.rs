//! Two windows, two tablets, one yard: what either of them confirmed is in the end in both.

use crate::{
    desk::{Desk, now},
    quay::{any_session, full_session, heron, yard},
    visit::station,
};
use chrono::{Offset as _, Utc};
use egui::Theme;
use gapwright::{
    domain::{
        log::{Mark, MarkKind, Reading, Session, SessionId, SignFault, fold, merge},
        quantity::Length,
    },
    gui::App,
    store::{self, StoreError, Writer, medium::Disk, medium::Medium as _},
    workbench::Command,
};
use proptest::prelude::*;
use std::{fs, path::Path, thread};

pub(crate) fn whole(hour: u32) -> Session {
    Session { amends: None, ..full_session(hour) }
}

/// Some sessions, of which each may correct any other, and the same in another order.
fn amended() -> impl Strategy<Value = (Vec<Session>, Vec<Session>)> {
    let each = (any_session(), proptest::option::of(0..8_usize));
    proptest::collection::vec(each, 1..8)
        .prop_map(|drawn| {
            let ids: Vec<SessionId> = drawn.iter().map(|(it, _)| it.id.clone()).collect();
            let mut known = std::collections::BTreeSet::new();
            drawn
                .into_iter()
                .filter(|(session, _)| known.insert(session.id.clone()))
                .map(|(session, amends)| Session {
                    amends: amends.and_then(|at| ids.get(at).cloned()),
                    ..session
                })
                .collect::<Vec<_>>()
        })
        .prop_flat_map(|sessions| (Just(sessions.clone()), Just(sessions).prop_shuffle()))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]
    /// Corrections chain and cross; whichever tablet's files arrive first, the state is the same.
    #[test]
    fn sessions_fold_to_one_state_in_any_order((one, other) in amended()) {
        prop_assert_eq!(fold(&heron(), &one), fold(&heron(), &other));
    }

    /// Two windows that wrote one draft lose nothing that either of them confirmed.
    #[test]
    fn a_draft_of_two_windows_holds_what_both_confirmed(
        (base, theirs, ours) in (any_session(), any_session(), any_session())
    ) {
        let of = |it: &Session| Session { readings: one_each(it), ..it.clone() };
        let named = |it: &Session| Session { id: base.id.clone(), taken: base.taken, ..of(it) };
        let (base, theirs, ours) = (of(&base), named(&theirs), named(&ours));
        let both = merge(Some(&base), &theirs, &ours);
        let new = |it: &&Reading| !base.readings.contains(it);
        for reading in theirs.readings.iter().chain(&ours.readings).filter(new) {
            prop_assert!(both.readings.contains(reading), "{reading:?} is lost");
        }
        for mark in theirs.marks.iter().chain(&ours.marks) {
            prop_assert!(base.marks.contains(mark) || both.marks.contains(mark), "{mark:?}");
        }
        for remark in theirs.remarks.iter().chain(&ours.remarks) {
            prop_assert!(base.remarks.contains(remark) || both.remarks.contains(remark));
        }
        for finding in theirs.findings.iter().chain(&ours.findings) {
            prop_assert!(base.findings.contains(finding) || both.findings.contains(finding));
        }
        prop_assert_eq!(&merge(Some(&base), &theirs, &base), &theirs, "only they wrote");
        prop_assert_eq!(&merge(Some(&base), &base, &ours), &ours, "only we wrote");
        prop_assert_eq!(&merge(Some(&base), &ours, &ours), &ours, "both wrote the same");
        prop_assert_eq!(&merge(Some(&theirs), &both, &both), &both, "and then it is settled");
    }
}

/// A window keeps one reading a station.
fn one_each(session: &Session) -> Vec<Reading> {
    let mut known = std::collections::BTreeSet::new();
    session.readings.iter().filter(|it| known.insert(it.station)).cloned().collect()
}

fn measure(app: &mut App, at: &str, stacks: [&str; 2]) {
    let ctx = egui::Context::default();
    app.act(&ctx, Command::ChooseStation(station(at)));
    app.act(&ctx, Command::PositionReached);
    for stack in stacks {
        app.act(&ctx, Command::Type(stack.into()));
        app.act(&ctx, Command::Confirm);
    }
}

fn read(app: &App) -> Vec<String> {
    let visit = app.bench().visit().unwrap();
    visit
        .session
        .readings
        .iter()
        .map(|it| format!("{} {}", it.station, it.bracket.go().mm()))
        .collect()
}

/// A second window onto the yard of the first.
fn second(desk: &Desk) -> App {
    let opened = store::open(&desk.root()).unwrap();
    let mut app = App::new(opened, desk.root(), now, Utc.fix(), 8);
    let machine = desk.window.state().bench().machine().unwrap().shear.id.clone();
    app.act(&egui::Context::default(), Command::ChooseMachine(machine));
    app
}

fn desk() -> Desk {
    Desk::open([1280.0, 800.0], Theme::Light)
}

#[test]
fn two_windows_measure_one_visit_and_neither_loses_a_reading() {
    let mut desk = desk();
    measure(desk.window.state_mut(), "J1", ["0.30", "0.35"]);
    let mut other = second(&desk);
    assert_eq!(read(&other), ["J1 0.3"], "the visit is taken up");
    measure(&mut other, "J2", ["0.35", "0.40"]);
    measure(desk.window.state_mut(), "P1", ["0.55", "0.60"]);
    assert_eq!(read(desk.window.state()), ["J1 0.3", "J2 0.35", "P1 0.55"]);
    // Both measure one station before they have seen each other's reading.
    measure(&mut other, "P2", ["0.50", "0.55"]);
    measure(desk.window.state_mut(), "P2", ["0.55", "0.60"]);
    let last = &read(desk.window.state())[3..];
    assert_eq!(last, ["P2 0.5", "P2 0.55"], "both are kept");
    let shown = desk.window.state().bench().visit().unwrap().reading(station("P2")).cloned();
    assert_eq!(shown.map(|it| it.bracket.go().mm()), Some(0.55), "this window shows its own");
    let on_disk = store::open(&desk.root()).unwrap().drafts;
    assert_eq!(on_disk.len(), 1);
    assert_eq!(on_disk[0].readings.len(), 5);
}

#[test]
fn a_visit_signed_in_another_window_goes_on_with_what_that_one_did_not_have() {
    let mut desk = desk();
    measure(desk.window.state_mut(), "J1", ["0.30", "0.35"]);
    let mut other = second(&desk);
    measure(desk.window.state_mut(), "J2", ["0.35", "0.40"]);
    let ctx = egui::Context::default();
    let id = other.bench().visit().unwrap().session.id.clone();
    let meter = other.bench().machine().unwrap().history.last().unwrap().meter_after();
    other.act(&ctx, Command::TypeInitials("KW".into()));
    let mut signed = other.bench().visit().unwrap().session.clone();
    (signed.meter, signed.by) = (meter, "KW".into());
    signed.readings.retain(|it| it.station == station("J1"));
    store::sign(&desk.root(), &signed).unwrap();
    let left = store::open(&desk.root()).unwrap();
    assert!(left.issues[0].what.contains("holds more than the signed session"), "{left:?}");
    let arrival = gapwright::workbench::Arrival { sessions: vec![signed], ..Default::default() };
    desk.act(Command::Arrived(Box::new(arrival)));
    assert_eq!(read(desk.window.state()), ["J2 0.35"]);
    assert_ne!(desk.window.state().bench().visit().unwrap().session.id, id);
    let opened = store::open(&desk.root()).unwrap();
    assert_eq!((opened.issues.len(), opened.drafts.len()), (0, 1), "a visit of its own by now");
    assert_eq!(opened.drafts[0].readings.len(), 1);
}

/// Wear marks are confirmed like readings; they must not go because somebody signed the gaps.
#[test]
fn marks_and_remarks_outlive_a_visit_that_was_signed_elsewhere_without_them() {
    let mut desk = desk();
    measure(desk.window.state_mut(), "J1", ["0.30", "0.35"]);
    let signed = desk.window.state().bench().visit().unwrap().session.clone();
    let machine = &desk.window.state().bench().machine().unwrap().shear;
    let blade = machine.blades[0].id.clone();
    let mark = Mark { blade, kind: MarkKind::EdgeRadius, value: Length::from_um(800) };
    let more = Session { marks: vec![mark], ..signed.clone() };
    desk.act(Command::DraftKept(Box::new(more.clone())));
    store::save_draft(&desk.root(), &more).unwrap();
    store::sign(&desk.root(), &Session { by: "KW".into(), ..signed.clone() }).unwrap();
    let arrival = gapwright::workbench::Arrival { sessions: vec![signed], ..Default::default() };
    desk.act(Command::Arrived(Box::new(arrival)));
    let drafts = store::open(&desk.root()).unwrap().drafts;
    assert_eq!(drafts.len(), 1);
    assert_eq!((drafts[0].readings.len(), &drafts[0].marks), (0, &more.marks));
    assert_eq!(desk.window.state().bench().visit().unwrap().session.marks, more.marks);
}

/// Clearing a visit here does not clear what another window confirmed in it a moment ago.
#[test]
fn a_cleared_visit_takes_nothing_that_another_window_confirmed() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![])).unwrap();
    let theirs = whole(9);
    let mut ours = theirs.clone();
    ours.readings.pop();
    store::save_draft(dir.path(), &theirs).unwrap();
    store::discard_draft(dir.path(), &ours).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().drafts, std::slice::from_ref(&theirs));
    store::discard_draft(dir.path(), &theirs).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().drafts, []);
}

/// Who holds the lock may be bringing a reading into the draft: it is not taken from under their
/// hands.
#[test]
fn signing_leaves_the_draft_while_another_window_writes_it() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![])).unwrap();
    store::save_draft(dir.path(), &whole(9)).unwrap();
    let draft = || fs::read_dir(dir.path().join("shears/heron/drafts")).unwrap().next();
    let held = Disk.lock(&dir.path().join(".gapwright.lock")).unwrap().unwrap();
    store::sign(dir.path(), &whole(9)).unwrap();
    assert!(draft().is_some());
    let opened = store::open(dir.path()).unwrap();
    assert_eq!((opened.drafts, opened.issues), (vec![], vec![]), "it is done with");
    drop(held);
    store::sign(dir.path(), &whole(9)).unwrap();
    assert!(draft().is_none());
}

#[test]
fn a_draft_that_cannot_be_read_is_kept_beside_the_one_that_takes_its_name() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![])).unwrap();
    store::save_draft(dir.path(), &whole(9)).unwrap();
    let folder = dir.path().join("shears/heron/drafts");
    let draft = fs::read_dir(&folder).unwrap().next().unwrap().unwrap().path();
    let torn = fs::read(&draft).unwrap()[..200].to_vec();
    put(&draft, &torn);
    let ours = Session { readings: vec![], ..whole(9) };
    Writer::new(&Disk, dir.path()).merge_draft(None, &ours).unwrap();
    let opened = store::open(dir.path()).unwrap();
    assert_eq!((opened.drafts, opened.issues), (vec![ours], vec![]));
    assert_eq!(fs::read(draft.with_extension("unread")).unwrap(), torn);
    put(&draft, b"torn again");
    Writer::new(&Disk, dir.path()).merge_draft(None, &whole(9)).unwrap();
    assert_eq!(fs::read(draft.with_extension("unread")).unwrap(), torn, "the first copy stays");
}

#[expect(clippy::disallowed_methods, reason = "a file that comes from elsewhere, piece by piece")]
pub(crate) fn put(path: &Path, bytes: &[u8]) {
    fs::write(path, bytes).unwrap();
}

#[test]
fn only_one_window_writes_what_is_not_written_once() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![])).unwrap();
    let held = Disk.lock(&dir.path().join(".gapwright.lock")).unwrap().unwrap();
    let refused = store::save_settings(dir.path(), &yard(vec![]).settings).unwrap_err();
    assert!(matches!(refused, StoreError::BeingWritten(_)), "{refused}");
    assert!(refused.to_string().contains("save again in a moment"));
    drop(held);
    store::save_settings(dir.path(), &yard(vec![]).settings).unwrap();
    // Ten windows keep one draft at once, each with a reading of its own.
    let bases: Vec<Session> = (0..4).map(|_| Session { readings: vec![], ..whole(9) }).collect();
    thread::scope(|scope| {
        for (number, base) in bases.iter().enumerate() {
            let root = dir.path();
            scope.spawn(move || {
                let readings = vec![whole(9).readings[number].clone()];
                let ours = Session { readings, ..base.clone() };
                Writer::new(&Disk, root).merge_draft(Some(base), &ours).unwrap();
            });
        }
    });
    assert_eq!(store::open(dir.path()).unwrap().drafts[0].readings.len(), 4);
}

#[test]
fn the_last_ten_edits_of_a_yard_can_be_taken_back_by_hand() {
    let dir = tempfile::tempdir().unwrap();
    store::create_yard(dir.path(), &yard(vec![])).unwrap();
    let named = |number: usize| gapwright::domain::yard::Settings {
        name: format!("Quay {number}"),
        ..yard(vec![]).settings
    };
    for number in 1..=14 {
        store::save_settings(dir.path(), &named(number)).unwrap();
        store::save_settings(dir.path(), &named(number)).unwrap();
    }
    let mut kept: Vec<String> = fs::read_dir(dir.path().join("backups"))
        .unwrap()
        .map(|it| it.unwrap().file_name().into_string().unwrap())
        .collect();
    kept.sort();
    assert_eq!((kept.len(), kept[0].as_str()), (10, "yard-0005.ron"), "{kept:?}");
    put(&dir.path().join("yard.ron"), b"(format: 1,");
    let said = store::open(dir.path()).unwrap().issues[0].next.clone();
    assert!(said.ends_with("kept as backups/yard-0014.ron"), "{said}");
    fs::copy(dir.path().join("backups/yard-0014.ron"), dir.path().join("yard.ron")).unwrap();
    assert_eq!(store::open(dir.path()).unwrap().yard.settings, named(13));
    let mut heron = heron();
    heron.name = "Old Heron".into();
    store::save_shear(dir.path(), &heron).unwrap();
    assert!(dir.path().join("shears/heron/backups/shear-0001.ron").exists());
    assert_eq!(store::check(dir.path()), []);
}

#[test]
fn a_folder_that_is_gone_for_a_while_costs_no_reading() {
    let mut desk = desk();
    measure(desk.window.state_mut(), "J1", ["0.30", "0.35"]);
    let away = desk.root().with_file_name("away");
    fs::rename(desk.root(), &away).unwrap();
    measure(desk.window.state_mut(), "J2", ["0.35", "0.40"]);
    let told = desk.window.state().bench().notice().cloned().unwrap();
    assert_eq!((told.grave, told.fact.as_str()), (true, "Not saved: the folder is not there."));
    assert!(told.next.starts_with("Plug the drive back in"), "{told:?}");
    assert!(!desk.root().exists(), "no yard grows where the drive was");
    assert_eq!(read(desk.window.state()), ["J1 0.3", "J2 0.35"], "what was typed is still here");
    fs::rename(&away, desk.root()).unwrap();
    measure(desk.window.state_mut(), "P1", ["0.55", "0.60"]);
    let drafts = store::open(&desk.root()).unwrap().drafts;
    assert_eq!(drafts[0].readings.len(), 3, "with the next reading all are on the disk");
    let told = desk.window.state().bench().notice();
    assert!(told.is_none_or(|it| !it.fact.starts_with("Not saved")), "it is saved now: {told:?}");
}

#[test]
fn what_was_begun_before_the_program_ended_is_told_at_the_next_start() {
    let mut desk = desk();
    measure(desk.window.state_mut(), "J1", ["0.30", "0.35"]);
    measure(desk.window.state_mut(), "J2", ["0.35", "0.40"]);
    let name = desk.window.state().bench().machine().unwrap().shear.name.clone();
    let next = second(&desk);
    let told = next.bench().notice().unwrap();
    let fact = format!("A visit to {name} was not signed. Its 2 readings are here again.");
    assert_eq!((told.fact.as_str(), told.grave), (fact.as_str(), false));
}

/// A clock that was set back dates a visit before the last one: it is kept, and not signed so.
#[test]
fn a_clock_that_was_set_back_costs_no_reading() {
    let desk = desk();
    let opened = store::open(&desk.root()).unwrap();
    let before = || now() - chrono::TimeDelta::days(400);
    let mut app = App::new(opened, desk.root(), before, Utc.fix(), 9);
    measure(&mut app, "J1", ["0.30", "0.35"]);
    let ctx = egui::Context::default();
    let meter = app.bench().machine().unwrap().history.last().unwrap().meter_after();
    app.act(&ctx, Command::TypeMeter(meter.h().to_string()));
    app.act(&ctx, Command::TypeInitials("KW".into()));
    app.act(&ctx, Command::SignOff);
    let fault = app.bench().visit().unwrap().sign_fault.clone();
    assert!(matches!(fault, Some(SignFault::ClockBehind { .. })), "{fault:?}");
    assert_eq!(store::open(&desk.root()).unwrap().drafts[0].readings.len(), 1);
    // The clock is right after all, and the last session's was ahead.
    app.act(&ctx, Command::SignAfterTheLast);
    let opened = store::open(&desk.root()).unwrap();
    let history = &opened.yard.machine(&app.bench().machine().unwrap().shear.id).unwrap().history;
    let [.., before, last] = history.sessions.as_slice() else { panic!("two sessions") };
    assert_eq!(last.readings.len(), 1, "it stands last, although it was signed a year before");
    assert_eq!(last.taken, before.taken + chrono::TimeDelta::seconds(1));
    assert!(last.note.starts_with(&format!("Signed {}", &before_now())), "{}", last.note);
    // A jam after it is the newest thing that happened, whatever the clock says.
    app.act(&ctx, Command::ReportNow(gapwright::domain::log::FindingKind::Jam));
    let history = &app.bench().machine().unwrap().history;
    assert_eq!(history.last().unwrap().findings.len(), 1);
    assert!(history.last().unwrap().taken > history.sessions[history.sessions.len() - 2].taken);
}

fn before_now() -> String {
    (now() - chrono::TimeDelta::days(400)).format("%Y-%m-%dT").to_string()
}
