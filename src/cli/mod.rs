//! Headless commands.
//!
//! Knows the terminal, the clock and the way to the sample yard. Does not know the window: `main`
//! starts that. Prints what `brief` says; JSON carries full precision, units in its keys, and
//! `null` for what is absent.

mod args;
mod data;
mod due;
mod exit;
mod export;
mod heat;
mod import;
mod json;
mod out;
mod pack;
mod parts;
mod plan;
mod reading;
mod run;
mod sheet;
mod study;
mod text;
mod torque;
mod trend;

pub use args::{Args, ExportArgs, HeatArgs, ImportArgs, Job, Per};
pub use data::{cache_folder, config_folder, find_yard, open_or_sample, sample_home};
pub use exit::{Exit, WrongData};
pub use reading::ReadingArgs;
pub use run::{print_decisions, run};
pub use sheet::SheetArgs;
pub use torque::TorqueArgs;
