//! A lesson in format 1. Frozen: what changes becomes a new format.
//!
//! Written by trainers by hand, so what is not said is as on the machine in hand.

use crate::{
    domain::heat::{Lesson, Picture, Setting, Step},
    store::{
        refusal::Refusal,
        wire::v1::units::{LineName, Plain, StationName},
    },
};
use serde::Deserialize;

/// A file in `lessons`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct LessonFile {
    #[serde(rename = "format")]
    _format: u64,
    title: String,
    minutes: u8,
    work: String,
    station: StationName,
    #[serde(default)]
    picture: PictureWord,
    #[serde(default)]
    setting: SettingFields,
    steps: StepList,
}

#[derive(Debug, Default, Deserialize)]
enum PictureWord {
    #[default]
    Heat,
    Force,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct SettingFields {
    gap_mm: Option<Gap>,
    also_mm: Vec<(LineName, Gap)>,
    cuts_per_minute: Option<Cuts>,
    plate_mm: Option<Thick>,
    working_share: Option<Share>,
    air_c: Option<Air>,
    start_c: Option<Start>,
    hours: Option<ShiftH>,
    breaks_h: Vec<(ShiftH, ShiftH)>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StepFields {
    title: String,
    at_h: ShiftH,
    question: String,
    answer: String,
    station: Option<StationName>,
    #[serde(default)]
    setting: SettingFields,
}

/// A lesson without steps teaches nothing.
#[derive(Debug, Deserialize)]
#[serde(try_from = "Vec<StepFields>")]
struct StepList(Vec<StepFields>);

impl TryFrom<Vec<StepFields>> for StepList {
    type Error = Refusal;

    fn try_from(steps: Vec<StepFields>) -> Result<Self, Refusal> {
        if steps.is_empty() {
            return Err(Refusal::new("a lesson has no steps", "write at least one"));
        }
        Ok(Self(steps))
    }
}

/// A number between two ends, refused with the name of its field.
macro_rules! between {
    ($name:ident, $low:expr, $high:expr, $words:literal) => {
        #[derive(Clone, Copy, Debug, Deserialize)]
        #[serde(try_from = "Plain")]
        struct $name(f64);

        impl TryFrom<Plain> for $name {
            type Error = Refusal;

            fn try_from(value: Plain) -> Result<Self, Refusal> {
                if ($low..=$high).contains(&value.0) {
                    return Ok(Self(value.0));
                }
                let field = crate::store::refusal::FIELD;
                let fact = format!("“{field}” is {}, which cannot be", value.0);
                Err(Refusal::new(fact, concat!("write ", $words)))
            }
        }
    };
}

between!(Gap, 0.0, 5.0, "millimetres from 0 to 5");
between!(Cuts, 0.0, 60.0, "cuts a minute from 0 to 60");
between!(Thick, 0.0, 500.0, "millimetres from 0 to 500");
between!(Air, -60.0, 60.0, "degrees Celsius from -60 to 60");
between!(Start, -60.0, 300.0, "degrees Celsius from -60 to 300");
between!(Share, 0.0, 1.0, "a share from 0 to 1");
between!(ShiftH, 0.0, 48.0, "hours from 0 to 48");

impl From<LessonFile> for Lesson {
    fn from(file: LessonFile) -> Self {
        let step = |step: StepFields| Step {
            title: step.title,
            at_h: step.at_h.0,
            question: step.question,
            answer: step.answer,
            station: step.station.map(|it| it.0),
            setting: step.setting.into(),
        };
        Self {
            title: file.title,
            minutes: file.minutes,
            work: file.work,
            station: file.station.0,
            picture: match file.picture {
                PictureWord::Heat => Picture::Heat,
                PictureWord::Force => Picture::Force,
            },
            setting: file.setting.into(),
            steps: file.steps.0.into_iter().map(step).collect(),
        }
    }
}

impl From<SettingFields> for Setting {
    fn from(setting: SettingFields) -> Self {
        Self {
            gap_mm: setting.gap_mm.map(|it| it.0),
            also_mm: setting.also_mm.iter().map(|(line, gap)| (line.0, gap.0)).collect(),
            cuts_per_minute: setting.cuts_per_minute.map(|it| it.0),
            plate_mm: setting.plate_mm.map(|it| it.0),
            working_share: setting.working_share.map(|it| it.0),
            air_c: setting.air_c.map(|it| it.0),
            start_c: setting.start_c.map(|it| it.0),
            hours: setting.hours.map(|it| it.0),
            breaks: setting.breaks_h.iter().map(|(from, to)| (from.0, to.0)).collect(),
        }
    }
}
