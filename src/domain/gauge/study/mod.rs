//! The gauge study: how much of what is measured is the measuring itself.
//!
//! Some people measure the same gaps several times without looking at each other's readings. What
//! differs within one person's readings of one gap is the hand, what differs between people is the
//! people, and the rest is the gaps. Two methods part them: averages and ranges, which can be
//! followed on paper, and the analysis of variance. Both are those of the reference manual
//! *Measurement Systems Analysis* of the AIAG (4th edition, 2010), whose symbols are used: EV
//! repeatability (equipment), AV reproducibility (appraisers), GRR both together, PV part to part,
//! TV total. Standard deviations, in millimetres.
//!
//! Knows readings and arithmetic; does not know files, or which gaps were measured.

use crate::domain::quantity::whole;

mod anova;
mod factors;
mod freedom;
mod holes;
mod ranges;
mod table;

pub use anova::{Anova, FTest, Model, Source, Term};
pub use factors::{Factor, FactorSource};
pub use ranges::Ranges;
pub use table::{Hole, Label, Span, StudyReading, Table, Twice, Unbalanced};

/// What a study found, by both methods.
#[derive(Clone, Debug, PartialEq)]
pub struct Study {
    /// By averages and ranges.
    pub ranges: Ranges,
    /// By the analysis of variance.
    pub anova: Anova,
}

impl Study {
    /// Takes a full table apart.
    pub fn of(table: &Table) -> Self {
        Self { ranges: Ranges::of(table), anova: Anova::of(table) }
    }
}

/// Standard deviations in millimetres; `None` where the table cannot tell.
///
/// One person says nothing about people, one trial nothing about repeating, one part nothing about
/// parts. GRR then holds what is known of it, and a total needs both GRR and PV.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Components {
    /// Repeatability: the same person, the same part, again.
    pub ev: Option<f64>,
    /// Reproducibility: another person.
    pub av: Option<f64>,
    /// People differ more on some parts than on others; only the analysis of variance sees it.
    pub interaction: Option<f64>,
    /// All that measuring adds.
    pub grr: Option<f64>,
    /// What the parts themselves differ.
    pub pv: Option<f64>,
    /// Everything.
    pub tv: Option<f64>,
}

/// Distinct categories per ratio of PV to GRR: 97 % intervals that do not overlap, √2 in the
/// rounding of the AIAG manual.
const CATEGORIES: f64 = 1.41;

/// How large a share of the spread measuring may be: AIAG, Measurement Systems Analysis, 4th
/// edition, rules of thumb for GRR in percent of the total (10 % and 30 %), and for *ndc* (5).
const GOOD_SHARE: f64 = 0.10;
const FAIR_SHARE: f64 = 0.30;
/// So many groups of parts are asked for.
pub const GROUPS_ASKED: i64 = 5;

/// Two readings of one gap differ by more than this many σ once in twenty: 1.96·√2, printed as 2.8
/// in ISO 5725-6.
const CRITICAL_DIFFERENCE: f64 = 1.959_963_984_540_054 * std::f64::consts::SQRT_2;

/// What a study says about measuring as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// GRR is under 10 % of the spread, and five groups can be told apart.
    Good,
    /// From 10 % up to and with 30 %, or fewer groups.
    Fair,
    /// Over 30 %.
    Poor,
}

impl Components {
    /// What they say about measuring as a whole; `None` where the share is not known.
    pub fn grade(&self) -> Option<Grade> {
        // Readings that all agree show how coarse the leaves are, and not how good the hand is.
        let share = self.share(self.grr).filter(|share| 0.0 < *share)?;
        let enough = self.ndc().is_none_or(|ndc| GROUPS_ASKED <= ndc);
        Some(if FAIR_SHARE < share {
            Grade::Poor
        } else if share < GOOD_SHARE && enough {
            Grade::Good
        } else {
            Grade::Fair
        })
    }

    /// The largest difference of two readings of one gap that is no surprise, in millimetres: in
    /// nineteen pairs of twenty it is smaller. Needs normal scatter. *Reference:* ISO 5725-6.
    pub fn least_change(&self) -> Option<f64> {
        Some(CRITICAL_DIFFERENCE * self.grr?)
    }

    /// The total and the variation of measuring, where parts are known.
    pub(crate) fn with_totals(mut self, grr_variance: Option<f64>) -> Self {
        self.grr = grr_variance.map(f64::sqrt);
        self.tv = self.grr.zip(self.pv).map(|(grr, pv)| grr.hypot(pv));
        self
    }

    /// The part of the total spread that a standard deviation is, from 0 to 1.
    ///
    /// Shares of standard deviations do not add up to 1; their squares do. `None` without a total
    /// or where nothing differs at all.
    pub fn share(&self, sigma: Option<f64>) -> Option<f64> {
        let (sigma, total) = sigma.zip(self.tv)?;
        (0.0 < total).then(|| sigma / total)
    }

