//! From a range to a standard deviation: the factors K₁, K₂ and K₃.
//!
//! The usual sizes have the factors that the AIAG manual prints, so that a study agrees with one
//! done on paper. Other sizes have them from the distribution of the range itself.

use crate::domain::statistics::{normal_cdf, normal_density};

/// A factor with where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factor {
    /// Multiplies a range to give a standard deviation.
    pub value: f64,
    /// Where it comes from.
    pub source: FactorSource,
}

/// Where a factor comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FactorSource {
    /// Printed in the AIAG manual, four decimals.
    Manual,
    /// Computed from the distribution of the range of normal readings.
    Range,
}

/// K₁ for 2 and 3 trials: AIAG, Measurement Systems Analysis, 4th edition, report form of the
/// average and range method.
const K1: [f64; 2] = [0.8862, 0.5908];
/// 1/d₂* for one range of 2 to 10 values; K₂ are its first two. Source as for K₁.
#[expect(clippy::approx_constant, reason = "as printed, not as 1/√2 is")]
const K3: [f64; 9] = [0.7071, 0.5231, 0.4467, 0.4030, 0.3742, 0.3534, 0.3375, 0.3249, 0.3146];
/// The manual prints K₂ for 2 and 3 people.
const K2_SIZES: usize = 2;

/// K₁ from the mean range of cells with `trials` readings each; `None` below two.
///
/// Outside the printed sizes it is 1/d₂, which assumes many cells (the manual: more than 15).
pub(crate) fn k1(trials: usize) -> Option<Factor> {
    printed(&K1, trials).or_else(|| Some(computed(1.0 / moments(trials)?.0)))
}

/// K₂ from the range of the means of `people`; `None` below two.
pub(crate) fn k2(people: usize) -> Option<Factor> {
    printed(K3.get(..K2_SIZES)?, people).or_else(|| single(people))
}

/// K₃ from the range of the means of `parts`; `None` below two.
pub(crate) fn k3(parts: usize) -> Option<Factor> {
    printed(&K3, parts).or_else(|| single(parts))
}

/// 1/d₂* for a single range: d₂*² is the mean square of the range.
fn single(size: usize) -> Option<Factor> {
    Some(computed(1.0 / moments(size)?.1.sqrt()))
}

fn printed(table: &[f64], size: usize) -> Option<Factor> {
    let value = *table.get(size.checked_sub(2)?)?;
    Some(Factor { value, source: FactorSource::Manual })
}

const fn computed(value: f64) -> Factor {
    Factor { value, source: FactorSource::Range }
}

/// Steps of the integrals below; the inner one is a multiple of the outer, so that both fall on
/// one grid of Φ.
const STEP: f64 = 0.025;
const INNER: usize = 10;
const INNER_STEP: f64 = 0.25;
/// A range of more than 12 σ has no share that a float would notice.
const OUTER: u32 = 480;
const FROM: f64 = -9.0;
const GRID: u32 = 1201;

/// The mean and the mean square of the range of `size` standard normal values; `None` below two.
///
/// P(R ≤ r) = n ∫ φ(x) (Φ(x + r) − Φ(x))ⁿ⁻¹ dx, integrated twice. The inner integrand is smooth on
/// the whole line, where equal steps are as exact as floats; the outer is by Simpson's rule and
/// good to eight digits. *Reference:* L. H. C. Tippett, Biometrika 17 (1925), from memory.
fn moments(size: usize) -> Option<(f64, f64)> {
    let power = i32::try_from(size.checked_sub(1)?).ok().filter(|power| 1 <= *power)?;
    let at = |place: u32| f64::from(place).mul_add(STEP, FROM);
    let below: Vec<f64> = (0..GRID).map(|it| normal_cdf(at(it))).collect();
    let density: Vec<f64> = (0..GRID).step_by(INNER).map(|it| normal_density(at(it))).collect();
    let (mut mean, mut square) = (0.0, 0.0);
    for place in 0..=OUTER {
        let shift = usize::try_from(place).ok()?;
        let ends = below.iter().step_by(INNER).zip(below.iter().skip(shift).step_by(INNER));
        let inside: f64 = ends.zip(&density).map(|((x, y), phi)| phi * (y - x).powi(power)).sum();
        let beyond = 1.0 - f64::from(power + 1) * inside * INNER_STEP;
        let weight = match place {
            0 | OUTER => 1.0,
            odd if odd % 2 == 1 => 4.0,
            _ => 2.0,
        } * STEP
            / 3.0;
        mean += weight * beyond;
        square += weight * 2.0 * f64::from(place) * STEP * beyond;
    }
    Some((mean, square))
}

/// The manual's factors are those of the range, rounded; and small sizes have closed forms.
#[test]
fn printed_factors_are_those_of_the_range() {
    use std::f64::consts::PI;
    for (size, printed) in (2..).zip(K3) {
        let value = single(size).unwrap().value;
        assert!((value - printed).abs() < 5.1e-5, "{size}: {value} is not {printed}");
    }
    for (size, printed) in (2..).zip(K1) {
        let value = 1.0 / moments(size).unwrap().0;
        assert!((value - printed).abs() < 5.1e-5, "{size}: {value} is not {printed}");
    }
    let close = |value: f64, exact: f64| {
        assert!((value / exact - 1.0).abs() < 1e-8, "{value} is not {exact}");
    };
    close(moments(2).unwrap().0, 2.0 / PI.sqrt());
    close(moments(2).unwrap().1, 2.0);
    close(moments(3).unwrap().0, 3.0 / PI.sqrt());
    close(moments(3).unwrap().1, 2.0 + 3.0 * 3.0_f64.sqrt() / PI);
    // d₂ of 25 and 100 from quality control tables, from memory.
    assert!((moments(25).unwrap().0 - 3.931).abs() < 5e-4);
    assert!((moments(100).unwrap().0 - 5.015).abs() < 5e-4);
}

#[test]
fn one_value_has_no_range() {
    assert_eq!((k1(1), k2(1), k3(0)), (None, None, None));
    assert_eq!(k2(3).unwrap().source, FactorSource::Manual);
    assert_eq!(k2(4).unwrap().source, FactorSource::Range, "the manual prints K₂ to 3 people");
    assert_eq!(k3(11).unwrap().source, FactorSource::Range);
}
