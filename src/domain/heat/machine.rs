//! A machine's file, its gaps and a shift's work, made into a network.
//!
//! Every station is a contact of its own with an equal share of its line's thrust, stiffness, area
//! and cutting heat, so that a tight station is hotter than its neighbours while the parts stay one
//! lump each. Knows which two lines lie either side of the tip. Does not know where the gaps come
//! from.

use crate::domain::{
    heat::{
        AtContact, Band, Cheeks, Contact, Cylinder, Duty, ForceAlong, Joint, Link, Network,
        NetworkFault, Outside, Part, Sample, Shift, Spreads, Stock, draw, of_shifts, run,
        share_by_effusivity, spread,
    },
    machine::{
        Body, Follows, Line, LineId, Partition, Shear, Station, StationId, Thermal, ThermalContact,
        Toward,
    },
    quantity::Length,
};

/// What is asked of the machine in one shift.
#[derive(Clone, Debug, PartialEq)]
pub struct ShiftWork {
    /// Cuts, breaks, friction, air.
    pub duty: Duty,
    /// Thickness of the plate, in mm.
    pub plate_mm: f64,
    /// Temperature of every part at the start, in °C.
    pub start_c: f64,
}

impl ShiftWork {
    /// The shift of the machine's file, begun with everything as warm as the air.
    pub fn usual(thermal: &Thermal) -> Self {
        let work = &thermal.work;
        Self {
            duty: Duty {
                hours: work.hours,
                cuts_per_minute: work.cuts_per_minute,
                working_share: work.working_share,
                friction: work.friction,
                breaks: work.breaks.clone(),
                air_c: work.air_c,
            },
            plate_mm: work.plate.thickness.mm(),
            start_c: work.air_c,
        }
    }
}

/// Forces of one cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutForces {
    /// What shearing the plate takes, in N: τ·L·t.
    pub needed_n: f64,
    /// What the cylinder can bring to that place, in N.
    pub available_n: f64,
    /// Side thrust onto guide blade and pads together, in N.
    pub side_n: f64,
    /// Work of a completed cut, in J; none where the jaw stalls.
    pub work_j: f64,
}

impl CutForces {
    /// The force that acts, in N: the machine stalls rather than push harder than it can.
    pub fn cutting_n(&self) -> f64 {
        self.needed_n.min(self.available_n)
    }

    /// Whether the plate takes more than the jaw has at that place. A plate that takes exactly what
    /// there is, is cut.
    pub fn stalls(&self) -> bool {
        self.available_n < self.needed_n
    }
}

/// A shear curve's mean force is about half of its peak (design value; handbooks give 0.4 to 0.6).
const MEAN_OF_PEAK: f64 = 0.5;

/// A network with the machine it stands for.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// Parts, joints and contacts, one contact a station.
    pub network: Network,
    /// The shift; without any cutting where the plate stalls the jaw.
    pub duty: Duty,
    /// What a cut takes.
    pub forces: CutForces,
    /// Distance from the pivot of each contact.
    places: Vec<Length>,
    /// The jaw's cheeks, and the lines either side of the tip.
    wedge: Option<(Cheeks, LineId, LineId)>,
    /// Whether a contact's line opens when the jaw spreads.
    opens: Vec<bool>,
    /// Both jaws' places among the parts.
    jaws: (Option<usize>, Option<usize>),
}

