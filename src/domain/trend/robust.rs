//! A second opinion on growth that a few wild readings cannot sway: the line of Theil and Sen.

use crate::domain::{
    statistics::normal_quantile,
    trend::{Fit, Observation, count},
};

/// The median of all slopes between two points.
#[derive(Clone, Debug, PartialEq)]
pub struct TheilSen {
    /// It, in mm per hour.
    pub rate: f64,
    /// Where the line meets x = 0: the median of y − rate·x.
    pub intercept: f64,
    /// The interval's ends.
    pub low: f64,
    /// The interval's ends.
    pub high: f64,
    /// How sure the interval is: at least what was asked for. Exact without ties for up to fifty
    /// points, beyond that by the normal approximation.
    pub confidence: f64,
    /// How many slopes.
    pub slopes: usize,
}

/// What the second opinion says about a fit.
#[derive(Clone, Debug, PartialEq)]
pub struct SecondOpinion {
    /// The second line, of the newest segment's readings with two ends.
    pub line: TheilSen,
    /// Whether the fit's rate lies in its interval, or its own rate in the fit's. Readings on leaf
    /// steps tie, and ties make this interval narrower than it should be.
    pub agrees: bool,
    /// Readings far from the second line, by their place among the station's observations; those
    /// that may have swayed the fit.
    pub apart: Vec<usize>,
}

/// From more points the exact distribution is the normal one to all digits that matter.
const EXACT_MOST: usize = 50;
/// The newest so many readings count: all slopes between them take time with their square.
const MOST: usize = 300;
/// How sure the second opinion is of its own interval.
const CONFIDENCE: f64 = 0.95;
/// So many robust standard deviations from the line are far.
const FAR: f64 = 3.0;
/// A normal distribution's standard deviation over the median of its absolute deviations.
const PER_MEDIAN: f64 = 1.4826;

impl TheilSen {
    /// The line through points, with an interval at least as sure as `confidence` where there are
    /// enough slopes for one.
    ///
    /// *Estimates* the slope by the median of all (yⱼ − yᵢ)/(xⱼ − xᵢ). *Assumes* errors of one
    /// distribution, not normal ones. The interval runs from the M-th smallest to the M-th largest
    /// slope; its confidence is 1 − 2·P(K < M), where K, the number of discordant pairs, has
    /// Kendall's distribution: counted exactly for up to fifty points, beyond that normal with
    /// variance n(n − 1)(2n + 5)/72. *Stops being exact* with ties. *Reference:* Sen, J. Am. Stat.
    /// Assoc. 63 (1968) 1379; Kendall, Biometrika 30 (1938) 81.
    ///
    /// `None` for fewer than two points with different x, or unless 0 < confidence < 1.
    pub fn of(points: &[(f64, f64)], confidence: f64) -> Option<Self> {
        if !(0.0 < confidence && confidence < 1.0) {
            return None;
        }
        let mut slopes = Vec::with_capacity(points.len() * points.len().saturating_sub(1) / 2);
        for (place, (x, y)) in points.iter().enumerate() {
            for (later_x, later_y) in points.iter().skip(place + 1) {
                let run = later_x - x;
                if run != 0.0 {
                    slopes.push((later_y - y) / run);
                }
            }
        }
        slopes.sort_unstable_by(f64::total_cmp);
        let rate = median(&slopes)?;
        let mut left: Vec<f64> = points.iter().map(|(x, y)| y - rate * x).collect();
        left.sort_unstable_by(f64::total_cmp);
        let (depth, confidence) = depth(points.len(), slopes.len(), confidence);
        let low = slopes.get(depth - 1).copied()?;
        let high = slopes.get(slopes.len() - depth).copied()?;
        let intercept = median(&left)?;
        Some(Self { rate, intercept, low, high, confidence, slopes: slopes.len() })
    }
}

/// Which slope from either end bounds the interval, and how sure that is.
fn depth(n: usize, slopes: usize, confidence: f64) -> (usize, f64) {
    let most = slopes.div_ceil(2).max(1);
    if n <= EXACT_MOST {
        let shares = discordant_shares(n);
        let (mut tail, mut found) = (0.0, (1, 0.0));
        for (depth, share) in (1..=most).zip(shares) {
            tail += share;
            let sure = 1.0 - 2.0 * tail;
            // The outermost slopes are all there is, sure enough or not.
            if depth == 1 || confidence <= sure {
                found = (depth, sure.max(0.0));
            }
            if sure < confidence {
                break;
            }
        }
        return found;
    }
    let (n, all) = (count(n), count(slopes));
    let deviation = (n * (n - 1.0) * (2.0 * n + 5.0) / 72.0).sqrt();
    let z = normal_quantile(f64::midpoint(1.0, confidence)).unwrap_or(0.0);
    let outside = (all / 2.0 - z * deviation).floor().max(1.0);
    // Counting down to it keeps whole numbers whole.
    let depth = (1..=most).rev().find(|&it| count(it) <= outside).unwrap_or(1);
    (depth, confidence)
}

