//! Which sign stands for which fact.
//!
//! The one place where the domain's verdicts, actions and findings meet the drawn marks.

use crate::{
    brief::{caution::Sign, yard::LineRow},
    domain::{
        decide::{Action, Job, LineDecision},
        log::FindingKind,
        verdict::{Verdict, VerdictKind, Way},
    },
    gui::marks::{ActionMark, Icon, Streak, VerdictMark},
};

/// The mark of a verdict, or of a station nobody has measured.
pub(crate) fn verdict_mark(verdict: Option<Verdict>) -> VerdictMark {
    match verdict.map(|verdict| verdict.kind()) {
        None => VerdictMark::NotMeasured,
        Some(VerdictKind::Set) => VerdictMark::SetRange,
        Some(VerdictKind::Working) => VerdictMark::Working,
        Some(VerdictKind::Soon(Way::Wide)) => VerdictMark::SoonTooWide,
        Some(VerdictKind::Soon(Way::Tight)) => VerdictMark::SoonTooTight,
        Some(VerdictKind::Too(Way::Wide)) => VerdictMark::TooWide,
        Some(VerdictKind::Too(Way::Tight)) => VerdictMark::TooTight,
        Some(VerdictKind::Stop(Way::Wide)) => VerdictMark::StopTooWide,
        Some(VerdictKind::Stop(Way::Tight)) => VerdictMark::StopTooTight,
        Some(VerdictKind::Undecided) => VerdictMark::Undecided,
    }
}

/// The mark of an action.
pub(crate) const fn action_mark(action: Action) -> ActionMark {
    match action {
        Action::Leave => ActionMark::Leave,
        Action::Shim => ActionMark::Shim,
        Action::Rotate => ActionMark::Rotate,
        Action::Replace => ActionMark::Replace,
        Action::Stop => ActionMark::Stop,
    }
}

/// The mark of what to do with a line: where nobody knows the gap, that is to measure.
pub(crate) fn job_mark(decision: &LineDecision) -> ActionMark {
    match (decision.action, &decision.job) {
        (Action::Leave, Job::Measure) => ActionMark::Measure,
        (action, _) => action_mark(action),
    }
}

/// The same for a line of a machine in the yard.
pub(crate) const fn row_mark(row: &LineRow) -> ActionMark {
    if row.measure { ActionMark::Measure } else { action_mark(row.action) }
}

/// The icon of a finding.
pub(crate) const fn finding_icon(kind: &FindingKind) -> Icon {
    match kind {
        FindingKind::StrawStreak => Icon::Streak(Streak::Straw),
        FindingKind::BrownStreak => Icon::Streak(Streak::Brown),
        FindingKind::PurpleStreak => Icon::Streak(Streak::Purple),
        FindingKind::BlueStreak => Icon::Streak(Streak::Blue),
        FindingKind::SurfaceCracks => Icon::Cracks,
        FindingKind::ChippedEdge => Icon::Chipped,
        FindingKind::Jam => Icon::Jam,
        FindingKind::Chatter => Icon::Chatter,
        FindingKind::LooseBolt => Icon::LooseBolt,
        FindingKind::StockCaught => Icon::StockCaught,
        FindingKind::Own(_) => Icon::Other,
    }
}

/// The icon of a caution.
pub(crate) const fn caution_icon(sign: Sign) -> Icon {
    match sign {
        Sign::LockOut => Icon::Lock,
        Sign::BlockJaw => Icon::Prop,
        Sign::Pressure => Icon::Pressure,
        Sign::HotFaces => Icon::Hot,
        Sign::Chips => Icon::Goggles,
        Sign::KeepClear => Icon::PeopleClear,
    }
}