impl Model {
    /// The machine with these cold gaps, in mm at 20 °C; stations without one are left out.
    ///
    /// With `only`, that line rubs alone, between its two parts and the jaws: a case small enough to
    /// check by hand.
    ///
    /// # Errors
    ///
    /// [`NetworkFault`] with the name of the part or line.
    pub fn of(
        shear: &Shear,
        gaps: &[(StationId, f64)],
        work: &ShiftWork,
        only: Option<LineId>,
    ) -> Result<Self, NetworkFault> {
        let thermal = shear.thermal.as_ref().ok_or(NetworkFault::NoThermal)?;
        if let Some(id) = only
            && !(shear.line(id).is_some() && thermal.contacts.iter().any(|it| it.line == id))
        {
            return Err(NetworkFault::NoContact(id));
        }
        let plate =
            Outside::range("the thickness of the plate", work.plate_mm, [0.0, 500.0], " mm");
        if let Some(outside) = plate {
            return Err(NetworkFault::OutOfRange(outside));
        }
        let forces = forces(thermal, work.plate_mm);
        let contacts: Vec<&ThermalContact> =
            thermal.contacts.iter().filter(|it| only.is_none_or(|id| it.line == id)).collect();
        let bodies = Bodies::of(shear, thermal, only);
        let mut network = bodies.network(shear, thermal, work.start_c);
        let (mut places, mut opens) = (Vec::new(), Vec::new());
        let wedge = wedge_lines(shear);
        for thermal in contacts {
            let line = shear.line(thermal.line).ok_or(NetworkFault::NoContact(thermal.line))?;
            let here: Vec<f64> = line
                .stations
                .iter()
                .filter_map(|it| gaps.iter().find(|(id, _)| *id == it.id).map(|(_, gap)| *gap))
                .collect();
            let spreads = wedge.is_some_and(|(cutting, _)| cutting != line.id)
                && line.toward == Toward::Cutting;
            let share = 1.0 / f64::from(u32::try_from(here.len()).unwrap_or(1).max(1));
            for station in &line.stations {
                let gap = gaps.iter().find(|(id, _)| *id == station.id);
                let Some((_, gap_mm)) = gap else { continue };
                let contact =
                    bodies.contact(line, thermal, (station.id, *gap_mm), share, &forces)?;
                network.contacts.push(contact);
                places.push(station.from_pivot);
                opens.push(spreads);
            }
        }
        network.check()?;
        work.duty.check()?;
        let tip = places.iter().copied().max().unwrap_or(Length::ZERO);
        let wedge = wedge.map(|(cutting, guide)| {
            let cheeks = Cheeks {
                cutting_n_per_mm: thermal.cutting_cheek_kn_per_mm * 1e3,
                guide_n_per_mm: thermal.guide_cheek_kn_per_mm * 1e3,
                tip,
            };
            (cheeks, cutting, guide)
        });
        let jaws = (bodies.place(&Body::UpperJaw), bodies.place(&Body::LowerJaw));
        let mut duty = work.duty.clone();
        if forces.stalls() {
            // A jaw that stalls stands still: nothing slides, nothing is sheared, and no cut is made.
            duty.working_share = 0.0;
        }
        Ok(Self { network, duty, forces, places, wedge, opens, jaws })
    }

    /// Runs the shift.
    ///
    /// # Errors
    ///
    /// [`NetworkFault`] for a network that cannot be followed.
    pub fn run(&self, every_h: f64) -> Result<Shift, NetworkFault> {
        run(&self.network, &self.duty, every_h)
    }

    /// Low and high of `draws` runs, sampled every `every_h` hours.
    ///
    /// # Errors
    ///
    /// [`NetworkFault`] for a network that cannot be followed.
    pub fn band(&self, draws: u32, every_h: f64) -> Result<Band, NetworkFault> {
        let spreads = Spreads::default();
        let shifts = (0..draws)
            .map(|index| draw(&self.network, &self.duty, &spreads, index, every_h))
            .collect::<Result<Vec<Shift>, NetworkFault>>()?;
        Ok(self.band_of(&shifts))
    }

    /// Low and high of runs that were drawn elsewhere.
    pub fn band_of(&self, shifts: &[Shift]) -> Band {
        of_shifts(shifts, |sample, contact| self.hot_gap_mm(sample, contact))
    }

    /// How far the lower jaw is spread at a distance from the pivot, in mm.
    pub fn spread_mm(&self, sample: &Sample, at: Length) -> f64 {
        let Some((cheeks, cutting, guide)) = &self.wedge else { return 0.0 };
        let (Some(cutting), Some(guide)) =
            (mean_gap(&sample.contacts, *cutting), mean_gap(&sample.contacts, *guide))
        else {
            return 0.0;
        };
        spread(cheeks, cutting, guide, at)
    }

