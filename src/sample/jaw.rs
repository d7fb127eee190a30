//! The usual jaw with invented demonstration values, in three sizes.
//!
//! Knows geometry, blades, limits and expansion chains as tables. The gaps either side of the tip
//! share one slot: the links of T and of G together are the slot less cutting blade, tip and guide
//! blade, so warming cannot make room out of nothing.

use crate::{
    domain::{
        machine::{
            Band, Blade, BladeId, Bolts, Chain, Follows, Geometry, JawPosition, Limits, Line,
            LineId, Link, Material, OwnIntervals, PackRules, PartTemperatures, Shear, ShearId,
            Side, Station, StationId, Toward, WearLimits,
        },
        quantity::{Hours, Length, Temperature, Torque},
    },
    sample::{heat, scenario::Scenario},
};

/// Where every limit of this room comes from.
const SOURCE: &str = "demonstration values: use the limits in the manual for your machine";

/// One blade, lengths in mm on the middle size.
struct Part {
    id: &'static str,
    name: &'static str,
    side: Side,
    near: i64,
    far: i64,
    depth: i64,
    edges: u8,
    hours_per_edge: i32,
    bolts: &'static [i64],
    size: &'static str,
    torque_nm: f64,
    /// The most shims and the thickest pack in µm; none for a part that cannot be shimmed.
    pack: Option<(u8, i64)>,
    angle_deg: f64,
}

const M24: (&str, f64) = ("M24", 640.0);
const M20: (&str, f64) = ("M20", 370.0);

/// Depths across the jaw that the chains need again.
const BLADE_DEPTH: i64 = 55;
const TIP_DEPTH: i64 = 195;
/// From the plane that holds the tip to its face at the guide blade.
const TIP_TO_GUIDE: i64 = 110;
const GUIDE_DEPTH: i64 = 50;
const PAD_DEPTH: i64 = 100;
const MOUTH: i64 = BLADE_DEPTH + TIP_DEPTH + GUIDE_DEPTH;
const UPPER_JAW: i64 = MOUTH - BLADE_DEPTH - PAD_DEPTH;

#[rustfmt::skip]
const PARTS: &[Part] = &[
    Part { id: "upper-primary", name: "upper primary blade", side: Side::Moving, near: 110, far: 590, depth: BLADE_DEPTH, edges: 4, hours_per_edge: 600, bolts: &[170, 290, 410, 530], size: M24.0, torque_nm: M24.1, pack: Some((4, 1_000)), angle_deg: 0.0 },
    Part { id: "lower-primary", name: "lower primary blade", side: Side::Cutting, near: 110, far: 590, depth: BLADE_DEPTH, edges: 4, hours_per_edge: 600, bolts: &[170, 290, 410, 530], size: M24.0, torque_nm: M24.1, pack: Some((6, 3_000)), angle_deg: 0.0 },
    Part { id: "upper-secondary", name: "upper secondary blade", side: Side::Moving, near: 592, far: 1_074, depth: BLADE_DEPTH, edges: 4, hours_per_edge: 600, bolts: &[650, 770, 890, 1_010], size: M24.0, torque_nm: M24.1, pack: Some((4, 1_000)), angle_deg: 0.0 },
    Part { id: "lower-secondary", name: "lower secondary blade", side: Side::Cutting, near: 592, far: 1_074, depth: BLADE_DEPTH, edges: 4, hours_per_edge: 600, bolts: &[650, 770, 890, 1_010], size: M24.0, torque_nm: M24.1, pack: Some((6, 3_000)), angle_deg: 0.0 },
    Part { id: "tip", name: "piercing tip", side: Side::Moving, near: 1_078, far: 1_290, depth: TIP_DEPTH, edges: 1, hours_per_edge: 800, bolts: &[1_120, 1_240], size: M24.0, torque_nm: M24.1, pack: None, angle_deg: 0.0 },
    Part { id: "tip-cutting", name: "tip cutting blade", side: Side::Cutting, near: 1_078, far: 1_300, depth: BLADE_DEPTH, edges: 2, hours_per_edge: 800, bolts: &[1_130, 1_250], size: M20.0, torque_nm: M20.1, pack: Some((5, 2_000)), angle_deg: 5.0 },
    Part { id: "front", name: "front blade", side: Side::Front, near: 1_302, far: 1_352, depth: 60, edges: 2, hours_per_edge: 900, bolts: &[1_320, 1_320], size: M20.0, torque_nm: M20.1, pack: Some((4, 1_000)), angle_deg: 10.0 },
    Part { id: "guide", name: "guide blade", side: Side::Guide, near: 930, far: 1_285, depth: GUIDE_DEPTH, edges: 2, hours_per_edge: 900, bolts: &[990, 1_120, 1_250], size: M24.0, torque_nm: M24.1, pack: Some((5, 2_000)), angle_deg: 0.0 },
    Part { id: "pad", name: "guide pad", side: Side::Guide, near: 100, far: 325, depth: PAD_DEPTH, edges: 1, hours_per_edge: 2_500, bolts: &[150, 275], size: M20.0, torque_nm: M20.1, pack: Some((4, 1_500)), angle_deg: 0.0 },
    Part { id: "side-plate", name: "side plate of the upper jaw", side: Side::Moving, near: 100, far: 325, depth: 20, edges: 1, hours_per_edge: 2_500, bolts: &[150, 275], size: M20.0, torque_nm: M20.1, pack: None, angle_deg: 0.0 },
];

