//! What work at the guide pads does to another gap, told.

use crate::{
    brief::{
        Numbers,
        told::{Basis, Told, band_words, limits_row},
    },
    domain::{machine::Line, quantity::Length},
    language::tell,
};

/// What the pads do to a line's gaps, held against its working limits.
///
/// Where the gap closes its smallest station matters, where it opens its largest.
pub(crate) fn tell(
    (least, most): (Length, Length),
    then: Option<(Length, Length)>,
    pads: Length,
    line: &Line,
    n: Numbers,
) -> Told {
    let span = |low: Length, high: Length| {
        let (low, high) = (n.estimate(low.mm()), n.estimate(high.mm()));
        if low == high { low } else { format!("{low}–{high}") }
    };
    let closes = most <= Length::ZERO;
    let (verb, by) = if closes {
        (tell!("closes"), span(-most, -least))
    } else {
        (tell!("opens"), span(least, most))
    };
    let left = then.map(|(low, high)| span(low, high));
    let to = left.as_ref().map(|left| tell!(", to about **{left}**", left));
    let working = line.limits.working();
    let ends =
        then.map(|(low, high)| if closes { (low, working.min) } else { (high, working.max) });
    let beyond = match ends {
        Some((gap, limit)) if closes && gap < limit => Some((tell!("under"), limit)),
        Some((gap, limit)) if !closes && limit < gap => Some((tell!("over"), limit)),
        _ => None,
    };
    let beyond = beyond.map(|(side, limit)| {
        tell!(" That is {side} the working limit **{limit}**.", side, limit = n.length(limit))
    });
    let text = tell!(
        "The shims behind the guide pads move the upper jaw: this gap then {verb} by about \
         **{by}**{to}. Measure it again before cutting.{beyond}",
        verb,
        by,
        to = to.unwrap_or_default(),
        beyond = beyond.unwrap_or_default()
    );
    let limit = band_words(working, n);
    let told = Told::new(
        text,
        Basis {
            value: left.unwrap_or(by),
            row: tell!("{line}, working {limit}", line = limits_row(line), limit),
            limit,
            rule: tell!("a gap that work at the pads moves is measured again before cutting on"),
        },
    )
    .from(&tell!("jaw geometry, pads {pads} from the pivot", pads = n.dimension(pads)));
    match ends {
        Some((gap, limit)) => told.lengths(gap.mm(), limit.mm()),
        None => told,
    }
}
