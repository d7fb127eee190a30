//! The command line as typed.

use chrono::{DateTime, Utc};
use clap::{Parser, Subcommand};
use std::path::PathBuf;

/// Blade gaps of hydraulic scrap shears: measure with feeler leaves, decide for each blade, follow
/// the trend. With no command it opens the window.
#[derive(Clone, Debug, Parser)]
#[command(name = "gapwright", version, args_conflicts_with_subcommands = true)]
pub struct Args {
    /// What to do; nothing opens the window.
    #[command(subcommand)]
    pub job: Option<Job>,
    /// The yard's folder; without one, a copy of the sample yard is used.
    pub yard: Option<PathBuf>,
}

/// A headless command.
#[derive(Clone, Debug, Subcommand)]
pub enum Job {
    /// What to do with each line of each machine, and why.
    Decide {
        /// The yard's folder; without one, a copy of the sample yard.
        yard: Option<PathBuf>,
        /// Only this machine, by its folder name.
        #[arg(long)]
        shear: Option<String>,
        /// As of this time (RFC 3339); later sessions are left out.
        #[arg(long, value_parser = moment)]
        at: Option<DateTime<Utc>>,
        /// JSON with full precision.
        #[arg(long)]
        json: bool,
    },
    /// How fast the gaps of a machine grow, and hours to each limit.
    Trend {
        /// The yard's folder; without one, a copy of the sample yard.
        yard: Option<PathBuf>,
        /// The machine, by its folder name.
        #[arg(long)]
        shear: String,
        /// Only this station, such as P1.
        #[arg(long)]
        station: Option<String>,
        /// A limit of your own, in mm.
        #[arg(long)]
        limit_mm: Option<f64>,
        /// How sure the interval is, between 0 and 1.
        #[arg(long, default_value_t = 0.80, value_parser = share)]
        confidence: f64,
        /// Count the readings' own uncertainty (leaves, temperatures) as scatter as well.
        #[arg(long)]
        with_reading_u: bool,
        /// JSON with full precision.
        #[arg(long)]
        json: bool,
    },
    /// How much of what is measured is the measuring itself: a gauge study.
    ///
    /// Header required, columns in any order; `appraiser` may stand for `person` and `value` for
    /// `value_mm`. Semicolons with decimal commas are fine.
    Study {
        /// A CSV file with the columns part, person, trial and `value_mm`.
        file: PathBuf,
        /// Count with this scatter for every reading in this yard from now on.
        #[arg(long = "use", value_name = "YARD")]
        in_yard: Option<PathBuf>,
        /// JSON with full precision.
        #[arg(long)]
        json: bool,
    },
    /// Reads every file of a yard and names what is wrong with each.
    Check {
        /// The yard's folder.
        yard: PathBuf,
    },
    /// Writes an invented yard.
    Sample {
        /// A folder that does not exist yet, or is empty.
        dir: PathBuf,
        /// How many machines.
        #[arg(long, default_value_t = 3, value_parser = clap::value_parser!(u32).range(1..=10_000))]
        shears: u32,
        /// How many sessions for each machine.
        #[arg(long, default_value_t = 48, value_parser = clap::value_parser!(u32).range(1..=100_000))]
        sessions: u32,
        /// The same seed makes the same yard.
        #[arg(long, default_value_t = 1)]
        seed: u64,
    },
}

fn moment(text: &str) -> Result<DateTime<Utc>, String> {
    DateTime::parse_from_rfc3339(text)
        .map(|time| time.to_utc())
        .map_err(|_not_a_time| "write a time such as 2026-03-14T07:05:00Z".to_owned())
}

fn share(text: &str) -> Result<f64, String> {
    text.parse::<f64>()
        .ok()
        .filter(|share| 0.0 < *share && *share < 1.0)
        .ok_or_else(|| "write a number between 0 and 1, such as 0.80".to_owned())
}

#[test]
fn the_command_line_hangs_together() {
    use clap::CommandFactory as _;
    Args::command().debug_assert();
}
