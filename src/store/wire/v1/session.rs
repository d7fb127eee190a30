//! A session in format 1. Frozen: what changes becomes a new format.

use crate::{
    domain::{
        gauge::Bracket,
        log::{
            BoltSpan, Counters, Finding, FindingKind, Mark, MarkKind, Reading, Remark, Session,
            Work,
        },
        machine::EDGES_MOST,
        quantity::Length,
    },
    store::{
        refusal::Refusal,
        wire::v1::remark::RemarkFields,
        wire::v1::units::{
            BladeName, C, H, LineName, Mm, NewtonMetres, SessionName, ShearName, StationName,
            ThickMm, Time,
        },
        wire::v1::weld::WeldPartWord,
    },
};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// The file of a session or of a draft.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct SessionFile {
    format: u64,
    id: SessionName,
    shear: ShearName,
    taken: Time,
    meter_h: H,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    by: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    amends: Option<SessionName>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    air_temp_c: Option<C>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    jaw_temp_c: Option<C>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    readings: Vec<ReadingEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    marks: Vec<MarkFields>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    findings: Vec<FindingEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    work: Vec<WorkEntry>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    tonnage_t: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    cuts: Option<u64>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    remarks: Vec<RemarkFields>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    content_crc32: Option<String>,
}

impl SessionFile {
    /// The sum over the text above it, if it was written with one.
    pub(crate) fn sum(&self) -> Option<&str> {
        self.content_crc32.as_deref()
    }
}

impl From<&Session> for SessionFile {
    fn from(session: &Session) -> Self {
        Self {
            format: 1,
            id: SessionName(session.id.clone()),
            shear: ShearName(session.shear.clone()),
            taken: Time(session.taken),
            meter_h: H(session.meter),
            by: session.by.clone(),
            amends: session.amends.clone().map(SessionName),
            air_temp_c: session.air_temp.map(C),
            jaw_temp_c: session.jaw_temp.map(C),
            readings: session.readings.iter().cloned().map(ReadingEntry).collect(),
            marks: session.marks.iter().cloned().map(MarkFields::from).collect(),
            findings: session.findings.iter().cloned().map(FindingEntry).collect(),
            work: session.work.iter().cloned().map(WorkEntry).collect(),
            tonnage_t: session.counters.tonnes,
            cuts: session.counters.cuts,
            remarks: session.remarks.iter().cloned().map(RemarkFields::from).collect(),
            note: session.note.clone(),
            content_crc32: None,
        }
    }
}

impl From<SessionFile> for Session {
    fn from(file: SessionFile) -> Self {
        Self {
            id: file.id.0,
            shear: file.shear.0,
            taken: file.taken.0,
            meter: file.meter_h.0,
            by: file.by,
            air_temp: file.air_temp_c.map(|it| it.0),
            jaw_temp: file.jaw_temp_c.map(|it| it.0),
            readings: file.readings.into_iter().map(|it| it.0).collect(),
            marks: file.marks.into_iter().map(Mark::from).collect(),
            findings: file.findings.into_iter().map(|it| it.0).collect(),
            work: file.work.into_iter().map(|it| it.0).collect(),
            counters: Counters { tonnes: file.tonnage_t, cuts: file.cuts },
            remarks: file.remarks.into_iter().map(Remark::from).collect(),
            note: file.note,
            amends: file.amends.map(|it| it.0),
        }
    }
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "ReadingFields", into = "ReadingFields")]
struct ReadingEntry(Reading);

/// `no_go_mm` is absent where even the thickest stack went; `go_mm` is zero where none did.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct ReadingFields {
    station: StationName,
    go_mm: Mm,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    no_go_mm: Option<Mm>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    blade_temp_c: Option<C>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    leaves: Option<String>,
}

impl From<ReadingEntry> for ReadingFields {
    fn from(ReadingEntry(reading): ReadingEntry) -> Self {
        Self {
            station: StationName(reading.station),
            go_mm: Mm(reading.bracket.go()),
            no_go_mm: reading.bracket.no_go().map(Mm),
            blade_temp_c: reading.blade_temp.map(C),
            leaves: reading.leaves.as_deref().map(str::to_owned),
        }
    }
}

impl TryFrom<ReadingFields> for ReadingEntry {
    type Error = Refusal;

    fn try_from(fields: ReadingFields) -> Result<Self, Refusal> {
        let station = fields.station.0;
        let bracket = Bracket::new(fields.go_mm.0, fields.no_go_mm.map(|it| it.0));
        let bracket = bracket.map_err(|err| {
            let next = "compare with the paper sheet and write “go_mm” and “no_go_mm” as felt";
            Refusal::new(format!("at {station} {err}"), next)
        })?;
        let blade_temp = fields.blade_temp_c.map(|it| it.0);
        let leaves = fields.leaves.map(Arc::from);
        Ok(Self(Reading { station, bracket, blade_temp, leaves }))
    }
}

