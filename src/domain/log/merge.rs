//! One unsigned visit that two windows wrote, brought together.
//!
//! Knows what both started from, what each of them made of it, and that nothing confirmed may be
//! lost. Does not know windows or files.

use crate::domain::{
    log::{Reading, Session},
    machine::StationId,
};
use std::collections::BTreeSet;

/// What comes of a visit that was `base` when both began, is `theirs` on the disk by now, and
/// `ours` in this window.
///
/// What only one of them changed is as that one left it. Where both measured one station, both
/// readings stay, ours behind theirs, so that ours is the newest; where one took a reading back
/// that the other measured again, the reading stays. Words of both stand below each other; of a
/// number that both changed, ours counts.
pub fn merge(base: Option<&Session>, theirs: &Session, ours: &Session) -> Session {
    if base == Some(theirs) {
        return ours.clone();
    }
    if base == Some(ours) || theirs == ours {
        return theirs.clone();
    }
    let stations: BTreeSet<StationId> =
        theirs.readings.iter().chain(&ours.readings).map(|it| it.station).collect();
    let at = |session: &Session, station: StationId| -> Vec<Reading> {
        session.readings.iter().filter(|it| it.station == station).cloned().collect()
    };
    let mut readings = Vec::new();
    for station in in_order(&stations, theirs, ours) {
        let was = base.map_or_else(Vec::new, |base| at(base, station));
        let (theirs, ours) = (at(theirs, station), at(ours, station));
        if theirs == was {
            readings.extend(ours);
        } else if ours == was || ours == theirs {
            readings.extend(theirs);
        } else {
            let both = theirs.into_iter().filter(|it| !ours.contains(it)).collect::<Vec<_>>();
            readings.extend(both.into_iter().chain(ours));
        }
    }
    let was = base.unwrap_or(theirs);
    Session {
        meter: newer(&was.meter, theirs.meter, ours.meter),
        by: newer(&was.by, theirs.by.clone(), ours.by.clone()),
        air_temp: newer(&was.air_temp, theirs.air_temp, ours.air_temp),
        jaw_temp: newer(&was.jaw_temp, theirs.jaw_temp, ours.jaw_temp),
        counters: newer(&was.counters, theirs.counters, ours.counters),
        amends: newer(&was.amends, theirs.amends.clone(), ours.amends.clone()),
        readings,
        findings: together(base.map(|it| &it.findings), &theirs.findings, &ours.findings),
        marks: together(base.map(|it| &it.marks), &theirs.marks, &ours.marks),
        work: together(base.map(|it| &it.work), &theirs.work, &ours.work),
        remarks: together(base.map(|it| &it.remarks), &theirs.remarks, &ours.remarks),
        note: words(&was.note, &theirs.note, &ours.note),
        ..ours.clone()
    }
}

/// Stations in the order in which they were measured, theirs first.
fn in_order(stations: &BTreeSet<StationId>, theirs: &Session, ours: &Session) -> Vec<StationId> {
    let mut left = stations.clone();
    let measured = theirs.readings.iter().chain(&ours.readings).map(|it| it.station);
    measured.filter(|station| left.remove(station)).collect()
}

fn newer<T: PartialEq>(was: &T, theirs: T, ours: T) -> T {
    if ours == *was { theirs } else { ours }
}

/// Everything that is in both, and everything that one of them added.
fn together<T: PartialEq + Clone>(was: Option<&Vec<T>>, theirs: &[T], ours: &[T]) -> Vec<T> {
    let known = |it: &T| was.is_some_and(|was| was.contains(it));
    let kept = theirs.iter().filter(|it| ours.contains(it) || !known(it));
    let added = ours.iter().filter(|it| !theirs.contains(it) && !known(it));
    kept.chain(added).cloned().collect()
}

fn words(was: &str, theirs: &str, ours: &str) -> String {
    if ours == was || ours == theirs {
        theirs.to_owned()
    } else if theirs == was || theirs.is_empty() {
        ours.to_owned()
    } else {
        format!("{theirs}\n{ours}")
    }
}
