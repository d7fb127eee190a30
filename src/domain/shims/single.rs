//! The best pack for one seat that has the shelf to itself.

use crate::domain::{
    quantity::Length,
    shims::{
        PackPlan, Seat, Shortfall,
        seat::Worth,
        sums::{Keep, Sums, count, subsets},
    },
    yard::ShelfItem,
};

/// Finds the pack that brings every station into its range.
///
/// Worst station closest to its target first, then fewest shims moved, then closest over the
/// length.
///
/// # Errors
///
/// [`Shortfall`] if there is none; every pack was tried.
pub fn plan(seat: &Seat, shelf: &[ShelfItem]) -> Result<PackPlan, Shortfall> {
    let most = usize::from(seat.rules.most_shims);
    best(seat, &Sums::of(shelf, most, seat.rules.thickest))
}

/// The same from sums that are known already and reach at least as far as the rules of the seat.
pub(crate) fn best(seat: &Seat, sums: &Sums) -> Result<PackPlan, Shortfall> {
    let (low, high) = seat.wanted_range()?;
    let most = usize::from(seat.rules.most_shims);
    let now = seat.total_now();
    let mut best: Option<(Worth, &Keep, &[u16], Length)> = None;
    let keeps = subsets(&seat.pack, most);
    for keep in &keeps {
        let (kept, out) = keep;
        let kept_total: Length = kept.iter().copied().sum();
        let grown = kept_total - now;
        let top = (high - grown).min(seat.rules.thickest - kept_total);
        for (sum, uses) in sums.between(low - grown, top) {
            if most < kept.len() + count(uses) {
                continue;
            }
            let worth = seat.worth(grown + sum, count(uses) + out.len());
            if best.as_ref().is_none_or(|(known, ..)| worth < *known) {
                best = Some((worth, keep, uses, grown + sum));
            }
        }
    }
    let Some((worth, (_, out), uses, change)) = best else {
        return Err(shortfall(seat, &keeps, sums, (low, high)));
    };
    let (after, worst) = (seat.after(change), Length::from_nm(worth.0));
    Ok(PackPlan { put_in: sums.shims(uses), take_out: out.clone(), after, worst })
}

fn shortfall(seat: &Seat, keeps: &[Keep], sums: &Sums, (low, high): (Length, Length)) -> Shortfall {
    let now = seat.total_now();
    if seat.rules.thickest < now + low {
        return Shortfall::PackFull { needed: now + low, allowed: seat.rules.thickest };
    }
    if now + high < Length::ZERO {
        return Shortfall::PackEmpty;
    }
    let most = usize::from(seat.rules.most_shims);
    let (mut below, mut above): (Option<Length>, Option<Length>) = (None, None);
    for (kept, _) in keeps {
        let total: Length = kept.iter().copied().sum();
        for (sum, uses) in sums.all() {
            if most < kept.len() + count(uses) || seat.rules.thickest < total + sum {
                continue;
            }
            let change = total + sum - now;
            if change < low {
                below = Some(below.map_or(change, |known| known.max(change)));
            } else {
                above = Some(above.map_or(change, |known| known.min(change)));
            }
        }
    }
    Shortfall::ShelfCannot { wanted: (low + high).half(), least: low, most: high, below, above }
}
