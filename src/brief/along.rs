//! What growth is counted along, in words: service hours, tonnes or cuts.

use crate::{
    brief::{Numbers, numbers},
    domain::trend::{Axis, Bounded, HoursTo},
};

impl Numbers {
    /// A place on the axis that growth is counted along: `4 812 h`, `18 250 t`, `640 000 cuts`.
    pub fn along(self, at: f64) -> String {
        let unit = match self.per {
            Axis::Hours => "h",
            Axis::Tonnes => "t",
            Axis::Cuts => "cuts",
        };
        format!("{}\u{a0}{unit}", numbers::grouped(at, 0))
    }

    /// What growth is counted along, in one word: `hours`.
    pub const fn along_word(self) -> &'static str {
        match self.per {
            Axis::Hours => "hours",
            Axis::Tonnes => "tonnes",
            Axis::Cuts => "cuts",
        }
    }

    /// What an axis shows: `service hours`.
    pub const fn along_name(self) -> &'static str {
        match self.per {
            Axis::Hours => "service hours",
            Axis::Tonnes => "tonnes cut",
            Axis::Cuts => "cuts made",
        }
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
        let Some(to) = to else { return ("–".to_owned(), "no trend yet".to_owned()) };
        let (large, quiet) = if to.passed { self.passed(to) } else { self.left(to) };
        (large, if to.through_break_h.is_some() { IN_DOUBT.to_owned() } else { quiet })
    }

    /// How long ago the mean passed a limit.
    fn passed(self, to: &HoursTo) -> (String, String) {
        let ago = match to.estimate_h {
            Some(at) if at <= -self.far() => format!("over {} ago", self.along(self.far())),
            Some(at) if at <= -0.5 => format!("{} ago", self.along(-at)),
            Some(_) => "just now".to_owned(),
            None => "and coming back".to_owned(),
        };
        (PASSED.to_owned(), ago)
    }

    /// What is left until a limit that is not passed.
    fn left(self, to: &HoursTo) -> (String, String) {
        let far = |h: f64| self.far() <= h;
        match to.estimate_h {
            None => match to.low_h.filter(|low| !far(*low)) {
                Some(low) => (self.along(low.max(0.0)), "or more".to_owned()),
                None => ("no limit in sight".to_owned(), String::new()),
            },
            // What may come sooner than the far end is said.
            Some(estimate) if far(estimate) => {
                let soonest = to.low_h.filter(|low| !far(*low)).unwrap_or(self.far());
                (self.along(soonest.max(0.0)), "or more".to_owned())
            }
            Some(estimate) => {
                let low = to.low_h.map(|low| numbers::grouped(low.max(0.0), 0));
                let high =
                    to.high_h.filter(|high| !far(*high)).map(|high| numbers::grouped(high, 0));
                let quiet = match (to.bounded, low, high) {
                    (Bounded::Both, Some(low), Some(high)) => format!("{low}–{high}"),
                    (_, Some(low), _) => format!("{low} or more"),
                    _ => "could be never".to_owned(),
                };
                (self.along(estimate.max(0.0)), quiet)
            }
        }
    }

    /// A change that is not in the log and that hours left run through, as a sentence; `None` if
    /// there is none.
    pub fn through(self, to: &HoursTo) -> Option<String> {
        let at = self.along(to.through_break_h?);
        let what = self.along_word();
        Some(format!("A change at {at} is not in the log, and these {what} run through it."))
    }
}

/// What stands for hours once a limit lies behind.
pub const PASSED: &str = "passed";
/// In place of an interval that would not hold.
const IN_DOUBT: &str = "in doubt";

#[test]
fn what_runs_through_a_change_not_in_the_log_is_in_doubt_even_where_no_limit_is_in_sight() {
    let never = HoursTo {
        which: crate::domain::trend::Which::WorkingMax,
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
    let said = |to: HoursTo| Numbers::default().ahead(Some(&to)).1;
    assert_eq!(said(never), "");
    assert_eq!(said(HoursTo { through_break_h: Some(4_520.0), ..never }), "in doubt");
}
