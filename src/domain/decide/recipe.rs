//! The recipe for a gap: which shims go in and out behind a blade.

use crate::domain::{
    decide::{PackPart, StationState, machine::Context},
    log::{BladeState, BoltSpan},
    machine::{Blade, Line, PackRules, Station, StationId, Toward},
    quantity::Length,
    shims::{Bed, BedPlan, Goal, PackPlan, Seat, Shortfall, plan, plan_beds},
};

/// A pack that was found, with the seat it was found for.
pub(crate) struct Planned {
    pub(crate) plan: PackPlan,
    pub(crate) bolts: Option<BoltSpan>,
    pub(crate) seat: Seat,
}

/// The pack that brings every measured station of a line into its set range.
///
/// The smallest gap aimed at is the set minimum, or more where the hot gap would otherwise fall
/// below its own minimum.
pub(crate) fn plan_pack(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
) -> Result<Planned, Shortfall> {
    let (needed, allowed) = (least(line), line.limits.set().max);
    if allowed < needed {
        return Err(Shortfall::HotAboveSet { needed, allowed });
    }
    plan_up_to(context, line, states, allowed)
}

/// The pack that opens a line far enough everywhere, no wider than its working limits allow.
///
/// For a line that is too tight where the set range cannot hold all its stations: as little above
/// the set range as their difference asks for, or farther if the shelf has no other way.
pub(crate) fn plan_opening(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
) -> Result<Planned, Shortfall> {
    let gaps = || states.iter().filter_map(StationState::expected);
    let spread = gaps().max().zip(gaps().min()).map_or(Length::ZERO, |(most, least)| most - least);
    let (set, working) = (line.limits.set().max, line.limits.working().max);
    let near = (set.max(least(line)) + spread).min(working);
    plan_up_to(context, line, states, near)
        .or_else(|_no_way| plan_up_to(context, line, states, working))
}

/// The smallest gap to leave at 20 °C.
fn least(line: &Line) -> Length {
    let opening = Length::from_mm(line.hot_gap_mm(0.0)).unwrap_or(Length::ZERO);
    line.limits.set().min.max(line.limits.hot_min() - opening)
}

fn plan_up_to(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
    max: Length,
) -> Result<Planned, Shortfall> {
    let seat = seat(context, line, states, max).ok_or(Shortfall::NothingToGoBy)?;
    let bolts = context.shear.blade(&line.fixed).and_then(all_bolts);
    Ok(Planned { plan: plan(&seat, context.shelf)?, bolts, seat })
}

/// The seat behind the fixed blade of a line, with every measured station in front of it.
fn seat(context: &Context<'_>, line: &Line, states: &[StationState], max: Length) -> Option<Seat> {
    let blade = context.shear.blade(&line.fixed)?;
    let state = context.history.blades.get(&line.fixed)?;
    let min = least(line);
    let goals = states
        .iter()
        .filter_map(|state| {
            let gap = state.expected()?;
            Some(Goal { span: span(line, state.station), ..Goal::within(gap, min, max) })
        })
        .collect();
    let closes = blade.face_angle_deg.to_radians().cos();
    let rules = with_room(blade.pack?, state);
    Some(Seat { goals, closes, pack: state.pack.clone(), rules, step: None })
}

/// What the shims at some of the bolts leave of the rules for a full-length pack.
fn with_room(rules: PackRules, state: &BladeState) -> PackRules {
    let full: Length = state.pack.iter().copied().sum();
    let starts = state.at_bolts.iter().map(|(span, _)| state.pack_at(span.first).len());
    let most = starts.max().map_or(0, |most| most - state.pack.len());
    PackRules {
        most_shims: rules.most_shims.saturating_sub(u8::try_from(most).unwrap_or(u8::MAX)),
        thickest: rules.thickest - (state.pack_total() - full),
        step: rules.step,
    }
}

/// A blade whose packs may differ from bolt to bolt, as it is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Stepped {
    /// What stands behind it, and what is wanted.
    pub(crate) bed: Bed,
    /// For each seat its bolts, and the places of its stations among the measured ones.
    segments: Vec<(BoltSpan, Vec<usize>)>,
}

