//! The job sheet says on paper what the screen says, and always in the same bytes.

use crate::{
    cli::{sample, told},
    visit::Visit,
};
use gapwright::{
    brief::{self, Numbers, decision::tell_all, plain, sheet},
    domain::{
        decide::{decide, plan, supply},
        quantity::LengthUnit,
        yard::{Machine, Settings},
    },
    report::{self, Item, Paper},
};
use std::fs;
use tempfile::TempDir;

pub(crate) fn sheet_of(machine: &Machine, settings: &Settings, n: Numbers) -> sheet::Sheet {
    sheet::tell(machine, &decide(machine, settings), settings, n, "Gapwright")
}

/// Everything printed, without the spaces at which lines break.
fn printed(pages: &[Vec<Item>]) -> String {
    let words = pages.iter().flatten().filter_map(|item| match item {
        Item::Text { words, .. } => Some(words.as_str()),
        Item::Line { .. } | Item::Area { .. } => None,
    });
    words.collect::<String>().split(' ').collect()
}

#[test]
fn paper_and_screen_use_the_same_words() {
    for name in ["heron", "wren", "dunlin"] {
        for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
            let Visit { machine, settings, .. } = Visit::to(name);
            let n = Numbers { unit, ..Numbers::default() };
            let sheet = sheet_of(&machine, &settings, n);
            let text = printed(&report::pages(&sheet, Paper::A4).unwrap());
            #[track_caller]
            fn holds(text: &str, words: &str) {
                let bare: String = plain(words).split(' ').collect();
                assert!(text.contains(&bare), "{words:?} is not on the sheet");
            }
            for brief in tell_all(&decide(&machine, &settings), &machine.shear, n) {
                holds(&text, brief.action_word);
                holds(&text, &brief.headline);
                brief.reasons.iter().for_each(|it| {
                    holds(&text, &it.text);
                    holds(&text, &it.source);
                });
                brief.notes.iter().for_each(|note| holds(&text, note));
                if let Some(bolts) = brief.bolts {
                    holds(&text, &bolts.torque);
                    holds(&text, &bolts.source);
                }
            }
            holds(&text, "Match your manual by place, not by letter.");
            holds(&text, sheet.advice);
            holds(&text, sheet.force.as_ref().unwrap());
            sheet.cautions.iter().for_each(|it| holds(&text, it));
            sheet.signatures.iter().for_each(|it| holds(&text, it));
            holds(&text, &format!("shears/{name}/sessions/"));
        }
    }
}

/// By the areas of bore and ring and by the lever, worked out anew from the numbers of the file.
#[test]
fn the_sheet_says_how_weakly_a_jaw_opens() {
    let Visit { mut machine, settings, .. } = Visit::to("heron");
    let said = sheet_of(&machine, &settings, Numbers::default()).force.unwrap();
    let thermal = machine.shear.thermal.clone().unwrap();
    let jaw = gapwright::domain::heat::force_along(&thermal);
    let area = |mm: f64| std::f64::consts::FRAC_PI_4 * mm * mm;
    let (bore, rod) = (jaw.cylinder.bore.mm(), jaw.cylinder.rod.mm());
    let share = 100.0 * (area(bore) - area(rod)) / area(bore);
    assert!(said.starts_with(&format!("The jaw opens with {share:.0} in 100")), "{said}");
    let near = machine.shear.station("P1".parse().unwrap()).unwrap().from_pivot.mm();
    let kn = 0.1 * jaw.cylinder.pressure_bar * area(bore) * jaw.arm.mm() / near / 1e3;
    let digits: String = said.chars().filter(char::is_ascii_digit).collect();
    assert!(digits.contains(&format!("{kn:.0}")), "{kn} kN in {said}");
    machine.shear.thermal = None;
    assert_eq!(sheet_of(&machine, &settings, Numbers::default()).force, None);
}

