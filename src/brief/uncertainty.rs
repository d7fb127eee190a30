//! How sure a reading is, in words: its budget, its interval, its chances.
//!
//! A probability is rounded to whole per cent and never to certainty.

use crate::{
    brief::{Numbers, numbers},
    domain::{
        gauge::Term,
        quantity::Length,
        verdict::{Basis, Chance, Cold, Verdict, VerdictKind, expanded_mm},
        yard::{Rule, Settings, Tolerance},
    },
    language::tell,
};

/// The probability that an interval holds the gap, wherever one is told.
pub const COVERAGE: f64 = 0.95;

/// The budget of a reading, told.
#[derive(Clone, Debug, PartialEq)]
pub struct BudgetBrief {
    /// `about 0.575 ± 0.024 mm`.
    pub value: String,
    /// `0.551–0.599 mm holds the gap with 95 %`.
    pub interval: String,
    /// `Standard uncertainty 14.6 µm`.
    pub u: String,
    /// `Most of it: place between the two leaves`.
    pub largest: String,
    /// Its terms, most first.
    pub terms: Vec<TermBrief>,
    /// What was moved and assumed on the way.
    pub assumed: Vec<String>,
}

/// One term of a budget, told.
#[derive(Clone, Debug, PartialEq)]
pub struct TermBrief {
    /// What it is.
    pub name: &'static str,
    /// Its standard uncertainty: `14.4 µm`.
    pub u: String,
    /// Its share of the whole, squares against squares, from 0 to 1.
    pub share: f64,
    /// That share: `97 %`.
    pub per_cent: String,
}

/// A term as a mechanic says it.
pub fn term(term: Term) -> &'static str {
    match term {
        Term::Place => tell!("place between the two leaves"),
        Term::Leaves => tell!("leaf tolerances"),
        Term::Hand => tell!("scatter of the hand"),
        Term::Expansion => tell!("how far the steel grows"),
        Term::BladeTemp => tell!("thermometer on the blades"),
        Term::JawTemp => tell!("thermometer on the jaws"),
        Term::JawAssumed => tell!("jaw temperature, assumed"),
        Term::BladeAssumed => tell!("blade temperature, assumed"),
    }
}

/// Tells the budget of a reading; `None` while one side of it is open.
pub fn tell_budget(cold: &Cold, n: Numbers) -> Option<BudgetBrief> {
    let (u_mm, half_mm) = (cold.u_mm()?, expanded_mm(cold, COVERAGE)?);
    let middle = cold.bracket.middle()?.mm();
    let whole = (u_mm * u_mm).max(f64::MIN_POSITIVE);
    let shares = cold.budget.terms();
    let terms = shares.iter().map(|it| {
        let share = it.u * it.u / whole;
        TermBrief { name: term(it.name), u: n.small(it.u), share, per_cent: per_cent(share) }
    });
    let largest = shares.first().map_or_else(
        || tell!("Nobody noted how uncertain it is").to_owned(),
        |it| tell!("Most of it: {term}", term = term(it.name)),
    );
    Some(BudgetBrief {
        value: tell!(
            "about {cold}\u{a0}{unit_name}",
            cold = plus_minus(cold, n)?,
            unit_name = n.unit_name()
        ),
        // A gap is never less than nothing, whatever the arithmetic leaves open.
        interval: tell!(
            "{min} to {half_mm} holds the gap with {coverage}",
            min = n.fine_value((middle - half_mm).max(middle.min(0.0))),
            half_mm = n.fine(middle + half_mm),
            coverage = per_cent(COVERAGE)
        ),
        u: tell!("Standard uncertainty {u_mm}", u_mm = n.small(u_mm)),
        largest,
        terms: terms.collect(),
        assumed: assumed(cold, n),
    })
}

