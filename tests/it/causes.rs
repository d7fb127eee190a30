//! What may lie behind trouble: the table that ships, and what it says of the sample machines.

use crate::{
    cli,
    visit::{Visit, um},
};
use gapwright::{
    brief::{Numbers, decision::tell_all, plain},
    domain::{
        decide::{CauseTable, Causes, MachineDecision, decide, explain},
        log::{FindingKind, Mark, MarkKind},
        machine::LineId,
    },
    sample, store,
};

pub(crate) fn shipped() -> CauseTable {
    let (path, text) = sample::causes();
    store::causes(path, text).unwrap()
}

/// With the visit in hand signed.
fn signed(mut visit: Visit) -> MachineDecision {
    visit.machine.add(visit.next.clone());
    as_it_stands(&visit)
}

/// The visit in hand does not count.
fn as_it_stands(visit: &Visit) -> MachineDecision {
    let mut decision = decide(&visit.machine, &visit.settings);
    explain(&mut decision, &visit.machine, visit.settings.intervals.look, &shipped());
    decision
}

fn first(decision: &MachineDecision, line: LineId) -> Option<&str> {
    let causes: &Causes = decision.line(line)?.causes.as_ref()?;
    let sum: f64 = causes.ranked.iter().map(|it| it.p).sum();
    assert!((sum - 1.0).abs() < 1e-9, "{sum}");
    causes.ranked.first()?.name.as_deref()
}

#[test]
fn the_sample_machines_get_sensible_causes() {
    let wren = as_it_stands(&Visit::to("wren"));
    for line in [LineId::T, LineId::G, LineId::S] {
        assert_eq!(first(&wren, line), Some("the lower jaw has spread"), "{line}");
    }
    let heron = as_it_stands(&Visit::to("heron"));
    let tight = "it was set too tight, so the faces rub, heat and grow";
    assert_eq!(first(&heron, LineId::G), Some(tight));
    let load = "stock too hard or too thick for this place was cut";
    assert_eq!(first(&heron, LineId::P), Some(load), "a bolt was in the load");
    // Wear with nothing beside it explains itself, and nothing at all even more so.
    assert_eq!(first(&heron, LineId::S), None);
    let dunlin = as_it_stands(&Visit::to("dunlin"));
    assert!(dunlin.lines.iter().all(|line| line.causes.is_none()));
}

#[test]
fn only_what_was_found_or_looked_for_counts_and_words_and_json_agree() {
    let visit = Visit::new().finding(FindingKind::StockCaught, Some("G2"));
    let shear = visit.machine.shear.clone();
    let decision = signed(visit);
    assert_eq!(
        first(&decision, LineId::G),
        Some("stock is caught in the slot beside the guide blade")
    );
    for brief in tell_all(&decision, &shear, Numbers::default()) {
        let Some(causes) = brief.causes else { continue };
        assert_eq!(brief.line, LineId::G, "nothing was found anywhere else");
        let told = causes.shown().next().unwrap();
        assert!(told.speaks_for.contains(&"stock caught beside the guide blade at G2".to_owned()));
        // Nobody wrote down that there was no crack, so it is neither for nor against.
        let all = causes.suspects.iter().map(|it| it.text.as_str()).collect::<String>();
        assert!(!all.contains("crack") && !all.contains("chatter"), "{all}");
        assert!(plain(&causes.head).starts_with("Likely cause: stock is caught"));
    }
    let yard = cli::sample();
    let yard = yard.to_str().unwrap();
    let home = tempfile::tempdir().unwrap();
    let json = cli::told(home.path(), &["decide", yard, "--shear", "wren", "--json"]).out;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let lines = json["shears"][0]["lines"].as_array().unwrap();
    for line in lines {
        let causes = line["causes"].as_array().unwrap();
        let id = line["line"].as_str().unwrap();
        assert_eq!(causes.is_empty(), !["T", "G", "S"].contains(&id), "{id}");
        if let Some(first) = causes.first() {
            assert_eq!(first["cause"], "The lower jaw has spread");
            let words = first["for"].as_array().unwrap();
            assert!(words.iter().any(|it| it == "both gaps of the tip together opened by 0.47"));
            assert!(line["causes_sensitivity"].is_string());
        }
    }
}

