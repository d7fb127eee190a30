//! The set of leaves in the toolbox and the stacks it can make.

use crate::domain::quantity::{Length, LengthUnit};
use chrono::NaiveDate;

/// The most leaves used together: trapped oil and air make thicker stacks read wrong.
pub const STACK_MOST: usize = 3;

/// One feeler leaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leaf {
    /// As stamped.
    pub thickness: Length,
    /// Half-width of what its maker allows around it, or of what its calibration leaves open.
    pub tolerance: Length,
    /// What a calibration found instead; a worn leaf is thinner than its stamp.
    pub measured: Option<Length>,
}

impl Leaf {
    /// How thick it really is.
    pub fn really(&self) -> Length {
        self.measured.unwrap_or(self.thickness)
    }
}

/// When the leaves of a set were measured, and until when that is trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Calibration {
    /// The day they were measured.
    pub on: NaiveDate,
    /// The last day on which that counts.
    pub due: NaiveDate,
}

/// A stack that a set can make.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stack {
    /// How thick it really is.
    pub thickness: Length,
    /// How many leaves it takes, as few as possible.
    pub leaves: u8,
    /// The summed half-widths of those leaves, which err together.
    pub tolerance: Length,
}

/// The leaves one person carries.
///
/// Invariant: at least one leaf, thicknesses above zero, sorted by stamp, no stamp twice; `made`
/// follows from the leaves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeafSet {
    name: String,
    leaves: Vec<Leaf>,
    calibration: Option<Calibration>,
    made: Vec<Stack>,
}

impl LeafSet {
    /// A set with a name; sorts the leaves.
    ///
    /// `None` if there is no leaf, one is not above zero, or two are the same.
    pub fn new(name: String, mut leaves: Vec<Leaf>) -> Option<Self> {
        leaves.sort_by_key(|leaf| leaf.thickness);
        let solid = |leaf: &Leaf| Length::ZERO < leaf.thickness && Length::ZERO < leaf.really();
        let thick = !leaves.is_empty() && leaves.iter().all(solid);
        let distinct =
            leaves.iter().zip(leaves.iter().skip(1)).all(|(a, b)| a.thickness < b.thickness);
        let made = make(&leaves);
        (thick && distinct).then_some(Self { name, leaves, calibration: None, made })
    }

    /// The same set with the day of its calibration.
    pub fn calibrated(self, calibration: Option<Calibration>) -> Self {
        Self { calibration, ..self }
    }

    /// When its leaves were measured, if somebody noted that.
    pub const fn calibration(&self) -> Option<Calibration> {
        self.calibration
    }

    /// The unit its leaves are stamped in: inches if every stamp is a whole number of tenths of a
    /// thousandth, which no usual metric set is.
    pub fn unit(&self) -> LengthUnit {
        const TENTH_THOU_NM: i64 = 2_540;
        let whole = |leaf: &Leaf| leaf.thickness.nm() % TENTH_THOU_NM == 0;
        if self.leaves.iter().all(whole) { LengthUnit::Inch } else { LengthUnit::Millimetre }
    }

    /// What it is called.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The leaves, thinnest first.
    pub fn leaves(&self) -> &[Leaf] {
        &self.leaves
    }

    /// Every stack of up to [`STACK_MOST`] leaves, thinnest first; of several of one thickness, the
    /// one of the fewest leaves.
    pub fn made(&self) -> &[Stack] {
        &self.made
    }

    /// The thicknesses of those stacks.
    pub fn stacks(&self) -> impl DoubleEndedIterator<Item = Length> + ExactSizeIterator {
        self.made.iter().map(|stack| stack.thickness)
    }

    /// The summed tolerance of the fewest leaves that make this stack.
    ///
    /// A stack this set cannot make, read with somebody else's leaves, counts as one leaf of the
    /// widest tolerance in the set; zero is no stack and has none.
    pub fn stack_tolerance(&self, stack: Length) -> Length {
        if stack == Length::ZERO {
            return Length::ZERO;
        }
        let place = self.made.binary_search_by_key(&stack, |made| made.thickness).ok();
        let made = place.and_then(|place| self.made.get(place)).map(|made| made.tolerance);
        let widest = || self.leaves.iter().map(|leaf| leaf.tolerance).max();
        made.or_else(widest).unwrap_or(Length::ZERO)
    }

    /// The fewest leaves that make this stack, thinnest first; `None` if three are not enough.
    pub fn fewest(&self, stack: Length) -> Option<Vec<Leaf>> {
        (1..=STACK_MOST).find_map(|count| pick(&self.leaves, count, stack, Leaf::really))
    }

    /// How thick a stack really is that was named by the stamps of its leaves.
    ///
    /// A stack this set cannot make was read with other leaves and is taken as it was named.
    pub fn really(&self, stamped: Length) -> Length {
        if self.leaves.iter().all(|leaf| leaf.measured.is_none()) {
            return stamped;
        }
        let by_stamp = |count| pick(&self.leaves, count, stamped, |leaf| leaf.thickness);
        let leaves = (1..=STACK_MOST).find_map(by_stamp);
        leaves.map_or(stamped, |leaves| leaves.iter().map(Leaf::really).sum())
    }

