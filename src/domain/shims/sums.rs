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

/// Shims of each thickness, in the order of the shelf, thickest first.
pub(crate) type Uses = Vec<u16>;

/// How many shims these are.
pub(crate) fn count(uses: &[u16]) -> usize {
    uses.iter().map(|it| usize::from(*it)).sum()
}

/// The fewest and the most shims of each thickness that may be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Bounds {
    pub(crate) least: Uses,
    pub(crate) most: Uses,
}

impl Bounds {
    pub(crate) fn hold(&self, uses: &[u16]) -> bool {
        let each = uses.iter().zip(self.least.iter().zip(&self.most));
        each.into_iter().all(|(used, (least, most))| least <= used && used <= most)
    }
}

/// Every thickness that shelf shims add up to, with the fewest shims for it.
#[derive(Clone, Debug)]
pub(crate) struct Sums {
    /// Thickest first, one row for each thickness.
    items: Vec<ShelfItem>,
    made: BTreeMap<Length, Uses>,
}

impl Sums {
    /// Of at most so many shims, no thicker than `thickest` together.
    pub(crate) fn of(shelf: &[ShelfItem], most: usize, thickest: Length) -> Self {
        let items = thickest_first(shelf);
        let mut made = BTreeMap::from([(Length::ZERO, vec![0; items.len()])]);
        for (place, item) in items.iter().enumerate() {
            let before: Vec<(Length, Uses)> =
                made.iter().map(|(sum, uses)| (*sum, uses.clone())).collect();
            for (sum, uses) in before {
                let mut total = sum;
                let had = count(&uses);
                for more in 1..=item.count {
                    total = total + item.thickness;
                    let shims = had + usize::from(more);
                    if most < shims || thickest < total {
                        break;
                    }
                    if made.get(&total).is_none_or(|known| shims < count(known)) {
                        let mut grown = uses.clone();
                        if let Some(used) = grown.get_mut(place) {
                            *used = more;
                        }
                        made.insert(total, grown);
                    }
                }
            }
        }
        Self { items, made }
    }

    /// The shelf, thickest first, one row for each thickness.
    pub(crate) fn items(&self) -> &[ShelfItem] {
        &self.items
    }

    /// The shims themselves, thickest first.
    pub(crate) fn shims(&self, uses: &[u16]) -> Vec<Length> {
        let each = self.items.iter().zip(uses);
        each.flat_map(|(item, used)| std::iter::repeat_n(item.thickness, usize::from(*used)))
            .collect()
    }

    /// The sums from `low` to `high`, each with the fewest shims for it.
    pub(crate) fn between(
        &self,
        low: Length,
        high: Length,
    ) -> impl Iterator<Item = (Length, &[u16])> {
        let range = (low <= high).then(|| self.made.range(low..=high));
        range.into_iter().flatten().map(|(sum, uses)| (*sum, uses.as_slice()))
    }

    /// All sums.
    pub(crate) fn all(&self) -> impl Iterator<Item = (Length, &[u16])> {
        self.made.iter().map(|(sum, uses)| (*sum, uses.as_slice()))
    }

    /// The fewest shims within bounds for a sum that the shelf makes with `fewest`; `None` if it
    /// takes more than `most`.
    pub(crate) fn within(
        &self,
        sum: Length,
        fewest: &[u16],
        bounds: &Bounds,
        most: usize,
    ) -> Option<Uses> {
        let known = count(fewest);
        if most < known || bounds.hold(fewest) {
            return (known <= most).then(|| fewest.to_vec());
        }
        let mut uses = bounds.least.clone();
        let fixed = count(&uses);
        let rest = sum - self.shims(&uses).into_iter().sum();
        (known.max(fixed)..=most)
            .any(|shims| self.fill(0, rest, shims - fixed, bounds, &mut uses))
            .then_some(uses)
    }

    /// Adds exactly so many shims from place `at` on that make up the rest.
    fn fill(
        &self,
        at: usize,
        rest: Length,
        shims: usize,
        bounds: &Bounds,
        uses: &mut [u16],
    ) -> bool {
        if shims == 0 {
            return rest == Length::ZERO;
        }
        let (Some(item), Some(thinnest)) = (self.items.get(at), self.items.last()) else {
            return false;
        };
        // Thinner ones follow: so many of these at most, so many of the last at least.
        let times = i64::try_from(shims).unwrap_or(i64::MAX);
        if item.thickness.times(times) < rest || rest < thinnest.thickness.times(times) {
            return false;
        }
        let least = bounds.least.get(at).copied().unwrap_or(0);
        let most = bounds.most.get(at).map_or(0, |most| most.saturating_sub(least));
        let fits = u16::try_from(shims).unwrap_or(u16::MAX).min(most);
        for more in (0..=fits).rev() {
            let left = rest - item.thickness.times(i64::from(more));
            if left < Length::ZERO {
                continue;
            }
            if let Some(used) = uses.get_mut(at) {
                *used = least + more;
            }
            if self.fill(at + 1, left, shims - usize::from(more), bounds, uses) {
                return true;
            }
        }
        if let Some(used) = uses.get_mut(at) {
            *used = least;
        }
        false
    }
}

/// Shims that are there, thickest first, one row for each thickness.
fn thickest_first(shelf: &[ShelfItem]) -> Vec<ShelfItem> {
    let mut by_thickness: BTreeMap<Length, u16> = BTreeMap::new();
    for item in shelf.iter().filter(|item| Length::ZERO < item.thickness && 0 < item.count) {
        let count = by_thickness.entry(item.thickness).or_default();
        *count = count.saturating_add(item.count);
    }
    let items = by_thickness.into_iter().rev();
    items.map(|(thickness, count)| ShelfItem { thickness, count }).collect()
}
