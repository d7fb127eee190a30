//! Brackets against limits, by whole numbers.

use crate::domain::{
    gauge::{Answer, Bracket},
    machine::Limits,
    quantity::Length,
    verdict::Chance,
};

/// Which way a gap is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Too small.
    Tight,
    /// Too large.
    Wide,
}

/// Where one gap lies, from the tightest to the widest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Zone {
    /// Below the stop minimum.
    StopTight,
    /// Below the working minimum.
    TooTight,
    /// Inside the working limits, below the set range.
    WorkingTight,
    /// Inside the set range.
    Set,
    /// Inside the working limits, above the set range.
    WorkingWide,
    /// Above the working maximum.
    TooWide,
    /// Above the stop maximum.
    StopWide,
}

/// All zones a reading may lie in, and whether it will leave the working limits soon.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Verdict {
    /// The tightest zone it may lie in.
    pub tightest: Zone,
    /// The widest zone it may lie in.
    pub widest: Zone,
    /// Forecast to leave the working limits before the next look.
    pub soon: Option<Way>,
    /// The limit inside the bracket that must be decided, if one is.
    pub undecided_at: Option<Length>,
    /// How likely the gap lies below, within and above the working limits; `None` where nobody
    /// weighed it or an open end says nothing.
    pub chance: Option<Chance>,
}

/// A verdict in one word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VerdictKind {
    /// In the set range.
    Set,
    /// In the working limits.
    Working,
    /// In the working limits, but not for long.
    Soon(Way),
    /// Outside the working limits.
    Too(Way),
    /// Outside the stop limits.
    Stop(Way),
    /// The bracket holds a limit that matters.
    Undecided,
}

impl Zone {
    const fn inside_working(self) -> bool {
        matches!(self, Self::WorkingTight | Self::Set | Self::WorkingWide)
    }

    /// How bad it is: 0 inside the working limits, 1 outside them, 2 outside the stop limits.
    pub const fn severity(self) -> u8 {
        match self {
            Self::WorkingTight | Self::Set | Self::WorkingWide => 0,
            Self::TooTight | Self::TooWide => 1,
            Self::StopTight | Self::StopWide => 2,
        }
    }
}

impl Verdict {
    /// The verdict on a gap that may lie in any zone from `tightest` to `widest`.
    pub(crate) fn between(
        tightest: Zone,
        widest: Zone,
        limits: &Limits,
        soon: Option<Way>,
    ) -> Self {
        let (working, stop) = (limits.working(), limits.stop());
        let parts = |inner: Zone| tightest < inner && inner <= widest;
        let undecided_at = if parts(Zone::TooTight) {
            Some(stop.min)
        } else if parts(Zone::StopWide) {
            Some(stop.max)
        } else if parts(Zone::WorkingTight) {
            Some(working.min)
        } else if parts(Zone::TooWide) {
            Some(working.max)
        } else {
            None
        };
        let soon = soon.filter(|_| tightest.inside_working() && widest.inside_working());
        Self { tightest, widest, soon, undecided_at, chance: None }
    }

    /// The verdict in one word.
    pub const fn kind(&self) -> VerdictKind {
        match (self.tightest, self.widest) {
            (Zone::StopTight, Zone::StopTight) => VerdictKind::Stop(Way::Tight),
            (Zone::StopWide, Zone::StopWide) => VerdictKind::Stop(Way::Wide),
            (Zone::TooTight, Zone::TooTight) => VerdictKind::Too(Way::Tight),
            (Zone::TooWide, Zone::TooWide) => VerdictKind::Too(Way::Wide),
            (tightest, widest) if tightest.inside_working() && widest.inside_working() => {
                match self.soon {
                    Some(way) => VerdictKind::Soon(way),
                    None if matches!((tightest, widest), (Zone::Set, Zone::Set)) => {
                        VerdictKind::Set
                    }
                    None => VerdictKind::Working,
                }
            }
            _ => VerdictKind::Undecided,
        }
    }

    /// The worse of the two ends: what to act on while the reading is undecided.
    ///
    /// Between two ends that are equally bad the tight one counts, because a gap that is too tight
    /// makes its own heat and closes further.
    pub const fn worst(&self) -> Zone {
        if self.tightest.severity() < self.widest.severity() { self.widest } else { self.tightest }
    }
}

