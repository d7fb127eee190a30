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

/// A stack as felt: the stamps of its leaves.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Felt(Vec<Length>);

impl Felt {
    fn stamped(&self) -> Length {
        self.0.iter().copied().sum()
    }

    /// How thick it is by the leaves of a set. One number alone may be any leaves that add up to it.
    fn really(&self, set: &LeafSet) -> Length {
        match self.0.as_slice() {
            [stack] => set.really(*stack),
            leaves => set.really_together(leaves),
        }
    }
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
    /// What went and what stuck; the leaves of a set count as they were measured, and a number
    /// from another instrument as it is.
    fn felt(&self, leaves: Option<&LeafSet>) -> Result<Bracket, WrongData> {
        let stamped = |felt: &Option<Felt>| felt.as_ref().map(Felt::stamped);
        let exact = stamped(&self.go).is_some_and(|go| Some(go) == stamped(&self.no_go));
        let leaves = leaves.filter(|_| !exact);
        let really = |felt: &Felt| leaves.map_or(felt.stamped(), |set| felt.really(set));
        let (go, no_go) = (self.go.as_ref().map(really), self.no_go.as_ref().map(really));
        let worn = (go, no_go) != (stamped(&self.go), stamped(&self.no_go));
        Bracket::new(go.unwrap_or(Length::ZERO), no_go).map_err(|err| {
            let next = if worn {
                "its leaves count as they were measured: check which stack stuck"
            } else {
                "check which stack stuck"
            };
            WrongData(format!("{err}; {next}"))
        })
    }
}

fn judge(args: &ReadingArgs) -> Result<Judged, WrongData> {
    let wrong = |fact: String, next: &str| WrongData(format!("{fact}; {next}"));
    let felt = args.felt(None)?;
    let stacks_mm = [&args.go, &args.no_go].map(|felt| {
        let leaves = felt.iter().flat_map(|felt| &felt.0).filter(|leaf| Length::ZERO < **leaf);
        leaves.map(|_| args.leaf_tol_mm).sum()
    });
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
        "proof": uncertainty::proof(verdict, *tolerance, millimetres()),
        "next_leaf_mm": next.map(|stack| stack.thickness.mm()),
        "next_leaves_mm": leaves.iter().flatten().map(|leaf| leaf.thickness.mm()).collect::<Vec<_>>(),
    })
}

fn as_text(judged: &Judged) -> String {
    let Judged { cold, verdict, kind, tolerance, limits, next, set } = judged;
    let n = millimetres();
    let mut lines = vec![format!("The gap lies {}.", between_mm(cold.bracket))];
    if let Some(budget) = uncertainty::tell_budget(cold, n) {
        lines.push(format!("{}; {}.", words::capital(&budget.value), budget.interval));
        lines.push(format!("{}. {}.", budget.u, budget.largest));
        for term in budget.terms {
            lines.push(format!("  {:<30} {:>9}  {:>8}", term.name, term.u, term.per_cent));
        }
        lines.extend(budget.assumed);
    }
    let band = if *kind == VerdictKind::Set { limits.set() } else { limits.working() };
    lines.push(format!(
        "{}, against {} to {}: {}.",
        words::capital(words::verdict(*kind)),
        n.length(band.min),
        n.length_unit(band.max),
        uncertainty::chance(verdict.chance)
    ));
    lines.push(format!("{}.", uncertainty::proof(verdict, *tolerance, n)));
    if let Some(next) = next {
        let leaves = set.as_ref().and_then(|set| set.fewest(next.thickness)).unwrap_or_default();
        let stamps: Vec<String> =
            leaves.iter().rev().map(|leaf| n.length(leaf.thickness)).collect();
        lines.push(format!("Try {} next.", stamps.join(" + ")));
    } else if *kind == VerdictKind::Undecided {
        lines.push("No leaf of the set lies between.".to_owned());
    }
    lines.join("\n") + "\n"
}

