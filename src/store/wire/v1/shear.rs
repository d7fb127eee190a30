//! A machine's description in format 1. Frozen: what changes becomes a new format.
//!
//! The machine's name inside the yard is its folder, so that a folder can be copied and renamed.

use crate::{
    domain::{
        machine::{
            Band, Blade, Chain, Follows, Geometry, JawPosition, Limits, Line, Link, Material,
            MaterialTable, OwnIntervals, PartTemperatures, Shear, ShearId, Station, Toward,
        },
        quantity::Length,
    },
    store::{
        refusal::Refusal,
        wire::v1::{
            blade::BladeFields,
            thermal::ThermalFields,
            units::{BladeName, C, H, LineName, Mm, Plain, StationName},
        },
    },
};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// The file `shear.ron`.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ShearFile {
    format: u64,
    name: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    carrier: String,
    geometry: GeometryFields,
    joint_step_max_mm: Mm,
    jaw_positions: Vec<String>,
    lines: Vec<LineEntry>,
    blades: Vec<BladeFields>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    intervals: Option<OwnIntervalFields>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    thermal: Option<ThermalFields>,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct GeometryFields {
    reach_mm: Mm,
    mouth_mm: Mm,
    cheek_mm: Mm,
    upper_jaw_mm: Mm,
    pivot_mm: Mm,
    pads_mm: Mm,
}

/// Only what differs from the yard.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct OwnIntervalFields {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    look_h: Option<H>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lubricate_h: Option<H>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    retorque_h: Option<H>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    break_in_h: Option<H>,
}

impl OwnIntervalFields {
    fn of(own: OwnIntervals) -> Option<Self> {
        let OwnIntervals { look, lubricate, retorque, break_in } = own;
        (own != OwnIntervals::default()).then(|| Self {
            look_h: look.map(H),
            lubricate_h: lubricate.map(H),
            retorque_h: retorque.map(H),
            break_in_h: break_in.map(H),
        })
    }
}

impl From<OwnIntervalFields> for OwnIntervals {
    fn from(file: OwnIntervalFields) -> Self {
        Self {
            look: file.look_h.map(|it| it.0),
            lubricate: file.lubricate_h.map(|it| it.0),
            retorque: file.retorque_h.map(|it| it.0),
            break_in: file.break_in_h.map(|it| it.0),
        }
    }
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "LineFields", into = "LineFields")]
struct LineEntry(Line);

/// `jaw_position` counts the list of jaw positions from 1.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct LineFields {
    letter: LineName,
    place: String,
    moving: BladeName,
    fixed: BladeName,
    toward: TowardWord,
    jaw_position: u32,
    stations: Vec<StationFields>,
    limits: LimitsEntry,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    chain: Vec<LinkFields>,
    working: PartFields,
}

