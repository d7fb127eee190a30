//! Uncertainty budgets after the GUM (JCGM 100:2008).
//!
//! Knows how uncertain inputs make an uncertain result: sensitivities, full correlation inside a
//! group, products of two inputs, degrees of freedom, coverage. Does not know what is measured.

use crate::domain::statistics::{normal_quantile, t_quantile};

/// One input of a budget, named by an `N`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Input<N> {
    /// What it is.
    pub name: N,
    /// Its best estimate.
    pub value: f64,
    /// Its standard uncertainty, in the unit of `value`.
    pub u: f64,
    /// How well `u` itself is known; `None` stands for infinitely many degrees of freedom.
    pub dof: Option<f64>,
    /// By how much the result moves for one unit of it.
    pub sensitivity: f64,
    /// Inputs of one group err together, so that their shares add before they are squared.
    pub group: Option<u8>,
}

/// Two inputs, by their places, whose product moves the result: the term of second order of GUM
/// 5.1.2, note, for a mixed derivative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Product {
    /// The places of both inputs.
    pub of: [usize; 2],
    /// The mixed second derivative of the result.
    pub mixed: f64,
}

/// A budget over borrowed inputs, so that nothing is allocated for a verdict.
///
/// *Estimates* the standard uncertainty u = √(Σ(Σ c·u)² + Σ(mixed·u₁·u₂)²), the inner sum over
/// each group. *Assumes* groups independent of one another. *Stops being valid* where the result
/// bends strongly within u. *Reference:* GUM 5.1.2, 5.2.2 note 1, G.4.
#[derive(Clone, Copy, Debug)]
pub struct Budget<'a, N> {
    inputs: &'a [Input<N>],
    products: &'a [Product],
}

/// What one input, or one group, adds to the uncertainty of the result.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share<N> {
    /// The name of the input, or of the first of its group.
    pub name: N,
    /// Its part of u, in the unit of the result.
    pub u: f64,
    /// Its degrees of freedom: the fewest of its group.
    pub dof: Option<f64>,
}

impl<'a, N: Copy> Budget<'a, N> {
    /// A budget of these inputs and products.
    pub const fn new(inputs: &'a [Input<N>], products: &'a [Product]) -> Self {
        Self { inputs, products }
    }

    /// What each input, or group, adds; in the order of the inputs.
    pub fn shares(self) -> impl Iterator<Item = Share<N>> {
        let inputs = self.inputs;
        inputs.iter().enumerate().filter_map(move |(place, input)| {
            let Some(group) = input.group else {
                let u = (input.sensitivity * input.u).abs();
                return Some(Share { name: input.name, u, dof: input.dof });
            };
            let in_group = |other: &&Input<N>| other.group == Some(group);
            if inputs.iter().take(place).any(|other| in_group(&other)) {
                return None;
            }
            let members = || inputs.iter().filter(in_group);
            let sum: f64 = members().map(|it| it.sensitivity * it.u).sum();
            let dof = members().filter_map(|it| it.dof).min_by(f64::total_cmp);
            Some(Share { name: input.name, u: sum.abs(), dof })
        })
    }

    /// The combined standard uncertainty.
    pub fn u(self) -> f64 {
        let first: f64 = self.shares().map(|share| share.u * share.u).sum();
        let u_at = |place: usize| self.inputs.get(place).map_or(0.0, |input| input.u);
        let second: f64 = self
            .products
            .iter()
            .map(|Product { of: [one, other], mixed }| (mixed * u_at(*one) * u_at(*other)).powi(2))
            .sum();
        // An empty sum is −0.
        (0.0 + first + second).sqrt()
    }

    /// Effective degrees of freedom by Welch and Satterthwaite (GUM G.2b), not truncated; `None`
    /// stands for infinitely many. Terms of second order do not count.
    pub fn dof(self) -> Option<f64> {
        let squares: f64 = self.shares().map(|share| share.u * share.u).sum();
        let spread: f64 =
            self.shares().filter_map(|share| Some(share.u.powi(4) / share.dof?)).sum();
        (0.0 < spread).then(|| squares * squares / spread)
    }

    /// The factor k for an interval that holds the result with probability `p`, and is t with the
    /// degrees of freedom truncated to a whole number (GUM G.4.1). `None` unless 0 < p < 1.
    pub fn coverage_factor(self, p: f64) -> Option<f64> {
        let upper = f64::midpoint(1.0, p);
        match self.dof() {
            Some(dof) => t_quantile(upper, dof.floor().max(1.0)),
            None => normal_quantile(upper),
        }
        .filter(|_| 0.0 < p)
    }

    /// What adds most, if anything does.
    pub fn largest(self) -> Option<Share<N>> {
        self.shares().filter(|share| 0.0 < share.u).max_by(|a, b| a.u.total_cmp(&b.u))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn input(
        name: &'static str,
        u: f64,
        dof: Option<f64>,
        sensitivity: f64,
    ) -> Input<&'static str> {
        Input { name, value: 0.0, u, dof, sensitivity, group: None }
    }

