//! Which fields a draft has, and where each of them lies in it.
//!
//! Long because every number of a description is named once on the way out and once on the way in;
//! knows nothing else.

use crate::domain::{
    gauge::Leaf,
    machine::{Blade, BladeId, Bolts, Line, LineId, Link, PackRules, Shear, Thermal},
    setup::{
        Draft, Field, LimitsDraft, OfBlade, OfContact, OfHeat, OfJoint, OfLeaf, OfLimits, OfLine,
        OfLink, OfMachine, OfPart, OfSet, OfShelf, OfStation, OfYard, slot::Slot,
    },
    yard::{Settings, ShelfItem},
};

const YARD: [OfYard; 6] = [
    OfYard::Name,
    OfYard::Unit,
    OfYard::Look,
    OfYard::Lubricate,
    OfYard::Retorque,
    OfYard::BreakIn,
];
const MACHINE: [OfMachine; 13] = [
    OfMachine::Name,
    OfMachine::Carrier,
    OfMachine::Reach,
    OfMachine::Mouth,
    OfMachine::Cheek,
    OfMachine::UpperJaw,
    OfMachine::Pivot,
    OfMachine::Pads,
    OfMachine::JointStep,
    OfMachine::Look,
    OfMachine::Lubricate,
    OfMachine::Retorque,
    OfMachine::BreakIn,
];
const LINE: [OfLine; 9] = [
    OfLine::Place,
    OfLine::Moving,
    OfLine::Fixed,
    OfLine::Toward,
    OfLine::Position,
    OfLine::WarmMoving,
    OfLine::WarmFixed,
    OfLine::WarmUpper,
    OfLine::WarmLower,
];
const LIMITS: [OfLimits; 9] = [
    OfLimits::SetMin,
    OfLimits::SetMax,
    OfLimits::WorkingMin,
    OfLimits::WorkingMax,
    OfLimits::StopMin,
    OfLimits::StopMax,
    OfLimits::HotMin,
    OfLimits::TaperMax,
    OfLimits::Source,
];
const BLADE: [OfBlade; 19] = [
    OfBlade::Name,
    OfBlade::Side,
    OfBlade::Near,
    OfBlade::Far,
    OfBlade::Depth,
    OfBlade::Edges,
    OfBlade::HoursPerEdge,
    OfBlade::FaceAngle,
    OfBlade::EdgeRadiusMax,
    OfBlade::ThicknessMin,
    OfBlade::TipWearMax,
    OfBlade::MostShims,
    OfBlade::Thickest,
    OfBlade::Step,
    OfBlade::Bolts,
    OfBlade::BoltSize,
    OfBlade::BoltGrade,
    OfBlade::FirstTorque,
    OfBlade::Torque,
];
const LINK: [OfLink; 5] =
    [OfLink::Name, OfLink::Length, OfLink::Opens, OfLink::Material, OfLink::Follows];
const HEAT: [OfHeat; 17] = [
    OfHeat::Source,
    OfHeat::Bore,
    OfHeat::Rod,
    OfHeat::Pressure,
    OfHeat::Arm,
    OfHeat::Hours,
    OfHeat::Cuts,
    OfHeat::WorkingShare,
    OfHeat::Air,
    OfHeat::Friction,
    OfHeat::Plate,
    OfHeat::ShearStrength,
    OfHeat::CutLength,
    OfHeat::CutAt,
    OfHeat::SideShare,
    OfHeat::CuttingCheek,
    OfHeat::GuideCheek,
];
const CONTACT: [OfContact; 8] = [
    OfContact::Thrust,
    OfContact::Stiffness,
    OfContact::CutHeat,
    OfContact::Slide,
    OfContact::Area,
    OfContact::Press,
    OfContact::Conductivity,
    OfContact::Diffusivity,
];