    /// How thick a stack of just these stamps really is.
    pub fn really_together(&self, stamps: &[Length]) -> Length {
        let of = |stamp: &Length| {
            let leaf = self.leaves.iter().find(|leaf| leaf.thickness == *stamp);
            leaf.map_or(*stamp, Leaf::really)
        };
        stamps.iter().map(of).sum()
    }

    /// The thinnest stack above `floor`.
    pub fn next_above(&self, floor: Length) -> Option<Length> {
        self.stacks().find(|stack| floor < *stack)
    }

    /// The thickest stack of at most `ceiling`.
    pub fn up_to(&self, ceiling: Length) -> Option<Length> {
        self.stacks().rev().find(|stack| *stack <= ceiling)
    }
}

/// All stacks of different leaves, thinnest first, each as light as it can be.
fn make(leaves: &[Leaf]) -> Vec<Stack> {
    let mut made = Vec::new();
    // Stacks of the same number of leaves, each with the place of the leaf that may come next.
    let none = Stack { thickness: Length::ZERO, leaves: 0, tolerance: Length::ZERO };
    let mut layer = vec![(0, none)];
    for _ in 0..STACK_MOST {
        let mut next = Vec::new();
        for (start, stack) in layer {
            for (place, leaf) in leaves.iter().enumerate().skip(start) {
                let thicker = Stack {
                    thickness: stack.thickness + leaf.really(),
                    leaves: stack.leaves + 1,
                    tolerance: stack.tolerance + leaf.tolerance,
                };
                next.push((place + 1, thicker));
            }
        }
        made.extend(next.iter().map(|(_, stack)| *stack));
        layer = next;
    }
    made.sort_by_key(|stack| (stack.thickness, stack.leaves));
    made.dedup_by_key(|stack| stack.thickness);
    made
}

/// `count` of these leaves whose thicknesses, as `of` tells them, add up to `sum`.
fn pick(
    leaves: &[Leaf],
    count: usize,
    sum: Length,
    of: impl Fn(&Leaf) -> Length + Copy,
) -> Option<Vec<Leaf>> {
    if count == 0 {
        return (sum == Length::ZERO).then(Vec::new);
    }
    leaves.iter().enumerate().find_map(|(place, leaf)| {
        let rest = leaves.get(place + 1..)?;
        let mut picked = pick(rest, count - 1, sum - of(leaf), of)?;
        picked.insert(0, *leaf);
        Some(picked)
    })
}

#[test]
fn stacks_are_sums_of_up_to_three_different_leaves() {
    let leaf =
        |um| Leaf { thickness: Length::from_um(um), tolerance: Length::from_um(3), measured: None };
    let set =
        LeafSet::new("pocket".into(), vec![leaf(500), leaf(50), leaf(100), leaf(1000)]).unwrap();
    let stacks: Vec<i64> = set.stacks().map(|stack| stack.nm() / 1000).collect();
    assert_eq!(
        stacks,
        [50, 100, 150, 500, 550, 600, 650, 1000, 1050, 1100, 1150, 1500, 1550, 1600]
    );
    assert_eq!(set.next_above(Length::from_um(150)), Some(Length::from_um(500)));
    assert_eq!(set.up_to(Length::from_um(499)), Some(Length::from_um(150)));
    assert_eq!(set.up_to(Length::from_um(49)), None);
    let fewest = set.fewest(Length::from_um(650)).unwrap();
    assert_eq!(fewest.len(), 3);
    assert_eq!(set.stack_tolerance(Length::from_um(650)), Length::from_um(9));
    assert_eq!(set.fewest(Length::from_um(7)), None);
    assert_eq!(LeafSet::new("twice".into(), vec![leaf(50), leaf(50)]), None);
    assert_eq!(LeafSet::new("empty".into(), vec![]), None);
}

#[test]
fn a_worn_leaf_counts_as_it_was_measured_and_keeps_its_stamp() {
    let um = Length::from_um;
    let leaf = |stamp, measured: Option<i64>| Leaf {
        thickness: um(stamp),
        tolerance: um(2),
        measured: measured.map(um),
    };
    let set = LeafSet::new("worn".into(), vec![leaf(50, None), leaf(500, Some(494))]).unwrap();
    assert_eq!(set.stacks().collect::<Vec<_>>(), [um(50), um(494), um(544)]);
    assert_eq!(set.really(um(550)), um(544), "0.50 + 0.05 by their stamps");
    assert_eq!(set.really(um(300)), um(300), "other leaves than these");
    let fewest = set.fewest(um(544)).unwrap();
    assert_eq!(fewest.iter().map(|leaf| leaf.thickness).collect::<Vec<_>>(), [um(50), um(500)]);
    assert_eq!(LeafSet::new("gone".into(), vec![leaf(50, Some(0))]), None);
}
