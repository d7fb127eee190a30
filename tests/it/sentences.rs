//! Every sentence about a line, read as a technician reads it.
//!
//! Odd cases are told in millimetres and in inches; what must never stand in a sentence is looked
//! for in all of them, and some are held word by word.

use crate::visit::{Visit, um};
use gapwright::{
    brief::{Numbers, decision::LineBrief, decision::tell_all, plain},
    domain::{
        decide::decide,
        log::{FindingKind, Work},
        machine::{BladeId, LineId},
        quantity::{Hours, LengthUnit, Temperature},
        yard::ShelfItem,
    },
};

/// What is told about the lines of a machine after this visit.
fn told(visit: Visit, unit: LengthUnit) -> Vec<LineBrief> {
    let Visit { mut machine, settings, next } = visit;
    machine.add(next);
    let decision = decide(&machine, &settings);
    tell_all(&decision, &machine.shear, Numbers { unit, ..Numbers::default() })
}

fn without_shims(mut visit: Visit) -> Visit {
    visit.settings.shelf.clear();
    visit
}

fn with_shelf(mut visit: Visit, shims: &[i64]) -> Visit {
    visit.settings.shelf =
        shims.iter().map(|it| ShelfItem { thickness: um(*it), count: 1 }).collect();
    visit
}

fn turned_up(mut visit: Visit) -> Visit {
    for blade in &mut visit.machine.shear.blades {
        blade.hours_per_edge = Hours::from_whole(1);
    }
    visit
}

fn hot_tip(mut visit: Visit, c: i32) -> Visit {
    for line in &mut visit.machine.shear.lines {
        line.working.moving = Temperature::from_whole_c(c);
    }
    visit
}

fn cases() -> Vec<(&'static str, Visit)> {
    let tight = [(120, 170); 4];
    let wide = [(1_300, 1_350); 4];
    let seen = |kind, at| Visit::new().finding(kind, at);
    vec![
        ("as it is", Visit::new()),
        ("hot", Visit::to("heron")),
        ("spread", Visit::to("wren")),
        ("nothing known", Visit::first()),
        ("half known", Visit::first().reading("S4", 1_300, 1_350)),
        ("wide", Visit::new().line("S", &wide)),
        ("wide, shelf empty", without_shims(Visit::new().line("S", &wide))),
        (
            "wide, pack full",
            Visit::new().shims(LineId::S, &[1_000, 1_000], &[]).then().line("S", &wide),
        ),
        ("tight, nothing to take out", Visit::first().line("S", &tight)),
        ("tight at the tip", Visit::first().line("T", &[(150, 190); 2])),
        (
            "tight, one thick shim",
            without_shims(Visit::first().shims(LineId::S, &[2_000], &[]).then().line("S", &tight)),
        ),
        ("tapered", Visit::new().line("S", &[(400, 450), (500, 550), (900, 950), (1_300, 1_350)])),
        ("no ceiling", Visit::new().open_reading("S4", 1_000)),
        ("perhaps stopped", Visit::new().line("S", &[(1_550, 1_650); 4])),
        ("loose pads", Visit::new().line("J", &[(900, 950); 2])),
        ("clash", Visit::new().line("J", &[(400, 450); 2]).reading("P1", 430, 480)),
        ("step", Visit::new().line("P", &[(300, 350); 4]).line("S", &[(1_000, 1_050); 4])),
        ("touching when hot", hot_tip(Visit::new().line("G", &[(400, 450); 3]), 260)),
        ("hotter than the set range allows", hot_tip(Visit::new(), 600)),
        ("worn", turned_up(Visit::new())),
        ("cracks", seen(FindingKind::SurfaceCracks, Some("T1"))),
        ("cracks somewhere", seen(FindingKind::SurfaceCracks, None)),
        ("loose bolt", seen(FindingKind::LooseBolt, Some("P2"))),
        ("stock caught", seen(FindingKind::StockCaught, Some("G2"))),
        ("own words", seen(FindingKind::Own("paint gone".into()), Some("P2"))),
        ("loose bolt somewhere", seen(FindingKind::LooseBolt, None)),
        ("jam", seen(FindingKind::Jam, Some("S4"))),
        ("new tip", {
            let tip = BladeId("tip".into());
            Visit::new().work(Work::Replaced { blade: tip, pack: vec![] })
        }),
        ("chip", seen(FindingKind::ChippedEdge, Some("P2"))),
        (
            "too few shims for two lines",
            with_shelf(
                Visit::new().line("S", &[(1_700, 1_750); 4]).line("P", &[(1_300, 1_350); 4]),
                &[500, 800],
            ),
        ),
    ]
}