impl Draft {
    /// Every field there is, in the order of a description.
    pub fn fields(&self) -> Vec<Field> {
        let mut all: Vec<Field> = YARD.map(Field::Yard).to_vec();
        for row in 0..self.settings.shelf.len() {
            all.extend([OfShelf::Thickness, OfShelf::Count].map(|of| Field::Shelf(row, of)));
        }
        for (place, set) in self.sets.iter().enumerate() {
            all.push(Field::Set(place, OfSet::Name));
            if set.calibration.is_some() {
                all.extend([OfSet::Calibrated, OfSet::Due].map(|of| Field::Set(place, of)));
            }
            for leaf in 0..set.leaves.len() {
                let of = [OfLeaf::Thickness, OfLeaf::Tolerance, OfLeaf::Measured];
                all.extend(of.map(|of| Field::Leaf(place, leaf, of)));
            }
        }
        let Some(shear) = &self.shear else { return all };
        all.extend(MACHINE.map(Field::Machine));
        all.extend((0..shear.positions.len()).map(Field::Position));
        for line in &shear.lines {
            all.extend(LINE.map(|of| Field::Line(line.id, of)));
            for station in &line.stations {
                all.push(Field::Station(station.id, OfStation::FromPivot));
                all.push(Field::Station(station.id, OfStation::Across));
            }
            all.extend(LIMITS.map(|of| Field::Limit(line.id, of)));
            for link in 0..line.chain.0.len() {
                all.extend(LINK.map(|of| Field::Link(line.id, link, of)));
            }
        }
        for blade in &shear.blades {
            all.extend(BLADE.map(|of| Field::Blade(blade.id.clone(), of)));
        }
        if let Some(thermal) = &shear.thermal {
            all.extend(HEAT.map(Field::Heat));
            for part in 0..thermal.parts.len() {
                all.extend([OfPart::Capacity, OfPart::ToAir].map(|of| Field::Part(part, of)));
            }
            let joints = 0..thermal.joints.len();
            all.extend(joints.map(|joint| Field::Joint(joint, OfJoint::Conductance)));
            for contact in 0..thermal.contacts.len() {
                all.extend(CONTACT.map(|of| Field::Contact(contact, of)));
            }
        }
        all
    }

    /// Where a field lies; `None` if it is not there.
    pub(crate) fn slot(&mut self, field: &Field) -> Option<Slot<'_>> {
        let shear = self.shear.as_mut();
        match field {
            Field::Yard(of) => Some(of_yard(&mut self.settings, *of)),
            Field::Shelf(row, of) => Some(of_shelf(self.settings.shelf.get_mut(*row)?, *of)),
            Field::Set(set, of) => {
                let set = self.sets.get_mut(*set)?;
                Some(match of {
                    OfSet::Name => Slot::Text(&mut set.name),
                    OfSet::Calibrated => Slot::Day(&mut set.calibration.as_mut()?.on),
                    OfSet::Due => Slot::Day(&mut set.calibration.as_mut()?.due),
                })
            }
            Field::Leaf(set, leaf, of) => {
                Some(of_leaf(self.sets.get_mut(*set)?.leaves.get_mut(*leaf)?, *of))
            }
            Field::Machine(of) => Some(of_machine(shear?, *of)),
            Field::Position(place) => {
                Some(Slot::Text(&mut shear?.positions.get_mut(*place)?.words))
            }
            Field::Line(line, of) => of_line(shear?, *line, *of),
            Field::Station(id, of) => {
                let line = line_mut(shear?, id.line)?;
                let station = line.stations.iter_mut().find(|it| it.id == *id)?;
                Some(match of {
                    OfStation::FromPivot => Slot::Length(&mut station.from_pivot),
                    OfStation::Across => Slot::MaybeLength(&mut station.across),
                })
            }
            Field::Limit(line, of) => Some(of_limits(self.limits.get_mut(line)?, *of)),
            Field::Blade(id, of) => of_blade(blade_mut(shear?, id)?, *of),
            Field::Link(line, link, of) => {
                Some(of_link(line_mut(shear?, *line)?.chain.0.get_mut(*link)?, *of))
            }
            Field::Heat(of) => Some(of_heat(shear?.thermal.as_mut()?, *of)),
            Field::Part(part, of) => {
                let part = shear?.thermal.as_mut()?.parts.get_mut(*part)?;
                Some(Slot::Float(match of {
                    OfPart::Capacity => &mut part.capacity_kj_per_k,
                    OfPart::ToAir => &mut part.to_air_w_per_k,
                }))
            }
            Field::Joint(joint, OfJoint::Conductance) => {
                let joint = shear?.thermal.as_mut()?.joints.get_mut(*joint)?;
                Some(Slot::Float(&mut joint.conductance_w_per_k))
            }
            Field::Contact(contact, of) => of_contact(shear?.thermal.as_mut()?, *contact, *of),
        }
    }
}

