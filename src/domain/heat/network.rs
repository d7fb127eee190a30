//! Parts, joints and contacts: the network and its rate of change.

use crate::domain::{
    heat::{Ground, Outside},
    machine::{LineId, Material, StationId},
};

/// A body with one temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is, such as "tip".
    pub name: String,
    /// Heat it takes up, in joules a kelvin; above zero.
    pub capacity_j_per_k: f64,
    /// Heat it gives to the air, in watts a kelvin; not below zero.
    pub to_air_w_per_k: f64,
    /// Its temperature when the shift begins, in °C.
    pub start_c: f64,
}

/// Two parts that touch for good and pass heat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// One part.
    pub one: usize,
    /// The other.
    pub other: usize,
    /// Heat passed, in watts a kelvin; not below zero.
    pub conductance_w_per_k: f64,
}

/// One part of the expansion chain across a contact's gap.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// The part whose temperature it has.
    pub part: usize,
    /// Its length across the gap, in mm, positive if its growth opens the gap, else negative.
    pub signed_mm: f64,
    /// Its steel.
    pub material: Material,
}

/// Two faces with a gap between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Contact {
    /// The station it stands for, with its share of the line's faces.
    pub station: StationId,
    /// The moving part.
    pub moving: usize,
    /// The fixed part.
    pub fixed: usize,
    /// The gap with everything at 20 °C, in mm.
    pub cold_gap_mm: f64,
    /// What stands across the gap.
    pub chain: Vec<Link>,
    /// Side thrust that presses the faces together once the jaw has flexed through the gap, in N.
    pub thrust_n: f64,
    /// Stiffness against closing the gap, in N/mm.
    pub stiffness_n_per_mm: f64,
    /// Share of the friction heat that goes into the moving part, 0 to 1.
    pub to_moving: f64,
    /// Heat of the cut itself that these faces take for each cut, in J.
    pub cut_heat_j: f64,
    /// Area of the streak, in m².
    pub area_m2: f64,
    /// How far the faces slide in one cut, in m.
    pub slide_m: f64,
    /// How long the faces are pressed together in one cut, in s.
    pub press_s: f64,
    /// Thermal conductivity of the faces, in W/(m·K).
    pub conductivity: f64,
    /// Thermal diffusivity of the faces, in m²/s.
    pub diffusivity: f64,
}

/// What the machine does in a shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Duty {
    /// How long the shift is, in hours.
    pub hours: f64,
    /// Cuts a minute while it works.
    pub cuts_per_minute: f64,
    /// Share of the time it cuts, 0 to 1.
    pub working_share: f64,
    /// Coefficient of friction between the faces.
    pub friction: f64,
    /// Breaks as hours from and to.
    pub breaks: Vec<(f64, f64)>,
    /// The air's temperature, in °C.
    pub air_c: f64,
}

/// A machine as a thermal network.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    /// Bodies.
    pub parts: Vec<Part>,
    /// What joins them.
    pub joints: Vec<Joint>,
    /// Where they rub.
    pub contacts: Vec<Contact>,
}

/// Why a network cannot be calculated.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NetworkFault {
    /// A part without mass.
    #[error("“{0}” has no heat capacity; a part must take up some heat to have a temperature")]
    NoMass(String),
    /// Heat that would flow uphill.
    #[error("“{0}” has a negative conductance; heat flows from warm to cold")]
    NegativeConductance(String),
    /// A joint, contact or link names a part that is not there.
    #[error("“{0}” names a part that is not in the network")]
    UnknownPart(String),
    /// Nothing about heat in the machine's file.
    #[error("nothing about heat is written in this machine's file; add “thermal” to its shear.ron")]
    NoThermal,
    /// A line that is not there, or of which the file says nothing about heat.
    #[error("nothing about heat at line {0} is written in this machine's file")]
    NoContact(LineId),
    /// Parts that answer within milliseconds beside parts that take hours.
    #[error(
        "some parts warm so fast beside others that the shift cannot be followed; check their masses"
    )]
    TooStiff,
    /// A number that is no number, or outside what the model is made for.
    #[error("{0}")]
    OutOfRange(Outside),
}

impl Duty {
    /// Cuts a second, on average while it works.
    pub fn cuts_per_s(&self) -> f64 {
        self.cuts_per_minute / 60.0 * self.working_share
    }

    /// Whether the machine cuts at this hour.
    pub fn works_at(&self, hour: f64) -> bool {
        !self.breaks.iter().any(|(from, to)| *from <= hour && hour < *to)
    }

