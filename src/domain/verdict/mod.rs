//! Verdicts.
