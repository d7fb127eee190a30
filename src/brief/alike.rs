//! Comparisons, told: each set's growth, and whether they may be one.

use crate::{
    brief::{Numbers, numbers, words},
    domain::{
        machine::Shear,
        statistics::t_quantile,
        trend::{CONFIDENCE, Comparison, SetOf, SetRate, WhyNot},
        yard::Yard,
    },
};

/// Where there is nothing to compare.
pub const TOO_FEW: &str = "Fewer than two of them have a growth rate yet.";

/// How the answers are found.
pub const HOW_IT_READS: &str = "Each growth is set against the one that would suit all best. A \
     chance of 1 in 20 or less says that they hardly share it; a larger one does not prove that \
     they do.";

/// One set's growth.
#[derive(Clone, Debug, PartialEq)]
pub struct SetBrief {
    /// `S4`, `4 384–4 520`, `Heron`.
    pub name: String,
    /// Growth, and the ends of its interval, in the unit that people read.
    pub rate: Option<[f64; 3]>,
    /// The same in words, or why there is none.
    pub words: String,
}

/// Tells one set.
pub fn set(
    yard: &Yard,
    shear: &Shear,
    of: &SetOf,
    rate: &Result<SetRate, WhyNot>,
    n: Numbers,
) -> SetBrief {
    let name = match of {
        SetOf::Station(station) => station.to_string(),
        SetOf::Span([from, to]) => {
            format!("{}–{}", numbers::hours_value(*from), numbers::whole_hours(*to))
        }
        SetOf::Line(id) => shear.line(*id).map_or_else(|| id.to_string(), words::line),
        SetOf::Machine(id) => {
            yard.machine(id).map_or_else(|| id.as_str().to_owned(), |it| it.shear.name.clone())
        }
    };
    match rate {
        Ok(rate) => {
            let reach = factor(rate) * rate.rate_se;
            let ends = [rate.rate, rate.rate - reach, rate.rate + reach];
            let [value, low, high] = ends.map(|it| n.rate_value(it));
            let words = format!("{value} ({low} to {high}), {} readings", rate.n);
            SetBrief { name, rate: Some(ends.map(|it| n.rate_number(it))), words }
        }
        Err(why) => SetBrief { name, rate: None, words: why.to_string() },
    }
}

fn factor(rate: &SetRate) -> f64 {
    let dof = u32::try_from(rate.dof).map_or(f64::MAX, f64::from);
    t_quantile(f64::midpoint(1.0, CONFIDENCE), dof).unwrap_or(0.0)
}

/// The rate that suits all: `5.1 µm/h would suit all best`.
pub fn common(it: &Comparison, n: Numbers) -> String {
    format!("{} would suit all best", n.rate(it.common_rate))
}

/// The answer alone, where what is asked stands above it.
pub fn verdict(it: &Comparison, n: Numbers) -> String {
    if it.p < 1e-4 {
        "They do not grow alike: a chance under 1 in 10 000 if they did.".to_owned()
    } else if it.p < 0.05 {
        let word = if it.p < 0.01 { "do not" } else { "may not" };
        format!("They {word} grow alike: a chance of 1 in {:.0} if they did.", 1.0 / it.p)
    } else {
        format!("They may well grow alike, at {}.", n.rate(it.common_rate))
    }
}
