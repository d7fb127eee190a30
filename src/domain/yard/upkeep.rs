//! Spare parts on hand, how long work takes, and when the machines stand still by plan.
//!
//! Knows counts and minutes; does not know when anything is needed.

use crate::domain::{machine::ShearId, quantity::Hours};

/// A kind of spare part. Shims stand on the shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartKind {
    /// A blade, a tip, a guide blade or a pad; its name is that of the blade in the shear's file.
    Blade,
    /// A bolt; its name is size and grade, such as `M24 10.9`.
    Bolt,
    /// A nut; named like its bolt.
    Nut,
    /// Consumables for hard-facing and build-up welds.
    Electrode,
    /// Grease.
    Grease,
}

/// Spare parts of one kind and name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is.
    pub kind: PartKind,
    /// Which one.
    pub name: String,
    /// The only machine it fits; `None` if it fits all of them.
    pub shear: Option<ShearId>,
    /// How many are on hand.
    pub count: u16,
    /// How many one job takes: one weld, one greasing. Blades, bolts and nuts follow from the job.
    pub per_job: u16,
}

/// How long work takes and what a stop costs. Minutes are those of one person.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WorkTimes {
    /// How many people work at a machine, at least one.
    pub crew: u8,
    /// Locking out, blocking the jaw, letting it cool, and back again: once a stop.
    pub set_up_min: u16,
    /// Measuring all stations.
    pub measure_min: u16,
    /// Changing the pack behind a blade.
    pub shim_min: u16,
    /// Turning a blade to a fresh edge.
    pub turn_min: u16,
    /// Fitting a new blade.
    pub replace_min: u16,
    /// A build-up or hard-facing weld, without the cooling.
    pub weld_min: u16,
    /// Work at the guide pads.
    pub pads_min: u16,
    /// Tightening the bolts of a blade again.
    pub retighten_min: u16,
    /// Hours lost, work not counted, when a gap passes its working limit between two looks.
    pub unplanned_stop: Hours,
    /// Hours of service until an ordered part is there.
    pub delivery: Hours,
    /// Service hours from one planned shutdown to the next, above zero.
    pub shutdown_every: Hours,
    /// What the hour meter shows at one of them.
    pub shutdown_at: Hours,
    /// Service hours from one build-up weld to the next, above zero.
    pub weld_every: Hours,
}

impl WorkTimes {
    /// What is assumed where a yard has written nothing down: judgement, from memory.
    pub const JUDGED: Self = Self {
        crew: 2,
        set_up_min: 40,
        measure_min: 40,
        shim_min: 70,
        turn_min: 120,
        replace_min: 180,
        weld_min: 240,
        pads_min: 120,
        retighten_min: 30,
        unplanned_stop: Hours::from_whole(4),
        delivery: Hours::from_whole(72),
        shutdown_every: Hours::from_whole(48),
        shutdown_at: Hours::ZERO,
        weld_every: Hours::from_whole(120),
    };

    /// So many minutes of one person, in hours of the whole crew.
    pub fn crew_h(&self, minutes: u16) -> f64 {
        f64::from(minutes) / 60.0 / f64::from(self.crew.max(1))
    }

    /// How far ahead parts are ordered: as far as a plan over `horizon` reaches, or else any plan
    /// over two planned shutdowns, and until an order of today is there.
    pub fn order_ahead(&self, horizon: Option<Hours>) -> Hours {
        horizon.unwrap_or(self.shutdown_every + self.shutdown_every).max(self.delivery)
    }

    /// Hours from a meter reading to the next planned shutdown, zero at one.
    pub fn next_shutdown(&self, meter: Hours) -> Hours {
        let every = self.shutdown_every.thousandths().max(1);
        let ahead = (self.shutdown_at - meter).thousandths().rem_euclid(every);
        Hours::from_thousandths(ahead)
    }
}

/// What a yard says about parts and work.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Upkeep {
    /// Spare parts that somebody counted.
    pub parts: Vec<Part>,
    /// The yard's own times; `None` while nobody wrote them down.
    pub times: Option<WorkTimes>,
}

impl Upkeep {
    /// The times to plan with: the yard's own, or those of judgement.
    pub fn times(&self) -> WorkTimes {
        self.times.unwrap_or(WorkTimes::JUDGED)
    }
}

#[test]
fn the_next_shutdown_is_counted_on_the_meter() {
    let times = |every, at| WorkTimes {
        shutdown_every: Hours::from_whole(every),
        shutdown_at: Hours::from_whole(at),
        ..WorkTimes::JUDGED
    };
    let to = |every, at, meter| times(every, at).next_shutdown(Hours::from_h(meter).unwrap()).h();
    for (every, at, meter, expected) in [
        (48, 0, 4_812.0, 36.0),
        (48, 0, 4_848.0, 0.0),
        (48, 0, 4_848.1, 47.9),
        (40, 4_820, 4_812.0, 8.0),
        (40, 4_820, 100.0, 0.0),
    ] {
        assert!((to(every, at, meter) - expected).abs() < 1e-9, "{every} {at} {meter}");
    }
    assert!((WorkTimes::JUDGED.crew_h(70) - 35.0 / 60.0).abs() < 1e-12, "two people");
}
