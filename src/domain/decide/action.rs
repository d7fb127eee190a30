//! The vocabulary of decisions.

use crate::domain::{
    decide::{Spread, StationState},
    gauge::Bracket,
    log::{BoltSpan, FindingKind, Work},
    machine::{BladeId, LineId, Shear, StationId},
    quantity::{Hours, Length},
    shims::{PackPlan, Shortfall},
    trend::HoursTo,
    verdict::Way,
};
use chrono::{DateTime, Utc};

/// What to do with a line, mildest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Action {
    /// Nothing to do.
    Leave,
    /// Change the pack behind a blade.
    Shim,
    /// Turn a blade to a fresh edge.
    Rotate,
    /// Fit a new blade.
    Replace,
    /// Do not cut until it is put right.
    Stop,
}

/// The work that puts a line right.
#[derive(Clone, Debug, PartialEq)]
pub enum Job {
    /// Nothing.
    Nothing,
    /// Measure again: work has moved the gap since, or nobody measured here yet.
    Measure,
    /// Change the pack behind a blade.
    ChangePack {
        /// The blade.
        blade: BladeId,
        /// Its bolts; `None` for a part without bolts.
        bolts: Option<BoltSpan>,
        /// The shims, and the gaps afterwards.
        plan: PackPlan,
    },
    /// Turn a blade to a fresh edge and take its pack back to base.
    Turn {
        /// The blade.
        blade: BladeId,
        /// The edge to turn to.
        edge: u8,
        /// What happens to the pack.
        pack: NewPack,
    },
    /// Fit a new blade and take its pack back to base.
    Fit {
        /// The blade.
        blade: BladeId,
        /// What happens to the pack.
        pack: NewPack,
    },
    /// The shelf has no shims for it: order what is missing.
    OrderShims {
        /// The blade.
        blade: BladeId,
        /// The change of the pack that is wanted.
        wanted: Length,
    },
    /// A jaw that has spread: a qualified welder must look at it, shims cannot cure it.
    CallWelder,
    /// Find the cause: no shim is left to take out and the gap is too tight all the same.
    FindCause,
}

/// The pack that goes behind a fresh edge.
///
/// Shims were put in to follow wear; a fresh edge on the old pack would make the blades meet. So
/// the pack goes back to what it was when a fresh edge was last set, or, if nobody noted that,
/// every shim comes out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewPack {
    /// The blade's bolts.
    pub bolts: Option<BoltSpan>,
    /// Out of the present pack.
    pub take_out: Vec<Length>,
    /// Into it.
    pub put_in: Vec<Length>,
    /// The pack afterwards.
    pub pack: Vec<Length>,
    /// Whether the base pack was noted.
    pub base_known: bool,
}

