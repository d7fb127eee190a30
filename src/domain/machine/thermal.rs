//! What the heat model must know of one machine: masses, ways for heat, faces that rub, the work
//! it usually does.
//!
//! Knows numbers as the machine's file states them and where they come from. Does not know whether
//! they can be calculated with, nor any temperature: `heat` makes a network of them.

use crate::domain::{
    machine::{BladeId, LineId},
    quantity::Length,
};

/// A body with one temperature.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Body {
    /// A blade, the tip, a pad or a plate.
    Blade(BladeId),
    /// The upper jaw.
    UpperJaw,
    /// The lower jaw.
    LowerJaw,
}

/// A body's mass and what it gives to the air.
#[derive(Clone, Debug, PartialEq)]
pub struct ThermalPart {
    /// Which.
    pub body: Body,
    /// Heat it takes up, in kJ/K.
    pub capacity_kj_per_k: f64,
    /// Heat it gives to the air, in W/K.
    pub to_air_w_per_k: f64,
}

/// Two bodies that are bolted together.
#[derive(Clone, Debug, PartialEq)]
pub struct ThermalJoint {
    /// One.
    pub one: Body,
    /// The other.
    pub other: Body,
    /// Heat passed, in W/K.
    pub conductance_w_per_k: f64,
}

/// How friction heat is parted between two faces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Partition {
    /// The moving face takes this share, 0 to 1.
    ToMoving(f64),
    /// By the effusivities √(λ·ρ·c) of the two faces, in W·s½/(m²·K).
    Effusivities {
        /// Of the moving face.
        moving: f64,
        /// Of the fixed face.
        fixed: f64,
    },
}

/// The faces of one line; its stations share them equally.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThermalContact {
    /// Which line.
    pub line: LineId,
    /// Share of the side thrust that leans on it, 0 to 1, from lever arms.
    pub thrust_share: f64,
    /// Stiffness against closing the gap, in kN/mm.
    pub stiffness_kn_per_mm: f64,
    /// Who takes the friction heat.
    pub partition: Partition,
    /// Share of the work of cutting that these faces take as heat, 0 to 1.
    pub cut_heat_share: f64,
    /// How far the faces slide in one cut.
    pub slide: Length,
    /// Area of the streak, in mm².
    pub area_mm2: f64,
    /// How long the faces are pressed together in one cut, in s.
    pub press_s: f64,
    /// Thermal conductivity of the faces, in W/(m·K).
    pub conductivity_w_per_m_k: f64,
    /// Thermal diffusivity of the faces, in mm²/s.
    pub diffusivity_mm2_per_s: f64,
}

/// The plate that is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    /// Its thickness.
    pub thickness: Length,
    /// Its shear strength, in N/mm²: about 0.7 of the tensile strength.
    pub shear_n_per_mm2: f64,
    /// The length that is cut at once.
    pub cut: Length,
    /// How far from the pivot it is cut.
    pub from_pivot: Length,
}

/// The shift that the machine usually works.
#[derive(Clone, Debug, PartialEq)]
pub struct UsualWork {
    /// Its length.
    pub hours: f64,
    /// Cuts a minute while it works.
    pub cuts_per_minute: f64,
    /// Share of the time it cuts, 0 to 1.
    pub working_share: f64,
    /// Breaks, as hours from and to.
    pub breaks: Vec<(f64, f64)>,
    /// The air's temperature, in °C.
    pub air_c: f64,
    /// Coefficient of friction between faces.
    pub friction: f64,
    /// What is cut.
    pub plate: Plate,
}

/// What drives the jaw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Press {
    /// Bore of the cylinder.
    pub bore: Length,
    /// Its rod.
    pub rod: Length,
    /// Pressure, in bar.
    pub pressure_bar: f64,
    /// Lever arm of the cylinder about the pivot.
    pub arm: Length,
}

/// Everything about heat in a machine's file.
#[derive(Clone, Debug, PartialEq)]
pub struct Thermal {
    /// Where the numbers come from.
    pub source: String,
    /// Bodies.
    pub parts: Vec<ThermalPart>,
    /// What joins them.
    pub joints: Vec<ThermalJoint>,
    /// Where they rub or take the heat of the cut.
    pub contacts: Vec<ThermalContact>,
    /// The usual shift.
    pub work: UsualWork,
    /// What drives the jaw.
    pub press: Press,
    /// Side thrust as a share of the cutting force.
    pub side_share: f64,
    /// Stiffness of the cutting cheek at the tip, in kN/mm.
    pub cutting_cheek_kn_per_mm: f64,
    /// Stiffness of the guide cheek at the tip, in kN/mm.
    pub guide_cheek_kn_per_mm: f64,
}
