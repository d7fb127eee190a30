//! Which stack to try next, so that a verdict takes the fewest insertions.
//!
//! Knows what leaves can be stacked, what is known of the gap so far, and what the trend expects.
//! Does not know when to stop: that is whoever holds the verdict.

use crate::domain::{
    gauge::{Bracket, LeafSet, Stack},
    machine::Limits,
    quantity::Length,
    verdict::Prior,
};

/// The stack to try next at blades as warm as they are; `None` if the set has none between what
/// goes and what does not.
///
/// `known` is what was felt so far, with an open end as long as nothing stuck, and `shift` carries
/// it to 20 °C, where the limits and `prior` stand.
///
/// A verdict is uncertain as long as limits lie between what goes and what does not. The measure
/// of that uncertainty is how many more insertions an ideal set would need on average to part the
/// zones between those limits: an optimal search tree over zones as likely as we believe them to
/// be. It is taken instead of the entropy because a good prediction leaves no entropy, and yet
/// nobody has measured anything. Each stack splits the zones in two; the one after which least is
/// expected to be left wins. Of stacks nearly as good the one of the fewest leaves wins, and of
/// those the one whose outcome is most open, which tells most about the gap itself.
pub fn next_leaf(
    set: &LeafSet,
    known: Bracket,
    shift: Length,
    limits: &Limits,
    prior: Option<Prior>,
) -> Option<Stack> {
    let belief = Belief::new(limits, prior);
    let above = set.made().partition_point(|stack| stack.thickness <= known.go());
    let below = known.no_go().map_or(set.made().len(), |no_go| {
        set.made().partition_point(|stack| stack.thickness < no_go)
    });
    let open = set.made().get(above..below)?;
    let search = Search::new(known.shifted(shift), limits, belief);
    let left: Vec<Left> =
        open.iter().map(|stack| search.left_after(stack.thickness + shift)).collect();
    let least = left.iter().map(|it| it.insertions).min_by(f64::total_cmp)?;
    let good = least + TIE * search.total();
    open.iter()
        .zip(&left)
        .filter(|(_, left)| left.insertions <= good)
        .min_by(|(a, of_a), (b, of_b)| {
            let fewest = a.leaves.cmp(&b.leaves);
            fewest.then_with(|| of_b.balance.total_cmp(&of_a.balance))
        })
        .map(|(stack, _)| *stack)
}

/// Stacks that differ by less than this share of an insertion are equally good.
const TIE: f64 = 0.02;

/// How often a prediction is wrong altogether: a design value. It keeps an answer that nobody
/// expected from leaving nothing to believe.
const ASTRAY: f64 = 0.05;

/// What is believed of a gap: what the trend expects, or, in case that is astray, anywhere about
/// the working limits, two thirds of it inside.
struct Belief {
    prior: Option<Prior>,
    wide: Option<Prior>,
}

impl Belief {
    fn new(limits: &Limits, prior: Option<Prior>) -> Self {
        let band = limits.working();
        Self { prior, wide: Prior::new(band.middle().mm(), (band.max - band.min).half().mm()) }
    }

    /// The share believed above `x`; the upper side keeps its digits where gaps grow.
    fn above(&self, x: Length) -> f64 {
        let above = |it: &Prior| it.above(x.mm());
        let wide = self.wide.as_ref().map_or(0.0, above);
        match &self.prior {
            Some(prior) => (1.0 - ASTRAY) * prior.above(x.mm()) + ASTRAY * wide,
            None => wide,
        }
    }
}

/// What one stack would leave.
struct Left {
    /// Insertions still expected, times the share believed in.
    insertions: f64,
    /// The smaller of the shares believed on either side.
    balance: f64,
}

/// Limits that are still open, with what is believed above each.
struct Search {
    belief: Belief,
    /// From the smallest, none twice.
    limits: Vec<(Length, f64)>,
    /// The share believed above what goes and above what does not.
    ends: (f64, f64),
}

impl Search {
    fn new(known: Bracket, limits: &Limits, belief: Belief) -> Self {
        let (working, stop) = (limits.working(), limits.stop());
        let mut open = vec![stop.min, working.min, working.max, stop.max];
        open.dedup();
        open.retain(|limit| {
            known.go() < *limit && known.no_go().is_none_or(|no_go| *limit < no_go)
        });
        let ends = (belief.above(known.go()), known.no_go().map_or(0.0, |it| belief.above(it)));
        let limits = open.into_iter().map(|limit| (limit, belief.above(limit))).collect();
        Self { belief, limits, ends }
    }

    fn total(&self) -> f64 {
        self.ends.0 - self.ends.1
    }

    fn left_after(&self, stack: Length) -> Left {
        let (whole, rest) = self.ends;
        let beyond = self.belief.above(stack);
        let (mut lower, mut upper) = (Zones::from(whole), Zones::from(beyond));
        for (limit, above) in &self.limits {
            if *limit < stack {
                lower.cut(*above);
            } else if stack < *limit {
                upper.cut(*above);
            }
        }
        lower.cut(beyond);
        upper.cut(rest);
        Left {
            insertions: insertions(lower.shares()) + insertions(upper.shares()),
            balance: (whole - beyond).min(beyond - rest),
        }
    }
}

/// Four limits part at most five zones.
const ZONES: usize = 5;

