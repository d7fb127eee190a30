//! Sessions in, present state out.
//!
//! Sessions may arrive in any order; they are sorted by time and name, amended ones give way to
//! the newest that names them, and the meter is unrolled into service hours that never run
//! backwards by a change of meter.

use crate::domain::{
    log::{
        BladeState, BoltSpan, Cut, EffectOnLine, History, Observed, Seen, Session, SessionId, Work,
    },
    machine::{BladeId, Line, Shear, Toward},
    quantity::{Hours, Length},
};
use std::collections::{BTreeMap, BTreeSet};

/// Folds sessions into history and present state.
///
/// The result does not depend on the order of `sessions`. A session amended by another gives way
/// to it; of several that amend one, the newest counts.
pub fn fold(shear: &Shear, sessions: &[Session]) -> History {
    let mut history = History {
        sessions: in_order(sessions),
        blades: shear.blades.iter().map(|blade| (blade.id.clone(), BladeState::new())).collect(),
        ..History::default()
    };
    let mut offset = Hours::ZERO;
    let mut last_meter: Option<Hours> = None;
    for session in history.sessions.clone() {
        if last_meter.is_some_and(|last| session.meter < last) {
            history.backwards.push(session.id.clone());
        }
        let at = session.meter + offset;
        let at = history.service.last().map_or(at, |last| at.max(*last));
        history.service.push(at);
        last_meter = Some(session.meter);
        history.take_readings(&session, at);
        for work in &session.work {
            history.take_work(shear, &session, work, at);
            if let Work::MeterChanged { old, new } = work {
                offset = offset + *old - *new;
                last_meter = Some(*new);
            }
        }
    }
    history
}

/// Sorted by time and name, without amended ones and duplicates.
///
/// Sessions that correct one another form a family with one root; its newest member by name, and
/// names sort by the time of signing, stands for all of it.
fn in_order(sessions: &[Session]) -> Vec<Session> {
    let amends: BTreeMap<&SessionId, Option<&SessionId>> =
        sessions.iter().map(|session| (&session.id, session.amends.as_ref())).collect();
    let mut newest: BTreeMap<&SessionId, &Session> = BTreeMap::new();
    for session in sessions {
        let root = root_of(&session.id, &amends);
        let kept = newest.entry(root).or_insert(session);
        if kept.id < session.id {
            *kept = session;
        }
    }
    let mut sorted: Vec<Session> = newest.into_values().cloned().collect();
    sorted.sort_by(|a, b| (a.taken, &a.id).cmp(&(b.taken, &b.id)));
    sorted
}

/// The first session of a family of corrections. A ring of corrections, which only a damaged
/// folder can hold, ends at its smallest name.
fn root_of<'a>(
    id: &'a SessionId,
    amends: &BTreeMap<&'a SessionId, Option<&'a SessionId>>,
) -> &'a SessionId {
    let mut seen = BTreeSet::from([id]);
    let mut root = id;
    while let Some(Some(older)) = amends.get(root) {
        if !seen.insert(older) {
            return seen.into_iter().next().unwrap_or(root);
        }
        root = older;
    }
    root
}

impl History {
    fn take_readings(&mut self, session: &Session, at: Hours) {
        for reading in &session.readings {
            self.readings.entry(reading.station).or_default().push(Observed {
                taken: session.taken,
                at,
                meter: session.meter,
                bracket: reading.bracket,
                blade_temp: reading.blade_temp,
                jaw_temp: session.jaw_temp,
                air_temp: session.air_temp,
                session: session.id.clone(),
            });
        }
        self.settle_by_readings(session);
        for finding in &session.findings {
            self.seen.push(Seen {
                finding: finding.clone(),
                taken: session.taken,
                at,
                session: session.id.clone(),
                settled: None,
            });
        }
    }

    fn take_work(&mut self, shear: &Shear, session: &Session, work: &Work, at: Hours) {
        if let Work::Lubricated = work {
            self.lubricated = Some(at);
        }
        self.settle_by_work(shear, session, work);
        let Some(blade) = work.blade() else { return };
        let Some(state) = self.blades.get_mut(blade) else { return };
        match work {
            Work::Shims { put_in, take_out, bolts, .. } => {
                state.change_pack(put_in, take_out, *bolts);
            }
            Work::Turned { edge, pack, .. } => {
                state.edges_used.insert(state.edge);
                state.edge = *edge;
                state.set_fresh(pack, at);
            }
            Work::Replaced { pack, .. } => {
                state.edges_used.clear();
                state.edge = 1;
                state.set_fresh(pack, at);
            }
            Work::Tightened { torque, .. } => state.tightened = Some((*torque, at)),
            Work::Welded { .. } | Work::Lubricated | Work::MeterChanged { .. } => {}
        }
        if !work.moves_gap() {
            return;
        }
        state.loosened = Some(at);
        self.cut_lines(shear, session, work, at);
    }