impl Stepped {
    /// What a plan changes, full-length shims first, and the gaps afterwards, in the order of the
    /// measured stations.
    pub(crate) fn carry(&self, planned: &BedPlan) -> (Vec<PackPart>, Vec<Length>) {
        let whole =
            PackPart { bolts: None, put_in: Vec::new(), take_out: planned.take_out.clone() };
        let seats = || self.segments.iter().zip(&planned.plans);
        let at_bolts = seats().map(|((span, _), plan)| PackPart {
            bolts: Some(*span),
            put_in: plan.put_in.clone(),
            take_out: plan.take_out.clone(),
        });
        let mut after: Vec<(usize, Length)> = seats()
            .flat_map(|((_, stations), plan)| stations.iter().copied().zip(plan.after.clone()))
            .collect();
        after.sort_by_key(|(place, _)| *place);
        (
            std::iter::once(whole).chain(at_bolts).filter(PackPart::moves).collect(),
            after.into_iter().map(|(_, gap)| gap).collect(),
        )
    }
}

impl Stepped {
    /// How much thicker the pack gets at its thickest place: what the rules count.
    pub(crate) fn grown(&self, parts: &[PackPart]) -> Length {
        let change = |bolts: Option<BoltSpan>| -> Length {
            parts.iter().filter(|part| part.bolts == bolts).map(PackPart::grown).sum()
        };
        let thickest = |thick: &dyn Fn(&Seat, BoltSpan) -> Length| {
            let seats = self.bed.seats.iter().zip(&self.segments);
            seats.map(|(seat, (span, _))| thick(seat, *span)).max().unwrap_or_default()
        };
        let before = thickest(&|seat, _| seat.total_now());
        let after = thickest(&|seat, span| seat.total_now() + change(Some(span)));
        change(None) + after - before
    }
}

/// Packs at the bolts that bring every measured station of a tapered line into its set range.
///
/// Each bolt serves the station nearest to it. `None` for a blade that takes only full-length
/// packs, for one across the jaw, and where there is no way.
pub(crate) fn plan_steps(
    context: &Context<'_>,
    line: &Line,
    states: &[StationState],
) -> Option<(Stepped, BedPlan)> {
    let blade = context.shear.blade(&line.fixed)?;
    let rules = blade.pack.filter(|rules| rules.step.is_some())?;
    let state = context.history.blades.get(&line.fixed)?;
    let whole = seat(context, line, states, line.limits.set().max)?;
    let along = matches!(line.toward, Toward::Cutting | Toward::Guide);
    let places: Option<Vec<Length>> = states
        .iter()
        .filter(|state| state.expected().is_some())
        .map(|state| context.shear.station(state.station))
        .map(|station| station.filter(|_| along).map(|it| it.from_pivot))
        .collect();
    let segments = segments(&places?, &blade.bolts.as_ref()?.from_pivot);
    let seat = |(span, stations): &(BoltSpan, Vec<usize>)| {
        let here = state.at_bolts.iter().filter(|(at, _)| at == span);
        let goal = |place: &usize| whole.goals.get(*place).copied();
        Seat {
            goals: stations.iter().filter_map(goal).collect(),
            pack: here.map(|(_, shim)| *shim).collect(),
            rules,
            step: rules.step,
            closes: whole.closes,
        }
    };
    let seats: Vec<Seat> = segments.iter().map(seat).collect();
    // A shim that reaches other bolts than these would stand in the way.
    let known = seats.iter().map(|seat| seat.pack.len()).sum::<usize>();
    if segments.len() < 2 || known < state.at_bolts.len() {
        return None;
    }
    let stepped = Stepped { bed: Bed { full: state.pack.clone(), seats }, segments };
    let planned = plan_beds(std::slice::from_ref(&stepped.bed), context.shelf).ok()?;
    let alone = planned.beds.into_iter().next()?;
    Some((stepped, alone))
}

