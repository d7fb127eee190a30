//! What is looked at on Decide, and where somebody overruled the plan.
//!
//! A choice holds for what is known now: the next session of its machine puts it away. It is not
//! written into the yard, where nothing is but what was seen and done; the job sheet carries it.

use crate::domain::{
    decide::{Choice, MachinePlan},
    machine::{LineId, ShearId},
};
use std::collections::BTreeMap;

/// What the Decide screen shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum DecideView {
    /// What to do with each line, most urgent first.
    #[default]
    Jobs,
    /// What to do now, at the next planned shutdown, and what to order.
    Plan,
    /// What parts there are, what will be needed, what to order, for the whole yard.
    Parts,
}

/// Something on the Decide screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decide {
    /// Show something else.
    Show(DecideView),
    /// Work at a line of the machine in hand at another time; `None` for as planned.
    Choose(LineId, Option<Choice>),
}

/// The state of the Decide screen.
#[derive(Clone, Debug, Default)]
pub struct DecideDesk {
    /// What is shown.
    pub view: DecideView,
    chosen: BTreeMap<ShearId, BTreeMap<LineId, Choice>>,
}

impl DecideDesk {
    /// A plan with what somebody chose for its machine.
    pub fn overrule(&self, plan: &MachinePlan) -> MachinePlan {
        let plan = plan.clone();
        match self.chosen.get(&plan.shear) {
            Some(chosen) => plan.overruled(chosen),
            None => plan,
        }
    }

    pub(crate) fn apply(&mut self, asked: Decide, machine: Option<&ShearId>) {
        match asked {
            Decide::Show(view) => self.view = view,
            Decide::Choose(line, choice) => {
                let Some(machine) = machine else { return };
                let chosen = self.chosen.entry(machine.clone()).or_default();
                match choice {
                    Some(choice) => chosen.insert(line, choice),
                    None => chosen.remove(&line),
                };
            }
        }
    }

    /// Something more is known of this machine.
    pub(crate) fn forget(&mut self, shear: &ShearId) {
        self.chosen.remove(shear);
    }
}