/// One line: places in mm on the middle size, limits in µm.
struct Row {
    id: LineId,
    place: &'static str,
    moving: &'static str,
    fixed: &'static str,
    toward: Toward,
    stations: &'static [(i64, Option<i64>)],
    position: usize,
    set: (i64, i64),
    working: (i64, i64),
    stop: (i64, i64),
    hot_min: i64,
    taper_max: i64,
    /// Lengths in half millimetres of moving part, fixed part and upper jaw; the lower jaw holds
    /// them all.
    across: (i64, i64, i64),
    /// Working temperatures of moving and fixed part in °C.
    warm: (i32, i32),
}

#[rustfmt::skip]
const ROWS: &[Row] = &[
    Row { id: LineId::P, place: "primary blades", moving: "upper-primary", fixed: "lower-primary", toward: Toward::Cutting, stations: &[(170, None), (290, None), (410, None), (530, None)], position: 1, set: (300, 500), working: (200, 1_250), stop: (100, 1_600), hot_min: 50, taper_max: 250, across: (2 * BLADE_DEPTH, 2 * BLADE_DEPTH, UPPER_JAW - 2 * BLADE_DEPTH), warm: (105, 100) },
    Row { id: LineId::S, place: "secondary blades", moving: "upper-secondary", fixed: "lower-secondary", toward: Toward::Cutting, stations: &[(650, None), (770, None), (890, None), (1_010, None)], position: 2, set: (300, 500), working: (200, 1_250), stop: (100, 1_600), hot_min: 50, taper_max: 250, across: (2 * BLADE_DEPTH, 2 * BLADE_DEPTH, UPPER_JAW - 2 * BLADE_DEPTH), warm: (110, 105) },
    Row { id: LineId::T, place: "tip, cutting side", moving: "tip", fixed: "tip-cutting", toward: Toward::Cutting, stations: &[(1_130, None), (1_250, None)], position: 3, set: (500, 750), working: (350, 1_400), stop: (200, 1_750), hot_min: 100, taper_max: 250, across: (2 * (TIP_DEPTH - TIP_TO_GUIDE), 2 * BLADE_DEPTH, 0), warm: (150, 100) },
    Row { id: LineId::F, place: "front blade", moving: "tip", fixed: "front", toward: Toward::Neither, stations: &[(1_296, Some(190)), (1_296, Some(110))], position: 3, set: (800, 1_200), working: (500, 2_000), stop: (300, 2_600), hot_min: 200, taper_max: 300, across: (200, 120, 180), warm: (150, 110) },
    Row { id: LineId::G, place: "guide blade", moving: "tip", fixed: "guide", toward: Toward::Guide, stations: &[(990, None), (1_120, None), (1_250, None)], position: 3, set: (350, 700), working: (300, 1_200), stop: (200, 1_600), hot_min: 50, taper_max: 400, across: (2 * TIP_TO_GUIDE, 2 * GUIDE_DEPTH, 0), warm: (150, 130) },
    Row { id: LineId::J, place: "guide pads", moving: "side-plate", fixed: "pad", toward: Toward::Pads, stations: &[(150, None), (275, None)], position: 0, set: (300, 600), working: (200, 1_250), stop: (100, 1_750), hot_min: 50, taper_max: 200, across: (40, 2 * PAD_DEPTH, UPPER_JAW - 40), warm: (60, 60) },
];

const POSITIONS: [&str; 4] = [
    "Close until the guide pads stand beside the upper jaw, blades still clear of each other",
    "Close until the primary blades overlap over their whole length",
    "Close until the secondary blades overlap, before the tip enters the slot",
    "Close until the tip stands in the slot beside the guide blade",
];

/// The three sizes, in per cent of the middle one.
const fn size_of(scenario: Scenario) -> i64 {
    match scenario {
        Scenario::RunningHot => 100,
        Scenario::WellKept => 90,
        Scenario::SpreadJaw => 110,
    }
}

/// Millimetres on the middle size, brought to another.
const fn mm(middle: i64, per_cent: i64) -> Length {
    Length::from_um(middle * per_cent * 10)
}

