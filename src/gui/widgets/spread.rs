//! Labels along one line that must not overlap.
//!
//! Knows where they would like to be. Refuses to change their order.

/// Moves `wanted` middles as little as possible so that neighbours stand at least `pitch` apart
/// inside `bounds`; keeps their order.
///
/// Least squares under a fixed order is isotonic regression: subtract the steps, pool neighbours
/// that are out of order, add the steps again.
pub(crate) fn spread(wanted: &[f32], pitch: f32, [low, high]: [f32; 2]) -> Vec<f32> {
    let step = |index: usize| index as f32 * pitch;
    let mut pools: Vec<(f32, usize)> = Vec::new();
    for (index, at) in wanted.iter().enumerate() {
        let mut pool = (at - step(index), 1);
        while let Some(last) = pools.last().copied().filter(|last| pool.0 < last.0) {
            pools.pop();
            let count = pool.1 + last.1;
            pool = ((pool.0 * pool.1 as f32 + last.0 * last.1 as f32) / count as f32, count);
        }
        pools.push(pool);
    }
    let high = (high - step(wanted.len().saturating_sub(1))).max(low);
    let even =
        pools.iter().flat_map(|&(at, count)| std::iter::repeat_n(at.clamp(low, high), count));
    even.enumerate().map(|(index, at)| at + step(index)).collect()
}

#[test]
fn labels_never_overlap_and_stay_in_order() {
    for wanted in [
        vec![10.0, 11.0, 12.0, 300.0],
        vec![50.0, 50.0, 50.0],
        vec![-90.0, 500.0, 501.0],
        vec![0.0, 100.0, 200.0, 300.0],
    ] {
        let placed = spread(&wanted, 60.0, [30.0, 370.0]);
        assert_eq!(placed.len(), wanted.len());
        for pair in placed.windows(2) {
            assert!(59.99 <= pair[1] - pair[0], "{wanted:?} gave {placed:?}");
        }
        assert!(placed.iter().all(|at| (29.9..=370.1).contains(at)), "{placed:?}");
    }
    assert_eq!(spread(&[40.0, 140.0], 60.0, [30.0, 370.0]), [40.0, 140.0], "no need to move");
    assert!(spread(&[], 60.0, [30.0, 370.0]).is_empty());
}
