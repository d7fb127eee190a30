//! Every sentence has a translation, and none of it is lost on the way.
//!
//! The code is read by its tokens: what stands in `tell!` or `sentence!` is a sentence, and in the
//! rooms that speak to people no other text may look like one.

use crate::{desk::Desk, picture, sheet, visit::Visit};
use egui_kittest::{
    SnapshotResults,
    kittest::{NodeT as _, Queryable as _},
};
use gapwright::{
    brief::Numbers,
    domain::{
        machine::{LineId, ShearId},
        quantity::Length,
    },
    language::{self, Language},
    report::{self, Item, Paper},
    workbench::{Command, Screen, StudyStep},
};
use proc_macro2::{Delimiter, TokenStream, TokenTree};
use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::{Path, PathBuf},
    str::FromStr as _,
};

/// Rooms whose text is read by people; a command line and its tables are English.
const SPEAKING: [&str; 3] = ["brief", "gui", "report"];

/// A text of the code.
struct Text {
    file: PathBuf,
    words: String,
    /// Whether it stands in `tell!` or `sentence!`.
    told: bool,
}

#[test]
fn every_sentence_of_the_code_is_translated_once() {
    let told: BTreeSet<String> = texts()
        .into_iter()
        .filter(|it| it.told && !it.words.is_empty())
        .map(|it| it.words)
        .collect();
    assert!(100 < told.len(), "the code was read");
    let pairs = language::pairs(Language::German).unwrap();
    let mut known = BTreeSet::new();
    for (english, german) in &pairs {
        assert!(known.insert(english.clone()), "twice in the catalogue: {english:?}");
        assert_eq!(places(english), places(german), "other places: {english:?} {german:?}");
        assert_eq!(marks(english), marks(german), "other weight: {english:?} {german:?}");
        assert!(!german.trim().is_empty(), "{english:?} is left out");
    }
    let told: BTreeSet<String> = told.into_iter().chain(assets()).collect();
    let missing: Vec<&String> = told.difference(&known).collect();
    assert!(missing.is_empty(), "{} without a translation: {missing:#?}", missing.len());
    let from_files = of_files();
    let stale: Vec<&String> =
        known.difference(&told).filter(|it| !from_files.contains(*it)).collect();
    assert!(stale.is_empty(), "{} that nobody says: {stale:#?}", stale.len());
}

#[test]
fn no_sentence_is_told_past_the_catalogue() {
    let mut bare: BTreeMap<PathBuf, Vec<String>> = BTreeMap::new();
    for text in texts().into_iter().filter(|it| !it.told && looks_told(&it.words)) {
        bare.entry(text.file).or_default().push(text.words);
    }
    let count: usize = bare.values().map(Vec::len).sum();
    assert!(bare.is_empty(), "{count} that are told past the catalogue: {bare:#?}");
}

/// What rooms say that speak to nobody, and what files of the program say: known by its sentence.
fn of_files() -> BTreeSet<String> {
    let mut said = BTreeSet::new();
    for room in ["domain", "exchange", "report", "sample", "store", "workbench"] {
        for file in files(&Path::new("src").join(room), "rs") {
            let mut texts = Vec::new();
            let code = TokenStream::from_str(&fs::read_to_string(&file).unwrap()).unwrap();
            read_all(code, &mut texts);
            said.extend(texts.iter().map(|it| template(it)));
        }
    }
    said.extend(assets());
    said
}

/// The sentences of lessons and of the table of causes.
fn assets() -> Vec<String> {
    let mut texts = Vec::new();
    let mut all = files(Path::new("assets/lessons"), "ron");
    all.push(PathBuf::from("assets/causes.ron"));
    for file in all {
        let text = fs::read_to_string(&file).unwrap();
        let mut of_file = Vec::new();
        read_all(TokenStream::from_str(&text).unwrap(), &mut of_file);
        texts.extend(of_file.into_iter().filter(|it| looks_told(it)));
    }
    texts
}

/// Every text of a file, attributes too.
fn read_all(code: TokenStream, into: &mut Vec<String>) {
    for token in code {
        match token {
            TokenTree::Group(group) => read_all(group.stream(), into),
            TokenTree::Literal(literal) => {
                if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                    into.push(text.value());
                }
            }
            TokenTree::Ident(_) | TokenTree::Punct(_) => {}
        }
    }
}

