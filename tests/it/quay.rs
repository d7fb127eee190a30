//! One yard for the tests of the disk, with a bit of everything in it.
//!
//! Long because everything that a file can hold is made here.

use chrono::{DateTime, TimeZone as _, Utc};
use gapwright::domain::{
    gauge::{Bracket, Leaf, LeafSet},
    log::{
        BoltSpan, Counters, Finding, FindingKind, Mark, MarkKind, Reading, Remark, Session,
        SessionId, WeldPart, Work,
    },
    machine::{
        Band, Blade, BladeId, Body, Bolts, Chain, Follows, Geometry, JawPosition, Limits, Line,
        LineId, Link, Material, OwnIntervals, PackRules, PartTemperatures, Partition, Plate, Press,
        Shear, ShearId, Side, Station, StationId, Thermal, ThermalContact, ThermalJoint,
        ThermalPart, Toward, UsualWork, WearLimits,
    },
    quantity::{Hours, Length, LengthUnit, Temperature, Torque},
    yard::{
        Intervals, Machine, Part, PartKind, Settings, ShelfItem, Tolerance, Upkeep, WorkTimes, Yard,
    },
};
use proptest::prelude::*;

fn um(um: i64) -> Length {
    Length::from_um(um)
}

fn at(hour: u32, minute: u32) -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 3, 14, hour, minute, 0).unwrap()
}

fn blade(id: &str, side: Side) -> Blade {
    Blade {
        id: BladeId(id.into()),
        name: format!("{} blade", id.replace('-', " ")),
        side,
        near: um(300_000),
        far: um(900_000),
        depth: um(50_000),
        edges: 4,
        hours_per_edge: Hours::from_whole(120),
        bolts: Some(Bolts {
            from_pivot: vec![um(350_000), um(500_500), um(850_000)],
            size: "M24".into(),
            grade: "10.9".into(),
            torque: Torque::from_newton_metres(812.5),
            first_torque: None,
        }),
        pack: Some(PackRules { most_shims: 4, thickest: um(3_000), step: None }),
        face_angle_deg: 7.5,
        wear: WearLimits {
            edge_radius_max: Some(um(2_000)),
            thickness_min: Some(um(36_500)),
            tip_wear_max: None,
        },
    }
}

fn line(letter: char, toward: Toward, material: &Material) -> Line {
    let id = LineId::new(letter).unwrap();
    let station = |number| Station {
        id: StationId { line: id, number },
        from_pivot: um(300_000 + 150_000 * i64::from(number)),
        across: (number == 2).then_some(um(12_345)),
    };
    Line {
        id,
        place: "secondary blades".into(),
        moving: BladeId("upper-secondary".into()),
        fixed: BladeId("lower-secondary".into()),
        toward,
        stations: vec![station(1), station(2)],
        position: 0,
        limits: Limits::new(
            Band::from_um(300, 500),
            Band::from_um(200, 1_250),
            Band::from_um(100, 1_600),
            um(50),
            um(400),
            "demonstration values: use the limits in the manual for your machine".into(),
        )
        .unwrap(),
        chain: Chain(
            [Follows::Moving, Follows::Fixed, Follows::UpperJaw, Follows::LowerJaw]
                .map(|follows| Link {
                    name: "cheek \"left\"".into(),
                    length: um(110_000),
                    opens: follows == Follows::LowerJaw,
                    material: material.clone(),
                    follows,
                })
                .into(),
        ),
        working: PartTemperatures {
            moving: Temperature::from_whole_c(140),
            fixed: Temperature::from_whole_c(90),
            upper_jaw: Temperature::from_whole_c(45),
            lower_jaw: Temperature::from_c(38.25).unwrap(),
        },
    }
}

/// A machine with every kind of line, link and part.
pub(crate) fn heron() -> Shear {
    let mut welded = blade("welded-tip", Side::Front);
    (welded.bolts, welded.pack) = (None, None);
    Shear {
        id: ShearId::new("heron").unwrap(),
        name: "Heron".into(),
        carrier: "carrier 07, quay yard".into(),
        geometry: Geometry {
            reach: um(1_900_000),
            mouth: um(210_000),
            cheek: um(80_000),
            upper_jaw: um(160_000),
            pivot: um(180_000),
            pads: um(420_000),
        },
        positions: vec![JawPosition { words: "close until the blades overlap".into() }],
        lines: vec![
            line('P', Toward::Cutting, &Material::CarbonSteelTe1),
            line('G', Toward::Guide, &Material::CarbonSteelEn1993),
            line('F', Toward::Neither, &Material::Constant { ppm_per_k: 11.75 }),
            line('J', Toward::Pads, &Material::CarbonSteelTe1),
        ],
        blades: vec![
            blade("upper-secondary", Side::Moving),
            blade("lower-secondary", Side::Cutting),
            blade("guide", Side::Guide),
            welded,
        ],
        joint_step_max: um(250),
        intervals: OwnIntervals::default(),
        thermal: Some(thermal()),
    }
}

