//! Whether the sample yard hangs together and still tells its story, whatever the seed.

use crate::{
    domain::{
        gauge::Bracket,
        log::{FindingKind, Observed, Work},
        machine::{BladeId, LineId, PartTemperatures, StationId},
        quantity::{Length, Temperature},
        trend::{Fit, HoursTo, StationTrend, Which},
        yard::{Machine, Yard},
    },
    sample::{SESSIONS, SHEARS, yard},
};
use chrono::{DateTime, TimeZone as _, Utc};
use std::collections::BTreeSet;

fn end() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 11, 24, 14, 40, 0).unwrap()
}

fn whole(seed: u64) -> Yard {
    yard(seed, SHEARS, SESSIONS, end())
}

fn named<'a>(yard: &'a Yard, name: &str) -> &'a Machine {
    yard.machines.iter().find(|machine| machine.shear.id.as_str() == name).unwrap()
}

fn at(name: &str) -> StationId {
    name.parse().unwrap()
}

/// A reading referred to 20 °C, blades at one temperature and jaws at another.
fn cold(machine: &Machine, station: StationId, observed: &Observed) -> Bracket {
    let line = machine.shear.line(station.line).unwrap();
    let blade = observed.blade_temp.unwrap_or(Temperature::REFERENCE);
    let jaw = observed.jaw_temp.unwrap_or(blade);
    let opening = line.chain.opening_mm(&PartTemperatures {
        moving: blade,
        fixed: blade,
        upper_jaw: jaw,
        lower_jaw: jaw,
    });
    observed.bracket.shifted(Length::from_mm(-opening).unwrap())
}

fn latest(machine: &Machine, station: &str) -> Bracket {
    cold(machine, at(station), machine.history.latest(at(station)).unwrap())
}

fn fit(machine: &Machine, station: &str) -> Fit {
    let cold = |observed: &Observed| Some(cold(machine, at(station), observed));
    StationTrend::of(&machine.history, at(station), cold).fit.unwrap()
}

fn hours_to(machine: &Machine, station: &str, which: Which) -> HoursTo {
    let limits = &machine.shear.line(at(station).line).unwrap().limits;
    let all = fit(machine, station).hours_to(limits);
    all.into_iter().find(|it| it.which == which).unwrap()
}

fn um(um: i64) -> Length {
    Length::from_um(um)
}

#[test]
fn the_same_seed_gives_the_same_yard() {
    assert_eq!(whole(1), whole(1));
    assert_ne!(whole(1), whole(2));
    let one = yard(1, 1, SESSIONS, end());
    assert_eq!(one.machines.first(), Some(named(&whole(1), "heron")), "machines are independent");
}

#[test]
fn every_machine_hangs_together() {
    for (shears, sessions) in [(3, 48), (3, 40), (13, 7), (2, 1), (1, 0), (4, 130), (0, 48)] {
        let yard = yard(5, shears, sessions, end());
        assert_eq!(yard.machines.len(), shears);
        let stacks: BTreeSet<Length> = yard.settings.leaf_sets[0].stacks().collect();
        for machine in &yard.machines {
            let name = &machine.shear.id;
            assert_eq!(machine.shear.check(), [], "{name}");
            assert_eq!(machine.history.sessions.len(), sessions, "{name}: none amended or twice");
            assert_eq!(machine.history.backwards, [], "{name}");
            let times: Vec<_> = machine.sessions.iter().map(|session| session.taken).collect();
            assert!(times.iter().zip(times.iter().skip(1)).all(|(a, b)| a < b), "{name}");
            assert!(times.iter().all(|taken| *taken <= end()), "{name}");
            for session in &machine.sessions {
                for reading in &session.readings {
                    let (go, no_go) = (reading.bracket.go(), reading.bracket.no_go());
                    assert!(go == Length::ZERO || stacks.contains(&go), "{name}: {go:?}");
                    assert!(no_go.is_none_or(|no_go| stacks.contains(&no_go)), "{name}: {no_go:?}");
                    assert!(machine.shear.station(reading.station).is_some(), "{name}");
                }
            }
            for (id, state) in &machine.history.blades {
                let blade = machine.shear.blade(id).unwrap();
                let most = blade.pack.map_or(Length::ZERO, |rules| rules.thickest);
                assert!(state.pack_total() <= most, "{name}: {id} on {:?}", state.pack);
                assert!((1..=blade.edges).contains(&state.edge), "{name}: {id}");
            }
        }
    }
}

