//! The analysis of variance of a full table, with and without an interaction.
//!
//! Sums of squares are whole numbers until the last step: readings are whole nanometres, so equal
//! readings have no scatter at all and adding a constant to each changes no digit.

use crate::domain::{
    gauge::study::{Components, Table},
    quantity::float,
    statistics::{chi2_quantile, f_beyond},
};

/// From this probability on, an interaction is taken for chance and pooled with repeatability: the
/// level of the AIAG manual's tables (from memory).
pub(crate) const POOLED_FROM: f64 = 0.05;
/// How sure the interval of the repeatability is.
const SURE: f64 = 0.95;

/// What the analysis of variance says.
///
/// Model: reading = part + person + interaction + repeatability, all random, independent, normal
/// and of equal variance. Variance components by equating mean squares to their expectations; a
/// negative one is set to zero and said. *Reference:* AIAG, Measurement Systems Analysis, 4th
/// edition, analysis of variance; D. C. Montgomery, Design and Analysis of Experiments.
#[derive(Clone, Debug, PartialEq)]
pub struct Anova {
    /// With the interaction kept apart, as far as the table can tell it.
    pub unpooled: Model,
    /// With the interaction in the repeatability; `None` if there is no interaction to pool.
    pub pooled: Option<Model>,
    /// The 95 % interval of the chosen model's repeatability, in millimetres.
    pub ev_interval: Option<(f64, f64)>,
}

/// One way to read the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// Where the sum of squares comes from, in the usual order.
    pub sources: Vec<Source>,
    /// The standard deviations.
    pub components: Components,
    /// One trial cannot part repeatability and interaction; this is both, and is in GRR.
    pub unparted: Option<f64>,
    /// Whose variance came out negative and was set to zero.
    pub set_to_zero: Vec<Term>,
}

/// One row of the table of variances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Source {
    /// What differs.
    pub term: Term,
    /// Degrees of freedom, above zero.
    pub dof: i64,
    /// Sum of squares, in mm².
    pub sum: f64,
    /// Mean square, in mm².
    pub mean: f64,
    /// Its test; `None` for the last row, and where the row it is tested against is zero.
    pub test: Option<FTest>,
}

/// What differs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Term {
    /// The parts.
    Part,
    /// The people.
    Person,
    /// People on some parts more than on others.
    Interaction,
    /// The same again.
    Repeatability,
    /// Interaction and repeatability in one.
    Rest,
}

/// An F test against the row that holds the same scatter without the term in question.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FTest {
    /// The ratio of mean squares.
    pub f: f64,
    /// The probability of a larger one by chance.
    pub p: f64,
}

/// Degrees of freedom and sum of squares; `None` if there are none.
type Squares = Option<(i64, f64)>;

impl Anova {
    /// Takes a full table apart.
    pub(crate) fn of(table: &Table) -> Self {
        let sums = Sums::of(table);
        let unpooled = sums.apart();
        let pooled = sums.pooled();
        let mut anova = Self { unpooled, pooled, ev_interval: None };
        let chosen = anova.chosen();
        let last = chosen.sources.last().filter(|_| chosen.components.ev.is_some());
        anova.ev_interval = last.and_then(|it| interval(it.mean, float(it.dof)));
        anova
    }

    /// Whether the interaction is taken for chance.
    ///
    /// It is if its test gives a probability of at least 0.05, and also where nothing scatters, so
    /// that there is nothing to test.
    pub fn pools(&self) -> bool {
        self.pooled.is_some()
            && self.interaction_test().is_none_or(|it| POOLED_FROM <= it.p)
            && !self.only_interaction()
    }

    /// The test of the interaction against repeatability.
    pub fn interaction_test(&self) -> Option<FTest> {
        self.unpooled.source(Term::Interaction)?.test
    }

    /// The model that the interaction's test speaks for.
    pub fn chosen(&self) -> &Model {
        self.pooled.as_ref().filter(|_| self.pools()).unwrap_or(&self.unpooled)
    }

    /// People differ by part while the hand repeats to the last digit: no test, and no chance.
    fn only_interaction(&self) -> bool {
        self.interaction_test().is_none()
            && self.unpooled.source(Term::Interaction).is_some_and(|it| 0.0 < it.mean)
    }
}

impl Model {
    /// The row of a term.
    pub fn source(&self, term: Term) -> Option<&Source> {
        self.sources.iter().find(|it| it.term == term)
    }
}

/// σ√(ν/χ²) at both ends. *Reference:* JCGM 100 has no such interval; any text on variances has.
fn interval(variance: f64, dof: f64) -> Option<(f64, f64)> {
    let end = |p: f64| Some((variance * dof / chi2_quantile(p, dof)?).sqrt());
    let beyond = (1.0 - SURE) / 2.0;
    Some((end(1.0 - beyond)?, end(beyond)?))
}

/// Sums of squares with their degrees of freedom, in mm².
struct Sums {
    counts: [f64; 3],
    part: Squares,
    person: Squares,
    interaction: Squares,
    repeat: Squares,
}

