//! The vocabulary of decisions.
//!
//! Long because every reason there can be stands in one list.

use crate::domain::{
    decide::{BladeEdges, Causes, MarkState, Spread, StationState, Stepped, StreakHeat},
    gauge::Bracket,
    log::{BoltSpan, FindingKind, MarkKind},
    machine::{BladeId, LineId, StationId},
    quantity::{Hours, Length},
    shims::{PackPlan, Seat, Shortfall},
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
        /// What was wanted of the pack, to plan again where lines want the same shims.
        seat: Seat,
    },
    /// Change the packs at some bolts of a tapered blade.
    StepPack {
        /// The blade.
        blade: BladeId,
        /// What changes, full-length shims first.
        parts: Vec<PackPart>,
        /// The gaps afterwards, in the order of the measured stations.
        after: Vec<Length>,
        /// What was wanted of the packs, to plan again where lines want the same shims.
        wanted: Stepped,
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
    /// Tighten bolts again that have cut since they were tightened after work.
    Retorque {
        /// The blades whose bolts are due.
        blades: Vec<BladeId>,
    },
    /// A jaw that has spread: a qualified welder must look at it, shims cannot cure it.
    CallWelder,
    /// Find the cause: no shim is left to take out and the gap is too tight all the same.
    FindCause,
}

impl Job {
    /// The blade whose pack it changes.
    pub(crate) const fn repacks(&self) -> Option<&BladeId> {
        match self {
            Self::ChangePack { blade, .. }
            | Self::StepPack { blade, .. }
            | Self::Turn { blade, .. }
            | Self::Fit { blade, .. } => Some(blade),
            _ => None,
        }
    }
}

/// Shims that go in or come out at some bolts, or over the full length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackPart {
    /// The bolts; `None` means the full length.
    pub bolts: Option<BoltSpan>,
    /// From the shelf, thickest first.
    pub put_in: Vec<Length>,
    /// Out of the present pack, thickest first.
    pub take_out: Vec<Length>,
}

impl PackPart {
    /// Whether anything goes in or out.
    pub const fn moves(&self) -> bool {
        !self.put_in.is_empty() || !self.take_out.is_empty()
    }

    /// How much thicker the pack gets there.
    pub fn grown(&self) -> Length {
        let total = |shims: &[Length]| -> Length { shims.iter().copied().sum() };
        total(&self.put_in) - total(&self.take_out)
    }
}