/// A shear of the size that the scenario is told on.
///
/// `None` only if a table of this file is wrong; the room's tests show that it is not.
pub(crate) fn shear(id: ShearId, name: String, scenario: Scenario, place: usize) -> Option<Shear> {
    let size = size_of(scenario);
    let (number, where_) = match scenario {
        Scenario::RunningHot => (7, "quay"),
        Scenario::WellKept => (4, "rail side"),
        Scenario::SpreadJaw => (11, "north heap"),
    };
    Some(Shear {
        id,
        name,
        carrier: format!("carrier {:02}, {where_}", number + place / 3 * 12),
        geometry: Geometry {
            reach: mm(1_360, size),
            mouth: mm(MOUTH, size),
            cheek: mm(60, size),
            upper_jaw: mm(UPPER_JAW, size),
            pivot: mm(50, size),
            pads: mm(212, size),
        },
        positions: POSITIONS.map(|words| JawPosition { words: words.to_owned() }).to_vec(),
        lines: ROWS.iter().map(|row| line(row, size)).collect::<Option<_>>()?,
        blades: PARTS.iter().map(|part| blade(part, size)).collect::<Option<_>>()?,
        joint_step_max: Length::from_um(600),
        intervals: OwnIntervals::default(),
        thermal: Some(heat::thermal(i32::try_from(size).ok()?)),
    })
}

fn blade(part: &Part, size: i64) -> Option<Blade> {
    let torque = Torque::from_newton_metres(part.torque_nm)?;
    let first_torque = Torque::from_newton_metres((part.torque_nm / 20.0).floor() * 10.0)?;
    Some(Blade {
        id: BladeId(part.id.to_owned()),
        name: part.name.to_owned(),
        side: part.side,
        near: mm(part.near, size),
        far: mm(part.far, size),
        depth: mm(part.depth, size),
        edges: part.edges,
        hours_per_edge: Hours::from_whole(part.hours_per_edge),
        bolts: Some(Bolts {
            from_pivot: part.bolts.iter().map(|at| mm(*at, size)).collect(),
            size: part.size.to_owned(),
            grade: "10.9".to_owned(),
            torque: Some(torque),
            first_torque: Some(first_torque),
        }),
        pack: part.pack.map(|(most_shims, um)| PackRules {
            most_shims,
            thickest: Length::from_um(um),
            step: None,
        }),
        face_angle_deg: part.angle_deg,
        wear: WearLimits::default(),
    })
}

fn line(row: &Row, size: i64) -> Option<Line> {
    let band = |(min, max)| Band::from_um(min, max);
    let limits = Limits::new(
        band(row.set),
        band(row.working),
        band(row.stop),
        Length::from_um(row.hot_min),
        Length::from_um(row.taper_max),
        SOURCE.to_owned(),
    );
    let stations = (1..).zip(row.stations).map(|(number, (from_pivot, across))| Station {
        id: StationId { line: row.id, number },
        from_pivot: mm(*from_pivot, size),
        across: across.map(|across| mm(across, size)),
    });
    Some(Line {
        id: row.id,
        place: row.place.to_owned(),
        moving: BladeId(row.moving.to_owned()),
        fixed: BladeId(row.fixed.to_owned()),
        toward: row.toward,
        stations: stations.collect(),
        position: row.position,
        limits: limits.ok()?,
        chain: chain(row, size),
        working: PartTemperatures {
            moving: Temperature::from_whole_c(row.warm.0),
            fixed: Temperature::from_whole_c(row.warm.1),
            upper_jaw: Temperature::from_whole_c(55),
            lower_jaw: Temperature::from_whole_c(45),
        },
    })
}

/// From the jaw's middle to the cheek (to the front for F): the lower jaw is as long as the parts
/// that stand in it, so an evenly warm jaw keeps its gaps.
fn chain(row: &Row, size: i64) -> Chain {
    let (moving, fixed, upper) = row.across;
    // No table covers the tip's cast steel: its lines count with one round coefficient, the jaw's
    // links as well, so that they balance.
    let material = match row.moving {
        "tip" => Material::Constant { ppm_per_k: 12.0 },
        _ => Material::CarbonSteelTe1,
    };
    let link = |name: &str, halves: i64, opens, follows| Link {
        name: name.to_owned(),
        length: mm(halves, size).half(),
        opens,
        material: material.clone(),
        follows,
    };
    let mut links = vec![
        link("lower jaw", moving + fixed + upper, true, Follows::LowerJaw),
        link(part_name(row.fixed), fixed, false, Follows::Fixed),
        link(part_name(row.moving), moving, false, Follows::Moving),
    ];
    if 0 < upper {
        links.push(link("upper jaw", upper, false, Follows::UpperJaw));
    }
    Chain(links)
}

fn part_name(id: &'static str) -> &'static str {
    PARTS.iter().find(|part| part.id == id).map_or(id, |part| part.name)
}

/// What stands behind a blade when it is fitted, in µm.
pub(crate) fn base_pack(blade: &BladeId) -> &'static [i64] {
    match blade.0.as_str() {
        "lower-primary" | "front" | "guide" | "pad" => &[500],
        "lower-secondary" => &[500, 250],
        "tip-cutting" => &[300],
        _ => &[],
    }
}
