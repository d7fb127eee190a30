//! The command line as typed.

use crate::{
    cli::{ReadingArgs, SheetArgs, TorqueArgs},
    domain::trend::Axis,
};
use chrono::{DateTime, Utc};
use clap::{Parser, Subcommand, ValueEnum};
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

/// What growth is counted against.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Per {
    /// Service hours.
    #[default]
    Hours,
    /// Tonnes cut.
    Tonnes,
    /// Cuts made.
    Cuts,
}

impl From<Per> for Axis {
    fn from(per: Per) -> Self {
        match per {
            Per::Hours => Self::Hours,
            Per::Tonnes => Self::Tonnes,
            Per::Cuts => Self::Cuts,
        }
    }
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
        #[arg(long, value_parser = millimetres, allow_negative_numbers = true)]
        limit_mm: Option<f64>,
        /// How sure the interval is, between 0 and 1.
        #[arg(long, default_value_t = 0.80, value_parser = share, allow_negative_numbers = true)]
        confidence: f64,
        /// What growth is counted against, where visits read the counter; then keys that end in _h
        /// end in _t or _cuts.
        #[arg(long, value_enum, default_value_t)]
        per: Per,
        /// Count the readings' own uncertainty (leaves, temperatures) as scatter as well.
        #[arg(long)]
        with_reading_u: bool,
        /// Check the hours by drawing the readings again, so many times.
        #[arg(long, value_name = "DRAWS", value_parser = clap::value_parser!(u32).range(1..=100_000))]
        bootstrap: Option<u32>,
        /// Do the stations of a line, the lines, the machines, and before and after work grow alike?
        #[arg(long, conflicts_with_all = ["station", "limit_mm", "bootstrap"])]
        compare: bool,
        /// Wear marks in place of gaps: edge radius, blade thickness, template wear.
        #[arg(long, conflicts_with_all = ["station", "limit_mm", "bootstrap", "compare", "per", "with_reading_u"])]
        marks: bool,
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
    /// How hot the faces get in a shift, which colours that gives, and what it does to the gaps.
    Heat(HeatArgs),
    /// One reading by itself: its uncertainty, its verdict, the leaf to try next.
    Reading(ReadingArgs),
    /// One shim problem from a file: the best packs from one shelf, or why there are none.
    Pack {
        /// A file with a shelf and blades, as the developers' page shows it.
        file: PathBuf,
        /// JSON with full precision.
        #[arg(long)]
        json: bool,
    },
    /// Spare parts: what is left, what will be needed, what to order.
    Parts {
        /// The yard's folder; without one, a copy of the sample yard.
        yard: Option<PathBuf>,
        /// Service hours of each machine to look ahead.
        #[arg(long, default_value_t = 240, value_parser = clap::value_parser!(u16).range(1..=5_000))]
        within_h: u16,
        /// JSON with full precision.
        #[arg(long)]
        json: bool,
    },
    /// What to do now, at the next planned shutdown, and what to order, with what waiting costs.
    Plan {
        /// The yard's folder; without one, a copy of the sample yard.
        yard: Option<PathBuf>,
        /// Only this machine, by its folder name.
        #[arg(long)]
        shear: Option<String>,
        /// Service hours to plan over; without it, over two planned shutdowns.
        #[arg(long, value_parser = clap::value_parser!(u16).range(1..=500))]
        horizon_h: Option<u16>,
        /// JSON with full precision.
        #[arg(long)]
        json: bool,
    },
    /// What service asks for: looks, grease, bolts, fresh edges, frost, welds, calibration.
    Due {
        /// The yard's folder; without one, a copy of the sample yard.
        yard: Option<PathBuf>,
        /// The yard's folder, if it is not named first.
        #[arg(long = "yard", value_name = "YARD", conflicts_with = "yard")]
        named: Option<PathBuf>,
        /// Only this machine, by its folder name.
        #[arg(long)]
        shear: Option<String>,
        /// JSON with full precision.
        #[arg(long)]
        json: bool,
    },
    /// How hard a bolt is tightened: clamp force, torque, share of the proof load.
    Torque(TorqueArgs),
    /// The job sheet of a machine on paper: what to do, why, gaps before and after, bolts to tick.
    Sheet(SheetArgs),
    /// Reads every file of a yard and names what is wrong with each.
    Check {
        /// The yard's folder.
        yard: PathBuf,
    },
    /// Takes visits out of tables: readings, and work if a second table is named.
    ///
    /// Header required, columns in any order:
    /// `shear,station,taken,meter_h,go_mm,no_go_mm,blade_temp_c` for readings,
    /// `shear,line,at,meter_h,kind,put_in_mm,take_out_mm,edge` for work. Semicolons with decimal
    /// commas are fine. If anything is wrong, nothing is taken; what is there already is left.
    Import(ImportArgs),
    /// Writes a yard as tables for other programs.
    Export(ExportArgs),
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

/// Tables to take visits from.
#[derive(Clone, Debug, clap::Args)]
pub struct ImportArgs {
    /// The yard's folder and the table of readings; only the table for the sample yard, or with
    /// --yard.
    #[arg(required = true, num_args = 1..=2, value_names = ["YARD", "FILE.csv"])]
    pub paths: Vec<PathBuf>,
    /// The yard's folder, if it is not named first.
    #[arg(long, value_name = "YARD")]
    pub yard: Option<PathBuf>,
    /// A table of work.
    #[arg(long, value_name = "WORK.csv")]
    pub work: Option<PathBuf>,
    /// A table of wear marks.
    #[arg(long, value_name = "MARKS.csv")]
    pub marks: Option<PathBuf>,
    /// Make machines, stations and the yard if they are not there yet, with wide-open
    /// demonstration limits.
    #[arg(long)]
    pub create: bool,
    /// Only say what would change.
    #[arg(long)]
    pub dry_run: bool,
}

/// Where a yard goes as tables.
#[derive(Clone, Debug, clap::Args)]
#[group(id = "to", required = true, multiple = true)]
pub struct ExportArgs {
    /// The yard's folder; without one, a copy of the sample yard.
    #[arg(group = "from")]
    pub yard: Option<PathBuf>,
    /// A folder for readings.csv, work.csv, marks.csv and findings.csv; or a file that ends in .csv
    /// for the readings, with the others beside it in files that end in -work.csv and so on.
    #[arg(long, value_name = "DIR", group = "to")]
    pub csv: Option<PathBuf>,
    /// A folder of Parquet files for many yards, by machine and year. Only visits that are not in
    /// it yet are added.
    #[arg(long, value_name = "DIR", group = "to")]
    pub parquet: Option<PathBuf>,
}

/// A shift to follow.
#[derive(Clone, Debug, clap::Args)]
pub struct HeatArgs {
    /// The yard's folder; without one, a copy of the sample yard.
    pub yard: Option<PathBuf>,
    /// The machine, by its folder name.
    #[arg(long)]
    pub shear: String,
    /// Only this line, alone between its two parts and the jaws: a case to check by hand.
    #[arg(long)]
    pub line: Option<String>,
    /// The cold gap at every station, in mm at 20 °C, instead of what was measured.
    #[arg(long, allow_negative_numbers = true)]
    pub cold_gap_mm: Option<f64>,
    /// Cuts a minute.
    #[arg(long, allow_negative_numbers = true)]
    pub cuts_per_minute: Option<f64>,
    /// The air's temperature, in °C; the machine starts as warm.
    #[arg(long, allow_negative_numbers = true)]
    pub air_c: Option<f64>,
    /// Length of the shift, in hours.
    #[arg(long, allow_negative_numbers = true)]
    pub hours: Option<f64>,
    /// Thickness of the plate, in mm.
    #[arg(long, allow_negative_numbers = true)]
    pub plate_mm: Option<f64>,
    /// Share of the time it cuts, 0 to 1.
    #[arg(long, allow_negative_numbers = true)]
    pub working_share: Option<f64>,
    /// A break, as hours from and to, such as 4-4.5; may be given more than once.
    #[arg(long, value_parser = pause)]
    pub break_h: Vec<(f64, f64)>,
    /// The machine's temperature when the shift begins, in °C, if it is not as warm as the air.
    #[arg(long, allow_negative_numbers = true)]
    pub start_c: Option<f64>,
    /// Every station at every tenth of an hour, as CSV.
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
    /// JSON with full precision.
    #[arg(long)]
    pub json: bool,
}

fn pause(text: &str) -> Result<(f64, f64), String> {
    let ends = text
        .split_once('-')
        .and_then(|(from, to)| Some((from.trim().parse().ok()?, to.trim().parse().ok()?)));
    ends.ok_or_else(|| "write a break as hours from and to, such as 4-4.5".to_owned())
}

fn moment(text: &str) -> Result<DateTime<Utc>, String> {
    DateTime::parse_from_rfc3339(text)
        .map(|time| time.to_utc())
        .map_err(|_not_a_time| "write a time such as 2026-03-14T07:05:00Z".to_owned())
}

fn millimetres(text: &str) -> Result<f64, String> {
    text.parse::<f64>()
        .ok()
        .filter(|mm| mm.is_finite() && 0.0 <= *mm)
        .ok_or_else(|| "write millimetres, such as 1.25".to_owned())
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