/// Every kind of body and of partition once.
fn thermal() -> Thermal {
    let contact = |letter, partition| ThermalContact {
        line: LineId::new(letter).unwrap(),
        thrust_share: 0.8,
        stiffness_kn_per_mm: 570.0,
        partition,
        cut_heat_share: 0.02,
        slide: um(300_000),
        area_mm2: 12_000.0,
        press_s: 0.8,
        conductivity_w_per_m_k: 45.0,
        diffusivity_mm2_per_s: 12.0,
    };
    let part = |body| ThermalPart { body, capacity_kj_per_k: 21.6, to_air_w_per_k: 1.2 };
    let blade = |id: &str| Body::Blade(BladeId(id.into()));
    let guide = || blade("guide");
    Thermal {
        source: "measured on a Sunday".into(),
        parts: vec![
            part(guide()),
            part(blade("upper-secondary")),
            part(blade("lower-secondary")),
            part(Body::UpperJaw),
            part(Body::LowerJaw),
        ],
        joints: vec![ThermalJoint {
            one: guide(),
            other: Body::LowerJaw,
            conductance_w_per_k: 7.0,
        }],
        contacts: vec![
            contact('G', Partition::ToMoving(0.5)),
            contact('P', Partition::Effusivities { moving: 14_360.4, fixed: 9_337.5 }),
        ],
        work: UsualWork {
            hours: 8.0,
            cuts_per_minute: 6.0,
            working_share: 0.75,
            breaks: vec![(4.0, 4.5)],
            air_c: -5.5,
            friction: 0.2,
            plate: Plate {
                thickness: um(20_000),
                shear_n_per_mm2: 250.0,
                cut: um(500_000),
                from_pivot: um(900_000),
            },
        },
        press: Press { bore: um(360_000), rod: um(250_000), pressure_bar: 350.0, arm: um(660_000) },
        side_share: 0.2,
        cutting_cheek_kn_per_mm: 400.0,
        guide_cheek_kn_per_mm: 380.0,
    }
}

fn reading(station: &str, go: i64, no_go: Option<i64>) -> Reading {
    Reading {
        station: station.parse().unwrap(),
        bracket: Bracket::new(um(go), no_go.map(um)).unwrap(),
        blade_temp: (go == 550).then_some(Temperature::from_whole_c(41)),
        leaves: (go == 550).then(|| "Inch, ten leaves".into()),
    }
}

/// A session with every kind of finding and of work.
pub(crate) fn full_session(hour: u32) -> Session {
    let kinds = [
        FindingKind::StrawStreak,
        FindingKind::BrownStreak,
        FindingKind::PurpleStreak,
        FindingKind::BlueStreak,
        FindingKind::SurfaceCracks,
        FindingKind::ChippedEdge,
        FindingKind::Jam,
        FindingKind::Chatter,
        FindingKind::LooseBolt,
        FindingKind::StockCaught,
        FindingKind::Own("grease \\ on \"the\" face\n(twice)".into()),
    ];
    let places = [(None, None), (Some('P'), None), (Some('G'), Some(2))];
    let findings = kinds.into_iter().zip(places.into_iter().cycle()).map(|(kind, place)| Finding {
        kind,
        line: place.0.and_then(LineId::new),
        station: place.1,
        size: place.1.map(|_| um(12_500)),
        note: String::new(),
    });
    let blade = BladeId("lower-secondary".into());
    Session {
        id: SessionId::new(at(hour, 5), 0x7f3a),
        shear: ShearId::new("heron").unwrap(),
        taken: at(hour, 5),
        meter: Hours::from_h(4812.5).unwrap(),
        by: "KW".into(),
        air_temp: Some(Temperature::from_whole_c(-4)),
        jaw_temp: Temperature::from_c(12.5),
        readings: vec![
            reading("P1", 550, Some(600)),
            reading("P2", 0, Some(50)),
            reading("G1", 1_000, None),
            reading("F2", 457, Some(457)),
        ],
        findings: findings.collect(),
        work: vec![
            Work::Shims {
                blade: blade.clone(),
                bolts: Some(BoltSpan { first: 2, last: 3 }),
                put_in: vec![um(500), um(300)],
                take_out: vec![],
            },
            Work::Shims {
                blade: blade.clone(),
                bolts: None,
                put_in: vec![],
                take_out: vec![um(100)],
            },
            Work::Turned { blade: blade.clone(), edge: 2, pack: vec![] },
            Work::Replaced { blade: blade.clone(), pack: vec![um(1_000)] },
            Work::Tightened { blade, torque: Torque::from_newton_metres(812.5).unwrap() },
            Work::Welded {
                part: WeldPart::Elsewhere,
                place: "side of the tip".into(),
                consumable: "hard-facing wire".into(),
                cooled_slowly: true,
                template_checked: false,
            },
            Work::Lubricated,
            Work::MeterChanged { old: Hours::from_whole(4_813), new: Hours::ZERO },
        ],
        counters: Counters::default(),
        marks: vec![],
        remarks: vec![],
        note: "frost; started on thin stock – 3 × 2 mm".into(),
        amends: SessionId::parse("2026-03-13T0705Z-0001"),
    }
}

