//! Newton's equations where each stretch has numbers of its own and all share a few.
//!
//! The matrix is an arrow: a small block for each stretch, a border, and one block for what is
//! shared. Eliminating the blocks one by one costs time in proportion to their number. Knows
//! numbers only.
#![expect(clippy::indexing_slicing, reason = "loops over fixed sizes, clearer than iterators")]
#![expect(clippy::needless_range_loop, reason = "as above: the letters are those of the sums")]

/// Numbers a stretch has for itself: a level and perhaps a rate.
pub(crate) const OWN: usize = 2;
/// Numbers that all share: two columns and θ.
pub(crate) const SHARED: usize = 3;

/// A pivot that keeps less than this share of its diagonal has no digits left.
const PIVOT_LEAST: f64 = 1e-11;

/// One stretch's block, border and right-hand side.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Block {
    /// Minus the second derivatives by the stretch's own numbers.
    pub(crate) own: [[f64; OWN]; OWN],
    /// Minus the mixed ones.
    pub(crate) border: [[f64; SHARED]; OWN],
    /// The gradient by its own numbers.
    pub(crate) gradient: [f64; OWN],
}

/// The arrow taken apart: it answers for steps and for covariances.
#[derive(Clone, Debug)]
pub(crate) struct Arrow {
    stretches: Vec<Solved>,
    /// The inverse of what is left for the shared numbers.
    shared: [[f64; SHARED]; SHARED],
}

/// One stretch of it.
#[derive(Clone, Copy, Debug)]
struct Solved {
    /// The inverse of its block.
    inverse: [[f64; OWN]; OWN],
    /// That times its border.
    reduced: [[f64; SHARED]; OWN],
}

/// A direction, or the gradient of a number somebody wants: one stretch's share and the common one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Direction {
    /// Along the stretch's own numbers.
    pub(crate) own: [f64; OWN],
    /// Along the shared ones.
    pub(crate) shared: [f64; SHARED],
}

impl Arrow {
    /// Takes the arrow apart and answers the step −H⁻¹·gradient with it.
    ///
    /// A number that no reading touches has an empty row; its step is zero. `None` if the rest is
    /// not positive definite to working precision.
    pub(crate) fn solve(
        blocks: &[Block],
        shared: [[f64; SHARED]; SHARED],
        gradient: [f64; SHARED],
    ) -> Option<(Self, Vec<[f64; OWN]>, [f64; SHARED])> {
        let (mut left, mut right) = (shared, gradient);
        let mut stretches = Vec::with_capacity(blocks.len());
        for block in blocks {
            let inverse = inverse(&block.own)?;
            let mut reduced = [[0.0; SHARED]; OWN];
            for i in 0..OWN {
                for k in 0..SHARED {
                    reduced[i][k] = (0..OWN).map(|j| inverse[i][j] * block.border[j][k]).sum();
                }
            }
            for k in 0..SHARED {
                for i in 0..OWN {
                    right[k] -= reduced[i][k] * block.gradient[i];
                    for m in 0..SHARED {
                        left[k][m] -= block.border[i][k] * reduced[i][m];
                    }
                }
            }
            stretches.push(Solved { inverse, reduced });
        }
        let shared = inverse_beside(&left, &shared)?;
        let mut common = [0.0; SHARED];
        for k in 0..SHARED {
            common[k] = (0..SHARED).map(|m| shared[k][m] * right[m]).sum();
        }
        let steps = stretches
            .iter()
            .zip(blocks)
            .map(|(Solved { inverse, reduced }, block)| {
                let mut step = [0.0; OWN];
                for i in 0..OWN {
                    let free: f64 = (0..OWN).map(|j| inverse[i][j] * block.gradient[j]).sum();
                    let tied: f64 = (0..SHARED).map(|k| reduced[i][k] * common[k]).sum();
                    step[i] = free - tied;
                }
                step
            })
            .collect();
        Some((Self { stretches, shared }, steps, common))
    }

    /// Covariance of two numbers that depend on one stretch's numbers and the shared ones.
    pub(crate) fn covariance(&self, stretch: usize, a: &Direction, b: &Direction) -> f64 {
        let Solved { inverse, reduced } = &self.stretches[stretch];
        let mut sum = 0.0;
        for i in 0..OWN {
            for j in 0..OWN {
                sum += a.own[i] * inverse[i][j] * b.own[j];
            }
        }
        let left_over = |it: &Direction, k: usize| {
            it.shared[k] - (0..OWN).map(|i| it.own[i] * reduced[i][k]).sum::<f64>()
        };
        for k in 0..SHARED {
            for m in 0..SHARED {
                sum += left_over(a, k) * self.shared[k][m] * left_over(b, m);
            }
        }
        sum
    }
}

fn inverse<const N: usize>(matrix: &[[f64; N]; N]) -> Option<[[f64; N]; N]> {
    inverse_beside(matrix, matrix)
}

/// The inverse of a symmetric matrix by Cholesky; `full` says how large its diagonal was before
/// anything was taken off it.
fn inverse_beside<const N: usize>(
    matrix: &[[f64; N]; N],
    full: &[[f64; N]; N],
) -> Option<[[f64; N]; N]> {
    let mut root = [[0.0; N]; N];
    let touched = |i: usize| full[i][i] != 0.0;
    for i in 0..N {
        for j in 0..=i {
            let known: f64 = (0..j).map(|k| root[i][k] * root[j][k]).sum();
            let rest = matrix[i][j] - known;
            root[i][j] = if i != j {
                rest / root[j][j]
            } else if !touched(i) {
                1.0
            } else if PIVOT_LEAST * full[i][i] < rest {
                rest.sqrt()
            } else {
                return None;
            };
        }
    }
    let mut inverse = [[0.0; N]; N];
    for column in 0..N {
        if !touched(column) {
            continue;
        }
        let mut x = [0.0; N];
        for i in 0..N {
            let known: f64 = (0..i).map(|k| root[i][k] * x[k]).sum();
            x[i] = (f64::from(u8::from(i == column)) - known) / root[i][i];
        }
        for i in (0..N).rev() {
            let known: f64 = (i + 1..N).map(|k| root[k][i] * x[k]).sum();
            x[i] = (x[i] - known) / root[i][i];
            inverse[i][column] = x[i];
        }
    }
    Some(inverse)
}
