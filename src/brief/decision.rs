//! Decisions, told: one brief a line, the same words for screen, paper and terminal.

use crate::{
    brief::{
        Numbers,
        bolts::{self, BoltBrief, Fitting},
        causes::{self, CausesBrief},
        edges::{self, BladeEdgesBrief},
        marks, numbers,
        reason::{blade_name, tell},
        told::Told,
        words,
    },
    domain::{
        decide::{
            Action, Job, LineDecision, MachineDecision, NewPack, PackPart, Reason, StationState,
        },
        gauge::Bracket,
        log::FindingKind,
        machine::{BladeId, LineId, Shear},
        quantity::Length,
        verdict::Way,
    },
    language::{self, tell},
};

/// What to do with one line, told.
#[derive(Clone, Debug, PartialEq)]
pub struct LineBrief {
    /// The line.
    pub line: LineId,
    /// Its place with a capital: `Secondary blades`.
    pub place: String,
    /// What to do.
    pub action: Action,
    /// That in a word.
    pub action_word: &'static str,
    /// When.
    pub when: String,
    /// The job in one line: `Add 0.50 + 0.25 behind the lower secondary blade, bolts 1–4`.
    pub headline: String,
    /// Why, weightiest first.
    pub reasons: Vec<Told>,
    /// The gaps now, all stations together; where work has moved them all since, those before it.
    pub gap_now: String,
    /// Whether they are those before the work.
    pub gap_moved: bool,
    /// The gaps after the job; `None` until they are measured.
    pub gap_after: Option<String>,
    /// Hours to the working limit, large: `10 h`.
    pub hours: String,
    /// Their interval, quiet: `5–16`.
    pub interval: String,
    /// Bolts, order and torque, if bolts are loosened.
    pub bolts: Option<BoltBrief>,
    /// What else must be said with the job.
    pub notes: Vec<String>,
    /// What may lie behind the trouble, if there is any.
    pub causes: Option<CausesBrief>,
    /// The edges of its blades one by one, the fixed blade first.
    pub edges: Vec<BladeEdgesBrief>,
    /// Wear marks of its blades, a sentence each.
    pub marks: Vec<String>,
}

impl LineBrief {
    /// What the edges have behind them, a line for each blade, where an edge is to be changed.
    pub fn edge_lines(&self) -> Vec<String> {
        let changes = matches!(self.action, Action::Rotate | Action::Replace);
        let shown = self.edges.iter().filter(|_| changes);
        shown.map(BladeEdgesBrief::line).collect()
    }
}

/// Tells the decision on one line.
pub fn tell_line(decision: &LineDecision, shear: &Shear, n: Numbers) -> LineBrief {
    let reasons = shear.line(decision.line).map_or_else(Vec::new, |line| {
        decision.reasons.iter().map(|reason| tell(reason, shear, line, n)).collect()
    });
    let (hours, interval) = if decision.job == Job::Measure {
        ("–".to_owned(), tell!("measure again").to_owned())
    } else {
        numbers::hours_to(decision.hours().map(|(_, hours)| hours))
    };
    let mut measured = decision.stations.iter().filter(|state| state.cold.is_some()).peekable();
    let gap_moved = measured.peek().is_some() && measured.all(|state| state.stale);
    LineBrief {
        line: decision.line,
        place: words::place(shear, decision.line),
        action: decision.action,
        action_word: action_word(decision),
        when: words::when(decision.when),
        headline: headline(decision, shear, n),
        reasons,
        gap_now: spread_of(&decision.stations, n, |state| {
            let shown = gap_moved || !state.stale;
            state.cold.as_ref().filter(|_| shown).map(|it| it.bracket)
        }),
        gap_moved,
        gap_after: gap_after(&decision.stations, n),
        hours,
        interval,
        bolts: bolts(decision, shear),
        notes: notes(decision, shear, n),
        causes: shear
            .line(decision.line)
            .zip(decision.causes.as_ref())
            .map(|(line, it)| causes::tell(it, shear, line, n)),
        marks: decision.marks.iter().map(|it| marks::tell(it, shear, n)).collect(),
        edges: decision.edges.iter().map(|it| edges::tell(it, shear)).collect(),
    }
}

/// Tells all decisions of a machine.
pub fn tell_all(decision: &MachineDecision, shear: &Shear, n: Numbers) -> Vec<LineBrief> {
    decision.lines.iter().map(|line| tell_line(line, shear, n)).collect()
}

/// A gap that nobody knows is not left alone: it is measured.
fn action_word(decision: &LineDecision) -> &'static str {
    match (decision.action, &decision.job) {
        (Action::Leave, Job::Measure) => tell!("Measure"),
        (Action::Leave, Job::Retorque { .. }) => tell!("Tighten"),
        (action, _) => words::action(action),
    }
}

