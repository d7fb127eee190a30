//! Fields of the yard: its name, leaves, shims and intervals.

use crate::{
    brief::setup::{Guide, PRACTICE, guide},
    domain::setup::{OfLeaf, OfSet, OfShelf, OfYard},
    language::sentence,
};

const COUNTED: &str =
    sentence!("Counted at the shelf. A shim that is not there cannot be in a recipe.");
const SHEET: &str = sentence!("From the calibration sheet of the set.");

pub(super) const fn of_yard(of: OfYard) -> Guide {
    match of {
        OfYard::Name => guide(
            sentence!("name"),
            "",
            None,
            sentence!("What the yard is called, on screen and on every job sheet."),
            sentence!("Yours to choose."),
        ),
        OfYard::Unit => guide(
            sentence!("lengths in"),
            "",
            None,
            sentence!(
                "The unit in which gaps, limits and sizes are shown and typed. A number with a unit \
             of its own is read in that: 0.45 mm, .018 in, 18 thou. Files are always in mm."
            ),
            sentence!("As your leaves are stamped and your manual is printed."),
        ),
        OfYard::Look => guide(
            sentence!("look at the gaps every"),
            "h",
            Some((4.0, 24.0)),
            sentence!(
                "Hours of work from one look at the gaps to the next. After chatter or a jam the \
             machine is due at once, whatever stands here."
            ),
            PRACTICE,
        ),
        OfYard::Lubricate => guide(
            sentence!("lubricate every"),
            "h",
            Some((4.0, 100.0)),
            sentence!("Hours of work from one greasing of the pivot and the pads to the next."),
            PRACTICE,
        ),
        OfYard::Retorque => guide(
            sentence!("tighten bolts again after"),
            "h",
            Some((0.5, 24.0)),
            sentence!(
                "Hours of work after a blade was bolted on. Packs settle, and a bolt that was tight \
             is not tight any more."
            ),
            PRACTICE,
        ),
        OfYard::BreakIn => guide(
            sentence!("thin stock first for"),
            "h",
            Some((1.0, 16.0)),
            sentence!(
                "Hours of work after a fresh edge or a new blade in which only thin stock is cut, so \
             that the edges settle instead of chipping."
            ),
            PRACTICE,
        ),
    }
}

pub(super) const fn of_shelf(of: OfShelf) -> Guide {
    match of {
        OfShelf::Thickness => guide(
            sentence!("thickness"),
            "mm",
            Some((0.05, 3.0)),
            sentence!("How thick one shim is."),
            sentence!("Measured with a micrometer; the stamp is good enough for a clean new shim."),
        ),
        OfShelf::Count => guide(
            sentence!("count"),
            sentence!("pcs"),
            Some((0.0, 200.0)),
            sentence!("How many of them lie on the shelf."),
            COUNTED,
        ),
    }
}

pub(super) const fn of_set(of: OfSet) -> Guide {
    match of {
        OfSet::Name => guide(
            sentence!("name"),
            "",
            None,
            sentence!(
                "What the leaf set is called. Readings made with it carry its name, so do not change \
             it once it was used."
            ),
            sentence!("Yours to choose; many write it on the case."),
        ),
        OfSet::Calibrated => guide(
            sentence!("measured on"),
            "",
            None,
            sentence!("The day its leaves were last measured."),
            SHEET,
        ),
        OfSet::Due => guide(
            sentence!("due on"),
            "",
            None,
            sentence!(
                "The day by which they must be measured again. A worn leaf makes every gap look wider \
             than it is."
            ),
            SHEET,
        ),
    }
}

pub(super) const fn of_leaf(of: OfLeaf) -> Guide {
    match of {
        OfLeaf::Thickness => guide(
            sentence!("stamp"),
            "mm",
            Some((0.02, 2.0)),
            sentence!(
                "The thickness stamped on the leaf. For one stamped in another unit write the unit: \
             0.45 mm, 0.018 in."
            ),
            sentence!("Read off the leaf."),
        ),
        OfLeaf::Tolerance => guide(
            "±",
            "mm",
            Some((0.001, 0.05)),
            sentence!("How far the leaf may be off its stamp."),
            sentence!("From the data sheet of the set, or the standard it is made to."),
        ),
        OfLeaf::Measured => guide(
            sentence!("measured"),
            "mm",
            Some((0.02, 2.0)),
            sentence!(
                "What a micrometer found; empty if nobody measured this leaf. Then the stamp counts."
            ),
            SHEET,
        ),
    }
}