/// The pack that goes behind a fresh edge.
///
/// Shims were put in to follow wear; a fresh edge on the old pack would make the blades meet. So
/// the pack goes back to what it was when a fresh edge was last set, or, if the log cannot tell
/// that this was wide enough, every shim comes out.
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
    /// Whether the log proves that this pack is wide enough on a fresh edge; if not, it is empty.
    pub base_known: bool,
    /// Packs behind the blades it faces that followed its wear and must change with it.
    pub facing: Vec<(BladeId, Self)>,
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
        /// Whether nobody noted in which line.
        somewhere: bool,
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
    /// A wear mark is beyond its limit.
    WearMark {
        /// The blade.
        blade: BladeId,
        /// Which mark.
        kind: MarkKind,
        /// Its newest value.
        value: Length,
        /// The limit.
        limit: Length,
    },
    /// A wear mark may be beyond its limit by the next look.
    WearSoon {
        /// The blade.
        blade: BladeId,
        /// Which mark.
        kind: MarkKind,
        /// Its newest value.
        value: Length,
        /// The limit.
        limit: Length,
        /// Hours from the newest mark until then.
        hours: HoursTo,
    },
    /// The blade that faces a fresh edge has an edge that is half through its hours or more.
    FacingWorn {
        /// The blade.
        blade: BladeId,
        /// Hours on its edge.
        hours: Hours,
        /// Hours the table allows.
        table: Hours,
        /// Whether its hours are a minimum.
        at_least: bool,
        /// The edge it would be turned to, if a fresh one is left.
        edge: Option<u8>,
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
        /// The two stations that no pack brings into range together: the wide one, the tight one.
        apart: Option<(StationId, StationId)>,
    },
    /// Even with every shim out a fresh edge would leave less than the working minimum.
    FreshTooTight {
        /// The blade with the fresh edge.
        blade: BladeId,
        /// The gap to expect.
        gap: Length,
        /// The working minimum.
        limit: Length,
    },
    /// The blade cannot be shimmed at all.
    NoPack {
        /// The blade.
        blade: BladeId,
    },
    /// More stands behind a blade than its rules allow.
    PackOver {
        /// The blade.
        blade: BladeId,
        /// How much stands there at the thickest place, and what may.
        thick: (Length, Length),
        /// How many shims stand there at most, and how many may.
        shims: (usize, usize),
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
    /// Once a pack is changed as planned, there is a step where the two blades meet.
    JointStepAfter {
        /// The line whose pack is changed.
        changes: LineId,
        /// The last station before the joint.
        inner: StationId,
        /// The first one after it.
        outer: StationId,
        /// The step to expect.
        by: Length,
        /// The largest allowed.
        limit: Length,
    },
    /// The pads leave so much side play that blades can clash.
    SidePlay {
        /// The pad station with the most play.
        station: StationId,
        /// Its gap at 20 °C.
        play: Bracket,
        /// The station with the smallest gap it can close.
        against: StationId,
        /// That gap at 20 °C.
        gap: Bracket,
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
        /// What it tells about the gap.
        heat: Option<StreakHeat>,
    },
    /// Stock jammed, the blades chattered, a bolt was loose, or the like.
    Trouble {
        /// What.
        kind: FindingKind,
        /// Where, if somebody said.
        station: Option<u8>,
        /// Whether nobody noted in which line.
        somewhere: bool,
    },
    /// The tip's two gaps together have opened with no work recorded: the lower jaw has spread.
    JawSpread(Spread),
    /// Bolts have settled since work on a blade and were not tightened again.
    RetorqueDue {
        /// The blade.
        blade: BladeId,
        /// Hours cut since.
        hours: Hours,
        /// Hours after which they are tightened again.
        interval: Hours,
    },
    /// Shims planned behind the guide pads will move the upper jaw, and this gap with it.
    PadsMove {
        /// The least and the most it opens along the line; negative where it closes.
        opens: (Length, Length),
        /// The smallest and the largest gap to expect then, if any was measured.
        then: Option<(Length, Length)>,
        /// The distance of the pads from the pivot.
        pads: Length,
    },
    /// Other lines want the same shims of the shelf.
    SharedShelf {
        /// Those lines, more severe ones first.
        with: Vec<LineId>,
        /// Whether the shelf serves this line beside them.
        served: bool,
        /// Whether every other choice of shims was shown to be no better.
        proven: bool,
    },
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
    /// At once: something was heard or seen since the last look.
    LookAtOnce,
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
    /// What may lie behind its trouble, once [`explain`](crate::domain::decide::explain) has said;
    /// `None` without trouble.
    pub causes: Option<Causes>,
    /// What the edges of its blades have behind them, the fixed blade first.
    pub edges: Vec<BladeEdges>,
    /// Wear marks of its blades, the fixed blade first.
    pub marks: Vec<MarkState>,
}

impl LineDecision {
    /// Writes the gaps after the recipe beside those of now.
    pub(crate) fn foresee(&mut self) {
        let after = match &self.job {
            Job::ChangePack { plan, .. } => &plan.after,
            Job::StepPack { after, .. } => after,
            _ => return,
        };
        let measured = self.stations.iter_mut().filter(|state| state.cold.is_some());
        for (state, after) in measured.zip(after) {
            // What is left of a gap without a ceiling has no ceiling either.
            let closed = state.cold.as_ref().is_some_and(|cold| cold.bracket.is_closed());
            state.after = closed.then_some(*after);
        }
    }

    /// The station that leaves the working limits first, with its hours.
    pub fn hours(&self) -> Option<(StationId, &HoursTo)> {
        self.stations
            .iter()
            .filter_map(|state| Some((state.station, state.hours.as_ref()?)))
            .min_by(|(_, a), (_, b)| sooner(a).total_cmp(&sooner(b)))
    }
}

/// Hours for sorting: what is passed comes first, what never comes last.
fn sooner(hours: &HoursTo) -> f64 {
    if hours.passed { f64::NEG_INFINITY } else { hours.estimate_h.unwrap_or(f64::INFINITY) }
}
