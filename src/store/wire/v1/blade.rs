//! A blade in format 1. Frozen: what changes becomes a new format.

use crate::{
    domain::machine::{Blade, Bolts, PackRules, Side, WearLimits},
    store::wire::v1::units::{BladeName, H, Mm, NewtonMetres, Plain, ThickMm},
};
use serde::{Deserialize, Serialize};

/// One exchangeable part.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct BladeFields {
    id: BladeName,
    name: String,
    side: SideWord,
    near_mm: Mm,
    far_mm: Mm,
    depth_mm: Mm,
    edges: u8,
    hours_per_edge_h: H,
    face_angle_deg: Plain,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    bolts: Option<BoltsFields>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pack: Option<PackFields>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    edge_radius_max_mm: Option<ThickMm>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    thickness_min_mm: Option<ThickMm>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tip_wear_max_mm: Option<ThickMm>,
}

#[derive(Debug, Deserialize, Serialize)]
enum SideWord {
    Moving,
    Cutting,
    Guide,
    Front,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct BoltsFields {
    from_pivot_mm: Vec<Mm>,
    size: String,
    grade: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    torque_nm: Option<NewtonMetres>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    first_torque_nm: Option<NewtonMetres>,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct PackFields {
    most_shims: u8,
    thickest_mm: ThickMm,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    step_mm: Option<ThickMm>,
}

impl From<&Blade> for BladeFields {
    fn from(blade: &Blade) -> Self {
        Self {
            id: BladeName(blade.id.clone()),
            name: blade.name.clone(),
            side: match blade.side {
                Side::Moving => SideWord::Moving,
                Side::Cutting => SideWord::Cutting,
                Side::Guide => SideWord::Guide,
                Side::Front => SideWord::Front,
            },
            near_mm: Mm(blade.near),
            far_mm: Mm(blade.far),
            depth_mm: Mm(blade.depth),
            edges: blade.edges,
            hours_per_edge_h: H(blade.hours_per_edge),
            face_angle_deg: Plain(blade.face_angle_deg),
            bolts: blade.bolts.as_ref().map(|bolts| BoltsFields {
                from_pivot_mm: bolts.from_pivot.iter().copied().map(Mm).collect(),
                size: bolts.size.clone(),
                grade: bolts.grade.clone(),
                torque_nm: bolts.torque.map(NewtonMetres),
                first_torque_nm: bolts.first_torque.map(NewtonMetres),
            }),
            pack: blade.pack.map(|rules| PackFields {
                most_shims: rules.most_shims,
                thickest_mm: ThickMm(rules.thickest),
                step_mm: rules.step.map(ThickMm),
            }),
            edge_radius_max_mm: blade.wear.edge_radius_max.map(ThickMm),
            thickness_min_mm: blade.wear.thickness_min.map(ThickMm),
            tip_wear_max_mm: blade.wear.tip_wear_max.map(ThickMm),
        }
    }
}

impl From<BladeFields> for Blade {
    fn from(fields: BladeFields) -> Self {
        Self {
            id: fields.id.0,
            name: fields.name,
            side: match fields.side {
                SideWord::Moving => Side::Moving,
                SideWord::Cutting => Side::Cutting,
                SideWord::Guide => Side::Guide,
                SideWord::Front => Side::Front,
            },
            near: fields.near_mm.0,
            far: fields.far_mm.0,
            depth: fields.depth_mm.0,
            edges: fields.edges,
            hours_per_edge: fields.hours_per_edge_h.0,
            bolts: fields.bolts.map(|bolts| Bolts {
                from_pivot: bolts.from_pivot_mm.into_iter().map(|it| it.0).collect(),
                size: bolts.size,
                grade: bolts.grade,
                torque: bolts.torque_nm.map(|it| it.0),
                first_torque: bolts.first_torque_nm.map(|it| it.0),
            }),
            pack: fields.pack.map(|pack| PackRules {
                most_shims: pack.most_shims,
                thickest: pack.thickest_mm.0,
                step: pack.step_mm.map(|it| it.0),
            }),
            face_angle_deg: fields.face_angle_deg.0,
            wear: WearLimits {
                edge_radius_max: fields.edge_radius_max_mm.map(|it| it.0),
                thickness_min: fields.thickness_min_mm.map(|it| it.0),
                tip_wear_max: fields.tip_wear_max_mm.map(|it| it.0),
            },
        }
    }
}
