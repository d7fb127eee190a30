//! A full table of readings: every person measured every part in every trial.
//!
//! Readings come in any order and with any names; [`Table::balanced`] finds the largest full part
//! of them that a simple rule gives, and names what it had to leave out and why.

use crate::domain::{
    gauge::study::holes,
    quantity::{Length, float},
};
use std::collections::BTreeMap;

/// Where a reading lies: between two ends, or exactly if they are one.
///
/// Invariant: `low <= high`, and neither is further than 100 m from zero, so that sums of squares
/// over any table that fits into memory stay whole. Either sign: parts may be read as deviations.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    low: Length,
    high: Length,
}

/// No gauge reads further from its zero.
const FURTHEST: Length = Length::from_um(100_000_000);

impl Span {
    /// Between two ends; `None` if they are reversed or further out than any gauge reads.
    pub fn new(low: Length, high: Length) -> Option<Self> {
        let inside = low <= high && -FURTHEST <= low && high <= FURTHEST;
        inside.then_some(Self { low, high })
    }

    /// One value exactly; `None` if it is further out than any gauge reads.
    pub fn exactly(at: Length) -> Option<Self> {
        Self::new(at, at)
    }

    /// The lower end.
    pub const fn low(self) -> Length {
        self.low
    }

    /// The upper end.
    pub const fn high(self) -> Length {
        self.high
    }

    /// The middle in millimetres.
    pub fn middle_mm(self) -> f64 {
        float(self.twice()) / 2e6
    }

    /// Twice the middle, in whole nanometres: exact, where the middle may end in a half.
    pub const fn twice(self) -> i64 {
        self.low.nm() + self.high.nm()
    }
}

/// One reading of a study, or the place of one that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StudyReading {
    /// What was measured.
    pub part: String,
    /// Who measured.
    pub person: String,
    /// Which time.
    pub trial: String,
    /// What was read; `None` if nothing usable, for a reason that has been told already.
    pub value: Option<Span>,
}

/// A part, a person or a trial by its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Label {
    /// A part.
    Part(String),
    /// A person.
    Person(String),
    /// A trial.
    Trial(String),
}

/// Two readings for one place of the table, by their numbers in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Twice {
    /// The earlier.
    pub first: usize,
    /// The later.
    pub again: usize,
    /// Whether both say the same. If not, neither is used: nobody knows which is right.
    pub agree: bool,
}

/// Trials of one part by one person for which there is no reading at all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hole {
    /// What was to be measured.
    pub part: String,
    /// By whom.
    pub person: String,
    /// In which trials.
    pub trials: Vec<String>,
    /// The reading in the list after which they would stand: the last of that part and person, or
    /// of that part.
    pub after: usize,
}

/// What kept readings from making a full table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Unbalanced {
    /// Places with two readings.
    pub twice: Vec<Twice>,
    /// Places with none.
    pub holes: Vec<Hole>,
    /// What was left out to have a full table, in this order.
    pub left_out: Vec<Label>,
}

/// A full table.
///
/// Invariant: at least one part, person and trial; every cell has a reading for every trial.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    parts: Vec<String>,
    people: Vec<String>,
    trials: Vec<String>,
    /// By part, then by person, then by trial.
    rows: Vec<Vec<Vec<Span>>>,
}

/// The place of a reading: part, person, trial.
pub(crate) type Place = [usize; 3];

