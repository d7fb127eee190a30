//! Fields of a machine: geometry, lines, limits, blades and expansion.
//!
//! Long because it is one table, a row for each field.

use crate::{
    brief::setup::{DRAWING, Guide, MANUAL, MEASURED, guide, yard},
    domain::setup::{OfBlade, OfLimits, OfLine, OfLink, OfMachine, OfStation, OfYard},
    language::sentence,
};

const YOURS: &str = sentence!("Yours to choose.");
const WARM: &str = sentence!(
    "Measured with a contact thermometer after some hours of cutting, locked out and blocked. \
     Faces burn: do not touch them."
);

/// The words of a jaw position.
pub(super) const POSITION: Guide = guide(
    sentence!("how to hold the jaw"),
    "",
    None,
    sentence!(
        "What the person at the carrier does before this group of stations is measured. A gap can be \
     felt only where the two blades overlap."
    ),
    sentence!("From the machine's manual, or from whoever measures it now."),
);

pub(super) const fn of_machine(of: OfMachine) -> Guide {
    match of {
        OfMachine::Name => guide(
            sentence!("name"),
            "",
            None,
            sentence!(
                "What people call the machine. Its folder takes its name from this once, when it is \
             first saved."
            ),
            YOURS,
        ),
        OfMachine::Carrier => guide(
            sentence!("carrier and place"),
            "",
            None,
            sentence!("Which excavator carries it, and where it works."),
            YOURS,
        ),
        OfMachine::Reach => guide(
            sentence!("pivot to tip"),
            "mm",
            Some((500.0, 3_000.0)),
            sentence!(
                "From the middle of the pivot pin to the outside of the tip of the lower jaw."
            ),
            MEASURED,
        ),
        OfMachine::Mouth => guide(
            sentence!("mouth width"),
            "mm",
            Some((100.0, 1_000.0)),
            sentence!("Clear width between the two cheeks of the lower jaw."),
            MEASURED,
        ),
        OfMachine::Cheek => guide(
            sentence!("cheek"),
            "mm",
            Some((20.0, 200.0)),
            sentence!("Thickness of each cheek of the lower jaw."),
            MEASURED,
        ),
        OfMachine::UpperJaw => guide(
            sentence!("upper jaw width"),
            "mm",
            Some((50.0, 600.0)),
            sentence!("Width of the upper jaw's body behind the tip."),
            MEASURED,
        ),
        OfMachine::Pivot => guide(
            sentence!("pivot pin"),
            "mm",
            Some((30.0, 300.0)),
            sentence!("Diameter of the pivot pin."),
            MEASURED,
        ),
        OfMachine::Pads => guide(
            sentence!("pivot to pads"),
            "mm",
            Some((100.0, 1_000.0)),
            sentence!(
                "From the pivot to the guide pads: the lever arm by which side play at the pads moves \
             the blades."
            ),
            MEASURED,
        ),
        OfMachine::JointStep => guide(
            sentence!("largest joint step"),
            "mm",
            Some((0.1, 2.0)),
            sentence!("The largest step allowed where the primary and the secondary blades meet."),
            MANUAL,
        ),
        OfMachine::Look | OfMachine::Lubricate | OfMachine::Retorque | OfMachine::BreakIn => {
            own(yard::of_yard(yards(of)))
        }
    }
}

/// The yard's interval in the place of which it stands.
const fn yards(of: OfMachine) -> OfYard {
    match of {
        OfMachine::Lubricate => OfYard::Lubricate,
        OfMachine::Retorque => OfYard::Retorque,
        OfMachine::BreakIn => OfYard::BreakIn,
        _ => OfYard::Look,
    }
}

/// The same of one machine.
const fn own(of_yard: Guide) -> Guide {
    Guide {
        source: sentence!(
            "From this machine's manual, or what it showed in use. Empty, and the yard's hours hold."
        ),
        ..of_yard
    }
}

pub(super) const fn of_line(of: OfLine) -> Guide {
    match of {
        OfLine::Place => guide(
            sentence!("place"),
            "",
            None,
            sentence!(
                "The place as a mechanic says it. It stands beside the letter wherever limits are \
             shown."
            ),
            sentence!("As the machine's manual or your crew calls it."),
        ),
        OfLine::Moving => guide(
            sentence!("moving part"),
            "",
            None,
            sentence!("The part of the upper jaw that faces the gap."),
            MANUAL,
        ),
        OfLine::Fixed => guide(
            sentence!("fixed part"),
            "",
            None,
            sentence!("The part of the lower jaw that faces the gap; shims go behind it."),
            MANUAL,
        ),
        OfLine::Toward => guide(
            sentence!("taking play out"),
            "",
            None,
            sentence!(
                "Which way the gap moves when side play is taken out at the guide pads. It closes \
             gaps on the cutting side and opens those on the guide side."
            ),
            sentence!("Seen on the machine: push the upper jaw sideways with a bar, locked out."),
        ),
        OfLine::Position => guide(
            sentence!("jaw position"),
            "",
            None,
            sentence!(
                "The jaw position in which a leaf can be felt here, counted in the list below."
            ),
            sentence!("From whoever measures the machine now."),
        ),
        OfLine::WarmMoving => guide(
            sentence!("moving part, warm"),
            "°C",
            Some((20.0, 250.0)),
            sentence!(
                "How warm the moving part is after some hours of cutting. With the chain it gives the \
             gap at working temperature."
            ),
            WARM,
        ),
        OfLine::WarmFixed => guide(
            sentence!("fixed part, warm"),
            "°C",
            Some((20.0, 250.0)),
            sentence!("How warm the fixed part is after some hours of cutting."),
            WARM,
        ),
        OfLine::WarmUpper => guide(
            sentence!("upper jaw, warm"),
            "°C",
            Some((20.0, 120.0)),
            sentence!("How warm the body of the upper jaw is after some hours of cutting."),
            WARM,
        ),
        OfLine::WarmLower => guide(
            sentence!("lower jaw, warm"),
            "°C",
            Some((20.0, 120.0)),
            sentence!("How warm the body of the lower jaw is after some hours of cutting."),
            WARM,
        ),
    }
}

