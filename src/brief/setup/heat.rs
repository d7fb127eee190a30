//! Fields of a machine's heat: cylinder, shift, plate, steel, parts and faces.

use crate::{
    brief::setup::{DRAWING, Guide, guide},
    domain::setup::{OfContact, OfHeat, OfPart},
    language::sentence,
};

const HEAT: &str = sentence!(
    "Asked of the machine's maker, or left as the template has it. The Heat screen shows how far \
     the answer moves with it."
);
const PLATE: &str = sentence!("From the cylinder's plate or the machine's manual.");

/// A joint between two parts.
pub(super) const JOINT: Guide = guide(
    sentence!("lets through"),
    "W/K",
    Some((0.5, 50.0)),
    sentence!("Heat that flows through the bolted joint for each kelvin of difference."),
    HEAT,
);

pub(super) const fn of_heat(of: OfHeat) -> Guide {
    match of {
        OfHeat::Source => guide(
            sentence!("these numbers come from"),
            "",
            None,
            sentence!("Shown under the Heat screen."),
            sentence!("Yours to write: who asked whom, and when."),
        ),
        OfHeat::Bore => guide(
            sentence!("cylinder bore"),
            "mm",
            Some((100.0, 600.0)),
            sentence!("Inner diameter of the cylinder that closes the jaw."),
            PLATE,
        ),
        OfHeat::Rod => guide(
            sentence!("rod"),
            "mm",
            Some((50.0, 450.0)),
            sentence!("Diameter of its piston rod."),
            PLATE,
        ),
        OfHeat::Pressure => guide(
            sentence!("pressure"),
            "bar",
            Some((150.0, 450.0)),
            sentence!("Pressure at which the relief valve opens."),
            PLATE,
        ),
        OfHeat::Arm => guide(
            sentence!("lever arm"),
            "mm",
            Some((200.0, 1_500.0)),
            sentence!("From the pivot to the line in which the cylinder pushes, jaw half closed."),
            DRAWING,
        ),
        _ => of_work(of),
    }
}

const fn of_work(of: OfHeat) -> Guide {
    match of {
        OfHeat::Hours => guide(
            sentence!("shift"),
            "h",
            Some((1.0, 12.0)),
            sentence!("Hours of a usual shift."),
            sentence!("Your own shift."),
        ),
        OfHeat::Cuts => guide(
            sentence!("cuts per minute"),
            "1/min",
            Some((0.5, 15.0)),
            sentence!("Cuts a minute while it cuts."),
            sentence!("Counted over ten minutes with a watch."),
        ),
        OfHeat::WorkingShare => guide(
            sentence!("share of the time cutting"),
            "",
            Some((0.1, 1.0)),
            sentence!("1 cuts without a break, 0.5 half of the time."),
            sentence!("Counted over an hour with a watch."),
        ),
        OfHeat::Air => guide(
            sentence!("air"),
            "°C",
            Some((-30.0, 45.0)),
            sentence!("Temperature of the air on a usual day."),
            sentence!("A thermometer in the shade."),
        ),
        OfHeat::Friction => guide(
            sentence!("friction"),
            "",
            Some((0.1, 0.4)),
            sentence!("Friction between faces that rub, greased or not."),
            sentence!("Textbooks: about 0.1 for greased steel, 0.2 to 0.4 for dry."),
        ),
        OfHeat::Plate => guide(
            sentence!("usual plate"),
            "mm",
            Some((3.0, 100.0)),
            sentence!("Thickness of what is usually cut."),
            sentence!("What comes through your gate."),
        ),
        OfHeat::ShearStrength => guide(
            sentence!("shear strength"),
            "N/mm²",
            Some((150.0, 700.0)),
            sentence!("Of what is usually cut: about two thirds of its tensile strength."),
            sentence!("From the grade of the steel."),
        ),
        OfHeat::CutLength => guide(
            sentence!("length of a cut"),
            "mm",
            Some((50.0, 1_500.0)),
            sentence!("How long a usual cut is."),
            sentence!("What comes through your gate."),
        ),
        OfHeat::CutAt => guide(
            sentence!("cut at"),
            "mm",
            Some((100.0, 3_000.0)),
            sentence!("Where along the jaw it is usually cut, from the pivot."),
            sentence!("Watched at work. Thick stock belongs deep in the throat."),
        ),
        _ => of_jaw(of),
    }
}

