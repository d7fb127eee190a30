//! Format 1: the shapes of its kinds of file. Frozen.
#![expect(clippy::struct_field_names, reason = "every quantity's name ends in its unit")]

mod blade;
mod causes;
mod lesson;
mod problem;
mod remark;
mod session;
mod settings;
mod shear;
mod thermal;
mod units;
mod upkeep;
mod weld;

pub(crate) use causes::CausesFile;
pub(crate) use lesson::LessonFile;
pub(crate) use problem::ProblemFile;
pub(crate) use session::SessionFile;
pub(crate) use settings::SettingsFile;
pub(crate) use shear::ShearFile;
