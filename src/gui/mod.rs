//! The window.
//!
//! Knows pixels, the pointer and the keyboard. Refuses to know the disk layout and the terminal, and
//! decides nothing about a gap: sentences and roundings come from `brief`, facts from `domain`.
//!
//! - [`App`]: one frame, from what is true to what was asked for.
//! - [`theme`]: every colour, size and text role, named by meaning.
//! - [`fonts`]: the embedded typefaces.
//! - [`paint`]: dashes, hatching and text that egui does not bring along.
//! - [`marks`]: the small drawn signs that carry meaning beside colour.
//! - `commands`: every command with its name and keys, in one table.
//! - `pages`: help, keys, palette, settings and about, over a screen.
//! - `plots`: gaps over service hours.
//! - [`widgets`]: one painted thing per file; they know egui and nothing else of ours.

mod app;
mod arrivals;
mod canvas;
mod commands;
mod effects;
pub mod fonts;
mod heat_runs;
mod in_turn;
mod insight;
mod long_job;
pub mod marks;
mod meaning;
mod pages;
pub mod paint;
mod picture;
mod plots;
mod screens;
mod shell;
mod tables;
pub mod theme;
mod vector;
pub mod widgets;
mod window;

pub use app::{App, Clock, Surroundings};
pub use canvas::Canvas;
pub use window::{Folders, NoWindow, Unopened, run};
