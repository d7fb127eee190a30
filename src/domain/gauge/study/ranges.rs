//! Averages and ranges: the study as it can be done with paper and a table of factors.

use crate::domain::{
    gauge::study::{Components, Factor, Span, Table, factors, table::whole},
    quantity::float,
};

/// What averages and ranges say.
///
/// EV = R̿·K₁; AV = √((X̄diff·K₂)² − EV²/(n·r)) with n parts and r trials; PV = Rp·K₃. Assumes
/// normal scatter that is the same for every part and person, and cannot see an interaction.
/// *Reference:* AIAG, Measurement Systems Analysis, 4th edition, average and range method.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranges {
    /// The standard deviations.
    pub components: Components,
    /// Every person's mean range over the trials of a part, in millimetres.
    pub by_person: Vec<f64>,
    /// Their mean, R̿; `None` for one trial.
    pub mean_range: Option<f64>,
    /// Between the largest and smallest mean of a person, X̄diff; `None` for one person.
    pub people_apart: Option<f64>,
    /// Between the largest and smallest mean of a part, Rp; `None` for one part.
    pub parts_apart: Option<f64>,
    /// K₁, K₂ and K₃, where there is more than one trial, person and part.
    pub factors: [Option<Factor>; 3],
    /// Whether people differ less than the hand alone explains, so that AV² came out negative and
    /// was set to zero.
    pub people_set_to_zero: bool,
}

impl Ranges {
    /// Takes a full table apart.
    pub(crate) fn of(table: &Table) -> Self {
        let factors = [
            factors::k1(table.trials().len()),
            factors::k2(table.people().len()),
            factors::k3(table.parts().len()),
        ];
        let [parts, _, trials] = table.counts();
        let by_person = ranges_by_person(table);
        let [k1, k2, k3] = factors.map(|it| it.map(|factor| factor.value));
        let count = float(whole(by_person.len()));
        let mean_range = k1.map(|_| by_person.iter().sum::<f64>() / count);
        let people_apart = k2.map(|_| apart(&table.person_means()));
        let parts_apart = k3.map(|_| apart(&table.part_means()));
        let times = |range: Option<f64>, factor: Option<f64>| Some(range? * factor?);
        let ev = times(mean_range, k1);
        let people = times(people_apart, k2);
        let square =
            ev.zip(people).map(|(ev, people)| (people * people) - ev * ev / (parts * trials));
        let av = square.map(|square| square.max(0.0).sqrt());
        let components = Components { ev, av, pv: times(parts_apart, k3), ..Components::default() };
        let grr = ev.map(|ev| ev * ev + av.map_or(0.0, |av| av * av));
        Self {
            components: components.with_totals(grr),
            by_person,
            mean_range,
            people_apart,
            parts_apart,
            factors,
            people_set_to_zero: square.is_some_and(|square| square < 0.0),
        }
    }
}

/// Every person's mean range over the parts.
fn ranges_by_person(table: &Table) -> Vec<f64> {
    let [parts, ..] = table.counts();
    (0..table.people().len())
        .map(|person| {
            let cells = table.rows().iter().filter_map(|row| row.get(person));
            let sum: i64 = cells.map(|cell| range(cell)).sum();
            float(sum) / parts / 2e6
        })
        .collect()
}

/// Twice the range of a cell in whole nanometres.
fn range(cell: &[Span]) -> i64 {
    let twice = || cell.iter().map(|it| it.twice());
    twice().max().zip(twice().min()).map_or(0, |(most, least)| most - least)
}

fn apart(means: &[f64]) -> f64 {
    let most = means.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = means.iter().copied().fold(f64::INFINITY, f64::min);
    most - least
}
