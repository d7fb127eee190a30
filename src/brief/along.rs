//! What growth is counted along, in words: service hours, tonnes or cuts.

use crate::{
    brief::{Numbers, numbers},
    domain::trend::{Axis, Bounded, HoursTo},
    language::{self, sentence, tell},
};

impl Numbers {
    /// A place on the axis that growth is counted along: `4 812 h`, `18 250 t`, `640 000 cuts`.
    pub fn along(self, at: f64) -> String {
        let unit = match self.per {
            Axis::Hours => "h",
            Axis::Tonnes => "t",
            Axis::Cuts => tell!("cuts"),
        };
        format!("{}\u{a0}{unit}", numbers::grouped(at, 0))
    }

    /// What growth is counted along, in one word: `hours`.
    pub fn along_word(self) -> &'static str {
        match self.per {
            Axis::Hours => tell!("hours"),
            Axis::Tonnes => tell!("tonnes"),
            Axis::Cuts => tell!("cuts"),
        }
    }

    /// What an axis shows: `service hours`.
    pub fn along_name(self) -> &'static str {
        match self.per {
            Axis::Hours => tell!("service hours"),
            Axis::Tonnes => tell!("tonnes cut"),
            Axis::Cuts => tell!("cuts made"),
        }
    }

    /// A place on that axis where no axis stands beside it: `4 812 service hours`, which run on when
    /// an hour meter is changed.
    pub fn place(self, at: f64) -> String {
        format!("{}\u{a0}{}", numbers::grouped(at, 0), self.along_name())
    }

    /// Beyond this much a forecast says "or more": a straight line is not trusted that far. Tonnes
    /// and cuts are those of as many hours of a busy machine, ten tonnes and 150 cuts an hour.
    pub const fn far(self) -> f64 {
        match self.per {
            Axis::Hours => numbers::FAR_H,
            Axis::Tonnes => 10.0 * numbers::FAR_H,
            Axis::Cuts => 150.0 * numbers::FAR_H,
        }
    }

    /// As [`numbers::hours_to`], along any axis.
    ///
    /// A forecast that runs through a change that is not in the log says so in place of its
    /// interval, which would not hold.
    pub fn ahead(self, to: Option<&HoursTo>) -> (String, String) {
        let Some(to) = to else { return ("–".to_owned(), tell!("no trend yet").to_owned()) };
        let (large, quiet) = if to.passed { self.passed(to) } else { self.left(to) };
        match to.through_break_h {
            None => (large, quiet),
            Some(_) if large == language::told(NOT_IN_SIGHT) => {
                (language::told(IN_DOUBT).to_owned(), tell!("after a change").to_owned())
            }
            Some(_) => (large, language::told(IN_DOUBT).to_owned()),
        }
    }

    /// How long ago the mean passed a limit, with its interval; where that reaches ahead of now,
    /// the limit may not be passed yet.
    fn passed(self, to: &HoursTo) -> (String, String) {
        let Some(at) = to.estimate_h else {
            return (language::told(PASSED).to_owned(), tell!("and coming back").to_owned());
        };
        let far = |h: f64| h <= -self.far();
        let ago = match at {
            at if far(at) => tell!("over {far} ago", far = self.along(self.far())),
            at if at <= -0.5 => tell!("{at} ago", at = self.along(-at)),
            _ => tell!("just now").to_owned(),
        };
        let behind = |h: f64| numbers::grouped(-h, 0);
        match (to.low_h.filter(|low| !far(*low)), to.high_h) {
            (_, Some(_)) if far(at) => (language::told(PASSED).to_owned(), ago),
            (low, Some(high)) if high < 0.5 => {
                let interval = match low {
                    Some(low) => format!("{}–{}", behind(high.min(0.0)), behind(low)),
                    None => tell!("{min} or more", min = behind(high.min(0.0))),
                };
                (language::told(PASSED).to_owned(), format!("{ago}, {interval}"))
            }
            (low, high) => {
                let low = low.map_or_else(
                    || tell!("over {far} ago", far = self.along(self.far())),
                    |low| tell!("{low} ago", low = self.along(-low)),
                );
                let far_ahead = |high: f64| self.far() <= high;
                let high = high.filter(|high| !far_ahead(*high)).map(|high| self.along(high));
                let high =
                    high.map_or(tell!("or never").to_owned(), |high| tell!("to in {high}", high));
                (language::told(MAYBE_PASSED).to_owned(), format!("{low} {high}"))
            }
        }
    }

    /// What is left until a limit that is not passed.
    fn left(self, to: &HoursTo) -> (String, String) {
        let far = |h: f64| self.far() <= h;
        match to.estimate_h {
            None => match to.low_h.filter(|low| !far(*low)) {
                Some(low) => (self.along(low.max(0.0)), tell!("or more").to_owned()),
                None => (language::told(NOT_IN_SIGHT).to_owned(), String::new()),
            },
            // What may come sooner than the far end is said.
            Some(estimate) if far(estimate) => {
                let soonest = to.low_h.filter(|low| !far(*low)).unwrap_or(self.far());
                (self.along(soonest.max(0.0)), tell!("or more").to_owned())
            }
            Some(estimate) => {
                let low = to.low_h.map(|low| numbers::grouped(low.max(0.0), 0));
                let high =
                    to.high_h.filter(|high| !far(*high)).map(|high| numbers::grouped(high, 0));
                let quiet = match (to.bounded, low, high) {
                    (Bounded::Both, Some(low), Some(high)) => format!("{low}–{high}"),
                    (_, Some(low), _) => tell!("{low} or more", low),
                    _ => tell!("could be never").to_owned(),
                };
                (self.along(estimate.max(0.0)), quiet)
            }
        }
    }

    /// A change that is not in the log and that hours left run through, as a sentence; `None` if
    /// there is none.
    pub fn through(self, to: &HoursTo) -> Option<String> {
        let at = self.place(to.through_break_h?);
        let what = self.along_word();
        Some(tell!(
            "A change at {at} is not in the log, and these {what} run through it.",
            at,
            what
        ))
    }
}

