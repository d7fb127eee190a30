//! The job sheet says on paper what the screen says, and always in the same bytes.

use crate::{
    cli::{sample, told},
    visit::Visit,
};
use gapwright::{
    brief::{self, Numbers, decision::tell_all, plain, sheet},
    domain::{
        decide::{Choice, Job, MachinePlan, decide, plan, supply},
        machine::LineId,
        quantity::LengthUnit,
        yard::{Machine, Settings},
    },
    report::{self, Item, Paper},
};
use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
};
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

/// The job used to say "before cutting on" beside a plan that said otherwise.
#[test]
fn a_job_says_the_time_that_somebody_chose() {
    let yard = gapwright::store::open(&sample()).unwrap().yard;
    let (settings, n) = (&yard.settings, Numbers::default());
    let decisions: Vec<_> = yard.machines.iter().map(|it| decide(it, settings)).collect();
    let supply = supply(&yard, &decisions, settings.upkeep.times().order_ahead(None));
    let heron = yard.machines.iter().position(|it| it.shear.id.as_str() == "heron").unwrap();
    let (machine, decision) = (&yard.machines[heron], &decisions[heron]);
    let plan = plan(machine, decision, settings, None);
    let when = |plan: &MachinePlan| {
        let told = brief::plan::tell(plan, &supply, &machine.shear, &yard, n);
        let sheet = sheet_of(machine, settings, n).with_plan(told);
        let text = printed(&report::pages(&sheet, Paper::A4).unwrap());
        let job = sheet.jobs.into_iter().find(|it| it.brief.line == LineId::S).unwrap();
        (job.brief.when, text.matches(",chosenhere").count())
    };
    assert_eq!(when(&plan), ("before cutting on".to_owned(), 0));
    let name = |plan: &MachinePlan| sheet_of(machine, settings, n).named_after(plan).file;
    let as_planned = name(&plan);
    let chosen = plan.overruled(&BTreeMap::from([(LineId::S, Choice::Shutdown)]));
    let stem = as_planned.strip_suffix(".pdf").unwrap();
    assert_eq!(name(&chosen), format!("{stem}-s-shutdown.pdf"), "not over the other sheet");
    let said = "at the planned shutdown in 36\u{a0}h, chosen here";
    assert_eq!(when(&chosen), (said.to_owned(), 1));
}

/// No sample machine gets a first page that is half empty, or a last one with nothing but lines to
/// sign.
#[test]
fn pages_are_filled() {
    let yard = gapwright::store::open(&sample()).unwrap().yard;
    let (settings, n) = (&yard.settings, Numbers::default());
    let decisions: Vec<_> = yard.machines.iter().map(|it| decide(it, settings)).collect();
    let supply = supply(&yard, &decisions, settings.upkeep.times().order_ahead(None));
    let of_jobs = |page: &[Item]| {
        page.iter().any(|it| matches!(it, Item::Text { words, .. } if words == "Station"))
    };
    for (machine, decision) in yard.machines.iter().zip(&decisions) {
        let plan = plan(machine, decision, settings, None);
        let told = brief::plan::tell(&plan, &supply, &machine.shear, &yard, n);
        let sheet = sheet_of(machine, settings, n).with_plan(told);
        for paper in [Paper::A4, Paper::Letter] {
            let pages = report::pages(&sheet, paper).unwrap();
            let words = |it: &Item| match it {
                Item::Text { y, size, .. } => Some(*y).filter(|_| 7.0 < *size),
                Item::Line { .. } | Item::Area { .. } => None,
            };
            let filled = pages[0].iter().filter_map(words).fold(0.0, f32::max);
            let (_, tall) = paper.size();
            assert!(0.7 * tall < filled, "{} {paper:?}: {filled}", machine.shear.id);
            assert!(of_jobs(pages.last().unwrap()), "{} {paper:?}", machine.shear.id);
        }
    }
}

/// By row: the height at which its head stands, and what stands beside it.
fn rows(pages: &[Vec<Item>], head: &str) -> Vec<(f32, Vec<String>)> {
    let texts = pages.iter().flatten().filter_map(|item| match item {
        Item::Text { x, y, words, .. } => Some((*x, *y, words)),
        Item::Line { .. } | Item::Area { .. } => None,
    });
    let texts: Vec<_> = texts.collect();
    let heads = texts.iter().filter(|(.., words)| *words == head);
    let beside = |(x, y): (f32, f32)| {
        let level = texts.iter().filter(|it| x < it.0 && (it.1 - y).abs() < 3.0);
        level.map(|(.., words)| (*words).clone()).collect()
    };
    heads.map(|(x, y, _)| (*y, beside((*x, *y)))).collect()
}

