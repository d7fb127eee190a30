//! Why shims cannot do it, as a sentence with its numbers.

use crate::{
    brief::{Numbers, words},
    domain::{
        machine::{LineId, PackRules, Shear},
        quantity::Length,
        shims::Shortfall,
    },
};

/// A sentence with the value it rests on and the limit it is held against.
pub(crate) struct Sentence {
    pub(crate) text: String,
    pub(crate) value: Option<Length>,
    pub(crate) limit: Option<Length>,
}

/// Tells why no pack behind a blade, called so, will do under its rules.
pub(crate) fn tell(
    why: Shortfall,
    blade: &str,
    rules: Option<PackRules>,
    apart: Option<(String, String)>,
    n: Numbers,
) -> Sentence {
    let most = rules.map_or_else(String::new, |rules| {
        format!(", with at most {} shims in the pack", rules.most_shims)
    });
    let (text, value, limit) = match why {
        Shortfall::Tapered { by, .. } => {
            let by_text = n.estimate(by.mm());
            (
                match apart {
                    Some((wide, tight)) => format!(
                        "No one pack behind the {blade} brings {wide} and {tight} both into range: \
                         they differ by **{by_text}**, the blade is tapered."
                    ),
                    None => format!(
                        "No one pack behind the {blade} brings every station into the set range: \
                         they differ by **{by_text}**."
                    ),
                },
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
        Shortfall::PackEmpty => (
            format!("The log knows of no full-length shim behind the {blade} to take out."),
            None,
            None,
        ),
        Shortfall::ShelfCannot { wanted, least, most: widest, below, above } => {
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
            (format!("{text}{}", nearest((least, widest), (below, above), n)), Some(wanted), None)
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

/// How one shelf serves this line beside others that want the same shims.
pub(crate) fn shared_shelf(
    shear: &Shear,
    with: &[LineId],
    (served, proven): (bool, bool),
) -> String {
    let names: Vec<String> =
        with.iter().filter_map(|id| shear.line(*id)).map(words::line).collect();
    let others = names.join(" and ");
    match (served, proven) {
        (true, true) => format!(
            "One shelf serves {others} as well, and all are planned together: no other choice of \
             shims brings the worst gap closer to its target, or does so with fewer shims."
        ),
        (true, false) => format!(
            "One shelf serves {others} as well, and all are planned together; not every other \
             choice of shims was tried, so there may be a better one."
        ),
        (false, true) => format!(
            "The shelf has not enough for this line beside {others}: every choice was tried. What \
             is said here counts on what they leave."
        ),
        (false, false) => format!(
            "No way was found to serve this line from one shelf beside {others}; not every choice \
             could be tried. What is said here counts on what they leave."
        ),
    }
}

/// What shelf and pack come nearest to, on either side of what would do.
fn nearest(
    (least, most): (Length, Length),
    (below, above): (Option<Length>, Option<Length>),
    n: Numbers,
) -> String {
    let change = |length: Length| {
        let sign = if length < Length::ZERO { "" } else { "+" };
        format!("{sign}{}", n.estimate(length.mm()))
    };
    let wanted = format!("{} to {}", change(least), change(most));
    let made: Vec<String> = below.into_iter().chain(above).map(change).collect();
    if made.is_empty() {
        return String::new();
    }
    format!(" They make {} and nothing between; {wanted} would do.", made.join(" or "))
}
