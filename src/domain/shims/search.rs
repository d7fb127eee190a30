//! Blades that want more of a thickness than the shelf has.
//!
//! Branch and bound, best first. Each blade gets the best packs that the bounds of the node leave
//! it, as if the rest of the shelf were its own: no choice below a node is better than that. Where
//! all of them together fit the shelf, nothing left to look at can be better. Where they do not,
//! one seat that takes a thickness of which there is too little either takes fewer, or has what it
//! takes set aside for it.

use crate::domain::{
    quantity::Length,
    shims::{
        bed::{Footing, JointWorth, Laid, Way, joint, ways},
        sums::{Bounds, Sums, count},
    },
};
use std::{
    cmp::{Ordering, Reverse},
    collections::BinaryHeap,
    rc::Rc,
};

/// The most nodes before the search settles for the first answer it finds.
const NODES_MOST: usize = 150;
/// The most nodes on the way to that.
const DIVE_MOST: usize = 50;

/// What the search came to.
pub(crate) struct Found {
    /// One for each blade; `None` if the shelf cannot serve them all.
    pub(crate) laid: Option<Vec<Rc<Laid>>>,
    /// Whether nothing was left out.
    pub(crate) proven: bool,
}

/// A blade in a node.
#[derive(Clone)]
struct Blade {
    bounds: Vec<Rc<Bounds>>,
    ways: Rc<Vec<Vec<Rc<Vec<Way>>>>>,
    laid: Rc<Laid>,
}

#[derive(Clone)]
struct Node {
    worth: JointWorth,
    depth: usize,
    blades: Vec<Blade>,
}

/// A seat that takes so many of a thickness of which there is too little.
struct Conflict {
    blade: usize,
    seat: usize,
    item: usize,
    used: u16,
}

pub(crate) struct Search<'a> {
    pub(crate) beds: &'a [Vec<Footing>],
    pub(crate) sums: &'a Sums,
}

