//! What follows from the log, found anew after it has changed, beside the frames.
//!
//! Only what has changed is decided again. What is quick is there in the same frame; what is not
//! takes its time on a thread of its own, and until then its machine has no decision: an old one is
//! never shown as if it held.

use crate::{
    brief::{Numbers, parts, yard::Standing},
    domain::{
        decide::{
            CauseTable, MachineDecision, MachinePlan, Uses, decide, explain, plan, supply_of, uses,
        },
        machine::ShearId,
        trend::Axis,
        yard::{Machine, Settings, Yard},
    },
    gui::{
        App, effects,
        insight::Insight,
        long_job::{Begun, LongJob, State},
    },
    language::tell,
    store::{self, Opened, Progress},
    workbench::{Screen, TrendView},
};
use std::collections::BTreeMap;

/// What the decisions that are there were made from.
#[derive(Debug, Default)]
pub(super) struct Judged {
    settings: Option<Settings>,
    sessions: BTreeMap<ShearId, usize>,
}

impl Judged {
    /// All of a yard.
    pub(super) fn all_of(yard: &Yard) -> Self {
        let sessions = |it: &Machine| (it.shear.id.clone(), it.sessions.len());
        Self {
            settings: Some(yard.settings.clone()),
            sessions: yard.machines.iter().map(sessions).collect(),
        }
    }

    /// The machines for which it does not hold any more; from here on it holds for all.
    fn renew(&mut self, yard: &Yard) -> Vec<Machine> {
        let new = Self::all_of(yard);
        if self.settings != new.settings {
            self.sessions.clear();
        }
        let known = |it: &&Machine| self.sessions.get(&it.shear.id) == Some(&it.sessions.len());
        let stale = yard.machines.iter().filter(|it| !known(it)).cloned().collect();
        *self = new;
        stale
    }
}

/// What the Trend screen shows beside lines, and growth against what it is counted against there.
pub(super) type Closer = (Option<(Axis, MachineDecision)>, Insight);

/// A machine decided, and what lies ahead of it.
pub(super) struct Decided {
    decision: MachineDecision,
    ahead: Ahead,
}

/// What lies ahead of a machine by its decision: its plan, and what that takes.
pub(super) struct Ahead {
    pub(super) plan: MachinePlan,
    uses: Uses,
}

/// Decides a yard that was opened, by its own table of causes or else by the program's; whichever it
/// is then stands in `opened`.
pub(super) fn decide_opened(opened: &mut Opened, progress: &Progress) -> Vec<Decided> {
    let causes = opened.causes.take().map_or_else(effects::shipped_causes, Ok);
    let causes = causes.unwrap_or_else(|issue| {
        opened.issues.push(issue);
        CauseTable::default()
    });
    let decisions = decide_all(&opened.yard.machines, &opened.yard.settings, &causes, progress);
    opened.causes = Some(causes);
    decisions
}

/// Decides and plans machines, on all processors; fewer than that once `progress` is cancelled.
fn decide_all(
    machines: &[Machine],
    settings: &Settings,
    causes: &CauseTable,
    progress: &Progress,
) -> Vec<Decided> {
    let within = settings.upkeep.times().order_ahead(None);
    store::on_each(machines, progress, |machine| {
        let mut decision = decide(machine, settings);
        explain(&mut decision, machine, settings.intervals_of(&machine.shear).look, causes);
        let plan = plan(machine, &decision, settings, None);
        let uses = uses(machine, &decision, settings, within);
        Decided { decision, ahead: Ahead { plan, uses } }
    })
}

impl App {
    /// Something about a machine has changed that the number of its sessions does not show.
    pub(super) fn judge_again(&mut self, shear: &ShearId) {
        self.judged.sessions.remove(shear);
    }

    /// Whether the machine in hand is being decided.
    pub(super) fn is_in_doubt(&self) -> bool {
        let decided = |id: &ShearId| self.decisions.iter().any(|it| it.shear == *id);
        self.judging.is_some() && self.bench.machine().is_some_and(|it| !decided(&it.shear.id))
    }

