//! One shear as its owner describes it: where the blades are, where gaps are measured, what is
//! allowed.
//!
//! Knows geometry, lines, stations, blades, bolts, limits, expansion, intervals of its own and what
//! the heat model needs. Does not know any
//! reading or any work done: what changes with time is folded from the log.

pub mod bare;
mod blade;
mod expansion;
mod intervals;
mod limits;
mod line;
mod shear;
mod thermal;

pub use blade::{Blade, BladeId, Bolts, EDGES_MOST, PackRules, Side, WearLimits, tightening_order};
pub use expansion::{Chain, Follows, Link, Material, MaterialTable, NoTable, PartTemperatures};
pub use intervals::OwnIntervals;
pub use limits::{Band, Limits, LimitsError};
pub use line::{Line, LineId, NotAStation, Station, StationId, Toward};
pub use shear::{Geometry, JawPosition, Shear, ShearId, ShearIssue};
pub use thermal::{
    Body, Partition, Plate, Press, Thermal, ThermalContact, ThermalJoint, ThermalPart, UsualWork,
};
