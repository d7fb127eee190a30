//! Lines that pass inside every reading, in words.
//!
//! Knows the exact range of such lines and how many digits it takes to see it. The interval beside
//! it is the trend's: it allows for scatter that leaves so far apart do not show.

use crate::{
    brief::{Numbers, numbers},
    domain::{
        decide::StationState,
        trend::{Bootstrap, Fit, HoursTo, Region, StationTrend},
    },
    language::tell,
};

/// More decimals than this of a rate say nothing.
const MOST_PLACES: usize = 5;

impl Numbers {
    /// Two rates with as many digits as it takes to tell them apart: `3.97 to 4.02 µm/h`; `None`
    /// if no digits that mean anything do.
    fn rates(self, least: f64, largest: f64) -> Option<String> {
        let unit = self.rate_unit();
        let ends = [least, largest].map(|it| self.rate_number(it));
        (1..=MOST_PLACES).find_map(|places| {
            let [low, high] = ends.map(|it| numbers::fixed(it, places));
            (low != high).then(|| tell!("{low} to {high}\u{a0}{unit}", low, high, unit))
        })
    }

    /// The slopes of all lines inside every reading, as a sentence without its end.
    pub fn lines_inside(self, least: f64, largest: f64) -> String {
        self.rates(least, largest).map_or_else(
            || tell!("only a straight line of {least} fits all of them", least = self.rate(least)),
            |range| tell!("every straight line from {range} fits all of them", range),
        )
    }

    /// An exact range ahead, whose later end may be missing: `in 33 to 35 h`.
    pub fn exactly(self, (first, last): (f64, Option<f64>)) -> String {
        let first = first.max(0.0);
        match last {
            Some(last) if last - first < 0.5 => tell!("in {first}", first = self.along(first)),
            Some(last) => tell!(
                "in {first} to {along}",
                first = numbers::grouped(first, 0),
                along = self.along(last)
            ),
            None => tell!("after {along} at the soonest, or never", along = self.along(first)),
        }
    }

    /// What drawing the readings again says of the hours left, without its full stop.
    pub fn drawn_again(self, it: &Bootstrap) -> String {
        let times = tell!("drawn again {draws} times", draws = it.draws);
        match (it.low_h, it.high_h) {
            (Some(low), Some(high)) => {
                tell!(
                    "{times}: {low} to {high}",
                    times,
                    low = self.along(low),
                    high = self.along(high)
                )
            }
            (Some(low), None) => {
                tell!(
                    "{times}: {low} or more; {never} of them never meet it",
                    times,
                    low = self.along(low),
                    never = it.never
                )
            }
            (None, _) if it.never == it.draws => {
                tell!("{times}: none of them ever meets it", times)
            }
            (None, _) => tell!("{times}: {never} of them never meet it", times, never = it.never),
        }
    }
}

/// What is known exactly where lines pass inside every reading; `None` where none does.
pub fn note(state: &StationState, n: Numbers) -> Option<String> {
    let fit = state.trend.fit.as_ref().ok()?;
    let (least, largest) = fit.inside().map(Region::rates)?;
    let lines = n.lines_inside(least, largest);
    let met = |to: &HoursTo| {
        let exact = to.exact_h.filter(|_| !to.passed)?;
        Some(tell!(
            ", and meets {limit_mm} {exact}",
            limit_mm = n.estimate(to.limit_mm),
            exact = n.exactly(exact)
        ))
    };
    let met = state.hours.as_ref().and_then(met).unwrap_or_default();
    Some(tell!(
        "The readings of {station} show no scatter: {lines}{met}. The bars are wider, for a hand always \
         scatters a little.",
        station = state.station,
        lines,
        met
    ))
}

/// What growth rests on: `from 12 readings since 4 520 h, of 43 in all`.
pub fn rests_on(trend: &StationTrend, fit: &Fit, n: Numbers) -> String {
    let (used, all) = (fit.rate_readings(), trend.observations.len());
    let own = fit.segments.last().filter(|_| fit.model.own_rates() && 1 < fit.segments.len());
    match own {
        Some(newest) => {
            tell!(
                "from {used} readings since {from_h}, of {all} in all",
                used,
                from_h = n.along(newest.from_h),
                all
            )
        }
        None if used < all => tell!("from {used} of {all} readings", used, all),
        None => tell!("from {all} readings", all),
    }
}

#[test]
fn two_rates_are_never_written_alike() {
    let n = Numbers::default();
    let said = |least, largest| n.lines_inside(least, largest);
    assert!(said(0.003_97, 0.004_02).contains("from 3.97 to 4.02\u{a0}µm/h fits"));
    assert!(said(-1e-4, 2e-4).contains("from −0.1 to 0.2\u{a0}µm/h fits"));
    assert!(said(0.004, 0.004).starts_with("only a straight line of 4.0\u{a0}µm/h"));
}