/// A fact behind an action.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// A gap is, or may be, outside a stop limit.
    BeyondStop {
        /// Where.
        station: StationId,
        /// At 20 °C.
        cold: Bracket,
        /// The limit.
        limit: Length,
        /// Which side.
        way: Way,
        /// Whether the bracket proves it.
        sure: bool,
    },
    /// A gap is, or may be, outside a working limit.
    BeyondWorking {
        /// Where.
        station: StationId,
        /// At 20 °C.
        cold: Bracket,
        /// The limit.
        limit: Length,
        /// Which side.
        way: Way,
        /// Whether the bracket proves it.
        sure: bool,
    },
    /// At working temperature the faces touch.
    HotContact {
        /// Where.
        station: StationId,
        /// The estimated hot gap.
        hot_mm: f64,
    },
    /// At working temperature less than the smallest hot gap is left.
    HotTight {
        /// Where.
        station: StationId,
        /// The estimated hot gap.
        hot_mm: f64,
        /// The smallest hot gap.
        limit: Length,
    },
    /// The gap will leave its working limits about when the next look is due, or before.
    Soon {
        /// Where.
        station: StationId,
        /// At 20 °C.
        cold: Bracket,
        /// The limit.
        limit: Length,
        /// Growth in millimetres an hour.
        rate_mm_per_h: f64,
        /// Hours left.
        hours: HoursTo,
    },
    /// Cracks in a face.
    Cracks {
        /// Where, if somebody said.
        station: Option<u8>,
        /// When they were seen.
        taken: DateTime<Utc>,
    },
    /// A chip out of a cutting edge.
    Chipped {
        /// Where, if somebody said.
        station: Option<u8>,
        /// How long, if somebody measured it.
        size: Option<Length>,
    },
    /// An edge has done its hours.
    EdgeWorn {
        /// The blade.
        blade: BladeId,
        /// Hours on the edge.
        hours: Hours,
        /// Hours the table allows.
        table: Hours,
        /// Whether the edge was in use before the first session, so that its hours are a minimum.
        at_least: bool,
    },
    /// No fresh edge is left on a blade.
    NoFreshEdge {
        /// The blade.
        blade: BladeId,
    },
    /// Shims cannot do it.
    CannotShim {
        /// The blade.
        blade: BladeId,
        /// Why not.
        why: Shortfall,
    },
    /// The blade cannot be shimmed at all.
    NoPack {
        /// The blade.
        blade: BladeId,
    },
    /// The stations of a line differ by more than its taper limit.
    Taper {
        /// From the tightest to the widest station.
        by: Length,
        /// The largest allowed.
        limit: Length,
    },
    /// Where the primary and the secondary blades meet there is a step.
    JointStep {
        /// The last station before the joint.
        inner: StationId,
        /// The first one after it.
        outer: StationId,
        /// The step.
        by: Length,
        /// The largest allowed.
        limit: Length,
    },
    /// The pads leave so much side play that blades can clash.
    SidePlay {
        /// The pad station with the most play.
        station: StationId,
        /// Its gap at 20 °C, the thickest stack that goes.
        play: Length,
        /// The station with the smallest gap it can close.
        against: StationId,
        /// That gap, the thickest stack that goes.
        gap: Length,
    },
    /// A gap that shrinks with hours: never wear.
    Shrinks {
        /// Where.
        station: StationId,
        /// Growth in millimetres an hour, below zero.
        rate_mm_per_h: f64,
    },
    /// A coloured streak on a face: evidence of heat.
    Streak {
        /// Which colour.
        kind: FindingKind,
        /// Where, if somebody said.
        station: Option<u8>,
    },
    /// Stock jammed, or the blades chattered.
    Trouble {
        /// What.
        kind: FindingKind,
        /// Where, if somebody said.
        station: Option<u8>,
    },
    /// The tip's two gaps together have opened with no work recorded: the lower jaw has spread.
    JawSpread(Spread),
    /// Work has moved this gap since it was measured.
    Stale,
    /// Nobody has measured these stations.
    NotMeasured(Vec<StationId>),
    /// All measured gaps of the line are where they should be.
    Within {
        /// The tightest floor.
        least: Length,
        /// The widest ceiling.
        most: Length,
        /// Whether all of them are in the set range.
        in_set_range: bool,
    },
}

/// When the work is due.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum When {
    /// Before anything else.
    First,
    /// Before the machine cuts on.
    BeforeCuttingOn,
    /// Look again at the usual time.
    NextLook(Hours),
}

/// What to do with one line.
#[derive(Clone, Debug, PartialEq)]
pub struct LineDecision {
    /// The line.
    pub line: LineId,
    /// What to do.
    pub action: Action,
    /// The work.
    pub job: Job,
    /// When.
    pub when: When,
    /// Why, weightiest first.
    pub reasons: Vec<Reason>,
    /// Each station of the line.
    pub stations: Vec<StationState>,
    /// Whether work at the pads comes first, so that this line must be measured again before it.
    pub provisional: bool,
}

impl LineDecision {
    /// The station that leaves the working limits first, with its hours.
    pub fn hours(&self) -> Option<(StationId, &HoursTo)> {
        self.stations
            .iter()
            .filter_map(|state| Some((state.station, state.hours.as_ref()?)))
            .min_by(|(_, a), (_, b)| sooner(a).total_cmp(&sooner(b)))
    }

    /// The log entries that record the job as done, with the torque from the machine's file.
    pub fn as_work(&self, shear: &Shear) -> Vec<Work> {
        let (blade, work) = match &self.job {
            Job::ChangePack { blade, plan, .. } => (
                blade,
                Work::Shims {
                    blade: blade.clone(),
                    bolts: None,
                    put_in: plan.put_in.clone(),
                    take_out: plan.take_out.clone(),
                },
            ),
            Job::Turn { blade, edge, pack } => {
                (blade, Work::Turned { blade: blade.clone(), edge: *edge, pack: pack.pack.clone() })
            }
            Job::Fit { blade, pack } => {
                (blade, Work::Replaced { blade: blade.clone(), pack: pack.pack.clone() })
            }
            Job::Nothing
            | Job::Measure
            | Job::OrderShims { .. }
            | Job::CallWelder
            | Job::FindCause => return Vec::new(),
        };
        let torque =
            shear.blade(blade).and_then(|blade| blade.bolts.as_ref()).and_then(|it| it.torque);
        let tightened = torque.map(|torque| Work::Tightened { blade: blade.clone(), torque });
        std::iter::once(work).chain(tightened).collect()
    }
}

/// Hours for sorting: what is passed comes first, what never comes last.
fn sooner(hours: &HoursTo) -> f64 {
    if hours.passed { f64::NEG_INFINITY } else { hours.estimate_h.unwrap_or(f64::INFINITY) }
}