    /// How many groups of parts can be told apart, before truncation.
    ///
    /// `None` if parts or measuring are not known, and where measuring does not scatter at all.
    pub fn categories(&self) -> Option<f64> {
        let (grr, pv) = self.grr.zip(self.pv)?;
        (0.0 < grr).then(|| CATEGORIES * pv / grr)
    }

    /// The same as a whole number, truncated as the manual does (*ndc*).
    pub fn ndc(&self) -> Option<i64> {
        whole(self.categories()?.trunc())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::quantity::Length;
    use proptest::prelude::*;

    fn um(um: i64) -> Span {
        Span::exactly(Length::from_um(um)).unwrap()
    }

    /// A table of parts × people × trials from a function of their numbers, in µm.
    fn table(sizes: [usize; 3], value: impl Fn([usize; 3]) -> i64) -> Table {
        let mut readings = Vec::new();
        for part in 0..sizes[0] {
            for person in 0..sizes[1] {
                for trial in 0..sizes[2] {
                    readings.push(StudyReading {
                        part: format!("part {part}"),
                        person: format!("person {person}"),
                        trial: format!("{trial}"),
                        value: Some(um(value([part, person, trial]))),
                    });
                }
            }
        }
        Table::balanced(&readings).0.unwrap()
    }

    #[test]
    fn one_person_says_nothing_about_people() {
        let study = Study::of(&table([5, 1, 3], |[part, _, trial]| {
            i64::try_from(100 * part + 10 * trial).unwrap()
        }));
        for it in [study.ranges.components, study.anova.chosen().components] {
            assert_eq!((it.av, it.interaction), (None, None));
            assert_eq!(it.grr, it.ev, "all that is known of measuring is the hand");
            assert!(it.tv.is_some() && it.ndc().is_some());
        }
        assert!((study.anova.chosen().components.ev.unwrap() - 0.01).abs() < 1e-15);
    }

    #[test]
    fn one_trial_says_nothing_about_repeating() {
        let study = Study::of(&table([4, 3, 1], |[part, person, _]| {
            i64::try_from(100 * part + 10 * person + (part * person) % 3).unwrap()
        }));
        let ranges = study.ranges.components;
        assert_eq!((ranges.ev, ranges.av, ranges.grr, ranges.tv), (None, None, None, None));
        assert!(ranges.pv.is_some());
        let model = study.anova.chosen();
        assert_eq!((model.components.ev, model.components.interaction), (None, None));
        assert!(model.unparted.is_some() && model.components.av.is_some());
        assert!(model.components.grr.unwrap() > model.unparted.unwrap(), "both are in it");
        assert_eq!((study.anova.pools(), study.anova.ev_interval), (false, None));
    }

    #[test]
    fn one_part_says_nothing_about_parts() {
        let study = Study::of(&table([1, 3, 3], |[_, person, trial]| {
            i64::try_from(50 * person + 10 * trial).unwrap()
        }));
        for it in [study.ranges.components, study.anova.chosen().components] {
            assert_eq!((it.pv, it.tv, it.ndc(), it.share(it.ev)), (None, None, None, None));
            assert!(it.ev.is_some() && it.av.is_some() && it.grr.is_some());
        }
    }

    #[test]
    fn ten_and_thirty_percent_are_the_borders() {
        let grade = |grr: f64, pv: f64| {
            let known = Components { pv: Some(pv), ..Components::default() };
            known.with_totals(Some(grr * grr)).grade()
        };
        // 3-4-5 and 7-24-25 triangles have exact shares; 0.28 and 0.6 lie beside the borders.
        assert_eq!(grade(7.0, 24.0), Some(Grade::Fair));
        assert_eq!(grade(3.0, 4.0), Some(Grade::Poor));
        let at = |share: f64| {
            let known = Components { grr: Some(share), tv: Some(1.0), ..Components::default() };
            Components { pv: Some(9.0), ..known }.grade()
        };
        assert_eq!(at(0.099), Some(Grade::Good));
        assert_eq!(at(0.10), Some(Grade::Fair), "exactly 10 % is not under it");
        assert_eq!(at(0.30), Some(Grade::Fair), "exactly 30 % is not over it");
        assert_eq!(at(0.301), Some(Grade::Poor));
        assert_eq!(Components::default().grade(), None);
    }

    #[test]
    fn a_single_reading_says_nothing_at_all() {
        let study = Study::of(&table([1, 1, 1], |_| 500));
        assert_eq!(study.ranges.components, Components::default());
        assert_eq!(study.anova.chosen().components, Components::default());
        let one_each = Study::of(&table([1, 4, 1], |[_, person, _]| [5, 9, 7, 7][person]));
        assert_eq!(one_each.anova.chosen().components, Components::default());
    }

    #[test]
    fn readings_that_never_differ_have_no_scatter_and_no_test() {
        let study = Study::of(&table([3, 2, 2], |_| 550));
        for it in [study.ranges.components, study.anova.chosen().components] {
            let zero = Some(0.0);
            assert_eq!((it.ev, it.av, it.grr, it.pv, it.tv), (zero, zero, zero, zero, zero));
            assert_eq!((it.ndc(), it.share(it.ev)), (None, None), "nothing divided by nothing");
        }
        assert!(study.anova.chosen().sources.iter().all(|it| it.test.is_none()));
    }

    /// Leaves are coarse: every hand may find the same leaf again, and yet people differ by part.
    #[test]
    fn an_interaction_without_scatter_is_not_pooled_away() {
        let study = Study::of(&table([3, 2, 2], |[part, person, _]| {
            [[500, 550], [600, 600], [700, 650]][part][person]
        }));
        assert!(!study.anova.pools());
        assert!(study.anova.chosen().components.interaction.unwrap() > 0.0);
    }

    #[test]
    fn people_who_differ_on_some_parts_are_kept_apart_from_the_hand() {
        let study = Study::of(&table([5, 3, 3], |[part, person, trial]| {
            i64::try_from(100 * part + 40 * (part * person % 3) + [0, 4, 2][trial]).unwrap()
        }));
        assert!(study.anova.interaction_test().unwrap().p < 1e-6);
        assert!(!study.anova.pools());
        assert_eq!(study.anova.chosen(), &study.anova.unpooled);
    }

    fn close(one: Option<f64>, other: Option<f64>, factor: f64) -> bool {
        match (one, other) {
            (Some(one), Some(other)) => {
                (one * factor - other).abs() <= 1e-9 * other.abs().max(1e-6)
            }
            (one, other) => one == other,
        }
    }

    fn alike(one: &Study, other: &Study, factor: f64) -> bool {
        let all = |it: Components| [it.ev, it.av, it.interaction, it.grr, it.pv, it.tv];
        let pairs = [
            (one.ranges.components, other.ranges.components),
            (one.anova.chosen().components, other.anova.chosen().components),
        ];
        pairs.into_iter().all(|(one, other)| {
            all(one).into_iter().zip(all(other)).all(|(a, b)| close(a, b, factor))
                && one.ndc() == other.ndc()
        })
    }

    fn sizes_and_values() -> impl Strategy<Value = ([usize; 3], Vec<i64>)> {
        (1..6_usize, 1..4_usize, 1..4_usize).prop_flat_map(|(parts, people, trials)| {
            let values = proptest::collection::vec(-2_000..2_000_i64, parts * people * trials);
            (Just([parts, people, trials]), values)
        })
    }

    proptest! {
        /// Moving the zero of the gauge changes nothing, to the last digit where sums are whole.
        #[test]
        fn a_constant_added_to_all_readings_changes_nothing(
            (sizes, values) in sizes_and_values(), by in -50_000..50_000_i64,
        ) {
            let at = |[part, person, trial]: [usize; 3]| {
                values[(part * sizes[1] + person) * sizes[2] + trial]
            };
            let here = Study::of(&table(sizes, at));
            let there = Study::of(&table(sizes, |place| at(place) + by));
            prop_assert_eq!(&here.anova, &there.anova);
            prop_assert!(alike(&here, &there, 1.0), "{here:#?} {there:#?}");
        }

        /// Another unit changes all numbers alike.
        #[test]
        fn scaling_scales((sizes, values) in sizes_and_values(), by in 1..40_i64) {
            let at = |[part, person, trial]: [usize; 3]| {
                values[(part * sizes[1] + person) * sizes[2] + trial]
            };
            let here = Study::of(&table(sizes, at));
            let there = Study::of(&table(sizes, |place| at(place) * by));
            let factor = f64::from(i32::try_from(by).unwrap());
            prop_assert!(alike(&here, &there, factor), "{here:#?} {there:#?}");
        }

        /// Who is named first only changes the order of names.
        #[test]
        fn other_names_and_another_order_change_no_number(
            (sizes, values) in sizes_and_values(), turn in 0..5_usize,
        ) {
            let at = |[part, person, trial]: [usize; 3]| {
                values[(part * sizes[1] + person) * sizes[2] + trial]
            };
            let here = Study::of(&table(sizes, at));
            let turned = table(sizes, |[part, person, trial]| {
                at([(part + turn) % sizes[0], (person + turn) % sizes[1], (trial + turn) % sizes[2]])
            });
            prop_assert!(alike(&here, &Study::of(&turned), 1.0));
        }
    }
}
