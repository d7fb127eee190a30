//! One thing done to each of many, on all processors.
//!
//! Knows threads and order: the answers come in the order of the questions, whoever was faster.

use crate::store::Progress;
use std::{
    num::NonZero,
    sync::atomic::{AtomicUsize, Ordering},
    thread,
};

/// A thread takes so many at once, so that the counter is not what they wait for.
const HANDFUL: usize = 16;

/// `act` on every item. Stops early, with what is done by then, once `progress` is cancelled.
pub(crate) fn on_each<T: Sync, R: Send>(
    items: &[T],
    progress: &Progress,
    act: impl Fn(&T) -> R + Sync,
) -> Vec<R> {
    progress.expect(items.len());
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        while !progress.is_cancelled() {
            let first = next.fetch_add(HANDFUL, Ordering::Relaxed);
            let Some(left) = items.get(first..).filter(|left| !left.is_empty()) else { break };
            for (place, item) in (first..).zip(left.iter().take(HANDFUL)) {
                done.push((place, act(item)));
                progress.step();
            }
        }
        done
    };
    let threads = thread::available_parallelism().map_or(1, NonZero::get);
    let threads = threads.min(items.len().div_ceil(HANDFUL));
    let mut done: Vec<(usize, R)> = if threads < 2 {
        work()
    } else {
        thread::scope(|scope| {
            let others: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
            let mut done = work();
            for other in others {
                match other.join() {
                    Ok(more) => done.extend(more),
                    Err(panic) => std::panic::resume_unwind(panic),
                }
            }
            done
        })
    };
    done.sort_by_key(|(place, _)| *place);
    done.into_iter().map(|(_, answer)| answer).collect()
}

#[test]
fn answers_come_in_the_order_of_the_questions_until_nobody_asks() {
    let numbers: Vec<usize> = (0..1_000).collect();
    let progress = Progress::default();
    let doubled = on_each(&numbers, &progress, |it| 2 * it);
    assert_eq!(doubled, numbers.iter().map(|it| 2 * it).collect::<Vec<_>>());
    assert_eq!(progress.so_far(), (1_000, 1_000));
    assert_eq!(on_each(&[] as &[usize], &progress, |it| *it), Vec::<usize>::new());
    progress.cancel();
    assert_eq!(on_each(&numbers, &progress, |it| *it), Vec::<usize>::new());
}