    fn cut_lines(&mut self, shear: &Shear, session: &Session, work: &Work, at: Hours) {
        let Some(blade) = work.blade() else { return };
        let touches = |line: &Line| line.moving == *blade || line.fixed == *blade;
        let pads = shear.lines.iter().any(|line| touches(line) && line.toward == Toward::Pads);
        for line in &shear.lines {
            let effect = if touches(line) {
                effect_of(work, blade)
            } else if pads && line.toward != Toward::Neither {
                Some(EffectOnLine::PadsMoved)
            } else {
                None
            };
            let Some(effect) = effect else { continue };
            self.cuts.entry(line.id).or_default().push(Cut {
                at,
                taken: session.taken,
                effect,
                session: session.id.clone(),
            });
        }
    }
}

fn effect_of(work: &Work, blade: &BladeId) -> Option<EffectOnLine> {
    let blade = blade.clone();
    match work {
        Work::Shims { put_in, take_out, .. } => {
            let total = |shims: &[Length]| -> Length { shims.iter().copied().sum() };
            Some(EffectOnLine::Shimmed { blade, by: total(put_in) - total(take_out) })
        }
        Work::Turned { edge, .. } => Some(EffectOnLine::Turned { blade, edge: *edge }),
        Work::Replaced { .. } => Some(EffectOnLine::Replaced { blade }),
        Work::Tightened { .. }
        | Work::Welded { .. }
        | Work::Lubricated
        | Work::MeterChanged { .. } => None,
    }
}

impl BladeState {
    fn set_fresh(&mut self, pack: &[Length], at: Hours) {
        self.edge_since = Some(at);
        self.pack = pack.to_vec();
        self.base_pack = Some(pack.to_vec());
    }

    /// Shims that reach only some bolts count for the pack's thickness like full ones: the pack
    /// is as thick as its thickest place.
    fn change_pack(&mut self, put_in: &[Length], take_out: &[Length], _bolts: Option<BoltSpan>) {
        for shim in take_out {
            if let Some(place) = self.pack.iter().rposition(|it| it == shim) {
                self.pack.remove(place);
            }
        }
        self.pack.extend(put_in);
        // Thick shims stand next to the seat.
        self.pack.sort_by(|a, b| b.cmp(a));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        gauge::Bracket,
        log::{Finding, FindingKind, Reading},
        machine::{Blade, Geometry, ShearId, Side},
        quantity::Torque,
    };
    use chrono::{DateTime, TimeDelta};

    /// A shear of which only the blades matter: two, with four edges each.
    fn shear() -> Shear {
        let um = Length::from_um;
        let blade = |id: &str| Blade {
            id: BladeId(id.into()),
            name: id.into(),
            side: Side::Cutting,
            near: um(100_000),
            far: um(500_000),
            depth: um(60_000),
            edges: 4,
            hours_per_edge: Hours::from_whole(400),
            bolts: None,
            pack: None,
            face_angle_deg: 0.0,
        };
        Shear {
            id: ShearId::new("dunlin").unwrap(),
            name: "Dunlin".into(),
            carrier: String::new(),
            geometry: Geometry {
                reach: um(1),
                mouth: um(1),
                cheek: um(1),
                upper_jaw: um(1),
                pivot: um(1),
                pads: um(1),
            },
            positions: vec![],
            lines: vec![],
            blades: vec![blade("lower"), blade("upper")],
            joint_step_max: um(300),
        }
    }

    fn session(hour: i64, meter: i32, work: Vec<Work>) -> Session {
        let taken = DateTime::UNIX_EPOCH + TimeDelta::hours(hour);
        Session {
            id: SessionId::new(taken, 1),
            shear: ShearId::new("dunlin").unwrap(),
            taken,
            meter: Hours::from_whole(meter),
            by: "MR".into(),
            air_temp: None,
            jaw_temp: None,
            readings: vec![],
            findings: vec![],
            work,
            note: String::new(),
            amends: None,
        }
    }

    fn lower() -> BladeId {
        BladeId("lower".into())
    }

    fn um(um: i64) -> Length {
        Length::from_um(um)
    }

