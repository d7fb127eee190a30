//! What work at the guide pads does to another gap, told.

use crate::{
    brief::{Numbers, words},
    domain::{machine::Line, quantity::Length},
};

/// The sentence, the gap that matters with the limit it is held against, and the source.
///
/// Where the gap closes its smallest station matters, where it opens its largest.
pub(crate) fn tell(
    (least, most): (Length, Length),
    then: Option<(Length, Length)>,
    pads: Length,
    line: &Line,
    n: Numbers,
) -> (String, Option<(Length, Length)>, String) {
    let span = |low: Length, high: Length| {
        let (low, high) = (n.estimate(low.mm()), n.estimate(high.mm()));
        if low == high { low } else { format!("{low}–{high}") }
    };
    let closes = most <= Length::ZERO;
    let (verb, by) =
        if closes { ("closes", span(-most, -least)) } else { ("opens", span(least, most)) };
    let to = then.map(|(low, high)| format!(", to about **{}**", span(low, high)));
    let working = line.limits.working();
    let ends =
        then.map(|(low, high)| if closes { (low, working.min) } else { (high, working.max) });
    let beyond = match ends {
        Some((gap, limit)) if closes && gap < limit => Some(("under", limit)),
        Some((gap, limit)) if !closes && limit < gap => Some(("over", limit)),
        _ => None,
    };
    let beyond = beyond
        .map(|(side, limit)| format!(" That is {side} the working limit **{}**.", n.length(limit)));
    let text = format!(
        "The shims behind the guide pads move the upper jaw: this gap then {verb} by about \
         **{by}**{}. Measure it again before cutting.{}",
        to.unwrap_or_default(),
        beyond.unwrap_or_default()
    );
    let source = format!(
        "Jaw geometry, pads {} from the pivot · limits table, row {}",
        n.dimension(pads),
        words::line(line)
    );
    (text, ends, source)
}
