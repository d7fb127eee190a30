//! The verdict on a reading with its uncertainty.
//!
//! Whole numbers speak first: what the two stacks prove stands. Only where they leave a limit
//! open is it weighed how likely the gap lies on either side.

use crate::domain::{
    gauge::Bracket,
    machine::Limits,
    verdict::{Chance, Cold, Prior, Verdict, VerdictKind, Way, Zone, judge},
    yard::{Rule, Tolerance},
};

/// Judges a reading at 20 °C: first by whole numbers, then by the yard's rule.
///
/// `prior` is what the trend expects. Where the reading has an open end it gives a chance to tell,
/// but settles nothing: a jaw that has spread since would be passed by what it used to be.
pub fn weigh(
    cold: &Cold,
    limits: &Limits,
    soon: Option<Way>,
    tolerance: Tolerance,
    prior: Option<Prior>,
) -> Verdict {
    let proven = judge(cold.bracket, limits, soon);
    let working = Chance::of(cold, limits.working(), prior);
    let verdict = Verdict { chance: working, ..proven };
    if verdict.kind() != VerdictKind::Undecided {
        return verdict;
    }
    let Some(middle) = cold.bracket.middle() else { return verdict };
    let (tightest, widest) = match tolerance.rule() {
        Rule::Simple => {
            let there = judge(Bracket::exactly(middle), limits, None);
            (there.tightest, there.widest)
        }
        Rule::Guarded => {
            let stop = Chance::of(cold, limits.stop(), None);
            let Some((working, stop)) = working.zip(stop) else { return verdict };
            likely(working, stop, tolerance.conformity())
        }
    };
    let (tightest, widest) = (tightest.max(proven.tightest), widest.min(proven.widest));
    // Each limit by itself may be met surely enough and both together not.
    let sure = |chance: Chance| tolerance.conformity() <= chance.within;
    let inside = tightest.severity() == 0 && widest.severity() == 0;
    let enough = tolerance.rule() == Rule::Simple || working.is_some_and(sure);
    if widest < tightest || (inside && !enough) {
        return verdict;
    }
    Verdict { chance: working, ..Verdict::between(tightest, widest, limits, soon) }
}

