//! How much readings tell on average, wherever in its bracket the gap happened to lie.
//!
//! The curvature at the top of a likelihood of brackets is a matter of luck: where the line runs
//! through the middle of every bracket the top is flat, and the curvature says that nothing is
//! known. The expected information says what such readings tell in general. Knows rows of a
//! problem and a scatter; does not know why somebody asks.

use crate::domain::trend::likelihood::{
    maximise::{Maximum, Problem, Weights},
    solve::{Arrow, Block, Direction},
    term::Term,
};

/// What rows tell about the numbers their means are made of.
#[derive(Clone, Debug)]
pub(crate) struct Typical(Arrow);

/// Steps of the sum over places, in units of the scatter. The integrand is smooth and falls off
/// like the normal density, so that this many already give all digits.
const STEP: f64 = 0.5;
const FAR: f64 = 9.0;

impl Typical {
    /// `None` if they leave a number free.
    pub(crate) fn of(problem: &Problem, maximum: &Maximum) -> Option<Self> {
        let sigma = maximum.sigma();
        let mut known: Vec<(f64, f64)> = Vec::new();
        let mut shared = [[0.0; 3]; 3];
        let mut blocks = Vec::with_capacity(problem.stretches.len());
        for (place, rows) in problem.stretches.iter().enumerate() {
            let mut block = Block::default();
            for row in rows {
                let width = row.hi - row.lo;
                let told = if width.is_finite() {
                    let same = |(it, _): &&(f64, f64)| (it - width).abs() < 1e-9;
                    let seen = known.iter().rev().find(same).copied();
                    let (_, told) = seen.unwrap_or_else(|| {
                        let new = (width, per_reading(width / sigma));
                        known.push(new);
                        new
                    });
                    told
                } else {
                    let mean = maximum.mean(place, row);
                    -Term::of(row.lo - mean, row.hi - mean, 0.0, 1.0 / sigma).eta_eta
                };
                block.add(&mut shared, row, told / (sigma * sigma));
            }
            blocks.push(block);
        }
        // The scatter's own row stays empty: on average it goes with neither level nor rate.
        Arrow::solve(&blocks, shared, [0.0; 3]).map(|(arrow, _, _)| Self(arrow))
    }

    /// Covariance of two sums of a stretch's numbers.
    pub(crate) fn covariance(&self, stretch: usize, a: &Weights, b: &Weights) -> f64 {
        let direction = |it: &Weights| {
            let [first, second] = it.shared;
            Direction { own: it.own, shared: [first, second, 0.0] }
        };
        self.0.covariance(stretch, &direction(a), &direction(b))
    }
}

/// How much one bracket tells of its mean, as a share of what an exact reading tells, when its
/// width is `r` times the scatter: (1/r)·∫ (φ(z) − φ(z + r))² / (Φ(z + r) − Φ(z)) dz.
///
/// Near 1 − r²/12 for narrow ones (Sheppard's correction) and 1.806/r for wide ones.
fn per_reading(r: f64) -> f64 {
    if r < 1e-6 {
        return 1.0;
    }
    let (mut sum, mut z) = (0.0, -FAR - r);
    while z < FAR {
        let term = Term::of(z, z + r, 0.0, 1.0);
        sum += term.eta * term.eta * term.value.exp();
        z += STEP;
    }
    sum * STEP / r
}

#[test]
fn wide_brackets_tell_little_and_narrow_ones_all() {
    assert_eq!(per_reading(0.0).to_bits(), 1.0_f64.to_bits());
    assert!((per_reading(0.1) - (1.0 - 0.01 / 12.0)).abs() < 1e-5, "{}", per_reading(0.1));
    // ∫ φ²/(Φ(1 − Φ)) dz = 1.806…: far apart, each end stands alone.
    assert!((per_reading(40.0) * 40.0 - 1.806).abs() < 0.001, "{}", per_reading(40.0) * 40.0);
}
