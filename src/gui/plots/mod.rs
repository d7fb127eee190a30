//! Gaps over service hours, drawn.
//!
//! Knows hours, millimetres and bars from the leaf that goes to the leaf that does not. Refuses to
//! know lines, stations and what to do: callers hand in numbers and ready-made words.

mod axis;
mod bars;
mod chart;
mod control;
mod fan;
mod limits;
mod mark_plot;
mod marks;
mod rates;
mod readout;
mod small;
mod trend_plot;

pub(crate) use bars::Bar;
pub(crate) use chart::Chart;
pub(crate) use control::{ControlPlot, ControlPoint, ControlRow};
pub(crate) use fan::{Crossing, Fan};
pub(crate) use mark_plot::MarkPlot;
pub(crate) use marks::Event;
pub(crate) use rates::{RatePlot, RateRow};
pub(crate) use small::SmallTrend;
pub(crate) use trend_plot::{LimitWords, Series, Stretch, TrendPlot};
