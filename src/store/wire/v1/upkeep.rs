//! Spare parts and work times, in format 1. Frozen: what changes becomes a new format.

use crate::{
    domain::{
        machine::ShearId,
        quantity::Hours,
        yard::{Part, PartKind, WorkTimes},
    },
    store::{refusal::Refusal, wire::v1::units::H},
};
use serde::{Deserialize, Serialize};

/// One kind of spare part.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct PartFields {
    kind: KindWord,
    name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    shear: Option<ShearEntry>,
    count: u16,
    #[serde(default = "one", skip_serializing_if = "is_one")]
    per_job: u16,
}

#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
enum KindWord {
    Blade,
    Bolt,
    Nut,
    Electrode,
    Grease,
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "String", into = "String")]
struct ShearEntry(ShearId);

/// The work times of a yard.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(try_from = "WorkTimesFields", into = "WorkTimesFields")]
pub(crate) struct WorkTimesEntry(pub(crate) WorkTimes);

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct WorkTimesFields {
    crew: u8,
    set_up_min: u16,
    measure_min: u16,
    shim_min: u16,
    turn_min: u16,
    replace_min: u16,
    weld_min: u16,
    pads_min: u16,
    retighten_min: u16,
    unplanned_stop_h: H,
    delivery_h: H,
    shutdown_every_h: H,
    shutdown_at_meter_h: H,
    weld_every_h: H,
}

const fn one() -> u16 {
    1
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands out references")]
const fn is_one(count: &u16) -> bool {
    *count == one()
}

impl TryFrom<String> for ShearEntry {
    type Error = Refusal;

    fn try_from(name: String) -> Result<Self, Refusal> {
        ShearId::new(&name).map(Self).ok_or_else(|| {
            let fact = format!("“{name}” cannot be the folder of a machine");
            Refusal::new(fact, "write the name of a folder under shears")
        })
    }
}

impl From<ShearEntry> for String {
    fn from(ShearEntry(id): ShearEntry) -> Self {
        id.as_str().to_owned()
    }
}

impl From<&Part> for PartFields {
    fn from(part: &Part) -> Self {
        Self {
            kind: match part.kind {
                PartKind::Blade => KindWord::Blade,
                PartKind::Bolt => KindWord::Bolt,
                PartKind::Nut => KindWord::Nut,
                PartKind::Electrode => KindWord::Electrode,
                PartKind::Grease => KindWord::Grease,
            },
            name: part.name.clone(),
            shear: part.shear.clone().map(ShearEntry),
            count: part.count,
            per_job: part.per_job,
        }
    }
}

impl From<PartFields> for Part {
    fn from(fields: PartFields) -> Self {
        let PartFields { kind, name, shear, count, per_job } = fields;
        Self {
            kind: match kind {
                KindWord::Blade => PartKind::Blade,
                KindWord::Bolt => PartKind::Bolt,
                KindWord::Nut => PartKind::Nut,
                KindWord::Electrode => PartKind::Electrode,
                KindWord::Grease => PartKind::Grease,
            },
            name,
            shear: shear.map(|it| it.0),
            count,
            per_job,
        }
    }
}

impl From<WorkTimesEntry> for WorkTimesFields {
    fn from(WorkTimesEntry(times): WorkTimesEntry) -> Self {
        Self {
            crew: times.crew,
            set_up_min: times.set_up_min,
            measure_min: times.measure_min,
            shim_min: times.shim_min,
            turn_min: times.turn_min,
            replace_min: times.replace_min,
            weld_min: times.weld_min,
            pads_min: times.pads_min,
            retighten_min: times.retighten_min,
            unplanned_stop_h: H(times.unplanned_stop),
            delivery_h: H(times.delivery),
            shutdown_every_h: H(times.shutdown_every),
            shutdown_at_meter_h: H(times.shutdown_at),
            weld_every_h: H(times.weld_every),
        }
    }
}

impl TryFrom<WorkTimesFields> for WorkTimesEntry {
    type Error = Refusal;

    fn try_from(fields: WorkTimesFields) -> Result<Self, Refusal> {
        if fields.crew == 0 {
            return Err(Refusal::new("“crew” is 0", "write how many people work at a machine"));
        }
        for (name, hours) in [
            ("shutdown_every_h", fields.shutdown_every_h.0),
            ("weld_every_h", fields.weld_every_h.0),
        ] {
            if hours < Hours::from_whole(1) {
                let fact = format!("“{name}” is less than an hour");
                return Err(Refusal::new(fact, "write the hours from one to the next"));
            }
        }
        Ok(Self(WorkTimes {
            crew: fields.crew,
            set_up_min: fields.set_up_min,
            measure_min: fields.measure_min,
            shim_min: fields.shim_min,
            turn_min: fields.turn_min,
            replace_min: fields.replace_min,
            weld_min: fields.weld_min,
            pads_min: fields.pads_min,
            retighten_min: fields.retighten_min,
            unplanned_stop: fields.unplanned_stop_h.0,
            delivery: fields.delivery_h.0,
            shutdown_every: fields.shutdown_every_h.0,
            shutdown_at: fields.shutdown_at_meter_h.0,
            weld_every: fields.weld_every_h.0,
        }))
    }
}
