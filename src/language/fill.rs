//! Puts values into the places of a translated sentence, in the order its grammar wants.

use std::fmt::{Display, Write as _};

/// The template with each `{name}` replaced by the value of that name.
///
/// A place that no value has stays as it is, so that a slip in a catalogue is seen and not hidden.
pub fn fill(template: &str, values: &[(&str, &dyn Display)]) -> String {
    let mut text = String::new();
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        text.push_str(before);
        let place = after.split_once('}');
        let value = place
            .and_then(|(name, rest)| Some((values.iter().find(|(its, _)| *its == name)?.1, rest)));
        rest = if let Some((value, rest)) = value {
            // A `String` takes whatever is written to it.
            write!(text, "{value}").ok();
            rest
        } else {
            text.push('{');
            after
        };
    }
    text + rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_go_where_the_sentence_wants_them() {
        let told = fill("{b} vor {a}, {b}!", &[("a", &1), ("b", &"zwei")]);
        assert_eq!(told, "zwei vor 1, zwei!");
        assert_eq!(fill("{c} {", &[("a", &1)]), "{c} {");
        assert_eq!(fill("{a}", &[("a", &"{a}")]), "{a}");
    }
}
