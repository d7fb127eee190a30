//! Fields of a machine's heat: cylinder, shift, plate, steel, parts and faces.

use crate::{
    brief::setup::{DRAWING, Guide, guide},
    domain::setup::{OfContact, OfHeat, OfPart},
};

const HEAT: &str = "Asked of the machine's maker, or left as the template has it. The Heat screen shows how far \
     the answer moves with it.";
const PLATE: &str = "From the cylinder's plate or the machine's manual.";

/// A joint between two parts.
pub(super) const JOINT: Guide = guide(
    "lets through",
    "W/K",
    Some((0.5, 50.0)),
    "Heat that flows through the bolted joint for each kelvin of difference.",
    HEAT,
);

pub(super) const fn of_heat(of: OfHeat) -> Guide {
    match of {
        OfHeat::Source => guide(
            "these numbers come from",
            "",
            None,
            "Shown under the Heat screen.",
            "Yours to write: who asked whom, and when.",
        ),
        OfHeat::Bore => guide(
            "cylinder bore",
            "mm",
            Some((100.0, 600.0)),
            "Inner diameter of the cylinder that closes the jaw.",
            PLATE,
        ),
        OfHeat::Rod => {
            guide("rod", "mm", Some((50.0, 450.0)), "Diameter of its piston rod.", PLATE)
        }
        OfHeat::Pressure => guide(
            "pressure",
            "bar",
            Some((150.0, 450.0)),
            "Pressure at which the relief valve opens.",
            PLATE,
        ),
        OfHeat::Arm => guide(
            "lever arm",
            "mm",
            Some((200.0, 1_500.0)),
            "From the pivot to the line in which the cylinder pushes, jaw half closed.",
            DRAWING,
        ),
        _ => of_work(of),
    }
}

const fn of_work(of: OfHeat) -> Guide {
    match of {
        OfHeat::Hours => {
            guide("shift", "h", Some((1.0, 12.0)), "Hours of a usual shift.", "Your own shift.")
        }
        OfHeat::Cuts => guide(
            "cuts per minute",
            "1/min",
            Some((0.5, 15.0)),
            "Cuts a minute while it cuts.",
            "Counted over ten minutes with a watch.",
        ),
        OfHeat::WorkingShare => guide(
            "share of the time cutting",
            "",
            Some((0.1, 1.0)),
            "1 cuts without a break, 0.5 half of the time.",
            "Counted over an hour with a watch.",
        ),
        OfHeat::Air => guide(
            "air",
            "°C",
            Some((-30.0, 45.0)),
            "Temperature of the air on a usual day.",
            "A thermometer in the shade.",
        ),
        OfHeat::Friction => guide(
            "friction",
            "",
            Some((0.1, 0.4)),
            "Friction between faces that rub, greased or not.",
            "Textbooks: about 0.1 for greased steel, 0.2 to 0.4 for dry.",
        ),
        OfHeat::Plate => guide(
            "usual plate",
            "mm",
            Some((3.0, 100.0)),
            "Thickness of what is usually cut.",
            "What comes through your gate.",
        ),
        OfHeat::ShearStrength => guide(
            "shear strength",
            "N/mm²",
            Some((150.0, 700.0)),
            "Of what is usually cut: about two thirds of its tensile strength.",
            "From the grade of the steel.",
        ),
        OfHeat::CutLength => guide(
            "length of a cut",
            "mm",
            Some((50.0, 1_500.0)),
            "How long a usual cut is.",
            "What comes through your gate.",
        ),
        OfHeat::CutAt => guide(
            "cut at",
            "mm",
            Some((100.0, 3_000.0)),
            "Where along the jaw it is usually cut, from the pivot.",
            "Watched at work. Thick stock belongs deep in the throat.",
        ),
        _ => of_jaw(of),
    }
}

const fn of_jaw(of: OfHeat) -> Guide {
    match of {
        OfHeat::SideShare => guide(
            "side push",
            "",
            Some((0.1, 0.3)),
            "Share of the cutting force that pushes the upper jaw sideways.",
            "About 0.2, from memory: no published source.",
        ),
        OfHeat::CuttingCheek => guide(
            "cutting cheek",
            "kN/mm",
            Some((50.0, 2_000.0)),
            "How hard the cutting cheek is to bend at the tip.",
            HEAT,
        ),
        _ => guide(
            "guide cheek",
            "kN/mm",
            Some((50.0, 2_000.0)),
            "How hard the guide cheek is to bend at the tip.",
            HEAT,
        ),
    }
}

pub(super) const fn of_part(of: OfPart) -> Guide {
    match of {
        OfPart::Capacity => guide(
            "takes up",
            "kJ/K",
            Some((1.0, 3_000.0)),
            "Heat for one kelvin: its mass in kg times 0.48 for steel.",
            "Weighed, or worked out from its size.",
        ),
        OfPart::ToAir => guide(
            "gives to the air",
            "W/K",
            Some((0.1, 200.0)),
            "Heat it gives to the air for each kelvin it is warmer: about 10 W/K for each square \
             metre that the air reaches.",
            HEAT,
        ),
    }
}

pub(super) const fn of_contact(of: OfContact) -> Guide {
    match of {
        OfContact::Thrust => guide(
            "share of the side push",
            "",
            Some((0.0, 1.0)),
            "How much of the side push is carried here.",
            HEAT,
        ),
        OfContact::Stiffness => guide(
            "stiffness",
            "kN/mm",
            Some((50.0, 2_000.0)),
            "How hard the faces are to push together.",
            HEAT,
        ),
        OfContact::CutHeat => guide(
            "share of the cutting work",
            "",
            Some((0.0, 0.5)),
            "How much of the cutting work becomes heat here.",
            HEAT,
        ),
        OfContact::Slide => guide(
            "slide",
            "mm",
            Some((0.0, 1_000.0)),
            "How far the faces slide past each other in a cut.",
            DRAWING,
        ),
        OfContact::Area => guide(
            "streak",
            "mm²",
            Some((500.0, 50_000.0)),
            "The area of the streak that rubs.",
            "Measured on the face where it shines.",
        ),
        OfContact::Press => guide(
            "pressed for",
            "s",
            Some((0.1, 5.0)),
            "How long the faces press in a cut.",
            "Counted with a watch.",
        ),
        OfContact::Conductivity => guide(
            "conductivity",
            "W/(m·K)",
            Some((15.0, 60.0)),
            "Heat conductivity of its steel.",
            "From the data sheet of the steel; 45 for low-alloy steel.",
        ),
        OfContact::Diffusivity => guide(
            "diffusivity",
            "mm²/s",
            Some((4.0, 18.0)),
            "Thermal diffusivity of its steel.",
            "From the data sheet of the steel; 12 for low-alloy steel.",
        ),
    }
}
