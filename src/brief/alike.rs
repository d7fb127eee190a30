//! Comparisons, told: each set's growth, and whether they may be one.

use crate::{
    brief::{Numbers, numbers, words},
    domain::{
        machine::Shear,
        trend::{Answer, CONFIDENCE, Comparison, SetOf, SetRate, WhyNot},
        yard::Yard,
    },
    language::{self, sentence, tell},
};

/// Where there is nothing to compare.
pub const TOO_FEW: &str = sentence!("Fewer than two of them have a growth rate yet.");

/// How the answers are found.
pub const HOW_IT_READS: &str = sentence!(
    "Each growth is set against the one that would suit all best. A \
     chance of 1 in 20 or less says that they hardly share it; a larger one does not prove that \
     they do. Readings that show no scatter cannot be tested; where fewer than two can, it is asked \
     whether one growth lies in the 95 % interval of each."
);

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
            let (low, high) = rate.interval(CONFIDENCE);
            let ends = [rate.rate, low, high];
            let [value, low, high] = ends.map(|it| n.rate_value(it));
            let still = if rate.exact.is_some() { tell!(", no scatter: not tested") } else { "" };
            let words = tell!(
                "{value} ({low} to {high}), {rate} readings{still}",
                value,
                low,
                high,
                rate = rate.n,
                still
            );
            SetBrief { name, rate: Some(ends.map(|it| n.rate_number(it))), words }
        }
        Err(why) => SetBrief { name, rate: None, words: language::understood(&why.to_string()) },
    }
}

/// The rate that suits all, and that in words: `5.1 µm/h would suit all best`; `None` where none
/// does.
pub fn common(it: &Comparison, n: Numbers) -> Option<(f64, String)> {
    let rate = match it.answer {
        Answer::Tested(test) => test.common_rate,
        Answer::Overlap(rate) => rate,
        Answer::Apart => return None,
    };
    Some((n.rate_number(rate), tell!("{rate} would suit all best", rate = n.rate(rate))))
}

/// The answer alone, where what is asked stands above it.
pub fn verdict(it: &Comparison, n: Numbers) -> String {
    comparison(tell!("They"), it, n)
}

/// Whether sets grow alike, as a sentence or two that begin with what is asked about.
pub fn comparison(what: &str, it: &Comparison, n: Numbers) -> String {
    let left = it.left_out();
    let test = match it.answer {
        Answer::Overlap(rate) => {
            let rate = n.rate(rate);
            let left = no_scatter(left);
            return tell!(
                "{what} show no difference: {rate} lies in the range of each. {left}",
                what,
                rate,
                left
            );
        }
        Answer::Apart => {
            let left = no_scatter(left);
            return tell!(
                "{what} hardly grow alike: no growth lies in the range of each. {left}",
                what,
                left
            );
        }
        Answer::Tested(test) => test,
    };
    let said = if test.p < 1e-4 {
        tell!("{what} do not grow alike: a chance under 1 in 10 000 if they did.", what)
    } else if test.p < 0.05 {
        let word = if test.p < 0.01 { tell!("do not") } else { tell!("may not") };
        tell!(
            "{what} {word} grow alike: a chance of 1 in {chance} if they did.",
            what,
            word,
            chance = numbers::fixed(1.0 / test.p, 0)
        )
    } else {
        tell!(
            "{what} may well grow alike, at {common_rate}.",
            what,
            common_rate = n.rate(test.common_rate)
        )
    };
    if left == 0 { said } else { format!("{said} {}", no_scatter(left)) }
}

/// Sets through whose brackets straight lines pass.
fn no_scatter(count: usize) -> String {
    match count {
        1 => tell!("One of them shows no scatter and is not tested.").to_owned(),
        count => tell!("{count} of them show no scatter and are not tested.", count),
    }
}
