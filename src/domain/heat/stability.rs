//! Does it settle? Loop gain and settled temperatures.
//!
//! A tighter gap presses harder, makes more heat and closes further. Linearised around a state with
//! its contacts loaded, the network grows without end once the rate of cutting is multiplied by m*,
//! the smallest multiplier at which an eigenvalue's real part reaches zero; β = 1/m* is the loop's
//! gain and 1 − β the headroom. The steady gain alone is not enough: a slot that opens late makes a
//! growing swing.

use crate::domain::heat::{Duty, Network, NetworkFault};
use nalgebra::{DMatrix, DVector, Schur};

/// Steps of the eigenvalue iteration; a jaw takes some dozen.
const ROUNDS: usize = 2_000;

/// How close the machine is to running away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loop {
    /// Gain of the loop; zero if no contact feeds back. From 1 on it never settles.
    pub beta: f64,
    /// Gain of the loop if everything moved together, without delay; zero if there is none.
    pub steady: f64,
}

impl Loop {
    /// What is left before it runs away; negative when it already does.
    pub fn headroom(self) -> f64 {
        1.0 - self.beta
    }

    /// Whether it settles at all.
    pub fn settles(self) -> bool {
        self.beta < 1.0
    }

    /// Whether it is delay alone that keeps it from settling: gap and heat swing ever wider.
    pub fn swings(self) -> bool {
        !self.settles() && self.steady < 1.0
    }
}

/// Loop gain around the temperatures `c`, with every contact that can press taken as loaded.
///
/// # Errors
///
/// [`NetworkFault`] for a network or a duty that cannot be calculated.
pub fn stability(network: &Network, duty: &Duty, c: &[f64]) -> Result<Loop, NetworkFault> {
    network.check()?;
    duty.check()?;
    let cooling = cooling(network);
    let feedback = feedback(network, duty, c, |_| true);
    let steady = steady(&feedback, &cooling);
    let grows = |m: f64| {
        let matrix = scaled(network, &(&feedback * m - &cooling));
        largest_real(&matrix)
    };
    // Beyond this multiplier no machine cuts; a loop that holds until then has no gain to speak of.
    const MOST: f64 = 1e4;
    let mut high = 1.0 / 64.0;
    while grows(high) < 0.0 {
        high *= 2.0;
        if MOST < high {
            return Ok(Loop { beta: 0.0, steady: 0.0 });
        }
    }
    let mut low = high / 2.0;
    if 0.0 <= grows(low) {
        // A part that gives no heat away can stand at the edge without any cutting.
        low = 0.0;
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if grows(middle) < 0.0 { low = middle } else { high = middle }
    }
    Ok(Loop { beta: 1.0 / f64::midpoint(low, high), steady })
}

/// The gain at which heat made and heat lost change alike once all delays have passed: the largest
/// real eigenvalue of cooling⁻¹ · feedback. Infinite where nothing gives its heat away.
fn steady(feedback: &DMatrix<f64>, cooling: &DMatrix<f64>) -> f64 {
    let Some(ratio) = cooling.clone().lu().solve(feedback) else { return f64::INFINITY };
    let Some(schur) = Schur::try_new(ratio, f64::EPSILON, ROUNDS) else { return f64::INFINITY };
    let values = schur.complex_eigenvalues();
    let real = values.iter().filter(|it| it.im.abs() <= 1e-9 * it.re.abs()).map(|it| it.re);
    real.fold(0.0, f64::max)
}

