//! Starts one shell, prints one error line, sets one exit code.

fn main() {}
