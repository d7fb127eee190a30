//! One reading: its budget, its verdict, the next leaf.
//!
//! Needs no yard: leaves, hand and limits come from the command line. With one, everything is that
//! of a station in it, and a reading between warm blades is carried to 20 °C.

mod station;

use crate::{
    brief::{Numbers, uncertainty, words},
    cli::{WrongData, json},
    domain::{
        gauge::{Bracket, Hand, LeafSet, Stack, Usual},
        machine::{Band, Limits, StationId},
        quantity::{Length, LengthUnit, Temperature},
        verdict::{Cold, Verdict, VerdictKind, expanded_mm, next_leaf, weigh},
        yard::{Rule, Tolerance},
    },
};
use anyhow::Result;
use clap::{Args, ValueEnum};
use serde_json::{Value, json};
use std::path::PathBuf;

/// A reading as typed.
#[derive(Clone, Debug, Args)]
pub struct ReadingArgs {
    /// The thickest stack that goes, in mm: 0.55, or by its leaves: 0.50+0.05. Left out: none did.
    #[arg(long, value_parser = stack, required_unless_present = "no_go")]
    go: Option<Felt>,
    /// The thinnest stack that does not go, in mm. Left out: all went.
    #[arg(long, value_parser = stack)]
    no_go: Option<Felt>,
    /// Half-width of what each leaf's maker allows, in mm; a stack counts once for each leaf.
    #[arg(long, default_value_t = 0.0, value_parser = size)]
    leaf_tol_mm: f64,
    /// Standard deviation of the hand, from a gauge study, in mm.
    #[arg(long, default_value_t = 0.0, value_parser = size)]
    sigma_mm: f64,
    /// Degrees of freedom behind that deviation.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..))]
    sigma_dof: Option<u32>,
    /// The smallest gap allowed, in mm.
    #[arg(long, value_parser = length, required_unless_present = "yard")]
    min: Option<Length>,
    /// The largest gap allowed, in mm.
    #[arg(long, value_parser = length, required_unless_present = "yard")]
    max: Option<Length>,
    /// The probability from which a side counts as proven.
    #[arg(long, default_value_t = 0.95, value_parser = conformity)]
    conformity: f64,
    /// Which readings count as inside.
    #[arg(long, value_enum, default_value_t = RuleArg::Guarded)]
    rule: RuleArg,
    /// The leaves at hand, for the one to try next.
    #[arg(long, value_enum, default_value_t = SetArg::Metric26)]
    set: SetArg,
    /// A yard's folder: limits, leaves, hand, steel and rule are those of a station in it.
    #[arg(
        long,
        requires = "shear",
        requires = "station",
        conflicts_with_all = ["leaf_tol_mm", "sigma_mm", "sigma_dof", "min", "max", "conformity", "rule", "set"]
    )]
    yard: Option<PathBuf>,
    /// The machine in that yard, by its folder name.
    #[arg(long, requires = "yard")]
    shear: Option<String>,
    /// The station on that machine, such as P1.
    #[arg(long, requires = "yard", value_parser = station_named)]
    station: Option<StationId>,
    /// The blades' temperature in °C. Left out: 20, and said.
    #[arg(long, requires = "yard", value_parser = temperature, allow_hyphen_values = true)]
    blade_c: Option<Temperature>,
    /// The jaws' temperature in °C. Left out: halfway between air and blades, and said.
    #[arg(long, requires = "yard", value_parser = temperature, allow_hyphen_values = true)]
    jaw_c: Option<Temperature>,
    /// The air's temperature in °C.
    #[arg(long, requires = "yard", value_parser = temperature, allow_hyphen_values = true)]
    air_c: Option<Temperature>,
    /// JSON with full precision.
    #[arg(long)]
    json: bool,
}

