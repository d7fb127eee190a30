//! A gauge study, told: one plain conclusion, the numbers behind it, and what cannot be said.
//!
//! Speaks of stations, people and times; the letters of the manual stand beside for those who know
//! them.

pub mod walk;

use crate::{
    brief::{Numbers, numbers},
    domain::gauge::study::{
        Components, FactorSource, GROUPS_ASKED, Grade, Model, Study, Table, Term,
    },
    language::{self, sentence, tell},
};

/// A study for people.
#[derive(Clone, Debug, PartialEq)]
pub struct StudyBrief {
    /// `10 stations × 3 people × 3 times`.
    pub size: String,
    /// What it means, in a sentence or two.
    pub conclusion: String,
    /// What to do about it, and where the scatter comes from.
    pub advice: Vec<String>,
    /// The numbers.
    pub rows: Vec<StudyRow>,
    /// How they were found, and what cannot be said.
    pub notes: Vec<String>,
}

/// One row of the numbers, by both methods: a value and its share of the spread.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StudyRow {
    /// The manual's letters.
    pub symbol: &'static str,
    /// What it is.
    pub name: &'static str,
    /// By averages and ranges.
    pub ranges: (String, String),
    /// By the analysis of variance.
    pub anova: (String, String),
}

/// Stands for a number that cannot be said.
pub const UNKNOWN: &str = "–";

/// Tells a study.
pub fn tell(study: &Study, table: &Table, n: Numbers) -> StudyBrief {
    let model = study.anova.chosen();
    let size = [table.parts(), table.people(), table.trials()].map(<[String]>::len);
    StudyBrief {
        size: format!(
            "{} × {} × {}",
            counted(size[0], tell!("station"), tell!("stations")),
            counted(size[1], tell!("person"), tell!("people")),
            counted(size[2], tell!("time"), tell!("times"))
        ),
        conclusion: conclusion(&model.components, n),
        advice: advice(study, table, n),
        rows: rows(study, n),
        notes: notes(study, table, n),
    }
}

pub(crate) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// The plain conclusion.
fn conclusion(c: &Components, n: Numbers) -> String {
    let share = c.share(c.grr).map(share_words);
    let groups = match c.ndc() {
        Some(ndc) if GROUPS_MANY < ndc => {
            tell!(
                "you can tell more than **{groups_many}** groups of gaps apart",
                groups_many = GROUPS_MANY
            )
        }
        Some(ndc) if 2 <= ndc => tell!("you can tell **{ndc}** groups of gaps apart", ndc),
        _ => tell!("you cannot tell these gaps apart").to_owned(),
    };
    let least = c.least_change().filter(|least| 0.0 < *least);
    let change = least.map_or_else(String::new, |least| {
        tell!(
            " A change of less than **{least}** between two readings may be only the hand.",
            least = scatter_words(least, n)
        )
    });
    match (share, c.grr) {
        (Some(_), Some(grr)) if grr <= 0.0 => language::told(HIDDEN).to_owned(),
        (Some(share), _) => {
            tell!(
                "Your measuring takes **{share}** of the spread; {groups}.{change}",
                share,
                groups,
                change
            )
        }
        (None, Some(grr)) if 0.0 < grr => {
            let scatter = scatter_words(grr, n);
            tell!(
                "Readings of one gap scatter by **{scatter}**, one standard deviation.{change}",
                scatter,
                change
            )
        }
        (None, Some(_)) => language::told(HIDDEN).to_owned(),
        (None, None) => {
            tell!("Nothing was repeated in a way that tells how well you measure.").to_owned()
        }
    }
}

/// No scatter seen is no proof that there is none.
const HIDDEN: &str = sentence!(
    "No two readings of one gap differ: the steps between the leaves hide how far \
                      the hand scatters. Study where gaps lie near a leaf, or with finer steps."
);

/// With fewer degrees of freedom t is half as wide again as the normal distribution, or wider.
const DOF_FEW: u32 = 4;

/// More groups than this nobody counts.
const GROUPS_MANY: i64 = 100;

/// A share of the spread that is there is never nothing.
fn share_words(share: f64) -> String {
    if 0.0 < share && share < 0.005 {
        tell!("under {percent}", percent = numbers::percent(0.01))
    } else {
        numbers::percent(share)
    }
}

/// A scatter that is there is never nothing.
fn scatter_words(mm: f64, n: Numbers) -> String {
    const LEAST_MM: f64 = 0.001;
    if 0.0 < mm && mm < LEAST_MM {
        tell!("under {least_mm}", least_mm = n.fine(LEAST_MM))
    } else {
        n.fine(mm)
    }
}