/// A format as a template: each place has a name, and no width.
fn template(format: &str) -> String {
    let mut pieces = format.split('{');
    let mut made = pieces.next().unwrap_or_default().to_owned();
    let mut number = 0;
    for piece in pieces {
        let (name, rest) = piece.split_once('}').unwrap_or((piece, ""));
        let name = name.split(':').next().unwrap_or_default();
        if name.is_empty() {
            number += 1;
            made.extend(["{", &number.to_string(), "}", rest]);
        } else {
            made.extend(["{", name, "}", rest]);
        }
    }
    made
}

/// Text in the code of the rooms that speak, tests apart.
fn texts() -> Vec<Text> {
    let mut texts = Vec::new();
    for room in SPEAKING {
        for file in files(&Path::new("src").join(room), "rs") {
            let code = TokenStream::from_str(&fs::read_to_string(&file).unwrap()).unwrap();
            read(code, &file, "", &mut texts);
        }
    }
    texts
}

fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).unwrap().map(Result::unwrap) {
        let path = entry.path();
        if path.is_dir() {
            files.extend(self::files(&path, ending));
        } else if path.extension().is_some_and(|it| it == ending) && !path.ends_with("tests.rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}

/// Reads one level of tokens: attributes and their tests are left out, so is what only a developer
/// reads.
fn read(code: TokenStream, file: &Path, called_by: &str, into: &mut Vec<Text>) {
    let told = SENTENCES.contains(&called_by);
    // Of what fills a sentence, none is one; a table has many.
    let all = called_by == "table";
    let tokens: Vec<TokenTree> = code.into_iter().collect();
    let mut at = 0;
    let mut first = true;
    while let Some(token) = tokens.get(at) {
        let before = |back: usize| at.checked_sub(back).and_then(|it| tokens.get(it));
        match token {
            TokenTree::Group(group) => {
                let attribute = group.delimiter() == Delimiter::Bracket
                    && (is(before(1), "#") || (is(before(1), "!") && is(before(2), "#")));
                let called = if is(before(1), "!") { before(2) } else { before(1) };
                let called = called.map(ToString::to_string).unwrap_or_default();
                if attribute
                    && ["cfg (test)", "test"].contains(&group.stream().to_string().as_str())
                {
                    // What is marked so ends at its braces.
                    while !matches!(tokens.get(at), Some(TokenTree::Group(it)) if it.delimiter() == Delimiter::Brace)
                        && !is(tokens.get(at), ";")
                    {
                        at += 1;
                    }
                } else if !attribute {
                    let within = before(1).is_none() || is(before(1), ",");
                    let name = if within { called_by } else { called.as_str() };
                    read(group.stream(), file, name, into);
                }
            }
            TokenTree::Literal(literal) => {
                if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                    let told = told && (all || first);
                    first = false;
                    if told || !UNSAID.contains(&called_by) {
                        into.push(Text { file: file.to_owned(), words: text.value(), told });
                    }
                }
            }
            TokenTree::Ident(_) | TokenTree::Punct(_) => {}
        }
        at += 1;
    }
}

/// Macros whose texts are sentences; `table` makes the commands.
const SENTENCES: [&str; 3] = ["tell", "sentence", "table"];

/// Calls whose own text no reader sees: names of places on the screen, and what a developer reads.
const UNSAID: [&str; 17] = [
    "announce",
    "assert",
    "assert_eq",
    "child",
    "concat",
    "debug_struct",
    "env",
    "expect",
    "id_salt",
    "include_bytes",
    "include_str",
    "make_persistent_id",
    "panic",
    "say",
    "strip_prefix",
    "unique",
    "write",
];

fn is(token: Option<&TokenTree>, text: &str) -> bool {
    token.is_some_and(|it| it.to_string() == text)
}

/// Units and signs that are the same in every language.
const ALIKE: &[&str] = &["in", "mm", "kN", "MPa", "min", "kW", "Nm", "thou", "dpi", "mu"];

/// Whether a text has words that somebody reads: it begins with a capital, or words stand apart.
fn looks_told(text: &str) -> bool {
    let mut outside = String::new();
    let mut deep = 0;
    for letter in text.chars() {
        match letter {
            '{' => deep += 1,
            '}' => deep -= 1,
            _ if deep == 0 => outside.push(letter),
            _ => {}
        }
    }
    let words: Vec<&str> = outside
        .split(|it: char| !it.is_alphabetic())
        .filter(|it| it.chars().filter(|it| it.is_lowercase()).count() >= 2 && !ALIKE.contains(it))
        .collect();
    let apart = text.contains([' ', '\u{a0}']) || text.contains('{');
    let capital = outside.trim_start().starts_with(|it: char| it.is_uppercase());
    // The markup of a drawing, and a file's name.
    let file = [".csv", ".pdf", ".png", ".ron"].iter().any(|ending| text.ends_with(ending));
    let made = text.starts_with('<') || text.contains("=\"") || file;
    !words.is_empty() && (apart || capital) && !made
}

/// The names of the places, each as often as it stands there.
fn places(sentence: &str) -> Vec<String> {
    let mut names: Vec<String> = sentence
        .split('{')
        .skip(1)
        .filter_map(|it| Some(it.split_once('}')?.0.to_owned()))
        .collect();
    names.sort();
    names
}

fn marks(sentence: &str) -> usize {
    sentence.matches("**").count()
}

#[test]
fn german_numbers_and_days_are_german() {
    use gapwright::{
        brief::{Numbers, numbers},
        domain::quantity::{Hours, Length},
    };
    let n = Numbers::default();
    let at = chrono::DateTime::from_timestamp(1_762_267_200, 0).unwrap();
    let told = || {
        [
            n.length_unit(Length::from_um(550)),
            numbers::meter(Hours::from_h(4812.5).unwrap()),
            n.moment(at),
            n.day(at),
        ]
        .map(|it| it.replace('\u{a0}', " "))
    };
    assert_eq!(told(), ["0.55 mm", "4 812.5 h", "Tue 4 Nov, 14:40", "4 Nov 2025"]);
    language::speak(Language::German);
    let german = told();
    language::speak(Language::English);
    assert_eq!(german, ["0,55 mm", "4 812,5 h", "Di 4. Nov, 14:40", "4. Nov 2025"]);
}

/// Words that stand in nearly every English sentence of this trade and in no German one.
const ENGLISH: [&str; 44] = [
    "a", "all", "and", "are", "at", "back", "beyond", "blade", "blades", "bolt", "bolts", "by",
    "cut", "edge", "for", "from", "gap", "gaps", "growth", "hours", "is", "it", "limit", "look",
    "machine", "measure", "near", "next", "no", "not", "of", "on", "or", "out", "reading", "set",
    "shim", "the", "this", "tight", "to", "wide", "with", "working",
];

/// What is on the screens, as a screen reader hears it.
fn heard(desk: &Desk) -> BTreeSet<String> {
    let nodes = desk.window.root().children_recursive();
    nodes
        .flat_map(|node| {
            let node = node.accesskit_node();
            [node.label(), node.value()].into_iter().flatten().collect::<Vec<_>>()
        })
        .collect()
}

/// Walks the screens of each sample machine in German: nothing on them may be English but what the
/// yard's own files say.
#[test]
fn no_screen_is_half_english() {
    language::speak(Language::German);
    let mut desk = Desk::open([1600.0, 1000.0], egui::Theme::Light);
    let mut english: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (name, at) in screens() {
        for command in at {
            desk.act(command);
        }
        for text in heard(&desk) {
            if sounds_english(&text) {
                english.entry(name.to_owned()).or_default().insert(text);
            }
        }
    }
    // What opens by a tap: a machine's signature, what was really done, and two blades swapped.
    let mut look = |desk: &Desk, name: &str| {
        let texts = heard(desk).into_iter().filter(|it| sounds_english(it));
        english.entry(name.to_owned()).or_default().extend(texts);
    };
    desk.act(Command::ChooseMachine(ShearId::new("heron").unwrap()));
    desk.act(Command::Go(Screen::Decide));
    desk.act(Command::ChooseLine(LineId::S));
    desk.tap("Arbeit eintragen");
    look(&desk, "work");
    desk.tap("Noch nicht");
    desk.act(Command::ChooseLine(LineId::P));
    desk.window.get_by_label("Messer getauscht…").scroll_to_me();
    desk.window.run();
    desk.tap("Messer getauscht…");
    for blade in ["Unteres Primärmesser", "Oberes Primärmesser"] {
        desk.tap(blade);
    }
    desk.tap("Tausch eintragen");
    look(&desk, "swap");
    desk.act(Command::Go(Screen::Measure));
    desk.act(Command::PositionReached);
    for _ in 0..20 {
        desk.press(egui::Key::PageDown);
    }
    look(&desk, "signing");
    english.retain(|_, texts| !texts.is_empty());
    assert!(english.is_empty(), "{english:#?}");
}

/// The screens as a German reader sees them, and one of them in a small window.
#[test]
fn german_screens_look_as_accepted() {
    language::speak(Language::German);
    let mut results = SnapshotResults::new();
    for (size, theme) in
        [([1280.0, 800.0], egui::Theme::Light), ([1024.0, 768.0], egui::Theme::Dark)]
    {
        let mut desk = Desk::open(size, theme);
        let mut seen = BTreeSet::new();
        for (name, at) in screens() {
            for command in at {
                desk.act(command);
            }
            let [wide, _] = size;
            let name = format!("german-{name}-{wide}");
            // The Yard shows where it lies, which is never twice the same place.
            if !name.contains("yard") && seen.insert(name.clone()) {
                desk.window.snapshot_options(name, &picture::options());
            }
        }
        results.extend_harness(&mut desk.window);
    }
}

/// The sheet of each sample machine, without its numbers, dates and the yard's own words.
#[test]
fn a_german_sheet_is_german() {
    language::speak(Language::German);
    for name in ["heron", "wren", "dunlin"] {
        let Visit { machine, settings, .. } = Visit::to(name);
        let sheet = sheet::sheet_of(&machine, &settings, Numbers::default());
        let pages = report::pages(&sheet, Paper::A4).unwrap();
        let lines = pages.iter().flatten().filter_map(|item| match item {
            Item::Text { words, .. } => Some(words.as_str()),
            Item::Line { .. } | Item::Area { .. } => None,
        });
        let lines: Vec<&str> = lines.collect();
        assert!(lines.iter().any(|it| it.contains("Arbeitsblatt")));
        let english: Vec<&&str> = lines.iter().filter(|it| sounds_english(it)).collect();
        assert!(english.is_empty(), "{name}: {english:#?}");
    }
}

fn sounds_english(text: &str) -> bool {
    let own = OF_THE_YARD.iter().fold(text.to_owned(), |text, own| text.replace(own, ""));
    let mut words = own.split(|it: char| !it.is_alphanumeric());
    words.any(|word| ENGLISH.contains(&word.to_lowercase().as_str()))
}

/// What the sample yard's files say in English, as somebody typed it.
const OF_THE_YARD: [&str; 1] = ["carrier"];

fn screens() -> Vec<(&'static str, Vec<Command>)> {
    let on = |screen, rest: &[Command]| {
        let mut at = vec![Command::Go(screen)];
        at.extend(rest.iter().cloned());
        at
    };
    let mut screens = vec![
        ("yard", on(Screen::Yard, &[])),
        ("position", on(Screen::Measure, &[])),
        (
            "measure",
            on(
                Screen::Measure,
                &[Command::PositionReached, Command::TapLeaf(Length::from_um(300))],
            ),
        ),
        ("study", vec![Command::Study(StudyStep::Open)]),
        ("heat", on(Screen::Heat, &[])),
        ("setup", on(Screen::Setup, &[])),
    ];
    for line in [LineId::G, LineId::P, LineId::S, LineId::T] {
        screens.push(("decide", on(Screen::Decide, &[Command::ChooseLine(line)])));
        screens.push(("trend", on(Screen::Trend, &[Command::ChooseLine(line)])));
    }
    screens
}
