//! What to do with each line of a machine, and why.
//!
//! Joins verdicts, trends, findings and the state of blades and packs into one of five actions a
//! line, most severe first, each with its reasons and, where work can cure it, a recipe. Knows
//! everything the other rooms of the domain know; does not know words: `brief` says them.

mod action;
mod causes;
mod done;
mod edges;
mod facts;
mod fresh;
mod gaps;
mod joint;
mod line;
mod machine;
mod marks;
mod outlook;
mod pads;
mod parts;
mod plan;
mod recipe;
mod remarks;
mod service;
mod shelf;
mod spread;
mod station;
mod streak;

pub use action::{Action, Job, LineDecision, NewPack, PackPart, Reason, When};
pub use causes::{
    Cause, CauseTable, Causes, Clue, Evidence, Found, Likelihoods, MOST_LIKELY, RECENT,
    Sensitivity, Spot, Suspect, explain, rank,
};
pub use done::{may_be_meant, may_come_out, swap_as_work, tightened_after, to_other_blade};
pub use edges::{BladeEdges, EdgeHistory, EdgeUse};
pub use gaps::{ColdGaps, cold_gaps};
pub use machine::{Due, LastLook, MachineDecision, decide};
pub use marks::{MarkState, MarkVerdict, mark_limit};
pub use parts::{EdgesLeft, Item, Need, SHIM_STEP, Supply, Uses, shim_mm, supply, supply_of, uses};
pub use plan::{Advice, Choice, Costs, LinePlan, MachinePlan, Moment, NoPlan, Task, plan};
pub use recipe::Stepped;
pub use service::{ServiceItem, ServiceTask, ServiceTime, calibrations, service};
pub use spread::{SPREAD_JUMP_MM, Spread};
pub use station::StationState;
pub use streak::StreakHeat;
