//! What shims add up to.
//!
//! A pack is a multiset of shims. Two ways to one thickness differ only in how many shims they
//! take, and in what they leave on a shelf that others draw on too.

use crate::domain::{quantity::Length, yard::ShelfItem};
use std::collections::BTreeMap;

/// A way to keep some of a pack and take the rest out, both thickest first.
pub(crate) type Keep = (Vec<Length>, Vec<Length>);

/// Every way to keep at most so many shims of a pack.
pub(crate) fn subsets(pack: &[Length], most: usize) -> Vec<Keep> {
    let mut ways = vec![(Vec::new(), Vec::new())];
    let mut sorted = pack.to_vec();
    sorted.sort_by(|a, b| b.cmp(a));
    for shim in sorted {
        ways = ways
            .into_iter()
            .flat_map(|(kept, out): Keep| {
                let mut keep = (kept.clone(), out.clone());
                keep.0.push(shim);
                let mut take = (kept, out);
                take.1.push(shim);
                [keep, take]
            })
            .collect();
        // A log can hold a pack that no rule allows; its ways must not fill the memory.
        ways.retain(|(kept, _)| kept.len() <= most);
        // Equal shims make equal ways; a pack of ten like shims has eleven, not 1 024.
        ways.sort();
        ways.dedup();
    }
    ways
}

/// Every thickness that shelf shims add up to, with the fewest shims for it, thickest first.
#[derive(Clone, Debug)]
pub(crate) struct Sums(BTreeMap<Length, Vec<Length>>);

impl Sums {
    /// Of at most so many shims, no thicker than `thickest` together.
    pub(crate) fn of(shelf: &[ShelfItem], most: usize, thickest: Length) -> Self {
        let mut sums = BTreeMap::from([(Length::ZERO, Vec::new())]);
        for item in thickest_first(shelf) {
            let before: Vec<(Length, Vec<Length>)> =
                sums.iter().map(|(sum, shims)| (*sum, shims.clone())).collect();
            for (sum, shims) in before {
                let mut total = sum;
                for more in 1..=usize::from(item.count) {
                    total = total + item.thickness;
                    let count = shims.len() + more;
                    if most < count || thickest < total {
                        break;
                    }
                    if sums.get(&total).is_none_or(|known| count < known.len()) {
                        let mut grown = shims.clone();
                        grown.resize(count, item.thickness);
                        sums.insert(total, grown);
                    }
                }
            }
        }
        Self(sums)
    }

    /// The sums from `low` to `high`.
    pub(crate) fn between(
        &self,
        low: Length,
        high: Length,
    ) -> impl Iterator<Item = (Length, &[Length])> {
        let range = (low <= high).then(|| self.0.range(low..=high));
        range.into_iter().flatten().map(|(sum, shims)| (*sum, shims.as_slice()))
    }

    /// All sums.
    pub(crate) fn all(&self) -> impl Iterator<Item = (Length, &[Length])> {
        self.0.iter().map(|(sum, shims)| (*sum, shims.as_slice()))
    }
}

/// Shims that are there, thickest first, one row for each thickness.
pub(crate) fn thickest_first(shelf: &[ShelfItem]) -> Vec<ShelfItem> {
    let mut by_thickness: BTreeMap<Length, u16> = BTreeMap::new();
    for item in shelf.iter().filter(|item| Length::ZERO < item.thickness && 0 < item.count) {
        let count = by_thickness.entry(item.thickness).or_default();
        *count = count.saturating_add(item.count);
    }
    let items = by_thickness.into_iter().rev();
    items.map(|(thickness, count)| ShelfItem { thickness, count }).collect()
}