/// The shares of neighbouring zones, from the tightest.
struct Zones {
    shares: [f64; ZONES],
    count: usize,
    above: f64,
}

impl Zones {
    const fn from(above: f64) -> Self {
        Self { shares: [0.0; ZONES], count: 0, above }
    }

    /// Ends a zone where `above` is believed to lie beyond.
    fn cut(&mut self, above: f64) {
        if let Some(share) = self.shares.get_mut(self.count) {
            *share = (self.above - above).max(0.0);
            self.count += 1;
            self.above = above;
        }
    }

    fn shares(&self) -> &[f64] {
        self.shares.get(..self.count).unwrap_or_default()
    }
}

/// The least number of insertions that parts these zones, each weighted with its share: the cost
/// of an optimal alphabetic tree, by trying every first cut.
fn insertions(shares: &[f64]) -> f64 {
    if shares.len() < 2 {
        return 0.0;
    }
    let all: f64 = shares.iter().sum();
    let parted = |at: usize| {
        let (lower, upper) = shares.split_at(at);
        insertions(lower) + insertions(upper)
    };
    let best = (1..shares.len()).map(parted).min_by(f64::total_cmp);
    all + best.unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{gauge::Usual, machine::Band};
    use proptest::prelude::*;

    fn um(um: i64) -> Length {
        Length::from_um(um)
    }

    fn limits() -> Limits {
        Limits::new(
            Band::from_um(300, 500),
            Band::from_um(200, 1_250),
            Band::from_um(100, 1_600),
            Length::ZERO,
            um(200),
            "test".into(),
        )
        .unwrap()
    }

    #[track_caller]
    fn tries(go: i64, no_go: Option<i64>, prior: Option<(f64, f64)>, expected: Option<i64>) {
        let set = Usual::MetricTen.set().unwrap();
        let known = Bracket::new(um(go), no_go.map(um)).unwrap();
        let prior = prior.and_then(|(mean, sd)| Prior::new(mean, sd));
        let next = next_leaf(&set, known, Length::ZERO, &limits(), prior);
        assert_eq!(next.map(|it| it.thickness.nm() / 1_000), expected, "{go}–{no_go:?}");
    }

    #[test]
    fn a_gap_that_nobody_foresaw_is_parted_at_its_limits() {
        tries(0, None, None, Some(1_250));
        tries(0, Some(1_250), None, Some(200));
        tries(1_250, None, None, Some(1_600));
        tries(0, Some(200), None, Some(100));
    }

    #[test]
    fn far_from_limits_one_leaf_on_either_side_of_the_expected_gap_is_enough() {
        let foreseen = Some((0.45, 0.03));
        // 0.45 itself would tell most, but takes two leaves.
        tries(0, None, foreseen, Some(500));
        tries(0, Some(500), foreseen, Some(300));
        tries(500, None, foreseen, Some(1_250));
    }

    #[test]
    fn near_a_limit_the_stack_on_the_limit_comes_first() {
        tries(0, None, Some((1.24, 0.03)), Some(1_250));
        tries(0, None, Some((0.21, 0.02)), Some(200));
    }

    #[test]
    fn an_answer_that_nobody_foresaw_sends_back_to_the_limits() {
        tries(750, None, Some((0.45, 0.03)), Some(1_250));
    }

    #[test]
    fn where_no_stack_lies_between_there_is_none_to_try() {
        tries(550, Some(600), None, None);
        tries(550, Some(550), None, None);
        tries(2_300, None, None, None);
    }

    /// Blades 36 µm closer than cold: the limit of 1.25 is felt at 1.214, and 1.20 comes next.
    #[test]
    fn between_warm_blades_the_limits_are_felt_where_warmth_moved_them() {
        let set = Usual::MetricTen.set().unwrap();
        let known = Bracket::new(um(1_150), Some(um(1_300))).unwrap();
        let next = |shift| next_leaf(&set, known, shift, &limits(), None).unwrap().thickness;
        assert_eq!(next(Length::ZERO), um(1_250));
        assert_eq!(next(um(50)), um(1_200));
    }

    #[test]
    fn zones_are_parted_by_the_best_tree() {
        let close = |shares: &[f64], expected: f64| {
            assert!((insertions(shares) - expected).abs() < 1e-12, "{shares:?}");
        };
        close(&[1.0], 0.0);
        close(&[0.0, 1.0, 0.0], 2.0);
        close(&[0.5, 0.25, 0.25], 1.5);
        close(&[0.25; 4], 2.0);
    }

    proptest! {
        #[test]
        fn what_is_tried_can_still_tell_something(
            go in 0_i64..2_500, width in prop::option::of(0_i64..600), shift in -100_i64..100,
            mean in -1.0..3.0_f64, sd in 1e-9..1.0_f64,
        ) {
            let set = Usual::InchTwenty.set().unwrap();
            let no_go = width.map(|width| um(go + width));
            let known = Bracket::new(um(go), no_go).unwrap();
            let next = next_leaf(&set, known, um(shift), &limits(), Prior::new(mean, sd));
            let between = |it: Length| known.go() < it && no_go.is_none_or(|no_go| it < no_go);
            match next {
                Some(stack) => prop_assert!(between(stack.thickness)),
                None => prop_assert!(!set.stacks().any(between)),
            }
        }
    }
}
