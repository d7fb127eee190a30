//! The words for things, verdicts, actions and findings.

use crate::{
    domain::{
        decide::{Action, When},
        log::{BoltSpan, FindingKind},
        machine::{Line, LineId, Shear, Station, StationId},
        verdict::{VerdictKind, Way},
    },
    language::{self, Language, sentence, tell},
};

/// `bolts 1–2`, or `bolt 3`.
pub fn bolts(span: BoltSpan) -> String {
    if span.first == span.last {
        tell!("bolt\u{a0}{bolt}", bolt = span.first)
    } else {
        tell!("bolts\u{a0}{first}–{last}", first = span.first, last = span.last)
    }
}

/// A verdict in a word or two.
pub fn verdict(kind: VerdictKind) -> &'static str {
    match kind {
        VerdictKind::Set => tell!("set range"),
        VerdictKind::Working => tell!("working"),
        VerdictKind::Soon(Way::Wide) => tell!("soon too wide"),
        VerdictKind::Soon(Way::Tight) => tell!("soon too tight"),
        VerdictKind::Too(Way::Wide) => tell!("too wide"),
        VerdictKind::Too(Way::Tight) => tell!("too tight"),
        VerdictKind::Stop(Way::Wide) => tell!("stop: far too wide"),
        VerdictKind::Stop(Way::Tight) => tell!("stop: far too tight"),
        VerdictKind::Undecided => tell!("undecided"),
    }
}

/// An action in a word.
pub fn action(action: Action) -> &'static str {
    match action {
        Action::Leave => tell!("Leave"),
        Action::Shim => tell!("Shim"),
        Action::Rotate => tell!("Rotate"),
        Action::Replace => tell!("Replace"),
        Action::Stop => tell!("Stop"),
    }
}

/// When an action is due.
pub fn when(when: When) -> String {
    match when {
        When::First => tell!("do this first").to_owned(),
        When::BeforeCuttingOn => tell!("before cutting on").to_owned(),
        When::LookAtOnce => tell!("look at once").to_owned(),
        When::NextLook(hours) => {
            tell!("look again in {hours}", hours = crate::brief::numbers::whole_hours(hours.h()))
        }
    }
}

/// A finding as a technician says it.
pub fn finding(kind: &FindingKind) -> &str {
    match kind {
        FindingKind::StrawStreak => tell!("Straw streak"),
        FindingKind::BrownStreak => tell!("Brown streak"),
        FindingKind::PurpleStreak => tell!("Purple streak"),
        FindingKind::BlueStreak => tell!("Blue streak"),
        FindingKind::SurfaceCracks => tell!("Surface cracks"),
        FindingKind::ChippedEdge => tell!("Chipped edge"),
        FindingKind::Jam => tell!("Jam"),
        FindingKind::Chatter => tell!("Chatter"),
        FindingKind::LooseBolt => tell!("Loose bolt"),
        FindingKind::StockCaught => tell!("Stock caught at the guide blade"),
        FindingKind::Own(words) => words,
    }
}

/// A line by letter and place: `S secondary blades`. Match a manual by place, not by letter.
pub fn line(line: &Line) -> String {
    format!("{} {}", line.id, language::known(&line.place))
}

/// The note that stands wherever limits are entered, printed or exported.
pub const MATCH_BY_PLACE: &str = sentence!("Match your manual by place, not by letter.");

/// A line's place with a capital: `Secondary blades`.
pub fn place(shear: &Shear, id: LineId) -> String {
    capital(shear.line(id).map_or("", |line| language::known(&line.place)))
}

/// Where a station is, spoken: `Primary blades, third from the pivot`.
pub fn station(shear: &Shear, id: StationId) -> String {
    let place = place(shear, id.line);
    let ordinal = match id.number {
        1 => tell!("first").to_owned(),
        2 => tell!("second").to_owned(),
        3 => tell!("third").to_owned(),
        4 => tell!("fourth").to_owned(),
        5 => tell!("fifth").to_owned(),
        6 => tell!("sixth").to_owned(),
        number => tell!("number {number}", number),
    };
    let across = shear.station(id).is_some_and(|station| station.across.is_some());
    if across {
        tell!("{place}, {ordinal} from the guide side", place, ordinal)
    } else {
        tell!("{place}, {ordinal} from the pivot", place, ordinal)
    }
}

/// Where a station lies on the machine: `410 mm out · near bolt 3`.
pub fn whereabouts(shear: &Shear, station: &Station, numbers: crate::brief::Numbers) -> String {
    let out = tell!("{far} out", far = numbers.dimension(station.from_pivot));
    let bolts = shear
        .line(station.id.line)
        .and_then(|line| shear.blade(&line.fixed))
        .and_then(|blade| blade.bolts.as_ref());
    let nearest = bolts.and_then(|bolts| {
        let from = |at: &crate::domain::quantity::Length| (*at - station.from_pivot).abs();
        let place = bolts.from_pivot.iter().enumerate().min_by_key(|(_, at)| from(at))?.0;
        Some(place + 1)
    });
    match nearest {
        Some(bolt) => tell!("{out} · near bolt {bolt}", out, bolt),
        None => out,
    }
}

/// A name in the middle of a sentence: its first letter is small in English, while German keeps the
/// capitals of its nouns. What follows stays: it may be a name that somebody gave.
pub fn within(text: &str) -> String {
    match language::spoken() {
        Language::English => {
            let mut letters = text.chars();
            letters.next().map_or_else(String::new, |first| {
                first.to_lowercase().collect::<String>() + letters.as_str()
            })
        }
        Language::German => text.to_owned(),
    }
}

/// The first letter as a capital.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}
