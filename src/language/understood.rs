//! Recognises English sentences of rooms that speak to nobody, and says them again.
//!
//! Those rooms know facts and name them in English, which scripts and logs read as well. A sentence
//! is recognised by what stands between the places of a template of the catalogue.

use crate::language::{catalogue, fill, spoken, translated};
use std::fmt::Display;

/// The sentence in the language that is spoken; as it stands if no template fits.
///
/// Of the templates that fit, the one with the most letters of its own counts. What stands in its
/// places is said again in the same way.
pub fn understood(sentence: &str) -> String {
    if let Some(whole) = translated(sentence) {
        return whole.to_owned();
    }
    let fitting = catalogue::faults(spoken()).iter().filter_map(|(english, other)| {
        let template = Template::of(english);
        Some((template.letters(), template.places(sentence)?, other))
    });
    let Some((_, places, other)) = fitting.max_by_key(|(own, _, _)| *own) else {
        return sentence.to_owned();
    };
    let places: Vec<(&str, String)> =
        places.into_iter().map(|(name, text)| (name, understood(text))).collect();
    let values: Vec<(&str, &dyn Display)> =
        places.iter().map(|(name, text)| (*name, text as &dyn Display)).collect();
    fill(other, &values)
}

/// The text before the first place, and each place's name with the text behind it.
struct Template<'a> {
    before: &'a str,
    places: Vec<(&'a str, &'a str)>,
}

impl<'a> Template<'a> {
    fn of(text: &'a str) -> Self {
        let mut pieces = text.split('{');
        let before = pieces.next().unwrap_or_default();
        Self { before, places: pieces.filter_map(|piece| piece.split_once('}')).collect() }
    }

    fn letters(&self) -> usize {
        let texts = std::iter::once(self.before).chain(self.places.iter().map(|(_, text)| *text));
        texts.flat_map(str::chars).filter(|it| it.is_alphabetic()).count()
    }

    /// What stands in the places, none of them empty, if all of the sentence fits.
    fn places<'b>(&self, sentence: &'b str) -> Option<Vec<(&'a str, &'b str)>> {
        let mut rest = sentence.strip_prefix(self.before)?;
        let mut found = Vec::new();
        for (index, (name, behind)) in self.places.iter().enumerate() {
            let last = index + 1 == self.places.len();
            let (text, after) = if last {
                (rest.strip_suffix(behind)?, "")
            } else {
                rest.split_once(behind).filter(|_| !behind.is_empty())?
            };
            found.push((*name, text));
            rest = after;
        }
        (!found.is_empty() && found.iter().all(|(_, text)| !text.is_empty())).then_some(found)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::{Language, speak};

    #[test]
    fn a_fault_is_said_again_and_what_somebody_typed_stays() {
        speak(Language::German);
        assert_eq!(understood("“go_mm” is “x”"), "„go_mm“ ist „x“");
        assert_eq!(understood(", line 2, column 6"), ", Zeile 2, Spalte 6");
        for typed in ["2 of 3", "Blade to the left", "x"] {
            assert_eq!(understood(typed), typed);
        }
    }

    #[test]
    fn a_sentence_is_taken_apart_at_the_words_of_its_template() {
        let template = Template::of("line {line} names the blade “{blade}”, which is not there");
        assert_eq!(
            template.places("line S names the blade “front”, which is not there"),
            Some(vec![("line", "S"), ("blade", "front")])
        );
        assert_eq!(template.places("line S names the blade “front”"), None);
        assert_eq!(Template::of("no places").places("no places"), None);
    }
}
