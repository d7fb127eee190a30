//! Why shims cannot do it, as a sentence with its numbers.

use crate::{
    brief::{Numbers, words},
    domain::{
        machine::{LineId, PackRules, Shear},
        quantity::Length,
        shims::Shortfall,
    },
    language::tell,
};

/// A sentence with the value it rests on and the limit it is held against, each as it is said.
pub(crate) struct Sentence {
    pub(crate) text: String,
    pub(crate) value: Said,
    pub(crate) limit: Said,
}

/// Words, and the length they stand for if it is one.
type Said = (String, Option<Length>);

/// Tells why no pack behind a blade, called so, will do under its rules.
pub(crate) fn tell(
    why: Shortfall,
    blade: &str,
    rules: Option<PackRules>,
    apart: Option<(String, String)>,
    n: Numbers,
) -> Sentence {
    let most = rules.map_or_else(String::new, |rules| {
        tell!(", with at most {most_shims} shims in the pack", most_shims = rules.most_shims)
    });
    match why {
        Shortfall::Tapered { by, .. } => tapered(by, blade, apart, n),
        Shortfall::PackFull { needed, allowed } => {
            let (value, limit) = (n.estimate(needed.mm()), n.length(allowed));
            let text = tell!(
                "It would take a pack of **{value}** behind the {blade}, **{limit}** is allowed.",
                value,
                blade,
                limit
            );
            Sentence { text, value: (value, Some(needed)), limit: (limit, Some(allowed)) }
        }
        Shortfall::PackEmpty => Sentence {
            text: tell!(
                "The log knows of no full-length shim behind the {blade} to take out.",
                blade
            ),
            value: (tell!("no full-length shim").to_owned(), None),
            limit: (tell!("at least 1").to_owned(), None),
        },
        Shortfall::ShelfCannot { wanted, least, most: widest, below, above } => {
            let value = n.estimate(wanted.abs().mm());
            let text = if wanted < Length::ZERO {
                tell!(
                    "Pack and shelf have no shims that make the pack behind the {blade} thinner by \
                     about **{value}**.",
                    blade,
                    value
                )
            } else {
                tell!(
                    "The shelf has no shims that make about **{value}** more behind the \
                     {blade}{most}.",
                    value,
                    blade,
                    most
                )
            };
            // The end of what would do that takes the smaller change.
            let end = if wanted < Length::ZERO { widest } else { least };
            let limit =
                tell!("{least} to {widest}", least = change(least, n), widest = change(widest, n));
            let text = format!("{text} {}", nearest(&limit, (below, above), n));
            Sentence { text, value: (value, Some(wanted)), limit: (limit, Some(end)) }
        }
        Shortfall::HotAboveSet { needed, allowed } => {
            let (value, limit) = (n.estimate(needed.mm()), n.length(allowed));
            let text = tell!(
                "Not to touch when hot, the gap would have to be **{value}** at 20 °C; the set \
                 range ends at **{limit}**.",
                value,
                limit
            );
            Sentence { text, value: (value, Some(needed)), limit: (limit, Some(allowed)) }
        }
        Shortfall::NothingToGoBy => Sentence {
            text: tell!("No station in front of the {blade} was measured.", blade),
            value: (tell!("No station").to_owned(), None),
            limit: (tell!("at least 1").to_owned(), None),
        },
    }
}

fn tapered(by: Length, blade: &str, apart: Option<(String, String)>, n: Numbers) -> Sentence {
    let by_text = n.estimate(by.mm());
    let text = match apart {
        Some((wide, tight)) => tell!(
            "No one pack behind the {blade} brings {wide} and {tight} both into range: \
             they differ by **{by_text}**, the blade is tapered.",
            blade,
            wide,
            tight,
            by_text
        ),
        None => tell!(
            "No one pack behind the {blade} brings every station into the set range: they \
             differ by **{by_text}**.",
            blade,
            by_text
        ),
    };
    Sentence { text, value: (by_text, Some(by)), limit: (tell!("the set range").to_owned(), None) }
}

/// Lines by letter and place: `S secondary blades and P primary blades`.
pub(crate) fn others(shear: &Shear, lines: &[LineId]) -> String {
    let names: Vec<String> =
        lines.iter().filter_map(|id| shear.line(*id)).map(words::line).collect();
    names.join(tell!(" and "))
}

/// How one shelf serves this line beside others that want the same shims.
pub(crate) fn shared_shelf(others: &str, (served, proven): (bool, bool)) -> String {
    match (served, proven) {
        (true, true) => tell!(
            "One shelf serves {others} as well, and all are planned together: no other choice of \
             shims brings the worst gap closer to its target, or does so with fewer shims.",
            others
        ),
        (true, false) => tell!(
            "One shelf serves {others} as well, and all are planned together; not every other \
             choice of shims was tried, so there may be a better one.",
            others
        ),
        (false, true) => tell!(
            "The shelf has not enough for this line beside {others}: every choice was tried. What \
             is said here counts on what they leave.",
            others
        ),
        (false, false) => tell!(
            "No way was found to serve this line from one shelf beside {others}; not every choice \
             could be tried. What is said here counts on what they leave.",
            others
        ),
    }
}

/// What shelf and pack come nearest to, on either side of what `would` do.
fn nearest(would: &str, (below, above): (Option<Length>, Option<Length>), n: Numbers) -> String {
    let made: Vec<String> = below.into_iter().chain(above).map(|it| change(it, n)).collect();
    if made.is_empty() {
        return tell!("{would} would do.", would);
    }
    tell!(
        "They make {packs} and nothing between; {would} would do.",
        packs = made.join(tell!(" or ")),
        would
    )
}

/// A change of a pack with its sign.
fn change(length: Length, n: Numbers) -> String {
    let sign = if length < Length::ZERO { "" } else { "+" };
    format!("{sign}{}", n.estimate(length.mm()))
}
