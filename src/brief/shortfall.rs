//! Why shims cannot do it, as a sentence with its numbers.

use crate::{
    brief::Numbers,
    domain::{machine::PackRules, quantity::Length, shims::Shortfall},
};

/// A sentence with the value it rests on and the limit it is held against.
pub(crate) struct Sentence {
    pub(crate) text: String,
    pub(crate) value: Option<Length>,
    pub(crate) limit: Option<Length>,
}

/// Tells why no pack behind a blade, called so, will do under its rules.
pub(crate) fn tell(why: Shortfall, blade: &str, rules: Option<PackRules>, n: Numbers) -> Sentence {
    let most = rules.map_or_else(String::new, |rules| {
        format!(", with at most {} shims in the pack", rules.most_shims)
    });
    let (text, value, limit) = match why {
        Shortfall::Tapered { by } => {
            let by_text = n.estimate(by.mm());
            (
                format!(
                    "No pack behind the {blade} brings every station into the set range: \
                         they differ by **{by_text}**."
                ),
                Some(by),
                None,
            )
        }
        Shortfall::PackFull { needed, allowed } => {
            let (needed_text, allowed_text) = (n.estimate(needed.mm()), n.length(allowed));
            (
                format!(
                    "It would take a pack of **{needed_text}** behind the {blade}, \
                         **{allowed_text}** is allowed."
                ),
                Some(needed),
                Some(allowed),
            )
        }
        Shortfall::PackEmpty => {
            (format!("The log knows of no shim behind the {blade} to take out."), None, None)
        }
        Shortfall::ShelfCannot { wanted } => {
            let wanted_text = n.estimate(wanted.abs().mm());
            let text = if wanted < Length::ZERO {
                format!(
                    "Pack and shelf have no shims that make the pack behind the {blade} \
                         thinner by about **{wanted_text}**."
                )
            } else {
                format!(
                    "The shelf has no shims that make about **{wanted_text}** more behind the \
                         {blade}{most}."
                )
            };
            (text, Some(wanted), None)
        }
        Shortfall::HotAboveSet { needed, allowed } => {
            let text = format!(
                "Not to touch when hot, the gap would have to be **{}** at 20 °C; the set \
                     range ends at **{}**.",
                n.estimate(needed.mm()),
                n.length(allowed)
            );
            (text, Some(needed), Some(allowed))
        }
        Shortfall::NothingToGoBy => {
            (format!("No station in front of the {blade} was measured."), None, None)
        }
    };
    Sentence { text, value, limit }
}