/// The zones left when what is too unlikely is taken away at both ends.
fn likely(working: Chance, stop: Chance, conformity: f64) -> (Zone, Zone) {
    let unlikely = 1.0 - conformity;
    let tightest = if conformity <= stop.above {
        Zone::StopWide
    } else if conformity <= working.above {
        Zone::TooWide
    } else if working.below <= unlikely {
        Zone::WorkingTight
    } else if stop.below <= unlikely {
        Zone::TooTight
    } else {
        Zone::StopTight
    };
    let widest = if conformity <= stop.below {
        Zone::StopTight
    } else if conformity <= working.below {
        Zone::TooTight
    } else if working.above <= unlikely {
        Zone::WorkingWide
    } else if stop.above <= unlikely {
        Zone::TooWide
    } else {
        Zone::StopWide
    };
    (tightest, widest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{gauge::Hand, machine::Band, quantity::Length};
    use proptest::prelude::*;

    fn limits() -> Limits {
        Limits::new(
            Band::from_um(300, 500),
            Band::from_um(200, 1_250),
            Band::from_um(100, 1_600),
            Length::ZERO,
            Length::from_um(200),
            "test".into(),
        )
        .unwrap()
    }

    fn felt(go: i64, no_go: Option<i64>, sigma_mm: f64) -> Cold {
        let bracket = Bracket::new(Length::from_um(go), no_go.map(Length::from_um)).unwrap();
        Cold::taken_cold(bracket, [0.0; 2], Hand { sigma_mm, dof: None })
    }

    fn simple() -> Tolerance {
        Tolerance::new(0.95, Rule::Simple).unwrap()
    }

    #[track_caller]
    fn check(cold: &Cold, tolerance: Tolerance, expected: VerdictKind) {
        let verdict = weigh(cold, &limits(), None, tolerance, None);
        assert_eq!(verdict.kind(), expected, "{cold:?}: {verdict:?}");
        let undecided = verdict.kind() == VerdictKind::Undecided;
        assert_eq!(verdict.undecided_at.is_some(), undecided, "{verdict:?}");
    }

    #[test]
    fn what_whole_numbers_leave_open_is_settled_where_one_side_is_likely_enough() {
        let guarded = Tolerance::default();
        // 1.250 lies 2 of 50 µm below the upper stack, then 10.
        check(&felt(1_202, Some(1_252), 0.0), guarded, VerdictKind::Working);
        check(&felt(1_210, Some(1_260), 0.0), guarded, VerdictKind::Undecided);
        check(&felt(1_248, Some(1_298), 0.0), guarded, VerdictKind::Too(Way::Wide));
        check(&felt(198, Some(248), 0.0), guarded, VerdictKind::Working);
        check(&felt(1_598, Some(1_648), 0.0), guarded, VerdictKind::Stop(Way::Wide));
        check(&felt(52, Some(102), 0.0), guarded, VerdictKind::Stop(Way::Tight));
        check(&felt(1_000, None, 0.0), guarded, VerdictKind::Undecided);
        // The same stacks by a hand that scatters 10 µm prove nothing.
        check(&felt(1_202, Some(1_252), 0.010), guarded, VerdictKind::Undecided);
        // What the stacks alone prove stands, however the hand scatters; its chance is told.
        let proven = felt(1_200, Some(1_250), 0.040);
        check(&proven, guarded, VerdictKind::Working);
        let chance = weigh(&proven, &limits(), None, guarded, None).chance.unwrap();
        assert!(chance.within < 0.75, "{chance:?}");
    }

    #[test]
    fn by_the_simple_rule_the_middle_decides_and_on_the_limit_it_is_inside() {
        check(&felt(1_210, Some(1_260), 0.0), simple(), VerdictKind::Working);
        check(&felt(1_225, Some(1_275), 0.0), simple(), VerdictKind::Working);
        check(&felt(1_226, Some(1_276), 0.0), simple(), VerdictKind::Too(Way::Wide));
        check(&felt(1_000, None, 0.0), simple(), VerdictKind::Undecided);
    }

    #[test]
    fn a_limit_that_is_settled_no_longer_counts_as_the_worse_end() {
        // 8 of 408 µm lie beyond the stop limit: 2 %.
        let verdict =
            weigh(&felt(1_200, Some(1_608), 0.0), &limits(), None, Tolerance::default(), None);
        assert_eq!((verdict.kind(), verdict.worst()), (VerdictKind::Undecided, Zone::TooWide));
        assert_eq!(verdict.undecided_at, Some(Length::from_um(1_250)));
    }

    /// ISO 14253-1:2017: proven inside up to 1.65 u from the limit, proven outside from 1.65 u on,
    /// nothing in between. The factor was read in copies that quote it; 1.6449 is exact.
    #[test]
    fn an_exact_reading_has_the_guard_bands_of_the_standard() {
        let u_um = 20;
        let at = |off: i64| {
            let cold = felt(1_250 + off, Some(1_250 + off), 0.020);
            let chance = Chance::of(&cold, limits().working(), None).unwrap();
            let conformity = Tolerance::default().conformity();
            (conformity <= chance.within, conformity <= chance.above)
        };
        let guard = u_um * 165 / 100;
        assert_eq!(at(-guard), (true, false));
        assert_eq!(at(1 - guard), (false, false), "1.60 u is not enough");
        assert_eq!(at(guard - 1), (false, false));
        assert_eq!(at(guard), (false, true));
    }

    #[test]
    fn a_trend_gives_an_open_end_its_chance_and_settles_nothing() {
        let open = felt(400, None, 0.004);
        let by = |prior| weigh(&open, &limits(), None, Tolerance::default(), prior);
        let foreseen = by(Prior::new(0.45, 0.03));
        assert_eq!(foreseen.kind(), VerdictKind::Undecided);
        assert!(0.999 < foreseen.chance.unwrap().within);
        assert_eq!(by(None).chance, None);
    }

    proptest! {
        /// What is proven by whole numbers is never overruled, and no verdict claims a side that is
        /// less likely than it must be.
        #[test]
        fn weighing_only_ever_narrows(
            go in 0_i64..2_000, width in 0_i64..400, sigma_um in 0_u8..40,
        ) {
            let cold = felt(go, Some(go + width), f64::from(sigma_um) / 1e3);
            let proven = judge(cold.bracket, &limits(), None);
            for tolerance in [Tolerance::default(), simple()] {
                let verdict = weigh(&cold, &limits(), None, tolerance, None);
                prop_assert!(proven.tightest <= verdict.tightest);
                prop_assert!(verdict.widest <= proven.widest);
                prop_assert!(verdict.tightest <= verdict.widest);
                if proven.kind() != VerdictKind::Undecided {
                    prop_assert_eq!(proven.kind(), verdict.kind());
                } else if tolerance.rule() == Rule::Guarded && verdict.tightest.severity() == 0
                    && verdict.widest.severity() == 0
                {
                    prop_assert!(0.95 <= verdict.chance.unwrap().within);
                }
            }
        }
    }
}
