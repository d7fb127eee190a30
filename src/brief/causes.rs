//! What may lie behind trouble, told: causes with what speaks for and against them.
//!
//! Percentages are rounded to five, because the table behind them is a judgement.

use crate::{
    brief::{Numbers, marks, numbers, plain, reason::blade_name, words},
    domain::{
        decide::{Causes, Clue, Evidence, Found, RECENT, Reason, Suspect},
        gauge::Bracket,
        log::FindingKind,
        machine::{Line, Shear, StationId},
        quantity::Length,
    },
    language::{self, sentence, tell},
};

/// The causes of trouble at one line, told.
#[derive(Clone, Debug, PartialEq)]
pub struct CausesBrief {
    /// `Likely cause: the lower jaw has spread, **about 80 %**.`
    pub head: String,
    /// Every cause, likeliest first.
    pub suspects: Vec<SuspectBrief>,
    /// What the first place rests on.
    pub sensitivity: String,
    /// Where the table comes from, and what it takes for granted.
    pub source: String,
}

/// One cause, told.
#[derive(Clone, Debug, PartialEq)]
pub struct SuspectBrief {
    /// `The lower jaw has spread`.
    pub name: String,
    /// Its probability, 0 to 1.
    pub p: f64,
    /// `about 80 %`.
    pub chance: String,
    /// What speaks for it: `a jam at S4`.
    pub speaks_for: Vec<String>,
    /// What speaks against it: `no gap over its working limit`.
    pub speaks_against: Vec<String>,
    /// What to look at or do; empty for what the table does not name.
    pub next: String,
    /// All of it in a paragraph, weighty words between double asterisks.
    pub text: String,
}

/// Causes less likely than this are not shown to people; the JSON has them all.
const SHOWN_FROM: f64 = 0.10;
/// Where the clues fit no cause of the table.
const NOTHING_FITS: &str = sentence!("No cause in the table goes well with what was found.");
/// So many are shown.
const SHOWN: usize = 3;

impl CausesBrief {
    /// The causes worth a person's time.
    pub fn shown(&self) -> impl Iterator<Item = &SuspectBrief> {
        let likely = |it: &&SuspectBrief| SHOWN_FROM <= it.p && !it.next.is_empty();
        self.suspects.iter().filter(likely).take(SHOWN)
    }
}

/// Tells the causes of trouble at a line.
pub fn tell(causes: &Causes, shear: &Shear, line: &Line, n: Numbers) -> CausesBrief {
    let clues: Vec<String> = causes.evidence.iter().map(|it| clue(it, shear, line, n)).collect();
    let suspects: Vec<SuspectBrief> = causes.ranked.iter().map(|it| suspect(it, &clues)).collect();
    let first = suspects.first().filter(|first| !first.next.is_empty());
    let head = first.map_or_else(
        || language::told(NOTHING_FITS).to_owned(),
        |first| {
            let likely = if 0.5 <= first.p { tell!("Likely cause") } else { tell!("Perhaps") };
            format!("{likely}: {}, **{}**.", words::within(&first.name), first.chance)
        },
    );
    let named = |place: usize| causes.ranked.get(place).map(name_of).unwrap_or_default();
    let turns_on = causes.sensitivity.turns_on.and_then(|(clue, place)| {
        Some(tell!(
            "Without this clue ({clue}) “{place}” would come first.",
            clue = clues.get(clue)?,
            place = named(place)
        ))
    });
    let holds = if causes.sensitivity.holds {
        tell!(
            "The first cause stays first if any one number of the table is off by a factor of two."
        )
    } else {
        tell!("The order is close: one number of the table off by a factor of two can change it.")
    };
    CausesBrief {
        head,
        suspects,
        sensitivity: turns_on.map_or_else(|| holds.to_owned(), |it| format!("{holds} {it}")),
        source: words::capital(&tell!(
            "{source} · clues are taken as independent, so the order counts for more than the numbers",
            source = language::known(&causes.source)
        )),
    }
}

fn suspect(suspect: &Suspect, clues: &[String]) -> SuspectBrief {
    let list = |places: &[usize]| -> Vec<String> {
        places.iter().filter_map(|place| clues.get(*place).cloned()).collect()
    };
    let (speaks_for, speaks_against) = (list(&suspect.speaks_for), list(&suspect.speaks_against));
    let (name, chance) = (words::capital(&name_of(suspect)), chance(suspect.p));
    let clues = |what: &str, clues: &[String]| {
        (!clues.is_empty()).then(|| format!("{what}: {}.", clues.join("; ")))
    };
    let parts = [
        Some(format!("**{name}**, {chance}.")),
        clues(tell!("For it"), &speaks_for),
        clues(tell!("Against it"), &speaks_against),
        (!suspect.next.is_empty()).then(|| language::known(&suspect.next).to_owned()),
    ];
    let text = parts.into_iter().flatten().collect::<Vec<_>>().join(" ");
    let (p, next) = (suspect.p, language::known(&suspect.next).to_owned());
    SuspectBrief { name, p, chance, speaks_for, speaks_against, next, text }
}

fn name_of(suspect: &Suspect) -> String {
    let name = suspect.name.as_deref().map(language::known);
    name.unwrap_or(tell!("something that the table does not name")).to_owned()
}

/// A probability that rests on judgement, rounded to five in a hundred.
fn chance(p: f64) -> String {
    let rounded = (p * 20.0).round() / 20.0;
    if p < 0.05 {
        tell!("under 5\u{a0}%").to_owned()
    } else if 0.975 < p {
        tell!("over 95\u{a0}%").to_owned()
    } else {
        tell!("about\u{a0}{rounded}", rounded = numbers::percent(rounded))
    }
}