/// The temperatures at which heat made and heat lost are in balance; `None` if there are none.
///
/// Newton's method on the heat flows, with the contacts that press at the solution.
///
/// # Errors
///
/// [`NetworkFault`] for a network or a duty that cannot be calculated.
pub fn settled(network: &Network, duty: &Duty) -> Result<Option<Vec<f64>>, NetworkFault> {
    network.check()?;
    duty.check()?;
    let mut c: Vec<f64> = vec![duty.air_c; network.parts.len()];
    let mut flows = vec![0.0; c.len()];
    let cooling = cooling(network);
    for _ in 0..200 {
        network.flows(&c, duty, duty.cuts_per_s(), &mut flows);
        let pressing = |contact: usize| {
            let gap = network.contacts.get(contact).map(|it| (it, it.gap_mm(&c)));
            gap.is_some_and(|(contact, gap)| 0.0 < contact.force_n(gap))
        };
        let slope = feedback(network, duty, &c, pressing) - &cooling;
        let residual = -DVector::from_column_slice(&flows);
        let Some(step) = slope.lu().solve(&residual) else { return Ok(None) };
        let largest = step.amax();
        if !largest.is_finite() {
            return Ok(None);
        }
        // A damped step, so that a contact that opens on the way is not jumped over.
        let damp = (100.0 / largest).min(1.0);
        for (value, change) in c.iter_mut().zip(step.iter()) {
            *value += damp * change;
        }
        if largest < 1e-9 {
            let real = c.iter().all(|value| duty.air_c - 1e-6 <= *value);
            return Ok(real.then_some(c));
        }
    }
    Ok(None)
}

/// Conductances to neighbours and air, in W/K.
fn cooling(network: &Network) -> DMatrix<f64> {
    let size = network.parts.len();
    let mut matrix = DMatrix::zeros(size, size);
    for (place, part) in network.parts.iter().enumerate() {
        add(&mut matrix, place, place, part.to_air_w_per_k);
    }
    for joint in &network.joints {
        let g = joint.conductance_w_per_k;
        add(&mut matrix, joint.one, joint.one, g);
        add(&mut matrix, joint.other, joint.other, g);
        add(&mut matrix, joint.one, joint.other, -g);
        add(&mut matrix, joint.other, joint.one, -g);
    }
    matrix
}

/// Change of friction heat into each part with each temperature, in W/K, over the contacts that
/// `presses` names.
fn feedback(
    network: &Network,
    duty: &Duty,
    c: &[f64],
    presses: impl Fn(usize) -> bool,
) -> DMatrix<f64> {
    let size = network.parts.len();
    let mut matrix = DMatrix::zeros(size, size);
    for (place, contact) in network.contacts.iter().enumerate() {
        if !presses(place) {
            continue;
        }
        let rate = duty.friction * contact.slide_m * duty.cuts_per_s();
        for link in &contact.chain {
            let at = c.get(link.part).copied().unwrap_or(duty.air_c);
            // Slope of growth by a centred difference; growth is a low polynomial or a table.
            let slope =
                (link.material.growth_at_c(at + 0.5) - link.material.growth_at_c(at - 0.5)) / 1.0;
            let closes_mm_per_k = -link.signed_mm * slope;
            let watts_per_k = rate * contact.stiffness_n_per_mm * closes_mm_per_k;
            add(&mut matrix, contact.moving, link.part, watts_per_k * contact.to_moving);
            add(&mut matrix, contact.fixed, link.part, watts_per_k * (1.0 - contact.to_moving));
        }
    }
    matrix
}

fn add(matrix: &mut DMatrix<f64>, row: usize, column: usize, value: f64) {
    if let Some(cell) = matrix.get_mut((row, column)) {
        *cell += value;
    }
}

/// Each row divided by its part's heat capacity: K/s per K.
fn scaled(network: &Network, watts: &DMatrix<f64>) -> DMatrix<f64> {
    let mut matrix = watts.clone();
    for (mut row, part) in matrix.row_iter_mut().zip(&network.parts) {
        row /= part.capacity_j_per_k;
    }
    matrix
}

/// The largest real part of the eigenvalues; infinite, so as never to call a loop stable that
/// cannot be told, where the iteration does not end.
fn largest_real(matrix: &DMatrix<f64>) -> f64 {
    Schur::try_new(matrix.clone(), f64::EPSILON, ROUNDS).map_or(f64::INFINITY, |schur| {
        schur.complex_eigenvalues().iter().map(|it| it.re).fold(f64::NEG_INFINITY, f64::max)
    })
}
