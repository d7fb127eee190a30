//! A change that nobody wrote down is said wherever hours are told that run through it.
//!
//! The jaw of the sample's Wren spread between two visits: at T2 the line through it says 32 h to
//! the working limit, and behind it 337 h.

use crate::{
    cli::{json, sample, told},
    desk::Desk,
};
use egui::Theme;
use egui_kittest::kittest::Queryable as _;
use gapwright::{
    brief::{self, Numbers},
    domain::{
        decide::{Reason, decide},
        log::{Remark, SessionId},
        machine::{LineId, ShearId, StationId},
        yard::Machine,
    },
    exchange,
    workbench::{Command, Screen},
};

const SAID: &str = "in doubt";
const WHY: &str =
    "A change at 6\u{a0}796\u{a0}service hours is not in the log, and these hours run through it.";

fn wren() -> ShearId {
    ShearId::new("wren").unwrap()
}

fn t2() -> StationId {
    "T2".parse().unwrap()
}

#[test]
fn the_terminal_and_other_programs_are_told() {
    let home = tempfile::tempdir().unwrap();
    let yard = sample();
    let yard = yard.to_str().unwrap();
    let ask = ["trend", yard, "--shear", "wren", "--station", "T2"];
    let text = told(home.path(), &ask).out;
    assert!(text.contains(&format!("upper working limit 1.40: 32\u{a0}h {SAID}")), "{text}");
    let value = json(&told(home.path(), &[&ask[..], &["--json"]].concat()));
    assert_eq!(value["rate_through_break_h"].as_f64(), Some(6_795.9));
    for to in value["hours_to"].as_array().unwrap() {
        assert_eq!(to["through_break_h"].as_f64(), Some(6_795.9), "{to}");
    }
    let value = json(&told(home.path(), &["decide", yard, "--shear", "wren", "--json"]));
    let lines = value["shears"][0]["lines"].as_array().unwrap();
    let tip = lines.iter().find(|it| it["line"] == "T").unwrap();
    assert_eq!(tip["hours_to_working_limit"]["through_break_h"].as_f64(), Some(6_795.9));
}

#[test]
fn every_place_that_shows_the_hours_says_so() {
    let mut desk = Desk::open([1600.0, 1000.0], Theme::Light);
    let (machine, decision) = desk.machine("wren");
    let n = Numbers::default();
    let tip = decision.line(LineId::T).unwrap();
    let line = brief::decision::tell_line(tip, &machine.shear, n);
    assert_eq!((line.hours.as_str(), line.interval.as_str()), ("32\u{a0}h", SAID));
    assert!(line.notes.iter().any(|it| it == WHY), "Decide and the job sheet: {:?}", line.notes);
    let trend = brief::trend::tell(&machine, &decision, LineId::T, n).unwrap();
    assert!(trend.stations[1].spoken.ends_with(&format!("32\u{a0}h {SAID}")));
    assert!(brief::plain(&trend.advice.text).contains(WHY), "{}", trend.advice.text);
    let glance = brief::trend::glance(&machine, &decision, LineId::T, n).unwrap();
    assert!(glance.spoken.contains(SAID), "{}", glance.spoken);
    let table = exchange::growth_table(&machine.shear, &decision);
    let newest = table.lines().rfind(|row| row.starts_with("wren,T,T2,")).unwrap();
    assert!(newest.contains(",6795.9,"), "{newest}");

    desk.act(Command::ChooseMachine(wren()));
    desk.act(Command::Go(Screen::Yard));
    let standing = brief::yard::Standing::of(&machine, &decision, n);
    assert_eq!(standing.hours.1, SAID, "the next limit on Yard");
    desk.act(Command::Go(Screen::Trend));
    desk.act(Command::ChooseLine(LineId::P));
    assert!(0 < desk.window.query_all_by_label_contains("trend of T").count());
}

/// The newest reading moved to where the doubtful line says that little is left.
#[test]
fn a_shim_that_a_doubtful_line_alone_calls_for_says_so() {
    let desk = Desk::open([1024.0, 768.0], Theme::Light);
    let yard = desk.window.state().bench().yard().clone();
    let mut settings = yard.settings.clone();
    settings.intervals.look = gapwright::domain::quantity::Hours::from_whole(40);
    let machine: &Machine = yard.machine(&wren()).unwrap();
    let decided = decide(machine, &settings);
    let tip = decided.line(LineId::T).unwrap();
    assert!(tip.reasons.iter().any(|it| matches!(it, Reason::Soon { .. })), "{:?}", tip.reasons);
    let told = brief::decision::tell_line(tip, &machine.shear, Numbers::default());
    let soon = told.reasons.iter().find(|it| it.text.contains("nears the working limit")).unwrap();
    assert!(soon.text.ends_with(WHY), "{}", soon.text);

    // Once the line begins anew there, nothing is near.
    let place = tip.stations[1].trend.changes[0].place;
    let session: SessionId = tip.stations[1].trend.observations[place].session.clone();
    let mut sessions = machine.sessions.clone();
    let last = sessions.last().unwrap().clone();
    let taken = last.taken + chrono::TimeDelta::minutes(1);
    sessions.push(gapwright::domain::log::Session {
        id: SessionId::new(taken, 7),
        taken,
        readings: vec![],
        findings: vec![],
        work: vec![],
        remarks: vec![Remark::Moved { session, line: LineId::T, reason: String::new() }],
        ..last
    });
    let machine = Machine::new(machine.shear.clone(), sessions);
    let decided = decide(&machine, &settings);
    let tip = decided.line(LineId::T).unwrap();
    assert!(!tip.reasons.iter().any(|it| matches!(it, Reason::Soon { .. })), "{:?}", tip.reasons);
    let state = tip.stations.iter().find(|it| it.station == t2()).unwrap();
    let hours = state.hours.unwrap();
    assert!(200.0 < hours.estimate_h.unwrap() && hours.through_break_h.is_none(), "{hours:?}");
}
