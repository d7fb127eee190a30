//! The network against closed forms, handbooks and a demonstration set.

use super::*;
use crate::domain::machine::{LineId, Material, StationId};

/// One contact of a tip against a guide blade; invented, plausible values.
fn demonstration(cold_gap_mm: f64) -> (Network, Duty) {
    let part = |name: &str, kj: f64, to_air: f64| Part {
        name: name.into(),
        capacity_j_per_k: kj * 1e3,
        to_air_w_per_k: to_air,
        start_c: 20.0,
    };
    let steel = Material::Constant { ppm_per_k: 12.0 };
    let link = |part, signed_mm| Link { part, signed_mm, material: steel.clone() };
    let joint = |one, other| Joint { one, other, conductance_w_per_k: 7.0 };
    let network = Network {
        parts: vec![
            part("tip", 21.6, 1.2),
            part("guide blade", 16.8, 1.0),
            part("upper jaw", 432.0, 30.0),
            part("lower jaw", 624.0, 40.0),
        ],
        joints: vec![joint(0, 2), joint(1, 3)],
        contacts: vec![Contact {
            station: StationId { line: LineId::G, number: 1 },
            moving: 0,
            fixed: 1,
            cold_gap_mm,
            chain: vec![link(0, -110.0), link(1, -50.0), link(3, 160.0)],
            thrust_n: 400e3,
            stiffness_n_per_mm: 570e3,
            to_moving: 0.5,
            cut_heat_j: 0.0,
            area_m2: 0.012,
            slide_m: 0.30,
            press_s: 0.8,
            conductivity: 45.0,
            diffusivity: 1.2e-5,
        }],
    };
    let duty = Duty {
        hours: 8.0,
        cuts_per_minute: 6.0,
        working_share: 1.0,
        friction: 0.2,
        breaks: vec![],
        air_c: 20.0,
    };
    (network, duty)
}

fn last_face(shift: &Shift) -> f64 {
    shift.samples.last().unwrap().contacts[0].face_c
}

fn close(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
}

/// The faces of the demonstration set after eight hours, to a kelvin, and the hours to blue.
#[test]
fn the_demonstration_set_ends_where_it_should() {
    for (gap, face_c) in [(0.15, 368.0), (0.25, 305.0), (0.30, 273.0), (0.40, 210.0), (0.60, 84.0)]
    {
        let (network, duty) = demonstration(gap);
        let shift = run(&network, &duty, 0.1).unwrap();
        close(last_face(&shift), face_c, 1.0);
        assert!(shift.imbalance() < 1e-9, "{}", shift.imbalance());
    }
    let blue_at = |gap| {
        let (network, duty) = demonstration(gap);
        let shift = run(&network, &duty, 0.05).unwrap();
        let blue = |event: &&Event| event.kind == EventKind::Coloured(Colour::Blue);
        shift.events.iter().find(blue).map(|event| event.hour)
    };
    close(blue_at(0.15).unwrap(), 1.7, 0.05);
    close(blue_at(0.25).unwrap(), 4.0, 0.1);
    assert_eq!(blue_at(0.40), None, "the set range stays bare of blue");
    let (network, duty) = demonstration(0.4);
    let gain = stability(&network, &duty, &[20.0; 4]).unwrap();
    close(gain.beta, 0.41, 0.005);
}

/// One node between a frame and air that stay at 20 °C: C·θ′ = a(N₀ − k·g20) + a·k·γ·θ − K·θ.
#[test]
fn one_node_follows_its_closed_form() {
    let (mut network, duty) = demonstration(0.3);
    // Frames and guide blade so large and so well cooled that they stay where they are; only the tip grows.
    for part in network.parts.iter_mut().skip(1) {
        part.capacity_j_per_k = 1e9;
        part.to_air_w_per_k = 1e7;
    }
    network.contacts[0].chain.retain(|link| link.part == 0);
    let a = 0.5 * duty.friction * network.contacts[0].slide_m * duty.cuts_per_s();
    let gamma = 110.0 * 12e-6;
    let (k, n0, loss) = (570e3, 400e3, 7.0 + 1.2);
    let beta = a * k * gamma / loss;
    let theta = a * (n0 - k * 0.3) / (loss * (1.0 - beta));
    let tau_h = 21.6e3 / (loss * (1.0 - beta)) / 3_600.0;
    let shift = run(&network, &duty, 0.25).unwrap();
    for sample in &shift.samples {
        let expected = theta * (1.0 - (-sample.hour / tau_h).exp());
        close(sample.parts_c[0] - 20.0, expected, 2e-4);
    }
    let gain = stability(&network, &duty, &[20.0; 4]).unwrap();
    close(gain.beta, beta, 1e-5);
}

