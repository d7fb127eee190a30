//! A number outside what a shift can be calculated with, and what to write instead.
//!
//! Knows one number and its rule. Refuses to know where it was written.

use std::fmt;

/// What a number must be.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Rule {
    /// From one to the other, both included.
    Between(f64, f64),
    /// Above zero.
    AboveZero,
    /// Zero or above.
    NotBelowZero,
    /// Any number.
    Finite,
}

/// A number that breaks its rule; its text is a sentence without capital and full stop.
#[derive(Clone, Debug, PartialEq)]
pub struct Outside {
    what: String,
    value: f64,
    unit: &'static str,
    rule: Rule,
}

impl Outside {
    /// The first of `values`, each with its name and unit, that is not above zero.
    pub(crate) fn not_above_zero(values: &[(String, f64, &'static str)]) -> Option<Self> {
        first(values, Rule::AboveZero)
    }

    /// The first of `values` that lies below zero.
    pub(crate) fn below_zero(values: &[(String, f64, &'static str)]) -> Option<Self> {
        first(values, Rule::NotBelowZero)
    }

    /// The first of `values` that is no number.
    pub(crate) fn no_number(values: &[(String, f64, &'static str)]) -> Option<Self> {
        first(values, Rule::Finite)
    }

    /// A number outside `[low, high]`; both ends belong to it.
    pub(crate) fn range(
        what: impl Into<String>,
        value: f64,
        [low, high]: [f64; 2],
        unit: &'static str,
    ) -> Option<Self> {
        first(&[(what.into(), value, unit)], Rule::Between(low, high))
    }
}

fn first(values: &[(String, f64, &'static str)], rule: Rule) -> Option<Outside> {
    let fits = |value: f64| {
        value.is_finite()
            && match rule {
                Rule::Between(low, high) => low <= value && value <= high,
                Rule::AboveZero => 0.0 < value,
                Rule::NotBelowZero => 0.0 <= value,
                Rule::Finite => true,
            }
    };
    let (what, value, unit) = values.iter().find(|it| !fits(it.1))?;
    Some(Outside { what: what.clone(), value: *value, unit, rule })
}

impl fmt::Display for Outside {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = |value: f64| value.to_string().replace('-', "−");
        let Self { what, value, unit, rule } = self;
        if value.is_finite() {
            write!(out, "{what} is {}{unit}", number(*value))?;
        } else {
            write!(out, "{what} is no number")?;
        }
        match rule {
            Rule::Between(low, high) => write!(
                out,
                ", and a shift can be followed from {} to {}{unit}; write a number between these",
                number(*low),
                number(*high)
            ),
            Rule::AboveZero => out.write_str(
                ", and it must be above zero; mend it under “thermal” in the machine's shear.ron",
            ),
            Rule::NotBelowZero => out.write_str(
                ", and it must not be below zero; mend it under “thermal” in the machine's shear.ron",
            ),
            Rule::Finite => out.write_str("; mend it in the machine's shear.ron"),
        }
    }
}

#[test]
fn a_number_outside_is_told_with_its_range_and_the_next_step() {
    let cuts = |value| Outside::range("the number of cuts a minute", value, [0.0, 60.0], "");
    let said = cuts(-3.0).unwrap().to_string();
    assert_eq!(
        said,
        "the number of cuts a minute is −3, and a shift can be followed from 0 to 60; write a number \
         between these"
    );
    assert!(cuts(f64::NAN).unwrap().to_string().contains("is no number, and"));
    // The ends belong to the range; a step beyond does not.
    assert_eq!((cuts(0.0), cuts(60.0)), (None, None));
    assert!(cuts(60.1).is_some() && cuts(-0.1).is_some());
    let area = [("the streak's area at G1".to_owned(), 0.0, " m²")];
    assert!(
        Outside::not_above_zero(&area).unwrap().to_string().contains("is 0 m², and it must be")
    );
    assert_eq!(Outside::below_zero(&area), None);
}