fn line_mut(shear: &mut Shear, id: LineId) -> Option<&mut Line> {
    shear.lines.iter_mut().find(|line| line.id == id)
}

fn blade_mut<'a>(shear: &'a mut Shear, id: &BladeId) -> Option<&'a mut Blade> {
    shear.blades.iter_mut().find(|blade| blade.id == *id)
}

const fn of_yard(settings: &mut Settings, of: OfYard) -> Slot<'_> {
    let intervals = &mut settings.intervals;
    match of {
        OfYard::Name => Slot::Text(&mut settings.name),
        OfYard::Unit => Slot::Unit(&mut settings.unit),
        OfYard::Look => Slot::Hours(&mut intervals.look),
        OfYard::Lubricate => Slot::Hours(&mut intervals.lubricate),
        OfYard::Retorque => Slot::Hours(&mut intervals.retorque),
        OfYard::BreakIn => Slot::Hours(&mut intervals.break_in),
    }
}

const fn of_shelf(item: &mut ShelfItem, of: OfShelf) -> Slot<'_> {
    match of {
        OfShelf::Thickness => Slot::Length(&mut item.thickness),
        OfShelf::Count => Slot::Count(&mut item.count),
    }
}

const fn of_leaf(leaf: &mut Leaf, of: OfLeaf) -> Slot<'_> {
    match of {
        OfLeaf::Thickness => Slot::Length(&mut leaf.thickness),
        OfLeaf::Tolerance => Slot::Length(&mut leaf.tolerance),
        OfLeaf::Measured => Slot::MaybeLength(&mut leaf.measured),
    }
}

const fn of_machine(shear: &mut Shear, of: OfMachine) -> Slot<'_> {
    let (geometry, own) = (&mut shear.geometry, &mut shear.intervals);
    match of {
        OfMachine::Name => Slot::Text(&mut shear.name),
        OfMachine::Carrier => Slot::Text(&mut shear.carrier),
        OfMachine::Reach => Slot::Length(&mut geometry.reach),
        OfMachine::Mouth => Slot::Length(&mut geometry.mouth),
        OfMachine::Cheek => Slot::Length(&mut geometry.cheek),
        OfMachine::UpperJaw => Slot::Length(&mut geometry.upper_jaw),
        OfMachine::Pivot => Slot::Length(&mut geometry.pivot),
        OfMachine::Pads => Slot::Length(&mut geometry.pads),
        OfMachine::JointStep => Slot::Length(&mut shear.joint_step_max),
        OfMachine::Look => Slot::MaybeHours(&mut own.look),
        OfMachine::Lubricate => Slot::MaybeHours(&mut own.lubricate),
        OfMachine::Retorque => Slot::MaybeHours(&mut own.retorque),
        OfMachine::BreakIn => Slot::MaybeHours(&mut own.break_in),
    }
}