/// β at and beyond 1: never settles; the run says when the face passes 600 °C and ends.
#[test]
fn a_loop_that_never_settles_is_said_and_the_run_ends() {
    let (mut network, mut duty) = demonstration(0.1);
    network.contacts[0].stiffness_n_per_mm *= 3.0;
    network.contacts[0].thrust_n *= 3.0;
    duty.hours = 24.0;
    let gain = stability(&network, &duty, &[20.0; 4]).unwrap();
    assert!(!gain.settles() && gain.headroom() < 0.0);
    let shift = run(&network, &duty, 0.1).unwrap();
    let passed = shift.events.iter().find(|event| event.kind == EventKind::Passed(600.0));
    assert!(passed.unwrap().hour < 24.0);
    assert!(shift.samples.iter().flat_map(|it| &it.parts_c).all(|c| c.is_finite()));
}

/// A long slot opens the gap, but hours later: a steady gain below 1 does not keep the swing from
/// growing.
#[test]
fn a_slot_that_opens_late_makes_a_growing_swing() {
    let (mut network, mut duty) = demonstration(0.3);
    network.contacts[0].chain[2].signed_mm = 600.0;
    duty.cuts_per_minute = 24.0;
    let gain = stability(&network, &duty, &[20.0; 4]).unwrap();
    assert!(gain.swings() && !gain.settles(), "{gain:?}");
    close(gain.beta, 1.336, 0.005);
    close(gain.steady, 0.849, 0.005);
    let calm = demonstration(0.3);
    let calm = stability(&calm.0, &calm.1, &[20.0; 4]).unwrap();
    assert!(calm.settles() && !calm.swings());
    close(calm.steady, calm.beta, 1e-6);
    duty.hours = 48.0;
    let shift = run(&network, &duty, 0.5).unwrap();
    assert!(shift.imbalance() < 1e-9);
    assert!(shift.samples.iter().flat_map(|it| &it.parts_c).all(|c| c.is_finite()));
}

#[test]
fn settled_temperatures_are_where_a_long_shift_ends() {
    let (network, mut duty) = demonstration(0.3);
    duty.hours = 48.0;
    let settled = settled(&network, &duty).unwrap().unwrap();
    let shift = run(&network, &duty, 1.0).unwrap();
    let last = &shift.samples.last().unwrap().parts_c;
    for (value, settled) in last.iter().zip(&settled) {
        close(*value, *settled, 0.6);
    }
    let mut flows = vec![0.0; 4];
    network.flows(&settled, &duty, duty.cuts_per_s(), &mut flows);
    assert!(flows.iter().all(|flow| flow.abs() < 1e-6), "in balance: {flows:?}");
}

/// What a crew reads in a break is the film, and that is of the hottest moment before.
#[test]
fn a_colour_stays_when_its_face_has_cooled() {
    let (network, mut duty) = demonstration(0.20);
    duty.breaks = vec![(4.0, 6.0)];
    let shift = run(&network, &duty, 0.1).unwrap();
    let mut hottest = f64::MIN;
    for sample in &shift.samples {
        let at = sample.contacts[0];
        hottest = hottest.max(at.face_c);
        close(at.hottest_so_far_c, hottest, 1e-12);
    }
    let at = |hour: f64| {
        let sample = shift.samples.iter().find(|it| hour <= it.hour + 1e-9).unwrap();
        sample.contacts[0]
    };
    assert!(at(6.0).face_c + 20.0 < at(4.0).face_c, "two hours without a cut");
    assert!(at(4.0).face_c <= at(6.0).hottest_so_far_c);
}

#[test]
fn a_break_cools_and_work_warms_again() {
    let (network, mut duty) = demonstration(0.15);
    duty.breaks = vec![(4.0, 4.5)];
    let shift = run(&network, &duty, 0.25).unwrap();
    let face = |hour: f64| {
        let at = shift.samples.iter().find(|sample| (sample.hour - hour).abs() < 1e-9).unwrap();
        at.parts_c[0]
    };
    assert!(face(4.5) < face(4.0) && face(4.5) < face(5.5));
    assert!(shift.imbalance() < 1e-9);
}

#[test]
fn what_cannot_be_calculated_has_a_sentence() {
    #[track_caller]
    fn check(change: impl Fn(&mut Network, &mut Duty), says: &str) {
        let (mut network, mut duty) = demonstration(0.3);
        change(&mut network, &mut duty);
        let fault = run(&network, &duty, 0.1).unwrap_err().to_string();
        assert!(fault.contains(says), "{fault}");
    }
    check(|network, _| network.parts[0].capacity_j_per_k = 0.0, "no heat capacity");
    check(|network, _| network.joints[0].conductance_w_per_k = -1.0, "negative conductance");
    check(|network, _| network.contacts[0].moving = 9, "not in the network");
    check(|_, duty| duty.air_c = -61.0, "the air temperature is −61");
    check(|_, duty| duty.friction = f64::NAN, "friction");
    let (mut network, mut duty) = demonstration(-0.2);
    duty.air_c = -60.0;
    for part in &mut network.parts {
        part.start_c = -60.0;
    }
    let shift = run(&network, &duty, 0.5).unwrap();
    let finite = |sample: &Sample| {
        sample.contacts.iter().all(|it| it.face_c.is_finite() && it.gap_mm.is_finite())
    };
    assert!(shift.samples.iter().all(finite), "a closed gap at −60 °C is calculated");
}

