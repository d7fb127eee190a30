//! The architecture, as tests: which room may name which, and what every file must say.
//!
//! It is a scan of text and believes what it reads: a macro or a re-export can fool it, and a
//! person who reviews must see those. It knows nothing about gaps. Long because the table of rooms
//! and the scanner that holds them to it belong together.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::{Path, PathBuf},
};

/// What a room may name.
struct Room {
    name: &'static str,
    rooms: &'static [&'static str],
    /// Dependencies outside tests; what only tests may use is the manifest's business.
    crates: &'static [&'static str],
}

/// A file that belongs to no room (`main`, `lib`) may name any.
const ROOMS: &[Room] = &[
    Room {
        name: "domain",
        rooms: &["domain"],
        crates: &["chrono", "nalgebra", "puruspe", "thiserror"],
    },
    Room { name: "workbench", rooms: &["domain", "workbench"], crates: &["chrono"] },
    Room { name: "language", rooms: &["language"], crates: &["chrono", "ron"] },
    Room { name: "brief", rooms: &["brief", "domain", "language"], crates: &["chrono"] },
    Room {
        name: "store",
        rooms: &["domain", "store"],
        crates: &["chrono", "crc32fast", "ron", "serde", "tempfile", "thiserror"],
    },
    Room {
        name: "exchange",
        rooms: &["domain", "exchange"],
        crates: &["chrono", "csv", "parquet", "thiserror"],
    },
    Room {
        name: "report",
        rooms: &["brief", "language", "report"],
        crates: &["krilla", "skrifa", "thiserror"],
    },
    Room {
        name: "sample",
        rooms: &["domain", "sample"],
        crates: &["chrono", "include_dir", "rand", "rand_pcg"],
    },
    Room {
        name: "cli",
        rooms: &[
            "brief",
            "cli",
            "domain",
            "exchange",
            "language",
            "report",
            "sample",
            "store",
            "workbench",
        ],
        crates: &["anyhow", "chrono", "clap", "directories", "serde_json", "thiserror"],
    },
    Room {
        name: "gui",
        rooms: &[
            "brief",
            "domain",
            "exchange",
            "gui",
            "language",
            "report",
            "sample",
            "store",
            "workbench",
        ],
        crates: &[
            "chrono",
            "eframe",
            "egui",
            "egui_plot",
            "opener",
            "png",
            "rfd",
            "sys_locale",
            "thiserror",
        ],
    },
];

/// Inside `domain` each folder may name itself and what stands before it.
const DOMAIN_ORDER: &str =
    "statistics quantity machine gauge log yard verdict trend heat shims bolts decide setup";

/// What the pure rooms do not know of the standard library; time comes in as an argument.
const NOT_IN_PURE_ROOMS: &[&str] = &["env", "fs", "io", "net", "process", "thread", "time"];

/// Rooms that touch nothing outside themselves.
const PURE_ROOMS: &[&str] = &["domain", "workbench", "brief", "report"];

/// The top level is read before anything else, so nothing may pile up there. Dotfiles are apart.
const TOP_LEVEL: &[&str] = &[
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "assets",
    "sample-sessions",
    "src",
    "tests",
];

/// Longer files are read in more than one sitting, so the header says why they are one file.
const LINES_IN_ONE_SITTING: usize = 450;

#[test]
fn arrows_between_rooms_point_one_way() {
    for source in sources() {
        let Some(room) = room_of(&source) else { continue };
        for path in source.paths("crate::") {
            assert!(
                path.first().is_some_and(|named| room.rooms.contains(&named.as_str())),
                "{}: `{}` may not name crate::{}",
                source.name,
                room.name,
                path.join("::")
            );
        }
    }
}

