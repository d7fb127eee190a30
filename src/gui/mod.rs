//! The window.
//!
//! Knows pixels, the pointer and the keyboard. Refuses to know the disk layout and the terminal, and
//! decides nothing about a gap: sentences and roundings come from `brief`, facts from `domain`.
//!
//! - [`theme`]: every colour, size and text role, named by meaning.
//! - [`fonts`]: the embedded typefaces.

pub mod fonts;
pub mod theme;
