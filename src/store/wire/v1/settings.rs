//! What belongs to the yard as a whole, in format 1. Frozen: what changes becomes a new format.

use crate::{
    domain::{
        gauge::{Calibration, Leaf, LeafSet, Repeatability},
        quantity::{Length, LengthUnit},
        yard::{Intervals, Part, Rule, Settings, ShelfItem, Tolerance, Upkeep},
    },
    store::{
        refusal::Refusal,
        wire::v1::{
            units::{Day, H, Mm, Plain, ThickMm},
            upkeep::{PartFields, WorkTimesEntry},
        },
    },
};
use serde::{Deserialize, Serialize};

/// The file `yard.ron`.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SettingsFile {
    format: u64,
    name: String,
    unit: UnitWord,
    intervals: IntervalFields,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    leaf_sets: Vec<LeafSetEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    shelf: Vec<ShelfFields>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    own_findings: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    repeatability: Option<RepeatabilityEntry>,
    #[serde(default)]
    tolerance: Option<ToleranceEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    parts: Vec<PartFields>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    work_times: Option<WorkTimesEntry>,
}

/// The unit people read; files are always metric.
#[derive(Debug, Deserialize, Serialize)]
enum UnitWord {
    Millimetre,
    Inch,
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct IntervalFields {
    look_h: H,
    lubricate_h: H,
    retorque_h: H,
    #[serde(default = "usual_break_in", skip_serializing_if = "is_usual_break_in")]
    break_in_h: H,
}

const fn usual_break_in() -> H {
    H(Intervals::USUAL.break_in)
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands out references")]
fn is_usual_break_in(hours: &H) -> bool {
    hours.0 == Intervals::USUAL.break_in
}

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ShelfFields {
    thickness_mm: ThickMm,
    count: u16,
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "ToleranceFields", into = "ToleranceFields")]
struct ToleranceEntry(Tolerance);

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct ToleranceFields {
    /// A share, not per cent.
    conformity: Plain,
    rule: RuleWord,
}

/// Which readings count as inside.
#[derive(Debug, Deserialize, Serialize)]
enum RuleWord {
    Guarded,
    Simple,
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "RepeatabilityFields", into = "RepeatabilityFields")]
struct RepeatabilityEntry(Repeatability);

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct RepeatabilityFields {
    sigma_mm: Mm,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    dof: Option<u32>,
    from: String,
    taken: Day,
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "LeafSetFields", into = "LeafSetFields")]
struct LeafSetEntry(LeafSet);

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct LeafSetFields {
    name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    calibration: Option<CalibrationEntry>,
    leaves: Vec<LeafEntry>,
}

#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(try_from = "CalibrationFields", into = "CalibrationFields")]
struct CalibrationEntry(Calibration);

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct CalibrationFields {
    on: Day,
    due: Day,
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "LeafFields", into = "LeafFields")]
struct LeafEntry(Leaf);

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct LeafFields {
    thickness_mm: ThickMm,
    tolerance_mm: Mm,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    measured_mm: Option<ThickMm>,
}

impl From<&Settings> for SettingsFile {
    fn from(settings: &Settings) -> Self {
        let Intervals { look, lubricate, retorque, break_in } = settings.intervals;
        let shelf = settings
            .shelf
            .iter()
            .map(|item| ShelfFields { thickness_mm: ThickMm(item.thickness), count: item.count });
        Self {
            format: 1,
            name: settings.name.clone(),
            unit: match settings.unit {
                LengthUnit::Millimetre => UnitWord::Millimetre,
                LengthUnit::Inch => UnitWord::Inch,
            },
            intervals: IntervalFields {
                look_h: H(look),
                lubricate_h: H(lubricate),
                retorque_h: H(retorque),
                break_in_h: H(break_in),
            },
            leaf_sets: settings.leaf_sets.iter().cloned().map(LeafSetEntry).collect(),
            shelf: shelf.collect(),
            own_findings: settings.own_findings.clone(),
            repeatability: settings.repeatability.clone().map(RepeatabilityEntry),
            tolerance: Some(ToleranceEntry(settings.tolerance)),
            parts: settings.upkeep.parts.iter().map(PartFields::from).collect(),
            work_times: settings.upkeep.times.map(WorkTimesEntry),
        }
    }
}

impl From<ShelfFields> for ShelfItem {
    fn from(item: ShelfFields) -> Self {
        Self { thickness: item.thickness_mm.0, count: item.count }
    }
}

impl From<SettingsFile> for Settings {
    fn from(file: SettingsFile) -> Self {
        let IntervalFields { look_h, lubricate_h, retorque_h, break_in_h } = file.intervals;
        let shelf = file.shelf.into_iter().map(ShelfItem::from);
        Self {
            name: file.name,
            leaf_sets: file.leaf_sets.into_iter().map(|it| it.0).collect(),
            shelf: shelf.collect(),
            intervals: Intervals {
                look: look_h.0,
                lubricate: lubricate_h.0,
                retorque: retorque_h.0,
                break_in: break_in_h.0,
            },
            own_findings: file.own_findings,
            repeatability: file.repeatability.map(|it| it.0),
            tolerance: file.tolerance.map(|it| it.0).unwrap_or_default(),
            unit: match file.unit {
                UnitWord::Millimetre => LengthUnit::Millimetre,
                UnitWord::Inch => LengthUnit::Inch,
            },
            upkeep: Upkeep {
                parts: file.parts.into_iter().map(Part::from).collect(),
                times: file.work_times.map(|it| it.0),
            },
        }
    }
}