/// Numbers as this command writes them.
fn millimetres() -> Numbers {
    Numbers { unit: LengthUnit::Millimetre, ..Numbers::default() }
}

/// Both ends, rounded outward so that what is said is true.
fn between_mm(bracket: Bracket) -> String {
    const HUNDREDTH_NM: i64 = 10_000;
    const THOUSANDTH_NM: i64 = 1_000;
    let written = |nm: i64| {
        let places = if nm % HUNDREDTH_NM == 0 { 2 } else { 3 };
        format!("{:.places$}", Length::from_nm(nm).mm())
    };
    let down = |length: Length| written(length.nm().div_euclid(THOUSANDTH_NM) * THOUSANDTH_NM);
    let up = |length: Length| written(-(-length.nm()).div_euclid(THOUSANDTH_NM) * THOUSANDTH_NM);
    match bracket.no_go() {
        Some(no_go) if no_go == bracket.go() => format!("at {} mm", millimetres().length(no_go)),
        Some(no_go) if bracket.is_open_below() => format!("under {} mm", up(no_go)),
        Some(no_go) => format!("between {} and {} mm", down(bracket.go()), up(no_go)),
        None => format!("over {} mm", down(bracket.go())),
    }
}

/// `0.55`, or its leaves: `0.50+0.05`. Nothing is no leaf.
fn stack(text: &str) -> Result<Felt, String> {
    text.split('+').map(length).collect::<Result<_, _>>().map(Felt)
}

fn length(text: &str) -> Result<Length, String> {
    Length::parse(text, LengthUnit::Millimetre)
        .map_err(|_no_length| "write millimetres such as 0.55".to_owned())
}

fn station_named(text: &str) -> Result<StationId, String> {
    text.parse().map_err(|_no_station| "write a station such as P1".to_owned())
}

fn temperature(text: &str) -> Result<Temperature, String> {
    // Colder than any yard, or hotter than steel that anybody measures: a slip of the hand.
    Temperature::parse_c(text)
        .ok()
        .filter(|it| (-60.0..=600.0).contains(&it.c()))
        .ok_or_else(|| "write °C from -60 to 600, such as 41 or -5".to_owned())
}

fn size(text: &str) -> Result<f64, String> {
    text.parse::<f64>()
        .ok()
        .filter(|size| (0.0..=10.0).contains(size))
        .ok_or_else(|| "write millimetres from 0 to 10, such as 0.005".to_owned())
}

fn conformity(text: &str) -> Result<f64, String> {
    let share = text.parse::<f64>().ok().and_then(|it| Tolerance::new(it, Rule::Guarded));
    share
        .map(Tolerance::conformity)
        .ok_or_else(|| "write a number above 0.5 and below 1, such as 0.95".to_owned())
}

#[test]
fn a_stack_is_typed_by_its_thickness_or_by_its_leaves() {
    let felt = |stamps: &[i64]| Ok(Felt(stamps.iter().copied().map(Length::from_um).collect()));
    assert_eq!(stack("0.55"), felt(&[550]));
    assert_eq!(stack("0.50+0.05"), felt(&[500, 50]));
    assert_eq!(stack("0"), felt(&[0]));
    assert!(stack("wide").is_err() && stack("-0.1").is_err() && stack("0.5+").is_err());
}

#[test]
fn both_ends_are_rounded_outward() {
    let nm = Length::from_nm;
    let said = |go, no_go: Option<i64>| between_mm(Bracket::new(nm(go), no_go.map(nm)).unwrap());
    assert_eq!(said(550_000, Some(600_000)), "between 0.55 and 0.60 mm");
    assert_eq!(said(551_000, Some(553_000)), "between 0.551 and 0.553 mm");
    assert_eq!(said(299_600, Some(349_600)), "between 0.299 and 0.35 mm");
    assert_eq!(said(1_000_000, None), "over 1.00 mm");
    assert_eq!(said(0, Some(50_800)), "under 0.051 mm");
}