/// Whether what stands for hours says that a limit lies behind, or may: then no hours lead to it.
pub fn is_behind(large: &str) -> bool {
    [PASSED, MAYBE_PASSED].map(language::told).contains(&large)
}

/// What stands for hours once a limit lies behind.
const PASSED: &str = sentence!("passed");
/// Where the interval leaves open whether it does.
const MAYBE_PASSED: &str = sentence!("maybe passed");
/// Where neither the line nor its interval meets a limit soon enough to say when.
const NOT_IN_SIGHT: &str = sentence!("no limit in sight");
/// In place of an interval that would not hold.
const IN_DOUBT: &str = sentence!("in doubt");

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::trend::Which;

    const NEVER: HoursTo = HoursTo {
        which: Which::WorkingMax,
        limit_mm: 1.25,
        estimate_h: None,
        low_h: None,
        high_h: None,
        confidence: 0.8,
        bounded: Bounded::Low,
        passed: false,
        reading_h: None,
        exact_h: None,
        through_break_h: None,
    };

    fn said(to: HoursTo) -> String {
        let (large, quiet) = Numbers::default().ahead(Some(&to));
        format!("{large} {quiet}").trim_end().replace('\u{a0}', " ")
    }

    #[test]
    fn what_runs_through_a_change_not_in_the_log_is_in_doubt_even_where_no_limit_is_in_sight() {
        assert_eq!(said(NEVER), "no limit in sight");
        let through = HoursTo { through_break_h: Some(4_520.0), ..NEVER };
        assert_eq!(said(through), "in doubt after a change");
        assert_eq!(said(HoursTo { estimate_h: Some(32.0), ..through }), "32 h in doubt");
    }

    #[test]
    fn a_limit_that_is_passed_has_an_interval_and_may_not_be_passed_yet() {
        let passed = |estimate, low, high| {
            let (estimate_h, low_h, high_h) = (Some(estimate), low, high);
            let bounded = Bounded::Both;
            said(HoursTo { estimate_h, low_h, high_h, bounded, passed: true, ..NEVER })
        };
        assert_eq!(passed(-52.0, Some(-61.0), Some(-44.0)), "passed 52 h ago, 44–61");
        assert_eq!(passed(-1.0, Some(-3.0), Some(0.4)), "passed 1 h ago, 0–3");
        assert_eq!(passed(-2.0, Some(-6.0), Some(5.0)), "maybe passed 6 h ago to in 5 h");
        assert_eq!(passed(-2.0, Some(-6.0), None), "maybe passed 6 h ago or never");
        assert_eq!(passed(-90.0, None, Some(-20.0)), "passed 90 h ago, 20 or more");
        assert_eq!(passed(-900.0, Some(-990.0), Some(-800.0)), "passed over 400 h ago");
        assert_eq!(said(HoursTo { passed: true, ..NEVER }), "passed and coming back");
    }
}