#[test]
fn no_sentence_is_ugly() {
    for (name, visit) in cases() {
        for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
            let visit = Visit {
                settings: visit.settings.clone(),
                machine: visit.machine.clone(),
                next: visit.next.clone(),
            };
            for line in told(visit, unit) {
                let reasons = line.reasons.iter().map(|it| plain(&it.text));
                let sentences: Vec<String> =
                    reasons.chain(line.notes.iter().map(|it| plain(it))).collect();
                assert!(!line.headline.ends_with('.'), "{name}: {}", line.headline);
                assert!(!sentences.is_empty(), "{name}: no word about {}", line.line);
                for sentence in sentences.iter().chain([&line.headline]) {
                    for ugly in ["  ", "()", " ,", " .", "..", "NaN", "inf", "−0.00 ", "0.0 µm"]
                    {
                        assert!(!sentence.contains(ugly), "{name}: {ugly:?} in “{sentence}”");
                    }
                    let first = sentence.chars().next().unwrap();
                    assert!(first.is_uppercase() || first.is_numeric(), "{name}: “{sentence}”");
                }
                for sentence in &sentences {
                    assert!(sentence.ends_with('.'), "{name}: “{sentence}”");
                }
            }
        }
    }
}

#[test]
fn odd_cases_are_said_in_plain_words() {
    let headline = |visit, line| {
        let briefs = told(visit, LengthUnit::Millimetre);
        briefs.into_iter().find(|it| it.line == line).unwrap().headline
    };
    let tight = Visit::first().line("T", &[(150, 190); 2]);
    assert_eq!(headline(tight, LineId::T), "Find out why it is too tight at the tip, cutting side");
    let thick = Visit::first().shims(LineId::S, &[2_000], &[]).then().line("S", &[(120, 170); 4]);
    assert_eq!(
        headline(without_shims(thick), LineId::S),
        "Order thinner shims: the pack behind the lower secondary blade must lose about 0.26"
    );
    let clash = Visit::new().line("J", &[(400, 450); 2]).reading("P1", 430, 480);
    assert_eq!(headline(clash, LineId::J), "Find out why the blades can clash");
    let bolt = Visit::new().finding(FindingKind::LooseBolt, Some("P2"));
    assert_eq!(headline(bolt, LineId::P), "Tighten the loose bolt on the primary blades");
    let somewhere = Visit::new().finding(FindingKind::LooseBolt, None);
    assert_eq!(headline(somewhere, LineId::P), "Check every bolt: one was loose");
}

/// After a jam the clock of the next look does not count: window and sheet say so at their head.
#[test]
fn a_jam_makes_the_next_look_due_now() {
    let Visit { machine, settings, .. } = Visit::to("wren");
    let head =
        gapwright::brief::head::tell(&machine, &decide(&machine, &settings), Numbers::default());
    assert_eq!((head.next_look.as_str(), head.next_in.as_str()), ("now", "after a jam or chatter"));
    let Visit { machine, settings, .. } = Visit::to("dunlin");
    let head =
        gapwright::brief::head::tell(&machine, &decide(&machine, &settings), Numbers::default());
    assert!(head.next_in.starts_with("in "), "{}", head.next_in);
}