    /// The first number outside what a machine works in.
    ///
    /// # Errors
    ///
    /// [`NetworkFault::OutOfRange`] with the number, its range and what to write.
    pub fn check(&self) -> Result<(), NetworkFault> {
        let outside = Outside::range("the length of the shift", self.hours, [0.0, 48.0], " h")
            .or_else(|| {
                let cuts = self.cuts_per_minute;
                Outside::range("the number of cuts a minute", cuts, [0.0, 60.0], "")
            })
            .or_else(|| {
                let share = self.working_share;
                Outside::range("the share of the time it cuts", share, [0.0, 1.0], "")
            })
            .or_else(|| {
                Outside::range("the coefficient of friction", self.friction, [0.0, 1.5], "")
            })
            .or_else(|| {
                Outside::range("the air temperature", self.air_c, [-60.0, 60.0], "\u{a0}°C")
            })
            .or_else(|| {
                self.breaks.iter().find_map(|(from, to)| {
                    Outside::range("the start of a break", *from, [0.0, 48.0], " h").or_else(|| {
                        let end = "the end of a break, which comes after its start,";
                        Outside::range(end, *to, [*from, 48.0], " h")
                    })
                })
            });
        outside.map_or(Ok(()), |it| Err(NetworkFault::OutOfRange(it)))
    }
}

impl Network {
    /// The first thing that does not hang together.
    ///
    /// # Errors
    ///
    /// [`NetworkFault`] with the name of the part or line.
    pub fn check(&self) -> Result<(), NetworkFault> {
        for part in &self.parts {
            if !(part.capacity_j_per_k.is_finite() && 0.0 < part.capacity_j_per_k) {
                return Err(NetworkFault::NoMass(part.name.clone()));
            }
            if !(part.to_air_w_per_k.is_finite() && 0.0 <= part.to_air_w_per_k) {
                return Err(NetworkFault::NegativeConductance(part.name.clone()));
            }
            let start =
                Outside::range("the start temperature", part.start_c, [-80.0, 1_000.0], "\u{a0}°C");
            if let Some(outside) = start {
                return Err(NetworkFault::OutOfRange(outside));
            }
        }
        let known = |index: usize| index < self.parts.len();
        for joint in &self.joints {
            let name = || self.name_of(joint.one);
            if !known(joint.one) || !known(joint.other) {
                return Err(NetworkFault::UnknownPart(name()));
            }
            if !(joint.conductance_w_per_k.is_finite() && 0.0 <= joint.conductance_w_per_k) {
                return Err(NetworkFault::NegativeConductance(name()));
            }
        }
        self.contacts.iter().try_for_each(|contact| self.check_contact(contact))
    }

    fn name_of(&self, part: usize) -> String {
        self.parts.get(part).map_or_else(|| format!("part {part}"), |part| part.name.clone())
    }