/// A clue as a few words that stand in a list.
fn clue(evidence: &Evidence, shear: &Shear, line: &Line, n: Numbers) -> String {
    if evidence.found == Found::No {
        return not_found(evidence.clue, line, n);
    }
    if let Some(since) = evidence.since {
        return tell!("work on this gap {since} ago", since = numbers::whole_hours(since.h()));
    }
    let Some(reason) = &evidence.reason else { return String::new() };
    let gap = |station: StationId, cold: Bracket, verb: &str, limit: Length| {
        format!("{station} {} {verb} {}", n.against(cold, limit), n.length(limit))
    };
    match reason {
        Reason::BeyondStop { station, cold, limit, .. }
        | Reason::BeyondWorking { station, cold, limit, .. } => {
            let verb = if evidence.clue == Clue::TooTight { tell!("under") } else { tell!("over") };
            gap(*station, *cold, verb, *limit)
        }
        Reason::HotContact { station, hot_mm } | Reason::HotTight { station, hot_mm, .. } => {
            tell!("a hot gap at {station} of about {hot_mm}", station, hot_mm = n.estimate(*hot_mm))
        }
        Reason::Streak { kind, .. } if evidence.clue == Clue::TipStreak => {
            tell!("{kind} at the tip or the guide blade", kind = a(words::finding(kind)))
        }
        Reason::Trouble { kind, somewhere: true, .. } => {
            tell!("{line}, nobody noted where", line = found(kind, None, line))
        }
        Reason::Streak { kind, station, .. } | Reason::Trouble { kind, station, .. } => {
            found(kind, *station, line)
        }
        Reason::Cracks { station, .. } => found(&FindingKind::SurfaceCracks, *station, line),
        Reason::Chipped { station, .. } => found(&FindingKind::ChippedEdge, *station, line),
        Reason::Shrinks { station, rate_mm_per_h } => {
            tell!(
                "{station} shrinks by {rate_mm_per_h}, which is never wear",
                station,
                rate_mm_per_h = n.rate(-rate_mm_per_h)
            )
        }
        Reason::Taper { by, limit } => {
            tell!(
                "gaps that differ by {by}, more than {limit}",
                by = n.estimate(by.mm()),
                limit = n.length(*limit)
            )
        }
        Reason::JawSpread(spread) => {
            tell!(
                "both gaps of the tip together opened by {by_mm}",
                by_mm = n.estimate(spread.by_mm)
            )
        }
        Reason::JointStep { by, .. } => tell!("a step of {by} at the joint", by = n.length(*by)),
        Reason::SidePlay { station, play, .. } => {
            tell!("side play of {play} at {station}", play = n.range(*play), station)
        }
        Reason::EdgeWorn { blade, hours, table, .. } => tell!(
            "{hours} on an edge of the {blade}, {table} are allowed",
            hours = numbers::whole_hours(hours.h()),
            blade = blade_name(shear, blade),
            table = numbers::whole_hours(table.h())
        ),
        Reason::WearMark { blade, kind, value, limit } => {
            let name = blade_name(shear, blade);
            let told = plain(&marks::beyond(name, *kind, (*value, *limit), n));
            words::within(told.trim_end_matches('.'))
        }
        _ => String::new(),
    }
}

fn found(kind: &FindingKind, station: Option<u8>, line: &Line) -> String {
    let at =
        station.map_or_else(String::new, |number| tell!(" at {id}{number}", id = line.id, number));
    match kind {
        FindingKind::Chatter => tell!("chatter{at}", at),
        FindingKind::StockCaught => tell!("stock caught beside the guide blade{at}", at),
        FindingKind::SurfaceCracks => tell!("surface cracks{at}", at),
        kind => format!("{}{at}", a(words::finding(kind))),
    }
}

fn a(noun: &str) -> String {
    tell!("a {noun}", noun = words::within(noun))
}

/// What somebody looked for and did not find.
fn not_found(clue: Clue, line: &Line, n: Numbers) -> String {
    let limits = &line.limits;
    match clue {
        Clue::TooWide => tell!("no gap over {max}", max = n.length(limits.working().max)),
        Clue::TooTight => tell!("no gap under {min}", min = n.length(limits.working().min)),
        Clue::HotClosed => tell!("gaps that stay open when hot").to_owned(),
        Clue::Taper => {
            tell!("gaps even to within {taper_max}", taper_max = n.length(limits.taper_max()))
        }
        Clue::Shrinks => tell!("gaps that all grow").to_owned(),
        Clue::PadPlay => tell!("pads without too much play").to_owned(),
        Clue::TipSpread => tell!("the tip's two gaps together have not jumped open").to_owned(),
        Clue::PastHours => tell!("edges within their hours").to_owned(),
        Clue::RecentWork => {
            tell!("no work on this gap within {recent}", recent = numbers::whole_hours(RECENT.h()))
        }
        Clue::LooseBolt => tell!("bolts just tightened").to_owned(),
        Clue::JointStep => tell!("no step at the joint").to_owned(),
        Clue::Jam => tell!("no jam").to_owned(),
        Clue::Chatter => tell!("no chatter").to_owned(),
        Clue::Streak => tell!("no streak").to_owned(),
        Clue::TipStreak => tell!("no streak at the tip").to_owned(),
        Clue::Cracks => tell!("no cracks").to_owned(),
        Clue::Chip => tell!("no chip").to_owned(),
        Clue::StockCaught => tell!("nothing caught in the slot").to_owned(),
        Clue::WearMark => tell!("wear marks inside their limits").to_owned(),
    }
}
