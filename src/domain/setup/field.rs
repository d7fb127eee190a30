//! The name of every number and every word of a description.
//!
//! Knows what there is to fill in; does not know what it is called on a screen.

use crate::domain::machine::{BladeId, LineId, StationId};

/// One thing to fill in.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Of the yard as a whole.
    Yard(OfYard),
    /// Of a row of the shelf.
    Shelf(usize, OfShelf),
    /// Of a leaf set.
    Set(usize, OfSet),
    /// Of a leaf in a set.
    Leaf(usize, usize, OfLeaf),
    /// Of the machine.
    Machine(OfMachine),
    /// The words of a jaw position.
    Position(usize),
    /// Of a line.
    Line(LineId, OfLine),
    /// Of a station.
    Station(StationId, OfStation),
    /// One of the limits of a line.
    Limit(LineId, OfLimits),
    /// Of a blade.
    Blade(BladeId, OfBlade),
    /// Of a link of a line's expansion chain.
    Link(LineId, usize, OfLink),
    /// Of what the heat model needs, as a whole.
    Heat(OfHeat),
    /// Of a part that takes up heat.
    Part(usize, OfPart),
    /// Of a joint between two parts.
    Joint(usize, OfJoint),
    /// Of a contact where cutting makes heat.
    Contact(usize, OfContact),
}

/// Of the yard as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfYard {
    /// What it is called.
    Name,
    /// The unit in which lengths are read.
    Unit,
    /// Hours between two looks.
    Look,
    /// Hours between two lubrications.
    Lubricate,
    /// Hours after work by which bolts are tightened again.
    Retorque,
    /// Hours after a fresh edge in which only thin stock is cut.
    BreakIn,
}

/// Of a row of the shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfShelf {
    /// Thickness of one shim.
    Thickness,
    /// How many there are.
    Count,
}

/// Of a leaf set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfSet {
    /// What it is called.
    Name,
    /// The day its leaves were measured.
    Calibrated,
    /// The day by which they must be measured again.
    Due,
}

/// Of a leaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfLeaf {
    /// The stamp.
    Thickness,
    /// How far it may be off its stamp.
    Tolerance,
    /// What a micrometer found.
    Measured,
}

/// Of the machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfMachine {
    /// What people call it.
    Name,
    /// The carrier and place.
    Carrier,
    /// From the pivot to the outside of the tip.
    Reach,
    /// Clear width between the cheeks.
    Mouth,
    /// Thickness of each cheek.
    Cheek,
    /// Width of the upper jaw's body.
    UpperJaw,
    /// Diameter of the pivot pin.
    Pivot,
    /// From the pivot to the guide pads.
    Pads,
    /// The largest step where primary and secondary blades meet.
    JointStep,
    /// Hours between two looks at it, if not those of the yard.
    Look,
    /// Hours between two lubrications of it.
    Lubricate,
    /// Hours after work by which its bolts are tightened again.
    Retorque,
    /// Hours after a fresh edge in which it cuts only thin stock.
    BreakIn,
}

/// Of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfLine {
    /// The place as a mechanic says it.
    Place,
    /// The moving part.
    Moving,
    /// The fixed part.
    Fixed,
    /// Which way side play moves the gap.
    Toward,
    /// The jaw position it is measured in.
    Position,
    /// The moving part's temperature after some hours.
    WarmMoving,
    /// The fixed part's temperature after some hours.
    WarmFixed,
    /// The upper jaw's temperature after some hours.
    WarmUpper,
    /// The lower jaw's temperature after some hours.
    WarmLower,
}

/// Of a station.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfStation {
    /// Distance from the pivot.
    FromPivot,
    /// Place across the jaw from the guide cheek.
    Across,
}

/// The limits of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfLimits {
    /// The smallest gap after work.
    SetMin,
    /// The largest gap after work.
    SetMax,
    /// The smallest gap to cut with.
    WorkingMin,
    /// The largest gap to cut with.
    WorkingMax,
    /// The gap below which cutting stops.
    StopMin,
    /// The gap above which cutting stops.
    StopMax,
    /// The smallest gap at working temperature.
    HotMin,
    /// The largest difference along the line.
    TaperMax,
    /// Where the numbers come from.
    Source,
}

/// Of a blade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfBlade {
    /// What a mechanic calls it.
    Name,
    /// Where it sits.
    Side,
    /// From the pivot to its near end.
    Near,
    /// From the pivot to its far end.
    Far,
    /// From seat to face.
    Depth,
    /// How many cutting edges it has.
    Edges,
    /// Hours after which an edge is called dull.
    HoursPerEdge,
    /// Between the way a shim moves it and the gap.
    FaceAngle,
    /// The largest edge radius.
    EdgeRadiusMax,
    /// The smallest thickness.
    ThicknessMin,
    /// The largest wear of a tip against its template.
    TipWearMax,
    /// The most shims in its pack.
    MostShims,
    /// Its thickest pack.
    Thickest,
    /// The most by which packs at neighbouring bolts may differ.
    Step,
    /// Where its bolts stand.
    Bolts,
    /// The size of its bolts.
    BoltSize,
    /// The strength class of its bolts.
    BoltGrade,
    /// The first pass.
    FirstTorque,
    /// The final torque.
    Torque,
}

/// Of a link of an expansion chain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfLink {
    /// What it is.
    Name,
    /// Its length across the gap.
    Length,
    /// Whether it opens or closes the gap when it grows.
    Opens,
    /// Which steel.
    Material,
    /// Which temperature it follows.
    Follows,
}

/// Of what the heat model needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfHeat {
    /// Where the numbers come from.
    Source,
    /// Bore of the cylinder.
    Bore,
    /// Diameter of its rod.
    Rod,
    /// Its pressure.
    Pressure,
    /// Its lever arm.
    Arm,
    /// Hours of a shift.
    Hours,
    /// Cuts a minute.
    Cuts,
    /// Share of the time it cuts.
    WorkingShare,
    /// Temperature of the air.
    Air,
    /// Friction between the faces.
    Friction,
    /// Thickness of the usual plate.
    Plate,
    /// Its shear strength.
    ShearStrength,
    /// Length of a cut.
    CutLength,
    /// Where it is cut.
    CutAt,
    /// Share of the closing force that pushes sideways.
    SideShare,
    /// Stiffness of the cutting cheek.
    CuttingCheek,
    /// Stiffness of the guide cheek.
    GuideCheek,
}

/// Of a part that takes up heat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfPart {
    /// Heat for one kelvin.
    Capacity,
    /// Heat it gives to the air.
    ToAir,
}

/// Of a joint between two parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfJoint {
    /// Heat it lets through.
    Conductance,
}

/// Of a contact where cutting makes heat.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OfContact {
    /// Share of the side thrust it carries.
    Thrust,
    /// How hard it is to push together.
    Stiffness,
    /// Share of the cutting work that becomes heat here.
    CutHeat,
    /// How far the faces slide in a cut.
    Slide,
    /// The area of the streak.
    Area,
    /// How long they press in a cut.
    Press,
    /// Heat conductivity of its steel.
    Conductivity,
    /// Thermal diffusivity of its steel.
    Diffusivity,
}