/// The gap at 20 °C with its interval: `0.575 ± 0.024`; `None` while one side of it is open.
pub fn plus_minus(cold: &Cold, n: Numbers) -> Option<String> {
    let (middle, half_mm) = (cold.bracket.middle()?, expanded_mm(cold, COVERAGE)?);
    Some(format!("{} ± {}", n.fine_value(middle.mm()), n.fine_value(half_mm)))
}

/// Where the scatter of the hand comes from.
pub fn hand(settings: &Settings, n: Numbers) -> String {
    settings.repeatability.as_ref().map_or_else(
        || tell!("Nobody has checked your measuring yet: the hand counts as steady.").to_owned(),
        |found| {
            tell!(
                "The hand scatters by {sigma}, from {from}.",
                sigma = n.fine(found.sigma.mm()),
                from = found.from
            )
        },
    )
}

fn assumed(cold: &Cold, n: Numbers) -> Vec<String> {
    let mut said = Vec::new();
    if cold.shift != Length::ZERO {
        let sign = if cold.shift < Length::ZERO { "" } else { "+" };
        said.push(tell!("Moved by {sign}{shift} to 20 °C.", sign, shift = n.fine(cold.shift.mm())));
    }
    if cold.blade_temp.is_none() && !cold.jaw_assumed {
        let jaw = numbers::temperature(cold.jaw_temp);
        said.push(tell!(
            "Nobody took the blades' temperature: taken as {jaw}, like the jaws.",
            jaw
        ));
    } else if cold.blade_temp.is_none() {
        said.push(tell!("Nobody took the blades' temperature: taken as 20 °C.").to_owned());
    } else if cold.jaw_assumed {
        let jaw = numbers::temperature(cold.jaw_temp);
        said.push(tell!("Jaws taken as {jaw}, halfway between air and blades.", jaw));
    }
    said
}

/// How likely the gap lies where it does: `97 % likely inside the working limits`, or, where a
/// second side counts, `60 % likely inside, 40 % too wide`.
pub fn chance(chance: Option<Chance>) -> String {
    let Some(Chance { below, within, above, basis }) = chance else {
        return tell!("No chance can be told while one side is open").to_owned();
    };
    if basis == Basis::Leaves {
        return tell!("Too wide already by the stack that went").to_owned();
    }
    let mut sides =
        [(within, tell!("inside")), (above, tell!("too wide")), (below, tell!("too tight"))];
    sides.sort_by(|a, b| b.0.total_cmp(&a.0));
    let [(most, first), (next, second), _] = sides;
    let by = if basis == Basis::Trend { tell!(", by its trend") } else { "" };
    let inside = below.max(above) <= within;
    let rest = if COUNTS <= next {
        format!(", {} {second}", at_most(next))
    } else if inside {
        tell!(" the working limits").to_owned()
    } else {
        String::new()
    };
    tell!("{most} likely {first}{rest}{by}", most = at_least(most), first, rest, by)
}

/// A side less likely than this is not told.
const COUNTS: f64 = 0.05;

/// Whether a side is proven by the yard's rule: `Proven at 95 % (guarded, ISO 14253-1)`, and if
/// not, what keeps it open.
pub fn proof(verdict: &Verdict, tolerance: Tolerance, n: Numbers) -> String {
    let open = verdict.chance.is_none_or(|chance| chance.basis != Basis::Reading);
    let undecided = verdict.kind() == VerdictKind::Undecided;
    if undecided && open {
        return tell!("Nothing is proven while one side is open").to_owned();
    }
    if tolerance.rule() == Rule::Simple {
        return tell!("The middle of the reading decides (simple acceptance)").to_owned();
    }
    let rule = tell!(
        "at {conformity} (guarded, ISO 14253-1)",
        conformity = exact_per_cent(tolerance.conformity())
    );
    let proven = verdict.chance.is_some_and(|it| {
        [it.below, it.within, it.above].into_iter().any(|p| tolerance.conformity() <= p)
    });
    match verdict.undecided_at {
        Some(limit) if undecided => {
            tell!(
                "Not proven {rule}: on which side of {limit} it lies is open",
                rule,
                limit = n.length_unit(limit)
            )
        }
        _ if open => tell!("Proven by the stacks alone").to_owned(),
        _ if proven => tell!("Proven {rule}", rule),
        _ => tell!(
            "By the two stacks alone; with the rest of its uncertainty not proven {rule}",
            rule
        ),
    }
}

