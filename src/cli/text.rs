//! Decisions for a terminal, in the words of `brief`.

use crate::{
    brief::{Numbers, caution, decision, leaves, plain, words, yard as told},
    domain::{decide::MachineDecision, machine::Shear, yard::Yard},
    language,
};
use chrono::{DateTime, Utc};
use std::path::Path;

/// All machines, most urgent first, with every line and its reasons.
pub(crate) fn decide(
    (yard, decided): (&Yard, &[(&Shear, MachineDecision)]),
    root: &Path,
    now: DateTime<Utc>,
    n: Numbers,
) -> String {
    let mut out = String::new();
    let decisions: Vec<MachineDecision> = decided.iter().map(|(_, it)| it.clone()).collect();
    put(&mut out, format_args!("{} · {}", yard.settings.name, root.display()));
    for notice in leaves::due_notices(&yard.settings, now) {
        put(&mut out, format_args!("! {notice}"));
    }
    if yard.machines.is_empty() {
        put(&mut out, format_args!("No machine yet: add a folder under shears/."));
    }
    let standing = |it: &MachineDecision| Some(told::Standing::of(yard.machine(&it.shear)?, it, n));
    let standings: Vec<_> = decisions.iter().filter_map(standing).collect();
    for told::MachineBrief { standing: machine, measured, due_words, .. } in
        told::tell(&standings, yard.settings.intervals.look, now)
    {
        let Some(decision) = decisions.iter().find(|it| it.shear == machine.shear) else {
            continue;
        };
        let Some(shear) = yard.machine(&machine.shear).map(|it| &it.shear) else { continue };
        put(&mut out, format_args!(""));
        put(
            &mut out,
            format_args!(
                "{} · {} · {} · {}",
                machine.name, machine.carrier, machine.meter, measured
            ),
        );
        put(&mut out, format_args!("{due_words}"));
        for brief in decision::tell_all(decision, shear, n) {
            put(
                &mut out,
                format_args!(
                    "  {:<8} {} {}: {} ({})",
                    brief.action_word, brief.line, brief.place, brief.headline, brief.when
                ),
            );
            for reason in &brief.reasons {
                put(&mut out, format_args!("           {}", plain(&reason.text)));
                put(&mut out, format_args!("             [{}]", reason.source));
            }
            if let Some(causes) = &brief.causes {
                put(&mut out, format_args!("           What may lie behind it:"));
                for told in causes.shown() {
                    put(&mut out, format_args!("             {}", plain(&told.text)));
                }
                put(&mut out, format_args!("             {}", causes.sensitivity));
                put(&mut out, format_args!("             [{}]", causes.source));
            }
            for mark in &brief.marks {
                put(&mut out, format_args!("           {}", plain(mark)));
            }
            for blade in brief.edge_lines() {
                put(&mut out, format_args!("           {blade}"));
            }
            for note in &brief.notes {
                put(&mut out, format_args!("           {note}"));
            }
            if let Some(bolts) = &brief.bolts {
                let order: Vec<String> = bolts.order.iter().map(ToString::to_string).collect();
                let torque = plain(&bolts.torque);
                put(
                    &mut out,
                    format_args!(
                        "           Bolts {} ({}): {torque}",
                        order.join("–"),
                        bolts.source
                    ),
                );
                for note in &bolts.notes {
                    put(&mut out, format_args!("             {note}"));
                }
            }
        }
    }
    put(&mut out, format_args!(""));
    for caution in caution::BEFORE_REACHING_IN {
        put(&mut out, format_args!("! {}", caution.sentence));
    }
    put(&mut out, format_args!("! {}", language::told(caution::ADVICE_ONLY)));
    put(&mut out, format_args!("{}", language::told(words::MATCH_BY_PLACE)));
    out
}

fn put(out: &mut String, line: std::fmt::Arguments<'_>) {
    out.push_str(&line.to_string());
    out.push('\n');
}
