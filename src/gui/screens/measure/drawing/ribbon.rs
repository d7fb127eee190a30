//! The gaps along the side of the line in hand, on the scale of the mouth view.
//!
//! Lines whose fixed blades lie on one side of the jaw share a ribbon. A cross line lies at one
//! distance from the pivot, so its ribbon runs across the jaw instead and says so.

use crate::{
    brief::{Numbers, measure::Gap, numbers, words},
    domain::{
        machine::{Line, Side, Station},
        quantity::{Length, LengthUnit},
    },
    gui::{
        meaning::verdict_mark,
        screens::{
            measure::{entry_card::bands, hand::Hand},
            outline::mm,
        },
        widgets::{Along, GapRibbon, RibbonLine, RibbonReading, RibbonWords},
    },
    language::{self, tell},
};
use egui::Ui;

/// Which way a ribbon runs.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Run {
    /// From the pivot outward.
    Along,
    /// From the guide cheek to the cutting cheek.
    Across,
}

/// One line, as the ribbon needs it.
struct Row<'h> {
    line: &'h Line,
    letter: String,
    place: String,
    limits: [String; 6],
    span: [f32; 2],
}

pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, along: Along, height: f32) {
    let side = side_of(hand, hand.line);
    let run = if side == Some(Side::Front) { Run::Across } else { Run::Along };
    let rows: Vec<Row<'_>> = hand
        .shear
        .lines
        .iter()
        .filter(|line| side_of(hand, line) == side)
        .filter_map(|line| row(hand, line, run))
        .collect();
    let along = if run == Run::Across { over_the_mouth(hand, along, ui) } else { along };
    let lines: Vec<RibbonLine<'_>> = rows
        .iter()
        .map(|row| RibbonLine {
            letter: &row.letter,
            place: &row.place,
            span: row.span,
            bands: bands(&row.line.limits),
            selected: row.line.id == hand.at.line,
            limits: row.limits.each_ref().map(String::as_str),
        })
        .collect();
    let texts: Vec<(usize, &Station, String, Option<Gap>)> = rows
        .iter()
        .enumerate()
        .flat_map(|(index, row)| row.line.stations.iter().map(move |station| (index, station)))
        .map(|(index, station)| {
            let gap = hand.gap_at(station.id);
            let text =
                gap.map_or(String::new(), |it| hand.view.numbers.compact_range(it.cold.bracket));
            (index, station, text, gap)
        })
        .collect();
    let readings: Vec<RibbonReading<'_>> = texts
        .iter()
        .map(|(index, station, text, gap)| RibbonReading {
            line: *index,
            text,
            ..reading(hand, station, *gap, run)
        })
        .collect();
    let highest = rows.iter().map(|row| row.line.limits.stop().max).max().unwrap_or(Length::ZERO);
    let mut gap_ticks = gap_ticks(hand.view.numbers, mm(highest) * 1.2);
    if run == Run::Across {
        // The limits stand at the axis itself and are its figures.
        for (_, text) in &mut gap_ticks {
            text.clear();
        }
    }
    let reach = match run {
        Run::Along => hand.shear.geometry.reach,
        Run::Across => hand.shear.geometry.mouth,
    };
    let along_ticks = along_ticks(hand.view.numbers, mm(reach), run);
    let source = language::known(hand.line.limits.source());
    let words = Texts::of(hand, source, run);
    GapRibbon {
        lines: &lines,
        readings: &readings,
        gap_ticks: &texts_of(&gap_ticks),
        along_ticks: &texts_of(&along_ticks),
        words: words.borrow(),
    }
    .show(ui, along, height);
}

fn texts_of(ticks: &[(f32, String)]) -> Vec<(f32, &str)> {
    ticks.iter().map(|(at, text)| (*at, text.as_str())).collect()
}

/// The words of the ribbon that depend on the visit.
struct Texts {
    note: String,
    before: String,
    axis: String,
}

impl Texts {
    fn of(hand: &Hand<'_>, source: &str, run: Run) -> Self {
        let unit = hand.view.numbers.unit_name();
        let side = hand.telling.along(hand.at.line);
        let source = source.split(':').next().unwrap_or_default();
        let last = hand.machine.history.sessions.len();
        let from = if run == Run::Across {
            tell!("from the guide cheek")
        } else {
            tell!("from the pivot")
        };
        Self {
            note: tell!("cold gap at 20 °C, {unit}, {side}", unit, side),
            before: if last == 0 { String::new() } else { tell!("session {last}", last) },
            // Where it is seen at every width: the note above gives way first.
            axis: tell!("limits: {source} · {unit} {from}", source, unit, from),
        }
    }

