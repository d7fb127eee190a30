//! What somebody says about readings afterwards: set aside, counted again, a line that begins anew.

use crate::{
    brief::{Numbers, numbers},
    domain::{
        log::{Cut, EffectOnLine, History, SessionId},
        trend::StationTrend,
    },
    language::{self, sentence, tell},
};

/// Beside a reading that was set aside: `, set aside: wrong leaf read`.
pub(crate) fn words(why: &str) -> String {
    match why.trim() {
        "" => tell!(", set aside").to_owned(),
        why => tell!(", set aside: {why}", why = language::known(why)),
    }
}

/// What can be wrong with a reading, to choose from.
pub const WHY_ASIDE: [&str; 4] = [
    sentence!("wrong leaf read"),
    sentence!("dirt or a burr in the gap"),
    sentence!("blades still warm"),
    sentence!("jaw not closed"),
];

/// What setting aside means.
pub const ASIDE_MEANS: &str = sentence!(
    "It stays in the log and on the plot and no longer counts for \
     growth. What to do now still follows from the newest reading: if that was wrong, measure \
     again."
);

/// What beginning a line anew means.
pub const ANEW_MEANS: &str = sentence!(
    "Growth then counts from here, and what was before no longer bends \
     it. The log says that nobody knows why."
);

/// A line's gaps that moved for a reason nobody knows, as the log says: `The line begins anew at
/// 6 792 h. Nobody wrote down why.`
pub fn moved(cut: &Cut, n: Numbers) -> Option<String> {
    let EffectOnLine::Moved(reason) = &cut.effect else { return None };
    let at = n.along(n.per.of(cut.at, cut.counters)?);
    let why = match reason.trim() {
        "" => tell!("nobody wrote down why").to_owned(),
        why => language::known(why).to_owned(),
    };
    Some(tell!("Growth begins anew at {at}: {why}.", at, why))
}

/// Where a reading comes from: `Measured Tue 4 Nov, 14:40 by MR; hour meter 4 812.0 h.`
pub fn whence(history: &History, session: &SessionId, n: Numbers) -> String {
    let Some(it) = history.sessions.iter().find(|it| it.id == *session) else {
        return String::new();
    };
    let by =
        if it.by.trim().is_empty() { String::new() } else { tell!(" by {by}", by = it.by.trim()) };
    tell!(
        "Measured {taken}{by}; hour meter {meter}.",
        taken = n.moment(it.taken),
        by,
        meter = numbers::meter(it.meter)
    )
}

/// Which readings were set aside, and why; `None` if none was.
pub fn note(trend: &StationTrend, n: Numbers) -> Option<String> {
    let aside: Vec<String> = trend
        .set_aside()
        .map(|point| {
            let why = point.set_aside.as_deref().unwrap_or_default().trim();
            let at = n.along(point.at_h);
            if why.is_empty() { at } else { format!("{at} ({})", language::known(why)) }
        })
        .collect();
    let readings = match aside.len() {
        0 => return None,
        1 => tell!("One reading").to_owned(),
        count => tell!("{count} readings", count),
    };
    Some(tell!("{readings} set aside: {which}.", readings, which = aside.join(", ")))
}
