//! The most likely lines: Newton's method on a concave log-likelihood.
//!
//! Knows rows of brackets with their places in a small design, grouped by stretch. Does not know
//! hours, millimetres or interventions.

use crate::domain::trend::likelihood::{
    solve::{Arrow, Block, Direction, OWN, SHARED},
    term::Term,
};

/// A reading relative to a first guess, and what its mean is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Row {
    /// The lower end less the guess; −∞ if nothing is known below.
    pub(crate) lo: f64,
    /// The upper end less the guess; +∞ if nothing is known above.
    pub(crate) hi: f64,
    /// How much of the stretch's own numbers its mean has.
    pub(crate) own: [f64; OWN],
    /// How much of the shared ones.
    pub(crate) shared: [f64; SHARED - 1],
}

/// Rows of several stretches.
#[derive(Clone, Debug, Default)]
pub(crate) struct Problem {
    /// One list per stretch.
    pub(crate) stretches: Vec<Vec<Row>>,
    /// The scatter to begin with.
    pub(crate) sigma: f64,
    /// How closely to look: the Newton decrement (twice the gain still to be had) to stop at.
    pub(crate) enough: f64,
    /// Taken off the log-likelihood for each unit of θ.
    pub(crate) toll: f64,
}

/// Where the log-likelihood is largest, in Olsen's parameters.
#[derive(Clone, Debug)]
pub(crate) struct Maximum {
    /// ln L.
    pub(crate) log_likelihood: f64,
    at: Place,
    arrow: Arrow,
}

#[derive(Clone, Debug)]
struct Place {
    own: Vec<[f64; OWN]>,
    shared: [f64; SHARED],
}

/// No maximum was found: the readings leave a number free, or their scatter shrinks to nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct NoMaximum;

const STEPS: usize = 60;
const HALVINGS: usize = 50;
/// A decrement from which on Newton's steps need no watching.
const NEAR: f64 = 1e-9;
/// What rounding does to a log-likelihood of many readings, with room to spare.
const ROUNDING: f64 = 1e-11;
/// θ may grow by this factor over its first guess before the scatter counts as nothing.
const FOLD: f64 = 1e6;

struct Bend {
    value: f64,
    blocks: Vec<Block>,
    shared: [[f64; SHARED]; SHARED],
    gradient: [f64; SHARED],
}

impl Problem {
    /// Climbs to the maximum. Each step is halved until it climbs, so it cannot wander off.
    ///
    /// The rows must leave no number free, and without a toll no line may pass inside them all: a
    /// maximum at infinity looks like one from afar.
    pub(crate) fn maximise(&self) -> Result<Maximum, NoMaximum> {
        let first = 1.0 / self.sigma;
        let mut at =
            Place { own: vec![[0.0; OWN]; self.stretches.len()], shared: [0.0, 0.0, first] };
        let mut bend = self.bend(&at).ok_or(NoMaximum)?;
        let mut before = f64::INFINITY;
        for _ in 0..STEPS {
            let (arrow, own, shared) =
                Arrow::solve(&bend.blocks, bend.shared, bend.gradient).ok_or(NoMaximum)?;
            let decrement = dot(&shared, &bend.gradient)
                + own.iter().zip(&bend.blocks).map(|(a, b)| dot(a, &b.gradient)).sum::<f64>();
            if decrement.is_nan() || first * FOLD < at.shared[SHARED - 1] {
                return Err(NoMaximum);
            }
            let mut share = 1.0;
            let mut next = at.moved(&own, &shared, share);
            // So near the top that rounding hides whether a step climbs; full steps still close in.
            let near = decrement < NEAR.max(ROUNDING * bend.value.abs());
            if decrement <= self.enough || (near && 0.25 * before < decrement) {
                let log_likelihood = bend.value + 0.5 * decrement.max(0.0);
                // The last step is worth taking: it costs nothing and squares the error.
                let at = if 0.0 < next.shared[SHARED - 1] { next } else { at };
                return Ok(Maximum { log_likelihood, at, arrow });
            }
            let mut climbed = None;
            for _ in 0..HALVINGS {
                climbed = self.bend(&next).filter(|it| near || bend.value < it.value);
                if climbed.is_some() {
                    break;
                }
                share *= 0.5;
                next = at.moved(&own, &shared, share);
            }
            (at, bend) = (next, climbed.ok_or(NoMaximum)?);
            before = decrement;
        }
        Err(NoMaximum)
    }

