//! An interval is right as often as it says.
//!
//! Draws histories whose truth is known and counts how often the interval for the hours left holds
//! it, in a small form that a debug build can do. `cargo bench --bench coverage` does 2 000
//! histories per cell and seed and prints the table of DEVELOPERS.md.

mod histories;

use histories::{NOMINAL, Outcome, cells};

/// For each cell and seed.
const HISTORIES: u32 = 200;

#[test]
#[expect(clippy::print_stdout, reason = "the table is what somebody looks for here")]
fn intervals_hold_the_truth_as_often_as_they_say() {
    println!("{}", Outcome::HEAD);
    let mut held = [0; 2];
    let mut tried = 0;
    for outcome in cells().map(|cell| cell.run(1, HISTORIES).and(cell.run(2, HISTORIES))) {
        println!("{outcome}");
        tried += outcome.histories;
        for (sum, held) in held.iter_mut().zip(outcome.held) {
            *sum += held;
        }
        for (share, nominal) in outcome.coverage().into_iter().zip(NOMINAL) {
            // Three standard deviations of so few histories.
            let chance = 3.0 * (nominal * (1.0 - nominal) / f64::from(outcome.histories)).sqrt();
            assert!(nominal - 0.02 - chance <= share, "{outcome}");
            let most = if outcome.cell.n < 12 { 1.0 } else { nominal + 0.08 + chance };
            assert!(share <= most, "{outcome}");
        }
    }
    for (held, nominal) in held.into_iter().zip(NOMINAL) {
        let share = f64::from(held) / f64::from(tried);
        let chance = 4.0 * (nominal * (1.0 - nominal) / f64::from(tried)).sqrt();
        assert!(nominal - chance <= share, "{share} of all at {nominal}");
    }
}
