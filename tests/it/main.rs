//! What crosses a room is tested here, in one binary, so that the window links once.
//!
//! Knows only what a user of the library or of the program could know.
// Says the obvious, so that clippy's `allow-…-in-tests` reaches helper functions too.
#![cfg(test)]

mod access;
mod arrivals;
mod bad_input;
mod breaks;
mod causes;
mod charts;
mod cli;
mod corners;
mod coverage;
mod crash;
mod cut;
mod damage;
mod decide;
mod decisions;
mod desk;
mod disk;
mod drawings;
#[path = "../benches/draws.rs"]
mod draws;
mod edges;
mod every_size;
mod exchange;
mod fleet;
mod fresh_edges;
mod heat;
mod heat_reference;
mod heat_screen;
#[path = "../benches/insertions.rs"]
mod insertions;
mod job_list;
mod kill;
mod language;
mod leaves;
mod lessons;
mod lines;
mod manual;
mod marks;
mod measure;
mod overview;
mod package;
mod packs;
mod picture;
mod quay;
mod quick;
mod reading;
mod reasons;
mod reference;
mod reflow;
mod same_words;
mod samples;
mod sentences;
mod service;
mod setup;
mod setup_together;
mod sheet;
mod shell;
mod stories;
mod study;
mod tables_screen;
mod temperatures;
mod thin_trends;
mod tidy;
mod together;
mod touch;
mod trend;
mod truth;
mod upkeep;
mod versions;
mod visit;
mod widgets;
mod workbench;
