//! Every reason carries its value, its limit, the row of its table and its rule, and says them.
//!
//! On the sample machines as they are, and on visits drawn from a seed in which gaps, findings,
//! marks, work, shelves and blades are whatever can go into a log. Knows nothing of why a reason is
//! given.

use crate::visit::{Visit, um};
use gapwright::{
    brief::{Numbers, decision::tell_all, plain, told::Told},
    domain::{
        decide::{MachineDecision, Reason, decide},
        log::{FindingKind, Mark, MarkKind, Work},
        machine::{BladeId, Shear},
        quantity::{Hours, LengthUnit},
        yard::ShelfItem,
    },
};
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg64Mcg;
use std::collections::BTreeSet;

const MACHINES: [&str; 3] = ["heron", "wren", "dunlin"];

/// What a reason says: its sentence and its source.
#[track_caller]
fn whole(told: &Told) {
    let said = format!("{} {}", plain(&told.text), told.source);
    let Told { value, limit, row, rule, .. } = told;
    assert!([value, limit, row].iter().all(|it| !it.is_empty()) && !rule.is_empty(), "{told:?}");
    assert!(said.contains(value), "the value {value:?} is not in {said:?}");
    assert!(said.contains(limit), "the limit {limit:?} is not in {said:?}");
    assert!(row.contains("row") && told.source.starts_with(row), "{told:?}");
    assert!(told.source.contains(&format!("rule: {rule}")), "{told:?}");
    let numbers = [told.value_mm, told.limit_mm];
    assert!(numbers.iter().flatten().all(|it| it.is_finite()), "{told:?}");
    assert!(told.limit_mm.is_none() || told.value_mm.is_some(), "a limit for nothing: {told:?}");
    assert!(!said.contains("NaN") && !said.contains("**"), "{said}");
}

/// The kinds of reasons that were given, by their names in the code.
type Kinds = BTreeSet<String>;

fn look(decision: &MachineDecision, shear: &Shear, n: Numbers, kinds: &mut Kinds) {
    for (line, brief) in decision.lines.iter().zip(tell_all(decision, shear, n)) {
        assert!(!line.reasons.is_empty(), "no reason for {} on {}", brief.headline, line.line);
        assert_eq!(line.reasons.len(), brief.reasons.len());
        brief.reasons.iter().for_each(whole);
        kinds.extend(line.reasons.iter().map(kind_of));
    }
}

/// `BeyondStop`.
fn kind_of(reason: &Reason) -> String {
    format!("{reason:?}").chars().take_while(char::is_ascii_alphabetic).collect()
}

#[test]
fn no_reason_on_a_sample_machine_lacks_what_it_rests_on() {
    let mut kinds = Kinds::new();
    for name in MACHINES {
        let Visit { machine, settings, .. } = Visit::to(name);
        for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
            let n = Numbers { unit, ..Numbers::default() };
            look(&decide(&machine, &settings), &machine.shear, n, &mut kinds);
        }
    }
    assert!(8 <= kinds.len(), "{kinds:?}");
}

#[test]
fn no_reason_after_visits_drawn_from_a_seed_lacks_what_it_rests_on() {
    let mut kinds = Kinds::new();
    for seed in 0..150 {
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        let unit = [LengthUnit::Millimetre, LengthUnit::Inch][rng.random_range(0..2)];
        let n = Numbers { unit, ..Numbers::default() };
        let mut visit = machine(&mut rng);
        for _ in 0..rng.random_range(1..4) {
            visit = drawn(visit, &mut rng).then();
        }
        let decision = decide(&visit.machine, &visit.settings);
        look(&decision, &visit.machine.shear, n, &mut kinds);
    }
    // There are 30 kinds.
    assert!(26 <= kinds.len(), "only {} kinds: {kinds:?}", kinds.len());
}

