//! The step at the joint of two blades, told.

use crate::domain::machine::{LineId, Shear, StationId};

/// The step of now, or the one to expect once the pack of a line is changed and what to do then.
pub(crate) fn step(
    shear: &Shear,
    (inner, outer): (StationId, StationId),
    changes: Option<LineId>,
    (by, limit): (String, String),
) -> String {
    let place = |id: LineId| shear.line(id).map_or("blades", |line| &line.place);
    let Some(changes) = changes else {
        return format!(
            "Step of **{by}** at the joint between {inner} and {outer}, more than **{limit}**."
        );
    };
    let other = if changes == inner.line { outer.line } else { inner.line };
    format!(
        "Once the pack of the {} is changed, the step at the joint between {inner} and {outer} is \
         about **{by}**, more than **{limit}**. Shim the {} in the same visit.",
        place(changes),
        place(other)
    )
}