impl Search<'_> {
    /// The best packs for every blade from one shelf; an error names a blade that has no way even
    /// with the shelf to itself.
    pub(crate) fn best(&self) -> Result<Found, usize> {
        let stock: Vec<u16> = self.sums.items().iter().map(|item| item.count).collect();
        let free = Rc::new(Bounds { least: vec![0; stock.len()], most: stock.clone() });
        let blade = |(place, footings): (usize, &Vec<Footing>)| {
            let seats = footings.first().map_or(0, |it| it.seats.len());
            let bounds = vec![Rc::clone(&free); seats];
            self.lay(footings, bounds, None).ok_or(place)
        };
        let blades: Vec<Blade> =
            self.beds.iter().enumerate().map(blade).collect::<Result<_, usize>>()?;
        if self.surely_too_little(&blades) {
            return Ok(Found { laid: None, proven: true });
        }
        let mut open = BinaryHeap::from([Reverse(Node::of(blades, 0))]);
        let mut looked = 0;
        while let Some(Reverse(node)) = open.pop() {
            let Some(conflict) = conflict(&node, &stock) else {
                return Ok(Found { laid: Some(node.laid()), proven: true });
            };
            looked += 1;
            if NODES_MOST < looked {
                let laid = self.dive(node, &stock, &mut 0);
                return Ok(Found { laid, proven: false });
            }
            open.extend(self.children(&node, &conflict, &stock).into_iter().map(Reverse));
        }
        Ok(Found { laid: None, proven: true })
    }

    /// Whether even the least that each blade could do with is more than there is, in thickness or
    /// in shims.
    fn surely_too_little(&self, blades: &[Blade]) -> bool {
        let thick = |uses: &[u16]| {
            let each = self.sums.items().iter().zip(uses);
            each.map(|(item, used)| item.thickness.times(i64::from(*used))).sum::<Length>().nm()
        };
        let shims = |uses: &[u16]| i64::try_from(count(uses)).unwrap_or(i64::MAX);
        let stock: Vec<u16> = self.sums.items().iter().map(|item| item.count).collect();
        let short = |of: &dyn Fn(&[u16]) -> i64| {
            let seat = |ways: &Rc<Vec<Way>>| ways.iter().map(|way| of(&way.uses)).min();
            let footing =
                |seats: &Vec<Rc<Vec<Way>>>| -> Option<i64> { seats.iter().map(seat).sum() };
            let least = blades.iter().filter_map(|it| it.ways.iter().filter_map(footing).min());
            of(&stock) < least.sum::<i64>()
        };
        short(&thick) || short(&shims)
    }

    /// The first answer below a node, the better child first.
    fn dive(&self, node: Node, stock: &[u16], steps: &mut usize) -> Option<Vec<Rc<Laid>>> {
        *steps += 1;
        let Some(conflict) = conflict(&node, stock) else { return Some(node.laid()) };
        if DIVE_MOST < *steps {
            return None;
        }
        let mut children = self.children(&node, &conflict, stock);
        children.sort();
        children.into_iter().find_map(|child| self.dive(child, stock, steps))
    }

    /// The seat takes fewer, or has what it takes set aside.
    fn children(&self, node: &Node, conflict: &Conflict, stock: &[u16]) -> Vec<Node> {
        let fewer = |bounds: &mut Bounds| {
            if let Some(most) = bounds.most.get_mut(conflict.item) {
                *most = conflict.used.saturating_sub(1);
            }
        };
        let aside = |bounds: &mut Bounds| {
            if let Some(least) = bounds.least.get_mut(conflict.item) {
                *least = conflict.used;
            }
        };
        let changes: [&dyn Fn(&mut Bounds); 2] = [&fewer, &aside];
        changes.into_iter().filter_map(|change| self.child(node, conflict, change, stock)).collect()
    }

    fn child(
        &self,
        node: &Node,
        conflict: &Conflict,
        change: &dyn Fn(&mut Bounds),
        stock: &[u16],
    ) -> Option<Node> {
        let mut bounds: Vec<Vec<Rc<Bounds>>> =
            node.blades.iter().map(|blade| blade.bounds.clone()).collect();
        let own = bounds.get_mut(conflict.blade)?.get_mut(conflict.seat)?;
        change(Rc::make_mut(own));
        let item = conflict.item;
        let aside: u32 = bounds
            .iter()
            .flatten()
            .filter_map(|it| it.least.get(item))
            .map(|it| u32::from(*it))
            .sum();
        let left = u32::from(*stock.get(item)?).checked_sub(aside)?;
        for own in bounds.iter_mut().flatten() {
            let least = own.least.get(item).copied()?;
            let most = u16::try_from(left + u32::from(least)).unwrap_or(u16::MAX);
            if own.most.get(item).is_some_and(|known| most < *known) {
                *Rc::make_mut(own).most.get_mut(item)? = most;
            }
        }
        let blades = node.blades.iter().zip(self.beds).zip(bounds).map(|((blade, bed), bounds)| {
            let same = blade.bounds.iter().zip(&bounds).all(|(was, is)| Rc::ptr_eq(was, is));
            if same { Some(blade.clone()) } else { self.lay(bed, bounds, Some(blade)) }
        });
        Some(Node::of(blades.collect::<Option<_>>()?, node.depth + 1))
    }

    /// The best packs of one blade within bounds; ways of the node before that keep to them stay.
    fn lay(
        &self,
        bed: &[Footing],
        bounds: Vec<Rc<Bounds>>,
        before: Option<&Blade>,
    ) -> Option<Blade> {
        let of = |footing: usize, seat: usize| -> Option<Rc<Vec<Way>>> {
            let known = before?.ways.get(footing)?.get(seat)?;
            let bounds = bounds.get(seat)?;
            known.iter().all(|way| bounds.hold(&way.uses)).then(|| Rc::clone(known))
        };
        let mut changed = false;
        let ways: Vec<Vec<Rc<Vec<Way>>>> = bed
            .iter()
            .enumerate()
            .map(|(footing, on)| {
                let each = on.seats.iter().zip(&bounds).enumerate();
                each.map(|(place, (seat, bounds))| {
                    of(footing, place).unwrap_or_else(|| {
                        changed = true;
                        Rc::new(ways(seat, self.sums, bounds))
                    })
                })
                .collect()
            })
            .collect();
        if let Some(before) = before.filter(|_| !changed) {
            let (ways, laid) = (Rc::clone(&before.ways), Rc::clone(&before.laid));
            return Some(Blade { bounds, ways, laid });
        }
        let laid = Rc::new(Laid::best(bed, &ways)?);
        Some(Blade { bounds, ways: Rc::new(ways), laid })
    }
}

/// The thickness of which most is missing, and the seat that takes most of it.
fn conflict(node: &Node, stock: &[u16]) -> Option<Conflict> {
    let taken = |item: usize| {
        let ways = node.blades.iter().flat_map(|blade| &blade.laid.picked);
        ways.filter_map(|way| way.uses.get(item)).map(|used| u32::from(*used)).sum::<u32>()
    };
    let missing = stock
        .iter()
        .enumerate()
        .map(|(item, stock)| (taken(item).saturating_sub(u32::from(*stock)), Reverse(item)));
    let (_, Reverse(item)) = missing.filter(|(missing, _)| 0 < *missing).max()?;
    let mut most: Option<Conflict> = None;
    for (place, blade) in node.blades.iter().enumerate() {
        for (seat, (way, bounds)) in blade.laid.picked.iter().zip(&blade.bounds).enumerate() {
            let (Some(used), Some(least)) = (way.uses.get(item), bounds.least.get(item)) else {
                continue;
            };
            if *least < *used && most.as_ref().is_none_or(|known| known.used < *used) {
                most = Some(Conflict { blade: place, seat, item, used: *used });
            }
        }
    }
    most
}

impl Node {
    fn of(blades: Vec<Blade>, depth: usize) -> Self {
        let worth = joint(blades.iter().map(|blade| &blade.laid.worth));
        Self { worth, depth, blades }
    }

    fn laid(self) -> Vec<Rc<Laid>> {
        self.blades.into_iter().map(|blade| blade.laid).collect()
    }
}

/// The best comes first; of equals the deepest, which is nearest to an answer.
impl Ord for Node {
    fn cmp(&self, other: &Self) -> Ordering {
        self.worth.cmp(&other.worth).then_with(|| other.depth.cmp(&self.depth))
    }
}

impl PartialOrd for Node {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Node {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Node {}