/// A machine, with a log or without, on a yard whose shelf and whose blades are what they may be.
fn machine(rng: &mut Pcg64Mcg) -> Visit {
    let mut visit = if rng.random_bool(0.6) {
        Visit::first()
    } else {
        Visit::to(MACHINES[rng.random_range(0..3)])
    };
    match rng.random_range(0..4) {
        0 => visit.settings.shelf.clear(),
        1 => {
            let item = |thickness| ShelfItem { thickness: um(thickness), count: 2 };
            visit.settings.shelf = vec![item(100), item(500)];
        }
        _ => {}
    }
    for blade in &mut visit.machine.shear.blades {
        if rng.random_bool(0.3) {
            blade.wear.edge_radius_max = Some(um(2_000));
        }
        match rng.random_range(0..8) {
            0 => blade.pack = None,
            1 => blade.pack.iter_mut().for_each(|it| it.step = Some(um(150))),
            2 => blade.hours_per_edge = Hours::from_whole(rng.random_range(20..400)),
            3 => blade.pack.iter_mut().for_each(|it| it.thickest = um(500)),
            4 => blade.edges = 2,
            _ => {}
        }
    }
    visit
}

/// A visit of eight hours later, in which anything can be.
fn drawn(mut visit: Visit, rng: &mut Pcg64Mcg) -> Visit {
    visit.next.meter = visit.next.meter + Hours::from_whole(rng.random_range(0..40));
    let shear = visit.machine.shear.clone();
    for line in &shear.lines {
        if rng.random_bool(0.3) {
            continue;
        }
        let whole_um = line.limits.stop().max.nm() / 1_000;
        let first = rng.random_range(0..whole_um + 200) / 50 * 50;
        let slope = [0, 0, 0, 50, 150][rng.random_range(0..5)];
        for (place, station) in (0..).zip(&line.stations) {
            let go = first + slope * place;
            let at = station.id.to_string();
            visit = match rng.random_range(0..20) {
                0 => visit.open_reading(&at, go),
                1 => visit,
                _ => visit.reading(&at, go, go + 50),
            };
        }
    }
    for _ in 0..rng.random_range(0..3) {
        let kind = kind(rng);
        let line = &shear.lines[rng.random_range(0..shear.lines.len())];
        let at = format!("{}1", line.id);
        visit = visit.finding(kind, rng.random_bool(0.8).then_some(at.as_str()));
        if let Some(finding) = visit.next.findings.last_mut() {
            finding.size = rng.random_bool(0.5).then_some(um(6_000));
        }
    }
    for _ in 0..rng.random_range(0..3) {
        let blade = &shear.blades[rng.random_range(0..shear.blades.len())];
        let value = um(rng.random_range(1..24) * 100);
        let kind = MarkKind::ALL[rng.random_range(0..3)];
        visit.next.marks.push(Mark { blade: blade.id.clone(), kind, value });
    }
    for _ in 0..rng.random_range(0..3) {
        let blade =
            |rng: &mut Pcg64Mcg| shear.blades[rng.random_range(0..shear.blades.len())].id.clone();
        let (one, other) = (blade(rng), blade(rng));
        visit = visit.work(work(&shear, one, other, rng));
    }
    visit
}

fn kind(rng: &mut Pcg64Mcg) -> FindingKind {
    [
        FindingKind::StrawStreak,
        FindingKind::BlueStreak,
        FindingKind::SurfaceCracks,
        FindingKind::ChippedEdge,
        FindingKind::Jam,
        FindingKind::Chatter,
        FindingKind::LooseBolt,
        FindingKind::StockCaught,
        FindingKind::Own("rattle at the tip".to_owned()),
    ][rng.random_range(0..9)]
    .clone()
}

fn work(shear: &Shear, blade: BladeId, with: BladeId, rng: &mut Pcg64Mcg) -> Work {
    let (put_in, pack) = (vec![um(250)], vec![um(500)]);
    match rng.random_range(0..6) {
        0 => Work::Shims { blade, bolts: None, put_in, take_out: vec![] },
        1 => Work::Shims { blade, bolts: None, put_in: vec![], take_out: put_in },
        2 => Work::Turned { edge: rng.random_range(1..3), blade, pack },
        3 => Work::Replaced { blade, pack },
        4 if blade != with => Work::Swapped { blade, with },
        _ => {
            let known = shear.blade(&blade).and_then(|it| it.bolts.as_ref()?.torque);
            let torque =
                known.or_else(|| shear.blades.iter().find_map(|it| it.bolts.as_ref()?.torque));
            Work::Tightened { blade, torque: torque.unwrap() }
        }
    }
}
