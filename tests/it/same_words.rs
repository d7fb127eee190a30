//! Screen, paper and `decide --json` say the same of every sample machine, sentence by sentence.
//!
//! What other programs read is the list; each sentence of it is looked for in the window and on the
//! pages of the sheet, and so is each with one letter changed, which must be found nowhere.

use crate::{
    cli::{json, sample, told},
    desk::Desk,
    visit::Visit,
};
use egui::Theme;
use gapwright::{
    brief::{Numbers, sheet},
    domain::{
        decide::{decide, explain},
        gauge::Bracket,
        machine::ShearId,
        quantity::Length,
    },
    report::{self, Item, Paper},
    workbench::{Command, Screen},
};
use serde_json::Value;
use tempfile::TempDir;

const MACHINES: [&str; 3] = ["heron", "wren", "dunlin"];

/// What `decide --json` says about the lines of a machine.
fn lines_of(machine: &str) -> Vec<Value> {
    let (home, yard) = (TempDir::new().unwrap(), sample());
    let args = ["decide", yard.to_str().unwrap(), "--shear", machine, "--json"];
    let answer = json(&told(home.path(), &args));
    answer["shears"][0]["lines"].as_array().unwrap().clone()
}

fn texts(values: &Value) -> Vec<String> {
    let list = values.as_array().map_or(&[][..], Vec::as_slice);
    list.iter().map(|it| it.as_str().unwrap().to_owned()).collect()
}

/// Everything that is said in words about a line.
fn sentences(line: &Value) -> Vec<String> {
    let bolts = &line["bolts"];
    let single =
        [&line["headline"], &line["when"], &line["place"], &bolts["text"], &bolts["source"]];
    let single = single.into_iter().filter_map(|it| it.as_str().map(str::to_owned));
    let reasons = line["reasons"].as_array().unwrap().iter();
    let reasons = reasons.flat_map(|it| [&it["text"], &it["source"]]);
    let reasons = reasons.map(|it| it.as_str().unwrap().to_owned());
    let marks = line["marks"].as_array().unwrap().iter();
    let marks = marks.map(|it| it["text"].as_str().unwrap().to_owned());
    let cause = line["causes"].as_array().unwrap().iter().take(1).filter(|it| it["next"] != "");
    let cause = cause.map(|it| it["text"].as_str().unwrap().to_owned());
    let source = line["causes_source"].as_str().map(str::to_owned);
    let rest = marks.chain(cause).chain(source).chain(edges(line));
    let notes = texts(&line["notes"]).into_iter().chain(texts(&bolts["notes"]));
    single.chain(notes).chain(reasons).chain(rest).collect()
}

/// What each edge has behind it, where one is to be changed: elsewhere only the window has room.
fn edges(line: &Value) -> Vec<String> {
    let changes = ["rotate", "replace"].contains(&line["action"].as_str().unwrap());
    let blades = line["edges"].as_array().unwrap().iter().filter(|_| changes);
    let several = blades.filter(|it| 1 < it["edges"].as_array().unwrap().len());
    let edges = several.flat_map(|it| it["edges"].as_array().unwrap());
    edges.map(|it| it["text"].as_str().unwrap().to_owned()).collect()
}

/// The same with one letter changed.
fn altered(sentence: &str) -> String {
    let letters: Vec<char> = sentence.chars().collect();
    let letter = |place: &usize| letters[*place].is_alphabetic();
    let place = (letters.len() / 2..letters.len()).chain(0..letters.len()).find(letter).unwrap();
    let mut changed = letters;
    changed[place] = if changed[place] == 'x' { 'z' } else { 'x' };
    changed.into_iter().collect()
}

#[track_caller]
fn compare(machine: &str, line: &Value, says: impl Fn(&str) -> bool) {
    let said = sentences(line);
    assert!(5 <= said.len(), "{machine}: {said:?}");
    for sentence in said {
        let sentence = sentence.to_lowercase();
        assert!(says(&sentence), "{machine} {}: “{sentence}” is not there", line["line"]);
        let changed = altered(&sentence);
        assert!(!says(&changed), "{machine} {}: “{changed}” is there too", line["line"]);
    }
}