fn of_line(shear: &mut Shear, id: LineId, of: OfLine) -> Option<Slot<'_>> {
    let positions = shear.positions.len();
    let on = |moving: bool, blades: &[Blade]| -> Vec<String> {
        use crate::domain::machine::Side;
        let fits = blades.iter().filter(|blade| (blade.side == Side::Moving) == moving);
        fits.map(|blade| blade.id.0.clone()).collect()
    };
    let (moving, fixed) = match of {
        OfLine::Moving => (on(true, &shear.blades), Vec::new()),
        OfLine::Fixed => (Vec::new(), on(false, &shear.blades)),
        _ => (Vec::new(), Vec::new()),
    };
    let line = line_mut(shear, id)?;
    Some(match of {
        OfLine::Place => Slot::Text(&mut line.place),
        OfLine::Moving => Slot::Blade(&mut line.moving, moving),
        OfLine::Fixed => Slot::Blade(&mut line.fixed, fixed),
        OfLine::Toward => Slot::Toward(&mut line.toward),
        OfLine::Position => Slot::Place(&mut line.position, positions),
        OfLine::WarmMoving => Slot::Temperature(&mut line.working.moving),
        OfLine::WarmFixed => Slot::Temperature(&mut line.working.fixed),
        OfLine::WarmUpper => Slot::Temperature(&mut line.working.upper_jaw),
        OfLine::WarmLower => Slot::Temperature(&mut line.working.lower_jaw),
    })
}

const fn of_limits(limits: &mut LimitsDraft, of: OfLimits) -> Slot<'_> {
    match of {
        OfLimits::SetMin => Slot::Length(&mut limits.set.min),
        OfLimits::SetMax => Slot::Length(&mut limits.set.max),
        OfLimits::WorkingMin => Slot::Length(&mut limits.working.min),
        OfLimits::WorkingMax => Slot::Length(&mut limits.working.max),
        OfLimits::StopMin => Slot::Length(&mut limits.stop.min),
        OfLimits::StopMax => Slot::Length(&mut limits.stop.max),
        OfLimits::HotMin => Slot::Length(&mut limits.hot_min),
        OfLimits::TaperMax => Slot::Length(&mut limits.taper_max),
        OfLimits::Source => Slot::Text(&mut limits.source),
    }
}

fn of_blade(blade: &mut Blade, of: OfBlade) -> Option<Slot<'_>> {
    let wear = &mut blade.wear;
    Some(match of {
        OfBlade::Name => Slot::Text(&mut blade.name),
        OfBlade::Side => Slot::Side(&mut blade.side),
        OfBlade::Near => Slot::Length(&mut blade.near),
        OfBlade::Far => Slot::Length(&mut blade.far),
        OfBlade::Depth => Slot::Length(&mut blade.depth),
        OfBlade::Edges => Slot::Byte(&mut blade.edges),
        OfBlade::HoursPerEdge => Slot::Hours(&mut blade.hours_per_edge),
        OfBlade::FaceAngle => Slot::Float(&mut blade.face_angle_deg),
        OfBlade::EdgeRadiusMax => Slot::MaybeLength(&mut wear.edge_radius_max),
        OfBlade::ThicknessMin => Slot::MaybeLength(&mut wear.thickness_min),
        OfBlade::TipWearMax => Slot::MaybeLength(&mut wear.tip_wear_max),
        OfBlade::MostShims | OfBlade::Thickest | OfBlade::Step => {
            return Some(of_pack(blade.pack.as_mut()?, of));
        }
        _ => return of_bolts(blade.bolts.as_mut()?, of),
    })
}

const fn of_pack(pack: &mut PackRules, of: OfBlade) -> Slot<'_> {
    match of {
        OfBlade::MostShims => Slot::Byte(&mut pack.most_shims),
        OfBlade::Step => Slot::MaybeLength(&mut pack.step),
        _ => Slot::Length(&mut pack.thickest),
    }
}

const fn of_bolts(bolts: &mut Bolts, of: OfBlade) -> Option<Slot<'_>> {
    Some(match of {
        OfBlade::Bolts => Slot::Lengths(&mut bolts.from_pivot),
        OfBlade::BoltSize => Slot::Text(&mut bolts.size),
        OfBlade::BoltGrade => Slot::Text(&mut bolts.grade),
        OfBlade::FirstTorque => Slot::Torque(&mut bolts.first_torque),
        OfBlade::Torque => Slot::Torque(&mut bolts.torque),
        _ => return None,
    })
}

