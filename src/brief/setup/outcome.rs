//! What a change would make of the log, and what keeps it from being saved.

use crate::{
    brief::{numbers, setup, words},
    domain::{
        quantity::LengthUnit,
        setup::{Consequences, Draft, Elsewhere, Field, SetupIssue},
        verdict::VerdictKind,
    },
    language::{self, tell},
};

/// So many stations or lines are named; the rest is counted.
const NAMED: usize = 4;

/// The consequences in sentences, weightiest first.
pub fn outcome(consequences: &Consequences) -> Vec<String> {
    if consequences.none() {
        return vec![tell!("No verdict, no action and no work changes.").to_owned()];
    }
    let mut said = Vec::new();
    let stations = &consequences.stations;
    if !stations.is_empty() {
        let change =
            if stations.len() == 1 { tell!("station changes") } else { tell!("stations change") };
        said.push(tell!("**{stations}** {change} verdict:", stations = stations.len(), change));
        said.extend(stations.iter().take(NAMED).map(|it| {
            tell!(
                "{station}: {after}, now {before}",
                station = it.station,
                after = after(it.after),
                before = after(it.before)
            )
        }));
        said.extend(more(stations.len()));
    }
    let lines = &consequences.lines;
    if !lines.is_empty() {
        let get = if lines.len() == 1 { tell!("line gets") } else { tell!("lines get") };
        said.push(tell!("**{lines}** {change} another action:", lines = lines.len(), change = get));
        let word = |it: Option<_>| words::within(it.map_or(tell!("none"), words::action));
        said.extend(lines.iter().take(NAMED).map(|it| {
            tell!(
                "line {line}: {after}, now {before}",
                line = it.line,
                after = word(it.after),
                before = word(it.before)
            )
        }));
        said.extend(more(lines.len()));
    }
    said.extend(
        consequences
            .work
            .iter()
            .map(|line| tell!("line {line}: the same action, other work for it", line)),
    );
    if let Some([before, after]) = consequences.next_look {
        let [before, after] = [before, after].map(numbers::meter);
        said.push(tell!("Next look at **{after}**, now at {before}.", after, before));
    }
    match consequences.unseen {
        0 => {}
        1 => said.push(tell!("One reading stays in the log and is not shown any more.").to_owned()),
        count => {
            said.push(tell!(
                "**{count}** readings stay in the log and are not shown any more.",
                count
            ));
        }
    }
    said
}

/// What others have changed since the files were read, field by field.
pub fn elsewhere(changed: &[Elsewhere], draft: &Draft, unit: LengthUnit) -> Vec<String> {
    let value = |field: &Field, text: &Option<String>| match text.as_deref() {
        None => tell!("not there").to_owned(),
        Some("") => tell!("empty").to_owned(),
        Some(text) => match setup::tell(field, unit).unit {
            "" => setup::choice(field, &setup::written(field, text), draft),
            unit => format!("{}\u{a0}{unit}", setup::written(field, text)),
        },
    };
    let mut said: Vec<String> = changed
        .iter()
        .take(NAMED)
        .map(|it| {
            tell!(
                "{field}: **{theirs}** there, **{ours}** here.",
                field = capital(&setup::name(&it.field, draft)),
                theirs = value(&it.field, &it.theirs),
                ours = value(&it.field, &it.ours)
            )
        })
        .collect();
    said.extend(more(changed.len()));
    said
}

fn more(count: usize) -> Option<String> {
    (NAMED < count).then(|| tell!("and {named} more", named = count - NAMED))
}

fn after(kind: Option<VerdictKind>) -> &'static str {
    kind.map_or(tell!("none"), verdict)
}

fn verdict(kind: VerdictKind) -> &'static str {
    use crate::domain::verdict::Way;
    match kind {
        VerdictKind::Set => tell!("in the set range"),
        VerdictKind::Working => tell!("in the working limits"),
        VerdictKind::Soon(Way::Tight) => tell!("soon too tight"),
        VerdictKind::Soon(Way::Wide) => tell!("soon too wide"),
        VerdictKind::Too(Way::Tight) => tell!("too tight"),
        VerdictKind::Too(Way::Wide) => tell!("too wide"),
        VerdictKind::Stop(Way::Tight) => tell!("stop, too tight"),
        VerdictKind::Stop(Way::Wide) => tell!("stop, too wide"),
        VerdictKind::Undecided => tell!("undecided"),
    }
}

/// What keeps a draft from being saved, field by field.
pub fn unfinished(faults: &[(&Field, &SetupIssue)], draft: &Draft) -> Vec<String> {
    let mut said: Vec<String> = faults
        .iter()
        .take(NAMED)
        .map(|(field, why)| {
            format!(
                "{}: {}.",
                capital(&setup::name(field, draft)),
                language::understood(&why.to_string())
            )
        })
        .collect();
    said.extend(more(faults.len()));
    said
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[test]
fn what_changes_is_counted_and_named() {
    use crate::domain::{
        decide::Action,
        machine::LineId,
        setup::{LineChange, StationChange},
        verdict::Way,
    };
    assert_eq!(outcome(&Consequences::default()), ["No verdict, no action and no work changes."]);
    let station = |name: &str| StationChange {
        station: name.parse().unwrap(),
        before: Some(VerdictKind::Working),
        after: Some(VerdictKind::Too(Way::Wide)),
    };
    let line =
        LineChange { line: LineId::P, before: Some(Action::Leave), after: Some(Action::Shim) };
    let names = ["P1", "P2", "P3", "P4", "S1"];
    let hours = crate::domain::quantity::Hours::from_whole;
    let all = Consequences {
        stations: names.map(station).to_vec(),
        lines: vec![line],
        work: vec![LineId::S],
        next_look: Some([hours(108), hours(104)]),
        unseen: 1,
    };
    let said = outcome(&all);
    assert_eq!(said[0], "**5** stations change verdict:");
    assert_eq!(said[1], "P1: too wide, now in the working limits");
    assert!(said.contains(&"and 1 more".to_owned()), "{said:?}");
    assert!(said.contains(&"line P: shim, now leave".to_owned()), "{said:?}");
    let said = said.join(" | ").replace('\u{a0}', " ");
    assert!(said.contains("line S: the same action, other work for it"), "{said}");
    assert!(said.contains("Next look at **104.0 h**, now at 108.0 h."), "{said}");
}
