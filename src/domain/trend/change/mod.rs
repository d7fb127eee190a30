//! The moment something changed that nobody wrote down.
//!
//! Knows readings between two recorded interventions and where breaking their line pays. Does not
//! know what was done, only when a gap jumped or began to grow otherwise.

mod pieces;

pub use pieces::{Partition, Piece, partitions};

use crate::domain::trend::{Model, Observation, Segmented, count, segments::one_line_inside};

/// What a break did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChangeKind {
    /// The gap is tighter behind it.
    Fell,
    /// The gap is wider behind it.
    Rose,
    /// The gap goes on where it was but grows faster.
    Faster,
    /// It grows more slowly, or shrinks.
    Slower,
}

/// A break between two readings for which no work is recorded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// What it did: a step counts from one leaf step and twice the scatter on.
    pub kind: ChangeKind,
    /// The first reading behind it, by its place among the station's observations.
    pub place: usize,
    /// Service hours of the last reading before it and of the first one behind.
    pub between_h: (f64, f64),
    /// By how much the gap is wider behind it, in mm; negative if it fell.
    pub step_mm: f64,
    /// Growth before it, in mm per hour.
    pub rate_before: f64,
    /// Growth behind it.
    pub rate_after: f64,
}

/// A line needs this many readings before a break may end it.
const LEAST: usize = 4;
/// More breaks than this between two recorded interventions are not a record with a gap in it.
const MOST: usize = 3;
/// How much better than an unbroken line: differences of `BIC` above 10 are "very strong" evidence,
/// Kass and Raftery, J. Am. Stat. Assoc. 90 (1995) 773.
const EVIDENCE: f64 = 10.0;

/// Breaks that no recorded work explains, oldest first.
///
/// Within each stretch between recorded interventions, readings with two ends count with their
/// middle, and up to three breaks cut the stretch into straight lines. The number of breaks is the
/// one with the smallest `BIC` = n·(ln(2π·RSS/n) + 1) + 3·(pieces)·ln n, a level, a rate and a
/// place each; the unbroken line stays unless that beats it by ten, and wherever it passes inside
/// every bracket: then no reading objects to it, and where a middle jumps from one leaf to the next
/// nothing else did. RSS/n counts as at least half of w²/12, what leaves w apart do to a
/// middle, so that a line cannot fit better than leaves can
/// tell.
pub(crate) fn unrecorded(observations: &[Observation]) -> Vec<Change> {
    let mut found = Vec::new();
    let mut begins = 0;
    for stretch in observations.chunk_by(|a, b| a.segment == b.segment) {
        let numbered = (begins..).zip(stretch);
        begins += stretch.len();
        if one_line_inside(stretch) {
            continue;
        }
        let closed: Vec<(usize, f64, f64, f64)> = numbered
            .filter_map(|(place, it)| Some((place, it.x, it.low.zip(it.high)?)))
            .map(|(place, x, (low, high))| (place, x, f64::midpoint(low, high), high - low))
            .collect();
        let points: Vec<(f64, f64)> = closed.iter().map(|&(_, x, y, _)| (x, y)).collect();
        let squares: f64 = closed.iter().map(|(_, _, _, width)| width * width).sum();
        let floor = squares / count(closed.len().max(1)) / 12.0;
        let tried = partitions(&points, Piece::Line, LEAST, MOST, floor);
        let Some(unbroken) = tried.first().map(|it| it.bic) else { continue };
        let best = tried.iter().min_by(|a, b| a.bic.total_cmp(&b.bic));
        let Some(best) = best.filter(|it| it.bic + EVIDENCE < unbroken) else { continue };
        if !brackets_agree(stretch, &best.breaks) {
            continue;
        }
        let deviation = (best.squares / count(points.len())).sqrt();
        let width = (squares / count(closed.len())).sqrt();
        let least_step = width.max(2.0 * deviation);
        let mut lines = best.pieces(&points);
        let mut before = lines.next();
        for (behind, &at) in lines.zip(&best.breaks) {
            if let (Some(line), Some(behind)) = (before.flatten(), behind)
                && let (Some(last), Some(first)) = (closed.get(at - 1), closed.get(at))
            {
                let middle = f64::midpoint(last.1, first.1);
                let step_mm = behind.at(middle) - line.at(middle);
                found.push(Change {
                    kind: kind(step_mm, least_step, line.rate, behind.rate),
                    place: first.0,
                    between_h: (last.1, first.1),
                    step_mm,
                    rate_before: line.rate,
                    rate_after: behind.rate,
                });
            }
            before = Some(behind);
        }
    }
    found
}