pub(super) const fn of_station(of: OfStation) -> Guide {
    match of {
        OfStation::FromPivot => guide(
            sentence!("from the pivot"),
            "mm",
            Some((50.0, 3_000.0)),
            sentence!(
                "Where the leaf goes in, from the middle of the pivot pin. Usual places are beside the \
             bolts of the blade. Drag it on the drawing, or type it."
            ),
            MEASURED,
        ),
        OfStation::Across => guide(
            sentence!("across the jaw"),
            "mm",
            Some((0.0, 1_000.0)),
            sentence!(
                "From the guide cheek; only for a line that runs across the tip. Empty for all others."
            ),
            MEASURED,
        ),
    }
}

pub(super) const fn of_limits(of: OfLimits) -> Guide {
    match of {
        OfLimits::SetMin => guide(
            sentence!("set from"),
            "mm",
            Some((0.05, 3.0)),
            sentence!("The smallest gap to leave after work."),
            MANUAL,
        ),
        OfLimits::SetMax => guide(
            sentence!("set to"),
            "mm",
            Some((0.05, 4.0)),
            sentence!("The largest gap to leave after work."),
            MANUAL,
        ),
        OfLimits::WorkingMin => guide(
            sentence!("working from"),
            "mm",
            Some((0.05, 3.0)),
            sentence!(
                "The smallest gap to cut with. Tighter, the faces rub, heat and close up further."
            ),
            MANUAL,
        ),
        OfLimits::WorkingMax => guide(
            sentence!("working to"),
            "mm",
            Some((0.2, 5.0)),
            sentence!(
                "The largest gap to cut with. Wider, thin stock folds into the gap and jams."
            ),
            MANUAL,
        ),
        OfLimits::StopMin => guide(
            sentence!("stop under"),
            "mm",
            Some((0.0, 2.0)),
            sentence!("Under this gap nobody cuts until it is put right."),
            MANUAL,
        ),
        OfLimits::StopMax => guide(
            sentence!("stop over"),
            "mm",
            Some((0.3, 6.0)),
            sentence!("Over this gap nobody cuts until it is put right."),
            MANUAL,
        ),
        OfLimits::HotMin => guide(
            sentence!("hot, at least"),
            "mm",
            Some((0.0, 1.0)),
            sentence!("The smallest gap left at working temperature."),
            sentence!("Judgement where the manual says nothing: more than the gap is known to."),
        ),
        OfLimits::TaperMax => guide(
            sentence!("taper, at most"),
            "mm",
            Some((0.05, 2.0)),
            sentence!("The largest difference between the stations of this line."),
            MANUAL,
        ),
        OfLimits::Source => guide(
            sentence!("these limits come from"),
            "",
            None,
            sentence!(
                "Shown wherever a limit is shown, on screen and on paper. Write the manual's page, not \
             only its name."
            ),
            sentence!("Yours to write: who looked it up, and where."),
        ),
    }
}

pub(super) const fn of_blade(of: OfBlade) -> Guide {
    match of {
        OfBlade::Name => guide(
            sentence!("name"),
            "",
            None,
            sentence!("What a mechanic calls this part."),
            sentence!("As the machine's manual or your crew calls it."),
        ),
        OfBlade::Side => guide(
            sentence!("sits on"),
            "",
            None,
            sentence!("Where in the mouth it sits."),
            MEASURED,
        ),
        OfBlade::Near => guide(
            sentence!("near end"),
            "mm",
            Some((50.0, 3_000.0)),
            sentence!("From the pivot to its end at the pivot."),
            MEASURED,
        ),
        OfBlade::Far => guide(
            sentence!("far end"),
            "mm",
            Some((50.0, 3_000.0)),
            sentence!("From the pivot to its end at the tip."),
            MEASURED,
        ),
        OfBlade::Depth => guide(
            sentence!("depth"),
            "mm",
            Some((10.0, 300.0)),
            sentence!("How deep it is across the jaw, from seat to face."),
            MEASURED,
        ),
        OfBlade::Edges => guide(
            sentence!("edges"),
            "",
            Some((1.0, 4.0)),
            sentence!(
                "How many cutting edges it has: a square section turned on all corners has four."
            ),
            MANUAL,
        ),
        OfBlade::HoursPerEdge => guide(
            sentence!("hours per edge"),
            "h",
            Some((100.0, 3_000.0)),
            sentence!("Hours of work after which an edge is called dull and the blade is turned."),
            sentence!(
                "Your own experience with what you cut; the template's number until you have any."
            ),
        ),
        OfBlade::FaceAngle => guide(
            sentence!("face angle"),
            "°",
            Some((0.0, 30.0)),
            sentence!(
                "Between the way a shim moves the blade and the gap. At 0 a shim closes the gap by \
             its thickness."
            ),
            DRAWING,
        ),
        _ => of_wear(of),
    }
}

