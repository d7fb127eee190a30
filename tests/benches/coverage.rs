//! How often intervals hold the truth: 2 000 histories for each cell and seed, and the table of
//! DEVELOPERS.md. Not a clock: it fails where an interval holds too rarely or too often.
#![expect(clippy::unwrap_used, reason = "a history that cannot be fitted must stop the count")]
#![expect(clippy::print_stdout, reason = "the table is the result")]

#[path = "../it/coverage/histories.rs"]
mod histories;

use histories::{NOMINAL, Outcome, cells};
use std::process::ExitCode;

const HISTORIES: u32 = 2_000;

fn main() -> ExitCode {
    // Cargo asks a bench for its list of tests; there are none.
    if std::env::args().any(|arg| arg == "--list") {
        return ExitCode::SUCCESS;
    }
    println!("{}", Outcome::HEAD);
    let mut sound = true;
    for cell in cells() {
        let seeds = [1, 2, 3].map(|seed| cell.run(seed, HISTORIES));
        let [one, two, three] = seeds;
        println!("{}", one.and(two).and(three));
        for outcome in seeds {
            for (share, nominal) in outcome.coverage().into_iter().zip(NOMINAL) {
                let most = if cell.n < 12 { 1.0 } else { nominal + 0.08 };
                if share < nominal - 0.02 || most < share {
                    sound = false;
                    println!("one seed alone gives {share:.4} at {nominal}");
                }
            }
        }
    }
    if sound { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