fn advice(study: &Study, table: &Table, n: Numbers) -> Vec<String> {
    let model = study.anova.chosen();
    let c = &model.components;
    let mut advice = Vec::new();
    match c.grade() {
        Some(Grade::Good) => advice.push(tell!("That is good: what differs is the gaps.").to_owned()),
        Some(Grade::Fair) => advice.push(
            tell!("That will do to follow wear. Where a gap is near a limit, let a second person measure.")
                .to_owned(),
        ),
        Some(Grade::Poor) => advice.push(
            tell!("That is too much. Agree on how a leaf must feel, and study again before you trust a \
             small difference.")
                .to_owned(),
        ),
        None => {}
    }
    if c.ndc().is_some_and(|ndc| ndc < GROUPS_ASKED) {
        advice.push(tell!(
            "{groups_asked} groups are usually asked for.",
            groups_asked = GROUPS_ASKED
        ));
    }
    advice.extend(source(model, table, n));
    let few = model.grr_dof().filter(|dof| *dof < DOF_FEW && model.scatter_mm().is_some());
    advice.extend(few.map(|dof| {
        let freedom = counted(usize::try_from(dof).unwrap_or(0), tell!("degree"), tell!("degrees"));
        tell!("All of this is known from {freedom} of freedom only. A reading that counts with it gets \
             a wide interval: let one more person measure first.", freedom)
    }));
    advice
}

/// Where most of the scatter comes from.
fn source(model: &Model, table: &Table, n: Numbers) -> Option<String> {
    let c = &model.components;
    let (ev, av) = c.ev.zip(c.av)?;
    let interaction = c.interaction.unwrap_or(0.0);
    let most = ev.max(av).max(interaction);
    if most <= 0.0 {
        return None;
    }
    Some(if most <= ev {
        tell!("Most of it is the hand: the same person reads the same gap differently.").to_owned()
    } else if most <= av {
        tell!("Most of it is between people: {table}", table = people_apart(table, n)?)
    } else {
        tell!(
            "Most of it is people who differ at some stations and not at others: look at those \
         stations together."
        )
        .to_owned()
    })
}

/// Who reads differently, and by how much.
fn people_apart(table: &Table, n: Numbers) -> Option<String> {
    let (people, means) = (table.people(), table.person_means());
    if let ([one, other], [a, b]) = (people, means.as_slice()) {
        let (more, less) = if a < b { (other, one) } else { (one, other) };
        return Some(tell!(
            "{more} reads {difference} more than {less}.",
            more,
            difference = n.fine((a - b).abs()),
            less
        ));
    }
    let count = f64::from(u32::try_from(means.len()).ok()?);
    let grand = means.iter().sum::<f64>() / count;
    let (who, by) = people
        .iter()
        .zip(means.into_iter().map(|mean| mean - grand))
        .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    let way = if by < 0.0 { tell!("below") } else { tell!("above") };
    Some(tell!("{who} reads {difference} {way} the mean.", who, difference = n.fine(by.abs()), way))
}

fn rows(study: &Study, n: Numbers) -> Vec<StudyRow> {
    let (ranges, anova) = (study.ranges.components, study.anova.chosen().components);
    let pair = |c: &Components, sigma: Option<f64>| {
        let unknown = || UNKNOWN.to_owned();
        (
            sigma.map_or_else(unknown, |sigma| scatter_words(sigma, n)),
            c.share(sigma).map_or_else(unknown, share_words),
        )
    };
    let row = |symbol, name, of: fn(&Components) -> Option<f64>| StudyRow {
        symbol,
        name,
        ranges: pair(&ranges, of(&ranges)),
        anova: pair(&anova, of(&anova)),
    };
    let mut rows = vec![
        row("EV", tell!("the same hand again"), |c| c.ev),
        row("AV", tell!("another person"), |c| c.av),
    ];
    if anova.interaction.is_some() {
        rows.push(row("INT", tell!("people by station"), |c| c.interaction));
    }
    rows.extend([
        row("GRR", tell!("all of measuring"), |c| c.grr),
        row("PV", tell!("the gaps themselves"), |c| c.pv),
        row("TV", tell!("everything"), |c| c.tv),
    ]);
    let groups = |c: &Components| {
        let whole = c.ndc().map_or_else(|| UNKNOWN.to_owned(), |ndc| ndc.to_string());
        let exact = c.categories().map_or_else(String::new, |it| numbers::fixed(it, 2));
        (whole, exact)
    };
    rows.push(StudyRow {
        symbol: "ndc",
        name: tell!("groups told apart"),
        ranges: groups(&ranges),
        anova: groups(&anova),
    });
    rows
}