impl From<ToleranceEntry> for ToleranceFields {
    fn from(ToleranceEntry(tolerance): ToleranceEntry) -> Self {
        let rule = match tolerance.rule() {
            Rule::Guarded => RuleWord::Guarded,
            Rule::Simple => RuleWord::Simple,
        };
        Self { conformity: Plain(tolerance.conformity()), rule }
    }
}

impl TryFrom<ToleranceFields> for ToleranceEntry {
    type Error = Refusal;

    fn try_from(fields: ToleranceFields) -> Result<Self, Refusal> {
        let rule = match fields.rule {
            RuleWord::Guarded => Rule::Guarded,
            RuleWord::Simple => Rule::Simple,
        };
        let conformity = fields.conformity.0;
        Tolerance::new(conformity, rule).map(Self).ok_or_else(|| {
            let fact = format!("“conformity” is {conformity}, which proves nothing");
            Refusal::new(fact, "write a share above 0.5 and below 1, such as 0.95")
        })
    }
}

impl From<RepeatabilityEntry> for RepeatabilityFields {
    fn from(RepeatabilityEntry(study): RepeatabilityEntry) -> Self {
        let Repeatability { sigma, dof, from, taken } = study;
        Self { sigma_mm: Mm(sigma), dof, from, taken: Day(taken) }
    }
}

impl TryFrom<RepeatabilityFields> for RepeatabilityEntry {
    type Error = Refusal;

    fn try_from(fields: RepeatabilityFields) -> Result<Self, Refusal> {
        let sigma = fields.sigma_mm.0;
        if sigma < Length::ZERO {
            let fact = "“sigma_mm” is negative";
            return Err(Refusal::new(fact, "write the scatter the gauge study found"));
        }
        if fields.dof == Some(0) {
            let fact = "“dof” is 0, which finds no scatter";
            return Err(Refusal::new(
                fact,
                "write the study's degrees of freedom, or leave it out",
            ));
        }
        let RepeatabilityFields { dof, from, taken, .. } = fields;
        Ok(Self(Repeatability { sigma, dof, from, taken: taken.0 }))
    }
}

impl From<LeafSetEntry> for LeafSetFields {
    fn from(LeafSetEntry(set): LeafSetEntry) -> Self {
        let leaves = set.leaves().iter().copied().map(LeafEntry).collect();
        let calibration = set.calibration().map(CalibrationEntry);
        Self { name: set.name().to_owned(), calibration, leaves }
    }
}

impl TryFrom<LeafSetFields> for LeafSetEntry {
    type Error = Refusal;

    fn try_from(fields: LeafSetFields) -> Result<Self, Refusal> {
        let name = fields.name.clone();
        let leaves = fields.leaves.into_iter().map(|it| it.0).collect();
        let set = LeafSet::new(fields.name, leaves);
        let calibration = fields.calibration.map(|it| it.0);
        set.map(|set| Self(set.calibrated(calibration))).ok_or_else(|| {
            let fact = format!("the leaf set “{name}” has no leaf, or one leaf twice");
            Refusal::new(fact, "list every leaf of the set once")
        })
    }
}

impl From<CalibrationEntry> for CalibrationFields {
    fn from(CalibrationEntry(Calibration { on, due }): CalibrationEntry) -> Self {
        Self { on: Day(on), due: Day(due) }
    }
}

impl TryFrom<CalibrationFields> for CalibrationEntry {
    type Error = Refusal;

    fn try_from(fields: CalibrationFields) -> Result<Self, Refusal> {
        let (on, due) = (fields.on.0, fields.due.0);
        if due < on {
            let fact = format!("a calibration of {on} cannot have been due on {due}");
            return Err(Refusal::new(fact, "compare with the calibration sheet of the set"));
        }
        Ok(Self(Calibration { on, due }))
    }
}

impl From<LeafEntry> for LeafFields {
    fn from(LeafEntry(leaf): LeafEntry) -> Self {
        Self {
            thickness_mm: ThickMm(leaf.thickness),
            tolerance_mm: Mm(leaf.tolerance),
            measured_mm: leaf.measured.map(ThickMm),
        }
    }
}

impl TryFrom<LeafFields> for LeafEntry {
    type Error = Refusal;

    fn try_from(fields: LeafFields) -> Result<Self, Refusal> {
        let (thickness, tolerance) = (fields.thickness_mm.0, fields.tolerance_mm.0);
        if tolerance < Length::ZERO || thickness <= tolerance {
            let fact = "“tolerance_mm” is negative or as large as the leaf";
            return Err(Refusal::new(fact, "write half the width its maker allows"));
        }
        let measured = fields.measured_mm.map(|it| it.0);
        Ok(Self(Leaf { thickness, tolerance, measured }))
    }
}