    /// The hot gap of a contact, in mm, opened by a spread jaw where that opens it.
    pub fn hot_gap_mm(&self, sample: &Sample, contact: usize) -> f64 {
        let gap = sample.contacts.get(contact).map_or(0.0, |at| at.gap_mm);
        let opens = self.opens.get(contact).copied().unwrap_or(false);
        match self.places.get(contact).filter(|_| opens) {
            Some(at) => gap + self.spread_mm(sample, *at),
            None => gap,
        }
    }

    /// Temperatures of the upper and the lower jaw, in °C.
    pub fn jaws_c(&self, sample: &Sample) -> (Option<f64>, Option<f64>) {
        let at = |place: Option<usize>| sample.parts_c.get(place?).copied();
        (at(self.jaws.0), at(self.jaws.1))
    }

    /// The contact that stands for a station.
    pub fn contact(&self, station: StationId) -> Option<usize> {
        self.network.contacts.iter().position(|it| it.station == station)
    }
}

fn mean_gap(contacts: &[AtContact], line: LineId) -> Option<f64> {
    let mut count = 0_u32;
    let mut sum = 0.0;
    for at in contacts.iter().filter(|it| it.station.line == line) {
        count += 1;
        sum += at.gap_mm;
    }
    (0 < count).then(|| sum / f64::from(count))
}

/// The lines between tip and cutting side and between tip and guide side.
fn wedge_lines(shear: &Shear) -> Option<(LineId, LineId)> {
    let guide = shear.lines.iter().find(|line| line.toward == Toward::Guide)?;
    let cutting = shear
        .lines
        .iter()
        .find(|line| line.toward == Toward::Cutting && line.moving == guide.moving)?;
    Some((cutting.id, guide.id))
}

/// What keeps a machine's heat from being calculated, if its file says anything about heat.
pub fn fault_of(shear: &Shear) -> Option<NetworkFault> {
    let thermal = shear.thermal.as_ref()?;
    let set = |line: &Line| line.limits.set().middle().mm();
    let gaps: Vec<(StationId, f64)> = shear
        .lines
        .iter()
        .flat_map(|line| line.stations.iter().map(|it| (it.id, set(line))))
        .collect();
    Model::of(shear, &gaps, &ShiftWork::usual(thermal), None).err()
}

/// The jaw as a lever.
pub fn force_along(thermal: &Thermal) -> ForceAlong {
    let press = &thermal.press;
    ForceAlong {
        cylinder: Cylinder { bore: press.bore, rod: press.rod, pressure_bar: press.pressure_bar },
        arm: press.arm,
    }
}

/// The plate of the machine's file as stock.
pub fn stock(thermal: &Thermal) -> Stock {
    let plate = &thermal.work.plate;
    Stock { shear_n_per_mm2: plate.shear_n_per_mm2, cut_mm: plate.cut.mm() }
}

/// The places where stock lies across the blades, from the pivot outward: the stations on the
/// cutting side. Pads cut nothing, and the tip's other two sides only finish what it pierced.
pub fn stock_places(shear: &Shear) -> impl Iterator<Item = &Station> {
    let cutting = shear.lines.iter().filter(|line| line.toward == Toward::Cutting);
    cutting.flat_map(|line| &line.stations)
}

fn forces(thermal: &Thermal, plate_mm: f64) -> CutForces {
    let plate = &thermal.work.plate;
    let needed_n = plate.shear_n_per_mm2 * plate.cut.mm() * plate_mm;
    let available_n = force_along(thermal).closing_n(plate.from_pivot);
    let cutting = needed_n.min(available_n);
    CutForces {
        needed_n,
        available_n,
        side_n: thermal.side_share * cutting,
        work_j: if needed_n <= available_n {
            MEAN_OF_PEAK * cutting * plate_mm * 1e-3
        } else {
            0.0
        },
    }
}

/// The bodies of the network, in order.
struct Bodies(Vec<Body>);