fn settings() -> Settings {
    let leaf = |thick| Leaf { thickness: um(thick), tolerance: um(3), measured: None };
    Settings {
        name: "Quay yard".into(),
        leaf_sets: vec![
            LeafSet::new("long leaves".into(), vec![leaf(50), leaf(500), leaf(550)]).unwrap(),
        ],
        shelf: vec![ShelfItem { thickness: um(300), count: 12 }],
        intervals: Intervals {
            look: Hours::from_whole(8),
            lubricate: Hours::from_h(4.5).unwrap(),
            retorque: Hours::from_whole(2),
            ..Intervals::USUAL
        },
        own_findings: vec!["paint gone".into()],
        repeatability: None,
        tolerance: Tolerance::default(),
        unit: LengthUnit::Inch,
        upkeep: Upkeep {
            parts: vec![Part {
                kind: PartKind::Grease,
                name: "cartridge".into(),
                shear: ShearId::new("heron"),
                count: 5,
                per_job: 2,
            }],
            times: Some(WorkTimes { crew: 3, ..WorkTimes::JUDGED }),
        },
    }
}

/// A yard with one machine and these sessions.
pub(crate) fn yard(sessions: Vec<Session>) -> Yard {
    Yard { settings: settings(), machines: vec![Machine::new(heron(), sessions)] }
}

/// A session as a mad yard could sign it: any kinds in any order, any sizes that can be.
pub(crate) fn any_session() -> impl Strategy<Value = Session> {
    let temp = || proptest::option::of((-40_000..900_000_i64).prop_map(thousandths_c));
    let reading =
        (any_station(), any_bracket(), temp()).prop_map(|(station, bracket, blade_temp)| Reading {
            station,
            bracket,
            blade_temp,
            leaves: blade_temp.map(|_| "Inch, ten leaves".into()),
        });
    let readings = proptest::collection::vec(reading, 0..20);
    let findings = proptest::collection::vec(any_finding(), 0..5);
    let work = proptest::collection::vec(any_work(), 0..5);
    let when = (0..4_000_000_000_i64, any::<u16>(), any_hours(), temp(), temp());
    let words = ("[A-Z]{0,3}", ".{0,40}", any::<bool>());
    let marks = proptest::collection::vec(any_mark(), 0..4);
    let seen = (readings, marks, findings);
    (when, words, seen, work).prop_map(|(when, words, (readings, marks, findings), work)| {
        let (second, tail, meter, air_temp, jaw_temp) = when;
        let (by, note, amends) = words;
        let taken = Utc.timestamp_opt(second, 0).unwrap();
        Session {
            id: SessionId::new(taken, tail),
            shear: ShearId::new("heron").unwrap(),
            taken,
            meter,
            by,
            air_temp,
            jaw_temp,
            readings,
            findings,
            work,
            counters: Counters {
                tonnes: amends.then_some(18_250),
                cuts: Some(second.unsigned_abs()),
            },
            marks,
            remarks: remarks_about(&SessionId::new(taken, tail.wrapping_add(2)), &note),
            note,
            amends: amends.then(|| SessionId::new(taken, tail.wrapping_add(1))),
        }
    })
}

