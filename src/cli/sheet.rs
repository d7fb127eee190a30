//! The command `sheet`: the job sheet of one machine as a PDF.

use crate::{
    brief::{Numbers, plan, sheet},
    cli::WrongData,
    domain::{
        decide::{CauseTable, MachineDecision, decide, explain, plan as plan_machine, supply},
        yard::{Machine, Yard},
    },
    language::{self, Language},
    report::{self, Paper},
    store,
};
use anyhow::Result;
use chrono::FixedOffset;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// A sheet as asked for.
#[derive(Clone, Debug, Args)]
pub struct SheetArgs {
    /// The yard's folder; without one, a copy of the sample yard.
    pub yard: Option<PathBuf>,
    /// The machine, by its folder name.
    #[arg(long)]
    pub shear: String,
    /// The file to write.
    #[arg(long, value_name = "FILE.pdf")]
    out: PathBuf,
    /// What it is printed on.
    #[arg(long, value_enum, default_value_t = PaperArg::A4)]
    paper: PaperArg,
    /// What it speaks.
    #[arg(long, value_enum, default_value_t = LanguageArg::En)]
    language: LanguageArg,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum LanguageArg {
    /// English.
    En,
    /// German.
    De,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum PaperArg {
    A4,
    Letter,
}

/// Writes the sheet and says where.
///
/// # Errors
///
/// [`WrongData`] if the file cannot be written.
pub(crate) fn sheet(
    (yard, machine): (&Yard, &Machine),
    table: &CauseTable,
    args: &SheetArgs,
    zone: FixedOffset,
) -> Result<String> {
    language::speak(match args.language {
        LanguageArg::En => Language::English,
        LanguageArg::De => Language::German,
    });
    let bytes = bytes((yard, machine), table, args.paper, zone);
    language::speak(Language::English);
    store::put_file(&args.out, &bytes?).map_err(|err| WrongData(err.into_issue().to_string()))?;
    Ok(format!("Wrote {}.", args.out.display()))
}

fn bytes(
    (yard, machine): (&Yard, &Machine),
    table: &CauseTable,
    paper: PaperArg,
    zone: FixedOffset,
) -> Result<Vec<u8>> {
    let settings = &yard.settings;
    let n = Numbers { unit: settings.unit, zone, ..Numbers::default() };
    let mut decision = decide(machine, settings);
    explain(&mut decision, machine, settings.intervals_of(&machine.shear).look, table);
    let program = concat!("Gapwright ", env!("CARGO_PKG_VERSION"));
    let told = sheet::tell(machine, &decision, settings, n, program);
    let decisions: Vec<MachineDecision> =
        yard.machines.iter().map(|it| decide(it, settings)).collect();
    let supply = supply(yard, &decisions, settings.upkeep.times().order_ahead(None));
    let plan = plan_machine(machine, &decision, settings, None);
    let told = told.with_plan(plan::tell(&plan, &supply, &machine.shear, yard, n));
    let paper = match paper {
        PaperArg::A4 => Paper::A4,
        PaperArg::Letter => Paper::Letter,
    };
    Ok(report::pdf(&told, paper).map_err(|err| WrongData(err.to_string()))?)
}