#[test]
fn the_plan_stands_on_the_sheet_in_the_words_of_the_screen() {
    let yard = gapwright::store::open(&sample()).unwrap().yard;
    let (settings, n) = (&yard.settings, Numbers::default());
    let decisions: Vec<_> = yard.machines.iter().map(|it| decide(it, settings)).collect();
    let supply = supply(&yard, &decisions, settings.upkeep.times().order_ahead(None));
    for (machine, decision) in yard.machines.iter().zip(&decisions) {
        let plan = plan(machine, decision, settings, None);
        let told = brief::plan::tell(&plan, &supply, &machine.shear, &yard, n);
        let sheet = sheet_of(machine, settings, n).with_plan(told.clone());
        let text = printed(&report::pages(&sheet, Paper::Letter).unwrap());
        let lines = told.lines.iter().flat_map(|it| [Some(&it.text), it.costs.as_ref()]);
        let said = lines.flatten().chain([&told.now, &told.shutdown, &told.order, &told.total]);
        for words in said.chain(&told.weld).chain(&told.notes) {
            let bare: String = plain(words).split(' ').collect();
            assert!(text.contains(&bare), "{words:?} is not on the sheet");
        }
        assert_eq!(text.contains("Partsshort"), told.short.is_some(), "{}", machine.shear.id);
    }
}

#[test]
fn the_same_sheet_is_the_same_bytes_and_fits_its_paper() {
    let Visit { machine, settings, .. } = Visit::to("heron");
    let sheet = sheet_of(&machine, &settings, Numbers::default());
    for paper in [Paper::A4, Paper::Letter] {
        let first = report::pdf(&sheet, paper).unwrap();
        assert_eq!(first, report::pdf(&sheet, paper).unwrap());
        assert!(first.starts_with(b"%PDF-") && first.len() < 120_000, "{} bytes", first.len());
        let (width, height) = paper.size();
        for item in report::pages(&sheet, paper).unwrap().iter().flatten() {
            let points = match item {
                Item::Text { x, y, .. } => &vec![(*x, *y)],
                Item::Line { points, .. } | Item::Area { points, .. } => points,
            };
            for (x, y) in points {
                let inside = 35.0 <= *x && *x <= width - 35.0 && 35.0 <= *y && *y <= height - 35.0;
                assert!(inside, "{item:?}");
            }
        }
    }
}

#[test]
fn a_machine_that_nobody_measured_has_a_sheet_too() {
    let Visit { machine, settings, .. } = Visit::first();
    let sheet = sheet_of(&machine, &settings, Numbers::default());
    let text = printed(&report::pages(&sheet, Paper::Letter).unwrap());
    assert!(text.contains("notmeasured") && text.contains("nosessionyet"), "{text}");
}

#[test]
fn the_command_writes_it_and_says_what_is_wrong() {
    let home = TempDir::new().unwrap();
    let (yard, out) = (sample(), home.path().join("heron.pdf"));
    let run = |shear: &str, out: &str, paper: &str| {
        let yard = yard.to_str().unwrap();
        told(home.path(), &["sheet", yard, "--shear", shear, "--out", out, "--paper", paper])
    };
    let target = out.to_str().unwrap();
    let first = run("heron", target, "a4");
    assert_eq!((first.code, first.err.as_str()), (0, ""));
    let bytes = fs::read(&out).unwrap();
    run("heron", target, "a4");
    assert_eq!(bytes, fs::read(&out).unwrap(), "the same in another run");
    run("heron", target, "letter");
    assert_ne!(bytes, fs::read(&out).unwrap());
    let unknown = run("robin", target, "a4");
    assert!(unknown.code == 1 && unknown.err.contains("it has"), "{}", unknown.err);
    let nowhere = run("heron", &format!("{target}/inside.pdf"), "a4");
    assert_eq!(nowhere.code, 1, "{}", nowhere.err);
    assert_eq!(run("heron", target, "napkin").code, 2);
}

#[test]
fn the_button_asks_for_the_sheet_of_the_machine_in_hand() {
    use gapwright::workbench::{Command, Effect, Workbench};
    let yard = gapwright::store::open(&sample()).unwrap().yard;
    let wren = yard.machines.iter().find(|it| it.shear.id.as_str() == "wren").unwrap();
    let (id, now) = (wren.shear.id.clone(), wren.history.last().unwrap().taken);
    let mut bench = Workbench::new(yard, vec![], 7);
    bench.apply(Command::ChooseMachine(id.clone()), now);
    assert_eq!(bench.apply(Command::MakeSheet, now), [Effect::MakeSheet(id)]);
}