fn headline(decision: &LineDecision, shear: &Shear, n: Numbers) -> String {
    let place = shear.line(decision.line).map_or("", |line| language::known(&line.place));
    match &decision.job {
        Job::Nothing => nothing(&decision.reasons, place),
        Job::Measure => tell!("Measure the {place}", place),
        Job::ChangePack { blade, bolts, plan, .. } => {
            let span = bolts.map_or(String::new(), |span| format!(", {}", words::bolts(span)));
            let work = words::capital(&shims(&plan.put_in, &plan.take_out, n));
            tell!("{work} behind the {blade}{span}", work, blade = blade_name(shear, blade), span)
        }
        Job::StepPack { blade, parts, .. } => {
            let part = |it: &PackPart| {
                let work = shims(&it.put_in, &it.take_out, n);
                match it.bolts {
                    Some(span) => tell!("{work} at {span}", work, span = words::bolts(span)),
                    None => tell!("{work} over the full length", work),
                }
            };
            let parts: Vec<String> = parts.iter().map(part).collect();
            let work = words::capital(&parts.join(", "));
            tell!("{work}, behind the {blade}", work, blade = blade_name(shear, blade))
        }
        Job::Turn { blade, edge, .. } => {
            tell!("Turn the {blade} to edge\u{a0}{edge}", blade = blade_name(shear, blade), edge)
        }
        Job::Fit { blade, .. } => tell!("Fit a new {blade}", blade = blade_name(shear, blade)),
        Job::OrderShims { blade, wanted } => {
            let (name, by) = (blade_name(shear, blade), n.estimate(wanted.abs().mm()));
            if *wanted < Length::ZERO {
                tell!(
                    "Order thinner shims: the pack behind the {name} must lose about {by}",
                    name,
                    by
                )
            } else {
                tell!("Order shims: about {by} more behind the {name}", by, name)
            }
        }
        Job::Retorque { blades } => {
            let names: Vec<&str> = blades.iter().map(|it| blade_name(shear, it)).collect();
            tell!(
                "Tighten the bolts of the {blades} again",
                blades = names.join(tell!(" and the "))
            )
        }
        Job::CallWelder => tell!("Have a qualified welder look at the lower jaw").to_owned(),
        Job::FindCause => cause(&decision.reasons, place),
    }
}

/// `take 0.25 out and add 0.50`.
pub(crate) fn shims(put_in: &[Length], take_out: &[Length], n: Numbers) -> String {
    let mut parts = Vec::new();
    if !take_out.is_empty() {
        parts.push(tell!("take {take_out} out", take_out = sum(take_out, n)));
    }
    if !put_in.is_empty() {
        parts.push(tell!("add {put_in}", put_in = sum(put_in, n)));
    }
    parts.join(tell!(" and "))
}

/// No blade needs work; a hand may be needed all the same.
fn nothing(reasons: &[Reason], place: &str) -> String {
    for reason in reasons {
        let Reason::Trouble { kind, somewhere, .. } = reason else { continue };
        match (kind, somewhere) {
            (FindingKind::LooseBolt, false) => {
                return tell!("Tighten the loose bolt on the {place}", place);
            }
            (FindingKind::LooseBolt, true) => {
                return tell!("Check every bolt: one was loose").to_owned();
            }
            (FindingKind::StockCaught, false) => {
                return tell!("Clear the stock out beside the {place}", place);
            }
            (FindingKind::StockCaught, true) => {
                return tell!("Clear out the stock that was caught").to_owned();
            }
            _ => {}
        }
    }
    tell!("Nothing to do on the {place}", place)
}

/// What to look for where no recipe helps.
fn cause(reasons: &[Reason], place: &str) -> String {
    for reason in reasons {
        return match reason {
            Reason::Cracks { .. } => tell!("Find the cracked blade").to_owned(),
            Reason::SidePlay { .. } => tell!("Find out why the blades can clash").to_owned(),
            Reason::BeyondStop { way: Way::Tight, .. }
            | Reason::BeyondWorking { way: Way::Tight, .. }
            | Reason::HotContact { .. }
            | Reason::HotTight { .. }
            | Reason::FreshTooTight { .. } => {
                tell!("Find out why it is too tight at the {place}", place)
            }
            Reason::JointStep { .. } => tell!("Find out why the blades make a step").to_owned(),
            _ => continue,
        };
    }
    tell!("Find out what is wrong at the {place}", place)
}

fn notes(decision: &LineDecision, shear: &Shear, n: Numbers) -> Vec<String> {
    let mut notes = Vec::new();
    if decision.provisional {
        notes.push(
            tell!(
                "Provisional: work on the guide pads comes first and moves this gap. Measure again \
             before you shim."
            )
            .to_owned(),
        );
    }
    if decision.job == Job::CallWelder {
        notes.extend(crate::brief::caution::WELDING.map(|it| language::told(it).to_owned()));
    }
    if let Job::Turn { blade, pack, .. } | Job::Fit { blade, pack } = &decision.job {
        notes.extend(pack_note(shear, blade, pack, n));
        notes.extend(pack.facing.iter().map(|(blade, pack)| facing_note(shear, blade, pack, n)));
        notes.push(language::told(crate::brief::caution::AFTER_FRESH_EDGE).to_owned());
    }
    notes.extend(no_bolts(decision, shear));
    let says_it = decision.reasons.iter().any(|it| matches!(it, Reason::Soon { .. }));
    let shown = decision.hours().filter(|_| !says_it && decision.job != Job::Measure);
    notes.extend(shown.and_then(|(_, hours)| n.through(hours)));
    notes
}