impl Bodies {
    fn of(shear: &Shear, thermal: &Thermal, only: Option<LineId>) -> Self {
        let line = only.and_then(|id| shear.line(id));
        let wanted = |body: &Body| match (body, line) {
            (Body::Blade(blade), Some(line)) => *blade == line.moving || *blade == line.fixed,
            _ => true,
        };
        Self(thermal.parts.iter().map(|part| part.body.clone()).filter(wanted).collect())
    }

    fn place(&self, body: &Body) -> Option<usize> {
        self.0.iter().position(|it| it == body)
    }

    fn network(&self, shear: &Shear, thermal: &Thermal, start_c: f64) -> Network {
        let parts = thermal
            .parts
            .iter()
            .filter(|part| self.place(&part.body).is_some())
            .map(|part| Part {
                name: name(shear, &part.body),
                capacity_j_per_k: part.capacity_kj_per_k * 1e3,
                to_air_w_per_k: part.to_air_w_per_k,
                start_c,
            })
            .collect();
        let joints = thermal
            .joints
            .iter()
            .filter_map(|joint| {
                Some(Joint {
                    one: self.place(&joint.one)?,
                    other: self.place(&joint.other)?,
                    conductance_w_per_k: joint.conductance_w_per_k,
                })
            })
            .collect();
        Network { parts, joints, contacts: Vec::new() }
    }

    /// One station as a contact with its `share` of the line.
    fn contact(
        &self,
        line: &Line,
        thermal: &ThermalContact,
        (station, cold_gap_mm): (StationId, f64),
        share: f64,
        forces: &CutForces,
    ) -> Result<Contact, NetworkFault> {
        let part = |follows: Follows| {
            let body = match follows {
                Follows::Moving => Body::Blade(line.moving.clone()),
                Follows::Fixed => Body::Blade(line.fixed.clone()),
                Follows::UpperJaw => Body::UpperJaw,
                Follows::LowerJaw => Body::LowerJaw,
            };
            let known = self.place(&body);
            known.ok_or_else(|| {
                NetworkFault::UnknownPart(format!("line {}: {}", line.id, id(&body)))
            })
        };
        let chain = line
            .chain
            .0
            .iter()
            .map(|link| {
                let mm = link.length.mm();
                Ok(Link {
                    part: part(link.follows)?,
                    signed_mm: if link.opens { mm } else { -mm },
                    material: link.material.clone(),
                })
            })
            .collect::<Result<_, NetworkFault>>()?;
        let to_moving = match thermal.partition {
            Partition::ToMoving(share) => share,
            Partition::Effusivities { moving, fixed } => share_by_effusivity(moving, fixed),
        };
        Ok(Contact {
            station,
            moving: part(Follows::Moving)?,
            fixed: part(Follows::Fixed)?,
            cold_gap_mm,
            chain,
            thrust_n: share * thermal.thrust_share * forces.side_n,
            stiffness_n_per_mm: share * thermal.stiffness_kn_per_mm * 1e3,
            to_moving,
            cut_heat_j: share * thermal.cut_heat_share * forces.work_j,
            area_m2: share * thermal.area_mm2 * 1e-6,
            slide_m: thermal.slide.mm() * 1e-3,
            press_s: thermal.press_s,
            conductivity: thermal.conductivity_w_per_m_k,
            diffusivity: thermal.diffusivity_mm2_per_s * 1e-6,
        })
    }
}

/// A body as the file calls it.
fn id(body: &Body) -> &str {
    match body {
        Body::Blade(id) => &id.0,
        Body::UpperJaw => "upper jaw",
        Body::LowerJaw => "lower jaw",
    }
}

/// A body as a mechanic calls it.
fn name(shear: &Shear, body: &Body) -> String {
    match body {
        Body::Blade(id) => shear.blade(id).map_or_else(|| id.0.clone(), |it| it.name.clone()),
        Body::UpperJaw => "upper jaw".to_owned(),
        Body::LowerJaw => "lower jaw".to_owned(),
    }
}
