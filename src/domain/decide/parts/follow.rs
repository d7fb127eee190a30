//! One blade followed through the hours.
//!
//! Knows pack, edges and growth; does not know what lies on the shelf.

use crate::domain::{
    decide::{
        Job, MachineDecision,
        outlook::{Outlook, decision_on, edge_left_h, fresh_edges},
        parts::steps,
    },
    machine::Blade,
    quantity::Length,
    yard::Machine,
};

/// Equally likely growths of a line that are followed.
const CASES: u8 = 100;
/// More work than this on one blade is no forecast any more.
const JOBS_MOST: usize = 200;

/// What one blade has used up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Used {
    /// New blades.
    pub(super) blades: usize,
    /// Steps of shims.
    pub(super) shims: usize,
}

/// A blade on its way.
struct Blades {
    used: Used,
    fresh: usize,
    edge_left_h: f64,
    gap_mm: f64,
    room_mm: f64,
}

/// What a blade uses up in each of the equally likely growths of its line.
pub(super) fn follow(
    machine: &Machine,
    decision: &MachineDecision,
    blade: &Blade,
    within_h: f64,
) -> Vec<Used> {
    let on = decision_on(machine, &decision.lines, &blade.id);
    let outlook = on.and_then(|it| Outlook::of(machine, it));
    let table_h = blade.hours_per_edge.h();
    let fresh = fresh_edges(&machine.history, blade);
    let case = |case: u8| {
        let share = (f64::from(case) + 0.5) / f64::from(CASES);
        let growth = outlook.as_ref().map_or(0.0, |it| it.growth_mm(within_h, share));
        let rate = growth / within_h.max(f64::MIN_POSITIVE);
        let mut now = Blades {
            used: Used::default(),
            fresh,
            edge_left_h: edge_left_h(&machine.history, blade).unwrap_or(f64::INFINITY),
            gap_mm: outlook.as_ref().map_or(0.0, |it| it.gap_mm),
            room_mm: outlook.as_ref().map_or(0.0, |it| it.room_mm),
        };
        let target = outlook.as_ref().map_or(0.0, |it| it.target_mm);
        let (limit, full) =
            outlook.as_ref().map_or((f64::INFINITY, 0.0), |it| (it.limit_mm, it.fresh_room_mm));
        for line in &decision.lines {
            now.today(&line.job, blade, (target, full));
        }
        let mut left_h = within_h;
        for _ in 0..JOBS_MOST {
            let room = (limit - now.gap_mm).max(0.0);
            let to_limit = if 0.0 < rate { room / rate } else { f64::INFINITY };
            let next = to_limit.min(now.edge_left_h);
            if left_h < next || table_h <= 0.0 {
                break;
            }
            left_h -= next;
            now.edge_left_h -= next;
            now.gap_mm = (now.gap_mm + rate * next).max(target);
            let closes = now.gap_mm - target;
            if now.edge_left_h <= 0.0 || now.room_mm < closes || closes <= 0.0 {
                now.fresh_edge(blade, (target, full));
            } else {
                now.shim(blade, target);
            }
        }
        now.used
    };
    (0..CASES).map(case).collect()
}

impl Blades {
    /// What the decision of today does to the blade.
    fn today(&mut self, job: &Job, blade: &Blade, (target, full): (f64, f64)) {
        match job {
            Job::Fit { blade: it, .. } if *it == blade.id => {
                self.fresh = 0;
                self.fresh_edge(blade, (target, full));
            }
            Job::Turn { blade: it, .. } if *it == blade.id => {
                self.fresh_edge(blade, (target, full));
            }
            Job::ChangePack { blade: it, .. } | Job::StepPack { blade: it, .. }
                if *it == blade.id =>
            {
                self.used.shims += steps(job.takes_from_shelf().into_iter().sum());
                self.room_mm -= grown(job).mm() * blade.face_angle_deg.to_radians().cos();
                self.gap_mm = target;
            }
            _ => {}
        }
    }

    /// A fresh edge if there is one, else a new blade; either on its base pack.
    fn fresh_edge(&mut self, blade: &Blade, (target, full): (f64, f64)) {
        if self.fresh == 0 {
            self.used.blades += 1;
            self.fresh = usize::from(blade.edges);
        }
        self.fresh -= 1;
        self.edge_left_h = blade.hours_per_edge.h();
        (self.gap_mm, self.room_mm) = (target, full);
    }

    fn shim(&mut self, blade: &Blade, target: f64) {
        let closes = self.gap_mm - target;
        let thick = closes / blade.face_angle_deg.to_radians().cos();
        self.used.shims += steps(Length::from_mm(thick).unwrap_or(Length::ZERO));
        self.room_mm -= closes;
        self.gap_mm = target;
    }
}

/// How much thicker a pack gets by a job, at its thickest place.
fn grown(job: &Job) -> Length {
    let total = |shims: &[Length]| -> Length { shims.iter().copied().sum() };
    match job {
        Job::ChangePack { plan, .. } => total(&plan.put_in) - total(&plan.take_out),
        Job::StepPack { parts, wanted, .. } => wanted.grown(parts),
        _ => Length::ZERO,
    }
}
