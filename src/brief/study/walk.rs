//! The words of a study in the making: who measures what, and how far it is.

use crate::{
    brief::{Numbers, study::counted},
    domain::{
        gauge::{
            Repeatability,
            study::{Span, Table},
        },
        log::SessionId,
        quantity::Length,
    },
    language::{sentence, tell},
};

/// Why anybody should do this.
pub const WHY: &str = sentence!(
    "Several people measure the same stations, each of them several times, \
     without seeing what the others found. What comes out tells how much of a reading is the gap \
     and how much is the hand."
);

/// How to choose.
pub const CHOOSE: &str = sentence!(
    "Take stations whose gaps differ, **five or more** if you can, and at \
     least **two people**. Everybody measures all stations of a jaw position, then everybody again."
);

/// Stands beside the plan and the readings.
pub const BLIND: &str = sentence!("Do not look at each other's readings.");

/// `5 stations × 3 people × 3 times: 45 readings`.
pub fn plan(stations: usize, people: usize, trials: u8) -> String {
    let trials = usize::from(trials);
    tell!(
        "{stations} × {people} × {trials}: **{value}** readings",
        stations = counted(stations, tell!("station"), tell!("stations")),
        people = counted(people, tell!("person"), tell!("people")),
        trials = counted(trials, tell!("time"), tell!("times")),
        value = stations * people * trials
    )
}

/// What a plan still lacks before anybody can measure; empty if nothing.
pub fn lacks(stations: usize, people: usize) -> &'static str {
    match (stations, people) {
        (0, 0) => tell!("choose stations and people first"),
        (0, _) => tell!("choose stations first"),
        (_, 0) => tell!("choose who measures first"),
        _ => "",
    }
}

/// Whose turn it is: `KW, second time`.
pub fn turn(initials: &str, trial: u8) -> String {
    let nth = match trial {
        1 => tell!("first").to_owned(),
        2 => tell!("second").to_owned(),
        3 => tell!("third").to_owned(),
        4 => tell!("fourth").to_owned(),
        more => tell!("{more}th", more),
    };
    tell!("{initials}, {nth} time", initials, nth)
}

/// What the yard counts with, and since when.
pub fn in_use(scatter: &Repeatability, n: Numbers) -> String {
    let day = crate::brief::numbers::date(scatter.taken);
    tell!(
        "Readings in this yard count with a scatter of **{sigma}**, from {from}, {day}.",
        sigma = n.fine(scatter.sigma.mm()),
        from = scatter.from,
        day
    )
}

/// Where the readings are kept.
pub fn kept_as(name: &SessionId) -> String {
    tell!("The readings are kept in this yard as studies/{name}.csv.", name)
}

/// What would be used: `0.031 mm: all of measuring, by anybody of you`.
pub fn to_use(sigma_mm: f64, n: Numbers) -> String {
    tell!("{sigma_mm}: one reading by anybody of you", sigma_mm = n.fine(sigma_mm))
}

/// The readings of a full table for two drawings, in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// By station: where the readings of each person lie.
    pub by_part: Panel,
    /// By person: how far each reading lies from the mean of its station.
    pub by_person: Panel,
}

/// One drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// What it is.
    pub title: &'static str,
    /// How to read it.
    pub note: String,
    /// What stands side by side.
    pub columns: Vec<Column>,
    /// Where the scale stands, from lowest to highest, with its numbers.
    pub ticks: Vec<(f64, String)>,
    /// The whole of it for a screen reader.
    pub spoken: String,
}

/// One station or person.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its name.
    pub name: String,
    /// Bars from the leaf that goes to the one that does not, in groups that belong together.
    pub groups: Vec<Vec<[f64; 2]>>,
    /// The mean of its readings.
    pub mean: f64,
}

/// Draws a table up.
pub fn picture(table: &Table, n: Numbers) -> Picture {
    let ends = |low: Length, high: Length, from: f64| [low.mm() - from, high.mm() - from];
    let means = table.part_means();
    let stations = table.rows().iter().zip(table.parts()).zip(&means).map(|((row, part), mean)| {
        let bars = |cell: &Vec<_>| bars(cell, |low, high| ends(low, high, 0.0));
        Column { name: part.clone(), groups: row.iter().map(bars).collect(), mean: *mean }
    });
    let grand = means.iter().sum::<f64>() / f64::from(u32::try_from(means.len()).unwrap_or(1));
    let people = table.people().iter().zip(table.person_means()).enumerate().map(
        |(place, (person, mean))| {
            let cells = table.rows().iter().zip(&means).filter_map(|(row, part)| {
                Some(bars(row.get(place)?, |low, high| ends(low, high, *part)))
            });
            Column { name: person.clone(), groups: cells.collect(), mean: mean - grand }
        },
    );
    let names = table.people().join(", ");
    let by_part: Vec<Column> = stations.collect();
    let by_person: Vec<Column> = people.collect();
    Picture {
        by_part: panel(tell!("By station"), tell!("left to right: {names}", names), by_part, n),
        by_person: panel(tell!("By person"), tell!("from the station's mean").into(), by_person, n),
    }
}