    #[track_caller]
    fn close(value: f64, expected: f64, relative: f64) {
        assert!((value / expected - 1.0).abs() <= relative, "{value} is not {expected}");
    }

    /// The inputs of GUM H.1, an end gauge of 50 mm compared with a standard, in nanometres.
    fn end_gauge(d: (f64, Option<f64>), expansions: f64, temps: f64) -> [Input<&'static str>; 6] {
        let (standard, expansion, off) = (50_000_623.0, 11.5e-6, -0.1);
        let off_u = [input("mean", 0.2, None, 1.0), input("cycle", 0.5 / 2_f64.sqrt(), None, 1.0)];
        [
            Input { value: standard, ..input("standard", 75.0 / 3.0, Some(18.0), 1.0) },
            Input { value: 215.0, ..input("difference", d.0, d.1, 1.0) },
            input("expansion", 2e-6 / 3_f64.sqrt(), None, 0.0),
            Input { value: off, ..input("off 20 °C", Budget::new(&off_u, &[]).u(), None, 0.0) },
            input("expansions differ", expansions, Some(50.0), -standard * off),
            input("temperatures differ", temps, Some(2.0), -standard * expansion),
        ]
    }

    /// H.1.7: what the two products of uncertain inputs add.
    const SECOND_ORDER: [Product; 2] = [
        Product { of: [4, 3], mixed: -50_000_623.0 },
        Product { of: [2, 5], mixed: -50_000_623.0 },
    ];

    fn expanded(budget: Budget<'_, &str>, p: f64) -> f64 {
        budget.coverage_factor(p).unwrap() * budget.u()
    }

    #[track_caller]
    fn prints_as(value: f64, printed: f64) {
        assert!((value - printed).abs() <= 0.5, "{value} is not printed as {printed}");
    }

    /// Published: u 32 nm, ν 16, t 2.92, U₉₉ 93 nm, with second order 34 nm. The GUM rounds its
    /// inputs on the way; from 0.05/√3 and so on the sums are a little smaller (recomputed).
    #[test]
    fn the_end_gauge_of_the_gum_comes_out_as_published() {
        let repeated = [
            input("repeated observations", 5.8, Some(24.0), 1.0),
            input("comparator, random", 3.9, Some(5.0), 1.0),
            input("comparator, systematic", 6.7, Some(8.0), 1.0),
        ];
        let d = Budget::new(&repeated, &[]);
        close(d.u(), 9.681_941_954, 1e-10);
        close(d.dof().unwrap(), 25.447_250_777_4, 1e-10);

        let exact = end_gauge((d.u(), d.dof()), 1e-6 / 3_f64.sqrt(), 0.05 / 3_f64.sqrt());
        let budget = Budget::new(&exact, &[]);
        let estimate: f64 = exact.iter().take(2).map(|it| it.value).sum();
        close(estimate, 50_000_838.0, 1e-15);
        close(budget.u(), 31.663_879_111_008_632, 1e-9);
        close(budget.dof().unwrap(), 16.751_855_737_627_246, 1e-9);
        close(budget.coverage_factor(0.99).unwrap(), 2.920_781_622_425_1, 1e-9);
        close(expanded(budget, 0.99), 92.483_276, 1e-8);
        close(expanded(budget, 0.95), 67.124, 1e-5);
        close(Budget::new(&exact, &SECOND_ORDER).u(), 33.806_545, 1e-7);
        assert_eq!(budget.largest().map(|it| it.name), Some("standard"));

        let rounded = end_gauge((9.7, Some(25.6)), 0.58e-6, 0.029);
        let budget = Budget::new(&rounded, &[]);
        prints_as(budget.u(), 32.0);
        assert_eq!(budget.dof().map(f64::floor), Some(16.0));
        prints_as(expanded(budget, 0.99), 93.0);
        prints_as(Budget::new(&rounded, &SECOND_ORDER).u(), 34.0);
    }

    #[test]
    fn what_errs_together_adds_and_may_cancel() {
        let together = |a, b| {
            [
                Input { group: Some(1), ..input("go", 3.0, None, a) },
                input("other", 4.0, None, 1.0),
                Input { group: Some(1), ..input("no-go", 3.0, Some(7.0), b) },
            ]
        };
        let same = together(0.5, 0.5);
        close(Budget::new(&same, &[]).u(), 5.0, 1e-15);
        let shares: Vec<_> = Budget::new(&same, &[]).shares().map(|it| (it.name, it.u)).collect();
        assert_eq!(shares, [("go", 3.0), ("other", 4.0)]);
        assert_eq!(Budget::new(&same, &[]).shares().next().and_then(|it| it.dof), Some(7.0));
        close(Budget::new(&together(1.0, -1.0), &[]).u(), 4.0, 1e-15);
    }

    #[test]
    fn a_budget_of_nothing_is_certain() {
        let nothing: [Input<&str>; 0] = [];
        let budget = Budget::new(&nothing, &[]);
        assert_eq!((budget.u().to_bits(), budget.dof(), budget.largest()), (0, None, None));
        for p in [0.0, 1.0, -0.5, f64::NAN] {
            assert_eq!(budget.coverage_factor(p), None, "{p}");
        }
    }
}