const fn of_link(link: &mut Link, of: OfLink) -> Slot<'_> {
    match of {
        OfLink::Name => Slot::Text(&mut link.name),
        OfLink::Length => Slot::Length(&mut link.length),
        OfLink::Opens => Slot::Opens(&mut link.opens),
        OfLink::Material => Slot::Material(&mut link.material),
        OfLink::Follows => Slot::Follows(&mut link.follows),
    }
}

const fn of_heat(thermal: &mut Thermal, of: OfHeat) -> Slot<'_> {
    let (press, work) = (&mut thermal.press, &mut thermal.work);
    match of {
        OfHeat::Source => Slot::Text(&mut thermal.source),
        OfHeat::Bore => Slot::Length(&mut press.bore),
        OfHeat::Rod => Slot::Length(&mut press.rod),
        OfHeat::Pressure => Slot::Float(&mut press.pressure_bar),
        OfHeat::Arm => Slot::Length(&mut press.arm),
        OfHeat::Hours => Slot::Float(&mut work.hours),
        OfHeat::Cuts => Slot::Float(&mut work.cuts_per_minute),
        OfHeat::WorkingShare => Slot::Float(&mut work.working_share),
        OfHeat::Air => Slot::Float(&mut work.air_c),
        OfHeat::Friction => Slot::Float(&mut work.friction),
        OfHeat::Plate => Slot::Length(&mut work.plate.thickness),
        OfHeat::ShearStrength => Slot::Float(&mut work.plate.shear_n_per_mm2),
        OfHeat::CutLength => Slot::Length(&mut work.plate.cut),
        OfHeat::CutAt => Slot::Length(&mut work.plate.from_pivot),
        OfHeat::SideShare => Slot::Float(&mut thermal.side_share),
        OfHeat::CuttingCheek => Slot::Float(&mut thermal.cutting_cheek_kn_per_mm),
        OfHeat::GuideCheek => Slot::Float(&mut thermal.guide_cheek_kn_per_mm),
    }
}

fn of_contact(thermal: &mut Thermal, place: usize, of: OfContact) -> Option<Slot<'_>> {
    let contact = thermal.contacts.get_mut(place)?;
    Some(match of {
        OfContact::Thrust => Slot::Float(&mut contact.thrust_share),
        OfContact::Stiffness => Slot::Float(&mut contact.stiffness_kn_per_mm),
        OfContact::CutHeat => Slot::Float(&mut contact.cut_heat_share),
        OfContact::Slide => Slot::Length(&mut contact.slide),
        OfContact::Area => Slot::Float(&mut contact.area_mm2),
        OfContact::Press => Slot::Float(&mut contact.press_s),
        OfContact::Conductivity => Slot::Float(&mut contact.conductivity_w_per_m_k),
        OfContact::Diffusivity => Slot::Float(&mut contact.diffusivity_mm2_per_s),
    })
}

#[test]
fn every_field_reads_what_it_writes_and_changes_nothing() {
    let shear = crate::domain::machine::bare::bare(
        crate::domain::machine::ShearId::new("crane").unwrap(),
        &crate::domain::machine::bare::Known {
            stations: [(LineId::P, 3), (LineId::J, 1)].into(),
            ..Default::default()
        },
    );
    let mut settings = Settings::usual("Quay".to_owned());
    settings
        .shelf
        .push(ShelfItem { thickness: crate::domain::quantity::Length::from_um(100), count: 4 });
    let draft = Draft::of(&settings, shear.as_ref());
    let unit = crate::domain::quantity::LengthUnit::Millimetre;
    let texts = draft.texts(unit);
    assert!(100 < texts.len(), "{}", texts.len());
    for (field, text) in texts {
        let mut same = draft.clone();
        same.slot(&field).unwrap().put(&text, unit).unwrap();
        same.take(&field, &draft);
        assert_eq!(same, draft, "{field:?}: {text}");
    }
}