impl Table {
    /// The full table in these readings, and what stands outside of it.
    ///
    /// While a place is empty, the part, person or trial with the largest share of empty places is
    /// left out; of equals, the one with the fewest readings to lose, parts before people before
    /// trials. So one missing reading costs one part, and one person who gave up costs that person.
    /// `None` if nothing is left.
    pub fn balanced(readings: &[StudyReading]) -> (Option<Self>, Unbalanced) {
        let mut names: [Vec<String>; 3] = Default::default();
        let mut found: BTreeMap<Place, (usize, Option<Span>)> = BTreeMap::new();
        let mut unbalanced = Unbalanced::default();
        for (number, reading) in readings.iter().enumerate() {
            let words = [&reading.part, &reading.person, &reading.trial];
            let mut place = [0; 3];
            for ((at, names), word) in place.iter_mut().zip(&mut names).zip(words) {
                *at = number_of(names, word);
            }
            match found.get_mut(&place) {
                None => drop(found.insert(place, (number, reading.value))),
                // A place without a value says nothing against one with it.
                Some((_, _)) if reading.value.is_none() => {}
                Some((first, value)) if value.is_none() => {
                    let said = unbalanced.twice.iter().any(|it| it.first == *first);
                    if !said {
                        (*first, *value) = (number, reading.value);
                    }
                }
                Some((first, value)) => {
                    let agree = *value == reading.value;
                    unbalanced.twice.push(Twice { first: *first, again: number, agree });
                    if !agree {
                        *value = None;
                    }
                }
            }
        }
        unbalanced.holes = holes::named(&names, readings, &found);
        let values: BTreeMap<Place, Span> =
            found.into_iter().filter_map(|(place, (_, value))| Some((place, value?))).collect();
        let sizes = [0, 1, 2].map(|axis| names.get(axis).map_or(0, Vec::len));
        let (kept, left_out) = holes::fill(sizes, &values);
        let named = |axis: usize, at: usize| names.get(axis)?.get(at).cloned();
        unbalanced.left_out = left_out
            .into_iter()
            .filter_map(|(axis, at)| {
                let name = named(axis, at)?;
                Some(match axis {
                    0 => Label::Part(name),
                    1 => Label::Person(name),
                    _ => Label::Trial(name),
                })
            })
            .collect();
        let [parts, people, trials] = &kept;
        let rows: Vec<Vec<Vec<Span>>> = parts
            .iter()
            .map(|part| {
                let cell = |person: &usize| -> Vec<Span> {
                    let at = |trial: &usize| values.get(&[*part, *person, *trial]).copied();
                    trials.iter().filter_map(at).collect()
                };
                people.iter().map(cell).collect()
            })
            .collect();
        let of = |axis: usize, kept: &[usize]| -> Vec<String> {
            kept.iter().filter_map(|at| named(axis, *at)).collect()
        };
        let full = kept.iter().all(|kept| !kept.is_empty());
        let table = full.then(|| Self {
            parts: of(0, parts),
            people: of(1, people),
            trials: of(2, trials),
            rows,
        });
        (table, unbalanced)
    }

    /// The parts, in the order they came up.
    pub fn parts(&self) -> &[String] {
        &self.parts
    }

    /// The people, in the order they came up.
    pub fn people(&self) -> &[String] {
        &self.people
    }

    /// The trials, in the order they came up.
    pub fn trials(&self) -> &[String] {
        &self.trials
    }

    /// The readings by part, then by person, then by trial.
    pub fn rows(&self) -> &[Vec<Vec<Span>>] {
        &self.rows
    }

    /// Parts, people and trials as numbers for formulas.
    pub(crate) fn counts(&self) -> [f64; 3] {
        [self.parts.len(), self.people.len(), self.trials.len()].map(|len| float(whole(len)))
    }

    /// The mean of every part, in millimetres.
    pub fn part_means(&self) -> Vec<f64> {
        let all = |row: &Vec<Vec<Span>>| mean(row.iter().flatten().copied());
        self.rows.iter().map(all).collect()
    }

    /// The mean of every person, in millimetres.
    pub fn person_means(&self) -> Vec<f64> {
        let of = |person: usize| self.rows.iter().filter_map(move |row| row.get(person));
        (0..self.people.len()).map(|it| mean(of(it).flatten().copied())).collect()
    }
}

/// The mean of readings that are not empty, in millimetres.
fn mean(readings: impl Iterator<Item = Span> + Clone) -> f64 {
    let count = whole(readings.clone().count());
    float(readings.map(Span::twice).sum()) / float(count) / 2e6
}

/// A count as a signed number; no table in memory has more than fits.
pub(crate) fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

