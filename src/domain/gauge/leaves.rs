//! The set of leaves in the toolbox and the stacks it can make.

use crate::domain::quantity::Length;

/// The most leaves used together: trapped oil and air make thicker stacks read wrong.
pub const STACK_MOST: usize = 3;

/// One feeler leaf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leaf {
    /// As stamped.
    pub thickness: Length,
    /// Half-width of what its maker allows around it.
    pub tolerance: Length,
}

/// The leaves one person carries.
///
/// Invariant: at least one leaf, thicknesses above zero, sorted, none twice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeafSet {
    name: String,
    leaves: Vec<Leaf>,
}

impl LeafSet {
    /// A set with a name; sorts the leaves.
    ///
    /// `None` if there is no leaf, one is not above zero, or two are the same.
    pub fn new(name: String, mut leaves: Vec<Leaf>) -> Option<Self> {
        leaves.sort_by_key(|leaf| leaf.thickness);
        let thick = leaves.first().is_some_and(|leaf| Length::ZERO < leaf.thickness);
        let distinct =
            leaves.iter().zip(leaves.iter().skip(1)).all(|(a, b)| a.thickness < b.thickness);
        (thick && distinct).then_some(Self { name, leaves })
    }

    /// What it is called.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The leaves, thinnest first.
    pub fn leaves(&self) -> &[Leaf] {
        &self.leaves
    }

    /// Every thickness that a stack of up to [`STACK_MOST`] leaves makes, thinnest first.
    pub fn stacks(&self) -> Vec<Length> {
        let mut sums = vec![Length::ZERO];
        let mut layers: Vec<(usize, Length)> = vec![(0, Length::ZERO)];
        for _ in 0..STACK_MOST {
            let mut next = Vec::new();
            for (start, sum) in layers {
                for (place, leaf) in self.leaves.iter().enumerate().skip(start) {
                    sums.push(sum + leaf.thickness);
                    next.push((place + 1, sum + leaf.thickness));
                }
            }
            layers = next;
        }
        sums.retain(|sum| Length::ZERO < *sum);
        sums.sort();
        sums.dedup();
        sums
    }

    /// The thinnest stack above `floor`.
    pub fn next_above(&self, floor: Length) -> Option<Length> {
        self.stacks().into_iter().find(|stack| floor < *stack)
    }
}

#[test]
fn stacks_are_sums_of_up_to_three_different_leaves() {
    let leaf = |um| Leaf { thickness: Length::from_um(um), tolerance: Length::from_um(3) };
    let set =
        LeafSet::new("pocket".into(), vec![leaf(500), leaf(50), leaf(100), leaf(1000)]).unwrap();
    let stacks: Vec<i64> = set.stacks().iter().map(|stack| stack.nm() / 1000).collect();
    assert_eq!(
        stacks,
        [50, 100, 150, 500, 550, 600, 650, 1000, 1050, 1100, 1150, 1500, 1550, 1600]
    );
    assert_eq!(set.next_above(Length::from_um(150)), Some(Length::from_um(500)));
    assert_eq!(LeafSet::new("twice".into(), vec![leaf(50), leaf(50)]), None);
    assert_eq!(LeafSet::new("empty".into(), vec![]), None);
}
