//! What a gap may be: three bands inside each other.
//!
//! Limits are inclusive: a gap exactly on a limit meets it. The numbers belong to the machine's
//! manual; ours are demonstration values and carry a source that says so.

use crate::domain::quantity::Length;

/// An inclusive range of lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Band {
    /// The smallest that is inside.
    pub min: Length,
    /// The largest that is inside.
    pub max: Length,
}

impl Band {
    /// From both ends in micrometres.
    pub const fn from_um(min: i64, max: i64) -> Self {
        Self { min: Length::from_um(min), max: Length::from_um(max) }
    }

    /// Whether `length` lies inside, ends included.
    pub fn holds(self, length: Length) -> bool {
        self.min <= length && length <= self.max
    }

    /// Halfway between the ends.
    pub fn middle(self) -> Length {
        (self.min + self.max).half()
    }

    fn encloses(self, inner: Self) -> bool {
        self.min <= inner.min && inner.max <= self.max
    }
}

/// The limits of one line.
///
/// Invariant: set range inside working limits inside stop limits, nothing below zero.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limits {
    set: Band,
    working: Band,
    stop: Band,
    hot_min: Length,
    taper_max: Length,
    source: String,
}

/// Why three bands are no limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LimitsError {
    /// A band's minimum lies above its maximum.
    #[error("a minimum stands above its maximum")]
    Reversed,
    /// A negative limit.
    #[error("a limit is below zero")]
    Negative,
    /// The set range is not inside the working limits.
    #[error("the set range is not inside the working limits")]
    SetOutsideWorking,
    /// The working limits are not inside the stop limits.
    #[error("the working limits are not inside the stop limits")]
    WorkingOutsideStop,
}

impl Limits {
    /// Limits with a smallest hot gap, a largest taper along the line, and where they come from.
    ///
    /// # Errors
    ///
    /// [`LimitsError`] if the invariant does not hold.
    pub fn new(
        set: Band,
        working: Band,
        stop: Band,
        hot_min: Length,
        taper_max: Length,
        source: String,
    ) -> Result<Self, LimitsError> {
        if [set, working, stop].iter().any(|band| band.max < band.min) {
            return Err(LimitsError::Reversed);
        }
        if [stop.min, hot_min, taper_max].iter().any(|limit| *limit < Length::ZERO) {
            return Err(LimitsError::Negative);
        }
        if !working.encloses(set) {
            return Err(LimitsError::SetOutsideWorking);
        }
        if !stop.encloses(working) {
            return Err(LimitsError::WorkingOutsideStop);
        }
        Ok(Self { set, working, stop, hot_min, taper_max, source })
    }

    /// Where a gap is left after work.
    pub const fn set(&self) -> Band {
        self.set
    }

    /// Where the machine may cut.
    pub const fn working(&self) -> Band {
        self.working
    }

    /// Where it must stop.
    pub const fn stop(&self) -> Band {
        self.stop
    }

    /// The smallest gap left at working temperature.
    pub const fn hot_min(&self) -> Length {
        self.hot_min
    }

    /// The largest difference between the stations of the line.
    pub const fn taper_max(&self) -> Length {
        self.taper_max
    }

    /// Where the numbers come from, shown wherever they are.
    pub fn source(&self) -> &str {
        &self.source
    }
}

#[test]
fn bands_must_lie_inside_each_other() {
    #[track_caller]
    fn check(
        set: (i64, i64),
        working: (i64, i64),
        stop: (i64, i64),
        expected: Option<LimitsError>,
    ) {
        let band = |(min, max)| Band::from_um(min, max);
        let zero = Length::ZERO;
        let made = Limits::new(band(set), band(working), band(stop), zero, zero, "test".to_owned());
        assert_eq!(made.err(), expected);
    }
    check((300, 500), (200, 1250), (100, 1600), None);
    check((200, 1250), (200, 1250), (200, 1250), None);
    check((500, 300), (200, 1250), (100, 1600), Some(LimitsError::Reversed));
    check((300, 500), (200, 1250), (-1, 1600), Some(LimitsError::Negative));
    check((199, 500), (200, 1250), (100, 1600), Some(LimitsError::SetOutsideWorking));
    check((300, 500), (200, 1601), (100, 1600), Some(LimitsError::WorkingOutsideStop));
}

#[test]
fn a_gap_exactly_on_a_limit_meets_it() {
    let band = Band::from_um(300, 500);
    assert!(band.holds(Length::from_um(300)) && band.holds(Length::from_um(500)));
    assert!(!band.holds(Length::from_nm(299_999)) && !band.holds(Length::from_nm(500_001)));
}