    #[test]
    fn a_blade_is_what_its_log_made_of_it() {
        let shims = |put_in: &[i64], take_out: &[i64]| Work::Shims {
            blade: lower(),
            bolts: None,
            put_in: put_in.iter().map(|it| um(*it)).collect(),
            take_out: take_out.iter().map(|it| um(*it)).collect(),
        };
        let torque = Torque::from_newton_metres(640.0).unwrap();
        let sessions = [
            session(0, 100, vec![]),
            session(8, 108, vec![Work::Turned { blade: lower(), edge: 2, pack: vec![um(250)] }]),
            session(16, 116, vec![shims(&[250, 500], &[])]),
            session(24, 124, vec![shims(&[], &[250]), Work::Tightened { blade: lower(), torque }]),
            session(32, 132, vec![]),
        ];
        let history = fold(&shear(), &sessions);
        let state = &history.blades[&lower()];
        assert_eq!((state.edge, state.fresh_edges(&shear().blades[0])), (2, vec![3, 4]));
        assert_eq!(state.pack, [um(500), um(250)], "thick next to the seat, one 0.25 came out");
        assert_eq!(state.base_pack.as_deref(), Some([um(250)].as_slice()));
        assert_eq!(state.tightened, Some((torque, Hours::from_whole(124))));
        assert_eq!(history.hours_on_edge(&lower()), Some((Hours::from_whole(24), false)));
        let upper = BladeId("upper".into());
        assert_eq!(history.hours_on_edge(&upper), Some((Hours::from_whole(32), true)));
    }

    #[test]
    fn service_hours_run_on_over_a_change_of_meter() {
        let change =
            Work::MeterChanged { old: Hours::from_whole(4_010), new: Hours::from_whole(12) };
        let sessions = [
            session(0, 4_000, vec![]),
            session(8, 4_008, vec![change]),
            session(16, 18, vec![]),
            session(24, 26, vec![]),
        ];
        let history = fold(&shear(), &sessions);
        let service: Vec<f64> = history.service.iter().map(|hours| hours.h()).collect();
        assert_eq!(service, [4_000.0, 4_008.0, 4_016.0, 4_024.0]);
        assert!(history.backwards.is_empty());
        let slip = fold(&shear(), &[session(0, 4_000, vec![]), session(8, 3_990, vec![])]);
        assert_eq!(slip.backwards.len(), 1);
        assert_eq!(slip.service_now(), Hours::from_whole(4_000), "service never runs backwards");
    }

    #[test]
    fn a_correction_stands_in_for_what_it_corrects() {
        let first = session(0, 100, vec![]);
        let mut second = session(0, 101, vec![]);
        second.id = SessionId::new(first.taken + TimeDelta::hours(1), 2);
        second.amends = Some(first.id.clone());
        let mut third = session(0, 102, vec![]);
        third.id = SessionId::new(first.taken + TimeDelta::hours(2), 3);
        third.amends = Some(second.id.clone());
        let history = fold(&shear(), &[third.clone(), first, second]);
        assert_eq!(history.sessions, [third]);
    }

    #[test]
    fn a_jam_is_open_until_somebody_looks() {
        let kind = FindingKind::Jam;
        let mut jam = session(8, 104, vec![]);
        jam.findings.push(Finding {
            kind,
            line: None,
            station: None,
            size: None,
            note: String::new(),
        });
        let mut look = session(9, 104, vec![]);
        look.readings.push(Reading {
            station: "S1".parse().unwrap(),
            bracket: Bracket::new(um(400), Some(um(450))).unwrap(),
            blade_temp: None,
        });
        assert!(!fold(&shear(), &[look, jam.clone()]).due_at_once());
        assert!(fold(&shear(), &[session(0, 100, vec![]), jam]).due_at_once());
    }

    mod laws {
        use super::*;
        use proptest::prelude::*;

        proptest! {
            /// Copies of a yard merge by copying files: in whatever order sessions arrive, and
            /// however often, the state is the same.
            #[test]
            fn the_order_of_arrival_does_not_matter(
                steps in proptest::collection::vec((0_i32..12, 0_u8..5, proptest::option::of(0_usize..8)), 1..8),
                shuffle in any::<u64>(),
            ) {
                let mut sessions: Vec<Session> = Vec::new();
                for (place, (hours, what, amends)) in steps.into_iter().enumerate() {
                    let work = match what {
                        0 => vec![Work::Turned { blade: lower(), edge: 2, pack: vec![] }],
                        1 => vec![Work::Shims {
                            blade: lower(), bolts: None, put_in: vec![um(100)], take_out: vec![],
                        }],
                        2 => vec![Work::MeterChanged {
                            old: Hours::from_whole(900), new: Hours::ZERO,
                        }],
                        _ => vec![],
                    };
                    let place_h = i64::try_from(place).unwrap();
                    let mut session = session(place_h * 8, 100 + hours, work);
                    session.amends =
                        amends.and_then(|it| sessions.get(it)).map(|it: &Session| it.id.clone());
                    sessions.push(session);
                }
                let whole = fold(&shear(), &sessions);
                let mut other = sessions.clone();
                let middle = usize::try_from(shuffle % 8).unwrap() % other.len();
                other.rotate_left(middle);
                other.reverse();
                other.extend(sessions.first().cloned());
                prop_assert_eq!(fold(&shear(), &other), whole);
            }
        }
    }
}
