//! The service clock: what is due on a machine, and when, by hours of work and by the calendar.

use crate::{
    cli::{json, sample, told},
    visit::Visit,
};
use chrono::{DateTime, TimeDelta, Utc};
use gapwright::domain::{
    decide::{ServiceItem, ServiceTask, ServiceTime, service},
    gauge::Calibration,
    log::{FindingKind, Work},
    machine::{BladeId, LineId},
    quantity::{Hours, Temperature, Torque},
};
use tempfile::TempDir;

fn now(visit: &Visit) -> DateTime<Utc> {
    let last = visit.machine.history.last();
    last.map_or(DateTime::UNIX_EPOCH, |it| it.taken) + TimeDelta::hours(1)
}

fn items(visit: &Visit) -> Vec<ServiceItem> {
    service(&visit.machine, &visit.settings, now(visit))
}

fn time(visit: &Visit, is: impl Fn(&ServiceTask) -> bool) -> Option<ServiceTime> {
    items(visit).into_iter().find(|it| is(&it.task)).map(|it| it.time)
}

fn h(hours: f64) -> Hours {
    Hours::from_h(hours).unwrap()
}

const fn is_look(task: &ServiceTask) -> bool {
    matches!(task, ServiceTask::Look(_))
}

#[test]
fn a_look_is_due_after_eight_hours_and_at_once_after_a_jam() {
    let visit = Visit::new().then();
    assert_eq!(time(&visit, is_look), Some(ServiceTime::In(h(7.0))), "an hour on the clock");
    let last = visit.machine.history.last_measured().unwrap().taken;
    for (clock_h, due) in [(7, false), (8, true), (9, true)] {
        let at = last + TimeDelta::hours(clock_h);
        let items = service(&visit.machine, &visit.settings, at);
        let look = items.iter().find(|it| is_look(&it.task)).unwrap();
        assert_eq!(look.is_due(), due, "after {clock_h} h");
    }
    let items_then = service(&visit.machine, &visit.settings, last + TimeDelta::hours(90));
    let look = items_then.iter().find(|it| is_look(&it.task)).unwrap();
    assert_eq!(look.time, ServiceTime::In(Hours::ZERO), "a clock does not say what was worked");
    let mut jam = visit.finding(FindingKind::Jam, None);
    jam.next.readings.clear();
    let jam = jam.then();
    assert_eq!(time(&jam, is_look), Some(ServiceTime::AtOnce));
    assert!(is_look(&items(&jam).first().unwrap().task), "before everything else");
    assert_eq!(time(&Visit::first(), is_look), Some(ServiceTime::AtOnce));
}

#[test]
fn grease_counts_from_the_last_greasing_and_says_when_nobody_logged_one() {
    let grease = |task: &ServiceTask| matches!(task, ServiceTask::Lubricate(_));
    let never = Visit::first().line("P", &[(400, 450)]).then();
    assert_eq!(time(&never, grease), Some(ServiceTime::Unknown));
    let done = never.work(Work::Lubricated).then();
    assert_eq!(time(&done, grease), Some(ServiceTime::In(h(40.0))));
    let mut later = done;
    later.next.meter = later.next.meter + h(39.0);
    assert_eq!(time(&later.then(), grease), Some(ServiceTime::In(h(0.0))), "due to the hour");
}

#[test]
fn bolts_are_tightened_again_two_hours_after_work_and_then_are_off_the_list() {
    let visit = Visit::new();
    let blade = visit.blade(LineId::S);
    let mine = blade.clone();
    let again =
        move |task: &ServiceTask| matches!(task, ServiceTask::Retorque(it, _) if *it == mine);
    let tighten = |blade: &BladeId| Work::Tightened {
        blade: blade.clone(),
        torque: Torque::from_newton_metres(640.0).unwrap(),
    };
    let worked = visit.shims(LineId::S, &[100], &[]).work(tighten(&blade)).then();
    assert_eq!(time(&worked, &again), Some(ServiceTime::In(h(2.0))));
    let hour = worked.then();
    assert_eq!(time(&hour, &again), Some(ServiceTime::In(h(1.0))));
    let two = hour.then();
    assert_eq!(time(&two, &again), Some(ServiceTime::In(h(0.0))), "two hours are two hours");
    let done = two.work(tighten(&blade)).then();
    assert_eq!(time(&done, &again), None);
}