fn notes(study: &Study, table: &Table, n: Numbers) -> Vec<String> {
    let mut notes = Vec::new();
    let one = |names: &[String]| names.len() == 1;
    if one(table.people()) {
        notes.push(tell!("One person measured, so nothing is said about people.").to_owned());
    }
    if one(table.trials()) {
        notes.push(
            tell!(
                "Nothing was measured twice by the same person, so the hand cannot be told from \
             people who differ by station; variances count both as measuring."
            )
            .to_owned(),
        );
    }
    if one(table.parts()) {
        notes.push(
            tell!("One station was measured, so no share of a spread can be said.").to_owned(),
        );
    }
    let seen = study.anova.ev_interval.filter(|(_, high)| 0.0 < *high);
    if let Some((low, high)) = seen {
        notes.push(tell!(
            "The same hand again scatters by {low} to {high} (95 %, by variances).",
            low = scatter_words(low, n),
            high = scatter_words(high, n)
        ));
    }
    if let Some(test) = study.anova.interaction_test() {
        let p = probability(test.p);
        notes.push(if study.anova.pools() {
            tell!(
                "People do not differ by station more than chance explains ({p}); that part is \
                 counted as the hand.",
                p
            )
        } else {
            tell!("People differ by station more than chance explains ({p}).", p)
        });
    }
    if study.ranges.people_set_to_zero {
        notes.push(
            tell!("By ranges, people differ less than the hand alone explains; their part is set to zero.")
                .to_owned(),
        );
    }
    for term in &study.anova.chosen().set_to_zero {
        notes.push(tell!(
            "By variances, {rest} differ less than chance explains; their part is set to zero.",
            rest = match term {
                Term::Part => tell!("the gaps"),
                Term::Person => tell!("people"),
                Term::Interaction => tell!("people by station"),
                Term::Repeatability | Term::Rest => tell!("readings"),
            }
        ));
    }
    let computed = study.ranges.factors.iter().flatten();
    if computed.clone().any(|factor| factor.source == FactorSource::Range) {
        notes.push(
            tell!(
                "The manual prints no factor for a table of this size; it is computed from the \
             distribution of the range."
            )
            .to_owned(),
        );
    }
    notes
}

/// `p 0.97`, and never a p of zero.
fn probability(p: f64) -> String {
    if p < 0.001 {
        tell!("p under 0.001").to_owned()
    } else {
        format!("p {}", numbers::fixed(p, 2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        brief::plain,
        domain::{
            gauge::study::{Span, StudyReading},
            quantity::Length,
        },
    };

    /// Stations by people by times, in hundredths of a millimetre.
    fn told(rows: &[&[&[i64]]]) -> StudyBrief {
        let mut readings = Vec::new();
        for (part, people) in rows.iter().enumerate() {
            for (person, times) in people.iter().enumerate() {
                for (trial, value) in times.iter().enumerate() {
                    readings.push(StudyReading {
                        part: format!("P{}", part + 1),
                        person: ["KW", "OT", "AB"][person].into(),
                        trial: (trial + 1).to_string(),
                        value: Span::exactly(Length::from_um(value * 10)),
                    });
                }
            }
        }
        let table = Table::balanced(&readings).0.unwrap();
        tell(&Study::of(&table), &table, Numbers::default())
    }

    #[test]
    fn people_who_differ_are_named() {
        let brief =
            told(&[&[&[50, 50], &[60, 61]], &[&[70, 71], &[80, 80]], &[&[90, 90], &[101, 100]]]);
        assert_eq!(brief.size, "3 stations × 2 people × 2 times");
        assert_eq!(
            plain(&brief.conclusion).replace('\u{a0}', " "),
            "Your measuring takes 34 % of the spread; you can tell 3 groups of gaps apart. A \
             change of less than 0.200 mm between two readings may be only the hand."
        );
        assert!(brief.advice[0].starts_with("That is too much."), "{:?}", brief.advice);
        assert!(brief.advice[1].starts_with("5 groups"), "{:?}", brief.advice);
        let people = brief.advice[2].replace('\u{a0}', " ");
        assert!(people.ends_with("OT reads 0.102 mm more than KW."), "{people}");
    }

    #[test]
    fn what_cannot_be_said_is_said() {
        let one_person = told(&[&[&[50, 51]], &[&[70, 70]], &[&[90, 92]]]);
        assert_eq!(one_person.rows[1].anova.0, "–");
        assert!(one_person.notes[0].starts_with("One person"));
        assert_eq!(one_person.size, "3 stations × 1 person × 2 times");
        let one_time = told(&[&[&[50], &[55]], &[&[70], &[71]], &[&[90], &[93]]]);
        assert!(one_time.notes[0].starts_with("Nothing was measured twice"));
        assert!(one_time.conclusion.starts_with("Your measuring takes"), "variances tell");
        let one_station = told(&[&[&[50, 51], &[55, 55]]]);
        assert!(one_station.conclusion.starts_with("Readings of one gap scatter by"));
        let single = told(&[&[&[50]]]);
        assert!(single.conclusion.starts_with("Nothing was repeated"));
        let coarse = told(&[&[&[50, 50], &[50, 50]], &[&[50, 50], &[50, 50]]]);
        assert_eq!(coarse.conclusion, HIDDEN);
        let sure = told(&[&[&[50, 50], &[50, 50]], &[&[70, 70], &[70, 70]]]);
        assert_eq!((sure.conclusion.as_str(), sure.advice.len()), (HIDDEN, 0), "no praise for it");
    }
}
