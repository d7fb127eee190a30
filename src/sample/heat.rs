//! What the sample machines know about heat: invented, plausible values on the middle size.
//!
//! The contact at the guide blade, taken alone, is a set that is easy to check by hand: tip
//! 21.6 kJ/K, guide blade 16.8 kJ/K, 400 kN of side thrust against 570 kN/mm. The rest is chosen so
//! that what practice shows can be seen: tip and guide faces colour first, and a tip that is too
//! hot wedges in its slot.

use crate::domain::{
    machine::{
        BladeId, Body, LineId, Partition, Plate, Press, Thermal, ThermalContact, ThermalJoint,
        ThermalPart, UsualWork,
    },
    quantity::Length,
};

/// Where the values come from.
const SOURCE: &str = "demonstration values: ask for those of your machine";

/// Bodies with kJ/K, W/K to the air, and W/K to the jaw they are bolted to.
#[rustfmt::skip]
const BLADES: [(&str, Body, f64, f64, f64); 10] = [
    ("upper-primary", Body::UpperJaw, 10.2, 1.4, 12.0),
    ("lower-primary", Body::LowerJaw, 10.2, 1.4, 12.0),
    ("upper-secondary", Body::UpperJaw, 10.2, 1.4, 12.0),
    ("lower-secondary", Body::LowerJaw, 10.2, 1.4, 12.0),
    ("tip", Body::UpperJaw, 21.6, 1.2, 7.0),
    ("tip-cutting", Body::LowerJaw, 6.3, 0.7, 6.0),
    ("front", Body::LowerJaw, 5.4, 0.6, 5.0),
    ("guide", Body::LowerJaw, 16.8, 1.0, 7.0),
    ("pad", Body::LowerJaw, 12.0, 0.8, 9.0),
    ("side-plate", Body::UpperJaw, 5.0, 0.5, 10.0),
];

/// Line, thrust share, stiffness in kN/mm, share of the cutting work, slide in mm, streak in mm².
#[rustfmt::skip]
const LINES: [(LineId, f64, f64, f64, i64, f64); 6] = [
    (LineId::P, 0.0, 400.0, 0.100, 90, 14_000.0),
    (LineId::S, 0.0, 400.0, 0.100, 210, 14_000.0),
    (LineId::T, 0.0, 570.0, 0.020, 300, 7_000.0),
    (LineId::F, 0.0, 300.0, 0.015, 320, 5_000.0),
    (LineId::G, 0.8, 570.0, 0.000, 300, 12_000.0),
    (LineId::J, 0.2, 300.0, 0.000, 60, 16_000.0),
];

/// The values for a machine of `size` per cent of the middle one: masses grow with its cube, areas
/// with its square.
pub(crate) fn thermal(size: i32) -> Thermal {
    let scale = f64::from(size) / 100.0;
    let (area, mass) = (scale * scale, scale * scale * scale);
    let mm = |middle: i64| Length::from_um(middle * i64::from(size) * 10);
    let blade = |id: &str| Body::Blade(BladeId(id.to_owned()));
    let part = |body, kj: f64, air: f64| ThermalPart {
        body,
        capacity_kj_per_k: kj * mass,
        to_air_w_per_k: air * area,
    };
    let blades = BLADES.iter().map(|(id, _, kj, air, _)| part(blade(id), *kj, *air));
    let jaws = [part(Body::UpperJaw, 432.0, 30.0), part(Body::LowerJaw, 624.0, 40.0)];
    let joint = |(id, jaw, _, _, conductance): &(&str, Body, f64, f64, f64)| ThermalJoint {
        one: blade(id),
        other: jaw.clone(),
        conductance_w_per_k: conductance * scale,
    };
    let contact = |(line, thrust, stiffness, heat, slide, streak): &(LineId, _, _, _, _, f64)| {
        ThermalContact {
            line: *line,
            thrust_share: *thrust,
            stiffness_kn_per_mm: *stiffness,
            partition: Partition::ToMoving(0.5),
            cut_heat_share: *heat,
            slide: mm(*slide),
            area_mm2: streak * area,
            press_s: 0.8,
            conductivity_w_per_m_k: 45.0,
            diffusivity_mm2_per_s: 12.0,
        }
    };
    Thermal {
        source: SOURCE.to_owned(),
        parts: blades.chain(jaws).collect(),
        joints: BLADES.iter().map(joint).collect(),
        contacts: LINES.iter().map(contact).collect(),
        work: UsualWork {
            hours: 8.0,
            cuts_per_minute: 6.0,
            working_share: 1.0,
            breaks: Vec::new(),
            air_c: 20.0,
            friction: 0.2,
            plate: Plate {
                thickness: Length::from_um(20_000),
                shear_n_per_mm2: 250.0,
                cut: Length::from_um(500_000),
                from_pivot: mm(900),
            },
        },
        press: Press {
            bore: Length::from_um(360_000),
            rod: Length::from_um(250_000),
            pressure_bar: 350.0,
            arm: mm(660),
        },
        side_share: 0.2,
        cutting_cheek_kn_per_mm: 400.0,
        guide_cheek_kn_per_mm: 400.0,
    }
}

