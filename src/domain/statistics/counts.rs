//! How many: the distribution of a count, and of sums of independent counts.

/// The probability of none, one, two and so on; they add up to one.
#[derive(Clone, Debug, PartialEq)]
pub struct Counts(Vec<f64>);

impl Counts {
    /// Surely so many.
    pub fn surely(count: usize) -> Self {
        let mut shares = vec![0.0; count];
        shares.push(1.0);
        Self(shares)
    }

    /// From cases that are equally likely; none of them is surely nothing.
    pub fn from_cases(cases: &[usize]) -> Self {
        let Some(most) = cases.iter().max() else { return Self::surely(0) };
        let mut tally = vec![0.0; most + 1];
        for case in cases {
            if let Some(here) = tally.get_mut(*case) {
                *here += 1.0;
            }
        }
        let all: f64 = tally.iter().sum();
        Self(tally.into_iter().map(|count| count / all).collect())
    }

    /// The sum of two counts that do not depend on each other, exactly.
    ///
    /// Summed over things that happen once or never, this is the Poisson binomial distribution.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        let mut sum = vec![0.0; self.0.len() + other.0.len() - 1];
        for (one, p) in self.0.iter().enumerate() {
            for (two, q) in other.0.iter().enumerate() {
                if let Some(place) = sum.get_mut(one + two) {
                    *place += p * q;
                }
            }
        }
        Self(sum)
    }

    /// So many times the count, such as four bolts a blade.
    #[must_use]
    pub fn times(&self, factor: usize) -> Self {
        if factor == 0 {
            return Self::surely(0);
        }
        let mut spread = vec![0.0; (self.0.len() - 1) * factor + 1];
        for (place, share) in spread.iter_mut().step_by(factor).zip(&self.0) {
            *place = *share;
        }
        Self(spread)
    }

    /// The smallest count that is enough with probability `share`.
    pub fn enough(&self, share: f64) -> usize {
        let mut sum = 0.0;
        for (count, p) in self.0.iter().enumerate() {
            sum += p;
            // Twelve digits: shares that add up to one exactly on paper do so here.
            if share <= sum + 1e-12 {
                return count;
            }
        }
        self.0.len() - 1
    }

    /// The mean.
    pub fn mean(&self) -> f64 {
        self.0.iter().zip(0_u32..).map(|(p, count)| p * f64::from(count)).sum()
    }

    /// The probability of more than `count`.
    pub fn beyond(&self, count: usize) -> f64 {
        self.0.iter().skip(count.saturating_add(1)).sum()
    }
}

/// Every outcome of five things that happen or not, written out.
#[test]
fn a_sum_of_chances_is_what_writing_out_every_outcome_gives() {
    let chances = [0.9, 0.35, 0.5, 0.02, 0.61];
    let sum = chances.iter().fold(Counts::surely(0), |sum, p| sum.plus(&Counts(vec![1.0 - p, *p])));
    let mut written = [0.0; 6];
    for outcome in 0_u32..32 {
        let p: f64 = chances
            .iter()
            .enumerate()
            .map(|(place, p)| if outcome >> place & 1 == 1 { *p } else { 1.0 - p })
            .product();
        written[usize::try_from(outcome.count_ones()).unwrap()] += p;
    }
    assert!(sum.0.iter().zip(written).all(|(one, other)| (one - other).abs() < 1e-15));
    let below = |count: usize| written[..=count].iter().sum::<f64>();
    let enough = (0..6).find(|count| 0.8 <= below(*count)).unwrap();
    assert_eq!((enough, sum.enough(0.8)), (3, 3));
    assert!((sum.mean() - chances.iter().sum::<f64>()).abs() < 1e-12);
    assert!((sum.beyond(3) - (1.0 - below(3))).abs() < 1e-12);
}

#[test]
fn a_share_reached_exactly_is_enough() {
    let cases = Counts::from_cases(&[0, 0, 0, 0, 1]);
    assert_eq!(cases.enough(0.8), 0, "four cases in five need none");
    assert_eq!(cases.enough(0.81), 1);
    assert_eq!(cases.times(4).enough(0.81), 4);
    assert_eq!(Counts::from_cases(&[]).enough(1.0), 0);
    assert_eq!(Counts::surely(2).plus(&Counts::surely(3)).enough(0.8), 5);
}