#[test]
fn a_yard_has_its_own_table_and_a_bad_one_is_named_with_line_and_column() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().join("yard");
    store::unpack(&root, sample::files()).unwrap();
    let own = root.join("causes.ron");
    let (_, text) = sample::causes();
    let other = text.replace("the lower jaw has spread", "the jaw gapes");
    store::put_file(&own, other.as_bytes()).unwrap();
    let opened = store::open(&root).unwrap();
    assert_eq!(opened.issues, []);
    let named = |table: &CauseTable| table.causes.iter().any(|it| it.name == "the jaw gapes");
    assert!(opened.causes.as_ref().is_some_and(named));

    for (from, to, fact, next) in [
        ("other: 0.08", "other: 0.0", "“other” is 0, which cannot be", "write a weight"),
        ("tip_spread: 0.90", "tip_spread: 1.2", "“tip_spread” is 1.2, which cannot be", "0.99"),
        ("jam: 0.08", "jam: 0.0", "“jam” is 0, which cannot be", "write a likelihood"),
        ("pad_play: 0.85", "pads: 0.85", "“pads” is no field of this format", "pad_play"),
        ("at: [Guide, Tip]", "at: [Gide, Tip]", "“Gide” is not known here", "Guide"),
        ("cracks: 0.02,\n", "\n", "the field “cracks” is missing", "add it"),
        ("format: 1", "format: 9", "newer", "update"),
    ] {
        assert!(text.contains(from), "{from}");
        store::put_file(&own, text.replacen(from, to, 1).as_bytes()).unwrap();
        let opened = store::open(&root).unwrap();
        assert_eq!((opened.issues.len(), &opened.causes), (1, &None), "{to}");
        let issue = &opened.issues[0];
        let said = issue.to_string();
        assert!(said.contains("causes.ron") && said.contains(fact), "{said}");
        assert!(issue.newer || said.contains(next), "{said}");
        let line = text.lines().position(|line| line.contains(from));
        if !issue.newer && fact.contains("which cannot be") {
            assert_eq!(issue.line, line.map(|line| line + 1), "{said}");
            assert!(issue.column.is_some(), "{said}");
        }
    }
}

fn p_of(decision: &MachineDecision, line: LineId, cause: &str) -> f64 {
    let causes = decision.line(line).unwrap().causes.as_ref().unwrap();
    causes.ranked.iter().find(|it| it.name.as_deref() == Some(cause)).unwrap().p
}

/// A finding that nobody gave a place may have been at this line or at any other: it counts, for
/// less than one that was noted here.
#[test]
fn what_nobody_gave_a_place_counts_a_little_on_every_line_that_asks() {
    let jammed = || Visit::new().finding(FindingKind::StockCaught, Some("G2"));
    let loose = "the guide blade is loose or lifts off its seat";
    let p = |visit: Visit| p_of(&signed(visit), LineId::G, loose);
    let none = p(jammed());
    let somewhere = p(jammed().finding(FindingKind::LooseBolt, None));
    let here = p(jammed().finding(FindingKind::LooseBolt, Some("G1")));
    assert!(none < somewhere && somewhere < here, "{none} {somewhere} {here}");
    // Six lines: a sixth of the likelihood here, five sixths of the usual one.
    let odds = |p: f64| p / (1.0 - p);
    assert!(odds(somewhere) / odds(none) < odds(here) / odds(none) / 2.0);

    let visit = jammed().finding(FindingKind::LooseBolt, None);
    let shear = visit.machine.shear.clone();
    let decision = signed(visit);
    let asks = |line: &gapwright::domain::decide::LineDecision| line.causes.is_some();
    assert_eq!(decision.lines.iter().filter(|it| asks(it)).count(), 1, "it asks on no line itself");
    let told = tell_all(&decision, &shear, Numbers::default());
    let causes = told.into_iter().find_map(|it| it.causes).unwrap();
    let said = causes.suspects.iter().flat_map(|it| &it.speaks_for);
    assert!(said.clone().any(|it| it == "a loose bolt, nobody noted where"), "{causes:?}");
}

/// A dull edge speaks for wear, a sharp one against it, and one that nobody measured says nothing.
#[test]
fn wear_marks_speak_for_wear_and_against_it() {
    let p = |radius: Option<i64>| {
        let mut visit = Visit::new().finding(FindingKind::Chatter, Some("P2"));
        let blade = visit.blade(LineId::P);
        for it in &mut visit.machine.shear.blades {
            it.wear.edge_radius_max = Some(um(2_000));
        }
        let (kind, mark) = (MarkKind::EdgeRadius, radius.map(um));
        visit.next.marks.extend(mark.map(|value| Mark { blade, kind, value }));
        p_of(&signed(visit), LineId::P, "the edges have worn and the gap has grown")
    };
    let (sharp, unknown, dull) = (p(Some(500)), p(None), p(Some(2_001)));
    assert!(sharp < unknown && unknown < dull, "{sharp} {unknown} {dull}");
    // A table from before marks were evidence still reads, and marks then say nothing.
    let (path, text) = sample::causes();
    let old = text.replace(", wear_mark: 0.60", "").replace("        wear_mark: 0.12,\n", "");
    assert!(store::causes(path, &old).is_ok());
}