/// A probability that somebody chose, with all its digits: `95 %`, `99.9 %`.
fn exact_per_cent(p: f64) -> String {
    let rounded = (p * 1e6).round() / 1e4;
    format!("{rounded}\u{a0}%")
}

/// A probability in whole per cent, never nothing and never all: `under 1 %`, `97 %`, `over 99 %`.
pub fn per_cent(p: f64) -> String {
    whole_per_cent((p * 100.0).round(), p)
}

/// The same, rounded so that nothing looks surer than it is.
fn at_least(p: f64) -> String {
    // Digits that a float cannot hold must not cost a whole per cent.
    whole_per_cent((p * 100.0 + 1e-9).floor(), p)
}

/// The same for the other side, so that both add up.
fn at_most(p: f64) -> String {
    whole_per_cent((p * 100.0 - 1e-9).ceil(), p)
}

fn whole_per_cent(rounded: f64, p: f64) -> String {
    if p < 0.005 {
        tell!("under\u{a0}1\u{a0}%").to_owned()
    } else if 0.995 <= p {
        tell!("over\u{a0}99\u{a0}%").to_owned()
    } else {
        format!("{rounded:.0}\u{a0}%")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        gauge::{Bracket, Hand},
        quantity::Length,
    };

    #[track_caller]
    fn says(below: f64, within: f64, above: f64, basis: Basis, expected: &str) {
        let told = chance(Some(Chance { below, within, above, basis }));
        assert_eq!(told.replace('\u{a0}', " "), expected);
    }

    #[test]
    fn each_chance_has_its_words_and_none_is_certain() {
        let by = Basis::Reading;
        says(0.0, 0.97, 0.03, by, "97 % likely inside the working limits");
        says(0.0, 0.25, 0.75, by, "75 % likely too wide, 25 % inside");
        says(0.9999, 1e-4, 0.0, by, "over 99 % likely too tight");
        says(0.0, 1.0, 0.0, by, "over 99 % likely inside the working limits");
        says(0.0, 0.9, 0.1, Basis::Trend, "90 % likely inside, 10 % too wide, by its trend");
        says(0.0, 0.0, 1.0, Basis::Leaves, "Too wide already by the stack that went");
        assert_eq!(chance(None), "No chance can be told while one side is open");
        assert_eq!(per_cent(1e-9), "under\u{a0}1\u{a0}%");
    }

    #[test]
    fn a_budget_names_what_matters_most_first() {
        let um = Length::from_um;
        let felt = Bracket::new(um(550), Some(um(600))).unwrap();
        let hand = Hand { sigma_mm: 0.006, dof: None };
        let cold = Cold::taken_cold(felt, [0.009, 0.009], hand);
        let told = tell_budget(&cold, Numbers::default()).unwrap();
        assert_eq!(told.value.replace('\u{a0}', " "), "about 0.575 ± 0.030 mm");
        assert_eq!(told.u.replace('\u{a0}', " "), "Standard uncertainty 16.5 µm");
        assert_eq!(told.largest, "Most of it: place between the two leaves");
        let names: Vec<&str> = told.terms.iter().map(|it| it.name).collect();
        assert_eq!(
            names,
            ["place between the two leaves", "scatter of the hand", "leaf tolerances"]
        );
        let sum: f64 = told.terms.iter().map(|it| it.share).sum();
        assert!((sum - 1.0).abs() < 1e-12);
        let open = Bracket::new(um(1_000), None).unwrap();
        assert_eq!(
            tell_budget(&Cold::taken_cold(open, [0.01, 0.0], hand), Numbers::default()),
            None
        );
    }
}