/// P(K = 0), P(K = 1), …: shares of all orders of n things that have so many discordant pairs.
fn discordant_shares(n: usize) -> Vec<f64> {
    let mut shares = vec![1.0];
    for things in 2..=n {
        // A new thing adds from 0 up to `things − 1` discordant pairs, each as likely.
        let mut next = vec![0.0; shares.len() + things - 1];
        for (pairs, share) in shares.iter().enumerate() {
            for sum in next.iter_mut().skip(pairs).take(things) {
                *sum += share / count(things);
            }
        }
        shares = next;
    }
    shares
}

fn median(sorted: &[f64]) -> Option<f64> {
    let middle = sorted.len() / 2;
    let upper = sorted.get(middle).copied()?;
    if sorted.len() % 2 == 1 {
        return Some(upper);
    }
    Some(f64::midpoint(sorted.get(middle - 1).copied()?, upper))
}

impl SecondOpinion {
    /// About the newest segment of a fit; `None` while it has fewer than three readings with two
    /// ends.
    pub(crate) fn of(observations: &[Observation], fit: &Fit) -> Option<Self> {
        let newest = fit.segments.last()?.index;
        let closed = observations.iter().enumerate().filter(|(_, it)| it.segment == newest);
        let mut closed: Vec<(usize, f64, f64, f64)> = closed
            .filter_map(|(place, it)| {
                let (low, high) = it.low.zip(it.high)?;
                Some((place, it.x, f64::midpoint(low, high), high - low))
            })
            .collect();
        let spare = closed.len().saturating_sub(MOST);
        closed.drain(..spare);
        if closed.len() < 3 {
            return None;
        }
        let points: Vec<(f64, f64)> = closed.iter().map(|&(_, x, y, _)| (x, y)).collect();
        let line = TheilSen::of(&points, CONFIDENCE)?;
        let off = |x: f64, y: f64| (y - line.intercept - line.rate * x).abs();
        let mut sizes: Vec<f64> = points.iter().map(|&(x, y)| off(x, y)).collect();
        sizes.sort_unstable_by(f64::total_cmp);
        let deviation = PER_MEDIAN * median(&sizes)?;
        let apart = closed
            .iter()
            .filter(|&&(_, x, y, width)| FAR * deviation.max(width / 12.0_f64.sqrt()) < off(x, y))
            .map(|(place, ..)| *place)
            .collect();
        let reach = fit.factor(CONFIDENCE)? * fit.mean.rate_var.sqrt();
        let agrees = (line.low <= fit.rate() && fit.rate() <= line.high)
            || (line.rate - fit.rate()).abs() <= reach;
        Some(Self { line, agrees, apart })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_points_have_one_slope_and_one_hour_none() {
        let two = TheilSen::of(&[(0.0, 1.0), (2.0, 2.0)], 0.8).unwrap();
        assert_eq!((two.rate, two.low, two.high, two.slopes), (0.5, 0.5, 0.5, 1));
        assert!(two.confidence < 1e-12, "one slope is no interval");
        assert_eq!(TheilSen::of(&[(1.0, 1.0), (1.0, 2.0)], 0.8), None);
        assert_eq!(TheilSen::of(&[(0.0, 1.0), (2.0, 2.0)], 1.0), None);
    }

    #[test]
    fn one_wild_reading_in_eight_sways_nobody() {
        let mut points: Vec<(f64, f64)> =
            (0..8_u8).map(f64::from).map(|x| (x, 0.5 * x + 0.01 * (x * 2.0).sin())).collect();
        let calm = TheilSen::of(&points, 0.9).unwrap();
        points[7].1 = 40.0;
        let wild = TheilSen::of(&points, 0.9).unwrap();
        assert!((wild.rate - calm.rate).abs() < 0.02, "{wild:?}");
    }

    /// Sixty points by either route: the approximation is that of the exact count.
    #[test]
    fn the_normal_approximation_takes_over_where_it_is_as_good() {
        let shares = discordant_shares(60);
        assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        let (depth, _) = depth(60, 60 * 59 / 2, 0.95);
        let tail: f64 = shares.iter().take(depth).sum();
        assert!((1.0 - 2.0 * tail - 0.95).abs() < 0.002, "{tail}");
    }
}
