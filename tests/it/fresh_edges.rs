//! The promise about fresh edges, against a jaw whose true gaps are known.
//!
//! A made-up crew wears, shims, turns and replaces blades in any order and writes down what leaves
//! can feel. The recipe for the next fresh edge sees the log alone; the jaw then says what gap it
//! would really leave.

use chrono::{DateTime, TimeDelta, Utc};
use gapwright::{
    domain::{
        decide::{Job, NewPack, decide},
        gauge::Bracket,
        log::{Counters, Finding, FindingKind, Reading, Session, SessionId, Work},
        machine::{BladeId, Line, LineId, Shear},
        quantity::{Hours, Length},
        yard::{Machine, Settings, Yard},
    },
    store,
};
use proptest::prelude::*;
use std::{cell::Cell, collections::BTreeMap, path::Path};

/// What a crew does between two looks.
#[derive(Clone, Debug)]
enum Step {
    /// Cuts for some hours; both blades wear.
    Cut { hours: i32, wear_um: [i64; 2] },
    /// Measures every station of the line.
    Look,
    /// Puts a shim in behind one of the two blades, the fixed one first.
    PutIn { which: usize, um: i64 },
    /// Takes the newest shim out.
    TakeOut { which: usize },
    /// Turns a blade, with this pack behind it.
    Turn { which: usize, pack: Vec<i64> },
    /// Moves the whole upper jaw at the pads.
    Pads { um: i64 },
}

/// One line with its true gap.
struct Jaw {
    shear: Shear,
    line: Line,
    settings: Settings,
    /// The gap with two fresh edges and no shims, in mm.
    slot_mm: f64,
    wear_mm: BTreeMap<BladeId, f64>,
    pack: BTreeMap<BladeId, Vec<Length>>,
    meter: i32,
    sessions: Vec<Session>,
}

fn um(um: i64) -> Length {
    Length::from_um(um)
}

fn total_mm(shims: &[Length]) -> f64 {
    shims.iter().map(|shim| shim.mm()).sum()
}

impl Jaw {
    /// Two fresh edges and no shim leave this much more than the working minimum.
    fn new(yard: &Yard, line: LineId, spare_mm: f64) -> Self {
        let shear = yard.machines[0].shear.clone();
        let line = shear.line(line).unwrap().clone();
        let slot_mm = line.limits.working().min.mm() + spare_mm;
        Self {
            shear,
            line,
            settings: yard.settings.clone(),
            slot_mm,
            wear_mm: BTreeMap::new(),
            pack: BTreeMap::new(),
            meter: 1_000,
            sessions: vec![],
        }
    }

    fn blade(&self, which: usize) -> BladeId {
        if which == 0 { self.line.fixed.clone() } else { self.line.moving.clone() }
    }

    fn gap_mm(&self) -> f64 {
        let blades = [&self.line.fixed, &self.line.moving];
        let each = blades.map(|id| {
            let angle = self.shear.blade(id).unwrap().face_angle_deg.to_radians();
            let shims = self.pack.get(id).map_or(0.0, |pack| total_mm(pack));
            self.wear_mm.get(id).copied().unwrap_or(0.0) - shims * angle.cos()
        });
        self.slot_mm + each[0] + each[1]
    }

    fn log(&mut self, change: impl FnOnce(&mut Session)) {
        let taken = DateTime::<Utc>::UNIX_EPOCH
            + TimeDelta::minutes(i64::try_from(self.sessions.len()).unwrap())
            + TimeDelta::hours(i64::from(self.meter));
        let mut session = Session {
            id: SessionId::new(taken, 1),
            shear: self.shear.id.clone(),
            taken,
            meter: Hours::from_whole(self.meter),
            by: "QX".into(),
            air_temp: None,
            jaw_temp: None,
            readings: vec![],
            findings: vec![],
            work: vec![],
            counters: Counters::default(),
            marks: vec![],
            remarks: vec![],
            note: String::new(),
            amends: None,
        };
        change(&mut session);
        self.sessions.push(session);
    }

    /// As leaves 0.05 mm apart feel it; faces that push each other let none in.
    fn look(&mut self) {
        let steps = (self.gap_mm() / 0.05).floor().max(0.0);
        let go = Length::from_mm(steps * 0.05).unwrap();
        let bracket = Bracket::new(go, Some(go + um(50))).unwrap();
        let stations: Vec<_> = self.line.stations.iter().map(|it| it.id).collect();
        self.log(|session| {
            let felt = |station| Reading { station, bracket, blade_temp: None, leaves: None };
            session.readings = stations.into_iter().map(felt).collect();
        });
    }

    fn work(&mut self, work: Work) {
        if let (Some(blade), Work::Turned { pack, .. } | Work::Replaced { pack, .. }) =
            (work.blade().cloned(), &work)
        {
            self.wear_mm.insert(blade.clone(), 0.0);
            self.pack.insert(blade, pack.clone());
        }
        if let Work::Shims { blade, put_in, take_out, .. } = &work {
            let pack = self.pack.entry(blade.clone()).or_default();
            for shim in take_out {
                pack.remove(pack.iter().position(|it| it == shim).unwrap());
            }
            pack.extend(put_in);
        }
        self.log(|session| session.work.push(work));
    }