    fn borrow(&self) -> RibbonWords<'_> {
        RibbonWords {
            title: tell!("Gap ribbon"),
            note: &self.note,
            legend: [tell!("goes to does not go"), &self.before, tell!("estimated hot gap")],
            stop: tell!("stop limit"),
            working: tell!("working limit"),
            set: tell!("set range"),
            next: tell!("next"),
            axis: &self.axis,
        }
    }
}

fn side_of(hand: &Hand<'_>, line: &Line) -> Option<Side> {
    hand.shear.blade(&line.fixed).map(|blade| blade.side)
}

fn row<'h>(hand: &Hand<'h>, line: &'h Line, run: Run) -> Option<Row<'h>> {
    let n = hand.view.numbers;
    let blade = hand.shear.blade(&line.fixed)?;
    let (set, working, stop) = (line.limits.set(), line.limits.working(), line.limits.stop());
    let limits = [stop.min, working.min, set.min, set.max, working.max, stop.max];
    Some(Row {
        line,
        letter: line.id.to_string(),
        place: words::capital(language::known(&line.place)),
        limits: limits.map(|limit| n.length(limit)),
        span: if run == Run::Across {
            [0.0, mm(hand.shear.geometry.mouth)]
        } else {
            [mm(blade.near), mm(blade.far)]
        },
    })
}

#[expect(clippy::cast_possible_truncation, reason = "millimetres for drawing")]
fn reading<'r>(
    hand: &Hand<'_>,
    station: &Station,
    gap: Option<Gap>,
    run: Run,
) -> RibbonReading<'r> {
    let id = station.id;
    let place = station.across.filter(|_| run == Run::Across);
    let hot = match gap {
        Some(gap) => gap.hot_mm,
        None => hand.telling.state(id).and_then(|state| state.hot_mm),
    };
    let mark = verdict_mark(gap.map(|gap| gap.verdict));
    RibbonReading {
        from_pivot: mm(place.unwrap_or(station.from_pivot)),
        bracket: gap.map(|it| (mm(it.cold.bracket.go()), it.cold.bracket.no_go().map(mm))),
        hot: hot.map(|hot| hot as f32),
        before: hand
            .telling
            .before(id)
            .map(|it| [mm(it.go()), it.no_go().map_or(mm(it.go()) + 0.05, mm)]),
        mark: mark.is_watch().then_some(mark),
        current: id == hand.at && !hand.signing,
        next: hand.next() == Some(id),
        ..RibbonReading::default()
    }
}

/// A cross line has the width of the mouth for itself.
fn over_the_mouth(hand: &Hand<'_>, along: Along, ui: &Ui) -> Along {
    let right = ui.max_rect().right() - 60.0;
    let mouth = mm(hand.shear.geometry.mouth).max(1.0);
    Along { per_mm: (right - along.pivot_x).max(1.0) / mouth, ..along }
}

/// Half a millimetre apart, or two hundredths of an inch, with a small mark between.
fn gap_ticks(n: Numbers, most_mm: f32) -> Vec<(f32, String)> {
    let (step, places) = match n.unit {
        LengthUnit::Millimetre => (0.25, 1),
        LengthUnit::Inch => (0.254, 2),
    };
    let text = |index: u8| {
        let value = f32::from(index) * step / if n.unit == LengthUnit::Inch { 25.4 } else { 1.0 };
        if index.is_multiple_of(2) {
            numbers::fixed(f64::from(value), places)
        } else {
            String::new()
        }
    };
    (0..40_u8)
        .map(|index| (f32::from(index) * step, text(index)))
        .take_while(|(at, _)| *at < most_mm)
        .collect()
}

/// Two hundred millimetres apart, or ten inches; a tenth of that over a cross line.
fn along_ticks(n: Numbers, reach_mm: f32, run: Run) -> Vec<(f32, String)> {
    let (step, label) = match (n.unit, run) {
        (LengthUnit::Millimetre, Run::Along) => (200.0, 200),
        (LengthUnit::Millimetre, Run::Across) => (50.0, 50),
        (LengthUnit::Inch, Run::Along) => (254.0, 10),
        (LengthUnit::Inch, Run::Across) => (50.8, 2),
    };
    (0..40_u16)
        .map(|index| (f32::from(index) * step, (index * label).to_string()))
        .take_while(|(at, _)| *at < reach_mm)
        .collect()
}