#[test]
fn inside_the_domain_arrows_run_down_the_list() {
    for source in sources() {
        let Some(("domain", own)) = source.place() else { continue };
        let known = |name: &str| DOMAIN_ORDER.split(' ').position(|folder| folder == name);
        let here = known(own).unwrap_or_else(|| panic!("{}: give it a place", source.name));
        for (_, named) in
            source.paths("crate::").iter().filter_map(|path| path.first().zip(path.get(1)))
        {
            assert!(
                known(named).is_some_and(|there| there <= here),
                "{}: `{own}` stands before `{named}` and may not name it",
                source.name
            );
        }
    }
}

#[test]
fn outside_crates_stay_in_their_rooms() {
    let crates = dependencies();
    for source in sources() {
        let Some(room) = room_of(&source) else { continue };
        let named = source.crates_named(&crates);
        for outside in named {
            assert!(
                room.crates.contains(&outside.as_str()),
                "{}: `{}` may not use the crate {outside}",
                source.name,
                room.name
            );
        }
    }
}

#[test]
fn no_dependency_is_idle() {
    let crates = dependencies();
    let named: BTreeSet<String> =
        sources().iter().flat_map(|source| source.crates_named(&crates)).collect();
    let idle: Vec<&String> = crates.difference(&named).collect();
    assert!(idle.is_empty(), "built by everybody and used by nobody: {idle:?}");
}

#[test]
fn pure_rooms_do_not_touch_the_world() {
    for source in sources() {
        let Some(room) = room_of(&source) else { continue };
        if !PURE_ROOMS.contains(&room.name) {
            continue;
        }
        for path in source.paths("std::") {
            let touches =
                path.first().is_some_and(|named| NOT_IN_PURE_ROOMS.contains(&named.as_str()));
            assert!(!touches, "{}: std::{}", source.name, path.join("::"));
        }
        let reads_clock =
            source.code().find(|line| line.contains("Utc::now") || line.contains("Local::now"));
        assert_eq!(reads_clock, None, "{}: take the time as an argument", source.name);
    }
}

#[test]
fn folders_of_a_room_do_not_name_each_other_in_a_circle() {
    for room in ROOMS {
        let mut arrows: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for source in sources() {
            let Some((first, own)) = source.place().filter(|place| place.0 == room.name) else {
                continue;
            };
            let named =
                source.paths("crate::").into_iter().filter_map(|path| match path.as_slice() {
                    [there, named, ..] if there == first && named != own => Some(named.clone()),
                    _ => None,
                });
            arrows.entry(own.to_owned()).or_default().extend(named);
        }
        // Whoever names nobody that is left stands at the bottom; take it away until none does.
        loop {
            let left: BTreeSet<String> = arrows.keys().cloned().collect();
            arrows.retain(|_, named| named.iter().any(|name| left.contains(name)));
            if arrows.len() == left.len() {
                break;
            }
        }
        assert!(arrows.is_empty(), "`{}` runs in a circle: {arrows:#?}", room.name);
    }
}

#[test]
fn every_file_opens_with_what_it_knows() {
    for source in sources().into_iter().chain(tests()) {
        assert!(source.text.starts_with("//!"), "{}: no `//!` header", source.name);
    }
}

#[test]
fn a_long_file_explains_itself() {
    for source in sources().into_iter().chain(tests()) {
        let mut header = source.text.lines().take_while(|line| line.starts_with("//!"));
        let explains = header.any(|line| line.contains("Long because"));
        let lines = source.text.lines().count();
        assert!(
            lines <= LINES_IN_ONE_SITTING || explains,
            "{}: {lines} lines; split it, or say in the header `Long because …`",
            source.name
        );
    }
}

#[test]
fn paths_are_written_from_the_crate() {
    for source in sources().into_iter().chain(tests()) {
        for line in source.code() {
            let climbs = line.contains(concat!("super", "::"));
            assert!(
                !climbs || line.trim() == concat!("use super", "::*;"),
                "{}: write `crate::…`, so that arrows can be read\n{line}",
                source.name
            );
        }
    }
}

