//! How often service is due on one machine, where that differs from the rest of its yard.

use crate::domain::quantity::Hours;

/// What a machine's own file says of its service, each in hours of work; `None` where the yard's
/// interval holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct OwnIntervals {
    /// Between two looks at the gaps.
    pub look: Option<Hours>,
    /// Between two lubrications.
    pub lubricate: Option<Hours>,
    /// After work, by which bolts are tightened again.
    pub retorque: Option<Hours>,
    /// After a fresh edge, in which only thin stock is cut.
    pub break_in: Option<Hours>,
}