    fn act(&mut self, step: &Step) {
        match step {
            Step::Cut { hours, wear_um } => {
                self.meter += hours;
                for (which, wear) in wear_um.iter().enumerate() {
                    let wear = um(*wear).mm() * f64::from(*hours);
                    *self.wear_mm.entry(self.blade(which)).or_default() += wear;
                }
            }
            Step::Look => self.look(),
            Step::PutIn { which, um: shim } => {
                let (blade, put_in) = (self.blade(*which), vec![um(*shim)]);
                self.work(Work::Shims { blade, bolts: None, put_in, take_out: vec![] });
            }
            Step::TakeOut { which } => {
                let blade = self.blade(*which);
                let newest = self.pack.get(&blade).and_then(|pack| pack.last().copied());
                let Some(shim) = newest else { return };
                let take_out = vec![shim];
                self.work(Work::Shims { blade, bolts: None, put_in: vec![], take_out });
            }
            Step::Turn { which, pack } => {
                let pack = pack.iter().map(|it| um(*it)).collect();
                self.work(Work::Replaced { blade: self.blade(*which), pack });
            }
            Step::Pads { um: by } => {
                self.slot_mm += um(*by).mm();
                let pads = self.shear.line(LineId::J).unwrap().fixed.clone();
                let put_in = vec![um(100)];
                self.work(Work::Shims { blade: pads, bolts: None, put_in, take_out: vec![] });
            }
        }
    }

    /// Sees a chip, and does what the recipe says.
    fn turn_by_recipe(&mut self) -> Option<NewPack> {
        self.look();
        let line = self.line.id;
        self.log(|session| {
            session.findings.push(Finding {
                kind: FindingKind::ChippedEdge,
                line: Some(line),
                station: None,
                size: None,
                note: String::new(),
            });
        });
        let machine = Machine::new(self.shear.clone(), self.sessions.clone());
        let decision = decide(&machine, &self.settings);
        let decision = decision.line(line).unwrap();
        let (Job::Turn { pack, .. } | Job::Fit { pack, .. }) = &decision.job else { return None };
        for work in decision.as_work(&self.shear) {
            self.work(work);
        }
        Some(pack.clone())
    }
}

fn any_step() -> impl Strategy<Value = Step> {
    let shim = || prop::sample::select(vec![100_i64, 250, 400]);
    let pack = || proptest::collection::vec(prop::sample::select(vec![100_i64, 250]), 0..3);
    prop_oneof![
        3 => (1..7_i32, [0..4_i64, 0..4_i64])
            .prop_map(|(hours, wear_um)| Step::Cut { hours, wear_um }),
        1 => (30..90_i32, [0..4_i64, 0..4_i64])
            .prop_map(|(hours, wear_um)| Step::Cut { hours, wear_um }),
        4 => Just(Step::Look),
        2 => (0..2_usize, shim()).prop_map(|(which, um)| Step::PutIn { which, um }),
        1 => (0..2_usize).prop_map(|which| Step::TakeOut { which }),
        2 => (0..2_usize, pack()).prop_map(|(which, pack)| Step::Turn { which, pack }),
        1 => (-40..40_i64).prop_map(|um| Step::Pads { um }),
    ]
}

/// What a blade wears in eight hours at most, before it is first measured.
const FIRST_WEAR_MM: f64 = 0.003 * 8.0;

#[test]
fn no_fresh_edge_leaves_a_gap_under_the_working_minimum() {
    let lines = ['P', 'T', 'F', 'G'].map(|it| LineId::new(it).unwrap()).to_vec();
    let case =
        (prop::sample::select(lines), 0..400_i64, proptest::collection::vec(any_step(), 0..24));
    let (turned, kept) = (Cell::new(0), Cell::new(0));
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions");
    let yard = store::open(&folder).unwrap().yard;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let run = runner.run(&case, |(line, spare_um, steps)| {
        // Something to spare for work at the pads.
        let mut jaw = Jaw::new(&yard, line, 0.5 + um(spare_um).mm());
        let min = jaw.line.limits.working().min;
        for step in &steps {
            jaw.act(step);
        }
        let Some(pack) = jaw.turn_by_recipe() else { return Ok(()) };
        turned.set(turned.get() + 1);
        kept.set(kept.get() + i32::from(!pack.pack.is_empty()));
        let gap = jaw.gap_mm();
        prop_assert!(
            min.mm() - FIRST_WEAR_MM <= gap + 1e-9,
            "{gap:.3} mm is left on {line} after {pack:?}"
        );
        Ok(())
    });
    run.unwrap();
    assert!(100 < turned.get() && 10 < kept.get(), "{turned:?} turned, {kept:?} kept a pack");
}