fn bars(cell: &[Span], ends: impl Fn(Length, Length) -> [f64; 2]) -> Vec<[f64; 2]> {
    cell.iter().map(|span| ends(span.low(), span.high())).collect()
}

fn panel(title: &'static str, note: String, columns: Vec<Column>, n: Numbers) -> Panel {
    let all = || columns.iter().flat_map(|it| it.groups.iter().flatten().flatten().copied());
    let least = all().fold(f64::INFINITY, f64::min);
    let most = all().fold(f64::NEG_INFINITY, f64::max);
    let means: Vec<String> =
        columns.iter().map(|it| format!("{} {}", it.name, n.fine(it.mean))).collect();
    let spoken = format!("{title}, {note}: {}", means.join(", "));
    let ticks = if least <= most { ticks(least, most, n) } else { Vec::new() };
    Panel { title, note, columns, ticks, spoken }
}

/// Round numbers from below the least to above the most, about five.
fn ticks(least: f64, most: f64, n: Numbers) -> Vec<(f64, String)> {
    const STEPS: [f64; 10] = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0];
    const MOST_STEPS: f64 = 6.0;
    let unit = n.unit_mm();
    // Steps are round in the unit that is read; a thousandth of an inch is the finest there.
    let scale = if 1.0 < unit { 0.1 } else { 1.0 };
    let (least, most) = (least / unit, most / unit);
    let fits = |step: &f64| (most - least) / (step * scale) <= MOST_STEPS + 1e-9;
    let step = STEPS.into_iter().find(fits).unwrap_or(100.0) * scale;
    let first = (least / step).floor();
    let count = ((most / step).ceil() - first).max(1.0);
    (0..=20_u8)
        .map(f64::from)
        .take_while(|k| *k <= count)
        .map(|k| (first + k) * step * unit)
        .map(|at| (at, n.estimate(at)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{gauge::study::StudyReading, quantity::LengthUnit};

    #[test]
    fn a_plan_is_told_in_one_line() {
        assert_eq!(plan(1, 2, 3), "1 station × 2 people × 3 times: **6** readings");
        assert_eq!(lacks(0, 2), "choose stations first");
        assert_eq!(lacks(3, 1), "");
        assert_eq!(turn("KW", 2), "KW, second time");
    }

    #[test]
    fn bars_stand_where_the_leaves_were_and_people_around_the_mean() {
        let reading = |part: &str, person: &str, go: i64, no_go: i64| StudyReading {
            part: part.into(),
            person: person.into(),
            trial: "1".into(),
            value: Span::new(Length::from_um(go), Length::from_um(no_go)),
        };
        let table = Table::balanced(&[
            reading("P1", "KW", 500, 550),
            reading("P1", "OT", 550, 600),
            reading("P2", "KW", 700, 750),
            reading("P2", "OT", 750, 800),
        ]);
        let told = picture(&table.0.unwrap(), Numbers::default());
        assert_eq!(told.by_part.columns[1].groups, [[[0.7, 0.75]], [[0.75, 0.8]]]);
        assert_eq!(told.by_part.note, "left to right: KW, OT");
        let people = &told.by_person.columns;
        assert!((people[0].mean + 0.025).abs() < 1e-12 && (people[1].mean - 0.025).abs() < 1e-12);
        let [low, high] = people[0].groups[1][0];
        assert!((low + 0.05).abs() < 1e-12 && high.abs() < 1e-12);
        let labels: Vec<&str> = told.by_part.ticks.iter().map(|it| it.1.as_str()).collect();
        assert_eq!(labels, ["0.50", "0.55", "0.60", "0.65", "0.70", "0.75", "0.80"]);
    }

    #[test]
    fn a_scale_has_round_numbers_in_both_units_and_holds_everything() {
        for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
            let n = Numbers { unit, ..Numbers::default() };
            for (least, most) in [(0.5, 0.5), (-0.02, 0.013), (0.0, 1.37), (3.0, 11.0)] {
                let ticks = ticks(least, most, n);
                let (first, last) = (ticks.first().unwrap().0, ticks.last().unwrap().0);
                assert!(first <= least + 1e-12 && most <= last + 1e-12, "{ticks:?}");
                assert!((2..=8).contains(&ticks.len()), "{ticks:?}");
            }
        }
    }
}
