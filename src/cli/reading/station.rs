//! A reading at a station of a yard: its limits, its leaves, its hand, its steel, its trend.

use crate::{
    cli::{
        WrongData,
        data::machine_named,
        open_or_sample,
        reading::{Judged, ReadingArgs},
    },
    domain::{
        decide::decide,
        log::{Counters, Observed, Session, SessionId},
        machine::StationId,
        quantity::Hours,
        verdict::{VerdictKind, cold, next_leaf, weigh},
    },
};
use anyhow::Result;
use chrono::DateTime;
use std::path::Path;

/// Judges what was typed as if it were the next reading at `at`.
pub(super) fn judge(args: &ReadingArgs, yard: &Path, shear: &str, at: StationId) -> Result<Judged> {
    let (opened, _) = open_or_sample(Some(yard))?;
    let settings = &opened.yard.settings;
    let machine = machine_named(&opened.yard, shear)?;
    let decision = decide(machine, settings);
    let known = || {
        let line = machine.shear.line(at.line)?;
        let of_line = decision.line(at.line)?;
        Some((line, of_line.stations.iter().find(|it| it.station == at)?))
    };
    let (line, state) = known().ok_or_else(|| {
        let walk: Vec<String> = machine.shear.walk().iter().map(ToString::to_string).collect();
        WrongData(format!("No station {at} on this machine; it has {}.", walk.join(", ")))
    })?;
    let kit = settings.kit();
    let meter = machine.history.last().map_or(Hours::ZERO, Session::meter_after);
    let observed = Observed {
        taken: DateTime::UNIX_EPOCH,
        at: machine.history.service_now(),
        meter,
        bracket: args.felt(kit.leaves)?,
        blade_temp: args.blade_c,
        jaw_temp: args.jaw_c,
        air_temp: args.air_c,
        leaves: None,
        session: SessionId::new(DateTime::UNIX_EPOCH, 0),
        counters: Counters::default(),
        set_aside: None,
    };
    let (cold, prior) = (cold(line, &observed, kit), state.prior(meter));
    let soon = state.verdict.and_then(|verdict| verdict.soon);
    let verdict = weigh(&cold, &line.limits, soon, settings.tolerance, prior);
    let open = verdict.kind() == VerdictKind::Undecided;
    let next = kit
        .leaves
        .filter(|_| open)
        .and_then(|set| next_leaf(set, observed.bracket, cold.shift, &line.limits, prior));
    Ok(Judged {
        cold,
        verdict,
        kind: verdict.kind(),
        tolerance: settings.tolerance,
        limits: line.limits.clone(),
        next,
        set: kit.leaves.cloned(),
    })
}
