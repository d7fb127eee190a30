//! The words for things, verdicts, actions and findings.

use crate::domain::{
    decide::{Action, When},
    log::{BoltSpan, FindingKind},
    machine::{Line, LineId, Shear, Station, StationId},
    verdict::{VerdictKind, Way},
};

/// `bolts 1–2`, or `bolt 3`.
pub fn bolts(span: BoltSpan) -> String {
    if span.first == span.last {
        format!("bolt\u{a0}{}", span.first)
    } else {
        format!("bolts\u{a0}{}–{}", span.first, span.last)
    }
}

/// A verdict in a word or two.
pub const fn verdict(kind: VerdictKind) -> &'static str {
    match kind {
        VerdictKind::Set => "set range",
        VerdictKind::Working => "working",
        VerdictKind::Soon(Way::Wide) => "soon too wide",
        VerdictKind::Soon(Way::Tight) => "soon too tight",
        VerdictKind::Too(Way::Wide) => "too wide",
        VerdictKind::Too(Way::Tight) => "too tight",
        VerdictKind::Stop(Way::Wide) => "stop: far too wide",
        VerdictKind::Stop(Way::Tight) => "stop: far too tight",
        VerdictKind::Undecided => "undecided",
    }
}

/// An action in a word.
pub const fn action(action: Action) -> &'static str {
    match action {
        Action::Leave => "Leave",
        Action::Shim => "Shim",
        Action::Rotate => "Rotate",
        Action::Replace => "Replace",
        Action::Stop => "Stop",
    }
}

/// When an action is due.
pub fn when(when: When) -> String {
    match when {
        When::First => "do this first".to_owned(),
        When::BeforeCuttingOn => "before cutting on".to_owned(),
        When::LookAtOnce => "look at once".to_owned(),
        When::NextLook(hours) => {
            format!("look again in {}", crate::brief::numbers::whole_hours(hours.h()))
        }
    }
}

/// A finding as a technician says it.
pub fn finding(kind: &FindingKind) -> &str {
    match kind {
        FindingKind::StrawStreak => "Straw streak",
        FindingKind::BrownStreak => "Brown streak",
        FindingKind::PurpleStreak => "Purple streak",
        FindingKind::BlueStreak => "Blue streak",
        FindingKind::SurfaceCracks => "Surface cracks",
        FindingKind::ChippedEdge => "Chipped edge",
        FindingKind::Jam => "Jam",
        FindingKind::Chatter => "Chatter",
        FindingKind::LooseBolt => "Loose bolt",
        FindingKind::StockCaught => "Stock caught beside the guide blade",
        FindingKind::Own(words) => words,
    }
}

/// A line by letter and place: `S secondary blades`. Match a manual by place, not by letter.
pub fn line(line: &Line) -> String {
    format!("{} {}", line.id, line.place)
}

/// The note that stands wherever limits are entered, printed or exported.
pub const MATCH_BY_PLACE: &str = "Match your manual by place, not by letter.";

/// A line's place with a capital: `Secondary blades`.
pub fn place(shear: &Shear, id: LineId) -> String {
    capital(shear.line(id).map_or("", |line| &line.place))
}

/// Where a station is, spoken: `Primary blades, third from the pivot`.
pub fn station(shear: &Shear, id: StationId) -> String {
    let place = place(shear, id.line);
    let ordinal = match id.number {
        1 => "first".to_owned(),
        2 => "second".to_owned(),
        3 => "third".to_owned(),
        4 => "fourth".to_owned(),
        5 => "fifth".to_owned(),
        6 => "sixth".to_owned(),
        number => format!("number {number}"),
    };
    let across = shear.station(id).is_some_and(|station| station.across.is_some());
    if across {
        format!("{place}, {ordinal} from the guide side")
    } else {
        format!("{place}, {ordinal} from the pivot")
    }
}

/// Where a station lies on the machine: `410 mm out · near bolt 3`.
pub fn whereabouts(shear: &Shear, station: &Station, numbers: crate::brief::Numbers) -> String {
    let out = format!("{} out", numbers.dimension(station.from_pivot));
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
        Some(bolt) => format!("{out} · near bolt {bolt}"),
        None => out,
    }
}

/// The first letter as a capital.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}