const fn of_jaw(of: OfHeat) -> Guide {
    match of {
        OfHeat::SideShare => guide(
            sentence!("side push"),
            "",
            Some((0.1, 0.3)),
            sentence!("Share of the cutting force that pushes the upper jaw sideways."),
            sentence!("About 0.2, from memory: no published source."),
        ),
        OfHeat::CuttingCheek => guide(
            sentence!("cutting cheek"),
            "kN/mm",
            Some((50.0, 2_000.0)),
            sentence!("How hard the cutting cheek is to bend at the tip."),
            HEAT,
        ),
        _ => guide(
            sentence!("guide cheek"),
            "kN/mm",
            Some((50.0, 2_000.0)),
            sentence!("How hard the guide cheek is to bend at the tip."),
            HEAT,
        ),
    }
}

pub(super) const fn of_part(of: OfPart) -> Guide {
    match of {
        OfPart::Capacity => guide(
            sentence!("takes up"),
            "kJ/K",
            Some((1.0, 3_000.0)),
            sentence!("Heat for one kelvin: its mass in kg times 0.48 for steel."),
            sentence!("Weighed, or worked out from its size."),
        ),
        OfPart::ToAir => guide(
            sentence!("gives to the air"),
            "W/K",
            Some((0.1, 200.0)),
            sentence!(
                "Heat it gives to the air for each kelvin it is warmer: about 10 W/K for each square \
             metre that the air reaches."
            ),
            HEAT,
        ),
    }
}

pub(super) const fn of_contact(of: OfContact) -> Guide {
    match of {
        OfContact::Thrust => guide(
            sentence!("share of the side push"),
            "",
            Some((0.0, 1.0)),
            sentence!("How much of the side push is carried here."),
            HEAT,
        ),
        OfContact::Stiffness => guide(
            sentence!("stiffness"),
            "kN/mm",
            Some((50.0, 2_000.0)),
            sentence!("How hard the faces are to push together."),
            HEAT,
        ),
        OfContact::CutHeat => guide(
            sentence!("share of the cutting work"),
            "",
            Some((0.0, 0.5)),
            sentence!("How much of the cutting work becomes heat here."),
            HEAT,
        ),
        OfContact::Slide => guide(
            sentence!("slide"),
            "mm",
            Some((0.0, 1_000.0)),
            sentence!("How far the faces slide past each other in a cut."),
            DRAWING,
        ),
        OfContact::Area => guide(
            sentence!("streak"),
            "mm²",
            Some((500.0, 50_000.0)),
            sentence!("The area of the streak that rubs."),
            sentence!("Measured on the face where it shines."),
        ),
        OfContact::Press => guide(
            sentence!("pressed for"),
            "s",
            Some((0.1, 5.0)),
            sentence!("How long the faces press in a cut."),
            sentence!("Counted with a watch."),
        ),
        OfContact::Conductivity => guide(
            sentence!("conductivity"),
            "W/(m·K)",
            Some((15.0, 60.0)),
            sentence!("Heat conductivity of its steel."),
            sentence!("From the data sheet of the steel; 45 for low-alloy steel."),
        ),
        OfContact::Diffusivity => guide(
            sentence!("diffusivity"),
            "mm²/s",
            Some((4.0, 18.0)),
            sentence!("Thermal diffusivity of its steel."),
            sentence!("From the data sheet of the steel; 12 for low-alloy steel."),
        ),
    }
}