#[cfg(test)]
mod tests {
    use crate::{
        domain::{
            heat::{AtContact, EventKind, Model, Shift, ShiftWork, stability},
            machine::{Follows, Line, LineId, PartTemperatures, Shear, StationId},
            quantity::Temperature,
        },
        sample::{SESSIONS, SHEARS, yard},
    };
    use chrono::{DateTime, Utc};
    use proptest::prelude::*;

    fn heron() -> Shear {
        let yard = yard(1, SHEARS, SESSIONS, DateTime::<Utc>::UNIX_EPOCH);
        yard.machines.iter().find(|it| it.shear.id.as_str() == "heron").unwrap().shear.clone()
    }

    /// Tip against guide blade alone: the faces after eight hours at 6 cuts a minute, air 20 °C, to a
    /// kelvin, and what is left of the loop.
    #[test]
    fn the_guide_blade_alone_is_a_set_that_can_be_checked_by_hand() {
        let shear = &heron();
        let work = ShiftWork::usual(shear.thermal.as_ref().unwrap());
        for (gap, face_c) in
            [(0.15, 368.0), (0.25, 305.0), (0.30, 273.0), (0.40, 210.0), (0.60, 84.0)]
        {
            let stations = &shear.line(LineId::G).unwrap().stations;
            let gaps: Vec<(StationId, f64)> = stations.iter().map(|it| (it.id, gap)).collect();
            let model = Model::of(shear, &gaps, &work, Some(LineId::G)).unwrap();
            let shift = model.run(0.1).unwrap();
            let face = shift.samples.last().unwrap().contacts[0].face_c;
            assert!((face - face_c).abs() < 1.0, "{gap}: {face} is not {face_c}");
            assert!(shift.imbalance() < 1e-9);
            let gain = stability(&model.network, &model.duty, &[20.0; 4]).unwrap();
            assert!((gain.beta - 0.41).abs() < 0.005, "{}", gain.beta);
        }
    }

    /// The whole machine shows what practice shows.
    #[test]
    fn tip_and_guide_colour_first_and_an_overheated_tip_opens_the_blades() {
        let shear = &heron();
        let work = ShiftWork::usual(shear.thermal.as_ref().unwrap());
        let run = |guide: f64| {
            let gap = |line: &Line| match line.id {
                LineId::G => guide,
                LineId::T => line.limits.set().min.mm(),
                _ => line.limits.set().middle().mm(),
            };
            let gaps: Vec<(StationId, f64)> = shear
                .lines
                .iter()
                .flat_map(|line| line.stations.iter().map(|it| (it.id, gap(line))))
                .collect();
            let model = Model::of(shear, &gaps, &work, None).unwrap();
            let shift = model.run(0.1).unwrap();
            assert!(shift.imbalance() < 1e-9);
            (model, shift)
        };
        let (model, tight) = run(0.05);
        let (_, set) = run(0.55);
        let hottest = |shift: &Shift, line: LineId| {
            let last = shift.samples.last().unwrap();
            let here = last.contacts.iter().filter(|it| it.station.line == line);
            here.map(AtContact::hottest_c).fold(0.0, f64::max)
        };
        let last = tight.samples.last().unwrap();
        let first =
            tight.events.iter().find(|it| matches!(it.kind, EventKind::Coloured(_))).unwrap();
        assert_eq!(first.station.line, LineId::G, "{first:?}");
        for line in [LineId::P, LineId::S, LineId::J] {
            assert!(hottest(&tight, line) < hottest(&tight, LineId::G), "line {line}");
            assert!(hottest(&set, line) < 200.0, "line {line} stays bare in the set range");
        }
        assert!(hottest(&set, LineId::G) < hottest(&tight, LineId::G));
        let outer = shear.line(LineId::S).unwrap().stations.last().unwrap();
        assert!(0.01 < model.spread_mm(last, outer.from_pivot));
    }

