//! What the program speaks: the English that stands in the code, or a catalogue's words for it.
//!
//! A sentence is looked up by its English, so the code stays readable and a sentence without a
//! translation is still a sentence. `tests/it/language.rs` holds every catalogue to the code.
//! Knows nothing of what sentences are about, and no files, windows or settings.
//!
//! Each thread speaks one language: one that is set to work for a reader is [`carried`] into the
//! reader's, and everything else (files, `--json`) stays English.

mod catalogue;
mod fill;
mod macros;
mod understood;

use std::cell::Cell;

pub use fill::fill;
pub(crate) use macros::{sentence, tell};
pub use understood::understood;

/// A language that all sentences exist in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Language {
    /// As in the code.
    #[default]
    English,
    /// Deutsch.
    German,
}

impl Language {
    /// All there are.
    pub const ALL: [Self; 2] = [Self::English, Self::German];

    /// Its two letters in ISO 639.
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
        }
    }

    /// What those who speak it call it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::German => "Deutsch",
        }
    }

    /// The language of a locale such as `de_AT.UTF-8` or `en-GB`; none for one not spoken here.
    pub fn of_locale(locale: &str) -> Option<Self> {
        let code = locale.split(['_', '-', '.', '@']).next()?;
        Self::ALL.into_iter().find(|it| it.code().eq_ignore_ascii_case(code))
    }

    /// What stands between a number's whole part and its decimals.
    pub const fn decimal_mark(self) -> char {
        match self {
            Self::English => '.',
            Self::German => ',',
        }
    }

    /// The names of days and months.
    const fn calendar(self) -> chrono::Locale {
        match self {
            Self::English => chrono::Locale::en_GB,
            Self::German => chrono::Locale::de_DE,
        }
    }
}

thread_local! {
    static SPOKEN: Cell<Language> = const { Cell::new(Language::English) };
}

/// What this thread speaks.
pub fn spoken() -> Language {
    SPOKEN.get()
}

/// From here on this thread speaks `language`.
pub fn speak(language: Language) {
    SPOKEN.set(language);
}

/// The work for another thread, which is to speak what this one does.
pub fn carried<T>(work: impl FnOnce() -> T) -> impl FnOnce() -> T {
    let language = spoken();
    move || {
        speak(language);
        work()
    }
}

/// The words for an English sentence of the code, which may have `{places}` to fill.
pub fn told(english: &'static str) -> &'static str {
    translated(english).unwrap_or(english)
}

/// The words for text that comes from a file: translated if it is ours, as it stands if it is not.
pub fn known(text: &str) -> &str {
    translated(text).unwrap_or(text)
}

/// What the spoken language has for `english`; none in English, or if nobody has translated it.
pub fn translated(english: &str) -> Option<&'static str> {
    catalogue::of(spoken())?.get(english).map(String::as_str)
}

/// The text of a point in time by a pattern such as `%-d %b %Y`, which is translated as well.
pub fn date<Tz>(at: &chrono::DateTime<Tz>, pattern: &'static str) -> String
where
    Tz: chrono::TimeZone,
    Tz::Offset: std::fmt::Display,
{
    at.format_localized(told(pattern), spoken().calendar()).to_string()
}

/// A catalogue as its file holds it, English beside the other, in order.
///
/// # Errors
///
/// Which file cannot be read, and where.
pub fn pairs(language: Language) -> Result<Vec<(String, String)>, String> {
    match language {
        Language::English => Ok(Vec::new()),
        Language::German => catalogue::pairs(catalogue::GERMAN),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_locale_names_a_language_or_none() {
        assert_eq!(Language::of_locale("de_AT.UTF-8"), Some(Language::German));
        assert_eq!(Language::of_locale("en-GB"), Some(Language::English));
        assert_eq!(Language::of_locale("C"), None);
        assert_eq!(Language::of_locale(""), None);
    }

    #[test]
    fn a_thread_speaks_what_the_one_did_that_set_it_to_work() {
        speak(Language::German);
        let told = || tell!("look again in {hours}", hours = "8 h");
        let german = told();
        assert_ne!(german, "look again in 8 h");
        assert_eq!(std::thread::spawn(told).join().unwrap(), "look again in 8 h");
        assert_eq!(std::thread::spawn(carried(told)).join().unwrap(), german);
        assert_eq!(known("typed by somebody"), "typed by somebody");
    }
}
