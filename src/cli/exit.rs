//! Exit codes, a contract for scripts.

use std::process::ExitCode;

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// Done.
    Done,
    /// Something is wrong with the data; it was named.
    WrongData,
    /// The command was used wrongly.
    WrongUsage,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(match exit {
            Exit::Done => 0,
            Exit::WrongData => 1,
            Exit::WrongUsage => 2,
        })
    }
}

/// A fault in the data or in what was asked of it: a fact and a next step.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct WrongData(pub String);

#[test]
fn exit_codes_are_the_contract() {
    for (exit, code) in [(Exit::Done, 0_u8), (Exit::WrongData, 1), (Exit::WrongUsage, 2)] {
        assert_eq!(format!("{:?}", ExitCode::from(exit)), format!("{:?}", ExitCode::from(code)));
    }
}
