//! A machine of which nothing is known but where somebody measured it.
//!
//! Everything else about it is invented so that its readings can be kept and followed: limits wide
//! open, lengths that only put the stations in order. It says so wherever a limit is shown.

use crate::domain::{
    machine::{
        Band, Blade, BladeId, Chain, Geometry, JawPosition, Limits, Line, LineId, OwnIntervals,
        PartTemperatures, Shear, ShearId, Side, Station, StationId, Toward, WearLimits,
    },
    quantity::{Hours, Length, Temperature},
};
use std::collections::{BTreeMap, BTreeSet};

const SOURCE: &str =
    "demonstration values, wide open: write the limits of the manual for your machine here";

/// Wider than any gap that is still called one.
const WIDE: Band = Band::from_um(0, 100_000);

/// What is known about a machine before it is described.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Known {
    /// The highest station on each line; 0 where only work is known.
    pub stations: BTreeMap<LineId, u8>,
    /// The blades somebody worked on, by line, in the order they came up.
    pub blades: BTreeMap<LineId, Vec<BladeId>>,
    /// Blades that face no line.
    pub apart: BTreeSet<BladeId>,
}

/// The fixed blade of a line nobody has named the blades of.
pub fn fixed_blade(line: LineId) -> BladeId {
    BladeId(format!("{}-fixed", line.letter().to_ascii_lowercase()))
}

fn moving_blade(line: LineId) -> BladeId {
    BladeId(format!("{}-moving", line.letter().to_ascii_lowercase()))
}

/// A machine with these lines, stations and blades, wide-open limits and invented lengths.
///
/// `None` if nothing was measured or done on any line.
pub fn bare(id: ShearId, known: &Known) -> Option<Shear> {
    let mm = |mm: i64| Length::from_um(mm * 1_000);
    let name = id.as_str().to_owned();
    let nothing = Shear {
        id,
        name,
        carrier: String::new(),
        geometry: Geometry {
            reach: mm(1_360),
            mouth: mm(160),
            cheek: mm(60),
            upper_jaw: mm(110),
            pivot: mm(50),
            pads: mm(212),
        },
        positions: vec![JawPosition { words: "Close until the blades overlap".to_owned() }],
        lines: Vec::new(),
        blades: Vec::new(),
        joint_step_max: WIDE.max,
        intervals: OwnIntervals::default(),
        thermal: None,
    };
    let shear = with(&nothing, known)?;
    shear.check().is_empty().then_some(shear)
}

/// The same machine with what it does not have yet of these lines, stations and blades.
///
/// `None` if a line would get no station.
pub fn with(shear: &Shear, known: &Known) -> Option<Shear> {
    let mut shear = shear.clone();
    let lines: BTreeSet<LineId> =
        known.stations.keys().chain(known.blades.keys()).copied().collect();
    for id in lines {
        let stations = known.stations.get(&id).copied().unwrap_or(0).max(1);
        if shear.line(id).is_none() {
            let named = known.blades.get(&id).map_or(&[][..], Vec::as_slice);
            let fixed = named.first().cloned().unwrap_or_else(|| fixed_blade(id));
            let moving = named.get(1).cloned().unwrap_or_else(|| moving_blade(id));
            for (blade, side) in [(&moving, Side::Moving), (&fixed, side_of(id))] {
                add_blade(&mut shear, blade, side);
            }
            shear.lines.push(line(id, moving, fixed)?);
        }
        let line = shear.lines.iter_mut().find(|line| line.id == id)?;
        while u8::try_from(line.stations.len()).is_ok_and(|count| count < stations) {
            let number = u8::try_from(line.stations.len()).ok()?.checked_add(1)?;
            let farthest = line.stations.last().map_or(Length::ZERO, |it| it.from_pivot);
            line.stations.push(Station {
                id: StationId { line: id, number },
                from_pivot: farthest + Length::from_um(100_000),
                across: None,
            });
        }
    }
    for blade in &known.apart {
        add_blade(&mut shear, blade, Side::Cutting);
    }
    Some(shear)
}

fn add_blade(shear: &mut Shear, id: &BladeId, side: Side) {
    if shear.blade(id).is_some() {
        return;
    }
    shear.blades.push(Blade {
        id: id.clone(),
        name: id.0.replace('-', " "),
        side,
        near: Length::from_um(100_000),
        far: Length::from_um(1_300_000),
        depth: Length::from_um(40_000),
        edges: crate::domain::machine::EDGES_MOST,
        hours_per_edge: Hours::from_whole(1_000_000),
        bolts: None,
        pack: None,
        face_angle_deg: 0.0,
        wear: WearLimits::default(),
    });
}

fn line(id: LineId, moving: BladeId, fixed: BladeId) -> Option<Line> {
    let warm = Temperature::REFERENCE;
    Some(Line {
        id,
        place: place_of(id),
        moving,
        fixed,
        toward: toward_of(id),
        stations: Vec::new(),
        position: 0,
        limits: Limits::new(WIDE, WIDE, WIDE, Length::ZERO, WIDE.max, SOURCE.to_owned()).ok()?,
        chain: Chain(Vec::new()),
        working: PartTemperatures { moving: warm, fixed: warm, upper_jaw: warm, lower_jaw: warm },
    })
}

/// The letters of the usual jaw keep their places.
fn place_of(id: LineId) -> String {
    match id {
        LineId::P => "primary blades".to_owned(),
        LineId::S => "secondary blades".to_owned(),
        LineId::T => "tip, cutting side".to_owned(),
        LineId::F => "front blade".to_owned(),
        LineId::G => "guide blade".to_owned(),
        LineId::J => "guide pads".to_owned(),
        other => format!("line {other}"),
    }
}

const fn toward_of(id: LineId) -> Toward {
    match id {
        LineId::P | LineId::S | LineId::T => Toward::Cutting,
        LineId::G => Toward::Guide,
        LineId::J => Toward::Pads,
        _ => Toward::Neither,
    }
}

const fn side_of(id: LineId) -> Side {
    match id {
        LineId::G | LineId::J => Side::Guide,
        LineId::F => Side::Front,
        _ => Side::Cutting,
    }
}

#[test]
fn a_machine_nobody_described_holds_together_and_says_that_its_limits_are_no_limits() {
    let id = || ShearId::new("crane").expect("a folder");
    assert_eq!(bare(id(), &Known::default()), None, "nothing is known of it");
    let tip = BladeId("tip".into());
    let known = Known {
        stations: BTreeMap::from([(LineId::P, 3), (LineId::J, 1)]),
        blades: BTreeMap::from([(LineId::T, vec![tip.clone()])]),
        apart: BTreeSet::from([BladeId("hook".into())]),
    };
    let crane = bare(id(), &known).expect("a machine");
    assert_eq!(crane.check(), []);
    let counts: Vec<_> = crane.lines.iter().map(|it| (it.id.letter(), it.stations.len())).collect();
    assert_eq!(counts, [('J', 1), ('P', 3), ('T', 1)]);
    assert_eq!(crane.line(LineId::T).map(|it| &it.fixed), Some(&tip));
    assert!(crane.blade(&BladeId("hook".into())).is_some());
    assert!(crane.lines.iter().all(|it| it.limits.source().contains("demonstration values")));
    // A fifth station on a line that is there: the fourth comes with it.
    let more = Known { stations: BTreeMap::from([(LineId::P, 5)]), ..Known::default() };
    let longer = with(&crane, &more).expect("a machine");
    assert_eq!(
        (longer.check(), longer.line(LineId::P).map(|it| it.stations.len())),
        (vec![], Some(5))
    );
    assert_eq!(with(&longer, &more), Some(longer));
}
