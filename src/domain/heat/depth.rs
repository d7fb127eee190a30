//! Heat that goes into a thick part from its face: the first seconds, before the part is warm
//! through.
//!
//! The semi-infinite solid of the textbooks (Carslaw and Jaeger, Conduction of Heat in Solids,
//! 2.4 and 2.9), valid while the heat has not reached the far side: up to about depth²/(4·D)
//! seconds. Knows one face and one depth; refuses to know the parts of a machine.

use puruspe::{erf, erfc};

/// The steel under a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground {
    /// Thermal conductivity λ, in W/(m·K).
    pub conductivity: f64,
    /// Thermal diffusivity D, in m²/s.
    pub diffusivity: f64,
}

impl Ground {
    /// The rise `depth_m` under the face after `time_s` of the constant flux q″, in K:
    /// (2q″/λ)·√(D·t/π)·exp(−x²/4Dt) − (q″x/λ)·erfc(x/(2√(Dt))).
    pub fn under_flux_k(&self, flux_w_per_m2: f64, depth_m: f64, time_s: f64) -> f64 {
        if time_s <= 0.0 {
            return 0.0;
        }
        let reach = (self.diffusivity * time_s).sqrt();
        let share = depth_m / (2.0 * reach);
        let at_face = 2.0 * reach / std::f64::consts::PI.sqrt() * (-share * share).exp();
        flux_w_per_m2 / self.conductivity * (at_face - depth_m * erfc(share))
    }

    /// The temperature `depth_m` under a face that is suddenly held at another temperature, in °C:
    /// T₀ + (Tᵢ − T₀)·erf(x/(2√(Dt))). A hot face that is wetted or snowed on follows it.
    pub fn under_step_c(&self, [inside_c, face_c]: [f64; 2], depth_m: f64, time_s: f64) -> f64 {
        if time_s <= 0.0 {
            return if 0.0 < depth_m { inside_c } else { face_c };
        }
        let reach = (self.diffusivity * time_s).sqrt();
        face_c + (inside_c - face_c) * erf(depth_m / (2.0 * reach))
    }
}

/// Holman, Heat Transfer, example 4-2: a large block of steel, 45 W/(m·K), 1.4e-5 m²/s, at 35 °C.
/// Its face is held at 250 °C, or takes 3.2e5 W/m²; 25 mm down after 30 s it has 118.5 and 79.3 °C.
#[test]
fn a_block_of_steel_warms_as_in_the_handbook() {
    let steel = Ground { conductivity: 45.0, diffusivity: 1.4e-5 };
    let close = |value: f64, expected: f64| assert!((value - expected).abs() < 0.05, "{value}");
    close(steel.under_step_c([35.0, 250.0], 0.025, 30.0), 118.5);
    close(35.0 + steel.under_flux_k(3.2e5, 0.025, 30.0), 79.3);
    close(35.0 + steel.under_flux_k(3.2e5, 0.0, 30.0), 199.4);
    close(steel.under_step_c([35.0, 250.0], 0.0, 0.0), 250.0);
    close(steel.under_flux_k(3.2e5, 0.0, 0.0), 0.0);
}