/// A blade that comes off and of which nobody wrote down how it is held.
fn no_bolts(decision: &LineDecision, shear: &Shear) -> Option<String> {
    let blade = shear.blade(decision.job.repacks()?)?;
    let bolts = blade.bolts.as_ref().is_some_and(|it| !it.from_pivot.is_empty());
    (!bolts).then(|| {
        tell!("The machine's file names no bolts for the {blade}: how it is held and tightened stands in \
             the machine's manual.", blade = blade.name)
    })
}

/// What happens to the blade's own pack; nothing for a blade that cannot be shimmed.
fn pack_note(shear: &Shear, blade: &BladeId, pack: &NewPack, n: Numbers) -> Option<String> {
    shear.blade(blade)?.pack?;
    Some(match (moved(pack, n), pack.base_known) {
        (None, true) => tell!("The pack stays as it is: it is the base pack.").to_owned(),
        (None, false) => {
            tell!("The log knows of no shim behind it; if there is one, take it out.").into()
        }
        (Some(back), true) => {
            tell!("Pack back to base: {back}. On the old pack the blades would meet.", back)
        }
        (Some(back), false) => tell!(
            "No base pack was noted that is surely wide enough, so every shim comes out: {back}.",
            back
        ),
    })
}

fn facing_note(shear: &Shear, blade: &BladeId, pack: &NewPack, n: Numbers) -> String {
    let moved = words::capital(&moved(pack, n).unwrap_or_default());
    let name = blade_name(shear, blade);
    tell!(
        "{moved} behind the {name} as well: that pack followed the wear of both blades.",
        moved,
        name
    )
}

/// `take 0.25 out and put 0.50 in`; `None` if nothing moves.
fn moved(pack: &NewPack, n: Numbers) -> Option<String> {
    let out = || tell!("take {take_out} out", take_out = sum(&pack.take_out, n));
    let into = || tell!("put {put_in} in", put_in = sum(&pack.put_in, n));
    match (pack.take_out.is_empty(), pack.put_in.is_empty()) {
        (true, true) => None,
        (false, true) => Some(out()),
        (true, false) => Some(into()),
        (false, false) => Some(tell!("{out} and {into}", out = out(), into = into())),
    }
}

/// `0.50 + 0.25`.
pub fn sum(shims: &[Length], n: Numbers) -> String {
    shims.iter().map(|shim| n.length(*shim)).collect::<Vec<_>>().join(" + ")
}

fn spread_of(
    states: &[StationState],
    n: Numbers,
    of: impl Fn(&StationState) -> Option<Bracket>,
) -> String {
    let brackets: Vec<Bracket> = states.iter().filter_map(of).collect();
    let Some(least) = brackets.iter().map(|it| it.go()).min() else {
        return tell!("not measured").to_owned();
    };
    let open = brackets.iter().any(|it| it.no_go().is_none());
    let most = brackets.iter().map(|it| it.no_go().unwrap_or_else(|| it.go())).max();
    let tail = if open { tell!(" or more") } else { "" };
    let most = most.unwrap_or(least);
    format!("{}–{}{tail}", n.estimate(least.mm()), n.estimate(most.mm()))
}

fn gap_after(states: &[StationState], n: Numbers) -> Option<String> {
    let after = || states.iter().filter_map(|state| state.after);
    let (least, most) = (after().min()?, after().max()?);
    Some(if least == most {
        tell!("about {least}", least = n.estimate(least.mm()))
    } else {
        tell!("about {least}–{most}", least = n.estimate(least.mm()), most = n.estimate(most.mm()))
    })
}

fn bolts(decision: &LineDecision, shear: &Shear) -> Option<BoltBrief> {
    let (blade, fitting) = match &decision.job {
        Job::ChangePack { blade, .. } | Job::StepPack { blade, .. } | Job::Turn { blade, .. } => {
            (blade, Fitting::Same)
        }
        Job::Fit { blade, .. } => (blade, Fitting::New),
        Job::Retorque { blades } => (blades.first()?, Fitting::Same),
        Job::Nothing | Job::Measure | Job::OrderShims { .. } | Job::CallWelder | Job::FindCause => {
            return None;
        }
    };
    let bolts = shear.blade(blade)?.bolts.as_ref()?;
    (!bolts.from_pivot.is_empty()).then(|| bolts::tell(bolts, fitting))
}