/// The hot gap of before used to stand under the gap of afterwards.
#[test]
fn hot_gaps_stand_under_the_cold_ones_they_belong_to() {
    let Visit { machine, settings, .. } = Visit::to("heron");
    let n = Numbers::default();
    let mut sheet = sheet_of(&machine, &settings, n);
    let decision = decide(&machine, &settings);
    sheet.jobs.retain(|job| job.stations.iter().any(|it| it.after.is_some()));
    assert!(2 <= sheet.jobs.len());
    for job in sheet.jobs.clone() {
        let alone = sheet::Sheet { jobs: vec![job.clone()], ..sheet.clone() };
        let pages = report::pages(&alone, Paper::A4).unwrap();
        let row = |head: &str| rows(&pages, head).pop().unwrap_or_else(|| panic!("no {head}"));
        let order = ["Gap now", "Hot before, about", "After, about", "Hot after, about"];
        let found = order.map(row);
        assert!(found.is_sorted_by(|(a, _), (b, _)| a < b), "{found:?}");
        let line = machine.shear.line(job.brief.line).unwrap();
        let states = &decision.line(job.brief.line).unwrap().stations;
        let hot: Vec<String> = states
            .iter()
            .map(|it| it.after.map_or("–".into(), |it| n.estimate(line.hot_gap_mm(it.mm()))))
            .collect();
        assert_eq!(found[3].1, hot);
    }
}

/// Old gaps used to be shown as those of now, and a later sheet took the place of an earlier one.
#[test]
fn after_work_the_sheet_asks_for_readings_and_has_another_name() {
    let before = Visit::to("heron");
    let earlier = sheet_of(&before.machine, &before.settings, Numbers::default());
    let measured = before.machine.history.last_measured().unwrap().id.clone();
    let mut visit = before.shims(LineId::S, &[500], &[]);
    visit.next.readings.clear();
    let Visit { machine, settings, .. } = visit.then();
    let newest = &machine.history.last().unwrap().id;
    let sheet = sheet_of(&machine, &settings, Numbers::default());
    assert_eq!(earlier.file, format!("heron-{measured}.pdf"));
    assert_eq!(sheet.file, format!("heron-{newest}.pdf"));
    assert!(!earlier.origin.contains(" and "), "{}", earlier.origin);
    let both = format!("sessions/{measured}.ron and {newest}.ron");
    assert!(sheet.origin.contains(&both), "{}", sheet.origin);
    let of_s = sheet.mouth.stations.iter().filter(|it| it.name.starts_with('S'));
    assert!(of_s.clone().count() == 4 && of_s.clone().all(|it| !it.heavy), "no trouble of now");
    let job = sheet.jobs.iter().find(|it| it.brief.line == LineId::S).unwrap();
    let alone = sheet::Sheet { jobs: vec![job.clone()], ..sheet.clone() };
    let pages = report::pages(&alone, Paper::A4).unwrap();
    assert_eq!(rows(&pages, "Gap now"), []);
    let gaps: Vec<String> = job.stations.iter().map(|it| it.now.clone()).collect();
    assert_eq!(rows(&pages, "Gap before the work")[0].1, gaps);
    assert_eq!(rows(&pages, "Measured")[0].1, vec!["________"; gaps.len()]);
}

/// What moves a gap is measured afterwards, a fresh edge too.
#[test]
fn paper_leaves_room_for_readings_where_a_job_moves_the_gap() {
    let mut kinds = BTreeSet::new();
    for name in ["heron", "wren", "dunlin"] {
        let Visit { machine, settings, .. } = Visit::to(name);
        let decision = decide(&machine, &settings);
        for (job, line) in
            sheet_of(&machine, &settings, Numbers::default()).jobs.iter().zip(&decision.lines)
        {
            let (kind, moves) = match line.job {
                Job::ChangePack { .. } => ("change", true),
                Job::StepPack { .. } => ("step", true),
                Job::Turn { .. } => ("turn", true),
                Job::Fit { .. } => ("fit", true),
                Job::Measure => ("measure", true),
                _ => ("other", false),
            };
            assert_eq!(job.measures, moves, "{name} {kind}");
            kinds.insert(kind);
        }
    }
    assert!(4 <= kinds.len(), "{kinds:?}");
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
