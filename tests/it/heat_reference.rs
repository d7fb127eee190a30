//! The program's integrator against scipy's, on a network written down twice.
//!
//! The numbers come from `tests/reference/heat_solve_ivp.py`, which stands beside its table.

use gapwright::domain::{
    heat::{Contact, Duty, Joint, Link, Network, Part, run},
    machine::{LineId, Material, StationId},
};

fn network() -> Network {
    let part = |name: &str, kj: f64, to_air_w_per_k: f64| Part {
        name: name.into(),
        capacity_j_per_k: kj * 1e3,
        to_air_w_per_k,
        start_c: 20.0,
    };
    let joint = |one, other, conductance_w_per_k| Joint { one, other, conductance_w_per_k };
    let contact = |line, fixed, cold_gap_mm, material: Material, [tip, blade]: [f64; 2]| Contact {
        station: StationId { line, number: 1 },
        moving: 0,
        fixed,
        cold_gap_mm,
        chain: [(0, -tip), (fixed, -blade), (4, tip + blade)]
            .map(|(part, signed_mm)| Link { part, signed_mm, material: material.clone() })
            .to_vec(),
        thrust_n: 400e3,
        stiffness_n_per_mm: 570e3,
        to_moving: 0.5,
        cut_heat_j: 0.0,
        area_m2: 0.012,
        slide_m: 0.3,
        press_s: 0.8,
        conductivity: 45.0,
        diffusivity: 1.2e-5,
    };
    let guide = Material::Constant { ppm_per_k: 12.0 };
    Network {
        parts: vec![
            part("tip", 21.6, 1.2),
            part("guide blade", 16.8, 1.0),
            part("tip cutting blade", 6.3, 0.7),
            part("upper jaw", 432.0, 30.0),
            part("lower jaw", 624.0, 40.0),
        ],
        joints: vec![joint(0, 3, 7.0), joint(1, 4, 7.0), joint(2, 4, 6.0)],
        contacts: vec![
            contact(LineId::G, 1, 0.15, guide.clone(), [110.0, 50.0]),
            Contact {
                thrust_n: 0.0,
                to_moving: 0.6,
                cut_heat_j: 500.0,
                ..contact(LineId::T, 2, 0.10, Material::CarbonSteelTe1, [85.0, 55.0])
            },
        ],
    }
}

#[test]
fn scipy_agrees_to_a_thousandth_of_a_kelvin() {
    let duty = Duty {
        hours: 8.0,
        cuts_per_minute: 6.0,
        working_share: 1.0,
        friction: 0.2,
        breaks: vec![(4.0, 4.5)],
        air_c: 20.0,
    };
    let shift = run(&network(), &duty, 0.5).unwrap();
    assert!(shift.imbalance() < 1e-9);
    let table = include_str!("../reference/heat_solve_ivp.csv");
    let mut rows = 0;
    let mut worst = 0.0_f64;
    for row in table.lines().skip(1) {
        let cells: Vec<f64> = row.split(',').map(|cell| cell.parse().unwrap()).collect();
        let (hour, parts) = cells.split_first().unwrap();
        let ours = shift.samples.iter().find(|it| (it.hour - hour).abs() < 1e-9).unwrap();
        for (theirs, ours) in parts.iter().zip(&ours.parts_c) {
            worst = worst.max((theirs - ours).abs());
        }
        rows += 1;
    }
    assert_eq!(rows, 16);
    assert!(worst < 1e-3, "{worst} K");
    let squeezed = shift.samples.iter().any(|it| it.contacts[1].gap_mm < 0.0);
    assert!(squeezed, "the case is worth something only if the tip wedges");
}