fn number_of(names: &mut Vec<String>, word: &str) -> usize {
    names.iter().position(|name| name == word).unwrap_or_else(|| {
        names.push(word.to_owned());
        names.len() - 1
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `P1 kw 2 0.55`: part, person, trial and millimetres.
    fn read(rows: &[&str]) -> Vec<StudyReading> {
        let one = |row: &&str| {
            let words: Vec<&str> = row.split(' ').collect();
            let value = words[3].parse().ok().and_then(Length::from_mm);
            StudyReading {
                part: words[0].into(),
                person: words[1].into(),
                trial: words[2].into(),
                value: value.and_then(Span::exactly),
            }
        };
        rows.iter().map(one).collect()
    }

    fn size(table: Option<&Table>) -> Option<[usize; 3]> {
        table.map(|it| [it.parts.len(), it.people.len(), it.trials.len()])
    }

    const FULL: [&str; 8] = [
        "P1 kw 1 0.50",
        "P1 kw 2 0.52",
        "P1 ot 1 0.51",
        "P1 ot 2 0.55", //
        "P2 kw 1 0.70",
        "P2 kw 2 0.71",
        "P2 ot 1 0.69",
        "P2 ot 2 0.72",
    ];

    #[test]
    fn a_full_table_has_every_reading_in_its_place() {
        let (table, unbalanced) = Table::balanced(&read(&FULL));
        let table = table.unwrap();
        assert_eq!(unbalanced, Unbalanced::default());
        assert_eq!(
            (table.parts.as_slice(), table.people.as_slice()),
            (
                ["P1".to_owned(), "P2".to_owned()].as_slice(),
                ["kw".to_owned(), "ot".to_owned()].as_slice()
            )
        );
        assert_eq!(table.rows[1][0][1].middle_mm().to_bits(), 0.71_f64.to_bits());
        assert_eq!(table.part_means(), [0.52, 0.705]);
        assert_eq!(table.person_means(), [0.6075, 0.6175]);
    }

    #[test]
    fn one_missing_reading_costs_its_part_and_is_named() {
        let mut rows = FULL.to_vec();
        rows.extend(["P3 kw 1 0.9", "P3 kw 2 0.9", "P3 ot 1 0.9"]);
        let (table, unbalanced) = Table::balanced(&read(&rows));
        assert_eq!(size(table.as_ref()), Some([2, 2, 2]));
        let hole =
            Hole { part: "P3".into(), person: "ot".into(), trials: vec!["2".into()], after: 10 };
        assert_eq!(unbalanced.holes, [hole]);
        assert_eq!(unbalanced.left_out, [Label::Part("P3".into())]);
    }

    #[test]
    fn a_person_who_gave_up_is_left_out_and_not_the_parts() {
        let mut rows = FULL.to_vec();
        rows.push("P1 ab 1 0.5");
        let (table, unbalanced) = Table::balanced(&read(&rows));
        assert_eq!(size(table.as_ref()), Some([2, 2, 2]));
        assert_eq!(unbalanced.left_out, [Label::Person("ab".into())]);
        assert_eq!(unbalanced.holes.len(), 2, "{unbalanced:?}");
    }

    #[test]
    fn a_trial_that_only_one_person_made_is_left_out() {
        let mut rows = FULL.to_vec();
        rows.extend(["P1 kw 3 0.50", "P2 kw 3 0.70"]);
        let (table, unbalanced) = Table::balanced(&read(&rows));
        assert_eq!(size(table.as_ref()), Some([2, 2, 2]));
        assert_eq!(unbalanced.left_out, [Label::Trial("3".into())]);
    }

    #[test]
    fn of_two_readings_that_differ_neither_is_used() {
        let mut rows = FULL.to_vec();
        rows.extend(["P1 kw 1 0.50", "P2 ot 2 0.99"]);
        let (table, unbalanced) = Table::balanced(&read(&rows));
        assert_eq!(
            unbalanced.twice,
            [Twice { first: 0, again: 8, agree: true }, Twice { first: 7, again: 9, agree: false }]
        );
        assert_eq!(size(table.as_ref()), Some([1, 2, 2]), "P2 is not full any more");
        assert_eq!(unbalanced.holes, [], "it was told as two readings, not as a missing one");
    }

    #[test]
    fn nothing_usable_is_no_table() {
        assert_eq!(Table::balanced(&[]).0, None);
        assert_eq!(Table::balanced(&read(&["P1 kw 1 wide"])).0, None);
        let one = Table::balanced(&read(&["P1 kw 1 0.5"])).0;
        assert_eq!(size(one.as_ref()), Some([1, 1, 1]));
    }
}