/// One remark of each kind.
pub(crate) fn remarks_about(session: &SessionId, reason: &str) -> Vec<Remark> {
    let (station, line) = ("P2".parse().unwrap(), LineId::P);
    let (session, reason) = (|| session.clone(), || reason.to_owned());
    vec![
        Remark::SetAside { session: session(), station, reason: reason() },
        Remark::CountAgain { session: session(), station },
        Remark::Moved { session: session(), line, reason: reason() },
        Remark::NotMoved { session: session(), line },
    ]
}

fn thousandths_c(c: i64) -> Temperature {
    Temperature::from_c(f64::from(i32::try_from(c).unwrap()) / 1e3).unwrap()
}

fn any_hours() -> impl Strategy<Value = Hours> {
    (0..100_000_000_i32).prop_map(|h| Hours::from_h(f64::from(h) / 1e3).unwrap())
}

fn any_station() -> impl Strategy<Value = StationId> {
    (prop::sample::select(vec!['P', 'G', 'F', 'J']), 1..=2_u8)
        .prop_map(|(line, number)| StationId { line: LineId::new(line).unwrap(), number })
}

/// Down to single nanometres, as a converted inch leaves them.
fn any_bracket() -> impl Strategy<Value = Bracket> {
    (0..5_000_000_i64, proptest::option::of(0..1_000_000_i64)).prop_map(|(go, width)| {
        let no_go = width.map(|width| Length::from_nm(go + width));
        Bracket::new(Length::from_nm(go), no_go).unwrap()
    })
}

fn any_finding() -> impl Strategy<Value = Finding> {
    let own = ".{0,20}".prop_map(FindingKind::Own);
    let kind = prop_oneof![
        prop::sample::select(full_session(7).findings).prop_map(|finding| finding.kind),
        own,
    ];
    let size = proptest::option::of((1..90_000_000_i64).prop_map(Length::from_nm));
    let place = proptest::option::of(any_station());
    (kind, place, any::<bool>(), size, ".{0,20}").prop_map(|(kind, place, near, size, note)| {
        let line = place.map(|it| it.line);
        let station = place.filter(|_| near).map(|it| it.number);
        Finding { kind, line, station, size, note }
    })
}

fn any_mark() -> impl Strategy<Value = Mark> {
    let kind = prop::sample::select(MarkKind::ALL.to_vec());
    let blade = prop::sample::select(heron().blades);
    (blade, kind, 1..80_000_000_i64).prop_map(|(blade, kind, nm)| Mark {
        blade: blade.id,
        kind,
        value: Length::from_nm(nm),
    })
}

fn any_weld_part() -> impl Strategy<Value = WeldPart> {
    prop_oneof![
        prop::sample::select(heron().blades).prop_map(|blade| WeldPart::Tip(blade.id)),
        Just(WeldPart::UpperJaw),
        Just(WeldPart::LowerJaw),
        Just(WeldPart::Elsewhere),
    ]
}

fn any_work() -> impl Strategy<Value = Work> {
    let shims = || proptest::collection::vec((1..3_000_000_i64).prop_map(Length::from_nm), 0..4);
    let blade = || prop::sample::select(heron().blades).prop_map(|blade| blade.id);
    let bolts = proptest::option::of((1..=9_u8, 0..=9_u8))
        .prop_map(|it| it.map(|(first, more)| BoltSpan { first, last: first + more }));
    prop_oneof![
        (blade(), bolts, shims(), shims()).prop_map(|(blade, bolts, put_in, take_out)| {
            Work::Shims { blade, bolts, put_in, take_out }
        }),
        (blade(), 1..=4_u8, shims()).prop_map(|(blade, edge, pack)| Work::Turned {
            blade,
            edge,
            pack
        }),
        (blade(), shims()).prop_map(|(blade, pack)| Work::Replaced { blade, pack }),
        (blade(), blade())
            .prop_filter("two blades", |(blade, with)| blade != with)
            .prop_map(|(blade, with)| Work::Swapped { blade, with }),
        (blade(), 0..5_000_000_i32).prop_map(|(blade, torque)| {
            let torque = Torque::from_newton_metres(f64::from(torque) / 1e3).unwrap();
            Work::Tightened { blade, torque }
        }),
        (any_weld_part(), ".{0,20}", ".{0,20}", any::<bool>(), any::<bool>()).prop_map(
            |(part, place, consumable, cooled_slowly, template_checked)| Work::Welded {
                part,
                place,
                consumable,
                cooled_slowly,
                template_checked
            }
        ),
        Just(Work::Lubricated),
        (any_hours(), any_hours()).prop_map(|(old, new)| Work::MeterChanged { old, new }),
    ]
}