    /// Value, gradient and second derivatives at a place; `None` where there is no value.
    fn bend(&self, at: &Place) -> Option<Bend> {
        let [first, second, theta] = at.shared;
        if !(0.0 < theta && theta.is_finite()) {
            return None;
        }
        let mut sum = Bend {
            value: -self.toll * theta,
            blocks: Vec::with_capacity(self.stretches.len()),
            shared: [[0.0; SHARED]; SHARED],
            gradient: [0.0, 0.0, -self.toll],
        };
        for (rows, &[level, rate]) in self.stretches.iter().zip(&at.own) {
            let mut block = Block::default();
            for row in rows {
                let [a, b] = row.own;
                let [c, d] = row.shared;
                let eta = a * level + b * rate + c * first + d * second;
                let term = Term::of(row.lo, row.hi, eta, theta);
                sum.value += term.value;
                add(row, &term, &mut block, &mut sum.shared, &mut sum.gradient);
            }
            sum.blocks.push(block);
        }
        sum.value.is_finite().then_some(sum)
    }
}

/// Adds one reading's bend.
fn add(
    row: &Row,
    term: &Term,
    block: &mut Block,
    shared: &mut [[f64; SHARED]; SHARED],
    gradient: &mut [f64; SHARED],
) {
    block.add(shared, row, -term.eta_eta);
    let [a, b] = row.own;
    let [c, d] = row.shared;
    let mixed = -term.eta_theta;
    let [[_, _, at], [_, _, bt]] = &mut block.border;
    *at += mixed * a;
    *bt += mixed * b;
    let [ga, gb] = &mut block.gradient;
    *ga += term.eta * a;
    *gb += term.eta * b;
    let [[_, _, ct], [_, _, dt], [tc, td, tt]] = shared;
    *ct += mixed * c;
    *tc += mixed * c;
    *dt += mixed * d;
    *td += mixed * d;
    *tt -= term.theta_theta;
    let [gc, gd, gt] = gradient;
    *gc += term.eta * c;
    *gd += term.eta * d;
    *gt += term.theta;
}

impl Block {
    /// Adds what one row tells of its mean, leaving θ out.
    pub(crate) fn add(&mut self, shared: &mut [[f64; SHARED]; SHARED], row: &Row, told: f64) {
        let [a, b] = row.own;
        let [c, d] = row.shared;
        let [[aa, ab], [ba, bb]] = &mut self.own;
        *aa += told * a * a;
        *ab += told * a * b;
        *ba += told * a * b;
        *bb += told * b * b;
        let [[ac, ad, _], [bc, bd, _]] = &mut self.border;
        *ac += told * a * c;
        *ad += told * a * d;
        *bc += told * b * c;
        *bd += told * b * d;
        let [[cc, cd, _], [dc, dd, _], _] = shared;
        *cc += told * c * c;
        *cd += told * c * d;
        *dc += told * c * d;
        *dd += told * d * d;
    }
}

impl Place {
    fn moved(&self, own: &[[f64; OWN]], shared: &[f64; SHARED], share: f64) -> Self {
        Self {
            own: self.own.iter().zip(own).map(|(a, b)| moved(a, b, share)).collect(),
            shared: moved(&self.shared, shared, share),
        }
    }
}

fn moved<const N: usize>(from: &[f64; N], along: &[f64; N], share: f64) -> [f64; N] {
    let mut to = *from;
    for (to, step) in to.iter_mut().zip(along) {
        *to += share * step;
    }
    to
}