/// Links of T and G together are the slot less cutting blade, tip and guide blade, so when all is
/// equally warm the two gaps do not change.
#[test]
fn chains_close_across_the_slot() {
    for machine in &whole(1).machines {
        let shear = &machine.shear;
        let links = |id: LineId| shear.line(id).unwrap().chain.0.iter();
        let total = |opens: bool| -> Length {
            let both = links(LineId::T).chain(links(LineId::G));
            both.filter(|link| link.opens == opens).map(|link| link.length).sum()
        };
        let depth = |id: &str| shear.blade(&BladeId(id.to_owned())).unwrap().depth;
        assert_eq!(total(true), shear.geometry.mouth);
        assert_eq!(total(false), depth("tip-cutting") + depth("tip") + depth("guide"));
        for line in &shear.lines {
            let even = PartTemperatures::even(Temperature::from_whole_c(160));
            assert!(line.chain.opening_mm(&even).abs() < 1e-9, "line {}", line.id);
        }
    }
}

#[test]
fn the_log_holds_every_kind_of_entry() {
    let yard = whole(1);
    let sessions = || yard.machines.iter().flat_map(|machine| &machine.sessions);
    let work = || sessions().flat_map(|session| &session.work);
    assert!(work().any(|it| matches!(it, Work::Shims { take_out, .. } if !take_out.is_empty())));
    assert!(work().any(|it| matches!(it, Work::Turned { .. })));
    assert!(work().any(|it| matches!(it, Work::Replaced { .. })));
    assert!(work().any(|it| matches!(it, Work::Tightened { .. })));
    assert!(work().any(|it| matches!(it, Work::Welded { .. })));
    assert!(work().any(|it| matches!(it, Work::Lubricated)));
    assert!(work().any(|it| matches!(it, Work::MeterChanged { .. })));
    let readings = || sessions().flat_map(|session| &session.readings);
    assert!(readings().any(|reading| !reading.bracket.is_closed()), "somebody lacked a leaf");
    assert!(readings().any(|reading| reading.blade_temp.is_none()), "somebody forgot to note it");
    assert!(sessions().any(|session| session.readings.is_empty() && !session.findings.is_empty()));
}

