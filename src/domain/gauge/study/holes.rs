//! Empty places in a table of readings: naming them, and leaving out what holds most of them.

use crate::domain::gauge::study::{
    Hole, StudyReading,
    table::{Place, Span},
};
use std::collections::{BTreeMap, BTreeSet};

/// Which part, person and trial numbers are kept.
type Kept = [Vec<usize>; 3];

/// Names the places for which there is no row at all, grouped by part and person.
///
/// A row without a usable value was told where it was read.
pub(crate) fn named(
    names: &[Vec<String>; 3],
    readings: &[StudyReading],
    found: &BTreeMap<Place, (usize, Option<Span>)>,
) -> Vec<Hole> {
    let [parts, people, trials] = names;
    let mut holes = Vec::new();
    for (part_at, part) in parts.iter().enumerate() {
        for (person_at, person) in people.iter().enumerate() {
            let missing: Vec<String> = trials
                .iter()
                .enumerate()
                .filter(|(at, _)| !found.contains_key(&[part_at, person_at, *at]))
                .map(|(_, trial)| trial.clone())
                .collect();
            if missing.is_empty() {
                continue;
            }
            let here = |it: &StudyReading| it.part == *part && it.person == *person;
            let after = readings
                .iter()
                .rposition(here)
                .or_else(|| readings.iter().rposition(|it| it.part == *part));
            holes.extend(after.map(|after| Hole {
                part: part.clone(),
                person: person.clone(),
                trials: missing,
                after,
            }));
        }
    }
    holes
}

/// Leaves out parts, people and trials, given by axis and number, until no place is empty.
pub(crate) fn fill(
    sizes: [usize; 3],
    values: &BTreeMap<Place, Span>,
) -> (Kept, Vec<(usize, usize)>) {
    let mut kept: [BTreeSet<usize>; 3] = sizes.map(|size| (0..size).collect());
    let mut left_out = Vec::new();
    while let Some((axis, at)) = worst(&kept, values) {
        if let Some(axis) = kept.get_mut(axis) {
            axis.remove(&at);
        }
        left_out.push((axis, at));
    }
    (kept.map(|axis| axis.into_iter().collect()), left_out)
}

/// The axis and number with the largest share of empty places; `None` if there are none.
fn worst(kept: &[BTreeSet<usize>; 3], values: &BTreeMap<Place, Span>) -> Option<(usize, usize)> {
    let inside = |place: &Place| kept.iter().zip(place).all(|(kept, at)| kept.contains(at));
    let mut filled: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    let mut count = 0;
    for place in values.keys().filter(|place| inside(place)) {
        count += 1;
        for (axis, at) in place.iter().enumerate() {
            *filled.entry((axis, *at)).or_default() += 1;
        }
    }
    let all: usize = kept.iter().map(BTreeSet::len).product();
    if count == all {
        return None;
    }
    let choices = kept.iter().enumerate().flat_map(|(axis, kept)| {
        let places = all / kept.len().max(1);
        kept.iter().map(move |at| (axis, *at, places))
    });
    let worst = choices.min_by(|a, b| {
        let full = |it: &(usize, usize, usize)| filled.get(&(it.0, it.1)).copied().unwrap_or(0);
        // Shares compared by cross-multiplication, in whole numbers.
        (full(a) * b.2).cmp(&(full(b) * a.2)).then(full(a).cmp(&full(b)))
    });
    worst.map(|(axis, at, _)| (axis, at))
}
