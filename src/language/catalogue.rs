//! The catalogues: lists of an English sentence and its translation, built into the program.

use crate::language::Language;
use std::{collections::HashMap, sync::OnceLock};

/// A catalogue's files: name and text. A sentence stands in one of them only.
pub(super) type Files = &'static [(&'static str, &'static str)];

macro_rules! files {
    ($($name:literal),+ $(,)?) => {
        &[$(($name, include_str!(concat!("../../assets/words/de/", $name)))),+]
    };
}

/// What is recognised and not looked up.
const FAULTS_FILE: &str = "faults.ron";

pub(super) const GERMAN: Files = files![
    "causes.ron",
    "common.ron",
    "decide.ron",
    "faults.ron",
    "heat.ron",
    "lessons.ron",
    "measure.ron",
    "setup.ron",
    "trend.ron",
    "window.ron",
];

/// What a language has by English; none for English itself. A file that cannot be read is left
/// out, which a test would see.
pub(super) fn of(language: Language) -> Option<&'static HashMap<String, String>> {
    static WORDS: OnceLock<HashMap<String, String>> = OnceLock::new();
    match language {
        Language::English => None,
        Language::German => {
            let read = || GERMAN.iter().filter_map(|file| one(file).ok()).flatten().collect();
            Some(WORDS.get_or_init(read))
        }
    }
}

/// The templates among the sentences of rooms that speak to nobody, in the same way.
pub(super) fn faults(language: Language) -> &'static [(String, String)] {
    static FAULTS: OnceLock<Vec<(String, String)>> = OnceLock::new();
    let read = || {
        let files = GERMAN.iter().filter(|(name, _)| *name == FAULTS_FILE);
        let pairs = files.filter_map(|file| one(file).ok()).flatten();
        pairs.filter(|(english, _)| english.contains('{')).collect()
    };
    match language {
        Language::English => &[],
        Language::German => FAULTS.get_or_init(read),
    }
}

pub(super) fn pairs(files: Files) -> Result<Vec<(String, String)>, String> {
    files.iter().map(one).collect::<Result<Vec<_>, _>>().map(|files| files.concat())
}

fn one((name, text): &(&str, &str)) -> Result<Vec<(String, String)>, String> {
    ron::from_str(text).map_err(|err| format!("{name}: {err}"))
}