    /// Decides anew what has changed; a frame in between costs nothing.
    pub(super) fn judge(&mut self) {
        let mut came = false;
        if let Some(job) = &self.judging {
            match job.state() {
                State::Runs => return,
                State::Over => self.judging = None,
                State::Done(decisions) => {
                    self.judging = None;
                    self.take_decisions(decisions);
                    came = true;
                }
            }
        }
        let yard = self.bench.yard();
        let stale = self.judged.renew(yard);
        if stale.is_empty() {
            // What changed while they were made would be kept as if they knew of it.
            if came {
                self.keep_overview();
            }
            return;
        }
        let (settings, causes) = (yard.settings.clone(), self.causes.clone());
        self.decisions.retain(|it| stale.iter().all(|machine| machine.shear.id != it.shear));
        self.ahead.retain(|id, _| stale.iter().all(|machine| machine.shear.id != *id));
        (self.insight, self.along, self.closer) = (None, None, None);
        let act = move |progress: &Progress| decide_all(&stale, &settings, &causes, progress);
        match LongJob::begin(self.around.patience, tell!("Deciding anew"), act) {
            Begun::Done(decisions) => {
                self.take_decisions(decisions);
                self.keep_overview();
            }
            Begun::Runs(job) => self.judging = Some(job),
        }
        self.stand();
    }

    pub(super) fn take_decisions(&mut self, decided: Vec<Decided>) {
        for Decided { decision, ahead } in decided {
            self.ahead.insert(decision.shear.clone(), ahead);
            self.decisions.push(decision);
        }
        self.decisions.sort_by(|a, b| a.shear.cmp(&b.shear));
        let settings = &self.bench.yard().settings;
        let within = settings.upkeep.times().order_ahead(None);
        let uses = self.ahead.values().map(|it| &it.uses);
        self.supply = Some(supply_of(settings, uses, within));
        self.stand();
    }

    /// Tells every machine that is decided.
    pub(super) fn stand(&mut self) {
        let n = Numbers { unit: self.bench.unit(), zone: self.around.zone, per: Axis::Hours };
        let yard = self.bench.yard();
        let supply = self.supply.as_ref();
        let told = |it: &MachineDecision| {
            let parts = supply.and_then(|supply| parts::short_for(supply, &it.shear));
            let standing = Standing::of(yard.machine(&it.shear)?, it, n);
            Some(Standing { parts: parts.map(str::to_owned), ..standing })
        };
        self.standings = self.decisions.iter().filter_map(told).collect();
        self.stood_in = n.unit;
    }

    /// Finds what the Trend screen shows beside lines, once for each line that is looked at.
    pub(super) fn look_closer(&mut self) {
        match self.closer.as_ref().map(LongJob::state) {
            Some(State::Runs) => return,
            Some(State::Over) => self.closer = None,
            Some(State::Done((along, insight))) => {
                (self.along, self.insight, self.closer) = (along, Some(insight), None);
            }
            None => {}
        }
        if self.bench.screen() != Screen::Trend {
            return;
        }
        let Some(machine) = self.bench.machine() else { return };
        let plain = self.decisions.iter().find(|it| it.shear == machine.shear.id);
        let Some(plain) = plain else { return };
        let chosen = self.bench.line().filter(|line| plain.line(*line).is_some());
        let first = plain.lines.first().map(|line| line.line);
        let Some(line) = chosen.or(first) else { return };
        let axis = self.axis();
        let compares = matches!(self.bench.trend_view(), TrendView::Compare(_));
        let known = self.insight.as_ref().filter(|it| it.is_of(machine, line, axis)).cloned();
        if known.as_ref().is_some_and(|it| !compares || it.has_compared()) {
            return;
        }
        let (machine, plain) = (machine.clone(), plain.clone());
        let (settings, yard) = (self.bench.yard().settings.clone(), self.bench.yard());
        let yard = compares.then(|| yard.clone());
        let act = move |_: &Progress| {
            let along =
                (axis != Axis::Hours).then(|| (axis, plain.along(axis, &machine, &settings)));
            let decision = along.as_ref().map_or(&plain, |(_, decision)| decision);
            let mut insight = known.unwrap_or_else(|| Insight::of(&machine, decision, line, axis));
            if let Some(yard) = &yard {
                insight.compare(yard);
            }
            (along, insight)
        };
        match LongJob::begin(self.around.patience, tell!("Looking closer"), act) {
            Begun::Done((along, insight)) => (self.along, self.insight) = (along, Some(insight)),
            Begun::Runs(job) => self.closer = Some(job),
        }
    }
}
