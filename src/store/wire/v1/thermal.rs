//! What a machine's file says about heat, in format 1. Frozen: what changes becomes a new format.
//!
//! Optional as a whole: a machine without it is measured all the same. Whether its numbers can be
//! calculated with is the domain's question.

use crate::{
    domain::machine::{
        Body, Partition, Plate, Press, Thermal, ThermalContact, ThermalJoint, ThermalPart,
        UsualWork,
    },
    store::wire::v1::units::{BladeName, LineName, Mm, Plain, ThickMm},
};
use serde::{Deserialize, Serialize};

/// The block `thermal` of `shear.ron`.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ThermalFields {
    source: String,
    parts: Vec<PartFields>,
    joints: Vec<JointFields>,
    contacts: Vec<ContactFields>,
    work: WorkFields,
    press: PressFields,
    side_share: Plain,
    cutting_cheek_kn_per_mm: Plain,
    guide_cheek_kn_per_mm: Plain,
}

#[derive(Debug, Deserialize, Serialize)]
enum BodyWord {
    Blade(BladeName),
    UpperJaw,
    LowerJaw,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct PartFields {
    body: BodyWord,
    capacity_kj_per_k: Plain,
    to_air_w_per_k: Plain,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct JointFields {
    one: BodyWord,
    other: BodyWord,
    conductance_w_per_k: Plain,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
enum PartitionWord {
    ToMoving(Plain),
    Effusivities { moving: Plain, fixed: Plain },
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct ContactFields {
    line: LineName,
    thrust_share: Plain,
    stiffness_kn_per_mm: Plain,
    partition: PartitionWord,
    cut_heat_share: Plain,
    slide_mm: Mm,
    area_mm2: Plain,
    press_s: Plain,
    conductivity_w_per_m_k: Plain,
    diffusivity_mm2_per_s: Plain,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct PlateFields {
    thickness_mm: ThickMm,
    shear_n_per_mm2: Plain,
    cut_mm: ThickMm,
    from_pivot_mm: ThickMm,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct WorkFields {
    hours: Plain,
    cuts_per_minute: Plain,
    working_share: Plain,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    breaks_h: Vec<(Plain, Plain)>,
    air_c: Plain,
    friction: Plain,
    plate: PlateFields,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct PressFields {
    bore_mm: ThickMm,
    rod_mm: ThickMm,
    pressure_bar: Plain,
    arm_mm: ThickMm,
}

impl From<&Body> for BodyWord {
    fn from(body: &Body) -> Self {
        match body {
            Body::Blade(blade) => Self::Blade(BladeName(blade.clone())),
            Body::UpperJaw => Self::UpperJaw,
            Body::LowerJaw => Self::LowerJaw,
        }
    }
}

impl From<BodyWord> for Body {
    fn from(word: BodyWord) -> Self {
        match word {
            BodyWord::Blade(blade) => Self::Blade(blade.0),
            BodyWord::UpperJaw => Self::UpperJaw,
            BodyWord::LowerJaw => Self::LowerJaw,
        }
    }
}

impl From<&Thermal> for ThermalFields {
    fn from(thermal: &Thermal) -> Self {
        let part = |part: &ThermalPart| PartFields {
            body: BodyWord::from(&part.body),
            capacity_kj_per_k: Plain(part.capacity_kj_per_k),
            to_air_w_per_k: Plain(part.to_air_w_per_k),
        };
        let joint = |joint: &ThermalJoint| JointFields {
            one: BodyWord::from(&joint.one),
            other: BodyWord::from(&joint.other),
            conductance_w_per_k: Plain(joint.conductance_w_per_k),
        };
        Self {
            source: thermal.source.clone(),
            parts: thermal.parts.iter().map(part).collect(),
            joints: thermal.joints.iter().map(joint).collect(),
            contacts: thermal.contacts.iter().map(ContactFields::from).collect(),
            work: WorkFields::from(&thermal.work),
            press: PressFields {
                bore_mm: ThickMm(thermal.press.bore),
                rod_mm: ThickMm(thermal.press.rod),
                pressure_bar: Plain(thermal.press.pressure_bar),
                arm_mm: ThickMm(thermal.press.arm),
            },
            side_share: Plain(thermal.side_share),
            cutting_cheek_kn_per_mm: Plain(thermal.cutting_cheek_kn_per_mm),
            guide_cheek_kn_per_mm: Plain(thermal.guide_cheek_kn_per_mm),
        }
    }
}

impl From<ThermalFields> for Thermal {
    fn from(fields: ThermalFields) -> Self {
        let part = |part: PartFields| ThermalPart {
            body: part.body.into(),
            capacity_kj_per_k: part.capacity_kj_per_k.0,
            to_air_w_per_k: part.to_air_w_per_k.0,
        };
        let joint = |joint: JointFields| ThermalJoint {
            one: joint.one.into(),
            other: joint.other.into(),
            conductance_w_per_k: joint.conductance_w_per_k.0,
        };
        Self {
            source: fields.source,
            parts: fields.parts.into_iter().map(part).collect(),
            joints: fields.joints.into_iter().map(joint).collect(),
            contacts: fields.contacts.into_iter().map(ThermalContact::from).collect(),
            work: fields.work.into(),
            press: Press {
                bore: fields.press.bore_mm.0,
                rod: fields.press.rod_mm.0,
                pressure_bar: fields.press.pressure_bar.0,
                arm: fields.press.arm_mm.0,
            },
            side_share: fields.side_share.0,
            cutting_cheek_kn_per_mm: fields.cutting_cheek_kn_per_mm.0,
            guide_cheek_kn_per_mm: fields.guide_cheek_kn_per_mm.0,
        }
    }
}

impl From<&ThermalContact> for ContactFields {
    fn from(contact: &ThermalContact) -> Self {
        Self {
            line: LineName(contact.line),
            thrust_share: Plain(contact.thrust_share),
            stiffness_kn_per_mm: Plain(contact.stiffness_kn_per_mm),
            partition: match contact.partition {
                Partition::ToMoving(share) => PartitionWord::ToMoving(Plain(share)),
                Partition::Effusivities { moving, fixed } => {
                    PartitionWord::Effusivities { moving: Plain(moving), fixed: Plain(fixed) }
                }
            },
            cut_heat_share: Plain(contact.cut_heat_share),
            slide_mm: Mm(contact.slide),
            area_mm2: Plain(contact.area_mm2),
            press_s: Plain(contact.press_s),
            conductivity_w_per_m_k: Plain(contact.conductivity_w_per_m_k),
            diffusivity_mm2_per_s: Plain(contact.diffusivity_mm2_per_s),
        }
    }
}

impl From<ContactFields> for ThermalContact {
    fn from(fields: ContactFields) -> Self {
        Self {
            line: fields.line.0,
            thrust_share: fields.thrust_share.0,
            stiffness_kn_per_mm: fields.stiffness_kn_per_mm.0,
            partition: match fields.partition {
                PartitionWord::ToMoving(share) => Partition::ToMoving(share.0),
                PartitionWord::Effusivities { moving, fixed } => {
                    Partition::Effusivities { moving: moving.0, fixed: fixed.0 }
                }
            },
            cut_heat_share: fields.cut_heat_share.0,
            slide: fields.slide_mm.0,
            area_mm2: fields.area_mm2.0,
            press_s: fields.press_s.0,
            conductivity_w_per_m_k: fields.conductivity_w_per_m_k.0,
            diffusivity_mm2_per_s: fields.diffusivity_mm2_per_s.0,
        }
    }
}

impl From<&UsualWork> for WorkFields {
    fn from(work: &UsualWork) -> Self {
        Self {
            hours: Plain(work.hours),
            cuts_per_minute: Plain(work.cuts_per_minute),
            working_share: Plain(work.working_share),
            breaks_h: work.breaks.iter().map(|(from, to)| (Plain(*from), Plain(*to))).collect(),
            air_c: Plain(work.air_c),
            friction: Plain(work.friction),
            plate: PlateFields {
                thickness_mm: ThickMm(work.plate.thickness),
                shear_n_per_mm2: Plain(work.plate.shear_n_per_mm2),
                cut_mm: ThickMm(work.plate.cut),
                from_pivot_mm: ThickMm(work.plate.from_pivot),
            },
        }
    }
}

impl From<WorkFields> for UsualWork {
    fn from(fields: WorkFields) -> Self {
        Self {
            hours: fields.hours.0,
            cuts_per_minute: fields.cuts_per_minute.0,
            working_share: fields.working_share.0,
            breaks: fields.breaks_h.into_iter().map(|(from, to)| (from.0, to.0)).collect(),
            air_c: fields.air_c.0,
            friction: fields.friction.0,
            plate: Plate {
                thickness: fields.plate.thickness_mm.0,
                shear_n_per_mm2: fields.plate.shear_n_per_mm2.0,
                cut: fields.plate.cut_mm.0,
                from_pivot: fields.plate.from_pivot_mm.0,
            },
        }
    }
}
