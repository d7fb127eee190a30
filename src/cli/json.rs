//! Decisions as JSON: the contract other tools rely on.
//!
//! Keys carry units like the files do. Full precision, no rounding; absent is `null`, never NaN.

use crate::{
    brief::{
        Numbers,
        causes::SuspectBrief,
        decision::tell_line,
        edges::{BladeEdgesBrief, EdgeRow},
        plain, words,
    },
    domain::{
        decide::{
            BladeEdges, EdgeHistory, EdgeUse, Job, LineDecision, MachineDecision, MarkState,
            MarkVerdict, NewPack, StationState,
        },
        gauge::Bracket,
        log::BoltSpan,
        machine::{BladeId, Line, Shear},
        quantity::{Hours, Length, Torque},
        verdict::{Basis, Cold, VerdictKind, Way},
    },
};
use serde_json::{Value, json};

/// The decisions of several machines, and what must be said about the yard's gauges.
pub(crate) fn decide(decisions: &[(&Shear, MachineDecision)], notices: &[String]) -> Value {
    let shears: Vec<Value> = decisions
        .iter()
        .map(|(shear, decision)| {
            let lines: Vec<Value> = decision.lines.iter().map(|it| line(it, shear)).collect();
            json!({
                "shear": shear.id.as_str(),
                "name": shear.name,
                "meter_h": decision.meter.h(),
                "measured": decision.measured.as_ref().map(|(_, taken)| rfc3339(*taken)),
                "next_look_h": decision.next_look.h(),
                "action": words::action(decision.worst()).to_lowercase(),
                "lines": lines,
            })
        })
        .collect();
    json!({ "shears": shears, "notices": notices })
}

fn line(decision: &LineDecision, shear: &Shear) -> Value {
    let brief = tell_line(decision, shear, Numbers::default());
    let reasons: Vec<Value> = brief
        .reasons
        .iter()
        .map(|told| {
            json!({
                "text": plain(&told.text),
                "value_mm": told.value_mm,
                "limit_mm": told.limit_mm,
                "value": told.value,
                "limit": told.limit,
                "row": told.row,
                "rule": told.rule,
                "source": told.source,
            })
        })
        .collect();
    let on = shear.line(decision.line);
    let stations: Vec<Value> = decision.stations.iter().map(|it| station(it, on)).collect();
    json!({
        "line": decision.line.to_string(),
        "place": brief.place,
        "action": words::action(brief.action).to_lowercase(),
        "when": brief.when,
        "headline": brief.headline,
        "provisional": decision.provisional,
        "recipe": recipe(&decision.job),
        "notes": brief.notes,
        "bolts": brief.bolts.as_ref().map(|bolts| json!({
            "count": bolts.count,
            "order": bolts.order,
            "first_torque_nm": bolts.first.map(Torque::newton_metres),
            "torque_nm": bolts.last.map(Torque::newton_metres),
            "text": plain(&bolts.torque),
            "source": bolts.source,
            "notes": bolts.notes,
        })),
        "reasons": reasons,
        "causes": brief.causes.as_ref().map_or_else(Vec::new, |it| it.suspects.iter().map(suspect).collect()),
        "causes_text": brief.causes.as_ref().map(|it| plain(&it.head)),
        "causes_sensitivity": brief.causes.as_ref().map(|it| &it.sensitivity),
        "causes_source": brief.causes.as_ref().map(|it| &it.source),
        "edges": decision.edges.iter().zip(&brief.edges).map(blade_edges).collect::<Vec<Value>>(),
        "marks": decision.marks.iter().zip(&brief.marks).map(mark).collect::<Vec<Value>>(),
        "stations": stations,
        "hours_to_working_limit": decision.hours().map(|(station, hours)| json!({
            "station": station.to_string(),
            "limit_mm": hours.limit_mm,
            "estimate_h": hours.estimate_h,
            "low_h": hours.low_h,
            "high_h": hours.high_h,
            "confidence": hours.confidence,
            "passed": hours.passed,
            "through_break_h": hours.through_break_h,
        })),
    })
}

fn blade_edges((blade, told): (&BladeEdges, &BladeEdgesBrief)) -> Value {
    let edge = |(it, told): (&EdgeHistory, &EdgeRow)| {
        json!({
            "text": plain(&told.line()),
            "edge": it.edge,
            "state": match it.state {
                EdgeUse::Fresh => "fresh",
                EdgeUse::InUse => "in_use",
                EdgeUse::Used => "used",
            },
            "hours_h": it.hours.map(Hours::h),
            "at_least": it.at_least,
            "seen": it.seen.iter().map(words::finding).collect::<Vec<_>>(),
        })
    };
    json!({
        "blade": blade.blade.0,
        "table_h": blade.table.h(),
        "next_edge": blade.next,
        "came_from": blade.came_from.as_ref().map(|it| &it.0),
        "edges": blade.edges.iter().zip(&told.rows).map(edge).collect::<Vec<Value>>(),
    })
}