#[test]
fn heron_shows_all_five_actions() {
    for seed in 0..40 {
        let yard = whole(seed);
        let heron = named(&yard, "heron");
        let blade = |id: &str| &heron.history.blades[&BladeId(id.to_owned())];
        let rules = |id: &str| heron.shear.blade(&BladeId(id.to_owned())).unwrap();

        // Stop: G2 under the stop limit and still shrinking, blue, with shims to take out.
        assert!(latest(heron, "G2").no_go().unwrap() < um(200), "seed {seed}");
        assert!(fit(heron, "G2").rate() < -0.002, "seed {seed}");
        let blue = heron.history.open_findings(LineId::G);
        assert!(blue.iter().any(|it| it.finding.kind == FindingKind::BlueStreak));
        assert_eq!(blade("guide").pack, [um(500), um(250), um(250)]);

        // Shim: S4 leaves the working limits before the next look; 0.80 more brings all back.
        let left = hours_to(heron, "S4", Which::WorkingMax).estimate_h.unwrap();
        assert!(left < 8.0, "seed {seed}: {left} h");
        for station in ["S1", "S2", "S3", "S4"] {
            let after = latest(heron, station).shifted(um(-800));
            assert!(um(300) <= after.go() && after.no_go().unwrap() <= um(500), "seed {seed}");
        }
        assert_eq!(blade("lower-secondary").pack_total(), um(750));

        // Rotate: a chip on P, fresh edges left, the gap itself inside.
        let chipped = heron.history.open_findings(LineId::P);
        assert!(chipped.iter().any(|it| it.finding.size == Some(um(6_000))));
        assert_eq!(blade("lower-primary").fresh_edges(rules("lower-primary")), [3, 4]);
        assert!(24.0 < hours_to(heron, "P4", Which::WorkingMax).low_h.unwrap(), "seed {seed}");

        // Replace: F at its limit, the pack full, no edge left.
        assert!(hours_to(heron, "F2", Which::WorkingMax).estimate_h.unwrap() < 8.0, "seed {seed}");
        assert!(blade("front").fresh_edges(rules("front")).is_empty());
        assert_eq!(Some(blade("front").pack_total()), rules("front").pack.map(|it| it.thickest));

        // Leave: T and J, with the pads tighter than any blade gap.
        assert!(100.0 < hours_to(heron, "T2", Which::WorkingMax).low_h.unwrap(), "seed {seed}");
        assert!(latest(heron, "J2").no_go() <= Some(latest(heron, "P1").go()), "seed {seed}");
    }
}

#[test]
fn dunlin_is_left_alone() {
    for seed in 0..40 {
        let yard = whole(seed);
        let dunlin = named(&yard, "dunlin");
        for station in dunlin.shear.walk() {
            let name = station.to_string();
            let line = dunlin.shear.line(station.line).unwrap();
            let (gap, working) = (latest(dunlin, &name), line.limits.working());
            assert!(
                working.holds(gap.go()) && working.holds(gap.no_go().unwrap()),
                "{seed} {name}"
            );
            for which in [Which::WorkingMax, Which::WorkingMin] {
                let hours = hours_to(dunlin, &name, which);
                assert!(!hours.passed, "seed {seed}, {name}");
                assert!(hours.low_h.is_none_or(|low| 100.0 < low), "seed {seed}, {name}");
            }
            assert!(line.limits.hot_min().mm() < line.hot_gap_mm(gap.go().mm()), "{seed} {name}");
            assert_eq!(dunlin.history.open_findings(station.line).len(), 0);
            assert!(!dunlin.history.stale(station), "seed {seed}, {name}");
        }
        assert!(!dunlin.history.due_at_once());
    }
}

#[test]
fn wren_has_a_spread_jaw_and_a_jam() {
    for seed in 0..40 {
        let yard = whole(seed);
        let wren = named(&yard, "wren");
        let at_session = |station: &str, place: usize| -> f64 {
            let observed = &wren.history.readings[&at(station)][place];
            cold(wren, at(station), observed).middle().unwrap().mm()
        };
        let newest = |station: &str| latest(wren, station).middle().unwrap().mm();
        let early = at_session("T2", 1) + at_session("G3", 1);
        let now = newest("T2") + newest("G3");
        assert!((0.4..0.8).contains(&(now - early)), "seed {seed}: {early} then {now}");
        // No work on P and S since it began, and the outer stations are the wider ones.
        assert!(
            wren.history.cuts_on(LineId::S).last().unwrap().taken < end() - chrono::Days::new(20)
        );
        let taper = newest("S4") - newest("S1");
        let most = wren.shear.line(LineId::S).unwrap().limits.taper_max().mm();
        assert!(most - 0.05 < taper, "seed {seed}: {taper}");
        assert!(newest("P1") < newest("P4") && newest("P4") < newest("S1") + 0.05, "seed {seed}");
        let seen = &wren.history.seen;
        assert!(seen.iter().any(|it| it.finding.kind == FindingKind::BlueStreak));
        assert_eq!(seen.last().unwrap().finding.kind, FindingKind::Jam);
        assert!(wren.history.due_at_once());
    }
}