fn dot<const N: usize>(a: &[f64; N], b: &[f64; N]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

impl Maximum {
    /// The scatter.
    pub(crate) fn sigma(&self) -> f64 {
        1.0 / self.theta()
    }

    fn theta(&self) -> f64 {
        let [_, _, theta] = self.at.shared;
        theta
    }

    /// A row's mean beyond the guess.
    pub(crate) fn mean(&self, stretch: usize, row: &Row) -> f64 {
        let (own, shared) = self.numbers(stretch);
        dot(&own, &row.own) + dot(&shared, &row.shared)
    }

    /// A stretch's own numbers beyond the guess, and the shared ones, no longer divided by σ.
    pub(crate) fn numbers(&self, stretch: usize) -> ([f64; OWN], [f64; SHARED - 1]) {
        let sigma = self.sigma();
        let own = self.at.own.get(stretch).copied().unwrap_or_default();
        let [first, second, _] = self.at.shared;
        (own.map(|it| it * sigma), [first * sigma, second * sigma])
    }

    /// Covariance of two sums of a stretch's numbers, weighted like [`Row`]'s.
    pub(crate) fn covariance(&self, stretch: usize, a: &Weights, b: &Weights) -> f64 {
        let (a, b) = (self.direction(stretch, a), self.direction(stretch, b));
        self.arrow.covariance(stretch, &a, &b)
    }

    /// Variance of ln σ.
    pub(crate) fn ln_sigma_variance(&self) -> f64 {
        self.arrow.covariance(0, &self.ln_sigma(), &self.ln_sigma())
    }

    fn ln_sigma(&self) -> Direction {
        Direction { own: [0.0; OWN], shared: [0.0, 0.0, -self.sigma()] }
    }

    /// β = γ/θ, so dβ = dγ/θ − γ/θ²·dθ.
    fn direction(&self, stretch: usize, weights: &Weights) -> Direction {
        let sigma = self.sigma();
        let (own, [first, second]) = self.numbers(stretch);
        let [a, b] = weights.own;
        let [c, d] = weights.shared;
        let along = dot(&own, &weights.own) + dot(&[first, second], &weights.shared);
        Direction { own: [a * sigma, b * sigma], shared: [c * sigma, d * sigma, -along * sigma] }
    }
}

/// How much of each number a sum has.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Weights {
    pub(crate) own: [f64; OWN],
    pub(crate) shared: [f64; SHARED - 1],
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn close(what: &str, value: f64, expected: f64, relative: f64) {
        assert!((value / expected - 1.0).abs() <= relative, "{what}: {value} is not {expected}");
    }

    /// Rows of Tobin's table: durable goods bought, cut off at 0, on age and liquidity.
    fn tobin() -> Vec<[f64; 3]> {
        include_str!("../../../../tests/reference/tobin.csv")
            .lines()
            .filter(|line| !line.starts_with('#'))
            .skip(1)
            .map(|line| {
                let mut words = line.split(',').map(|word| word.parse().unwrap());
                [words.next().unwrap(), words.next().unwrap(), words.next().unwrap()]
            })
            .collect()
    }

    fn problem(liquidity: f64) -> Problem {
        let row = |[durable, age, quant]: [f64; 3]| Row {
            lo: if durable > 0.0 { durable } else { f64::NEG_INFINITY },
            hi: durable,
            own: [1.0, 0.0],
            shared: [age, quant * liquidity],
        };
        let rows = tobin().into_iter().map(row).collect();
        Problem { stretches: vec![rows], sigma: 5.0, enough: 1e-18, toll: 0.0 }
    }

    /// Tobin, Econometrica 26 (1958) 24, as printed for the data set of that name in the R package
    /// survival and recomputed with mpmath; `survreg` agrees to 12 digits.
    #[test]
    fn left_censored_readings_give_the_published_regression() {
        let both = problem(1.0).maximise().unwrap();
        let ([intercept, _], [age, quant]) = both.numbers(0);
        close("intercept", intercept, 15.144_866_332_220_9, 1e-10);
        close("age", age, -0.129_059_283_864_553, 1e-10);
        close("quant", quant, -0.045_541_662_889_677_9, 1e-10);
        close("σ", both.sigma(), 5.572_539_765_995_21, 1e-10);
        close("ln L", both.log_likelihood, -28.940_133_199_720_6, 1e-12);
        let se = |own, shared| {
            let sum = Weights { own: [own, 0.0], shared };
            both.covariance(0, &sum, &sum).sqrt()
        };
        close("se(intercept)", se(1.0, [0.0; 2]), 16.079_453_202_383_6, 1e-8);
        close("se(age)", se(0.0, [1.0, 0.0]), 0.218_583_596_716_444, 1e-8);
        close("se(quant)", se(0.0, [0.0, 1.0]), 0.058_254_115_507_506_3, 1e-8);
        close("se(ln σ)", both.ln_sigma_variance().sqrt(), 0.310_322_720_187_59, 1e-8);

        let one = problem(0.0).maximise().unwrap();
        let ([intercept, _], [age, none]) = one.numbers(0);
        close("intercept", intercept, 5.496_903_239_507_26, 1e-10);
        close("age", age, -0.162_985_436_251_344, 1e-10);
        close("σ", one.sigma(), 5.892_800_420_307_93, 1e-10);
        close("ln L", one.log_likelihood, -29.230_977_159_758_1, 1e-12);
        assert_eq!(none.to_bits(), 0.0_f64.to_bits(), "no reading touches it");
    }

    #[test]
    fn a_toll_keeps_the_scatter_from_shrinking_to_nothing() {
        let row = |lo, hi, x| Row { lo, hi, own: [1.0, 0.0], shared: [x, 0.0] };
        let rows = vec![row(0.4, 0.5, 0.0), row(0.5, 0.6, 1.0), row(0.6, 0.7, 2.0)];
        let sigma = |toll| {
            let problem =
                Problem { stretches: vec![rows.clone()], sigma: 0.1, enough: 1e-14, toll };
            problem.maximise().unwrap().sigma()
        };
        assert!(0.005 < sigma(0.01) && sigma(0.01) < sigma(0.02) && sigma(0.02) < 0.1);
    }
}