#[test]
fn tests_assert_and_code_is_finished() {
    let unfinished = ["#[ig\u{6e}ore", "#[should_p\u{61}nic", "tod\u{6f}!", "unimplement\u{65}d!"];
    for source in sources().into_iter().chain(tests()) {
        for line in source.code() {
            for word in unfinished {
                assert!(!line.contains(word), "{}: {word}\n{line}", source.name);
            }
        }
    }
}

#[test]
fn only_the_theme_mixes_colours() {
    for source in sources() {
        for line in source.code().filter(|_| !source.name.starts_with("gui/theme")) {
            let mixes = line.contains("Color32::from_") || line.contains("hex_color!");
            assert!(!mixes, "{}: name the colour in gui::theme\n{line}", source.name);
        }
    }
}

#[test]
fn the_top_level_holds_what_it_must_and_no_more() {
    let found: Vec<String> = fs::read_dir(top())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| !name.starts_with('.') && name != "target")
        .collect();
    for name in &found {
        assert!(TOP_LEVEL.contains(&name.as_str()), "{name}: has no place at the top level");
    }
}

#[test]
fn words_speak_of_the_program_and_not_of_one_machine() {
    // Folders of somebody's computer, and where a sentence was taken from. Split, so that this
    // file does not hold what it forbids.
    let words = [
        concat!("/ho", "me/"),
        concat!("/wo", "rk/"),
        concat!("sha", "red/"),
        concat!("trans", "cript"),
    ];
    for (name, text) in texts() {
        for (number, line) in text.lines().enumerate() {
            let low = line.to_lowercase();
            for word in words {
                assert!(!low.contains(word), "{name}:{}: {word}\n{line}", number + 1);
            }
        }
    }
}

/// A file of Rust with its name from the folder it was looked for in, such as `gui/app.rs`.
struct Source {
    name: String,
    text: String,
}

impl Source {
    /// The room and the folder or file in it. A front door (`mod.rs`) stands in the room itself.
    fn place(&self) -> Option<(&str, &str)> {
        let (room, inside) = self.name.split_once('/')?;
        let own = inside.split('/').next()?.trim_end_matches(".rs");
        (own != "mod").then_some((room, own))
    }

    /// Lines without comments that fill a line. A comment behind code is taken for code.
    fn code(&self) -> impl Iterator<Item = &str> {
        self.text.lines().filter(|line| !line.trim_start().starts_with("//"))
    }

    /// Every path that starts at `root`, such as `crate::`, with grouped imports spelled out.
    fn paths(&self, root: &str) -> Vec<Vec<String>> {
        let code: Vec<&str> = self.code().collect();
        let code = code.join("\n");
        code.split(root).skip(1).flat_map(|tail| spelled_out(tail).0).collect()
    }

    /// Which of `crates` the part before the tests names.
    fn crates_named(&self, crates: &BTreeSet<String>) -> BTreeSet<String> {
        let mut named = BTreeSet::new();
        for line in self.code() {
            if matches!(line.trim(), "#[cfg(test)]" | "#[test]") {
                break;
            }
            for outside in crates {
                for (at, _) in line.match_indices(outside.as_str()) {
                    let (before, after) = (&line[..at], &line[at + outside.len()..]);
                    let starts =
                        !before.ends_with(|c: char| c == ':' || c == '_' || c.is_alphanumeric());
                    let leads = after.starts_with("::")
                        || (before.trim_end().ends_with("use") && after.starts_with([';', ' ']));
                    if starts && leads {
                        named.insert(outside.clone());
                    }
                }
            }
        }
        named
    }
}

