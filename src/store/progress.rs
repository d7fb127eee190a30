//! How far something long has come, and whether somebody still wants it.
//!
//! Shared between the thread that works and the one that shows; knows counts and nothing else.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// How far something has come.
#[derive(Debug, Default)]
pub struct Progress {
    done: AtomicUsize,
    of: AtomicUsize,
    cancelled: AtomicBool,
}

impl Progress {
    /// So many more pieces are to be done.
    pub fn expect(&self, pieces: usize) {
        self.of.fetch_add(pieces, Ordering::Relaxed);
    }

    /// One more piece is done.
    pub fn step(&self) {
        self.done.fetch_add(1, Ordering::Relaxed);
    }

    /// Pieces done, and pieces known of so far.
    pub fn so_far(&self) -> (usize, usize) {
        (self.done.load(Ordering::Relaxed), self.of.load(Ordering::Relaxed))
    }

    /// Nobody wants it any more.
    pub fn cancel(&self) {
        self.cancelled.store(true, Ordering::Relaxed);
    }

    /// Whether nobody wants it any more.
    pub fn is_cancelled(&self) -> bool {
        self.cancelled.load(Ordering::Relaxed)
    }
}
