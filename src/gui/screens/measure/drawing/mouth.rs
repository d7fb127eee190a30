//! The jaw from above with every station's chip.

use crate::{
    brief::words,
    domain::{machine::StationId, quantity::Length},
    gui::{
        marks::VerdictMark,
        meaning::verdict_mark,
        screens::{
            measure::hand::Hand,
            outline::{self, face, mm},
        },
        widgets::{Along, MouthStation, MouthView, MouthWords, Warning},
    },
    language::{sentence, tell},
    workbench::Command,
};
use egui::Ui;

const WORDS: MouthWords<'static> = MouthWords {
    title: sentence!("Mouth view"),
    note: "",
    pivot: sentence!("Pivot"),
    cutting: sentence!("Cutting side"),
    guide: sentence!("Guide side"),
    upper: sentence!("Upper jaw"),
};

const LEGEND: [(VerdictMark, &str); 5] = [
    (VerdictMark::SetRange, sentence!("set range")),
    (VerdictMark::Working, sentence!("working")),
    (VerdictMark::SoonTooWide, sentence!("soon too wide")),
    (VerdictMark::TooTight, sentence!("too tight")),
    (VerdictMark::StopTooTight, sentence!("stop")),
];

pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, along: Along, asked: &mut Vec<Command>) {
    let names = outline::names(hand.shear);
    let parts = outline::parts(hand.shear, &names);

    let walk = hand.shear.walk();
    let texts: Vec<Told> = walk.iter().map(|station| told(hand, *station)).collect();
    let stations: Vec<MouthStation<'_>> =
        texts.iter().filter_map(|told| station(hand, told)).collect();
    let stop = hand.telling.stop();
    let unit = hand.view.numbers.compact_unit();
    let note = tell!(
        "from above into the lower jaw · gaps in {unit}, drawn {times}× larger",
        unit,
        times = "{}"
    );
    let view = MouthView {
        jaw: outline::jaw(hand.shear),
        parts: &parts,
        stations: &stations,
        current: walk.iter().position(|station| *station == hand.at).filter(|_| !hand.signing),
        words: MouthWords { note: &note, ..WORDS },
        legend: &LEGEND,
        warning: stop.as_ref().map(|[fact, next]| Warning {
            mark: VerdictMark::StopTooTight,
            headline: fact,
            text: next,
        }),
    };
    let height = view.height_in(ui, along);
    if let Some(station) = view.show(ui, along, height).and_then(|index| walk.get(index)) {
        asked.push(Command::ChooseStation(*station));
    }
}

/// The texts of one chip.
struct Told {
    station: StationId,
    name: String,
    label: String,
    value: String,
    detail: String,
    mark: VerdictMark,
    gap: Length,
}

fn told(hand: &Hand<'_>, station: StationId) -> Told {
    let in_hand = if station == hand.at { hand.felt.map(|(_, gap)| gap) } else { None };
    let chip = hand.telling.chip(station, in_hand);
    let cold = chip.gap.map(|gap| gap.cold.bracket).or_else(|| hand.telling.before(station));
    let set = hand.shear.line(station.line).map_or(Length::ZERO, |line| line.limits.set().middle());
    Told {
        station,
        name: station.to_string(),
        label: format!("{station}, {}", words::station(hand.shear, station)),
        mark: verdict_mark(chip.gap.map(|gap| gap.verdict)),
        value: chip.text,
        detail: chip.spoken,
        gap: cold.map_or(set, |cold| cold.middle().unwrap_or_else(|| cold.go())),
    }
}

fn station<'t>(hand: &Hand<'_>, told: &'t Told) -> Option<MouthStation<'t>> {
    let line = hand.shear.line(told.station.line)?;
    let station = hand.shear.station(told.station)?;
    let side = hand.shear.blade(&line.fixed)?.side;
    Some(MouthStation {
        name: &told.name,
        face: face(side),
        from_pivot: mm(station.from_pivot),
        across: station.across.map(mm),
        gap: mm(told.gap).max(0.0),
        value: &told.value,
        mark: told.mark,
        label: &told.label,
        detail: &told.detail,
    })
}
