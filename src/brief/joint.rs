//! The step at the joint of two blades, told.

use crate::{
    domain::machine::{LineId, Shear, StationId},
    language::{self, tell},
};

/// The step of now, or the one to expect once the pack of a line is changed and what to do then.
pub(crate) fn step(
    shear: &Shear,
    (inner, outer): (StationId, StationId),
    changes: Option<LineId>,
    (by, limit): (String, String),
) -> String {
    let place =
        |id: LineId| shear.line(id).map_or(tell!("blades"), |line| language::known(&line.place));
    let Some(changes) = changes else {
        return tell!(
            "Step of **{by}** at the joint between {inner} and {outer}, more than **{limit}**.",
            by,
            inner,
            outer,
            limit
        );
    };
    let other = if changes == inner.line { outer.line } else { inner.line };
    tell!(
        "Once the pack of the {changes} is changed, the step at the joint between {inner} and {outer} is \
         about **{by}**, more than **{limit}**. Shim the {other} in the same visit.",
        changes = place(changes),
        inner,
        outer,
        by,
        limit,
        other = place(other)
    )
}
