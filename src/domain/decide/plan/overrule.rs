//! A plan with what somebody chose instead.
//!
//! Knows which times a line leaves open and what each loses. What a decision demands at once is no
//! choice, and nothing here makes it one.

use crate::domain::{
    decide::plan::{Advice, Costs, LinePlan, MachinePlan, Moment, Task},
    machine::LineId,
};
use std::collections::BTreeMap;

/// What somebody may choose for a line instead of what the plan says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Choice {
    /// Before the machine cuts on.
    Now,
    /// At the next planned shutdown.
    Shutdown,
    /// When the gap meets its limit.
    Limit,
}

impl Moment {
    /// The choice that is this moment; `None` for one of another time.
    pub fn choice(self, next_shutdown_h: f64) -> Option<Choice> {
        match self {
            Self::Now => Some(Choice::Now),
            Self::Shutdown(hours) if hours <= next_shutdown_h => Some(Choice::Shutdown),
            Self::Limit => Some(Choice::Limit),
            Self::Shutdown(_) | Self::Look(_) | Self::Later => None,
        }
    }
}

impl Costs {
    /// What a choice loses; `None` where it is none.
    pub fn of(&self, choice: Choice) -> Option<f64> {
        match choice {
            Choice::Now => Some(self.now_h),
            Choice::Shutdown => self.shutdown_h,
            Choice::Limit => self.limit_h,
        }
    }
}

impl LinePlan {
    /// Whether another time is a choice at all: something is planned, and it may wait.
    pub fn may_be_overruled(&self) -> bool {
        let planned = self.when != Moment::Later && self.task != Task::Find;
        planned && self.costs.is_ok_and(|it| it.shutdown_h.is_some() || it.limit_h.is_some())
    }
}

impl MachinePlan {
    /// The plan with what somebody chose instead; a choice that a line does not leave is passed over.
    ///
    /// Each line by itself: what a stop costs that nobody needs any more is not taken off.
    #[must_use]
    pub fn overruled(mut self, chosen: &BTreeMap<LineId, Choice>) -> Self {
        let next_h = self.shutdown_h;
        for line in &mut self.lines {
            let Some(choice) = chosen.get(&line.line).filter(|_| line.may_be_overruled()) else {
                continue;
            };
            let Some(costs) = line.costs.ok().filter(|_| line.when.choice(next_h) != Some(*choice))
            else {
                continue;
            };
            let planned = if line.when == Moment::Now { Some(costs.now_h) } else { costs.later_h };
            let Some((costs, planned)) = costs.of(*choice).zip(planned) else { continue };
            line.overruled_h = costs - planned;
            line.advice = Advice::Chosen;
            line.when = match choice {
                Choice::Now => Moment::Now,
                Choice::Shutdown => Moment::Shutdown(next_h),
                Choice::Limit => Moment::Limit,
            };
        }
        self
    }

    /// What somebody chose instead, line by line.
    pub fn choices(&self) -> impl Iterator<Item = (LineId, Choice)> {
        let chosen = self.lines.iter().filter(|line| line.advice == Advice::Chosen);
        chosen.filter_map(|line| Some((line.line, line.when.choice(self.shutdown_h)?)))
    }

    /// How many more hours are lost by what somebody chose.
    pub fn overruled_h(&self) -> f64 {
        self.lines.iter().map(|line| line.overruled_h).sum()
    }
}
