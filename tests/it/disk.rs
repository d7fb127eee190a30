//! A yard on the real disk: what is kept comes back, and what is broken is named.

use chrono::{DateTime, TimeZone as _, Utc};
use gapwright::{
    domain::{
        gauge::{Bracket, Leaf, LeafSet},
        log::{BoltSpan, Finding, FindingKind, Reading, Session, SessionId, Work},
        machine::{
            Band, Blade, BladeId, Bolts, Chain, Follows, Geometry, JawPosition, Limits, Line,
            LineId, Link, Material, PackRules, PartTemperatures, Shear, ShearId, Side, Station,
            StationId, Toward,
        },
        quantity::{Hours, Length, LengthUnit, Temperature, Torque},
        yard::{Intervals, Machine, Settings, ShelfItem, Yard},
    },
    store::{self, StoreError},
};
use std::{fs, path::Path};

fn um(um: i64) -> Length {
    Length::from_um(um)
}

pub(crate) fn at(hour: u32, minute: u32) -> DateTime<Utc> {
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
        pack: Some(PackRules { most_shims: 4, thickest: um(3_000) }),
        face_angle_deg: 7.5,
    }
}

fn line(letter: char, toward: Toward, material: Material) -> Line {
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
                    material,
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

fn heron() -> Shear {
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
            line('P', Toward::Cutting, Material::CarbonSteelTe1),
            line('G', Toward::Guide, Material::CarbonSteelEn1993),
            line('F', Toward::Neither, Material::Constant { ppm_per_k: 11.75 }),
            line('J', Toward::Pads, Material::CarbonSteelTe1),
        ],
        blades: vec![
            blade("upper-secondary", Side::Moving),
            blade("lower-secondary", Side::Cutting),
            blade("guide", Side::Guide),
            welded,
        ],
        joint_step_max: um(250),
    }
}

fn reading(station: &str, go: i64, no_go: Option<i64>) -> Reading {
    Reading {
        station: station.parse().unwrap(),
        bracket: Bracket::new(um(go), no_go.map(um)).unwrap(),
        blade_temp: (go == 550).then_some(Temperature::from_whole_c(41)),
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
                place: "side of the tip".into(),
                consumable: "hard-facing wire".into(),
                cooled_slowly: true,
                template_checked: false,
            },
            Work::Lubricated,
            Work::MeterChanged { old: Hours::from_whole(4_813), new: Hours::ZERO },
        ],
        note: "frost; started on thin stock – 3 × 2 mm".into(),
        amends: SessionId::parse("2026-03-13T0705Z-0001"),
    }
}

fn settings() -> Settings {
    let leaf = |thick| Leaf { thickness: um(thick), tolerance: um(3) };
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
        },
        own_findings: vec!["paint gone".into()],
        unit: LengthUnit::Inch,
    }
}

/// A yard with one machine and these sessions.
pub(crate) fn yard(sessions: Vec<Session>) -> Yard {
    Yard { settings: settings(), machines: vec![Machine::new(heron(), sessions)] }
}

/// What is listed, as paths inside the yard with line, column and fact.
pub(crate) fn said(root: &Path, issues: &[store::FileIssue]) -> Vec<String> {
    let inside = |issue: &store::FileIssue| {
        let text = issue.to_string();
        text.replace(&format!("{}/", root.display()), "").replace(&root.display().to_string(), "")
    };
    issues.iter().map(inside).collect()
}

#[test]
fn everything_a_yard_holds_comes_back() {
    let dir = tempfile::tempdir().unwrap();
    let root = dir.path().join("quay");
    let yard = yard(vec![full_session(7), Session { amends: None, ..full_session(8) }]);
    store::create_yard(&root, &yard).unwrap();
    let opened = store::open(&root).unwrap();
    assert_eq!(said(&root, &opened.issues), [""; 0]);
    assert_eq!(opened.yard, yard);
    assert!(opened.drafts.is_empty() && !opened.read_only);
    let again = store::create_yard(&root, &yard);
    assert!(matches!(again, Err(StoreError::YardThere(_))), "{again:?}");
}

#[test]
fn files_are_written_for_people() {
    let dir = tempfile::tempdir().unwrap();
    let session = Session { findings: vec![], work: vec![], amends: None, ..full_session(7) };
    store::create_yard(dir.path(), &yard(vec![session])).unwrap();
    let path = dir.path().join("shears/heron/sessions/2026-03-14T0705Z-7f3a.ron");
    assert_eq!(
        fs::read_to_string(&path).unwrap(),
        r#"(
    format: 1,
    id: "2026-03-14T0705Z-7f3a",
    shear: "heron",
    taken: "2026-03-14T07:05:00Z",
    meter_h: 4812.5,
    by: "KW",
    air_temp_c: -4.0,
    jaw_temp_c: 12.5,
    readings: [(
        station: "P1",
        go_mm: 0.55,
        no_go_mm: 0.6,
        blade_temp_c: 41.0,
    ), (
        station: "P2",
        go_mm: 0.0,
        no_go_mm: 0.05,
    ), (
        station: "G1",
        go_mm: 1.0,
    ), (
        station: "F2",
        go_mm: 0.457,
        no_go_mm: 0.457,
    )],
    note: "frost; started on thin stock – 3 × 2 mm",
)
"#
    );
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let mode = fs::metadata(&path).unwrap().permissions().mode();
        assert_eq!(mode & 0o444, 0o444, "the crew can read it: {mode:o}");
    }
}