/// Judges a gap at 20 °C against the limits of its line.
///
/// Limits are inclusive. `soon` is the trend's word on the time until the next look; it counts only
/// while the gap is surely inside the working limits.
pub fn judge(cold: Bracket, limits: &Limits, soon: Option<Way>) -> Verdict {
    let (set, working, stop) = (limits.set(), limits.working(), limits.stop());
    let at_most = |limit| cold.is_at_most(limit);
    let at_least = |limit| cold.is_at_least(limit);
    let widest = if at_most(stop.max) != Answer::Yes {
        Zone::StopWide
    } else if at_most(working.max) != Answer::Yes {
        Zone::TooWide
    } else if at_most(set.max) != Answer::Yes {
        Zone::WorkingWide
    } else if at_least(set.min) != Answer::No {
        Zone::Set
    } else if at_least(working.min) != Answer::No {
        Zone::WorkingTight
    } else if at_least(stop.min) != Answer::No {
        Zone::TooTight
    } else {
        Zone::StopTight
    };
    let tightest = if at_least(stop.min) != Answer::Yes {
        Zone::StopTight
    } else if at_least(working.min) != Answer::Yes {
        Zone::TooTight
    } else if at_least(set.min) != Answer::Yes {
        Zone::WorkingTight
    } else if at_most(set.max) != Answer::No {
        Zone::Set
    } else if at_most(working.max) != Answer::No {
        Zone::WorkingWide
    } else if at_most(stop.max) != Answer::No {
        Zone::TooWide
    } else {
        Zone::StopWide
    };
    Verdict::between(tightest, widest, limits, soon)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::machine::Band;

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

    #[track_caller]
    fn check(go: i64, no_go: Option<i64>, expected: VerdictKind) {
        let um = Length::from_um;
        let bracket = Bracket::new(um(go), no_go.map(um)).unwrap();
        assert_eq!(judge(bracket, &limits(), None).kind(), expected, "{go}–{no_go:?}");
    }

    #[test]
    fn each_band_has_its_word() {
        check(50, Some(100), VerdictKind::Stop(Way::Tight));
        check(100, Some(150), VerdictKind::Too(Way::Tight));
        check(150, Some(200), VerdictKind::Too(Way::Tight));
        check(200, Some(250), VerdictKind::Working);
        check(300, Some(350), VerdictKind::Set);
        check(450, Some(500), VerdictKind::Set);
        check(450, Some(550), VerdictKind::Working);
        check(1_200, Some(1_250), VerdictKind::Working);
        check(1_300, Some(1_350), VerdictKind::Too(Way::Wide));
        check(1_650, Some(1_700), VerdictKind::Stop(Way::Wide));
    }

    #[test]
    fn a_limit_inside_the_reading_is_undecided_and_open_ends_stay_open() {
        check(150, Some(250), VerdictKind::Undecided);
        check(1_200, Some(1_300), VerdictKind::Undecided);
        check(1_550, Some(1_650), VerdictKind::Undecided);
        check(1_000, None, VerdictKind::Undecided);
        check(1_650, None, VerdictKind::Stop(Way::Wide));
        check(0, Some(50), VerdictKind::Stop(Way::Tight));
    }

    #[test]
    fn an_exact_reading_on_a_limit_meets_it() {
        check(200, Some(200), VerdictKind::Working);
        check(1_250, Some(1_250), VerdictKind::Working);
        check(100, Some(100), VerdictKind::Too(Way::Tight));
        check(1_600, Some(1_600), VerdictKind::Too(Way::Wide));
    }

    #[test]
    fn while_undecided_the_worse_end_counts() {
        let um = Length::from_um;
        let verdict = |go, no_go| {
            judge(Bracket::new(um(go), Some(um(no_go))).unwrap(), &limits(), Some(Way::Wide))
        };
        assert_eq!(verdict(1_200, 1_300).worst(), Zone::TooWide);
        assert_eq!(verdict(50, 150).worst(), Zone::StopTight);
        assert_eq!(verdict(1_200, 1_300).undecided_at, Some(um(1_250)));
        assert_eq!(verdict(1_200, 1_250).kind(), VerdictKind::Soon(Way::Wide));
        assert_eq!(verdict(1_300, 1_350).kind(), VerdictKind::Too(Way::Wide));
    }
}

#[cfg(test)]
mod laws {
    use super::*;
    use crate::domain::machine::Band;
    use proptest::prelude::*;

    fn zone_of(gap: Length, limits: &Limits) -> Zone {
        let (set, working, stop) = (limits.set(), limits.working(), limits.stop());
        let zones = [
            (stop.min, Zone::StopTight),
            (working.min, Zone::TooTight),
            (set.min, Zone::WorkingTight),
        ];
        if let Some((_, zone)) = zones.into_iter().find(|(limit, _)| gap < *limit) {
            return zone;
        }
        let zones =
            [(set.max, Zone::Set), (working.max, Zone::WorkingWide), (stop.max, Zone::TooWide)];
        zones.into_iter().find(|(limit, _)| gap <= *limit).map_or(Zone::StopWide, |(_, zone)| zone)
    }

    proptest! {
        /// Whatever the gap is, its zone lies between the two that are told, and both can be met
        /// by some gap of the reading.
        #[test]
        fn the_true_zone_is_among_those_told(
            mut limits in proptest::collection::vec(0_i64..60, 6),
            go in -20_i64..60, width in 0_i64..30, open in any::<bool>(), part in 0_i64..60,
        ) {
            limits.sort_unstable();
            // Everything known is even, so that odd gaps lie beside it as real ones would.
            let even = |half: i64| Length::from_nm(2 * half);
            let nm = |place: usize| even(limits[place]);
            let band = |min, max| Band { min: nm(min), max: nm(max) };
            let zero = Length::ZERO;
            let limits =
                Limits::new(band(2, 3), band(1, 4), band(0, 5), zero, zero, "any".into()).unwrap();
            let felt = Bracket::new(zero, (!open).then_some(even(width))).unwrap();
            let verdict = judge(felt.shifted(even(go)), &limits, None);
            // A gap lies in [go, no go), or is the exact reading itself.
            let inside = |nm: i64| open || nm < 2 * width || (nm == 0 && width == 0);
            let zone = |nm: i64| zone_of(even(go) + Length::from_nm(nm), &limits);
            if inside(part) {
                prop_assert!(verdict.tightest <= zone(part) && zone(part) <= verdict.widest);
            }
            prop_assert_eq!(verdict.tightest, zone(0));
            let widest =
                if open { Zone::StopWide } else { zone((2 * width - 1).max(0)) };
            prop_assert_eq!(verdict.widest, widest);
        }
    }
}