fn mark((mark, told): (&MarkState, &String)) -> Value {
    json!({
        "text": plain(told),
        "blade": mark.blade.0,
        "kind": mark.kind.key(),
        "value_mm": mark.value.mm(),
        "limit_mm": mark.limit.map(Length::mm),
        "beyond": mark.verdict == Some(MarkVerdict::Beyond),
        "verdict": mark.verdict.map(|it| match it {
            MarkVerdict::Inside => "inside",
            MarkVerdict::Soon => "soon",
            MarkVerdict::Beyond => "beyond",
        }),
        "rate_mm_per_h": mark.trend.rate_mm_per_h(),
        "hours_to_limit": mark.hours.map(|hours| json!({
            "estimate_h": hours.estimate_h,
            "low_h": hours.low_h,
            "high_h": hours.high_h,
            "confidence": hours.confidence,
            "passed": hours.passed,
        })),
    })
}

fn suspect(told: &SuspectBrief) -> Value {
    json!({
        "cause": told.name,
        "text": plain(&told.text),
        "p": told.p,
        "for": told.speaks_for,
        "against": told.speaks_against,
        "next": told.next,
    })
}

fn recipe(job: &Job) -> Vec<Value> {
    let entry = |blade: &BladeId,
                 bolts: Option<BoltSpan>,
                 put_in: &[Length],
                 take_out: &[Length],
                 edge: Option<u8>,
                 new: Option<bool>| {
        json!({
            "blade": blade.0,
            "bolts": bolts.map(|span| [span.first, span.last]),
            "put_in_mm": millimetres(put_in),
            "take_out_mm": millimetres(take_out),
            "edge": edge,
            "new_blade": new,
        })
    };
    let back = |blade: &BladeId, pack: &NewPack, edge, new| {
        entry(blade, pack.bolts, &pack.put_in, &pack.take_out, edge, new)
    };
    match job {
        Job::ChangePack { blade, bolts, plan, .. } => {
            vec![entry(blade, *bolts, &plan.put_in, &plan.take_out, None, None)]
        }
        Job::StepPack { blade, parts, .. } => parts
            .iter()
            .map(|part| entry(blade, part.bolts, &part.put_in, &part.take_out, None, None))
            .collect(),
        Job::Turn { blade, pack, .. } | Job::Fit { blade, pack } => {
            let (edge, new) = match job {
                Job::Turn { edge, .. } => (*edge, None),
                _ => (1, Some(true)),
            };
            let faced = pack.facing.iter().map(|(blade, pack)| back(blade, pack, None, None));
            std::iter::once(back(blade, pack, Some(edge), new)).chain(faced).collect()
        }
        Job::Nothing
        | Job::Measure
        | Job::OrderShims { .. }
        | Job::Retorque { .. }
        | Job::CallWelder
        | Job::FindCause => Vec::new(),
    }
}

fn station(state: &StationState, line: Option<&Line>) -> Value {
    let felt = state.felt.as_ref().map(|felt| felt.bracket);
    let cold = state.cold.as_ref().map(|cold| cold.bracket);
    let chance = state.verdict.and_then(|verdict| verdict.chance);
    json!({
        "station": state.station.to_string(),
        "go_mm": felt.map(|it| it.go().mm()),
        "no_go_mm": felt.and_then(Bracket::no_go).map(Length::mm),
        "cold_go_mm": cold.map(|it| it.go().mm()),
        "cold_no_go_mm": cold.and_then(Bracket::no_go).map(Length::mm),
        "cold_gap_mm": cold.and_then(Bracket::middle).map(Length::mm),
        "u_mm": state.cold.as_ref().and_then(Cold::u_mm),
        "hot_gap_mm": state.hot_mm,
        "verdict": state.verdict.map(|verdict| verdict_key(verdict.kind())),
        "p_below": chance.map(|it| it.below),
        "p_within": chance.map(|it| it.within),
        "p_above": chance.map(|it| it.above),
        "p_basis": chance.map(|it| basis_key(it.basis)),
        "next_leaf_mm": state.next_leaf.map(|stack| stack.thickness.mm()),
        "after_mm": state.after.map(Length::mm),
        "hot_after_mm": line.zip(state.after).map(|(line, after)| line.hot_gap_mm(after.mm())),
        "stale": state.stale,
    })
}

const fn basis_key(basis: Basis) -> &'static str {
    match basis {
        Basis::Reading => "reading",
        Basis::Leaves => "leaves",
        Basis::Trend => "trend",
    }
}

/// A verdict as other programs read it.
pub(crate) const fn verdict_key(kind: VerdictKind) -> &'static str {
    match kind {
        VerdictKind::Set => "set_range",
        VerdictKind::Working => "working",
        VerdictKind::Soon(Way::Wide) => "soon_too_wide",
        VerdictKind::Soon(Way::Tight) => "soon_too_tight",
        VerdictKind::Too(Way::Wide) => "too_wide",
        VerdictKind::Too(Way::Tight) => "too_tight",
        VerdictKind::Stop(Way::Wide) => "stop_wide",
        VerdictKind::Stop(Way::Tight) => "stop_tight",
        VerdictKind::Undecided => "undecided",
    }
}

fn millimetres(lengths: &[Length]) -> Vec<f64> {
    lengths.iter().map(|length| length.mm()).collect()
}

fn rfc3339(time: chrono::DateTime<chrono::Utc>) -> String {
    time.to_rfc3339_opts(chrono::SecondsFormat::Secs, true)
}