#[test]
fn a_fresh_edge_asks_for_thin_stock_for_as_long_as_the_yard_says() {
    let visit = Visit::new();
    let blade = visit.blade(LineId::P);
    let mine = blade.clone();
    let thin = move |task: &ServiceTask| matches!(task, ServiceTask::BreakIn(it, _) if *it == mine);
    assert_eq!(time(&visit, &thin), None);
    let mut turned = visit.work(Work::Turned { blade, edge: 2, pack: vec![] }).then();
    assert_eq!(time(&turned, &thin), Some(ServiceTime::For(h(4.0))));
    turned.next.meter = turned.next.meter + h(2.0);
    let turned = turned.then();
    assert_eq!(time(&turned, &thin), Some(ServiceTime::For(h(1.0))));
    assert_eq!(time(&turned.then(), &thin), None, "four hours are over");
}

/// What has cut for hundreds of hours is no fresh edge at another seat; what has cut for two has two
/// to go there as well.
#[test]
fn blades_that_change_places_take_their_settling_along() {
    let visit = Visit::new();
    let line = visit.machine.shear.line(LineId::P).unwrap();
    let [used, turned] = [line.fixed.clone(), line.moving.clone()];
    let thin = |visit: &Visit, blade: &BladeId| {
        time(visit, |it| matches!(it, ServiceTask::BreakIn(of, _) if of == blade))
    };
    let mut visit =
        visit.work(Work::Turned { blade: turned.clone(), edge: 2, pack: vec![] }).then();
    visit.next.meter = visit.next.meter + h(2.0);
    let before = thin(&visit, &turned);
    let swapped = visit.work(Work::Swapped { blade: used.clone(), with: turned.clone() }).then();
    assert_eq!(thin(&swapped, &turned), None, "an old edge");
    assert_eq!(before, Some(ServiceTime::For(h(4.0))));
    assert_eq!(thin(&swapped, &used), Some(ServiceTime::For(h(1.0))), "the turned one");
}

#[test]
fn frost_is_said_below_zero_and_only_while_it_is_fresh() {
    let frost = |task: &ServiceTask| matches!(task, ServiceTask::Frost(_));
    for (c, said) in [(-5, true), (0, false), (4, false)] {
        let mut visit = Visit::new();
        visit.next.air_temp = Some(Temperature::from_whole_c(c));
        let visit = visit.then();
        assert_eq!(time(&visit, frost).is_some(), said, "{c} °C");
        let later = now(&visit) + TimeDelta::hours(23);
        let then = service(&visit.machine, &visit.settings, later);
        assert!(!then.iter().any(|it| frost(&it.task)), "yesterday's weather");
    }
}

#[test]
fn a_calibration_is_listed_a_month_ahead() {
    let gauge = |task: &ServiceTask| matches!(task, ServiceTask::Calibrate(..));
    let today = now(&Visit::new()).date_naive();
    for (days, expected) in [(31, None), (30, Some(30)), (0, Some(0)), (-1, Some(-1))] {
        let mut visit = Visit::new();
        let due = today + TimeDelta::days(days);
        let on = today - TimeDelta::days(400);
        let set = visit.settings.leaf_sets.swap_remove(0);
        visit.settings.leaf_sets = vec![set.calibrated(Some(Calibration { on, due }))];
        assert_eq!(time(&visit, gauge), expected.map(ServiceTime::Days), "{days}");
    }
}

#[test]
fn the_command_says_it_in_words_and_for_other_programs() {
    let home = TempDir::new().unwrap();
    let yard = sample();
    let yard = yard.to_str().unwrap();
    let words = told(home.path(), &["due", "--yard", yard, "--shear", "heron"]);
    assert_eq!(words.code, 0, "{}", words.err);
    assert!(words.out.starts_with("Service of Heron\n"), "{}", words.out);
    assert!(words.out.contains("Look at the gaps"), "{}", words.out);
    let all = json(&told(home.path(), &["due", yard, "--json"]));
    let machines = all["machines"].as_array().unwrap();
    assert_eq!(machines.len(), 3);
    for machine in machines {
        let items = machine["items"].as_array().unwrap();
        assert!(items.iter().any(|it| it["kind"] == "look"), "{machine}");
        assert!(items.iter().all(|it| it["due"].is_boolean() && it["why"].is_string()));
    }
}
