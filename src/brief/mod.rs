//! What we tell people: every sentence and every rounding, once, for screen, paper and terminal.
//!
//! Knows words and digits; does not know pixels, paper or the disk. Numbers that carry weight in a
//! sentence stand between double asterisks; [`plain`] takes them off for a terminal. Say the action
//! first, then the numbers, then the table they came from.

pub mod alike;
pub mod along;
pub mod aside;
pub mod blade;
pub mod bolts;
pub mod causes;
pub mod caution;
pub mod decision;
pub mod done;
pub mod edges;
pub mod event;
pub mod fault;
pub mod head;
pub mod heat;
pub mod inside;
mod joint;
pub mod leaves;
pub mod marks;
pub mod measure;
pub mod numbers;
mod outlook;
pub mod pack;
mod pads;
pub mod parts;
pub mod plan;
pub mod reason;
pub mod service;
pub mod setup;
pub mod sheet;
mod shortfall;
pub mod signal;
pub mod study;
pub mod told;
pub mod trend;
pub mod uncertainty;
pub mod why_force;
pub mod why_hot;
pub mod words;
pub mod yard;

pub use numbers::Numbers;

/// The text without its weight marks.
pub fn plain(text: &str) -> String {
    text.replace("**", "")
}