#[derive(Debug, Deserialize, Serialize)]
enum TowardWord {
    Cutting,
    Guide,
    Neither,
    Pads,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct StationFields {
    station: StationName,
    from_pivot_mm: Mm,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    across_mm: Option<Mm>,
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "LimitsFields", into = "LimitsFields")]
struct LimitsEntry(Limits);

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct LimitsFields {
    set: BandFields,
    working: BandFields,
    stop: BandFields,
    hot_min_mm: Mm,
    taper_max_mm: Mm,
    source: String,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct BandFields {
    min_mm: Mm,
    max_mm: Mm,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct LinkFields {
    name: String,
    length_mm: Mm,
    opens: bool,
    material: MaterialWord,
    follows: FollowsWord,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
enum MaterialWord {
    CarbonSteelTe1,
    CarbonSteelEn1993,
    Constant { ppm_per_k: Plain },
    Table(TableEntry),
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "TableFields", into = "TableFields")]
struct TableEntry(Arc<MaterialTable>);

/// Rows of °C and 1e-6/K.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct TableFields {
    source: String,
    mean_ppm_per_k: Vec<(Plain, Plain)>,
}

impl From<TableEntry> for TableFields {
    fn from(TableEntry(table): TableEntry) -> Self {
        let rows = table.rows().iter().map(|(c, ppm)| (Plain(*c), Plain(*ppm)));
        Self { source: table.source().to_owned(), mean_ppm_per_k: rows.collect() }
    }
}

impl TryFrom<TableFields> for TableEntry {
    type Error = Refusal;

    fn try_from(fields: TableFields) -> Result<Self, Refusal> {
        let rows = fields.mean_ppm_per_k.iter().map(|(c, ppm)| (c.0, ppm.0)).collect();
        let next = "write rows of °C and 1e-6/K, coldest first, such as (93.0, 10.4)";
        let table = MaterialTable::new(fields.source, rows);
        table.map(|it| Self(Arc::new(it))).map_err(|err| Refusal::new(err.to_string(), next))
    }
}

#[derive(Debug, Deserialize, Serialize)]
enum FollowsWord {
    Moving,
    Fixed,
    UpperJaw,
    LowerJaw,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct PartFields {
    moving_c: C,
    fixed_c: C,
    upper_jaw_c: C,
    lower_jaw_c: C,
}

impl From<&Shear> for ShearFile {
    fn from(shear: &Shear) -> Self {
        let g = &shear.geometry;
        Self {
            format: 1,
            name: shear.name.clone(),
            carrier: shear.carrier.clone(),
            geometry: GeometryFields {
                reach_mm: Mm(g.reach),
                mouth_mm: Mm(g.mouth),
                cheek_mm: Mm(g.cheek),
                upper_jaw_mm: Mm(g.upper_jaw),
                pivot_mm: Mm(g.pivot),
                pads_mm: Mm(g.pads),
            },
            joint_step_max_mm: Mm(shear.joint_step_max),
            jaw_positions: shear.positions.iter().map(|it| it.words.clone()).collect(),
            lines: shear.lines.iter().cloned().map(LineEntry).collect(),
            blades: shear.blades.iter().map(BladeFields::from).collect(),
            intervals: OwnIntervalFields::of(shear.intervals),
            thermal: shear.thermal.as_ref().map(ThermalFields::from),
        }
    }
}

impl ShearFile {
    /// The machine in the folder `id`.
    pub(crate) fn into_shear(self, id: ShearId) -> Shear {
        let g = self.geometry;
        Shear {
            id,
            name: self.name,
            carrier: self.carrier,
            geometry: Geometry {
                reach: g.reach_mm.0,
                mouth: g.mouth_mm.0,
                cheek: g.cheek_mm.0,
                upper_jaw: g.upper_jaw_mm.0,
                pivot: g.pivot_mm.0,
                pads: g.pads_mm.0,
            },
            positions: self.jaw_positions.into_iter().map(|words| JawPosition { words }).collect(),
            lines: self.lines.into_iter().map(|it| it.0).collect(),
            blades: self.blades.into_iter().map(Blade::from).collect(),
            joint_step_max: self.joint_step_max_mm.0,
            intervals: self.intervals.map(Into::into).unwrap_or_default(),
            thermal: self.thermal.map(Into::into),
        }
    }
}

impl From<LineEntry> for LineFields {
    fn from(LineEntry(line): LineEntry) -> Self {
        let stations = line.stations.iter().map(|it| StationFields {
            station: StationName(it.id),
            from_pivot_mm: Mm(it.from_pivot),
            across_mm: it.across.map(Mm),
        });
        Self {
            letter: LineName(line.id),
            place: line.place,
            moving: BladeName(line.moving),
            fixed: BladeName(line.fixed),
            toward: match line.toward {
                Toward::Cutting => TowardWord::Cutting,
                Toward::Guide => TowardWord::Guide,
                Toward::Neither => TowardWord::Neither,
                Toward::Pads => TowardWord::Pads,
            },
            // A place no list can have saturates; it then does not read back and is not saved.
            jaw_position: u32::try_from(line.position).map_or(u32::MAX, |it| it.saturating_add(1)),
            stations: stations.collect(),
            limits: LimitsEntry(line.limits),
            chain: line.chain.0.into_iter().map(LinkFields::from).collect(),
            working: PartFields {
                moving_c: C(line.working.moving),
                fixed_c: C(line.working.fixed),
                upper_jaw_c: C(line.working.upper_jaw),
                lower_jaw_c: C(line.working.lower_jaw),
            },
        }
    }
}

impl TryFrom<LineFields> for LineEntry {
    type Error = Refusal;

    fn try_from(fields: LineFields) -> Result<Self, Refusal> {
        let position = fields.jaw_position.checked_sub(1).map(usize::try_from);
        let Some(Ok(position)) = position else {
            let fact = format!("line {} has jaw position {}", fields.letter.0, fields.jaw_position);
            return Err(Refusal::new(fact, "count the list of jaw positions from 1"));
        };
        let stations = fields.stations.into_iter().map(|it| Station {
            id: it.station.0,
            from_pivot: it.from_pivot_mm.0,
            across: it.across_mm.map(|mm| mm.0),
        });
        Ok(Self(Line {
            id: fields.letter.0,
            place: fields.place,
            moving: fields.moving.0,
            fixed: fields.fixed.0,
            toward: match fields.toward {
                TowardWord::Cutting => Toward::Cutting,
                TowardWord::Guide => Toward::Guide,
                TowardWord::Neither => Toward::Neither,
                TowardWord::Pads => Toward::Pads,
            },
            stations: stations.collect(),
            position,
            limits: fields.limits.0,
            chain: Chain(fields.chain.into_iter().map(Link::from).collect()),
            working: PartTemperatures {
                moving: fields.working.moving_c.0,
                fixed: fields.working.fixed_c.0,
                upper_jaw: fields.working.upper_jaw_c.0,
                lower_jaw: fields.working.lower_jaw_c.0,
            },
        }))
    }
}

impl From<Band> for BandFields {
    fn from(band: Band) -> Self {
        Self { min_mm: Mm(band.min), max_mm: Mm(band.max) }
    }
}

impl From<BandFields> for Band {
    fn from(fields: BandFields) -> Self {
        Self { min: fields.min_mm.0, max: fields.max_mm.0 }
    }
}

impl From<LimitsEntry> for LimitsFields {
    fn from(LimitsEntry(limits): LimitsEntry) -> Self {
        Self {
            set: limits.set().into(),
            working: limits.working().into(),
            stop: limits.stop().into(),
            hot_min_mm: Mm(limits.hot_min()),
            taper_max_mm: Mm(limits.taper_max()),
            source: limits.source().to_owned(),
        }
    }
}

impl TryFrom<LimitsFields> for LimitsEntry {
    type Error = Refusal;

    fn try_from(fields: LimitsFields) -> Result<Self, Refusal> {
        let (hot_min, taper_max): (Length, Length) = (fields.hot_min_mm.0, fields.taper_max_mm.0);
        let bands = (fields.set.into(), fields.working.into(), fields.stop.into());
        Limits::new(bands.0, bands.1, bands.2, hot_min, taper_max, fields.source)
            .map(Self)
            .map_err(|err| Refusal::new(err.to_string(), "copy the limits from the manual again"))
    }
}

impl From<Link> for LinkFields {
    fn from(link: Link) -> Self {
        Self {
            name: link.name,
            length_mm: Mm(link.length),
            opens: link.opens,
            material: match link.material {
                Material::CarbonSteelTe1 => MaterialWord::CarbonSteelTe1,
                Material::CarbonSteelEn1993 => MaterialWord::CarbonSteelEn1993,
                Material::Constant { ppm_per_k } => {
                    MaterialWord::Constant { ppm_per_k: Plain(ppm_per_k) }
                }
                Material::Table(table) => MaterialWord::Table(TableEntry(table)),
            },
            follows: match link.follows {
                Follows::Moving => FollowsWord::Moving,
                Follows::Fixed => FollowsWord::Fixed,
                Follows::UpperJaw => FollowsWord::UpperJaw,
                Follows::LowerJaw => FollowsWord::LowerJaw,
            },
        }
    }
}

impl From<LinkFields> for Link {
    fn from(fields: LinkFields) -> Self {
        Self {
            name: fields.name,
            length: fields.length_mm.0,
            opens: fields.opens,
            material: match fields.material {
                MaterialWord::CarbonSteelTe1 => Material::CarbonSteelTe1,
                MaterialWord::CarbonSteelEn1993 => Material::CarbonSteelEn1993,
                MaterialWord::Constant { ppm_per_k } => {
                    Material::Constant { ppm_per_k: ppm_per_k.0 }
                }
                MaterialWord::Table(table) => Material::Table(table.0),
            },
            follows: match fields.follows {
                FollowsWord::Moving => Follows::Moving,
                FollowsWord::Fixed => Follows::Fixed,
                FollowsWord::UpperJaw => Follows::UpperJaw,
                FollowsWord::LowerJaw => Follows::LowerJaw,
            },
        }
    }
}