    fn check_contact(&self, contact: &Contact) -> Result<(), NetworkFault> {
        let parts = contact.chain.iter().map(|link| link.part);
        let all = parts.chain([contact.moving, contact.fixed]);
        if all.into_iter().any(|part| self.parts.len() <= part) {
            return Err(NetworkFault::UnknownPart(format!("station {}", contact.station)));
        }
        let named = |what: &str, value: f64, unit: &'static str| {
            (format!("the {what} at {}", contact.station), value, unit)
        };
        let positive = [
            named("streak's area", contact.area_m2, " m²"),
            named("time of contact", contact.press_s, " s"),
            named("thermal conductivity", contact.conductivity, " W/(m·K)"),
            named("thermal diffusivity", contact.diffusivity, " m²/s"),
        ];
        let loads = [
            named("side thrust", contact.thrust_n, " N"),
            named("stiffness", contact.stiffness_n_per_mm, " N/mm"),
            named("heat of a cut", contact.cut_heat_j, " J"),
        ];
        let plain =
            contact.chain.iter().map(|link| named("length in the chain", link.signed_mm, " mm"));
        let plain: Vec<_> = plain.chain([named("cold gap", contact.cold_gap_mm, " mm")]).collect();
        let slide = named("sliding distance", contact.slide_m, " m");
        let share = named("share of heat into the moving part", contact.to_moving, "");
        let outside = Outside::not_above_zero(&positive)
            .or_else(|| Outside::below_zero(&loads))
            .or_else(|| Outside::range(slide.0, slide.1, [0.0, 5.0], slide.2))
            .or_else(|| Outside::range(share.0, share.1, [0.0, 1.0], share.2))
            .or_else(|| Outside::no_number(&plain));
        outside.map_or(Ok(()), |it| Err(NetworkFault::OutOfRange(it)))
    }

    /// Temperatures at the start.
    pub(crate) fn start(&self) -> Vec<f64> {
        self.parts.iter().map(|part| part.start_c).collect()
    }

    /// Heat flow into each part in W, heat made and heat given to the air in W.
    pub(crate) fn flows(
        &self,
        c: &[f64],
        duty: &Duty,
        cuts_per_s: f64,
        into: &mut [f64],
    ) -> (f64, f64) {
        into.fill(0.0);
        let mut made = 0.0;
        let add = |into: &mut [f64], part: usize, watts: f64| {
            if let Some(flow) = into.get_mut(part) {
                *flow += watts;
            }
        };
        for contact in &self.contacts {
            let watts = cuts_per_s * contact.heat_per_cut_j(c, duty);
            made += watts;
            add(into, contact.moving, watts * contact.to_moving);
            add(into, contact.fixed, watts * (1.0 - contact.to_moving));
        }
        for joint in &self.joints {
            let (Some(one), Some(other)) = (c.get(joint.one), c.get(joint.other)) else { continue };
            let watts = joint.conductance_w_per_k * (one - other);
            add(into, joint.one, -watts);
            add(into, joint.other, watts);
        }
        let mut lost = 0.0;
        for ((part, at), flow) in self.parts.iter().zip(c).zip(into.iter_mut()) {
            let watts = part.to_air_w_per_k * (at - duty.air_c);
            lost += watts;
            *flow -= watts;
        }
        (made, lost)
    }
}

impl Contact {
    /// The gap with the parts at these temperatures and nothing pressing, in mm.
    pub fn gap_mm(&self, c: &[f64]) -> f64 {
        self.cold_gap_mm
            + self
                .chain
                .iter()
                .map(|link| {
                    let at = c.get(link.part).copied().unwrap_or(20.0);
                    link.signed_mm * link.material.growth_at_c(at)
                })
                .sum::<f64>()
    }

    /// The force that presses the faces together in a cut, in N: the side thrust first flexes the
    /// jaw through the gap; what is left, and the squeeze of a gap that has closed, is carried by
    /// the faces.
    pub fn force_n(&self, gap_mm: f64) -> f64 {
        (self.thrust_n - self.stiffness_n_per_mm * gap_mm).max(0.0)
    }

    /// Heat that one cut makes at these faces, in J: µ·N·s and the share of the cut itself.
    pub fn heat_per_cut_j(&self, c: &[f64], duty: &Duty) -> f64 {
        duty.friction * self.force_n(self.gap_mm(c)) * self.slide_m + self.cut_heat_j
    }

    /// How far the hotter face rises above its part at the end of one stroke, in K: a semi-infinite
    /// solid under constant flux, ΔT = (2q″/λ)·√(D·t/π) (Carslaw and Jaeger). Local and brief; it
    /// does not grow a whole blade.
    pub(crate) fn flash_k(&self, heat_j: f64, share: f64) -> f64 {
        self.flash_at_k(heat_j, share, 0.0)
    }

    /// The same at a depth under the face, in m.
    pub fn flash_at_k(&self, heat_j: f64, share: f64, depth_m: f64) -> f64 {
        let ground = Ground { conductivity: self.conductivity, diffusivity: self.diffusivity };
        let flux = share * heat_j / (self.press_s * self.area_m2);
        ground.under_flux_k(flux, depth_m, self.press_s)
    }
}

/// The share of friction heat that goes into the first of two bodies in full contact, from their
/// effusivities √(λ·ρ·c): e₁/(e₁ + e₂).
pub fn share_by_effusivity(first: f64, second: f64) -> f64 {
    let sum = first + second;
    if sum > 0.0 { first / sum } else { 0.5 }
}

#[test]
fn plain_steel_takes_more_of_the_heat_than_tool_steel() {
    // Plain carbon 14 360.4, hot-work tool steel 9 337.5 W·s½/(m²·K): 60.60 % (recomputed).
    let effusivity = |k: f64, rho: f64, c: f64| (k * rho * c).sqrt();
    let (plain, tool) = (effusivity(60.5, 7854.0, 434.0), effusivity(24.3, 7800.0, 460.0));
    assert!((share_by_effusivity(plain, tool) - 0.6060).abs() < 1e-4);
}
