//! What was done to a line and when, as marks on its trend.

use crate::{
    brief::{Numbers, words},
    domain::{
        log::{Cut, EffectOnLine},
        machine::Shear,
        quantity::Length,
        trend::Axis,
    },
    language::tell,
};

/// What was done to a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EventKind {
    /// It moved and nobody wrote down why.
    Moved,
    /// Work at the guide pads.
    Pads,
    /// Shims in or out.
    Shims,
    /// Another edge: turned, or come from another place.
    Turned,
    /// A new blade.
    Fitted,
}

/// One intervention.
#[derive(Clone, Debug, PartialEq)]
pub struct EventBrief {
    /// Service hours.
    pub at_h: f64,
    /// What kind.
    pub kind: EventKind,
    /// `Shim +0.50`.
    pub title: String,
    /// `4 520 h`.
    pub hours: String,
}

/// Interventions, those of one session as one event.
pub(crate) fn events(cuts: &[Cut], shear: &Shear, n: Numbers) -> Vec<EventBrief> {
    let moved = |cut: &Cut| matches!(cut.effect, EffectOnLine::Moved(_));
    cuts.chunk_by(|a, b| a.session == b.session && moved(a) == moved(b))
        .filter_map(|cuts| {
            let first = cuts.first()?;
            let at_h = n.per.of(first.at, first.counters)?;
            let kind = cuts.iter().map(|cut| kind_of(&cut.effect)).max()?;
            Some(EventBrief {
                at_h,
                kind,
                title: event_title(cuts, kind, shear, n),
                hours: n.along(at_h),
            })
        })
        .collect()
}

/// The newest one: service hours, and what kind.
pub(crate) fn newest(cuts: &[Cut], per: Axis) -> Option<(f64, EventKind)> {
    let last = cuts.last()?;
    let same = cuts.iter().rev().take_while(|cut| cut.session == last.session);
    let kind = same.map(|cut| kind_of(&cut.effect)).max()?;
    Some((per.of(last.at, last.counters)?, kind))
}

const fn kind_of(effect: &EffectOnLine) -> EventKind {
    match effect {
        EffectOnLine::PadsMoved => EventKind::Pads,
        EffectOnLine::Moved(_) => EventKind::Moved,
        EffectOnLine::Shimmed { .. } => EventKind::Shims,
        EffectOnLine::Turned { .. } | EffectOnLine::Swapped { .. } => EventKind::Turned,
        EffectOnLine::Replaced { .. } => EventKind::Fitted,
    }
}

fn event_title(cuts: &[Cut], kind: EventKind, shear: &Shear, n: Numbers) -> String {
    let name = |blade| crate::brief::reason::blade_name(shear, blade);
    let blades: Vec<&str> = cuts
        .iter()
        .filter(|cut| kind_of(&cut.effect) == kind)
        .filter_map(|cut| match &cut.effect {
            EffectOnLine::Turned { blade, .. } | EffectOnLine::Replaced { blade } => {
                Some(name(blade))
            }
            EffectOnLine::Shimmed { .. }
            | EffectOnLine::Swapped { .. }
            | EffectOnLine::PadsMoved
            | EffectOnLine::Moved(_) => None,
        })
        .collect();
    let swapped = cuts.iter().any(|cut| matches!(cut.effect, EffectOnLine::Swapped { .. }));
    match (kind, blades.as_slice()) {
        (EventKind::Turned, []) if swapped => tell!("Blades changed places").to_owned(),
        (EventKind::Turned, [blade]) => words::capital(&tell!("{blade} turned", blade)),
        (EventKind::Turned, _) => tell!("Both blades turned").to_owned(),
        (EventKind::Fitted, [blade]) => tell!("New {blade}", blade),
        (EventKind::Fitted, _) => tell!("Both blades new").to_owned(),
        (EventKind::Pads, _) => tell!("Guide pads moved").to_owned(),
        (EventKind::Moved, _) => tell!("Moved, cause unknown").to_owned(),
        (EventKind::Shims, _) => {
            let by: Length = cuts
                .iter()
                .filter_map(|cut| match &cut.effect {
                    EffectOnLine::Shimmed { by, .. } => Some(*by),
                    _ => None,
                })
                .sum();
            let sign = if by < Length::ZERO { "−" } else { "+" };
            tell!("Shim {sign}{change}", sign, change = n.length(by.abs()))
        }
    }
}