    /// Tip and slot close a ring: the two gaps either side of the tip share what the slot leaves,
    /// whatever is how warm.
    #[test]
    fn the_gaps_either_side_of_the_tip_share_what_the_slot_leaves() {
        let shear = &heron();
        let chains = [LineId::T, LineId::G].map(|id| shear.line(id).unwrap().chain.clone());
        let whole = |part: Follows, chain: usize| -> f64 {
            let links = chains[chain].0.iter().filter(|it| it.follows == part);
            links.map(|it| it.length.mm()).sum()
        };
        let both = |part| whole(part, 0) + whole(part, 1);
        let slot = both(Follows::LowerJaw);
        let parts = both(Follows::Moving) + both(Follows::Fixed) + both(Follows::UpperJaw);
        assert!((slot - parts).abs() < 1e-9, "slot {slot}, parts {parts}");
        for (tip, cutting, guide, upper, lower) in
            [(20, 20, 20, 20, 20), (240, 120, 180, 60, 45), (-30, -20, 300, 5, -10)]
        {
            let warm = |fixed| PartTemperatures {
                moving: Temperature::from_whole_c(tip),
                fixed: Temperature::from_whole_c(fixed),
                upper_jaw: Temperature::from_whole_c(upper),
                lower_jaw: Temperature::from_whole_c(lower),
            };
            let gaps = chains[0].opening_mm(&warm(cutting)) + chains[1].opening_mm(&warm(guide));
            let grown = |mm: f64, c: i32| mm * 12e-6 * f64::from(c - 20);
            let left = grown(slot, lower)
                - grown(whole(Follows::Fixed, 0), cutting)
                - grown(both(Follows::Moving), tip)
                - grown(both(Follows::UpperJaw), upper)
                - grown(whole(Follows::Fixed, 1), guide);
            assert!((gaps - left).abs() < 1e-9, "{gaps} is not {left}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(12))]

        /// On the whole machine, on one line with the others unchanged: tighter is never cooler,
        /// and more cuts are never cooler.
        #[test]
        fn tighter_and_busier_are_never_cooler(
            line in prop::sample::select(vec![LineId::G, LineId::T, LineId::S, LineId::J]),
            gap in 0.05_f64..0.8, tighter in 0.01_f64..0.3, cuts in 1.0_f64..8.0, more in 0.1_f64..1.5,
        ) {
            let shear = &heron();
            let mut work = ShiftWork::usual(shear.thermal.as_ref().unwrap());
            work.duty.hours = 4.0;
            work.duty.cuts_per_minute = cuts;
            let face = |gap: f64, work: &ShiftWork| {
                let all = shear.lines.iter().flat_map(|it| &it.stations);
                let set = |id: LineId| shear.line(id).unwrap().limits.set().middle().mm();
                let at = |id: LineId| if id == line { gap } else { set(id) };
                let gaps: Vec<_> = all.map(|it| (it.id, at(it.id.line))).collect();
                let shift = Model::of(shear, &gaps, work, None).unwrap().run(1.0).unwrap();
                let last = shift.samples.last().unwrap();
                let here = last.contacts.iter().filter(|it| it.station.line == line);
                here.map(AtContact::hottest_c).fold(f64::MIN, f64::max)
            };
            let (cool, hot) = (face(gap + tighter, &work), face(gap, &work));
            prop_assert!(cool <= hot + 1e-3, "{line} {gap}: {cool} then {hot}");
            work.duty.cuts_per_minute += more;
            let busier = face(gap, &work);
            prop_assert!(hot <= busier + 1e-3, "{line} {gap}: {hot} then {busier}");
        }
    }
}