impl Sums {
    /// All in whole numbers: with N readings x, N·SS of the parts is n·Σ(part's sum)² − (Σx)², and
    /// so on.
    fn of(table: &Table) -> Self {
        let sizes = [table.parts().len(), table.people().len(), table.trials().len()];
        let [n, k, r] = sizes.map(|len| i128::try_from(len).unwrap_or(i128::MAX));
        let mut people = vec![0_i128; table.people().len()];
        let (mut total, mut parts, mut cells, mut readings) = (0_i128, 0_i128, 0_i128, 0_i128);
        for row in table.rows() {
            let mut part = 0_i128;
            for (cell, person) in row.iter().zip(&mut people) {
                let twice = || cell.iter().map(|it| i128::from(it.twice()));
                let sum: i128 = twice().sum();
                cells += sum * sum;
                readings += twice().map(|it| it * it).sum::<i128>();
                part += sum;
                *person += sum;
            }
            parts += part * part;
            total += part;
        }
        let people: i128 = people.into_iter().map(|sum| sum * sum).sum();
        let (mean, cells) = (total * total, n * k * cells);
        let squares = |dof: i128, sum: i128| -> Squares {
            let dof = i64::try_from(dof).ok().filter(|dof| 0 < *dof)?;
            // Halves of nanometres, squared, and N times too many of them.
            Some((dof, wide(sum) / wide(n * k * r) / 4e12))
        };
        Self {
            counts: table.counts(),
            part: squares(n - 1, n * parts - mean),
            person: squares(k - 1, k * people - mean),
            interaction: squares((n - 1) * (k - 1), cells - n * parts - k * people + mean),
            repeat: squares(n * k * (r - 1), n * k * r * readings - cells),
        }
    }

    /// Every term on its own.
    fn apart(&self) -> Model {
        let repeat = self.repeat.map(|it| row(Term::Repeatability, it, None));
        let interaction = match (self.interaction, repeat) {
            (Some(it), Some(_)) => Some(row(Term::Interaction, it, repeat)),
            (Some(it), None) => Some(row(Term::Rest, it, None)),
            (None, _) => None,
        };
        let [_, _, trials] = self.counts;
        let (mut components, mut zero) = (Components::default(), Vec::new());
        components.ev = repeat.map(|it| it.mean.sqrt());
        components.interaction = interaction.zip(repeat).map(|(it, repeat)| {
            root((it.mean - repeat.mean) / trials, Term::Interaction, &mut zero)
        });
        let unparted = interaction.filter(|it| it.term == Term::Rest).map(|it| it.mean.sqrt());
        let rest = [interaction, repeat].into_iter().flatten().collect();
        self.model(components, unparted, zero, rest)
    }

    /// The interaction taken for repeatability.
    fn pooled(&self) -> Option<Model> {
        let ((dof, sum), (more, square)) = self.interaction.zip(self.repeat)?;
        let rest = row(Term::Rest, (dof + more, sum + square), None);
        let components = Components { ev: Some(rest.mean.sqrt()), ..Components::default() };
        Some(self.model(components, None, Vec::new(), vec![rest]))
    }

    /// Adds parts and people, tested against the first row of the `rest`.
    fn model(
        &self,
        mut components: Components,
        unparted: Option<f64>,
        mut set_to_zero: Vec<Term>,
        rest: Vec<Source>,
    ) -> Model {
        let [parts, people, trials] = self.counts;
        let against = rest.first().copied();
        let part = self.part.map(|it| row(Term::Part, it, against));
        let person = self.person.map(|it| row(Term::Person, it, against));
        let mut above = |source: Option<Source>, readings: f64| {
            let (source, against) = source.zip(against)?;
            let variance = (source.mean - against.mean) / readings;
            Some(root(variance, source.term, &mut set_to_zero))
        };
        components.pv = above(part, people * trials);
        components.av = above(person, parts * trials);
        let square = |sigma: Option<f64>| sigma.map(|it| it * it);
        let grr = square(components.ev.or(unparted)).map(|ev| {
            let more = [components.av, components.interaction];
            ev + more.into_iter().filter_map(square).sum::<f64>()
        });
        Model {
            sources: part.into_iter().chain(person).chain(rest).collect(),
            components: components.with_totals(grr),
            unparted,
            set_to_zero,
        }
    }
}

fn row(term: Term, (dof, sum): (i64, f64), against: Option<Source>) -> Source {
    let mean = sum / float(dof);
    let test = against.filter(|it| 0.0 < it.mean).and_then(|against| {
        let f = mean / against.mean;
        Some(FTest { f, p: f_beyond(f, float(dof), float(against.dof))? })
    });
    Source { term, dof, sum, mean, test }
}

/// The root of a variance; a negative one is zero, and its term is noted.
fn root(variance: f64, term: Term, set_to_zero: &mut Vec<Term>) -> f64 {
    if variance < 0.0 {
        set_to_zero.push(term);
    }
    variance.max(0.0).sqrt()
}

/// A whole number of up to 127 bits as a float, within two units of its last place.
fn wide(value: i128) -> f64 {
    const PIECE: i128 = 1 << 50;
    let low = i64::try_from(value % PIECE).unwrap_or(0);
    let rest = value / PIECE;
    let high = if rest == 0 { 0.0 } else { wide(rest) };
    high.mul_add(1_125_899_906_842_624.0, float(low)) // 2⁵⁰
}
