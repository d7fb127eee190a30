//! The interval of the hours left by drawing the readings again: a check on the other intervals.
//!
//! Slow and plain. Chance comes in as a seed, so that the same question has the same answer.

use crate::domain::{
    statistics::normal_quantile,
    trend::{Fit, Observation, Reach, Segmented, count},
};

/// What drawing again says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bootstrap {
    /// The interval, in hours from the newest reading; an end is `None` where so many draws never
    /// meet the limit.
    pub low_h: Option<f64>,
    /// The upper end.
    pub high_h: Option<f64>,
    /// Draws that gave a fit.
    pub draws: usize,
    /// Of those, the ones in which the limit is never met.
    pub never: usize,
}

/// Repeatable chance: the generator of Steele, Lea and Flood, OOPSLA 2014, 453 (`SplitMix64`).
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    /// A normal deviate.
    pub(crate) fn bell(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        let high = u32::try_from(z >> 32).unwrap_or(0);
        normal_quantile((f64::from(high) + 0.5) / 4_294_967_296.0).unwrap_or(0.0)
    }
}

impl Bootstrap {
    /// Draws gaps from the fitted lines with the scatter of its intervals, feels them with the same
    /// leaves, fits the same model and asks when it meets the limit; as often as `draws` says.
    ///
    /// The ends are the shares (1 ± confidence)/2 of what the draws say (percentiles; Efron and
    /// Tibshirani, An Introduction to the Bootstrap, 1993, section 13.3). A reading with an open
    /// upper end keeps it where the drawn gap is wider, and one with an open lower end where it is
    /// tighter; on the other side of its only leaf it becomes a bracket as wide as the others.
    ///
    /// `None` if no draw gave a fit, or unless 0 < confidence < 1.
    pub(crate) fn of(
        observations: &[Observation],
        fit: &Fit,
        (limit_mm, reach): (f64, Reach),
        confidence: f64,
        (draws, seed): (usize, u64),
    ) -> Option<Self> {
        if !(0.0 < confidence && confidence < 1.0) {
            return None;
        }
        let widths: Vec<f64> = observations.iter().filter_map(Observation::width).collect();
        let step = widths.iter().sum::<f64>() / count(widths.len().max(1));
        let mut chance = Chance(seed);
        let mut met = Vec::with_capacity(draws);
        let (mut fits, mut never) = (0, 0);
        for _ in 0..draws {
            let drawn: Vec<Observation> = observations
                .iter()
                .filter_map(|seen| {
                    let gap = fit.mean_of(seen)? + fit.spread_mm * chance.bell();
                    Some(felt_again(seen, gap, step))
                })
                .collect();
            let Ok(again) = Segmented::fit_with(&drawn, fit.model) else { continue };
            let Some(newest) = again.segments.last() else { continue };
            fits += 1;
            match newest.mean.meets(limit_mm, reach, fit.last_h, 0.0).estimate {
                Some(at) => met.push(at - fit.last_h),
                None => never += 1,
            }
        }
        if fits == 0 {
            return None;
        }
        met.sort_unstable_by(f64::total_cmp);
        // What never happens comes after everything that does.
        let end = |share: f64| {
            let place = (0..fits).find(|&it| share * count(fits) <= count(it + 1));
            met.get(place.unwrap_or(fits)).copied()
        };
        let tail = 0.5 * (1.0 - confidence);
        Some(Self { low_h: end(tail), high_h: end(1.0 - tail), draws: fits, never })
    }
}

/// What the same leaves would have said about another gap.
fn felt_again(seen: &Observation, gap: f64, step: f64) -> Observation {
    let onto = |low: f64, width: f64| {
        let low = low + ((gap - low) / width).floor() * width;
        (Some(low), Some(low + width))
    };
    let (low, high) = match (seen.low, seen.high) {
        (Some(low), Some(high)) if low < high => onto(low, high - low),
        (Some(low), None) if gap < low && 0.0 < step => onto(low, step),
        (None, Some(high)) if high < gap && 0.0 < step => onto(high, step),
        (Some(low), None) => (Some(low), None),
        (None, Some(high)) => (None, Some(high)),
        _ => (Some(gap), Some(gap)),
    };
    Observation { low, high, ..*seen }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drawing_again_agrees_with_the_interval_and_repeats_itself() {
        let seen: Vec<Observation> = (0..30_u8)
            .map(|look| 8.0 * f64::from(look))
            .map(|x| {
                let y = 0.4 + 0.005 * x + 0.03 * (x * 1.9).sin();
                let low = (y / 0.05).floor() * 0.05;
                Observation {
                    x,
                    low: Some(low),
                    high: Some(low + 0.05),
                    segment: 0,
                    edge_age: None,
                }
            })
            .collect();
        let fit = Fit::new(&Segmented::fit(&seen).unwrap(), &[], 232.0).unwrap();
        let to = fit.hours_to_length(2.0, 0.8).unwrap();
        let draw = |seed| Bootstrap::of(&seen, &fit, (2.0, Reach::Up), 0.8, (200, seed)).unwrap();
        let drawn = draw(1);
        assert_eq!(drawn, draw(1), "the same seed says the same");
        assert_ne!(drawn, draw(2));
        assert_eq!((drawn.draws, drawn.never), (200, 0));
        let wide = to.high_h.unwrap() - to.low_h.unwrap();
        assert!((drawn.low_h.unwrap() - to.low_h.unwrap()).abs() < 0.4 * wide, "{drawn:?} {to:?}");
        assert!((drawn.high_h.unwrap() - to.high_h.unwrap()).abs() < 0.4 * wide);
    }
}
