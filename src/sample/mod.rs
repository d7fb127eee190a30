//! An invented yard from a seed: for demonstrations, tests and measurements.