const fn of_wear(of: OfBlade) -> Guide {
    match of {
        OfBlade::EdgeRadiusMax => guide(
            sentence!("edge radius, at most"),
            "mm",
            Some((0.5, 10.0)),
            sentence!("The largest radius of its cutting edge; empty if the manual has none."),
            MANUAL,
        ),
        OfBlade::ThicknessMin => guide(
            sentence!("thickness, at least"),
            "mm",
            Some((10.0, 150.0)),
            sentence!("The thinnest it may be; empty if the manual has none."),
            MANUAL,
        ),
        OfBlade::TipWearMax => guide(
            sentence!("tip wear, at most"),
            "mm",
            Some((1.0, 20.0)),
            sentence!("How far a tip may stand back from its template; empty for other parts."),
            MANUAL,
        ),
        _ => of_pack(of),
    }
}

const fn of_pack(of: OfBlade) -> Guide {
    match of {
        OfBlade::MostShims => guide(
            sentence!("shims, at most"),
            sentence!("pcs"),
            Some((1.0, 8.0)),
            sentence!("The most shims behind it."),
            MANUAL,
        ),
        OfBlade::Thickest => guide(
            sentence!("pack, at most"),
            "mm",
            Some((0.5, 6.0)),
            sentence!("The thickest pack behind it."),
            MANUAL,
        ),
        OfBlade::Step => guide(
            sentence!("step between bolts"),
            "mm",
            Some((0.0, 0.5)),
            sentence!(
                "By how much packs at neighbouring bolts may differ. Empty if shims go in over the \
             full length only: a blade bedded on too large a step cracks."
            ),
            MANUAL,
        ),
        OfBlade::Bolts => guide(
            sentence!("bolts at"),
            "mm",
            None,
            sentence!(
                "Where its bolts stand, from the pivot outward, with a semicolon between them."
            ),
            MEASURED,
        ),
        OfBlade::BoltSize => guide(
            sentence!("bolt size"),
            "",
            None,
            sentence!("Size as stamped, such as M24."),
            MANUAL,
        ),
        OfBlade::BoltGrade => guide(
            sentence!("strength class"),
            "",
            None,
            sentence!("As stamped on the head, such as 10.9."),
            MANUAL,
        ),
        OfBlade::FirstTorque => guide(
            sentence!("first pass"),
            "N·m",
            Some((50.0, 2_000.0)),
            sentence!("Torque of the first pass, before the final one; empty if there is none."),
            MANUAL,
        ),
        _ => guide(
            sentence!("torque"),
            "N·m",
            Some((50.0, 3_000.0)),
            sentence!(
                "Final torque. Leave it empty rather than guess: the job sheet then asks for the \
             manual."
            ),
            MANUAL,
        ),
    }
}

pub(super) const fn of_link(of: OfLink) -> Guide {
    match of {
        OfLink::Name => guide(
            sentence!("link"),
            "",
            None,
            sentence!(
                "A part that stands across the gap: the jaw that holds all of them, the blades, the \
             upper jaw."
            ),
            DRAWING,
        ),
        OfLink::Length => guide(
            sentence!("length"),
            "mm",
            Some((5.0, 1_000.0)),
            sentence!(
                "Its length across the gap. What opens and what closes must come to the same length, \
             or an evenly warm machine would move its gaps."
            ),
            DRAWING,
        ),
        OfLink::Opens => guide(
            sentence!("growing"),
            "",
            None,
            sentence!(
                "What it does to the gap when it warms: the frame opens it, what stands in it closes \
             it."
            ),
            DRAWING,
        ),
        OfLink::Material => guide(
            sentence!("steel"),
            "1e-6/K",
            None,
            sentence!(
                "TE-1 or EN 1993-1-2 for carbon steel by those tables, or a number of parts per \
             million and kelvin, such as 12."
            ),
            sentence!(
                "From the data sheet of the steel; 12 for carbon steel of which nobody has one."
            ),
        ),
        OfLink::Follows => guide(
            sentence!("as warm as"),
            "",
            None,
            sentence!("Whose temperature it follows."),
            DRAWING,
        ),
    }
}