/// A stack as felt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Felt {
    thickness: Length,
    leaves: u8,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum RuleArg {
    /// What is proven, by ISO 14253-1.
    Guarded,
    /// What the middle of the reading says.
    Simple,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum SetArg {
    #[value(name = "metric-10")]
    Metric10,
    #[value(name = "metric-20")]
    Metric20,
    #[value(name = "metric-26")]
    Metric26,
    #[value(name = "inch-10")]
    Inch10,
    #[value(name = "inch-20")]
    Inch20,
}

impl SetArg {
    const fn usual(self) -> Usual {
        match self {
            Self::Metric10 => Usual::MetricTen,
            Self::Metric20 => Usual::MetricTwenty,
            Self::Metric26 => Usual::MetricTwentySix,
            Self::Inch10 => Usual::InchTen,
            Self::Inch20 => Usual::InchTwenty,
        }
    }
}

/// A reading with all that follows from it.
struct Judged {
    cold: Cold,
    verdict: Verdict,
    /// The verdict as it is told: one pair of limits knows neither a set range nor a stop.
    kind: VerdictKind,
    tolerance: Tolerance,
    limits: Limits,
    next: Option<Stack>,
    set: Option<LeafSet>,
}

/// What the command prints.
///
/// # Errors
///
/// [`WrongData`] for stacks or limits that contradict each other, and for a yard that cannot be
/// read or does not have the station.
pub(crate) fn reading(args: &ReadingArgs) -> Result<String> {
    let judged = match (&args.yard, &args.shear, args.station) {
        (Some(yard), Some(shear), Some(at)) => station::judge(args, yard, shear, at)?,
        _ => judge(args)?,
    };
    Ok(if args.json { format!("{:#}\n", as_json(&judged)) } else { as_text(&judged) })
}

impl ReadingArgs {
    fn stacks(&self) -> [Felt; 2] {
        let none = Felt { thickness: Length::ZERO, leaves: 0 };
        [self.go, self.no_go].map(|felt| felt.unwrap_or(none))
    }

    /// What went and what stuck; the leaves of a set count as they were measured.
    fn felt(&self, leaves: Option<&LeafSet>) -> Result<Bracket, WrongData> {
        let really = |felt: Felt| leaves.map_or(felt.thickness, |set| set.really(felt.thickness));
        let [go, _] = self.stacks();
        Bracket::new(really(go), self.no_go.map(really))
            .map_err(|err| WrongData(format!("{err}; check which stack stuck")))
    }
}

fn judge(args: &ReadingArgs) -> Result<Judged, WrongData> {
    let wrong = |fact: String, next: &str| WrongData(format!("{fact}; {next}"));
    let felt = args.felt(None)?;
    let stacks_mm = args.stacks().map(|felt| f64::from(felt.leaves) * args.leaf_tol_mm);
    let hand = Hand { sigma_mm: args.sigma_mm, dof: args.sigma_dof };
    let cold = Cold::taken_cold(felt, stacks_mm, hand);
    let (min, max) = args.min.zip(args.max).ok_or_else(|| {
        wrong("a reading is judged by two limits".to_owned(), "give --min and --max")
    })?;
    let (band, zero) = (Band { min, max }, Length::ZERO);
    let limits = Limits::new(band, band, band, zero, zero, String::new())
        .map_err(|err| wrong(err.to_string(), "give --min below --max"))?;
    let rule = match args.rule {
        RuleArg::Guarded => Rule::Guarded,
        RuleArg::Simple => Rule::Simple,
    };
    let tolerance = Tolerance::new(args.conformity, rule).unwrap_or_default();
    let verdict = weigh(&cold, &limits, None, tolerance, None);
    let set = args.set.usual().set().ok_or_else(|| {
        wrong(format!("the set “{}” has no leaves", args.set.usual().name()), "choose another")
    })?;
    let open = verdict.kind() == VerdictKind::Undecided;
    let next = open.then(|| next_leaf(&set, felt, zero, &limits, None)).flatten();
    let kind = match verdict.kind() {
        VerdictKind::Set | VerdictKind::Soon(_) => VerdictKind::Working,
        VerdictKind::Stop(way) => VerdictKind::Too(way),
        other => other,
    };
    Ok(Judged { cold, verdict, kind, tolerance, limits, next, set: Some(set) })
}

fn as_json(judged: &Judged) -> Value {
    let Judged { cold, verdict, kind, tolerance, next, set, .. } = judged;
    let terms: Vec<Value> = cold
        .budget
        .terms()
        .iter()
        .map(|term| json!({ "name": uncertainty::term(term.name), "u_mm": term.u }))
        .collect();
    let half_mm = expanded_mm(cold, tolerance.conformity());
    let middle_mm = cold.bracket.middle().map(Length::mm);
    let ends = middle_mm.zip(half_mm);
    let leaves = next.zip(set.as_ref()).and_then(|(stack, set)| set.fewest(stack.thickness));
    json!({
        "value_mm": middle_mm,
        "u_mm": cold.u_mm(),
        "moved_mm": cold.shift.mm(),
        "blade_c": cold.blade_temp.map(Temperature::c),
        "jaw_c": cold.jaw_temp.c(),
        "jaw_assumed": cold.jaw_assumed,
        "terms": terms,
        "largest": cold.budget.largest().map(|term| uncertainty::term(term.name)),
        "coverage": ends.map(|(middle, half)| json!({
            "probability": tolerance.conformity(),
            "half_width_mm": half,
            "low_mm": middle - half,
            "high_mm": middle + half,
        })),
        "p_below": verdict.chance.map(|it| it.below),
        "p_within": verdict.chance.map(|it| it.within),
        "p_above": verdict.chance.map(|it| it.above),
        "verdict": json::verdict_key(*kind),
        "proof": uncertainty::proof(verdict, *tolerance),
        "next_leaf_mm": next.map(|stack| stack.thickness.mm()),
        "next_leaves_mm": leaves.iter().flatten().map(|leaf| leaf.thickness.mm()).collect::<Vec<_>>(),
    })
}

fn as_text(judged: &Judged) -> String {
    let Judged { cold, verdict, kind, tolerance, limits, next, .. } = judged;
    let n = Numbers { unit: LengthUnit::Millimetre, ..Numbers::default() };
    let mut lines = vec![format!("The gap lies {}.", n.between(cold.bracket))];
    if let Some(budget) = uncertainty::tell_budget(cold, n) {
        lines.push(format!("{}; {}.", words::capital(&budget.value), budget.interval));
        lines.push(format!("{}. {}.", budget.u, budget.largest));
        for term in budget.terms {
            lines.push(format!("  {:<30} {:>9}  {:>8}", term.name, term.u, term.per_cent));
        }
        lines.extend(budget.assumed);
    }
    let band = limits.working();
    lines.push(format!(
        "{}, against {} to {}: {}.",
        words::capital(words::verdict(*kind)),
        n.length(band.min),
        n.length_unit(band.max),
        uncertainty::chance(verdict.chance)
    ));
    lines.push(format!("{}.", uncertainty::proof(verdict, *tolerance)));
    if let Some(next) = next {
        lines.push(format!("Try {} next.", uncertainty::stack(*next, n)));
    } else if *kind == VerdictKind::Undecided {
        lines.push("No leaf of the set lies between.".to_owned());
    }
    lines.join("\n") + "\n"
}

/// `0.55`, or its leaves: `0.50+0.05`. Nothing is no leaf.
fn stack(text: &str) -> Result<Felt, String> {
    let leaves: Vec<Length> = text.split('+').map(length).collect::<Result<_, _>>()?;
    let thickness: Length = leaves.iter().copied().sum();
    let count = leaves.iter().filter(|leaf| Length::ZERO < **leaf).count();
    u8::try_from(count)
        .map(|leaves| Felt { thickness, leaves })
        .map_err(|_too_many| "write at most three leaves".to_owned())
}

fn length(text: &str) -> Result<Length, String> {
    Length::parse(text, LengthUnit::Millimetre)
        .map_err(|_no_length| "write millimetres such as 0.55".to_owned())
}

fn station_named(text: &str) -> Result<StationId, String> {
    text.parse().map_err(|_no_station| "write a station such as P1".to_owned())
}

fn temperature(text: &str) -> Result<Temperature, String> {
    Temperature::parse_c(text).map_err(|_no_temperature| "write °C such as 41 or -5".to_owned())
}

fn size(text: &str) -> Result<f64, String> {
    text.parse::<f64>()
        .ok()
        .filter(|size| 0.0 <= *size && size.is_finite())
        .ok_or_else(|| "write millimetres from 0 up, such as 0.005".to_owned())
}

fn conformity(text: &str) -> Result<f64, String> {
    let share = text.parse::<f64>().ok().and_then(|it| Tolerance::new(it, Rule::Guarded));
    share
        .map(Tolerance::conformity)
        .ok_or_else(|| "write a number above 0.5 and below 1, such as 0.95".to_owned())
}

#[test]
fn a_stack_is_typed_by_its_thickness_or_by_its_leaves() {
    let felt = |um, leaves| Ok(Felt { thickness: Length::from_um(um), leaves });
    assert_eq!(stack("0.55"), felt(550, 1));
    assert_eq!(stack("0.50+0.05"), felt(550, 2));
    assert_eq!(stack("0"), felt(0, 0));
    assert!(stack("wide").is_err() && stack("-0.1").is_err() && stack("0.5+").is_err());
}