#[test]
fn the_window_says_what_other_programs_read() {
    let mut desk = Desk::open([1600.0, 1000.0], Theme::Light);
    for machine in MACHINES {
        desk.act(Command::ChooseMachine(ShearId::new(machine).unwrap()));
        desk.act(Command::Go(Screen::Decide));
        for line in lines_of(machine) {
            let lines = &desk.machine(machine).0.shear.lines;
            let id = lines.iter().find(|it| line["line"] == it.id.to_string()).unwrap().id;
            desk.act(Command::ChooseLine(id));
            let labels: Vec<String> = desk.said().iter().map(|it| it.to_lowercase()).collect();
            compare(machine, &line, |words| labels.iter().any(|label| label.contains(words)));
        }
    }
}

#[test]
fn the_sheet_says_what_other_programs_read() {
    for machine in MACHINES {
        let (n, visit) = (Numbers::default(), Visit::to(machine));
        let mut decision = decide(&visit.machine, &visit.settings);
        let look = visit.settings.intervals.look;
        explain(&mut decision, &visit.machine, look, &crate::causes::shipped());
        let told = sheet::tell(&visit.machine, &decision, &visit.settings, n, "Gapwright");
        let pages = report::pages(&told, Paper::A4).unwrap();
        let bare = |words: &str| -> String { words.split([' ', '\u{a0}']).collect() };
        let printed = pages.iter().flatten().filter_map(|item| match item {
            Item::Text { words, .. } => Some(words.as_str()),
            Item::Line { .. } | Item::Area { .. } => None,
        });
        let printed = bare(&printed.collect::<String>().to_lowercase());
        let lines = lines_of(machine);
        assert_eq!(lines.len(), told.jobs.len());
        for (line, job) in lines.iter().zip(&told.jobs) {
            compare(machine, line, |words| printed.contains(&bare(words)));
            let stations = line["stations"].as_array().unwrap();
            assert_eq!(stations.len(), job.stations.len());
            for (station, row) in stations.iter().zip(&job.stations) {
                let number = |key: &str| station[key].as_f64();
                assert_eq!(station["station"], row.name.as_str());
                assert_eq!(number("after_mm").map(|it| n.estimate(it)), row.after);
                assert_eq!(number("hot_gap_mm").map(|it| n.estimate(it)), row.hot);
                assert_eq!(number("hot_after_mm").map(|it| n.estimate(it)), row.hot_after);
                assert_eq!(station["stale"], row.moved);
                let length = |key: &str| number(key).and_then(Length::from_mm);
                let cold = Bracket::new(length("cold_go_mm").unwrap(), length("cold_no_go_mm"));
                assert_eq!(n.range(cold.unwrap()), row.now, "{machine} {}", row.name);
            }
        }
    }
}

/// Whoever wants to overrule advice must know what it rests on.
#[test]
fn every_reason_names_value_limit_row_and_rule() {
    let mut rest = 0;
    for machine in MACHINES {
        for line in lines_of(machine) {
            let reasons = line["reasons"].as_array().unwrap();
            assert!(!reasons.is_empty(), "{machine} {}", line["line"]);
            for reason in reasons {
                let [text, source] = ["text", "source"].map(|it| reason[it].as_str().unwrap());
                for key in ["value", "limit", "row", "rule"] {
                    let words = reason[key].as_str().unwrap();
                    let said = text.contains(words) || source.contains(words);
                    assert!(!words.is_empty() && said, "{machine}, {key}: {reason}");
                }
                if source.contains("Limits table") {
                    rest += 1;
                    let row = format!("row {} ", line["line"].as_str().unwrap());
                    assert!(source.contains(&row), "{machine}: {reason}");
                    let number = |key: &str| reason[key].is_f64();
                    assert!(number("value_mm") && number("limit_mm"), "{machine}: {reason}");
                }
            }
        }
    }
    assert!(10 < rest, "{rest}");
}