/// The paths at the start of `text` and what follows them: `a::{b, c::d} …` is `a::b` and
/// `a::c::d`. What is not a name, such as `*`, is left out.
fn spelled_out(text: &str) -> (Vec<Vec<String>>, &str) {
    let text = text.trim_start();
    if let Some(mut rest) = text.strip_prefix('{') {
        let mut paths = Vec::new();
        loop {
            rest = rest.trim_start();
            if let Some(after) = rest.strip_prefix('}') {
                return (paths, after);
            }
            if rest.is_empty() {
                return (paths, rest);
            }
            let (more, after) = spelled_out(rest);
            paths.extend(more);
            // Past `as name`, `*` and the comma.
            rest = after.trim_start_matches(|c| c != ',' && c != '}').trim_start_matches(',');
        }
    }
    let end = text.find(|c: char| c != '_' && !c.is_alphanumeric()).unwrap_or(text.len());
    let (name, rest) = text.split_at(end);
    if name.is_empty() {
        return (vec![Vec::new()], rest);
    }
    let (tails, rest) = match rest.strip_prefix("::") {
        Some(more) => spelled_out(more),
        None => (vec![Vec::new()], rest),
    };
    let with_name = |mut tail: Vec<String>| {
        tail.insert(0, name.to_owned());
        tail
    };
    (tails.into_iter().map(with_name).collect(), rest)
}

#[test]
fn grouped_imports_are_spelled_out() {
    let spell = |text: &str| -> Vec<String> {
        spelled_out(text).0.iter().map(|path| path.join("::")).collect()
    };
    assert_eq!(spell("domain::log::Session;"), ["domain::log::Session"]);
    assert_eq!(spell("gui::*;"), ["gui"]);
    assert_eq!(
        spell("{\n brief::{self, list as table},\n domain::{gauge::{Leaf}, log}, };"),
        ["brief::self", "brief::list", "domain::gauge::Leaf", "domain::log"]
    );
}

fn top() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn room_of(source: &Source) -> Option<&'static Room> {
    let (first, _) = source.name.split_once('/')?;
    ROOMS.iter().find(|room| room.name == first)
}

fn sources() -> Vec<Source> {
    rust_under("src")
}

fn tests() -> Vec<Source> {
    rust_under("tests")
}

fn rust_under(folder: &str) -> Vec<Source> {
    let from = top().join(folder);
    let files = files_under(&from);
    let rust = files.iter().filter(|path| path.extension().is_some_and(|end| end == "rs"));
    rust.map(|path| Source {
        name: path.strip_prefix(&from).unwrap().to_str().unwrap().to_owned(),
        text: fs::read_to_string(path).unwrap(),
    })
    .collect()
}

/// Everything a person may read here, with its name from the top level.
fn texts() -> Vec<(String, String)> {
    let mut files: Vec<PathBuf> = fs::read_dir(top())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_file() && !path.ends_with(".git"))
        .collect();
    for folder in [".ci", "assets", "sample-sessions", "src", "tests"] {
        files.extend(files_under(&top().join(folder)));
    }
    let text = |path: PathBuf| {
        let name = path.strip_prefix(top()).unwrap().to_str().unwrap().to_owned();
        // What is not UTF-8 is a picture or a font.
        Some((name, fs::read_to_string(path).ok()?))
    };
    files.into_iter().filter_map(text).collect()
}

fn files_under(folder: &Path) -> Vec<PathBuf> {
    let (mut files, mut pending) = (Vec::new(), vec![folder.to_owned()]);
    while let Some(next) = pending.pop() {
        let Ok(entries) = fs::read_dir(&next) else { continue };
        for entry in entries {
            let path = entry.unwrap().path();
            if path.is_dir() {
                pending.push(path);
            } else {
                files.push(path);
            }
        }
    }
    files.sort();
    files
}

/// The names under `[dependencies]`, as code spells them.
fn dependencies() -> BTreeSet<String> {
    let manifest = fs::read_to_string(top().join("Cargo.toml")).unwrap();
    manifest
        .lines()
        .skip_while(|line| *line != "[dependencies]")
        .skip(1)
        .take_while(|line| !line.starts_with('['))
        .filter_map(|line| Some(line.split_once('=')?.0.trim().replace('-', "_")))
        .collect()
}