/// A wear mark of a blade.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct MarkFields {
    blade: BladeName,
    kind: MarkWord,
    value_mm: ThickMm,
}

#[derive(Debug, Deserialize, Serialize)]
enum MarkWord {
    EdgeRadius,
    Thickness,
    TipWear,
}

impl From<Mark> for MarkFields {
    fn from(mark: Mark) -> Self {
        let kind = match mark.kind {
            MarkKind::EdgeRadius => MarkWord::EdgeRadius,
            MarkKind::Thickness => MarkWord::Thickness,
            MarkKind::TipWear => MarkWord::TipWear,
        };
        Self { blade: BladeName(mark.blade), kind, value_mm: ThickMm(mark.value) }
    }
}

impl From<MarkFields> for Mark {
    fn from(fields: MarkFields) -> Self {
        let kind = match fields.kind {
            MarkWord::EdgeRadius => MarkKind::EdgeRadius,
            MarkWord::Thickness => MarkKind::Thickness,
            MarkWord::TipWear => MarkKind::TipWear,
        };
        Self { blade: fields.blade.0, kind, value: fields.value_mm.0 }
    }
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "FindingFields", into = "FindingFields")]
struct FindingEntry(Finding);

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct FindingFields {
    kind: FindingWord,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    line: Option<LineName>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    station: Option<u8>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    size_mm: Option<ThickMm>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
}

#[derive(Debug, Deserialize, Serialize)]
enum FindingWord {
    StrawStreak,
    BrownStreak,
    PurpleStreak,
    BlueStreak,
    SurfaceCracks,
    ChippedEdge,
    Jam,
    Chatter,
    LooseBolt,
    StockCaught,
    Own(String),
}

impl From<FindingEntry> for FindingFields {
    fn from(FindingEntry(finding): FindingEntry) -> Self {
        Self {
            kind: match finding.kind {
                FindingKind::StrawStreak => FindingWord::StrawStreak,
                FindingKind::BrownStreak => FindingWord::BrownStreak,
                FindingKind::PurpleStreak => FindingWord::PurpleStreak,
                FindingKind::BlueStreak => FindingWord::BlueStreak,
                FindingKind::SurfaceCracks => FindingWord::SurfaceCracks,
                FindingKind::ChippedEdge => FindingWord::ChippedEdge,
                FindingKind::Jam => FindingWord::Jam,
                FindingKind::Chatter => FindingWord::Chatter,
                FindingKind::LooseBolt => FindingWord::LooseBolt,
                FindingKind::StockCaught => FindingWord::StockCaught,
                FindingKind::Own(words) => FindingWord::Own(words),
            },
            line: finding.line.map(LineName),
            station: finding.station,
            size_mm: finding.size.map(ThickMm),
            note: finding.note,
        }
    }
}

impl TryFrom<FindingFields> for FindingEntry {
    type Error = Refusal;

    fn try_from(fields: FindingFields) -> Result<Self, Refusal> {
        if fields.station.is_some() && fields.line.is_none() {
            let fact = "a finding names a station but no line";
            return Err(Refusal::new(fact, "add its line, such as line: \"P\""));
        }
        Ok(Self(Finding {
            kind: match fields.kind {
                FindingWord::StrawStreak => FindingKind::StrawStreak,
                FindingWord::BrownStreak => FindingKind::BrownStreak,
                FindingWord::PurpleStreak => FindingKind::PurpleStreak,
                FindingWord::BlueStreak => FindingKind::BlueStreak,
                FindingWord::SurfaceCracks => FindingKind::SurfaceCracks,
                FindingWord::ChippedEdge => FindingKind::ChippedEdge,
                FindingWord::Jam => FindingKind::Jam,
                FindingWord::Chatter => FindingKind::Chatter,
                FindingWord::LooseBolt => FindingKind::LooseBolt,
                FindingWord::StockCaught => FindingKind::StockCaught,
                FindingWord::Own(words) => FindingKind::Own(words),
            },
            line: fields.line.map(|it| it.0),
            station: fields.station,
            size: fields.size_mm.map(|it| it.0),
            note: fields.note,
        }))
    }
}