/// Whether the brackets themselves are so much more likely about lines broken there; the places
/// count closed readings. Without a likelihood, as for exact readings on a line, squares decide.
fn brackets_agree(stretch: &[Observation], breaks: &[usize]) -> bool {
    let closed = stretch.iter().filter(|it| it.is_closed());
    let mut pieces: Vec<Observation> =
        closed.map(|it| Observation { segment: 0, edge_age: None, ..*it }).collect();
    let likelihood = |it: &[Observation]| {
        Segmented::fit_with(it, Model::OwnLines).ok().and_then(|fitted| fitted.log_likelihood)
    };
    let unbroken = likelihood(&pieces);
    for &from in breaks {
        for it in pieces.iter_mut().skip(from) {
            it.segment += 1;
        }
    }
    let Some((unbroken, broken)) = unbroken.zip(likelihood(&pieces)) else { return true };
    let numbers = count(3 * breaks.len());
    numbers * count(pieces.len()).ln() + EVIDENCE < 2.0 * (broken - unbroken)
}

fn kind(step_mm: f64, least_step: f64, before: f64, after: f64) -> ChangeKind {
    if least_step <= step_mm {
        ChangeKind::Rose
    } else if step_mm <= -least_step {
        ChangeKind::Fell
    } else if before < after {
        ChangeKind::Faster
    } else {
        ChangeKind::Slower
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn felt(x: f64, y: f64) -> Observation {
        let low = (y / 0.05).floor() * 0.05;
        Observation { x, low: Some(low), high: Some(low + 0.05), segment: 0, edge_age: None }
    }

    fn row(gap: impl Fn(f64) -> f64) -> Vec<Observation> {
        (0..30_u8).map(|look| 8.0 * f64::from(look)).map(|x| felt(x, gap(x))).collect()
    }

    #[test]
    fn a_gap_that_fell_without_work_is_found_and_steady_wear_is_not() {
        let wobble = |x: f64| 0.02 * (x * 0.37).sin();
        let steady = row(|x| 0.4 + 0.005 * x + wobble(x));
        assert_eq!(unrecorded(&steady), []);

        let fell = row(|x| 0.4 + 0.005 * x + wobble(x) - if 120.0 <= x { 0.4 } else { 0.0 });
        let found = unrecorded(&fell);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!((found[0].between_h, found[0].place), ((112.0, 120.0), 15));
        assert!((found[0].step_mm + 0.4).abs() < 0.05, "{found:?}");
        assert_eq!(found[0].kind, ChangeKind::Fell);

        let harder = row(|x| 0.4 + 0.004 * x + wobble(x) + 0.008 * (x - 120.0).max(0.0));
        let found = unrecorded(&harder);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!((found[0].rate_after - 0.012).abs() < 0.001 && found[0].kind == ChangeKind::Faster);
    }

    /// The middles jump by a leaf step, the gap does not.
    #[test]
    fn a_gap_that_grows_slower_than_leaves_can_tell_has_no_break() {
        assert_eq!(unrecorded(&row(|x| 0.446_5 + 0.000_1 * x)), []);
        assert_eq!(unrecorded(&row(|x| 0.48 + 0.000_2 * x)), []);
    }

    #[test]
    fn recorded_work_is_no_discovery_and_open_ends_do_not_stumble() {
        let mut worked = row(|x| 0.4 + 0.005 * x - if 120.0 <= x { 0.4 } else { 0.0 });
        for it in worked.iter_mut().skip(15) {
            it.segment = 1;
        }
        assert_eq!(unrecorded(&worked), []);
        for it in &mut worked {
            it.high = None;
        }
        assert_eq!(unrecorded(&worked), []);
        assert_eq!(unrecorded(&[]), []);
    }
}