#[test]
fn the_lowest_gap_that_stays_cool_is_just_cool_enough() {
    let (network, duty) = demonstration(0.3);
    let aim = Aim { line: LineId::G, face_c: 200.0, open_mm: 0.05, most_mm: 1.0 };
    let lowest = lowest_gap_mm(&network, &duty, &aim).unwrap().unwrap();
    let face = |gap| {
        let (network, duty) = demonstration(gap);
        last_face(&run(&network, &duty, 0.25).unwrap())
    };
    assert!(face(lowest) < 200.0 && 195.0 < face(lowest - 0.02), "{lowest}");
}

#[test]
fn the_band_holds_the_plain_case_and_is_the_same_each_time() {
    let (network, duty) = demonstration(0.25);
    let spreads = Spreads::default();
    let drawn = || {
        let one = |index| draw(&network, &duty, &spreads, index, 0.5).unwrap();
        let shifts: Vec<Shift> = (0..60).map(one).collect();
        of_shifts(&shifts, |sample, contact| sample.contacts[contact].gap_mm)
    };
    let (one, two) = (drawn(), drawn());
    assert_eq!(one, two);
    let plain = run(&network, &duty, 0.5).unwrap();
    for (place, sample) in plain.samples.iter().enumerate().skip(1) {
        let (low, high) = one.face_c[0][place];
        let face = sample.contacts[0].face_c;
        assert!(low < face && face < high, "{low} {face} {high}");
    }
}

/// Holman, Heat Transfer, example 4-2: a steel block, 45 W/(m·K), 1.4e-5 m²/s, under 3.2e5 W/m² for
/// 30 s rises from 35 to 199.4 °C at its face.
#[test]
fn the_flash_is_that_of_a_semi_infinite_solid() {
    let (network, _) = demonstration(0.3);
    let mut contact = network.contacts[0].clone();
    (contact.conductivity, contact.diffusivity, contact.press_s) = (45.0, 1.4e-5, 30.0);
    contact.area_m2 = 1.0;
    let rise = contact.flash_k(3.2e5 * 30.0, 1.0);
    close(35.0 + rise, 199.44, 0.01);
}

/// Holman, example 4-1: a steel ball of 50 mm cools from 450 to 150 °C in air of 100 °C with
/// 10 W/(m²·K) in 5 818 s.
#[test]
fn a_lone_part_cools_as_a_lumped_body() {
    let radius: f64 = 0.025;
    let volume = 4.0 / 3.0 * std::f64::consts::PI * radius.powi(3);
    let area = 4.0 * std::f64::consts::PI * radius * radius;
    let ball = Part {
        name: "ball".into(),
        capacity_j_per_k: 7_800.0 * 460.0 * volume,
        to_air_w_per_k: 10.0 * area,
        start_c: 450.0,
    };
    let network = Network { parts: vec![ball], joints: vec![], contacts: vec![] };
    let duty = Duty { hours: 5_818.0 / 3_600.0, air_c: 60.0, ..demonstration(0.3).1 };
    // The air of the model ends at 60 °C; the excess over it is what cools, so shift both by 40 K.
    let mut shifted = network;
    shifted.parts[0].start_c = 410.0;
    let shift = run(&shifted, &duty, 0.1).unwrap();
    close(shift.samples.last().unwrap().parts_c[0] + 40.0, 150.0, 0.02);
}

mod laws {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        /// On one line, others unchanged: tighter is never cooler; more cuts are never cooler.
        #[test]
        fn tighter_and_busier_are_never_cooler(
            gap in 0.0_f64..0.8, tighter in 0.0_f64..0.3, cuts in 1.0_f64..7.0, more in 0.0_f64..1.0,
        ) {
            let (mut wide, mut duty) = demonstration(gap + tighter);
            let (tight, _) = demonstration(gap);
            duty.cuts_per_minute = cuts;
            let at = |network: &Network, duty: &Duty| last_face(&run(network, duty, 0.5).unwrap());
            let (cool, hot) = (at(&wide, &duty), at(&tight, &duty));
            prop_assert!(cool <= hot + 1e-3, "{gap} + {tighter}: {cool} then {hot}");
            duty.cuts_per_minute += more;
            wide.contacts[0].cold_gap_mm = gap;
            prop_assert!(hot <= at(&wide, &duty) + 1e-3);
        }
    }
}