#[derive(Clone, Debug, Deserialize, Serialize)]
#[serde(try_from = "WorkFields", into = "WorkFields")]
struct WorkEntry(Work);

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
enum WorkFields {
    Shims {
        blade: BladeName,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bolts: Option<BoltFields>,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        put_in_mm: Vec<ThickMm>,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        take_out_mm: Vec<ThickMm>,
    },
    Turned {
        blade: BladeName,
        edge: u8,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        pack_mm: Vec<ThickMm>,
    },
    Replaced {
        blade: BladeName,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        pack_mm: Vec<ThickMm>,
    },
    Swapped {
        blade: BladeName,
        with: BladeName,
    },
    Tightened {
        blade: BladeName,
        torque_nm: NewtonMetres,
    },
    Welded {
        #[serde(default, skip_serializing_if = "WeldPartWord::is_elsewhere")]
        part: WeldPartWord,
        place: String,
        consumable: String,
        cooled_slowly: bool,
        template_checked: bool,
    },
    Lubricated,
    MeterChanged {
        old_h: H,
        new_h: H,
    },
}

/// Counted from 1 at the pivot end, both included.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct BoltFields {
    first: u8,
    last: u8,
}

fn thick(shims: Vec<Length>) -> Vec<ThickMm> {
    shims.into_iter().map(ThickMm).collect()
}

fn lengths(shims: Vec<ThickMm>) -> Vec<Length> {
    shims.into_iter().map(|it| it.0).collect()
}

impl From<WorkEntry> for WorkFields {
    fn from(WorkEntry(work): WorkEntry) -> Self {
        match work {
            Work::Shims { blade, bolts, put_in, take_out } => Self::Shims {
                blade: BladeName(blade),
                bolts: bolts.map(|BoltSpan { first, last }| BoltFields { first, last }),
                put_in_mm: thick(put_in),
                take_out_mm: thick(take_out),
            },
            Work::Turned { blade, edge, pack } => {
                Self::Turned { blade: BladeName(blade), edge, pack_mm: thick(pack) }
            }
            Work::Replaced { blade, pack } => {
                Self::Replaced { blade: BladeName(blade), pack_mm: thick(pack) }
            }
            Work::Swapped { blade, with } => {
                Self::Swapped { blade: BladeName(blade), with: BladeName(with) }
            }
            Work::Tightened { blade, torque } => {
                Self::Tightened { blade: BladeName(blade), torque_nm: NewtonMetres(torque) }
            }
            Work::Welded { part, place, consumable, cooled_slowly, template_checked } => {
                let part = part.into();
                Self::Welded { part, place, consumable, cooled_slowly, template_checked }
            }
            Work::Lubricated => Self::Lubricated,
            Work::MeterChanged { old, new } => Self::MeterChanged { old_h: H(old), new_h: H(new) },
        }
    }
}

impl TryFrom<WorkFields> for WorkEntry {
    type Error = Refusal;

    fn try_from(fields: WorkFields) -> Result<Self, Refusal> {
        Ok(Self(match fields {
            WorkFields::Shims { blade, bolts, put_in_mm, take_out_mm } => Work::Shims {
                blade: blade.0,
                bolts: bolts.map(BoltSpan::try_from).transpose()?,
                put_in: lengths(put_in_mm),
                take_out: lengths(take_out_mm),
            },
            WorkFields::Turned { blade, edge, pack_mm } => {
                if !(1..=EDGES_MOST).contains(&edge) {
                    let fact = format!("“{}” cannot be turned to edge {edge}", blade.0);
                    return Err(Refusal::new(
                        fact,
                        format!("write an edge from 1 to {EDGES_MOST}"),
                    ));
                }
                Work::Turned { blade: blade.0, edge, pack: lengths(pack_mm) }
            }
            WorkFields::Replaced { blade, pack_mm } => {
                Work::Replaced { blade: blade.0, pack: lengths(pack_mm) }
            }
            WorkFields::Swapped { blade, with } => {
                if blade.0 == with.0 {
                    let fact = format!("“{}” cannot change places with itself", blade.0);
                    return Err(Refusal::new(fact, "write the other blade in “with”"));
                }
                Work::Swapped { blade: blade.0, with: with.0 }
            }
            WorkFields::Tightened { blade, torque_nm } => {
                Work::Tightened { blade: blade.0, torque: torque_nm.0 }
            }
            WorkFields::Welded { part, place, consumable, cooled_slowly, template_checked } => {
                let part = part.into();
                Work::Welded { part, place, consumable, cooled_slowly, template_checked }
            }
            WorkFields::Lubricated => Work::Lubricated,
            WorkFields::MeterChanged { old_h, new_h } => {
                Work::MeterChanged { old: old_h.0, new: new_h.0 }
            }
        }))
    }
}

impl TryFrom<BoltFields> for BoltSpan {
    type Error = Refusal;

    fn try_from(BoltFields { first, last }: BoltFields) -> Result<Self, Refusal> {
        if first < 1 || last < first {
            let fact = format!("bolts from {first} to {last} are no span");
            return Err(Refusal::new(fact, "count them from 1 at the pivot end outward"));
        }
        Ok(Self { first, last })
    }
}
