//! A low and a high case: what the inputs' uncertainty does to a shift.
//!
//! Friction, partition of heat, cooling and expansion are known poorly. Each run scales them by its
//! own draw from a fixed sequence, so the same question always gets the same band; the band runs
//! from the tenth to the ninetieth percentile. Does not know threads: the caller may run the draws
//! wherever it likes.

use crate::domain::heat::{Duty, Network, NetworkFault, Sample, Shift, run};

/// Half-widths of the inputs as shares of their values, rectangular.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spreads {
    /// Of the coefficient of friction: published values for steel on steel spread this much.
    pub friction: f64,
    /// Of the share of heat that goes into the moving part.
    pub partition: f64,
    /// Of every conductance, to air and to neighbours.
    pub cooling: f64,
    /// Of every length's expansion.
    pub expansion: f64,
}

impl Default for Spreads {
    /// Friction ±30 %, partition ±20 %, cooling ±30 %, expansion ±10 %: design values of ours from
    /// the spread of published coefficients.
    fn default() -> Self {
        Self { friction: 0.3, partition: 0.2, cooling: 0.3, expansion: 0.1 }
    }
}

/// Low and high of one contact over the shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Hours of the samples.
    pub hours: Vec<f64>,
    /// Face temperature, low and high, for each contact and each hour, in °C.
    pub face_c: Vec<Vec<(f64, f64)>>,
    /// Hot gap, low and high, for each contact and each hour, in mm.
    pub gap_mm: Vec<Vec<(f64, f64)>>,
}

/// Runs draw number `index` of the sequence.
///
/// # Errors
///
/// [`NetworkFault`] for a network or a duty that cannot be calculated.
pub fn draw(
    network: &Network,
    duty: &Duty,
    spreads: &Spreads,
    index: u32,
    every_h: f64,
) -> Result<Shift, NetworkFault> {
    // The additive recurrence of Roberts' R4 sequence: evenly spread in four dimensions.
    const STEPS: [f64; 4] =
        [0.856_674_883_854_502_9, 0.733_891_856_627_126, 0.628_706_721_037_81, 0.538_597_257_223_6];
    let factor = |place: usize, half: f64| {
        let step = STEPS.get(place).copied().unwrap_or(0.5);
        let share = (0.5 + step * f64::from(index + 1)).fract();
        1.0 + half * (2.0 * share - 1.0)
    };
    let mut network = network.clone();
    let mut duty = duty.clone();
    duty.friction *= factor(0, spreads.friction);
    let (partition, cooling) = (factor(1, spreads.partition), factor(2, spreads.cooling));
    let expansion = factor(3, spreads.expansion);
    for part in &mut network.parts {
        part.to_air_w_per_k *= cooling;
    }
    for joint in &mut network.joints {
        joint.conductance_w_per_k *= cooling;
    }
    for contact in &mut network.contacts {
        contact.to_moving = (contact.to_moving * partition).clamp(0.0, 1.0);
        for link in &mut contact.chain {
            link.signed_mm *= expansion;
        }
    }
    run(&network, &duty, every_h)
}

/// The tenth and ninetieth percentile of runs with the same sample times; `gap_mm` is the hot gap
/// of a contact, which a spread jaw may open.
pub fn of_shifts(shifts: &[Shift], gap_mm: impl Fn(&Sample, usize) -> f64) -> Band {
    let face_c =
        |sample: &Sample, contact: usize| sample.contacts.get(contact).map_or(0.0, |at| at.face_c);
    let longest = shifts.iter().max_by_key(|shift| shift.samples.len());
    let hours: Vec<f64> =
        longest.map(|shift| shift.samples.iter().map(|it| it.hour).collect()).unwrap_or_default();
    let contacts =
        longest.and_then(|shift| shift.samples.first()).map_or(0, |sample| sample.contacts.len());
    Band {
        face_c: (0..contacts).map(|it| gather(shifts, hours.len(), it, &face_c)).collect(),
        gap_mm: (0..contacts).map(|it| gather(shifts, hours.len(), it, &gap_mm)).collect(),
        hours,
    }
}

fn gather(
    shifts: &[Shift],
    times: usize,
    contact: usize,
    of: &impl Fn(&Sample, usize) -> f64,
) -> Vec<(f64, f64)> {
    (0..times)
        .map(|time| {
            let mut values: Vec<f64> = shifts
                .iter()
                // A run that was cut short by the ceiling keeps its last value.
                .filter_map(|it| it.samples.get(time).or(it.samples.last()))
                .map(|sample| of(sample, contact))
                .collect();
            values.sort_by(f64::total_cmp);
            let last = values.len().saturating_sub(1);
            let at = |tenths: usize| values.get(last * tenths / 10).copied().unwrap_or(0.0);
            (at(1), at(9))
        })
        .collect()
}
