//! A place that takes a pack, what is wanted of it, and why it cannot be had.

use crate::domain::{machine::PackRules, quantity::Length};

/// One station in front of a seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Goal {
    /// The gap now.
    pub gap: Length,
    /// The smallest it may be afterwards; already includes the hot minimum.
    pub min: Length,
    /// The largest it may be afterwards.
    pub max: Length,
    /// Where it should end.
    pub target: Length,
    /// The length of blade it speaks for: of packs that are as good at the worst station and as
    /// small, the one that is nearest over the length counts.
    pub span: Length,
}

impl Goal {
    /// A station that should end in the middle of its range and weighs like any other.
    pub const fn within(gap: Length, min: Length, max: Length) -> Self {
        let target = Length::from_nm(min.nm() + (max.nm() - min.nm()) / 2);
        Self { gap, min, max, target, span: Length::from_um(1_000) }
    }
}

/// A place that needs another pack: a blade over its full length, or some of its bolts.
#[derive(Clone, Debug, PartialEq)]
pub struct Seat {
    /// Its stations.
    pub goals: Vec<Goal>,
    /// Cosine of the face angle: a shim s closes the gap by s times this; above 0, at most 1.
    pub closes: f64,
    /// What stands there now.
    pub pack: Vec<Length>,
    /// What may stand there.
    pub rules: PackRules,
    /// The most by which its pack may differ in thickness from that of the seat before it, under
    /// the same blade; `None` for a seat that stands alone.
    pub step: Option<Length>,
}

/// A pack that brings every station into its range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackPlan {
    /// From the shelf, thickest first: thick shims stand next to the seat.
    pub put_in: Vec<Length>,
    /// Out of the present pack, thickest first.
    pub take_out: Vec<Length>,
    /// Every gap afterwards, in the order of the goals.
    pub after: Vec<Length>,
    /// How far the worst station ends from its target.
    pub worst: Length,
}

impl PackPlan {
    /// Whether the pack ends thicker, so that the gaps close.
    pub fn closes(&self) -> bool {
        let total = |shims: &[Length]| -> Length { shims.iter().copied().sum() };
        total(&self.take_out) < total(&self.put_in)
    }

    /// Shims that are moved, in or out.
    pub const fn moved(&self) -> usize {
        self.put_in.len() + self.take_out.len()
    }
}

/// Why no pack will do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shortfall {
    /// Two stations differ by more than their ranges overlap: the blade is tapered, and what brings
    /// one into its range puts the other out, whatever lies on the shelf.
    Tapered {
        /// The place of the wide one among the goals.
        wide: usize,
        /// The place of the tight one.
        tight: usize,
        /// How much their gaps differ.
        by: Length,
    },
    /// It would take a thicker pack than the rules allow.
    PackFull {
        /// The pack it would take at least.
        needed: Length,
        /// The thickest allowed.
        allowed: Length,
    },
    /// Every shim is out and the gap is still too tight.
    PackEmpty,
    /// Shelf and pack make no change of the right thickness.
    ShelfCannot {
        /// The change of the pack that is wanted: the middle of what would do.
        wanted: Length,
        /// The smallest change that would do.
        least: Length,
        /// The largest one that would do.
        most: Length,
        /// The nearest change below that can be made.
        below: Option<Length>,
        /// The nearest change above that can be made.
        above: Option<Length>,
    },
    /// Hot, the gap needs to be wider than the set range goes.
    HotAboveSet {
        /// The smallest gap at 20 °C that leaves the smallest hot gap.
        needed: Length,
        /// The upper end of the set range.
        allowed: Length,
    },
    /// No station was measured, or the face angle leaves nothing to close.
    NothingToGoBy,
}

/// How good a pack is: the worst station first, then fewest shims moved, then how far all stations
/// end from their targets over the length they speak for.
pub(crate) type Worth = (i64, usize, i128);

impl Seat {
    /// How far a change of the pack closes the gap.
    pub(crate) fn moves(&self, change: Length) -> Length {
        Length::from_mm(change.mm() * self.closes).unwrap_or(Length::ZERO)
    }

    /// The thickness of the pack now.
    pub(crate) fn total_now(&self) -> Length {
        self.pack.iter().copied().sum()
    }

    /// Every gap after the pack has grown by `change`.
    pub(crate) fn after(&self, change: Length) -> Vec<Length> {
        let moved = self.moves(change);
        self.goals.iter().map(|goal| goal.gap - moved).collect()
    }

    /// How good a change is that moves so many shims.
    pub(crate) fn worth(&self, change: Length, moved_shims: usize) -> Worth {
        let moved = self.moves(change);
        let (mut worst, mut over_length) = (0_i64, 0_i128);
        for goal in &self.goals {
            let off = (goal.gap - moved - goal.target).abs().nm();
            worst = worst.max(off);
            over_length += i128::from(off) * i128::from(goal.span.nm());
        }
        (worst, moved_shims, over_length)
    }

    /// The changes of the pack that bring every station into range, from least to most.
    pub(crate) fn wanted_range(&self) -> Result<(Length, Length), Shortfall> {
        if !(self.closes > 0.0 && self.closes <= 1.0) {
            return Err(Shortfall::NothingToGoBy);
        }
        let change = |closing: Length| closing.mm() / self.closes;
        let mut range: Option<((usize, Length), (usize, Length))> = None;
        for (place, goal) in self.goals.iter().enumerate() {
            // Rounded inward, so that a pack at the end of the range still meets it.
            let low = Length::from_mm((change(goal.gap - goal.max) * 1e6).ceil() / 1e6);
            let high = Length::from_mm((change(goal.gap - goal.min) * 1e6).floor() / 1e6);
            let (Some(low), Some(high)) = (low, high) else {
                return Err(Shortfall::NothingToGoBy);
            };
            let (wide, tight) = range.get_or_insert(((place, low), (place, high)));
            if wide.1 < low {
                *wide = (place, low);
            }
            if high < tight.1 {
                *tight = (place, high);
            }
        }
        let ((wide, low), (tight, high)) = range.ok_or(Shortfall::NothingToGoBy)?;
        if high < low {
            let gap = |place: usize| self.goals.get(place).map(|goal| goal.gap);
            let by = gap(wide).zip(gap(tight)).map_or(Length::ZERO, |(wide, tight)| wide - tight);
            return Err(Shortfall::Tapered { wide, tight, by });
        }
        Ok((low, high))
    }
}