/// The bolts that serve the same stations, pivot end first, with the places of those stations.
fn segments(stations: &[Length], bolts: &[Length]) -> Vec<(BoltSpan, Vec<usize>)> {
    let nearest = |to: Length, among: &[Length]| -> Option<usize> {
        (0..among.len()).min_by_key(|place| among.get(*place).map(|it| (*it - to).abs()))
    };
    let mut found: Vec<(BoltSpan, Vec<usize>)> = Vec::new();
    for (at, number) in bolts.iter().zip(1_u8..) {
        let Some(station) = nearest(*at, stations) else { continue };
        match found.last_mut().filter(|(_, served)| served.first() == Some(&station)) {
            Some((span, _)) => span.last = number,
            None => found.push((BoltSpan { first: number, last: number }, vec![station])),
        }
    }
    // A station that no bolt is nearest to goes with its own nearest bolt.
    for (place, at) in stations.iter().enumerate() {
        let bolt = nearest(*at, bolts).and_then(|bolt| u8::try_from(bolt + 1).ok());
        let served = found.iter().any(|(_, stations)| stations.contains(&place));
        let home = found.iter_mut().find(|(span, _)| bolt.is_some_and(|it| span.reaches(it)));
        if let Some((_, stations)) = home.filter(|_| !served) {
            stations.push(place);
        }
    }
    found
}

/// The length of blade a station speaks for: halfway to its neighbours on both sides.
fn span(line: &Line, station: StationId) -> Length {
    let along = |it: &Station| it.across.unwrap_or(it.from_pivot);
    let Some(place) = line.stations.iter().position(|it| it.id == station) else {
        return Length::ZERO;
    };
    let here = line.stations.get(place).map(along).unwrap_or_default();
    let to = |place: Option<usize>| {
        let there = place.and_then(|place| line.stations.get(place)).map(along);
        there.map(|there| (there - here).abs())
    };
    let (before, after) = (to(place.checked_sub(1)), to(Some(place + 1)));
    // An end station speaks as far outward as inward.
    match (before, after) {
        (Some(before), Some(after)) => (before + after).half(),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => Length::from_um(1_000),
    }
}

/// The two stations that no one pack brings into range, by their places among the measured ones.
pub(crate) fn apart(states: &[StationState], why: Shortfall) -> Option<(StationId, StationId)> {
    let Shortfall::Tapered { wide, tight, .. } = why else { return None };
    let measured: Vec<StationId> = states
        .iter()
        .filter(|state| state.expected().is_some())
        .map(|state| state.station)
        .collect();
    Some((*measured.get(wide)?, *measured.get(tight)?))
}

/// All bolts of a blade; `None` for one without bolts.
pub(crate) fn all_bolts(blade: &Blade) -> Option<BoltSpan> {
    let last = u8::try_from(blade.bolts.as_ref()?.from_pivot.len()).ok()?;
    (1 <= last).then_some(BoltSpan { first: 1, last })
}

/// The packs of all bolts used to be added up, as if they stood on top of each other.
#[test]
fn a_stepped_pack_grows_by_its_thickest_bolt() {
    let um = Length::from_um;
    let rules = PackRules { most_shims: 6, thickest: um(3_000), step: Some(um(150)) };
    let seat = |pack: &[i64]| Seat {
        goals: Vec::new(),
        closes: 1.0,
        pack: pack.iter().map(|it| um(*it)).collect(),
        rules,
        step: rules.step,
    };
    let at = |bolt| BoltSpan { first: bolt, last: bolt };
    let stepped = Stepped {
        bed: Bed { full: vec![um(500)], seats: vec![seat(&[]), seat(&[100]), seat(&[])] },
        segments: (1..=3).map(|bolt| (at(bolt), Vec::new())).collect(),
    };
    let part = |bolts, put_in: &[i64], take_out: &[i64]| PackPart {
        bolts,
        put_in: put_in.iter().map(|it| um(*it)).collect(),
        take_out: take_out.iter().map(|it| um(*it)).collect(),
    };
    let first = part(Some(at(1)), &[200], &[]);
    let second = part(Some(at(2)), &[150], &[]);
    let third = part(Some(at(3)), &[250], &[]);
    assert_eq!(stepped.grown(&[first.clone(), second.clone(), third.clone()]), um(150));
    let out = part(None, &[], &[500]);
    assert_eq!(stepped.grown(&[out, first, second, third]), um(-350));
    assert_eq!(stepped.grown(&[part(Some(at(1)), &[50], &[])]), um(0), "bolt 2 is thicker");
}
